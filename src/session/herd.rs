//! The herd of the farm in hand: its animals in order of number, group by group; her herd data line by line, each of which a new
//! word is typed for; and a farm's list, looked at before it is taken (`herd_list.rs`).

use super::act::{self, Choice};
use super::amend::labels::{self, Wears};
use super::choices::in_order;
use super::decide::{Decision, Effect, Next};
use super::mode::{Mode, TextFor};
use super::of_farm::{self, Refused};
use super::{Refusal, Session, herd_list};
use crate::domain::day::{NoDay, gone_by, to_come};
use crate::domain::event::Event;
use crate::domain::her_days;
use crate::domain::herd::{Herd, Status};
use crate::domain::herd_list::cell;
use crate::domain::herd_list::column::Column;
use crate::domain::herd_list::her::{Her, groups, is_of};
use crate::domain::history::open::OpenItem;
use crate::domain::ids::AnimalId;
use crate::domain::label::Label;
use crate::domain::record::Stamp;
use crate::domain::vocabulary::Vocabulary;
use chrono::{Datelike, NaiveDate};

/// What is shown of the herd.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Page {
    /// Its animals.
    Animals(Whom),
    /// What is known of one of them.
    Her(AnimalId),
    /// The lists that may be taken.
    Files,
    /// A list, and what it would change.
    List,
}

/// Which animals are shown.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub enum Whom {
    /// All that are here.
    #[default]
    All,
    /// Those of this group.
    Group(String),
    /// Those of whom no group was told.
    NoGroup,
}

/// What is asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ask {
    /// Where does she stand in the herd's year?
    Status(AnimalId),
    /// About a list.
    List(herd_list::Ask),
}

/// What a text is typed for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Text {
    /// A new word on one of her herd data.
    Told(AnimalId, Column),
    /// Where a list lies.
    File,
}

/// Why something of the herd was not done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum No {
    /// That cannot stand there.
    Cell(Column, String),
    /// What was told stays until something else is told.
    Stays(Column),
    /// It was told on a later day, and the newest word holds.
    ToldLater(Column, NaiveDate),
    /// That day cannot be hers.
    Day(her_days::NoDay),
}

/// A line of what is known of an animal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Line {
    /// What is told of this.
    Told(Column),
    /// Something is on her: which of what is open.
    On(usize),
    /// She left.
    Left,
}

/// What says in a line that she has none any more; on the screens what stands there is erased.
const NOTHING: &str = "-";
/// No herd has animals older than this.
const FIRST_YEAR: i32 = 1900;

impl Text {
    /// Whether nothing typed is an answer too: she has no such label any more.
    pub fn may_be_empty(&self) -> bool {
        matches!(self, Text::Told(_, column) if column.is_label())
    }

    /// Whether it is a number, so that a key that is a digit on Today is one here too.
    pub fn is_number(&self) -> bool {
        let Text::Told(_, column) = self else { return false };
        match column {
            Column::Number
            | Column::Electronic
            | Column::Lactation
            | Column::Born
            | Column::Calved
            | Column::DryFrom
            | Column::DueToCalve => true,
            Column::Tag | Column::Name | Column::Breed | Column::Group | Column::Status => false,
        }
    }
}

/// The animals that are here and shown.
pub fn shown<'s>(session: &'s Session, whom: &Whom) -> Vec<&'s Her> {
    let here = session.animals.iter().filter(|her| her.known.left.is_none());
    here.filter(|her| match whom {
        Whom::All => true,
        Whom::Group(group) => is_of(her, group),
        Whom::NoGroup => is_of(her, ""),
    })
    .collect()
}

/// How many of the farm's animals have left.
pub fn gone(session: &Session) -> usize {
    session.animals.iter().filter(|her| her.known.left.is_some()).count()
}

/// The animal, gone or not.
pub fn of(session: &Session, animal: AnimalId) -> Option<&Her> {
    session.animals.iter().find(|her| her.known.animal == animal || her.history.animals.contains(&animal))
}

/// What is known of her, line by line.
pub fn lines(her: &Her) -> Vec<Line> {
    let on = her.history.open.iter().enumerate().filter(|(_, item)| matches!(item, OpenItem::On { .. }));
    let left = her.known.left.map(|_| Line::Left);
    Column::ALL.iter().map(|column| Line::Told(*column)).chain(on.map(|(at, _)| Line::On(at))).chain(left).collect()
}

/// How many lines a page has.
pub fn count(session: &Session, page: &Page) -> usize {
    match page {
        Page::Animals(whom) => shown(session, whom).len(),
        Page::Her(animal) => of(session, *animal).map_or(0, |her| lines(her).len()),
        Page::Files => session.lists.names.len() + 1,
        Page::List => session.offered.as_ref().map_or(0, |offered| offered.lines.len()),
    }
}

/// The animal of the line that is picked, or whose data are shown.
pub fn picked(session: &Session, page: &Page, cursor: usize) -> Option<AnimalId> {
    match page {
        Page::Animals(whom) => shown(session, whom).get(cursor).map(|her| her.known.animal),
        Page::Her(animal) => Some(*animal),
        Page::Files | Page::List => None,
    }
}

/// The next group; after the last those of none, then all again.
pub fn next_group(session: &Session) -> Decision {
    let Mode::Herd { page: Page::Animals(whom), under, .. } = &session.mode else {
        return Decision::Refuse(Refusal::NotHere);
    };
    let all: Vec<Whom> = [Whom::All]
        .into_iter()
        .chain(groups(&session.animals).into_iter().map(Whom::Group))
        .chain((!shown(session, &Whom::NoGroup).is_empty()).then_some(Whom::NoGroup))
        .collect();
    let at = all.iter().position(|one| one == whom).unwrap_or(0);
    let next = all.get(at + 1).cloned().unwrap_or_default();
    Decision::Go(Next::Mode(Mode::Herd { page: Page::Animals(next), cursor: 0, under: under.clone() }))
}

/// Opens the line.
pub fn open(session: &Session, page: &Page, cursor: usize) -> Decision {
    match page {
        Page::Animals(_) => match picked(session, page, cursor) {
            Some(animal) => {
                let under = Box::new(session.mode.clone());
                Decision::Go(Next::Mode(Mode::Herd { page: Page::Her(animal), cursor: 0, under }))
            }
            None => Decision::Refuse(Refusal::NothingTyped),
        },
        Page::Her(animal) => {
            of(session, *animal).map_or(Decision::Refuse(Refusal::NotHere), |her| open_line(session, her, cursor))
        }
        Page::Files => herd_list::open(session, cursor),
        Page::List => herd_list::ask(herd_list::Ask::Take, &session.mode),
    }
}

/// Opens a line of her data.
fn open_line(session: &Session, her: &Her, cursor: usize) -> Decision {
    let animal = her.known.animal;
    match lines(her).get(cursor).copied() {
        Some(Line::Told(Column::Status)) => ask(Ask::Status(animal), &session.mode),
        Some(Line::Told(column)) => {
            // What she is called stands there to be changed or erased; all else is told anew.
            let now = if column.is_label() { column.cell(&her.known.labels, &her.known.herd) } else { String::new() };
            type_for(Text::Told(animal, column), now, &session.mode)
        }
        Some(Line::Left) => Decision::Go(Next::Do(Effect::AskLeft(animal))),
        Some(Line::On(_)) | None => Decision::Refuse(Refusal::Farm(Refused::NotTyped)),
    }
}

/// The choices of a question.
pub fn choices(session: &Session, asked: &Ask) -> Vec<Choice> {
    let animal = match asked {
        Ask::Status(animal) => animal,
        Ask::List(asked) => return herd_list::choices(session, asked),
    };
    let now = of(session, *animal).and_then(|her| her.known.herd.status);
    let others = Status::ALL.iter().filter(|status| Some(**status) != now);
    in_order(others.map(|status| act::Act::Stands(*animal, *status)))
}

/// Asks over where the hands were.
pub fn ask(asked: Ask, under: &Mode) -> Decision {
    of_farm::ask(of_farm::Ask::Herd(asked), under)
}

fn type_for(what: Text, text: String, under: &Mode) -> Decision {
    let (what, under) = (TextFor::Farm(of_farm::Text::Herd(what)), Box::new(under.clone()));
    Decision::Go(Next::Mode(Mode::Text { what, text, under }))
}

/// Keeps a new word on one of her herd data, checked as a list's cell is.
pub fn keep(session: &Session, what: &Text, typed: &str, under: &Mode, stamp: &Stamp) -> Decision {
    let Text::Told(animal, column) = what else {
        let which = herd_list::Which::Typed(typed.to_owned());
        return Decision::Go(Next::Do(Effect::ReadList(which, Box::new(under.clone()))));
    };
    let Some(her) = of(session, *animal) else { return Decision::Refuse(Refusal::NotHere) };
    if let Some(field) = label(*column) {
        return relabel(session, her, (*column, field), typed, under, stamp);
    }
    match said(session, her, *column, typed) {
        Ok(herd) if column.cell(&her.known.labels, &herd) == column.cell(&her.known.labels, &her.known.herd) => {
            Decision::Go(Next::Mode(under.clone()))
        }
        Ok(herd) => {
            let told = Event::Described { animal: *animal, herd };
            Decision::Record(stamp.press([(animal.0, told)]), Next::Do(Effect::Refresh(Box::new(under.clone()))))
        }
        Err(refusal) => Decision::Refuse(refusal),
    }
}

fn no(why: No) -> Refusal {
    Refusal::Farm(Refused::Herd(why))
}

/// What she is called by that stands in this column.
fn label(column: Column) -> Option<Label> {
    match column {
        Column::Number => Some(Label::Number),
        Column::Tag => Some(Label::Tag),
        Column::Electronic => Some(Label::Electronic),
        Column::Name => Some(Label::Name),
        Column::Breed
        | Column::Born
        | Column::Lactation
        | Column::Calved
        | Column::DryFrom
        | Column::DueToCalve
        | Column::Group
        | Column::Status => None,
    }
}

/// Another label, or none any more; one that another animal wears is asked about, as on Today.
fn relabel(
    session: &Session,
    her: &Her,
    (column, field): (Column, Label),
    typed: &str,
    under: &Mode,
    stamp: &Stamp,
) -> Decision {
    if let Err(later) = newest(session, her, column) {
        return Decision::Refuse(later);
    }
    let wears = Wears { animal: her.known.animal, labels: her.known.labels.clone() };
    if typed.is_empty() || typed == NOTHING {
        return match labels::without(field, &wears) {
            Some(without) => labels::record(without, under, stamp),
            None => Decision::Go(Next::Mode(under.clone())),
        };
    }
    match field.checked(typed).ok() {
        Some(text) if text == field.of(&wears.labels) => Decision::Go(Next::Mode(under.clone())),
        Some(text) => labels::keep(session, &wears, field, &text, under, stamp),
        None => Decision::Refuse(no(No::Cell(column, typed.to_owned()))),
    }
}

/// The newest word holds, so nothing is told of a day before it.
fn newest(session: &Session, her: &Her, column: Column) -> Result<(), Refusal> {
    match her.since(column) {
        Some(day) if day > session.today => Err(no(No::ToldLater(column, day))),
        Some(_) | None => Ok(()),
    }
}

/// What was typed, as it is told of her.
fn said(session: &Session, her: &Her, column: Column, typed: &str) -> Result<Herd, Refusal> {
    let bad = || no(No::Cell(column, typed.to_owned()));
    if typed == NOTHING {
        return Err(no(No::Stays(column)));
    }
    newest(session, her, column)?;
    let untold = Herd::default();
    let text = || cell::text(typed).ok().filter(|text| !text.is_empty()).ok_or_else(bad);
    match column {
        Column::Breed => Ok(Herd { breed: text()?, ..untold }),
        Column::Group => Ok(Herd { group: text()?, ..untold }),
        Column::Lactation => Ok(Herd { lactation: Some(cell::lactation(typed).ok_or_else(bad)?), ..untold }),
        Column::Born | Column::Calved | Column::DryFrom | Column::DueToCalve => dated(session, her, column, typed),
        // Its choices are asked for, and labels are records of another kind.
        Column::Status | Column::Number | Column::Tag | Column::Electronic | Column::Name => Err(Refusal::NotHere),
    }
}

/// A day of hers. She is in milk from her calving and dry from the day she was dried off, whichever came last.
fn dated(session: &Session, her: &Her, column: Column, typed: &str) -> Result<Herd, Refusal> {
    let Herd { calved, dry_from, .. } = her.known.herd;
    let day = day(session, column, typed)?;
    let mut herd = Herd::default();
    let is_last = |other: Option<NaiveDate>| other.is_none_or(|other| day >= other);
    if column == Column::Born {
        herd.born = Some(day);
    } else if column == Column::Calved {
        (herd.calved, herd.status) = (Some(day), is_last(dry_from).then_some(Status::InMilk));
    } else if column == Column::DryFrom {
        (herd.dry_from, herd.status) = (Some(day), is_last(calved).then_some(Status::Dry));
    } else {
        herd.due_to_calve = Some(day);
    }
    match her_days::wrong(&herd, &her.known.herd, session.today).first() {
        Some((_, why)) => Err(no(No::Day(*why))),
        None => Ok(herd),
    }
}

/// A day gone by; one to come only where she is due to calve, though that may have passed too.
fn day(session: &Session, column: Column, typed: &str) -> Result<NaiveDate, Refusal> {
    let today = session.today;
    let day = match column == Column::DueToCalve {
        true => {
            to_come(typed, today).or_else(|why| if why == NoDay::GoneBy { gone_by(typed, today) } else { Err(why) })
        }
        false => gone_by(typed, today),
    };
    let day = day.and_then(|day| if day.year() < FIRST_YEAR { Err(NoDay::NotThere) } else { Ok(day) });
    day.map_err(|why| Refusal::NoDay(typed.to_owned(), why))
}
