//! What can be found in raw bytes, wherever they come from and whatever lies between: records and tallies, by their first
//! bytes and their checksums.

use super::bytes::Reader;
use super::envelope::{self, Raw};
use super::error::WireError;
use super::tally::{self, Run};
use crate::domain::ids::RecordId;

/// Nothing that is looked for is longer, bytes.
pub const LONGEST: usize = envelope::LIMIT;
/// The byte that every mark begins with. No text can hold one of the marks.
const FIRST: u8 = envelope::MAGIC[0];

/// Something found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Found {
    /// A whole record.
    Record(Raw),
    /// What begins like a record and is none: the name that stands there, which may be damaged too, and what is wrong.
    Damaged(Option<RecordId>, WireError),
    /// Which numbers a book held.
    Tally(Vec<Run>),
}

/// The next thing at or after a place: where it begins, what it is, and where to look on. Total on any bytes.
pub fn next(bytes: &[u8], from: usize) -> Option<(usize, Found, usize)> {
    let mut at = from;
    loop {
        at += bytes.get(at..)?.iter().position(|byte| *byte == FIRST)?;
        let rest = &bytes[at..];
        if rest.starts_with(&envelope::MAGIC) {
            return Some(match Raw::first(rest) {
                Ok((raw, length)) => (at, Found::Record(raw), at + length),
                Err(why) => (at, Found::Damaged(name(rest), why), at + 1),
            });
        }
        if let Ok((runs, length)) = tally::first(rest) {
            return Some((at, Found::Tally(runs), at + length));
        }
        at += 1;
    }
}

/// The name that stands where a record's name stands.
fn name(bytes: &[u8]) -> Option<RecordId> {
    let mut reader = Reader::new("a record", bytes);
    reader.array::<9>().ok()?;
    Some(RecordId { series: reader.u64().ok()?, seq: reader.u64().ok()? })
}
