//! Backups of a book: which of them are kept, and when it must be said that there is none that is new enough.

use chrono::{Datelike, NaiveDate};
use std::collections::{BTreeMap, BTreeSet};

/// What a backup is of: the day it was made, and how many records were in the book.
///
/// They are ordered by the count first. Records are never removed, so a book only grows, and the count tells which of two
/// backups of one book is newer also where a clock went back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Made {
    /// Records in it.
    pub count: u64,
    /// The day, as it was said to the program.
    pub on: NaiveDate,
}

/// How many of the newest are kept in any case.
pub const NEWEST: usize = 10;

/// Which of a book's backups are no longer needed: not among the newest [`NEWEST`], and not the newest of a month.
pub fn spare(made: &BTreeSet<Made>) -> BTreeSet<Made> {
    let older: Vec<Made> = made.iter().rev().skip(NEWEST).copied().collect();
    let mut of_month: BTreeMap<(i32, u32), Made> = BTreeMap::new();
    for one in &older {
        // From the newest on: whoever comes first in a month is its newest.
        of_month.entry((one.on.year(), one.on.month())).or_insert(*one);
    }
    older.into_iter().filter(|one| !of_month.values().any(|kept| kept == one)).collect()
}

/// After so many days without a backup it is said, unless the practice says otherwise. Common practice: a week's work is
/// what can still be typed up again from paper.
pub const DAYS: u16 = 7;

/// What a practice wants done about backups.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Backups {
    /// The folder they are made in; empty: none was named.
    pub folder: String,
    /// After so many days without one it is said.
    pub days: u16,
}

impl Default for Backups {
    fn default() -> Backups {
        Backups { folder: String::new(), days: DAYS }
    }
}

/// What is to be said about backups.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lag {
    /// There never was one.
    Never,
    /// The last one is of that day, and records came since.
    Since(NaiveDate),
}

/// Whether the last good backup is too old: `days` or more passed since, and the book holds more records now. A day in the
/// future, from a clock that was wrong, is as far away as one in the past.
pub fn lag(last: Option<Made>, count: u64, today: NaiveDate, days: u16) -> Option<Lag> {
    match last {
        None => (count > 0).then_some(Lag::Never),
        Some(last) if count <= last.count => None,
        Some(last) => {
            let passed = (today - last.on).num_days().unsigned_abs();
            (passed >= u64::from(days)).then_some(Lag::Since(last.on))
        }
    }
}
