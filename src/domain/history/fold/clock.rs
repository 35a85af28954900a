//! A tablet whose clock was set wrong: its facts keep their order, which no clock decides, and are told to be doubtful.

use super::super::{Doubt, DoubtWhat};
use crate::domain::ids::RecordId;
use crate::domain::record::{Moment, Record};
use chrono::TimeDelta;
use std::collections::BTreeMap;

/// Clocks are put right by a little every day; more than this backwards was a hand (common practice of clocks, no source).
const SLACK: TimeDelta = TimeDelta::minutes(2);

/// Records that were written before the record of the same tablet that came before them. Offsets do not count: a moment is
/// the same in summer time and in winter time.
pub(super) fn doubts(records: &[Record]) -> Vec<Doubt> {
    let mut written: BTreeMap<RecordId, Moment> = BTreeMap::new();
    // A number that was given to tell two records apart says nothing of what came before.
    for record in records.iter().filter(|record| record.id.written_as().is_none()) {
        written.insert(record.id, record.written);
    }
    let pairs = written.iter().zip(written.iter().skip(1));
    pairs
        .filter(|((before, earlier), (id, later))| before.series == id.series && **later < **earlier - SLACK)
        .map(|(_, (id, _))| Doubt { id: *id, what: DoubtWhat::Clock })
        .collect()
}
