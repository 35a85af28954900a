//! Everything that can happen, in the past tense, in one list.
//!
//! A record keeps one event with its envelope. Records are never changed or removed: undo, correction, moving and joining
//! are events too, about other records.

use super::anatomy::{Foot, Place, Side};
use super::finding::{Degree, Finding};
use super::herd::{
    Change, Charge, FarmFact, Herd, Labels, Leaving, MedicineUse, ProductKind, Scope, VisitWhy, VisitWord,
};
use super::ids::{AnimalId, CaseId, FarmId, PutId, RecordId, TurnId, VisitId};
use super::treatment::{Gait, Means, Measure, Off, OffBy, Outcome, Put, Relief, Sign, SkinState, Trim, Word};
use super::vocabulary::vocabulary;
use chrono::NaiveDate;

/// What came off, or was asked about: the thing itself where this book knows it, else the place it was met at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Item {
    /// Known: the record that put it on.
    Known(PutId),
    /// Met on the foot, and nobody here knew of it.
    Met(Place),
}

vocabulary! {
    /// Why a turn was broken off.
    PauseWhy, "reason" {
        /// The animal got away.
        GotAway = 1 "got-away",
        /// Set aside by the trimmer.
        SetAside = 2 "set-aside",
    }
}

vocabulary! {
    /// What a turn was signed off without.
    Gap, "gap" {
        /// An earlier finding nobody answered.
        Unanswered = 1 "unanswered",
        /// A foot not looked at.
        NotLooked = 2 "not-looked",
        /// A deep finding without relief.
        NoRelief = 3 "no-relief",
        /// Active digital dermatitis with nothing done.
        ActiveUntreated = 4 "active-untreated",
        /// Lame with nothing found.
        LameNothingFound = 5 "lame-nothing-found",
        /// Medicine without a withdrawal told.
        NoWithdrawal = 6 "no-withdrawal",
        /// Something on the foot not seen bare.
        StillOn = 7 "still-on",
        /// A wrap without day or person.
        NoDay = 8 "no-day",
        /// A block on a sore claw or without a sound partner.
        BlockDoubt = 9 "block-doubt",
        /// A stop sign.
        StopSign = 10 "stop-sign",
    }
}

/// A gap and where it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OpenGap {
    /// What was left open.
    pub gap: Gap,
    /// Where.
    pub place: Place,
}

/// One more thing told about a finding after its first key.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Detail {
    /// Grade or stage.
    Degree(Degree),
    /// Subtype of a group.
    Subtype(Finding),
    /// Infected with digital dermatitis, or not after all.
    Infected(bool),
    /// Deep or necrotic, or not after all.
    Deep(bool),
    /// Which side a foot-level finding is on.
    Side(Side),
}

/// One more thing told about something put on after its first key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PutDetail {
    /// By when it is to be off.
    OffBy(OffBy),
    /// Who takes it off.
    Remover(String),
    /// Colour of the wrap.
    Colour(super::treatment::Colour),
    /// Material of the block.
    Kind(super::treatment::BlockKind),
    /// Product of the dressing.
    Product(String),
}

/// Everything that can happen. Field names say what a field holds; units and meanings stand at their types.
#[allow(missing_docs)]
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Event {
    // ---- the practice
    /// A person who records was named.
    PersonBegun { name: String },
    /// A product the practice uses was named.
    ProductNamed { kind: ProductKind, name: String, words: String },
    /// A price was set; the amount is a decimal number as text.
    PriceSet { charge: Charge, amount: String, currency: String, farm: Option<FarmId> },
    /// A rules text was adopted, for the practice or one farm.
    RulesAdopted { farm: Option<FarmId>, text: String },

    // ---- farms
    /// A farm was begun.
    FarmBegun { name: String },
    /// Something was told about a farm.
    FarmDescribed { farm: FarmId, fact: FarmFact, words: String },
    /// A farm was given up and its list handed to somebody.
    FarmGivenUp { farm: FarmId, handed_to: String },
    /// Something changed on the farm.
    FarmChanged { farm: FarmId, change: Change, words: String },
    /// The farm called, about the animal the record is about or about itself.
    FarmCalled { farm: FarmId, words: String, urgent: bool, caller: String },
    /// Something was told about one of the farm's people: what they do there and their number, or that they are there no longer.
    ContactTold { farm: FarmId, name: String, does: String, phone: String, gone: bool },
    /// The farm was rung.
    FarmRung { farm: FarmId, answered: bool, who: String, words: String },
    /// A standing instruction was given.
    Instructed {
        farm: FarmId,
        scope: Scope,
        text: String,
        asked_by: String,
        why: String,
        review_on: Option<NaiveDate>,
        vet: String,
    },
    /// A standing instruction was ended. One that was given in the same press stands in its place.
    InstructionEnded { instruction: RecordId, why: String },
    /// A standing instruction was looked at again and goes on.
    InstructionReviewed { instruction: RecordId, review_on: Option<NaiveDate>, words: String },

    // ---- visits
    /// A visit was begun.
    VisitBegun { farm: FarmId, why: VisitWhy },
    /// A visit was set aside.
    VisitPaused { visit: VisitId },
    /// A visit was closed.
    VisitClosed { visit: VisitId },
    /// Something was told about a visit.
    VisitDescribed { visit: VisitId, word: VisitWord },
    /// Animals without numbers were counted.
    Counted { visit: VisitId, count: u32, words: String },

    // ---- animals
    /// An animal was begun; her number may be empty.
    AnimalBegun { farm: FarmId, labels: Labels },
    /// An animal's labels changed; empty labels are ones she no longer has.
    Renumbered { animal: AnimalId, labels: Labels },
    /// Herd data were told.
    Described { animal: AnimalId, herd: Herd },
    /// An animal left.
    Left { animal: AnimalId, why: Leaving, words: String },
    /// An animal that had left is back.
    CameBack { animal: AnimalId, words: String },
    /// The farmer says cull, and she is still here.
    CullSaid { animal: AnimalId },
    /// She kicks, or no longer does.
    Kicker { animal: AnimalId, kicks: bool },
    /// A claw is gone: no partner, no block, out of denominators.
    ClawGone { animal: AnimalId, foot: Foot, side: Side },
    /// Two animals are one, or two farms are one.
    Joined { one: RecordId, other: RecordId },
    /// A joining was taken apart again.
    Parted { joined: RecordId },
    /// Two animals, farms or people that look like one are two. Said of animals about their farm, else about the practice.
    KeptApart { one: RecordId, other: RecordId },

    // ---- turns
    /// An animal came into the crush.
    TurnBegun { visit: VisitId, animal: AnimalId },
    /// The turn was broken off half done.
    TurnPaused { turn: TurnId, why: PauseWhy },
    /// The turn went on.
    TurnResumed { turn: TurnId },
    /// The turn was signed off, with what was left open.
    TurnSigned { turn: TurnId, open: Vec<OpenGap> },
    /// A signed turn was opened again.
    TurnReopened { turn: TurnId },
    /// The turn was another animal's.
    TurnMoved { turn: TurnId, to: AnimalId },
    /// Three separate facts about one foot; a later record replaces an earlier one of the same turn and foot.
    Looked { turn: TurnId, foot: Foot, lifted: bool, trimmed: bool, all_seen: bool },
    /// Something was found. Own words go with `OwnWords` and `ForeignBody`, and may go with any.
    Found { turn: TurnId, place: Place, what: Finding, degree: Degree, words: String },
    /// More was told about a finding.
    Detailed { of: CaseId, detail: Detail },
    /// An earlier finding was answered.
    Answered { turn: TurnId, case: CaseId, outcome: Outcome },
    /// An earlier digital dermatitis mark was answered by today's stage.
    Staged { turn: TurnId, case: CaseId, stage: super::finding::Stage },
    /// A claw or foot was trimmed.
    Trimmed { turn: TurnId, place: Place, how: Trim },
    /// Something was put on: in a turn, or by others (vet, farm) and now known.
    PutOn { turn: Option<TurnId>, put: Put, off_by: Option<OffBy>, remover: String, by_others: String },
    /// More was told about something put on.
    PutDetailed { put: PutId, detail: PutDetail },
    /// The foot was lifted and this is how the item was found.
    SeenOff { turn: Option<TurnId>, item: Item, outcome: Off, skin: SkinState },
    /// The farm's word about something left on.
    ToldOff { item: PutId, by: String, means: Means, word: Word },
    /// A medicine was used.
    MedicineGiven { turn: Option<TurnId>, medicine: Box<MedicineUse> },
    /// Pain relief, as told.
    PainRelief { turn: TurnId, relief: Relief },
    /// Something was measured, in millimetres.
    Measured { turn: TurnId, place: Place, what: Measure, mm: u16 },
    /// A gait score, inside a turn or outside one.
    Walked { turn: Option<TurnId>, gait: Gait },
    /// Sore to testers.
    Sore { turn: TurnId, place: Place },
    /// A free note, in a turn or outside one.
    Noted { turn: Option<TurnId>, place: Place, text: String },
    /// The vet was advised, with the sign.
    VetAdvised { turn: Option<TurnId>, place: Place, sign: Sign, words: String },
    /// What came of that.
    VetAnswered { of: RecordId, words: String },
    /// A day to look again, set by hand.
    RecheckSet { turn: Option<TurnId>, place: Place, on: NaiveDate, words: String },

    // ---- records about records
    /// A whole key press was taken back: `press` is the id of its first record.
    Undone { press: RecordId },
    /// An undo was taken back.
    Redone { undo: RecordId },
    /// A record said something wrong; this is what it should have said.
    Corrected { of: RecordId, to: Box<Event>, why: String },
}

impl Event {
    /// The turn it belongs to, where it belongs to one.
    pub fn turn(&self) -> Option<TurnId> {
        match self {
            Event::TurnPaused { turn, .. }
            | Event::TurnResumed { turn }
            | Event::TurnSigned { turn, .. }
            | Event::TurnReopened { turn }
            | Event::TurnMoved { turn, .. }
            | Event::Looked { turn, .. }
            | Event::Found { turn, .. }
            | Event::Answered { turn, .. }
            | Event::Staged { turn, .. }
            | Event::Trimmed { turn, .. }
            | Event::PainRelief { turn, .. }
            | Event::Measured { turn, .. }
            | Event::Sore { turn, .. } => Some(*turn),
            Event::PutOn { turn, .. }
            | Event::SeenOff { turn, .. }
            | Event::MedicineGiven { turn, .. }
            | Event::Walked { turn, .. }
            | Event::Noted { turn, .. }
            | Event::VetAdvised { turn, .. }
            | Event::RecheckSet { turn, .. } => *turn,
            Event::PersonBegun { .. }
            | Event::ProductNamed { .. }
            | Event::PriceSet { .. }
            | Event::RulesAdopted { .. }
            | Event::FarmBegun { .. }
            | Event::FarmDescribed { .. }
            | Event::FarmGivenUp { .. }
            | Event::FarmChanged { .. }
            | Event::FarmCalled { .. }
            | Event::FarmRung { .. }
            | Event::ContactTold { .. }
            | Event::Instructed { .. }
            | Event::InstructionEnded { .. }
            | Event::InstructionReviewed { .. }
            | Event::VisitBegun { .. }
            | Event::VisitPaused { .. }
            | Event::VisitClosed { .. }
            | Event::VisitDescribed { .. }
            | Event::Counted { .. }
            | Event::AnimalBegun { .. }
            | Event::Renumbered { .. }
            | Event::Described { .. }
            | Event::Left { .. }
            | Event::CameBack { .. }
            | Event::CullSaid { .. }
            | Event::Kicker { .. }
            | Event::ClawGone { .. }
            | Event::Joined { .. }
            | Event::Parted { .. }
            | Event::KeptApart { .. }
            | Event::TurnBegun { .. }
            | Event::Detailed { .. }
            | Event::PutDetailed { .. }
            | Event::ToldOff { .. }
            | Event::VetAnswered { .. }
            | Event::Undone { .. }
            | Event::Redone { .. }
            | Event::Corrected { .. } => None,
        }
    }

    /// Whether it only says something about other records: such are never corrected but taken back.
    pub fn is_about_records(&self) -> bool {
        matches!(
            self,
            Event::Undone { .. }
                | Event::Redone { .. }
                | Event::Corrected { .. }
                | Event::TurnMoved { .. }
                | Event::Joined { .. }
                | Event::Parted { .. }
        )
    }

    /// The further subject it touches besides the one its record is about: whose records belong to the same group.
    pub fn also_about(&self) -> Option<RecordId> {
        if let Event::TurnMoved { to, .. } = self {
            return Some(to.0);
        }
        if let Event::Joined { other, .. } = self {
            return Some(*other);
        }
        if let Event::Corrected { to, .. } = self {
            return to.also_about();
        }
        None
    }
}
