//! A record: an event with its name and envelope. The order of records is defined here and nowhere else.

use super::event::Event;
use super::ids::{PersonId, RecordId};
use chrono::{DateTime, FixedOffset, NaiveDate};

/// A moment of a local clock, kept with its offset, to the second. Orders nothing: clocks are wrong.
pub type Moment = DateTime<FixedOffset>;

/// One record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Record {
    /// Its name.
    pub id: RecordId,
    /// Logical counter: higher than that of every record its writer had seen.
    pub tick: u64,
    /// Number, in the same series, of the first record that the same key press wrote: undo takes the whole press back.
    pub press: u64,
    /// Whom it is about: an animal, a farm, or the practice. Decides with which records it is read again.
    pub about: RecordId,
    /// Who recorded it; none before anybody was named.
    pub by: Option<PersonId>,
    /// When the tablet's clock said it was written.
    pub written: Moment,
    /// The day it happened, said by a person.
    pub on: NaiveDate,
    /// What happened.
    pub body: Body,
}

/// What a record holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Body {
    /// An event this program knows.
    Known(Event),
    /// Written by a newer program: kept byte for byte, counted and shown.
    Newer {
        /// Kind number.
        kind: u16,
        /// Revision of the kind.
        revision: u8,
        /// Payload as it was.
        bytes: Box<[u8]>,
    },
}

/// No counter of a tablet gets this far: a million presses a second for a hundred thousand years.
pub const LAST_TICK: u64 = 1 << 62;

/// Order of facts: the day they happened, then logical counter, series, number.
pub type Order = (NaiveDate, u64, u64, u64);

impl Record {
    /// Where it stands among the facts of its animal.
    pub fn order(&self) -> Order {
        (self.on, self.tick, self.id.series, self.id.seq)
    }

    /// Name of the press that wrote it.
    pub fn press_id(&self) -> RecordId {
        RecordId { series: self.id.series, seq: self.press }
    }

    /// This record with a name of its own, beside another that was written under the same: see [`RecordId::told_apart`].
    pub fn told_apart(self, checksum: u32) -> Record {
        Record { id: self.id.told_apart(checksum), ..self }
    }

    /// The event, where this program knows it.
    pub fn event(&self) -> Option<&Event> {
        match &self.body {
            Body::Known(event) => Some(event),
            Body::Newer { .. } => None,
        }
    }
}

/// All that the next records need and a pure function cannot know.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stamp {
    /// Name of the next record.
    pub next: RecordId,
    /// Logical counter of the next press.
    pub tick: u64,
    /// Who records.
    pub by: Option<PersonId>,
    /// What the clock says.
    pub now: Moment,
    /// The day it happened.
    pub on: NaiveDate,
}

impl Stamp {
    /// Writes one press: each event about its subject. Ids are dense from `next`; all share one tick and one press.
    pub fn press(&self, facts: impl IntoIterator<Item = (RecordId, Event)>) -> Vec<Record> {
        facts
            .into_iter()
            .enumerate()
            .map(|(index, (about, event))| Record {
                id: RecordId { series: self.next.series, seq: self.next.seq + index as u64 },
                tick: self.tick,
                press: self.next.seq,
                about,
                by: self.by,
                written: self.now,
                on: self.on,
                body: Body::Known(event),
            })
            .collect()
    }
}
