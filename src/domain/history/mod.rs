//! What the records of one animal add up to: her turns, courses, open items and labels. Always a full fold, never kept up
//! by increments, so that order of arrival cannot matter.
//!
//! Two passes. `standing` goes from the newest record to the oldest over records about records: what is undone,
//! corrected, moved, joined. `fold` then goes from the oldest to the newest over what stands.

pub mod course;
mod fold;
mod names;
pub mod open;
pub mod standing;

use super::anatomy::{Foot, Place, Side};
use super::event::{Item, OpenGap};
use super::finding::{Degree, Finding, Stage};
use super::herd::{Herd, Labels, Leaving, MedicineUse};
use super::ids::{AnimalId, CaseId, FarmId, PersonId, PutId, RecordId, TurnId, VisitId};
use super::record::{Moment, Record};
use super::treatment::{Gait, Measure, Off, OffBy, Outcome, Put, Relief, Sign, SkinState, Trim};
use super::vocabulary::Vocabulary;
use chrono::NaiveDate;
use course::Course;
use open::OpenItem;

/// What one animal's records add up to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct History {
    /// Every id that stands for her, smallest first: more than one where animals were joined.
    pub animals: Vec<AnimalId>,
    /// Her farm; none where no record says so.
    pub farm: Option<FarmId>,
    /// Her labels now.
    pub labels: Labels,
    /// Labels she had before, with the day they were given up, oldest first.
    pub earlier: Vec<(NaiveDate, Labels)>,
    /// Herd data, the newest word on each.
    pub herd: Herd,
    /// Herd data as they were told, oldest first.
    pub told: Vec<(NaiveDate, Herd)>,
    /// How and when she left, if she did.
    pub left: Option<(Leaving, NaiveDate)>,
    /// The day she was last said to be back.
    pub back: Option<NaiveDate>,
    /// Kicks.
    pub kicker: bool,
    /// "Cull, still here", since this day.
    pub cull: Option<NaiveDate>,
    /// Claws that are gone.
    pub claws_gone: Vec<(Foot, Side)>,
    /// Turns, oldest first.
    pub turns: Vec<Turn>,
    /// Findings with their answers, oldest first; [`crate::domain::case`] tells cases among them.
    pub courses: Vec<Course>,
    /// What is still open: facts only; when each is due is computed at reading.
    pub open: Vec<OpenItem>,
    /// What was told outside any turn, oldest first.
    pub outside: Vec<Outside>,
    /// What says that she is one with another, oldest first.
    pub joins: Vec<Join>,
    /// Turns that were written under her and are another's.
    pub moved_away: Vec<MovedAway>,
    /// What was corrected of hers, oldest correction first.
    pub corrections: Vec<Correction>,
    /// What does not fit together, in words of the trade.
    pub doubts: Vec<Doubt>,
    /// How many records of hers a newer program wrote.
    pub newer: usize,
    /// How many records she has in all, so that a missing page can be told.
    pub count: u64,
}

/// Where a turn stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TurnState {
    /// Under way.
    Open,
    /// Broken off half done.
    Paused,
    /// Signed off.
    Signed,
}

/// Three separate facts about one foot in one turn.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Look {
    /// Lifted.
    pub lifted: bool,
    /// Trimmed.
    pub trimmed: bool,
    /// All zones seen.
    pub all_seen: bool,
}

/// One animal's time in the crush on one visit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Turn {
    /// Its name.
    pub id: TurnId,
    /// The visit.
    pub visit: VisitId,
    /// The day.
    pub on: NaiveDate,
    /// Who recorded it.
    pub by: Option<PersonId>,
    /// The labels of whom it was written under, where it was moved here.
    pub came_from: Option<Labels>,
    /// State.
    pub state: TurnState,
    /// What it was signed off without.
    pub gaps: Vec<OpenGap>,
    /// Feet that were looked at or not, in the order of the feet; none where nothing was said.
    pub looks: [Option<Look>; 4],
    /// Findings of this turn.
    pub found: Vec<Found>,
    /// Answers to earlier findings.
    pub answers: Vec<Answer>,
    /// Trims.
    pub trims: Vec<(RecordId, Place, Trim)>,
    /// Put on.
    pub puts: Vec<PutView>,
    /// Seen off, or on.
    pub offs: Vec<OffView>,
    /// Gait scores.
    pub gaits: Vec<(RecordId, Gait)>,
    /// Measures in millimetres.
    pub measures: Vec<(RecordId, Place, Measure, u16)>,
    /// Sore to testers.
    pub sore: Vec<(RecordId, Place)>,
    /// Notes.
    pub notes: Vec<(RecordId, Place, String)>,
    /// Medicines.
    pub medicines: Vec<(RecordId, MedicineUse)>,
    /// Pain relief.
    pub relief: Option<(RecordId, Relief)>,
    /// Vet advised.
    pub vet: Vec<(RecordId, Place, Sign, String)>,
    /// Days to look again set by hand.
    pub rechecks: Vec<(RecordId, Place, NaiveDate, String)>,
}

impl Turn {
    /// Whether she was looked at in it, and did not get away before a foot was up. One foot is enough: a call about her is answered by
    /// the foot that it was about, and she came. What one foot does not answer is asked of [`crate::domain::hinds`]. Whoever was signed
    /// off with no foot up and nothing told of one was not.
    pub fn is_look(&self) -> bool {
        let told = !(self.found.is_empty() && self.answers.is_empty() && self.puts.is_empty() && self.offs.is_empty());
        let told = told || !self.trims.is_empty();
        self.looks.iter().flatten().any(|look| look.lifted) || told && self.state == TurnState::Signed
    }

    /// What was said of a foot in it.
    pub fn look(&self, foot: Foot) -> Look {
        let at = Foot::ALL.iter().position(|candidate| *candidate == foot);
        at.and_then(|at| self.looks[at]).unwrap_or_default()
    }
}

/// One finding with all that was told about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found {
    /// The record.
    pub id: RecordId,
    /// The course it belongs to: its own record for the first of one.
    pub case: CaseId,
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
    /// What it said before it was corrected, oldest first.
    pub was: Vec<Was>,
}

/// What a finding or treatment, or something told about it, said before it was corrected.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Was {
    /// What was said.
    pub event: super::event::Event,
    /// Why it was corrected.
    pub why: String,
}

/// What an earlier finding was answered with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// In words.
    Outcome(Outcome),
    /// Digital dermatitis: by today's stage.
    Stage(Stage),
}

impl Verdict {
    /// Whether it ends the case.
    pub fn ends(self) -> bool {
        match self {
            Verdict::Outcome(outcome) => outcome == Outcome::Healed,
            Verdict::Stage(stage) => stage == Stage::M0,
        }
    }

    /// Whether the place was looked at.
    pub fn looked(self) -> bool {
        self != Verdict::Outcome(Outcome::NotLooked)
    }
}

/// An answer to an earlier finding.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Answer {
    /// The record.
    pub id: RecordId,
    /// The course.
    pub case: CaseId,
    /// Where it is.
    pub place: Place,
    /// What it is.
    pub what: Finding,
    /// What was said.
    pub verdict: Verdict,
}

/// Something put on, with all that was told about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PutView {
    /// Its name.
    pub id: PutId,
    /// The day.
    pub on: NaiveDate,
    /// The moment the tablet's clock gave.
    pub written: Moment,
    /// What, with later details.
    pub put: Put,
    /// Promised day.
    pub off_by: Option<OffBy>,
    /// Who takes it off; empty: nobody named.
    pub remover: String,
    /// Others who put it on; empty: the trimmer.
    pub by_others: String,
    /// What it said before it was corrected, oldest first.
    pub was: Vec<Was>,
}

/// How something put on was found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OffView {
    /// The record.
    pub id: RecordId,
    /// What it was.
    pub item: Item,
    /// The thing, where known.
    pub put: Option<Put>,
    /// Where.
    pub place: Place,
    /// How it was found.
    pub outcome: Off,
    /// Skin under it.
    pub skin: SkinState,
}

/// Something told outside any turn, or about the animal as a whole.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Outside {
    /// The record.
    pub id: RecordId,
    /// The day.
    pub on: NaiveDate,
    /// How many of her turns had begun before it, in the order of facts: those after them may answer it.
    pub turns: usize,
    /// What was told.
    pub event: super::event::Event,
}

/// That two are one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Join {
    /// The record that says so.
    pub id: RecordId,
    /// The day it was said.
    pub on: NaiveDate,
    /// One.
    pub one: RecordId,
    /// The other.
    pub other: RecordId,
}

/// A turn that was written under her and is another's.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MovedAway {
    /// The turn.
    pub turn: TurnId,
    /// Its day.
    pub on: NaiveDate,
    /// Whose it is.
    pub to: AnimalId,
    /// What she is called.
    pub labels: Labels,
}

/// A fact that was corrected: what it said, what it says now, and why. Both stay readable.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Correction {
    /// The record that corrects.
    pub id: RecordId,
    /// The record that was corrected.
    pub of: RecordId,
    /// The day it was corrected.
    pub on: NaiveDate,
    /// Who corrected it.
    pub by: Option<PersonId>,
    /// What was said before.
    pub was: super::event::Event,
    /// What is said now, or was until the next correction.
    pub now: super::event::Event,
    /// Why.
    pub why: String,
}

/// Something that does not fit together. Nothing is dropped for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Doubt {
    /// The record.
    pub id: RecordId,
    /// What is doubtful.
    pub what: DoubtWhat,
}

/// Kinds of doubt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum DoubtWhat {
    /// Names a record this book does not hold.
    Missing,
    /// Names a turn that was taken back; the fact stands all the same.
    TurnTakenBack,
    /// Corrects a record into another kind of fact.
    OtherKind,
    /// Written, by its tablet's clock, before the record that came before it.
    Clock,
    /// Two tablets wrote under one name, after a book was copied. Both facts stand; what speaks of that name takes nothing
    /// back, moves nothing and closes nothing, because nobody knows which it means.
    TwoUnderOneName,
}

impl History {
    /// Folds the records of one animal's group, in any order, into the history of the animal `of` belongs to.
    pub fn of(records: Vec<Record>, of: AnimalId) -> History {
        fold::fold(&standing::Standing::of(records), of)
    }

    /// The newest turn before the given one, or the newest of all.
    pub fn last_turn(&self, before: Option<TurnId>) -> Option<&Turn> {
        let end = before
            .and_then(|turn| self.turns.iter().position(|candidate| candidate.id == turn))
            .unwrap_or(self.turns.len());
        self.turns[..end].last()
    }

    /// The turn with this name.
    pub fn turn(&self, id: TurnId) -> Option<&Turn> {
        self.turns.iter().find(|turn| turn.id == id)
    }

    /// What was put on under this name, in a turn or outside one.
    pub fn put(&self, id: PutId) -> Option<&Put> {
        let outside = || {
            let told = self.outside.iter().find(|told| told.id == id.0)?;
            if let super::event::Event::PutOn { put, .. } = &told.event { Some(put) } else { None }
        };
        let mut puts = self.turns.iter().flat_map(|turn| &turn.puts);
        puts.find(|view| view.id == id).map(|view| &view.put).or_else(outside)
    }

    /// The course with this name, or with a finding of this name.
    pub fn course(&self, id: CaseId) -> Option<&Course> {
        self.courses.iter().find(|course| course.holds(id.0))
    }

    /// Courses that no answer has ended.
    pub fn open_courses(&self) -> impl Iterator<Item = &Course> {
        self.courses.iter().filter(|course| course.end().is_none())
    }
}
