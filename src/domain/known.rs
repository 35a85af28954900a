//! What was known on a day: for whoever types up paper late, and for lists of a day gone by.

use super::event::Event;
use super::record::Record;
use chrono::NaiveDate;

/// The records as they were known at the end of that day: what was said of later days is left out, what sets a record right or takes it
/// back counts whenever it was said.
pub fn as_of(records: &[Record], day: NaiveDate) -> Vec<Record> {
    let sets_right = |record: &Record| {
        record.event().is_some_and(|event| event.is_about_records() || matches!(event, Event::KeptApart { .. }))
    };
    records.iter().filter(|record| record.on <= day || sets_right(record)).cloned().collect()
}
