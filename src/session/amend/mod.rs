//! What is set right afterwards: another number, an electronic one that nobody wears, one animal entered twice, a turn that was another's, a finding said wrongly.
//! All of it is records; nothing that was written is changed.

pub mod correct;
pub mod labels;
pub mod twice;
pub mod wearer;
pub mod whose;

use super::act::{self, Choice};
use super::decide::{Decision, Effect, Next};
use super::mode::{Mode, TextFor};
use super::{Refusal, Session};
use crate::domain::event::PutDetail;
use crate::domain::herd::Labels;
use crate::domain::history::Join;
use crate::domain::ids::{AnimalId, PersonId, PutId, RecordId, TurnId};
use crate::domain::label::Label;
use crate::domain::record::Stamp;
use crate::domain::twice::{Pair, Sketch};
use correct::Change;
use labels::Wears;
use wearer::Worn;

/// What is asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ask {
    /// Which of those that are called so?
    Which(Vec<Sketch>, Then),
    /// Are these two one?
    Twice(Box<Twins>),
    /// What is new on her?
    Labels(Wears, Vec<Join>),
    /// The new number is another's: are they one?
    Taken(Wears, AnimalId),
    /// The turn belongs to a number nobody listed: is she new?
    Unlisted(AnimalId, TurnId, String),
    /// Which finding, wrap or block of that turn is wrong?
    Facts(TurnId),
    /// What is right?
    Right(Change),
    /// What is right about this wrap or block?
    RightPut(PutId),
    /// Which finding is right?
    Finding(Change),
    /// Nobody wears this electronic number: who does? Whoever is picked on Today is offered.
    Wearer(String, Option<Worn>),
    /// Does she wear this electronic number now?
    Wears(Worn),
    /// Is she that wears this electronic number new, under this number?
    NewWearer(Labels),
}

/// What a choice does.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Act {
    /// It is this one.
    This(AnimalId, Then),
    /// The two are one.
    Join(Box<Pair>),
    /// The two are two, and are not asked about again.
    KeepApart(Box<Pair>),
    /// The two that were joined are two after all.
    Part(Box<Pair>),
    /// She and whom she was joined with are two after all.
    PartHer(AnimalId, RecordId),
    /// Shows another pair.
    Pair(usize),
    /// Shows these two beside each other.
    Compare(AnimalId, AnimalId),
    /// She is called so now.
    Relabel(Wears),
    /// The turn is a new animal's, of that number.
    MoveToNew(AnimalId, TurnId, String),
    /// Asks further.
    Ask(Box<Ask>),
    /// Asks for a text.
    Type(Text),
    /// Takes a press back, past a sign-off.
    TakeBack(RecordId),
    /// She wears this electronic number.
    Wear(Wears),
    /// A new animal wears it.
    Begin(Labels),
    /// Nobody is asked about this electronic number again in this visit.
    PutOff(String),
}

/// What a text is typed for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Text {
    /// Her new label.
    Label(Wears, Label),
    /// The number of whom the turn belongs to.
    Whose(AnimalId, TurnId),
    /// The right zone.
    Zone(Change),
    /// Why the finding was wrong.
    Why(Change),
    /// After how many days the wrap was to be off.
    Day(PutId),
    /// Why that was wrong of something put on.
    WhyPut(PutId, PutDetail),
    /// The number of whoever wears this electronic number.
    Wearer(String),
}

impl Text {
    /// Whether it is a number, so that a key that is a digit on Today is one here too.
    pub fn is_number(&self) -> bool {
        match self {
            Text::Zone(_) | Text::Day(_) | Text::Whose(_, _) | Text::Wearer(_) => true,
            Text::Label(_, field) => field.is_number(),
            Text::Why(_) | Text::WhyPut(_, _) => false,
        }
    }
}

/// What is read of the book first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Read {
    /// These animals, to ask which is meant.
    Which(Vec<AnimalId>, Then),
    /// What she wears, to ask what is new.
    Labels(AnimalId),
    /// A pair of the session's list, to ask whether they are one.
    Pair(usize),
    /// Two animals, to ask the same.
    Compare(AnimalId, AnimalId),
    /// Who records from now on.
    By(PersonId),
}

/// What is done with the one that is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Then {
    /// Her turn begins or goes on, or the turn in the crush becomes hers.
    Open,
    /// A turn written under another becomes hers.
    Take(AnimalId, TurnId),
}

/// Two beside each other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Twins {
    /// The pair.
    pub pair: Pair,
    /// Its place among the session's pairs; none where it was not offered.
    pub at: Option<usize>,
    /// What is known of each.
    pub both: [Sketch; 2],
}

/// The choices of a question.
pub fn choices(session: &Session, ask: &Ask) -> Vec<Choice> {
    match ask {
        Ask::Which(those, then) => twice::which(those, *then),
        Ask::Twice(twins) => twice::choices(session, twins),
        Ask::Labels(wears, joins) => labels::choices(wears, joins),
        Ask::Taken(wears, other) => {
            in_order([Act::Compare(wears.animal, *other), Act::Relabel(wears.clone())].into_iter())
        }
        Ask::Unlisted(from, turn, number) => in_order([Act::MoveToNew(*from, *turn, number.clone())].into_iter()),
        Ask::Facts(turn) => correct::facts(session, *turn),
        Ask::Right(change) => correct::right(session, change),
        Ask::RightPut(put) => correct::right_put(session, *put),
        Ask::Finding(change) => correct::findings(session, change),
        Ask::Wearer(electronic, picked) => wearer::who(electronic, picked.as_ref()),
        Ask::Wears(worn) => wearer::sure(worn),
        Ask::NewWearer(labels) => wearer::new(labels),
    }
}

/// Choices on the keys 1 to 9.
fn in_order(acts: impl Iterator<Item = Act>) -> Vec<Choice> {
    acts.zip(1..=9).map(|(act, key)| choice(key, act)).collect()
}

fn choice(key: u8, act: Act) -> Choice {
    Choice { key, act: act::Act::Amend(act) }
}

/// Does what a choice says.
pub fn do_act(session: &Session, act: Act, under: &Mode, stamp: &Stamp) -> Decision {
    match act {
        Act::This(animal, Then::Open) => super::today::open_this(session, animal, stamp),
        Act::This(animal, Then::Take(from, turn)) => whose::take(session, (from, turn), animal, under, stamp),
        Act::Join(pair) => twice::join(session, &pair, under, stamp),
        Act::KeepApart(pair) => twice::keep_apart(session, &pair, under, stamp),
        Act::Part(pair) => twice::part(&pair, under, stamp),
        Act::PartHer(animal, joined) => twice::part_her(animal, joined, under, stamp),
        Act::Pair(at) => read(Read::Pair(at)),
        Act::Compare(one, other) => read(Read::Compare(one, other)),
        Act::Relabel(wears) => labels::record(wears, under, stamp),
        Act::MoveToNew(from, turn, number) => whose::take_new(session, (from, turn), number, under, stamp),
        Act::Ask(asked) => ask(*asked, under),
        Act::Type(text) => type_for(text, under),
        Act::TakeBack(press) => whose::take_back(session, press, stamp),
        Act::Wear(wears) => wearer::record(wears, under, stamp),
        Act::Begin(labels) => super::today::begin_new(session, labels, stamp),
        Act::PutOff(electronic) => wearer::put_off(electronic),
    }
}

/// Keeps a text.
pub fn keep(session: &Session, what: &Text, text: &str, under: &Mode, stamp: &Stamp) -> Decision {
    match what {
        Text::Label(wears, field) => labels::keep(session, wears, *field, text, under, stamp),
        Text::Whose(from, turn) => whose::keep(session, (*from, *turn), text, under, stamp),
        Text::Zone(change) => correct::zone(session, change, text, under),
        Text::Why(change) => correct::record(session, change, text, stamp),
        Text::Day(put) => correct::day(session, *put, text, under),
        Text::WhyPut(put, detail) => correct::record_put(session, *put, detail, text, stamp),
        Text::Wearer(electronic) => wearer::keep(session, electronic, text, under),
    }
}

/// Asks something over where the hands were.
pub fn ask(asked: Ask, under: &Mode) -> Decision {
    let under = Box::new(under.clone());
    Decision::Go(Next::Mode(Mode::Pad { ask: act::Ask::Amend(asked), under }))
}

fn type_for(text: Text, under: &Mode) -> Decision {
    let under = Box::new(under.clone());
    Decision::Go(Next::Mode(Mode::Text { what: TextFor::Amend(text), text: String::new(), under }))
}

fn read(read: Read) -> Decision {
    Decision::Go(Next::Do(Effect::Amend(read)))
}

/// Where the hands are once it is on disk, with everything read again.
fn refresh(under: &Mode) -> Next {
    let next = match under {
        // In the herd one goes on from animal to animal.
        Mode::Herd { .. } => under.clone(),
        _ if matches!(under.base(), Mode::Today { .. }) => Mode::today(),
        _ => under.base().clone(),
    };
    Next::Do(Effect::Refresh(Box::new(next)))
}

fn refuse(refusal: Refusal) -> Decision {
    Decision::Refuse(refusal)
}
