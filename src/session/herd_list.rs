//! A farm's herd list on the screens: which file, what it would change, and what is taken of it. Nothing is taken by going on; and
//! whoever is missing from it is gone only by a word of its own.

use super::act::{self, Choice};
use super::decide::{Decision, Effect, Next};
use super::herd::{self, Page, Whom};
use super::mode::{Mode, TextFor};
use super::of_farm;
use super::{Refusal, Session};
use crate::domain::event::Event;
use crate::domain::herd::Leaving;
use crate::domain::herd_list::compare::Preview;
use crate::domain::herd_list::figures::Figures;
use crate::domain::herd_list::her::Her;
use crate::domain::herd_list::written::{Meant, write_out};
use crate::domain::history::open::OpenItem;
use crate::domain::ids::RecordId;
use crate::domain::record::Stamp;

/// The files there are.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Files {
    /// The folder that is looked in.
    pub folder: String,
    /// The lists in it, by name.
    pub names: Vec<String>,
    /// Why the last file that was asked for, or the folder, cannot be read.
    pub trouble: Option<String>,
}

/// A list that was read, against the herd.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Offered {
    /// Its name.
    pub name: String,
    /// All that is to be said of it, in lines.
    pub lines: Vec<String>,
    /// What it would change.
    pub preview: Preview,
    /// Cells that cannot be taken.
    pub bad: usize,
    /// Whether days stand in it of which nobody said which figure is the month.
    pub days: bool,
    /// Whether it says surely whom it names, so that who is missing can be told.
    pub sure: bool,
}

/// Which file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Which {
    /// The one on this line of the files.
    Line(usize),
    /// One that was typed.
    Typed(String),
    /// The same once more, with its days so.
    Again(Figures),
}

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ask {
    /// What is taken of the list?
    Take,
    /// Are those gone whom it does not name?
    Missing,
}

/// What a choice does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Act {
    /// Takes all of it.
    TakeAll,
    /// Takes the good rows.
    TakeGood,
    /// Takes nothing, and goes back to the herd.
    Nothing,
    /// Asks whether those who are missing are gone.
    AskMissing,
    /// Reads it again, with its days so.
    Days(Figures),
    /// They are gone.
    Gone,
}

/// The key that says that those who are missing are gone: none that a hand has just pressed.
const MEANT: u8 = 0;

/// Looks for lists.
pub fn look(session: &Session) -> Decision {
    match &session.mode {
        Mode::Herd { page: Page::Animals(_), .. } if session.paper.is_some() => Decision::Refuse(Refusal::OnPaper),
        mode @ Mode::Herd { page: Page::Animals(_), .. } => {
            Decision::Go(Next::Do(Effect::Lists(Box::new(mode.clone()))))
        }
        _ => Decision::Refuse(Refusal::NotHere),
    }
}

/// Opens a line of the files; after the last another one is typed.
pub fn open(session: &Session, cursor: usize) -> Decision {
    let under = Box::new(session.mode.clone());
    if cursor < session.lists.names.len() {
        return Decision::Go(Next::Do(Effect::ReadList(Which::Line(cursor), under)));
    }
    let what = TextFor::Farm(of_farm::Text::Herd(herd::Text::File));
    Decision::Go(Next::Mode(Mode::Text { what, text: String::new(), under }))
}

/// Whoever is missing from the list and has nothing on; and whoever has.
pub fn missing(session: &Session) -> (Vec<&Her>, Vec<&Her>) {
    let Some(offered) = session.offered.as_ref().filter(|offered| offered.sure) else { return Default::default() };
    let missing = session.animals.iter().filter(|her| offered.preview.missing.contains(&her.known.animal));
    missing.partition(|her| !her.history.open.iter().any(|item| matches!(item, OpenItem::On { .. })))
}

/// The choices of a question, each always on its own key.
pub fn choices(session: &Session, asked: &Ask) -> Vec<Choice> {
    let Some(offered) = &session.offered else { return Vec::new() };
    let some_missing = !missing(session).0.is_empty();
    let news = !offered.preview.is_empty();
    let rows: Vec<(u8, Act, bool)> = match asked {
        Ask::Take => vec![
            (1, Act::TakeAll, news && offered.bad == 0),
            (2, Act::TakeGood, news && offered.bad > 0),
            (3, Act::Nothing, true),
            (4, Act::AskMissing, some_missing),
            (5, Act::Days(Figures::DayFirst), offered.days),
            (6, Act::Days(Figures::MonthFirst), offered.days),
        ],
        Ask::Missing => vec![(MEANT, Act::Gone, some_missing)],
    };
    let choice = |(key, act, _)| Choice { key, act: act::Act::Farm(of_farm::Act::List(act)) };
    rows.into_iter().filter(|(_, _, there)| *there).map(choice).collect()
}

/// Asks over where the hands were.
pub fn ask(asked: Ask, under: &Mode) -> Decision {
    Decision::Go(Next::Mode(over(asked, under)))
}

/// A question over a mode.
pub fn over(asked: Ask, under: &Mode) -> Mode {
    Mode::Pad { ask: act::Ask::Farm(of_farm::Ask::Herd(herd::Ask::List(asked))), under: Box::new(under.clone()) }
}

/// Does what a choice says.
pub fn do_act(session: &Session, act: Act, under: &Mode, stamp: &Stamp) -> Decision {
    match act {
        Act::TakeAll | Act::TakeGood => take(session, stamp),
        Act::Nothing => Decision::Go(Next::Mode(animals(under))),
        Act::AskMissing => ask(Ask::Missing, under),
        Act::Days(figures) => {
            let files = Box::new(super::decide::below(under));
            Decision::Go(Next::Do(Effect::ReadList(Which::Again(figures), files)))
        }
        Act::Gone => {
            let left = |her: &&Her| {
                let (animal, words) = (her.known.animal, String::new());
                (animal.0, Event::Left { animal, why: Leaving::Gone, words })
            };
            let facts: Vec<(RecordId, Event)> = missing(session).0.iter().map(left).collect();
            Decision::Record(stamp.press(facts), Next::Do(Effect::Refresh(Box::new(animals(under)))))
        }
    }
}

/// All of it in one press; nothing where it says nothing new.
fn take(session: &Session, stamp: &Stamp) -> Decision {
    let (Some(offered), Some(farm)) = (&session.offered, &session.farm) else {
        return Decision::Refuse(Refusal::NotHere);
    };
    let meant = Meant { farm: Some(farm.id), name: &farm.name, herd: &session.animals };
    let press = write_out(stamp, &offered.name, meant, &mut offered.preview.clone());
    match press.is_empty() {
        true => Decision::Refuse(Refusal::AlreadySo),
        false => Decision::Record(press, Next::Do(Effect::ListTaken)),
    }
}

/// The animals of the herd, from wherever a list is looked at.
pub fn animals(from: &Mode) -> Mode {
    let mut mode = from;
    while let Mode::Herd { page: Page::Files | Page::List | Page::Her(_), under, .. } | Mode::Pad { under, .. } = mode {
        mode = under;
    }
    match mode {
        Mode::Herd { .. } => mode.clone(),
        _ => Mode::Herd { page: Page::Animals(Whom::All), cursor: 0, under: Box::new(mode.clone()) },
    }
}
