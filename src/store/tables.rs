//! The tables of both files, their numbers, and how keys are laid down in bytes.
//!
//! | file | table | key | value | |
//! | --- | --- | --- | --- | --- |
//! | hand | LOG | series, number | envelope | truth until packed |
//! | hand | DRAFT | 0; 1 | half-typed text; the number that is due | |
//! | book | PAGE | series, first number | page of whole envelopes | truth |
//! | book | FORK | series, number, CRC | envelope: other bytes of a name | truth |
//! | book | META | see [`meta`] | little-endian numbers | truth |
//! | book | PAGE_OF | subject, page | first and last day | derived |
//! | book | ROWS_OF | subject | record count, keys of its rows below | derived |
//! | book | LABEL | farm, label text, 0, animal | label row | derived |
//! | book | OPEN | farm, animal | open items | derived |
//! | book | FARM | farm | farm row | derived |
//! | book | DAY | farm, day, turn, animal | turn of a day | derived |
//!
//! Keys of derived tables are big-endian bytes, so that their order is that of what they mean, and end with the subject
//! that the row is about.

use crate::domain::backup::Made;
use crate::domain::ids::RecordId;
use crate::wire::rows;
use chrono::{Datelike, NaiveDate};
use redb::TableDefinition;

/// A derived table.
pub type ByteTable = TableDefinition<'static, &'static [u8], &'static [u8]>;

/// Pages, by series and first number.
pub const PAGE: TableDefinition<(u64, u64), &[u8]> = TableDefinition::new("page");
/// Other bytes of a name, by series, number and CRC.
pub const FORK: TableDefinition<(u64, u64, u32), &[u8]> = TableDefinition::new("fork");
/// Facts about the book itself.
pub const META: TableDefinition<u16, &[u8]> = TableDefinition::new("meta");
/// Which pages hold records about a subject.
pub const PAGE_OF: ByteTable = TableDefinition::new("page-of");
/// Which rows a subject has in the tables below, and how many records.
pub const ROWS_OF: ByteTable = TableDefinition::new("rows-of");
/// Key presses not packed yet, by series and number.
pub const LOG: TableDefinition<(u64, u64), &[u8]> = TableDefinition::new("log");
/// Half-typed text, and the number that is due.
pub const DRAFT: TableDefinition<u8, &[u8]> = TableDefinition::new("draft");

/// Keys of META.
pub mod meta {
    /// What the file is: [`super::MARK`].
    pub const MARK: u16 = 0;
    /// Layout number of the book, u32.
    pub const LAYOUT: u16 = 1;
    /// Own series, u64.
    pub const SERIES: u16 = 2;
    /// Runs held of each series.
    pub const RUNS: u16 = 3;
    /// Highest tick of any record held, u64.
    pub const TICK: u16 = 4;
    /// Layout numbers of the lists: [`super::lists_layout`].
    pub const LISTS: u16 = 5;
    /// Which file this was when its series was begun, as the file system tells files apart.
    pub const FILE: u16 = 6;
    /// 1 while a hand lies beside the book.
    pub const OUT: u16 = 7;
    /// The runs once more, as a [`crate::wire::tally`]: read by a rescue only, which finds it in the bytes of the file.
    pub const TALLY: u16 = 8;
    /// The last good backup: day (i32, 1 January of year 1 is day 1), records in it (u64).
    pub const BACKUP: u16 = 9;
    /// What is known of takings-in that ended before their commit: [`super::Taking`]; no row for never.
    pub const TAKING: u16 = 10;
}

/// What a book knows of takings-in that ended before their commit. What one of them had written by then lies in the bytes of
/// the file and is no part of the book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Taking {
    /// There was none.
    #[default]
    Whole,
    /// One has begun. Whoever opens the book and reads this knows that it ended too soon.
    UnderWay,
    /// One ended too soon, once.
    BrokeOff,
}

impl Taking {
    /// Its row in META.
    pub fn row(self) -> Option<u8> {
        match self {
            Taking::Whole => None,
            Taking::UnderWay => Some(1),
            Taking::BrokeOff => Some(2),
        }
    }

    /// What a row says; what it does not say in our words is taken for the more careful one.
    pub fn of(row: Option<&[u8]>) -> Taking {
        match row {
            None | Some([0]) => Taking::Whole,
            Some([2]) => Taking::BrokeOff,
            Some(_) => Taking::UnderWay,
        }
    }
}

/// The tables whose keys and values are bytes: the derived ones.
pub const DERIVED: [ByteTable; 6] = [PAGE_OF, ROWS_OF, LABEL, OPEN, FARM, DAY];

/// What a book says it is.
pub const MARK: &[u8] = b"crushbook";
/// Layout number of the truth: PAGE, FORK, META.
pub const LAYOUT: u32 = 1;

/// The lists: name, number in ROWS_OF, table.
pub const LISTS: [(&str, u8, ByteTable); 4] =
    [("label", 1, LABEL), ("open", 2, OPEN), ("farm", 3, FARM), ("day", 4, DAY)];
/// Layout of the keys of derived tables, and of PAGE_OF and ROWS_OF. 2: records that share a name are told apart. 3: an answer
/// that another tablet disputes ends no case.
const KEYS_LAYOUT: u8 = 3;

/// Layout number of each derived table. A book whose lists bear other numbers makes them again when it is opened.
pub fn lists_layout() -> [u8; 5] {
    [KEYS_LAYOUT, rows::LABEL_LAYOUT, rows::OPEN_LAYOUT, rows::FARM_LAYOUT, rows::DAY_LAYOUT]
}

/// Labels of animals.
pub const LABEL: ByteTable = TableDefinition::new("label");
/// Open items.
pub const OPEN: ByteTable = TableDefinition::new("open");
/// Farms.
pub const FARM: ByteTable = TableDefinition::new("farm");
/// Turns by farm and day.
pub const DAY: ByteTable = TableDefinition::new("day");

/// Length of a name in a key, bytes.
pub const ID: usize = 16;

/// A name, big-endian.
pub fn id_bytes(id: RecordId) -> [u8; ID] {
    let mut bytes = [0; ID];
    bytes[..8].copy_from_slice(&id.series.to_be_bytes());
    bytes[8..].copy_from_slice(&id.seq.to_be_bytes());
    bytes
}

/// The name that a key ends with; none where the key is too short to be one of ours.
pub fn last_id(key: &[u8]) -> Option<RecordId> {
    let (series, seq) = key.last_chunk::<ID>()?.split_at(8);
    Some(RecordId {
        series: u64::from_be_bytes(series.try_into().ok()?),
        seq: u64::from_be_bytes(seq.try_into().ok()?),
    })
}

/// A day, big-endian and in the order of days.
pub fn day_bytes(day: NaiveDate) -> [u8; 4] {
    (day.num_days_from_ce() ^ i32::MIN).to_be_bytes()
}

/// A label as it is looked up: case and blanks around it do not count, and nothing that would break a key is in it.
pub fn label_text(text: &str) -> String {
    text.trim().chars().filter(|c| !c.is_control()).flat_map(char::to_lowercase).collect()
}

/// Bytes of what META says of the last good backup.
pub fn backup_bytes(made: Made) -> [u8; 12] {
    let mut bytes = [0; 12];
    bytes[..4].copy_from_slice(&made.on.num_days_from_ce().to_le_bytes());
    bytes[4..].copy_from_slice(&made.count.to_le_bytes());
    bytes
}

/// The last good backup out of META; none where the bytes are not one.
pub fn backup(bytes: &[u8]) -> Option<Made> {
    let (day, count) = bytes.split_first_chunk::<4>()?;
    let on = NaiveDate::from_num_days_from_ce_opt(i32::from_le_bytes(*day))?;
    Some(Made { count: number(count)?, on })
}

/// Layout of the book and of its lists, in figures: `1-2.2.1.1.1`.
pub fn layout_words() -> String {
    let lists: Vec<String> = lists_layout().iter().map(u8::to_string).collect();
    format!("{LAYOUT}-{}", lists.join("."))
}

/// A u64 out of META; none where it is not one.
pub fn number(bytes: &[u8]) -> Option<u64> {
    bytes.try_into().ok().map(u64::from_le_bytes)
}
