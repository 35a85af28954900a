//! A tag was read, or something pasted: at most the animal is selected on Today. With an animal in the crush it only says who is
//! next, for readers in the race read the one behind. Nothing is ever written because of it.

use super::{Desk, Flow};
use crate::domain::electronic::{same, spaced};
use crate::domain::label::Label;
use crate::keys::reading::{LEAST, tag_digits};
use crate::report::due::called;
use crate::session::act;
use crate::session::amend::wearer::Worn;
use crate::session::amend::{Ask, Text};
use crate::session::mode::{Mode, TextFor};
use crate::session::today::{self, wears};
use crate::session::walk::Walking;
use crate::session::{HerdLine, Session};
use crate::store::error::StoreError;

/// Longest part of a reading that is said.
const SAID: usize = 40;

impl Desk {
    /// Something a reader typed.
    pub(super) fn reader(&mut self, text: &str) -> Flow {
        if self.held.is_some() {
            // A press is not saved, and that stays said.
            return Flow::On;
        }
        self.session.pending.clear();
        match (tag_digits(text).filter(|digits| digits.len() >= LEAST), &mut self.session.mode) {
            // The very field that asks for it.
            (Some(digits), Mode::Text { what: TextFor::Amend(Text::Label(_, Label::Electronic)), text, .. }) => {
                *text = digits;
                self.keep_typed();
            }
            (Some(digits), _) => {
                if let Err(error) = self.tag(&digits) {
                    self.refused(&error);
                }
            }
            // A paste, on a terminal that does not say so.
            (None, Mode::Text { .. }) => {
                self.paste(text);
                self.keep_typed();
            }
            (None, _) => {
                let text: String = text.chars().take(SAID).collect();
                self.say(format!("\"{text}\" is no tag: nothing was done"));
            }
        }
        Flow::On
    }

    fn tag(&mut self, digits: &str) -> Result<(), StoreError> {
        if self.picked_on_walk(digits) {
            return Ok(());
        }
        let worn = worn(&self.session, digits);
        match worn.as_slice() {
            [] => self.unworn(digits)?,
            [number] => self.select(number.clone()),
            several => self.say(format!("{} wear that tag, {}: type the number", several.len(), several.join(" and "))),
        }
        Ok(())
    }

    /// On the walk she is picked, and her score comes next. False where it is no walk, or not one animal of this herd wears it.
    fn picked_on_walk(&mut self, digits: &str) -> bool {
        let Mode::Walk(walking) = self.session.mode.base() else { return false };
        let top = walking.top;
        let here = || self.session.herd.iter().filter(|line| line.left.is_none());
        let wore = |line: &&HerdLine| line.earlier_electronic.iter().any(|worn| same(worn, digits));
        let mut wearing: Vec<&HerdLine> = here().filter(|line| wears(line, digits)).collect();
        if wearing.is_empty() {
            wearing = here().filter(wore).collect();
        }
        let [her] = wearing.as_slice() else { return false };
        let (her, called) = (her.id, called(&her.labels));
        if matches!(self.session.mode, Mode::Walk(_)) {
            self.session.mode = Mode::Walk(Walking { picked: Some(her), top, ..Walking::default() });
            self.say(format!("tag read: {called}"));
            self.keep_typed();
        } else {
            self.say(format!("next: {called} (answer first)"));
        }
        true
    }

    /// She is selected, where the hands are free for her.
    fn select(&mut self, number: String) {
        match self.busy() {
            Some(why) => self.say(format!("next: {number}{why}")),
            None => {
                self.say(format!("tag read: {number}"));
                self.session.mode = Mode::Today { typed: number, cursor: 0 };
                self.keep_typed();
            }
        }
    }

    /// Why nobody is selected and nothing asked now; said behind what is said.
    fn busy(&self) -> Option<&'static str> {
        match &self.session.mode {
            _ if self.session.crush.is_some() => Some(""),
            Mode::Text { text, .. } if !text.is_empty() => Some(" (keep what is typed first)"),
            // Whoever wears a tag that nobody knows is asked about on Today.
            mode if matches!(mode.base(), Mode::Walk(_)) => Some(""),
            Mode::Text { .. }
            | Mode::Walk(_)
            | Mode::Today { .. }
            | Mode::Farms { .. }
            | Mode::Crush(_)
            | Mode::Pad { .. }
            | Mode::SignOff { .. }
            | Mode::Card { .. }
            | Mode::Herd { .. }
            | Mode::Due { .. }
            | Mode::Ring { .. }
            | Mode::Last { .. }
            | Mode::Always { .. }
            | Mode::Paper { .. }
            | Mode::Totals { .. }
            | Mode::Help { .. } => None,
        }
    }

    /// Nobody of the farm in hand wears it: somebody of another, or who is asked about, once a visit.
    fn unworn(&mut self, digits: &str) -> Result<(), StoreError> {
        let elsewhere = self.elsewhere(digits)?;
        let tag = spaced(digits);
        if !elsewhere.is_empty() {
            let why = if self.session.farm.is_some() { "another farm" } else { "choose that farm" };
            self.say(format!("{} wears that tag: {why}", elsewhere.join(" and ")));
        } else if self.session.farm.is_none() {
            self.say(format!("nobody in this book wears {tag}: choose a farm first"));
        } else if self.busy().is_some() {
            self.say(format!("nobody here wears {tag}: read it again on Today"));
        } else if self.session.put_off.contains(digits) {
            self.say(format!("nobody here wears {tag}: put off until the next visit"));
        } else {
            let (under, picked) = match self.session.mode.base() {
                Mode::Today { typed, cursor } => {
                    (self.session.mode.base().clone(), today::picked_line(&self.session, typed, *cursor))
                }
                _ => (Mode::today(), None),
            };
            let picked = picked.map(|line| Worn::by(line, digits));
            let asked = act::Ask::Amend(Ask::Wearer(digits.to_owned(), picked));
            self.session.notice = None;
            self.session.mode = Mode::Pad { ask: asked, under: Box::new(under) };
        }
        Ok(())
    }

    /// Who wears it or wore it on other farms.
    fn elsewhere(&self, digits: &str) -> Result<Vec<String>, StoreError> {
        let here = self.session.farm.as_ref().map(|farm| farm.id);
        let mut found: Vec<String> = Vec::new();
        for farm in self.session.farms.iter().filter(|farm| Some(farm.id) != here) {
            let mut of: Vec<_> = Vec::new();
            for spelling in [digits.to_owned(), spaced(digits)] {
                let rows = self.store.find(farm.id, &spelling)?.0;
                of.extend(rows.into_iter().filter(|row| same(&row.labels.electronic, digits)));
            }
            // Who wears it now before who wore it.
            of.sort_by_key(|row| (row.left.is_some(), !row.current));
            found.extend(of.first().map(|row| format!("{} of {}", called(&row.labels), farm.name)));
        }
        Ok(found)
    }
}

/// What is typed on Today for whoever wears it: the number where that says who she is, else the digits. Whoever is there before
/// whoever left, and who wears it now before who wore it.
fn worn(session: &Session, digits: &str) -> Vec<String> {
    let now = |line: &&HerdLine| wears(line, digits);
    let once = |line: &&HerdLine| line.earlier_electronic.iter().any(|worn| same(worn, digits));
    let here = |line: &&HerdLine| line.left.is_none();
    let herd = || session.herd.iter();
    let tries: [Vec<&HerdLine>; 4] = [
        herd().filter(now).filter(here).collect(),
        herd().filter(now).collect(),
        herd().filter(once).filter(here).collect(),
        herd().filter(once).collect(),
    ];
    let those = tries.into_iter().find(|those| !those.is_empty()).unwrap_or_default();
    let sure = |number: &String| today::called(session, number).count() == 1;
    those.iter().map(|line| Some(line.labels.number.clone()).filter(sure).unwrap_or(digits.to_owned())).collect()
}
