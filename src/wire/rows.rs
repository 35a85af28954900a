//! Derived rows: what a list shows without reading a record. Facts only; they can always be made again from the
//! records.
//!
//! Each row is the layout number of its table, the payload, and a CRC-32 of both, since the file below checks nothing
//! when it is read. A changed row struct gets a new layout number, and the book makes its rows again.

use super::codec;
use super::error::WireError;
use super::stored::{Code, Stored, record, sum, the_one, within};
use crate::domain::anatomy::Place;
use crate::domain::contact::Contact;
use crate::domain::finding::{Degree, Finding};
use crate::domain::herd::{FarmFact, Labels, Leaving, Scope, Status};
use crate::domain::history::TurnState;
use crate::domain::history::course::{Carried, Kept};
use crate::domain::history::open::{Knowing, Open, OpenItem};
use crate::domain::ids::{AnimalId, CaseId, FarmId, PutId, RecordId, TurnId, VisitId};
use crate::domain::instruction::Instruction;
use crate::domain::treatment::{Gait, OffBy, Put, Sign};
use crate::domain::vocabulary::vocabulary;
use crate::domain::withdrawal::Stated;
use chrono::NaiveDate;

/// Layout of the rows of open items.
pub const OPEN_LAYOUT: u8 = 4;
/// Layout of the rows of labels.
pub const LABEL_LAYOUT: u8 = 1;
/// Layout of the rows of farms. 2: a farm joined into another keeps its own name; 3: standing instructions; 4:
/// visits to go on with; 5: contacts.
pub const FARM_LAYOUT: u8 = 5;
/// Layout of the rows of days.
pub const DAY_LAYOUT: u8 = 1;

/// One set of labels an animal has or had, with what a list shows of her.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LabelRow {
    /// The record that began the animal with these labels.
    pub animal: AnimalId,
    /// The smallest of the ids that stand for her.
    pub of: AnimalId,
    /// Her farm.
    pub farm: FarmId,
    /// The labels.
    pub labels: Labels,
    /// Whether she has them now; false: an earlier number that still finds her.
    pub current: bool,
    /// How she left, if she did.
    pub left: Option<Leaving>,
    /// In milk, dry, heifer.
    pub status: Option<Status>,
    /// How many records she has in all, so that a missing page can be told.
    pub count: u64,
}

/// What a list shows of a farm.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FarmRow {
    /// The record that began it.
    pub farm: FarmId,
    /// Its name.
    pub name: String,
    /// The newest word on each fact told.
    pub facts: Vec<(FarmFact, String)>,
    /// To whom it was handed, if it was given up and not visited since.
    pub given_up: Option<String>,
    /// The farm it was joined into.
    pub joined_into: Option<FarmId>,
    /// The standing instructions that hold; of farms that were joined they stand with the first.
    pub instructions: Vec<Instruction>,
    /// Its people; of farms that were joined they stand with the first.
    pub contacts: Vec<Contact>,
    /// The last day on which a visit that is under way began or went on.
    pub going: Option<NaiveDate>,
    /// The last day on which a visit was set aside that has not gone on since.
    pub aside: Option<NaiveDate>,
    /// How many records it has in all.
    pub count: u64,
}

/// What the list of a day shows of one turn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DayRow {
    /// Farm.
    pub farm: FarmId,
    /// Visit.
    pub visit: VisitId,
    /// Animal.
    pub animal: AnimalId,
    /// Turn.
    pub turn: TurnId,
    /// Day.
    pub on: NaiveDate,
    /// Where the turn stands.
    pub state: TurnState,
    /// How many findings; 255 stands for more.
    pub found: u8,
}

record! { LabelRow as LabelRowKept {
    animal: AnimalId,
    of: AnimalId,
    farm: FarmId,
    labels: Labels,
    current: bool,
    left: Option<Leaving>,
    status: Option<Status>,
    count: u64,
} }

record! { FarmRow as FarmRowKept {
    farm: FarmId,
    name: String,
    facts: Vec<(FarmFact, String)>,
    given_up: Option<String>,
    joined_into: Option<FarmId>,
    instructions: Vec<Instruction>,
    contacts: Vec<Contact>,
    going: Option<NaiveDate>,
    aside: Option<NaiveDate>,
    count: u64,
} }

record! { Instruction as InstructionKept {
    id: RecordId,
    since: NaiveDate,
    scope: Scope,
    text: String,
    asked_by: String,
    why: String,
    review_on: Option<NaiveDate>,
    vet: String,
    reviewed: Option<NaiveDate>,
} }

record! { Contact as ContactKept {
    name: String,
    does: String,
    phone: String,
} }

record! { DayRow as DayRowKept {
    farm: FarmId,
    visit: VisitId,
    animal: AnimalId,
    turn: TurnId,
    on: NaiveDate,
    state: TurnState,
    found: u8,
} }

record! { Open as OpenKept {
    animal: AnimalId,
    farm: FarmId,
    labels: Labels,
    status: Option<Status>,
    left: Option<(Leaving, NaiveDate)>,
    items: Vec<OpenItem>,
} }

record! { Stated as StatedKept {
    product: String,
    milk_days: Option<u16>,
    meat_days: Option<u16>,
    by: String,
} }

sum! { OpenItem as OpenItemKept {
    on: On as OnKept {
        put: PutId,
        what: Put,
        since: NaiveDate,
        off_by: Option<OffBy>,
        remover: String,
        seen_on: Option<NaiveDate>,
        knowing: Knowing,
        told: Option<(String, NaiveDate)>,
        trouble: Option<NaiveDate>,
    },
    look_soon: LookSoon as LookSoonKept { of: RecordId, place: Place, since: NaiveDate },
    recheck: Recheck as RecheckKept {
        case: CaseId,
        place: Place,
        told: Carried,
        last: NaiveDate,
    },
    set_by_hand: SetByHand as SetByHandKept { of: RecordId, place: Place, on: NaiveDate, words: String },
    lame: Lame as LameKept {
        of: RecordId,
        since: NaiveDate,
        last: NaiveDate,
        gait: Gait,
        severe_since: Option<NaiveDate>,
        looked: bool,
        sound: bool,
    },
    withheld: Withheld as WithheldKept { of: RecordId, place: Place, used: NaiveDate, stated: Stated, counts: bool },
    vet: Vet as VetKept { of: RecordId, place: Place, sign: Sign, since: NaiveDate, words: String },
} }

record! { Carried as CarriedKept {
    what: Kept<Finding>,
    degree: Kept<Degree>,
    infected: Kept<bool>,
    deep: Kept<bool>,
} }

impl<T: Stored + Copy> Stored for Kept<T> {
    type Kept = <(T, u16) as Stored>::Kept;
    fn keep(&self) -> Result<Self::Kept, WireError> {
        (self.word, self.unseen).keep()
    }
    fn restore(kept: Self::Kept) -> Result<Kept<T>, WireError> {
        let (word, unseen) = <(T, u16)>::restore(kept)?;
        Ok(Kept { word, unseen })
    }
}

vocabulary! {
    /// Number of a turn's state in a row.
    StateCode, "turn state" {
        /// Under way.
        Open = 1 "open",
        /// Broken off.
        Paused = 2 "paused",
        /// Signed off.
        Signed = 3 "signed",
    }
}

impl Stored for TurnState {
    type Kept = Code<StateCode>;
    fn keep(&self) -> Result<Code<StateCode>, WireError> {
        match self {
            TurnState::Open => StateCode::Open,
            TurnState::Paused => StateCode::Paused,
            TurnState::Signed => StateCode::Signed,
        }
        .keep()
    }
    fn restore(kept: Code<StateCode>) -> Result<TurnState, WireError> {
        Ok(match StateCode::restore(kept)? {
            StateCode::Open => TurnState::Open,
            StateCode::Paused => TurnState::Paused,
            StateCode::Signed => TurnState::Signed,
        })
    }
}

macro_rules! rows {
    ($($row:ident $table:literal $layout:ident $encode:ident $decode:ident)+) => {$(
        #[doc = concat!("Writes a row of ", $table, ". Errors: a text or the whole too long.")]
        pub fn $encode(row: &$row) -> Result<Box<[u8]>, WireError> {
            encode($layout, row)
        }
        #[doc = concat!("Reads a row of ", $table, ". Errors: another layout, a damaged row. Total on any bytes.")]
        pub fn $decode(bytes: &[u8]) -> Result<$row, WireError> {
            decode($table, $layout, bytes)
        }
    )+};
}

rows! {
    Open "open items" OPEN_LAYOUT encode_open decode_open
    LabelRow "labels" LABEL_LAYOUT encode_label decode_label
    FarmRow "farms" FARM_LAYOUT encode_farm decode_farm
    DayRow "days" DAY_LAYOUT encode_day decode_day
}

fn encode<T: Stored>(layout: u8, row: &T) -> Result<Box<[u8]>, WireError> {
    let mut bytes = vec![layout];
    bytes.extend(codec::write(&row.keep()?)?);
    bytes.extend(crc32fast::hash(&bytes).to_le_bytes());
    Ok(bytes.into())
}

fn decode<T: Stored>(table: &'static str, layout: u8, bytes: &[u8]) -> Result<T, WireError> {
    let short = WireError::TooShort { what: "a row", have: bytes.len(), need: 5 };
    let (body, crc) = bytes.split_last_chunk().ok_or(short.clone())?;
    let (said, payload) = body.split_first().ok_or(short)?;
    let (said_crc, found) = (u32::from_le_bytes(*crc), crc32fast::hash(body));
    if said_crc != found {
        return Err(WireError::BadChecksum { what: "a row", said: said_crc, found });
    }
    if *said != layout {
        return Err(WireError::OtherLayout { table, said: *said, wanted: layout });
    }
    T::restore(codec::read(payload)?)
}
