//! A talk in lines over the desk: what is typed is done word by word, and what is so afterwards is told. No terminal here, so
//! that a test can hold such a talk.

use super::desk::{Desk, Flow};
use crate::domain::record::Moment;
use crate::keys::context::Context;
use crate::keys::intent::Intent;
use crate::keys::key::Key;
use crate::keys::keymap::Resolution;
use crate::plain::help;
use crate::plain::line::{Word, meant, read, tag};
use crate::plain::page::{Answer, Pages, Said, said};
use crate::plain::say::{self, Before};
use crate::screen::View;
use crate::screen::theme::Colour;
use crate::screen::words::of;
use crate::session::farm_card;
use crate::session::herd;
use crate::session::lists::{due, reviews};
use crate::session::mode::Mode;
use crate::session::today::shown;
use crate::session::walk::Walking;
use crate::session::{Notice, Session};
use std::cell::RefCell;
use std::rc::Rc;
use std::time::Duration;

/// What a word came to.
enum Step {
    /// The next word may be done.
    On,
    /// It was not done, and why; the words after it are not either.
    Stop(String),
    /// What the keys mean is asked for.
    Help,
    /// The program is left.
    Leave,
}

/// A talk.
#[derive(Default)]
pub struct Talk {
    pages: Pages,
    /// What was said of this line so far, presses in the order in which they were saved.
    told: Rc<RefCell<Vec<Said>>>,
    /// A tag was read with an animal in the crush: an empty line right after it is the reader's own.
    tagged: bool,
    /// The last notice that was told.
    noticed: Option<Notice>,
}

impl Talk {
    /// Begins a talk: says all that is so.
    pub fn begin(desk: &mut Desk, now: Moment) -> (Talk, String) {
        let mut talk = Talk::default();
        let told = Rc::clone(&talk.told);
        desk.when_saved(Box::new(move |session| told.borrow_mut().extend(say::saved(session))));
        let mut answer = say::whole(desk.session(), &view(desk, now));
        answer.now.splice(0..0, talk.notices(desk, now, false));
        let text = talk.pages.write(answer);
        (talk, text)
    }

    /// Says all that is so once more.
    pub fn again(&mut self, desk: &Desk, now: Moment) -> String {
        self.pages.write(say::whole(desk.session(), &view(desk, now)))
    }

    /// Leaves, whatever is open: nobody can type any more.
    pub fn leave(&mut self, desk: &mut Desk, at: Duration, now: Moment) -> (Flow, String) {
        self.told.borrow_mut().clear();
        let before = Before::of(desk.session());
        let flow = desk.mean(at, Intent::Leave, now);
        self.hear(desk, &before, now);
        (flow, self.left())
    }

    /// The program is asked to end: an animal in the crush is set aside.
    pub fn set_aside(&mut self, desk: &mut Desk, now: Moment) -> String {
        self.told.borrow_mut().clear();
        desk.set_aside(now);
        self.left()
    }

    /// What was told, and nothing of where the hands are.
    fn left(&mut self) -> String {
        let told = std::mem::take(&mut *self.told.borrow_mut());
        self.pages.write(Answer { now: told, ..Answer::default() })
    }

    /// Says something that no line asked for.
    pub fn tell(&mut self, about: &str, words: &str) -> String {
        self.pages.write(Answer { now: vec![said(about, words)], ..Answer::default() })
    }

    /// Takes a line that was typed.
    pub fn take(&mut self, desk: &mut Desk, line: &str, at: Duration, now: Moment) -> (Flow, String) {
        self.told.borrow_mut().clear();
        let before = Before::of(desk.session());
        let context = desk.session().mode.context();
        let tagged = std::mem::take(&mut self.tagged);
        if desk.is_held() {
            let flow = desk.mean(at, Intent::GoOn, now);
            self.hear(desk, &before, now);
            let mut answer = self.after(desk, &before, now);
            answer.now.push(said("line", "not done: the press before it had to be saved first; type it again"));
            return (flow, self.pages.write(answer));
        }
        if context == Context::Text {
            let text = line.chars().map(|letter| if letter.is_control() { ' ' } else { letter }).collect::<String>();
            let flow = desk.write(at, text.trim(), now);
            self.hear(desk, &before, now);
            return (flow, self.told_since(desk, &before, now));
        }
        if let Some(digits) = tag(line) {
            return (Flow::On, self.take_tag(desk, &digits, (at, now)));
        }
        if line.trim().is_empty() && tagged {
            return (Flow::On, self.tell("line", "empty, right after a tag: left out; say go-on where it was meant"));
        }
        let words = match read(line, of(desk.session())) {
            Ok(words) if words.is_empty() => vec![Word::Name("go-on".to_owned())],
            Ok(words) => words,
            Err(unknown) => return (Flow::On, self.tell("not done", &unknown.to_string())),
        };
        self.words(desk, &words, &before, (at, now))
    }

    /// Words one after the other, until one has nothing to do, or something is to be heard first.
    fn words(&mut self, desk: &mut Desk, words: &[Word], before: &Before, by: (Duration, Moment)) -> (Flow, String) {
        for (at, word) in words.iter().enumerate() {
            let here = Before::of(desk.session());
            let rest = words.len() - at - 1;
            let step = match word {
                Word::Say | Word::More | Word::Help => {
                    let text = self.own(desk, word, before, by.1);
                    return (Flow::On, text + &self.left_out(rest));
                }
                Word::Line(line) => pick(desk, *line, by),
                Word::Number(digits) => number(desk, digits, at == 0, by),
                Word::Key(key) => self.key(desk, *key, at == 0, by),
                Word::Name(name) => self.name(desk, name, by),
            };
            self.hear(desk, &here, by.1);
            let heard_first = here.is_to_be_heard_first(desk.session());
            let why = match step {
                Step::Help => {
                    let text = self.own(desk, &Word::Help, before, by.1);
                    return (Flow::On, text + &self.left_out(rest));
                }
                Step::Leave => return (Flow::Leave, self.left() + &self.left_out(rest)),
                Step::Stop(why) => Some(why),
                Step::On if stops(desk, &here) => Some(String::new()),
                Step::On if heard_first && rest > 0 => Some(String::new()),
                Step::On => None,
            };
            if let Some(why) = why {
                let not_done = (!why.is_empty()).then(|| said("not done", why));
                self.told.borrow_mut().extend(not_done);
                return (Flow::On, self.told_since(desk, before, by.1) + &self.left_out(rest));
            }
        }
        (Flow::On, self.told_since(desk, before, by.1))
    }

    /// Words that only lines have; what was done before them is told too.
    fn own(&mut self, desk: &Desk, word: &Word, before: &Before, now: Moment) -> String {
        let (session, view) = (desk.session(), view(desk, now));
        let nothing = self.told.borrow().is_empty() && *before == Before::of(session);
        let done = if nothing { String::new() } else { self.told_since(desk, before, now) };
        done + &match word {
            Word::Say => self.pages.write(say::whole(session, &view)),
            Word::More => self.pages.more(),
            Word::Help | Word::Key(_) | Word::Name(_) | Word::Number(_) | Word::Line(_) => {
                self.pages.write(Answer { list: help::lines(session, &view), ..Answer::default() })
            }
        }
    }

    fn left_out(&mut self, words: usize) -> String {
        match words {
            0 => String::new(),
            1 => self.tell("line", "it ended here: 1 word after it was left out"),
            many => self.tell("line", &format!("it ended here: {many} words after it were left out")),
        }
    }

    fn key(&self, desk: &mut Desk, key: Key, first: bool, by: (Duration, Moment)) -> Step {
        let session = desk.session();
        if let Resolution::Found(intent) = desk.keymap().resolve(session.mode.context(), &session.pending, key) {
            if matches!(intent, Intent::Digit(_)) && first {
                erase(desk, by);
            }
            return self.wish(desk, intent, Some(key), by);
        }
        flow(desk.press(by.0, key, by.1))
    }

    fn name(&self, desk: &mut Desk, name: &str, by: (Duration, Moment)) -> Step {
        let context = desk.session().mode.context();
        match meant(context, name, of(desk.session())) {
            Some(intent) => self.wish(desk, intent, None, by),
            None => Step::Stop(format!("{name} means nothing here; ? says what does")),
        }
    }

    /// A wish. Help is told and not opened, since nothing stands there to be closed.
    fn wish(&self, desk: &mut Desk, intent: Intent, key: Option<Key>, (at, now): (Duration, Moment)) -> Step {
        if help::is_of_the_picture(intent) {
            return Step::Stop("there is no picture here: light and taps are of the screens".to_owned());
        }
        if intent == Intent::Help {
            return Step::Help;
        }
        flow(match key {
            Some(key) => desk.press(at, key, now),
            None => desk.mean(at, intent, now),
        })
    }

    /// A tag picks the animal on Today; with an animal in the crush it only says who is next. A number as long as a tag is a
    /// number, where an animal of this herd bears it.
    fn take_tag(&mut self, desk: &mut Desk, digits: &str, by: (Duration, Moment)) -> String {
        let before = Before::of(desk.session());
        let bears = desk.session().herd.iter().any(|line| line.labels.number.starts_with(digits));
        if bears && desk.session().mode.context() == Context::Today {
            number(desk, digits, true, by);
        } else {
            desk.read_tag(digits);
            self.tagged = before.is_with_her();
        }
        self.hear(desk, &before, by.1);
        self.told_since(desk, &before, by.1)
    }

    /// Notes what the last word said, unless it was told when it was saved.
    fn hear(&mut self, desk: &Desk, before: &Before, now: Moment) {
        let went = before.is_with_her() && desk.session().crush.is_none();
        // A key that waits for the next one says nothing; what stands there was said before.
        let waits = !desk.session().pending.is_empty();
        if !waits && !matches!(desk.session().notice, Some(Notice::Saved { .. })) {
            let told = self.notices(desk, now, went);
            self.told.borrow_mut().extend(told);
        }
        self.noticed.clone_from(&desk.session().notice);
    }

    fn notices(&mut self, desk: &Desk, now: Moment, went: bool) -> Vec<Said> {
        self.noticed.clone_from(&desk.session().notice);
        say::notice(desk.session(), &view(desk, now), went)
    }

    /// What was told of this line, and what is new since it.
    fn told_since(&mut self, desk: &Desk, before: &Before, now: Moment) -> String {
        let answer = self.after(desk, before, now);
        self.pages.write(answer)
    }

    fn after(&mut self, desk: &Desk, before: &Before, now: Moment) -> Answer {
        let told = std::mem::take(&mut *self.told.borrow_mut());
        let view = view(desk, now);
        let mut answer = say::since(before, desk.session(), &view, !told.is_empty());
        answer.now.splice(0..0, told);
        let pending: Vec<String> = desk.session().pending.iter().map(Key::to_string).collect();
        if !pending.is_empty() {
            answer.now.push(said("begun", format!("{}: the next key belongs to it", pending.join(" "))));
        }
        if answer.is_empty() {
            answer.now.push(said("line", "nothing is new"));
        }
        answer
    }

    /// Time passed: what is new without a line is told once.
    pub fn tick(&mut self, desk: &mut Desk, at: Duration, now: Moment) -> (Flow, String) {
        self.told.borrow_mut().clear();
        let before = Before::of(desk.session());
        let flow = desk.tick(at, now);
        let here = before == Before::of(desk.session());
        if here && desk.session().notice == self.noticed {
            return (flow, String::new());
        }
        self.hear(desk, &before, now);
        let saved = matches!(desk.session().notice, Some(Notice::Saved { .. }));
        (flow, if here && !saved { self.left() } else { self.told_since(desk, &before, now) })
    }
}

fn view(desk: &Desk, now: Moment) -> View<'_> {
    View { keymap: desk.keymap(), now, colour: Colour::None, targets: None }
}

fn flow(flow: Flow) -> Step {
    if flow == Flow::Leave { Step::Leave } else { Step::On }
}

/// Whether what the last word came to ends the line: it was refused, is not saved, or something is to be looked at. What is
/// called out when she goes does not.
fn stops(desk: &Desk, here: &Before) -> bool {
    let went = here.is_with_her() && desk.session().crush.is_none();
    if !desk.session().pending.is_empty() {
        return false;
    }
    match &desk.session().notice {
        Some(Notice::Refused(_) | Notice::NotSaved(_) | Notice::Spelled(_) | Notice::Saving) => true,
        Some(Notice::Words(_)) => !went,
        Some(Notice::Saved { .. }) | None => false,
    }
}

/// Several digits: on Today an animal's number, and first in a line a new one. With a foot up 10, 11 and 12 are zones. Anywhere
/// else keys stand alone, and a number is no key.
fn number(desk: &mut Desk, digits: &str, first: bool, by: (Duration, Moment)) -> Step {
    let context = desk.session().mode.context();
    match (context, digits.parse::<u8>()) {
        (Context::Today, _) => {
            // A score is not thrown away for the next number; a number that was typed wrong has done nothing yet.
            if let (true, Mode::Walk(Walking { typed, .. })) = (first, &desk.session().mode)
                && !typed.is_empty()
            {
                return Step::Stop(format!("{typed} is not kept yet: an empty line keeps it, back erases a digit"));
            }
            if first {
                erase(desk, by);
            }
            for digit in digits.bytes() {
                desk.mean(by.0, Intent::Digit(digit - b'0'), by.1);
            }
            Step::On
        }
        (Context::Foot, Ok(zone @ 10..=12)) => flow(desk.mean(by.0, Intent::Zone(zone), by.1)),
        (
            Context::Animal
            | Context::Foot
            | Context::Pad
            | Context::SignOff
            | Context::List
            | Context::Ring
            | Context::Text
            | Context::Help,
            _,
        ) => {
            let one_by_one: Vec<String> = digits.chars().map(String::from).collect();
            let keys = one_by_one.join(" ");
            Step::Stop(format!("{digits} is a number, and numbers are typed on Today; as keys: {keys}"))
        }
    }
}

/// Erases a number that was typed before.
fn erase(desk: &mut Desk, by: (Duration, Moment)) {
    let is_typed = |mode: &Mode| matches!(mode, Mode::Today { typed, .. } if !typed.is_empty());
    while is_typed(&desk.session().mode) {
        desk.mean(by.0, Intent::Back, by.1);
    }
}

/// Picks a line of a list by its number, as many steps up or down as it takes.
fn pick(desk: &mut Desk, line: usize, by: (Duration, Moment)) -> Step {
    let Some((at, count)) = cursor(desk.session()) else {
        return Step::Stop(format!("#{line} picks a line of a list, and here is none"));
    };
    if line == 0 || line > count {
        return Step::Stop(format!("the list has {count} lines: there is no #{line}"));
    }
    // With nothing typed none is picked until one is asked for.
    let to =
        if matches!(&desk.session().mode, Mode::Today { typed, .. } if typed.is_empty()) { line } else { line - 1 };
    for _ in 0..to.abs_diff(at) {
        desk.mean(by.0, if to > at { Intent::Down } else { Intent::Up }, by.1);
    }
    Step::On
}

/// Where the cursor of a list is, and how many lines the list has.
fn cursor(session: &Session) -> Option<(usize, usize)> {
    match &session.mode {
        Mode::Today { typed, cursor } => Some((*cursor, shown(session, typed).len())),
        Mode::Farms { cursor } => Some((*cursor, session.farms.len() + 1)),
        Mode::Card { cursor, .. } => Some((*cursor, farm_card::lines(session).len())),
        Mode::Herd { page, cursor, .. } => Some((*cursor, herd::count(session, page))),
        Mode::Due { cursor, only, .. } => {
            Some((*cursor, due(session, *only).items.len() + reviews(session, *only).len()))
        }
        Mode::Ring { cursor, lines, .. } => Some((*cursor, lines.len())),
        Mode::Walk(_)
        | Mode::Crush(_)
        | Mode::Pad { .. }
        | Mode::SignOff { .. }
        | Mode::Last { .. }
        | Mode::Always { .. }
        | Mode::Text { .. }
        | Mode::Paper { .. }
        | Mode::Totals { .. }
        | Mode::Help { .. } => None,
    }
}
