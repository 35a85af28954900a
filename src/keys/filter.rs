//! Was it a finger at all? Everything typed goes through here before the keymap sees it.
//!
//! Two stages in a fixed order: `burst` takes out what machines type, then `bounce` what
//! wet contacts and held keys add. Both are pure: time is what the input thread stamped,
//! counted from the start of the program, so that a slow disk cannot bunch keys up, and
//! tests need no clock.
//!
//! The loop calls [`Filter::take`] for each key, [`Filter::paste`] for a paste, and
//! [`Filter::tick`] when [`Filter::wakes_at`] has passed.

use std::time::Duration;

use crate::keys::bounce::{Bounce, BounceRules, Press};
use crate::keys::burst::{Burst, BurstRule, Sorted};
use crate::keys::context::Context;
use crate::keys::key::Key;

/// What was typed, after filtering.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Input {
    /// A press that counts.
    Key(Key),
    /// A tag reader, or a paste outside of text: never run as commands.
    Reader(String),
    /// A paste where text is written.
    Text(String),
    /// Too fast for fingers and too short for a tag: not run, only shown.
    Swept(String),
    /// A press that does not count: a bounce or a repeat.
    Bounced(Key),
    /// A key right after a reading, which does not count either: readers read twice.
    Late(Key),
}

/// Both stages.
#[derive(Clone, Debug, Default)]
pub struct Filter {
    burst: Burst,
    bounce: Bounce,
}

impl Filter {
    /// Begins with the given numbers.
    pub fn new(burst: BurstRule, bounce: BounceRules) -> Filter {
        Filter { burst: Burst::new(burst), bounce: Bounce::new(bounce) }
    }

    /// Takes one key, pressed at `at` since the start.
    pub fn take(&mut self, at: Duration, key: Key, context: Context) -> Vec<Input> {
        let mut out = self.settle(at);
        let sorted = self.burst.take(at, key, context == Context::Text);
        out.extend(self.pass(sorted, context));
        out
    }

    /// Takes a whole paste; terminals that know pastes deliver them apart from the keys.
    pub fn paste(&mut self, at: Duration, text: &str, context: Context) -> Vec<Input> {
        let mut out = self.tick(at, context);
        let clean = without_controls(text);
        if clean.is_empty() {
            return out;
        }
        if context == Context::Text {
            out.push(Input::Text(clean));
        } else {
            self.burst.deafen(at);
            out.push(Input::Reader(clean));
        }
        out
    }

    /// Lets go of what was only waiting for silence.
    pub fn tick(&mut self, now: Duration, context: Context) -> Vec<Input> {
        let mut out = self.settle(now);
        let sorted = self.burst.tick(now, context == Context::Text);
        out.extend(self.pass(sorted, context));
        out
    }

    /// The time after which [`Filter::tick`] has something to do, if no key comes before.
    pub fn wakes_at(&self) -> Option<Duration> {
        self.burst.wakes_at().or_else(|| self.bounce.wakes_at())
    }

    /// Lets a kept key go, but not past a run in hand: its keys are older than `now` and
    /// may still show that the kept one is held down.
    fn settle(&mut self, now: Duration) -> Vec<Input> {
        match self.burst.wakes_at() {
            Some(_) => Vec::new(),
            None => self.bounce.tick(now).into_iter().map(pressed).collect(),
        }
    }

    fn pass(&mut self, sorted: Vec<Sorted>, context: Context) -> Vec<Input> {
        let mut out = Vec::new();
        for one in sorted {
            match one {
                Sorted::Key(at, key) => {
                    out.extend(self.bounce.take(at, key, context).into_iter().map(pressed));
                }
                Sorted::Machine(text) => out.push(Input::Reader(text)),
                Sorted::Swept(text) => out.push(Input::Swept(text)),
                // A second end of the same reading, as of CR and LF, is nobody's press.
                Sorted::Late(Key::Enter | Key::Tab) => {}
                Sorted::Late(key) => out.push(Input::Late(key)),
            }
        }
        out
    }
}

fn pressed(press: Press) -> Input {
    match press {
        Press::Counts(key) => Input::Key(key),
        Press::Dropped(key) => Input::Bounced(key),
    }
}

/// A paste as one line: control characters become spaces, and the ends are trimmed.
fn without_controls(text: &str) -> String {
    const MOST: usize = 4096;
    let plain: String = text.chars().take(MOST).map(|c| if c.is_control() { ' ' } else { c }).collect();
    plain.trim().to_string()
}
