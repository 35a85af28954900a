//! The desk without a keyboard: a typed line is deliberate, so its keys and wishes come without a filter.

use super::{Desk, Flow, Saved};
use crate::domain::record::Moment;
use crate::keys::intent::Intent;
use crate::keys::key::Key;
use crate::session::decide::{self, LONGEST};
use crate::session::mode::Mode;
use std::time::Duration;

impl Desk {
    /// What hears of each press that was saved.
    pub fn when_saved(&mut self, saved: Saved) {
        self.saved = saved;
    }

    /// A key.
    pub fn press(&mut self, at: Duration, key: Key, now: Moment) -> Flow {
        self.now = at;
        self.key(key, now)
    }

    /// A wish, by whatever name it was said.
    pub fn mean(&mut self, at: Duration, intent: Intent, now: Moment) -> Flow {
        self.now = at;
        if self.held.is_some() { self.try_again(now) } else { self.wish(intent, now) }
    }

    /// A tag that was read.
    pub fn read_tag(&mut self, digits: &str) -> Flow {
        self.session.notice = None;
        self.reader(digits)
    }

    /// A text, whole: kept, or refused with nothing of it left behind.
    pub fn write(&mut self, at: Duration, text: &str, now: Moment) -> Flow {
        self.now = at;
        if self.held.is_some() {
            return self.try_again(now);
        }
        if text.chars().count() > LONGEST {
            self.say(format!("more than {LONGEST} letters: nothing of it was kept, write it shorter"));
            return Flow::On;
        }
        // What stands there to be changed is written anew; with nothing typed it stays as it is.
        let (asked, before) = match &mut self.session.mode {
            Mode::Text { what, text: before, .. } if !text.is_empty() => (Some(what.clone()), std::mem::take(before)),
            Mode::Text { what, .. } => (Some(what.clone()), String::new()),
            _ => (None, String::new()),
        };
        for letter in text.chars() {
            let decision = decide::typed(&self.session, letter);
            self.perform(decision, now);
        }
        // With nothing typed and nothing there, a line goes back: there is no key beside it that could.
        let empty = text.is_empty() && before.is_empty() && asked.as_ref().is_some_and(|what| !what.may_be_empty());
        let flow = self.wish(if empty { Intent::Back } else { Intent::GoOn }, now);
        // What does not fit is not left for the next line to follow on; what is asked next has its own words.
        if let Mode::Text { what, text, .. } = &mut self.session.mode
            && Some(&*what) == asked.as_ref()
        {
            *text = before;
            self.keep_typed();
        }
        flow
    }

    /// Whether a press is held that the disk did not take.
    pub fn is_held(&self) -> bool {
        self.held.is_some()
    }
}
