//! An event inside a correction: kind, revision and bytes, so that the correction need not know its shape; words in JSON.

use super::error::WireError;
use super::format::{Binary, Json};
use super::revisions;
use super::stored::Stored;
use crate::domain::event::Event;
use serde::de::Error as _;
use serde::ser::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// The event a correction puts in place of another.
pub struct Nested {
    kind: u16,
    revision: u8,
    bytes: Vec<u8>,
}

/// The same in JSON.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Spelled {
    kind: String,
    revision: u8,
    fact: serde_json::Value,
}

impl Stored for Box<Event> {
    type Kept = Nested;
    fn keep(&self) -> Result<Nested, WireError> {
        if matches!(**self, Event::Corrected { .. }) {
            return Err(WireError::NestedCorrection);
        }
        let kind = revisions::kind_of(self);
        Ok(Nested { kind: kind.number, revision: kind.revision, bytes: revisions::write::<Binary>(self)? })
    }
    fn restore(kept: Nested) -> Result<Box<Event>, WireError> {
        kept.event().map(Box::new)
    }
}

impl Nested {
    fn event(&self) -> Result<Event, WireError> {
        if revisions::is_correction(self.kind) {
            return Err(WireError::NestedCorrection);
        }
        revisions::read::<Binary>(self.kind, self.revision, &self.bytes)
    }

    fn spelled(&self) -> Result<Spelled, WireError> {
        let event = self.event()?;
        let kind = revisions::kind_of(&event);
        Ok(Spelled { kind: kind.word.to_owned(), revision: kind.revision, fact: revisions::write::<Json>(&event)? })
    }
}

impl Spelled {
    fn nested(&self) -> Result<Nested, WireError> {
        let kind = revisions::kind_called(&self.kind, self.revision)?;
        if revisions::is_correction(kind.number) {
            return Err(WireError::NestedCorrection);
        }
        Box::new(revisions::read::<Json>(kind.number, kind.revision, &self.fact)?).keep()
    }
}

impl Serialize for Nested {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if serializer.is_human_readable() {
            return self.spelled().map_err(S::Error::custom)?.serialize(serializer);
        }
        (self.kind, self.revision, &self.bytes).serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for Nested {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Nested, D::Error> {
        if deserializer.is_human_readable() {
            return Spelled::deserialize(deserializer)?.nested().map_err(D::Error::custom);
        }
        let (kind, revision, bytes) = Deserialize::deserialize(deserializer)?;
        Ok(Nested { kind, revision, bytes })
    }
}
