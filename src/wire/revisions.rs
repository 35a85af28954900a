//! Every kind of record with its number, revision, word and fields: the one table between the domain's events and
//! bytes.
//!
//! Numbers and words are given by hand and never given again. A row that a release has written is frozen: a new field
//! is a new revision, which keeps the old row's struct and reads it upwards. The compiler refuses an event without a
//! row, the golden bytes refuse a row that changed.

use super::error::{WireError, plain};
use super::format::Format;
use super::stored::{Stored, within};
use crate::domain::anatomy::{Foot, Place, Side};
use crate::domain::event::{Detail, Event, Item, OpenGap, PauseWhy, PutDetail};
use crate::domain::finding::{Degree, Finding, Stage};
use crate::domain::herd::{
    Change, Charge, FarmFact, Herd, Labels, Leaving, MedicineUse, ProductKind, Scope, VisitWhy, VisitWord,
};
use crate::domain::ids::{AnimalId, CaseId, FarmId, PutId, RecordId, TurnId, VisitId};
use crate::domain::treatment::{Gait, Means, Measure, Off, OffBy, Outcome, Put, Relief, Sign, SkinState, Trim, Word};
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// One kind of record.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Kind {
    /// Number in the envelope.
    pub number: u16,
    /// Revision of its payload.
    pub revision: u8,
    /// Word in JSON.
    pub word: &'static str,
}

/// Number of the one kind that holds another event.
const CORRECTED: u16 = 92;

/// Whether a kind number is that of a correction.
pub fn is_correction(number: u16) -> bool {
    number == CORRECTED
}

/// The kind with this word and revision.
pub fn kind_called(word: &str, revision: u8) -> Result<&'static Kind, WireError> {
    ALL_KINDS
        .iter()
        .find(|kind| kind.word == word && kind.revision == revision)
        .ok_or_else(|| WireError::UnknownKindWord { word: plain(word), revision })
}

/// Writes the stored structs and the conversions from rows `number revision "word" => Event { field: type, ... }`.
macro_rules! kinds {
    ($($number:tt $revision:tt $word:literal => $event:ident { $($field:ident: $type:ty),+ $(,)? })+) => {
        $(
            #[derive(Serialize, Deserialize)]
            #[serde(deny_unknown_fields)]
            struct $event { $($field: <$type as Stored>::Kept,)+ }
        )+

        /// Every kind, in the order of the numbers.
        pub const ALL_KINDS: &[Kind] = &[$(Kind { number: $number, revision: $revision, word: $word },)+];

        /// The kind an event is written as.
        pub fn kind_of(event: &Event) -> &'static Kind {
            match event {
                $(Event::$event { .. } => &Kind { number: $number, revision: $revision, word: $word },)+
            }
        }

        /// Writes the payload of an event. Errors: a text or the whole too long, a correction inside a correction.
        pub fn write<F: Format>(event: &Event) -> Result<F::Written, WireError> {
            match event {
                $(Event::$event { $($field),+ } => {
                    F::write(&$event { $($field: within(stringify!($field), Stored::keep($field))?,)+ })
                })+
            }
        }

        /// Reads the payload of a kind and revision. Errors: a kind, revision or code that this program does not know.
        pub fn read<F: Format>(number: u16, revision: u8, payload: &F::Written) -> Result<Event, WireError> {
            match (number, revision) {
                $(($number, $revision) => {
                    let kept: $event = F::read(payload)?;
                    Ok(Event::$event { $($field: within(stringify!($field), Stored::restore(kept.$field))?,)+ })
                })+
                (kind, revision) => Err(WireError::UnknownKind { kind, revision }),
            }
        }
    };
}

kinds! {
    // ---- the practice
    1 1 "person-begun" => PersonBegun { name: String }
    2 1 "product-named" => ProductNamed { kind: ProductKind, name: String, words: String }
    3 1 "price-set" => PriceSet { charge: Charge, amount: String, currency: String, farm: Option<FarmId> }
    4 1 "rules-adopted" => RulesAdopted { farm: Option<FarmId>, text: String }

    // ---- farms
    10 1 "farm-begun" => FarmBegun { name: String }
    11 1 "farm-described" => FarmDescribed { farm: FarmId, fact: FarmFact, words: String }
    12 1 "farm-given-up" => FarmGivenUp { farm: FarmId, handed_to: String }
    13 1 "farm-changed" => FarmChanged { farm: FarmId, change: Change, words: String }
    14 1 "farm-called" => FarmCalled { farm: FarmId, words: String, urgent: bool, caller: String }
    15 1 "farm-rung" => FarmRung { farm: FarmId, answered: bool, who: String, words: String }
    16 1 "instructed" => Instructed {
        farm: FarmId,
        scope: Scope,
        text: String,
        asked_by: String,
        why: String,
        review_on: Option<NaiveDate>,
        vet: String,
    }
    17 1 "instruction-ended" => InstructionEnded { instruction: RecordId, why: String }
    18 1 "instruction-reviewed" => InstructionReviewed {
        instruction: RecordId,
        review_on: Option<NaiveDate>,
        words: String,
    }
    19 1 "contact-told" => ContactTold { farm: FarmId, name: String, does: String, phone: String, gone: bool }

    // ---- visits
    20 1 "visit-begun" => VisitBegun { farm: FarmId, why: VisitWhy }
    21 1 "visit-paused" => VisitPaused { visit: VisitId }
    22 1 "visit-closed" => VisitClosed { visit: VisitId }
    23 1 "counted" => Counted { visit: VisitId, count: u32, words: String }
    24 1 "visit-described" => VisitDescribed { visit: VisitId, word: VisitWord }

    // ---- animals
    30 1 "animal-begun" => AnimalBegun { farm: FarmId, labels: Labels }
    31 1 "renumbered" => Renumbered { animal: AnimalId, labels: Labels }
    32 1 "described" => Described { animal: AnimalId, herd: Herd }
    33 1 "left" => Left { animal: AnimalId, why: Leaving, words: String }
    34 1 "cull-said" => CullSaid { animal: AnimalId }
    35 1 "kicker" => Kicker { animal: AnimalId, kicks: bool }
    36 1 "claw-gone" => ClawGone { animal: AnimalId, foot: Foot, side: Side }
    37 1 "joined" => Joined { one: RecordId, other: RecordId }
    38 1 "parted" => Parted { joined: RecordId }
    39 1 "kept-apart" => KeptApart { one: RecordId, other: RecordId }

    // ---- turns
    40 1 "turn-begun" => TurnBegun { visit: VisitId, animal: AnimalId }
    41 1 "turn-paused" => TurnPaused { turn: TurnId, why: PauseWhy }
    42 1 "turn-resumed" => TurnResumed { turn: TurnId }
    43 1 "turn-signed" => TurnSigned { turn: TurnId, open: Vec<OpenGap> }
    44 1 "turn-reopened" => TurnReopened { turn: TurnId }
    45 1 "turn-moved" => TurnMoved { turn: TurnId, to: AnimalId }
    46 1 "looked" => Looked { turn: TurnId, foot: Foot, lifted: bool, trimmed: bool, all_seen: bool }
    47 1 "found" => Found { turn: TurnId, place: Place, what: Finding, degree: Degree, words: String }
    48 1 "detailed" => Detailed { of: CaseId, detail: Detail }
    49 1 "answered" => Answered { turn: TurnId, case: CaseId, outcome: Outcome }
    50 1 "staged" => Staged { turn: TurnId, case: CaseId, stage: Stage }
    51 1 "trimmed" => Trimmed { turn: TurnId, place: Place, how: Trim }
    52 1 "put-on" => PutOn {
        turn: Option<TurnId>,
        put: Put,
        off_by: Option<OffBy>,
        remover: String,
        by_others: String,
    }
    53 1 "put-detailed" => PutDetailed { put: PutId, detail: PutDetail }
    54 1 "seen-off" => SeenOff { turn: Option<TurnId>, item: Item, outcome: Off, skin: SkinState }
    55 1 "told-off" => ToldOff { item: PutId, by: String, means: Means, word: Word }
    56 1 "medicine-given" => MedicineGiven { turn: Option<TurnId>, medicine: Box<MedicineUse> }
    57 1 "pain-relief" => PainRelief { turn: TurnId, relief: Relief }
    58 1 "measured" => Measured { turn: TurnId, place: Place, what: Measure, mm: u16 }
    59 1 "walked" => Walked { turn: Option<TurnId>, gait: Gait }
    60 1 "sore" => Sore { turn: TurnId, place: Place }
    61 1 "noted" => Noted { turn: Option<TurnId>, place: Place, text: String }
    62 1 "vet-advised" => VetAdvised { turn: Option<TurnId>, place: Place, sign: Sign, words: String }
    63 1 "vet-answered" => VetAnswered { of: RecordId, words: String }
    64 1 "recheck-set" => RecheckSet { turn: Option<TurnId>, place: Place, on: NaiveDate, words: String }

    // ---- animals, once more
    70 1 "came-back" => CameBack { animal: AnimalId, words: String }

    // ---- records about records
    90 1 "undone" => Undone { press: RecordId }
    91 1 "redone" => Redone { undo: RecordId }
    92 1 "corrected" => Corrected { of: RecordId, to: Box<Event>, why: String }
}
