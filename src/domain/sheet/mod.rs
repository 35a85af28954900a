//! What a sheet says: a day at one farm as a trimmer types it up from paper, before any record is made of it.
//!
//! A sheet speaks of places, not of records: "the ulcer there is better", "the wrap on that foot is off". `transcribe`
//! finds what is meant in the animal's history. How a sheet looks as text lives in `wire::sheet`.

pub mod check;
pub mod instruct;
pub mod of;
pub mod of_farm;
pub mod of_told;
pub mod shift;
pub mod tell;
pub mod transcribe;

use super::anatomy::{Foot, Place, Side};
use super::event::{OpenGap, PauseWhy};
use super::finding::{Degree, Finding};
use super::herd::{Change, FarmFact, Leaving, MedicineUse, Scope, VisitWhy, VisitWord};
use super::history::{Look, Verdict};
use super::label::Label;
use super::treatment::{Gait, Means, Measure, Off, OffBy, Put, Relief, Sign, SkinState, Trim, Word};
use super::vocabulary::vocabulary;
use super::which::Which;
use chrono::NaiveDate;

/// One day at one farm.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    /// Farm, by name.
    pub farm: String,
    /// The day it happened.
    pub on: NaiveDate,
    /// Who recorded; empty: not told.
    pub by: String,
    /// Why the visit was made.
    pub why: VisitWhy,
    /// What else is told of the visit, each word once, in the order of the list.
    pub visit: Vec<VisitWord>,
    /// How the visit ended that day, where it was said.
    pub ended: Option<VisitEnd>,
    /// What was written, in order.
    pub lines: Vec<Line>,
}

/// One entry of a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Line {
    /// An animal in the crush.
    Turn(SheetTurn),
    /// Something told about an animal outside the crush.
    Animal {
        /// Her number.
        animal: String,
        /// What was told.
        told: Told,
    },
    /// Something told about the farm.
    Farm(FarmTold),
}

/// One animal's time in the crush.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetTurn {
    /// Her number, or what she is called by where she has none.
    pub animal: String,
    /// Facts, in the order written.
    pub facts: Vec<Fact>,
    /// How the turn ended.
    pub end: End,
}

/// How a turn ended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum End {
    /// Not told: still under way.
    Open,
    /// Broken off half done; the reason where it is known.
    Paused(Option<PauseWhy>),
    /// Signed off, with what was left open.
    Signed(Vec<OpenGap>),
}

vocabulary! {
    /// What became of the visit at the end of a day.
    VisitEnd, "end of a visit" {
        /// It goes on later.
        SetAside = 1 "set-aside",
        /// It is over.
        Closed = 2 "closed",
    }
}

vocabulary! {
    /// What was left on a foot and is now spoken of.
    Thing, "thing" {
        /// A wrap.
        Wrap = 1 "wrap",
        /// A block.
        Block = 2 "block",
    }
}

/// One fact of a turn.
#[derive(Debug, Clone, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Fact {
    /// What was done to look at a foot.
    Look { foot: Foot, look: Look },
    /// A finding, new today.
    Found(NewFinding),
    /// An earlier finding and what became of it.
    Answered { place: Place, what: Finding, verdict: Verdict },
    /// A trim.
    Trimmed { place: Place, how: Trim },
    /// Something put on; `by_others` empty: the trimmer.
    Put { put: Put, off_by: Option<OffBy>, remover: String, by_others: String },
    /// How something left on was found.
    Off { thing: Thing, place: Place, outcome: Off, skin: SkinState },
    /// A gait score.
    Gait(Gait),
    /// A measure in millimetres.
    Measured { place: Place, what: Measure, mm: u16 },
    /// Sore to testers.
    Sore(Place),
    /// A free note.
    Note { place: Place, text: String },
    /// A medicine used.
    Medicine(Box<MedicineUse>),
    /// Pain relief.
    Relief(Relief),
    /// The vet was advised.
    Vet { place: Place, sign: Sign, words: String },
    /// A day to look again.
    Recheck { place: Place, on: NaiveDate, words: String },
    /// From here on somebody else recorded, by name.
    HandedOver(String),
}

/// A finding with all that a sheet can tell of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewFinding {
    /// Where.
    pub place: Place,
    /// What.
    pub what: Finding,
    /// Grade or stage.
    pub degree: Degree,
    /// Infected with digital dermatitis.
    pub infected: bool,
    /// Deep or necrotic.
    pub deep: bool,
    /// Side of a foot-level finding.
    pub side: Option<Side>,
    /// Own words.
    pub words: String,
}

/// Something told about an animal outside the crush.
#[derive(Debug, Clone, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Told {
    /// The farm's word about something left on.
    Word { place: Place, thing: Thing, by: String, means: Means, word: Word },
    /// She left.
    Left { why: Leaving, words: String },
    /// She had left and is back.
    Back(String),
    /// She is called otherwise now; `shared`: another bears it too.
    Label { label: Label, text: String, shared: bool },
    /// She kicks, or no longer does.
    Kicks(bool),
    /// The farmer says cull, and she is still here.
    Cull,
    /// A claw is gone.
    ClawGone(Foot, Side),
    /// Dried off on that day.
    Dry(NaiveDate),
    /// Calved on that day.
    Calved(NaiveDate),
    /// Due to calve on that day.
    DueToCalve(NaiveDate),
    /// In that lactation; 0 before her first calving.
    Lactation(u8),
    /// Moved to a group.
    Group(String),
    /// The farm called about her; `caller` may be empty.
    Called { words: String, urgent: bool, caller: String },
    /// What came of the vet who was advised there; on the whole animal: of the newest advice about her.
    VetAnswered { place: Place, words: String },
    /// A fact that needs no turn: put on by others, gait, note, medicine, vet, recheck.
    Fact(Fact),
}

/// Something told about the farm.
#[derive(Debug, Clone, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum FarmTold {
    /// A fact about it, in words.
    Fact(FarmFact, String),
    /// One of its people: what they do and their number, each may be empty; or that they are there no longer.
    Contact { name: String, does: String, phone: String, gone: bool },
    /// Something changed there.
    Changed(Change, String),
    /// It called; `caller` may be empty.
    Called { words: String, urgent: bool, caller: String },
    /// It was rung; `who` may be empty.
    Rung { answered: bool, who: String, words: String },
    /// A standing instruction was given, `again` where one of the same words held for those claws, as two tablets may tell it. Who asked and why are empty where a sheet says that nobody was named and nothing told; the vet is
    /// empty where it takes no horn away, and none where the sheet says only that no vet is named: records hold no more.
    Instructed {
        scope: Scope,
        text: String,
        again: bool,
        asked_by: String,
        why: String,
        review_on: Option<NaiveDate>,
        vet: Option<String>,
    },
    /// The standing instruction for those claws was looked at again and goes on; the words may be empty.
    InstructionReviewed { scope: Scope, which: Which, words: String, review_on: Option<NaiveDate> },
    /// The standing instruction for those claws was ended.
    InstructionEnded { scope: Scope, which: Which, why: String },
}

impl Line {
    /// What the animal is called that it is about.
    pub fn animal(&self) -> Option<&str> {
        match self {
            Line::Turn(turn) => Some(&turn.animal),
            Line::Animal { animal, .. } => Some(animal),
            Line::Farm(_) => None,
        }
    }
}

impl Sheet {
    /// The turns, in order.
    pub fn turns(&self) -> impl Iterator<Item = &SheetTurn> {
        self.lines.iter().filter_map(|line| match line {
            Line::Turn(turn) => Some(turn),
            Line::Animal { .. } | Line::Farm(_) => None,
        })
    }
}

impl Thing {
    /// Whether that is what was put on.
    pub fn is(self, put: &Put) -> bool {
        match put {
            Put::Wrap { .. } => self == Thing::Wrap,
            Put::Block { .. } => self == Thing::Block,
            Put::Dressing { .. } => false,
        }
    }

    /// Whether it can be found in that way: a wrap leaves a ring, a block falls off.
    pub fn can_be(self, outcome: Off) -> bool {
        match outcome {
            Off::Bare | Off::Ring | Off::AlreadyOff | Off::LeftOn => self == Thing::Wrap,
            Off::TakenOff | Off::FellOff | Off::LeftSound | Off::LeftWorn => self == Thing::Block,
            Off::Replaced | Off::NotFound => true,
        }
    }
}

impl SheetTurn {
    /// To whom it was handed over, in the order of the turn, each with the number of the fact.
    pub fn handed_to(&self) -> impl Iterator<Item = (usize, &str)> {
        self.facts
            .iter()
            .enumerate()
            .filter_map(|(at, fact)| if let Fact::HandedOver(name) = fact { Some((at, name.as_str())) } else { None })
    }
}

impl Fact {
    /// Where it is; none for what is said of the animal alone.
    pub fn place(&self) -> Option<Place> {
        match self {
            Fact::Look { foot, .. } => Some(Place::Foot(*foot)),
            Fact::Found(found) => Some(found.place),
            Fact::Put { put, .. } => Some(put.place()),
            Fact::Answered { place, .. }
            | Fact::Trimmed { place, .. }
            | Fact::Off { place, .. }
            | Fact::Measured { place, .. }
            | Fact::Sore(place)
            | Fact::Note { place, .. }
            | Fact::Vet { place, .. }
            | Fact::Recheck { place, .. } => Some(*place),
            Fact::Gait(_) | Fact::Medicine(_) | Fact::Relief(_) | Fact::HandedOver(_) => None,
        }
    }

    /// Whether it forbids to say "nothing found" of that foot: a finding, or an earlier one that has not healed.
    pub fn shows_trouble_on(&self, foot: Foot) -> bool {
        let here = self.place().and_then(Place::foot) == Some(foot);
        match self {
            Fact::Found(_) => here,
            Fact::Answered { verdict, .. } => here && !verdict.ends(),
            Fact::Look { .. }
            | Fact::Trimmed { .. }
            | Fact::Put { .. }
            | Fact::Off { .. }
            | Fact::Gait(_)
            | Fact::Measured { .. }
            | Fact::Sore(_)
            | Fact::Note { .. }
            | Fact::Medicine(_)
            | Fact::Relief(_)
            | Fact::Vet { .. }
            | Fact::Recheck { .. }
            | Fact::HandedOver(_) => false,
        }
    }
}

/// Feet in the order in which a turn keeps its looks.
pub const FEET: [Foot; 4] = [Foot::LeftFront, Foot::RightFront, Foot::LeftHind, Foot::RightHind];
