//! What the lists hold: rows of facts that a fold of one group's records gives, and how each is keyed.
//!
//! Nothing here is truth. The same records give the same rows, in whatever order they came.

use super::farm;
use super::shelf::Group;
use super::tables::{ByteTable, DAY, FARM, ID, LABEL, LISTS, OPEN, day_bytes, id_bytes, label_text};
use crate::domain::disagreement;
use crate::domain::herd::Labels;
use crate::domain::history::History;
use crate::domain::history::open::Open;
use crate::domain::history::standing::Standing;
use crate::domain::ids::{AnimalId, FarmId, RecordId};
use crate::domain::record::Record;
use crate::wire::error::WireError;
use crate::wire::rows::{self, DayRow, FarmRow, LabelRow};
use std::collections::BTreeSet;

/// A row of one list.
pub trait Row: Sized {
    /// Number of its list in [`LISTS`].
    const LIST: u8;
    /// Its table.
    const TABLE: ByteTable;
    /// Its key, which ends with the subject.
    fn key(&self) -> Vec<u8>;
    /// Whom it is about.
    fn subject(&self) -> RecordId;
    /// Puts it under the farm that its own was joined into.
    fn move_to(&mut self, into: impl Fn(FarmId) -> FarmId);
    /// Its bytes; none when they would be more than a row may have. Such a row is written empty, and folded afresh each
    /// time it is read.
    fn encode(&self) -> Result<Box<[u8]>, WireError>;
    /// The row of this key and these bytes.
    fn decode(key: &[u8], bytes: &[u8]) -> Result<Self, WireError>;
    /// Rows of this list among all that a group gives.
    fn pick(derived: Derived) -> Vec<Self>;
}

/// One text that an animal is or was called by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// The text as it is looked up; empty for an animal without any.
    pub text: String,
    /// The animal.
    pub row: LabelRow,
}

/// An animal of a group, for whoever asks what a taking-in did.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Folded {
    /// Every id that stands for her, smallest first.
    pub ids: Vec<AnimalId>,
    /// Her farm; the practice's own id where no record says so.
    pub farm: FarmId,
    /// Whether two tablets disagree about her, and nobody has looked since.
    pub differs: bool,
}

/// All rows that one group's records give.
#[derive(Debug, Default)]
pub struct Derived {
    /// Its animals, each once.
    pub animals: Vec<Folded>,
    /// Labels, old ones too.
    pub labels: Vec<Label>,
    /// Open items.
    pub open: Vec<Open>,
    /// Farms.
    pub farms: Vec<FarmRow>,
    /// Turns by day.
    pub days: Vec<DayRow>,
}

/// A row as it is written: number of its list, whom it is about, key, value.
pub type Written = (u8, RecordId, Vec<u8>, Box<[u8]>);

impl Derived {
    /// Folds a group.
    pub fn of(group: &Group) -> Derived {
        let (records, _) = group.records();
        let standing = Standing::of(records.clone());
        let mut derived = Derived::default();
        for &subject in &group.subjects {
            if subject == RecordId::PRACTICE {
                continue;
            }
            let is_farm = farm::is_farm(subject, &records);
            if is_farm {
                derived.farms.extend(farm::fold(&records, &standing, FarmId(subject)));
            }
            // Under one name one tablet may have begun a farm and another an animal.
            if !is_farm || group.doubled.contains(&subject) {
                derived.animal(subject, &records);
            }
        }
        derived
    }

    /// Adds the rows of one animal. Of several that were joined only the first has rows.
    fn animal(&mut self, subject: RecordId, records: &[Record]) {
        let history = History::of(records.to_vec(), AnimalId(subject));
        let first = history.animals.first().map_or(subject, |animal| animal.0);
        if first != subject {
            return;
        }
        let animal = AnimalId(subject);
        let differs = disagreement::of(&history).iter().any(|differ| !differ.settled);
        // A fact about an animal whose beginning has not come yet, or cannot be read, must still show.
        let farm = history.farm.unwrap_or(FarmId(RecordId::PRACTICE));
        self.animals.push(Folded { ids: history.animals.clone(), farm, differs });
        let label = |labels, current| LabelRow {
            animal,
            of: animal,
            farm,
            labels,
            current,
            left: history.left.map(|(how, _)| how),
            status: history.herd.status,
            count: history.count,
        };
        let mut labels = Vec::new();
        if history.farm.is_some() {
            labels.extend(
                texts(&history.labels, true)
                    .into_iter()
                    .map(|text| Label { text, row: label(history.labels.clone(), true) }),
            );
        }
        for (_, earlier) in history.earlier.iter().rev() {
            for text in texts(earlier, false) {
                if !labels.iter().any(|label| label.text == text) {
                    labels.push(Label { text, row: label(earlier.clone(), false) });
                }
            }
        }
        self.labels.extend(labels);
        self.days.extend(history.turns.iter().map(|turn| DayRow {
            farm,
            visit: turn.visit,
            animal,
            turn: turn.id,
            on: turn.on,
            state: turn.state,
            found: u8::try_from(turn.found.len()).unwrap_or(u8::MAX),
        }));
        if !history.open.is_empty() {
            self.open.push(Open {
                animal,
                farm,
                labels: history.labels,
                status: history.herd.status,
                left: history.left,
                items: history.open,
            });
        }
    }

    /// Every row as it is written.
    pub fn written(&self) -> Vec<Written> {
        fn all<R: Row>(rows: &[R]) -> impl Iterator<Item = Written> + '_ {
            rows.iter().map(|row| (R::LIST, row.subject(), row.key(), row.encode().unwrap_or_default()))
        }
        all(&self.labels).chain(all(&self.open)).chain(all(&self.farms)).chain(all(&self.days)).collect()
    }

    /// Adds what another group gives.
    pub fn extend(&mut self, other: Derived) {
        self.animals.extend(other.animals);
        self.labels.extend(other.labels);
        self.open.extend(other.open);
        self.farms.extend(other.farms);
        self.days.extend(other.days);
    }
}

/// What these labels are looked up by. Whoever has none now is still listed, under no text.
fn texts(labels: &Labels, listed: bool) -> BTreeSet<String> {
    let all = [&labels.number, &labels.tag, &labels.electronic, &labels.name];
    let mut texts: BTreeSet<String> = all.into_iter().map(|text| label_text(text)).collect();
    if !listed || texts.len() > 1 {
        texts.remove("");
    }
    texts
}

/// Name and table of a list, by its number.
pub fn list(number: u8) -> Option<(&'static str, ByteTable)> {
    LISTS.iter().find(|list| list.1 == number).map(|list| (list.0, list.2))
}

impl Row for Open {
    const LIST: u8 = 2;
    const TABLE: ByteTable = OPEN;
    fn key(&self) -> Vec<u8> {
        [id_bytes(self.farm.0), id_bytes(self.animal.0)].concat()
    }
    fn subject(&self) -> RecordId {
        self.animal.0
    }
    fn move_to(&mut self, into: impl Fn(FarmId) -> FarmId) {
        self.farm = into(self.farm);
    }
    fn encode(&self) -> Result<Box<[u8]>, WireError> {
        rows::encode_open(self)
    }
    fn decode(_: &[u8], bytes: &[u8]) -> Result<Open, WireError> {
        rows::decode_open(bytes)
    }
    fn pick(derived: Derived) -> Vec<Open> {
        derived.open
    }
}

impl Row for Label {
    const LIST: u8 = 1;
    const TABLE: ByteTable = LABEL;
    fn key(&self) -> Vec<u8> {
        let (farm, animal) = (id_bytes(self.row.farm.0), id_bytes(self.row.animal.0));
        [&farm, self.text.as_bytes(), &[0], &animal].concat()
    }
    fn subject(&self) -> RecordId {
        self.row.animal.0
    }
    fn move_to(&mut self, into: impl Fn(FarmId) -> FarmId) {
        self.row.farm = into(self.row.farm);
    }
    fn encode(&self) -> Result<Box<[u8]>, WireError> {
        rows::encode_label(&self.row)
    }
    fn decode(key: &[u8], bytes: &[u8]) -> Result<Label, WireError> {
        let text = key.get(ID..key.len().saturating_sub(ID + 1)).unwrap_or_default();
        Ok(Label { text: String::from_utf8_lossy(text).into_owned(), row: rows::decode_label(bytes)? })
    }
    fn pick(derived: Derived) -> Vec<Label> {
        derived.labels
    }
}

impl Row for FarmRow {
    const LIST: u8 = 3;
    const TABLE: ByteTable = FARM;
    fn key(&self) -> Vec<u8> {
        id_bytes(self.farm.0).to_vec()
    }
    fn subject(&self) -> RecordId {
        self.farm.0
    }
    fn move_to(&mut self, _: impl Fn(FarmId) -> FarmId) {}
    fn encode(&self) -> Result<Box<[u8]>, WireError> {
        rows::encode_farm(self)
    }
    fn decode(_: &[u8], bytes: &[u8]) -> Result<FarmRow, WireError> {
        rows::decode_farm(bytes)
    }
    fn pick(derived: Derived) -> Vec<FarmRow> {
        derived.farms
    }
}

impl Row for DayRow {
    const LIST: u8 = 4;
    const TABLE: ByteTable = DAY;
    fn key(&self) -> Vec<u8> {
        let farm = id_bytes(self.farm.0);
        [&farm, day_bytes(self.on).as_slice(), &id_bytes(self.turn.0), &id_bytes(self.animal.0)].concat()
    }
    fn subject(&self) -> RecordId {
        self.animal.0
    }
    fn move_to(&mut self, into: impl Fn(FarmId) -> FarmId) {
        self.farm = into(self.farm);
    }
    fn encode(&self) -> Result<Box<[u8]>, WireError> {
        rows::encode_day(self)
    }
    fn decode(_: &[u8], bytes: &[u8]) -> Result<DayRow, WireError> {
        rows::decode_day(bytes)
    }
    fn pick(derived: Derived) -> Vec<DayRow> {
        derived.days
    }
}
