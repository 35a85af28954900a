//! The days of an animal that cannot be so: born, calved or dried off on a day to come, before she was born, longer ago than cattle live;
//! due to calve later than any cow carries. Screens, sheets and herd lists refuse them alike; what is only odd is warned of
//! (`herd_list/doubt.rs`).

use super::herd::{Herd, Status};
use super::herd_list::column::Column;
use chrono::{Months, NaiveDate};
use std::fmt;

/// Days for which a cow carries at the longest. About 283 are common (extension.org, "How long does a cow's pregnancy last?"); breeds
/// differ from 279 to 292, and within a breed it is up to twelve days more or fewer (R. Torell, Nevada Extension, "Gestation length of
/// the beef cow"): 292 + 12. Whoever is due later than that is not in calf yet.
pub const LONGEST_CARRIED: i64 = 304;
/// Years that no animal reaches: the oldest cow that is known was 48 (from memory).
const OLDEST: u32 = 50;

/// Why a day of hers cannot be so.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum NoDay {
    /// It is still to come.
    ToCome,
    /// She is due to calve after so many days.
    TooLong(i64),
    /// It is longer ago than cattle live.
    TooOld,
    /// She was born on that day, which is after it.
    BeforeBirth(NaiveDate),
    /// She is to be born after that happened to her.
    After(Column, NaiveDate),
}

impl NoDay {
    /// What to do about it.
    pub fn instead(self) -> &'static str {
        match self {
            NoDay::ToCome | NoDay::TooLong(_) | NoDay::TooOld => "look at the year",
            NoDay::BeforeBirth(_) | NoDay::After(_, _) => "look at both days",
        }
    }

    /// What is wrong with it.
    pub fn what(self) -> String {
        match self {
            NoDay::ToCome => "that day is still to come".to_owned(),
            NoDay::TooLong(days) => format!("that is in {days} days, and no cow carries longer than {LONGEST_CARRIED}"),
            NoDay::TooOld => "that is longer ago than cattle live".to_owned(),
            NoDay::BeforeBirth(born) => format!("she was born on {}", said(born)),
            NoDay::After(Column::DryFrom, day) => format!("she was dried off on {}, before that", said(day)),
            NoDay::After(_, day) => format!("she calved on {}, before that", said(day)),
        }
    }
}

impl fmt::Display for NoDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.what(), self.instead())
    }
}

fn said(day: NaiveDate) -> String {
    day.format("%-d %b %Y").to_string()
}

/// What of the days that are told on a day cannot be so, by all that is known of her; in the order of the columns.
pub fn wrong(told: &Herd, known: &Herd, on: NaiveDate) -> Vec<(Column, NoDay)> {
    let mut now = known.clone();
    now.hear(told);
    let days = [
        (Column::Born, told.born),
        (Column::Calved, told.calved),
        (Column::DryFrom, told.dry_from),
        (Column::DueToCalve, told.due_to_calve),
    ];
    let each = |(column, day): (Column, Option<NaiveDate>)| {
        let why = |check: Check| Some((column, check(column, day?, &now, on)?));
        CHECKS.iter().filter_map(|check| why(*check)).collect::<Vec<_>>()
    };
    days.into_iter().flat_map(each).collect()
}

/// What is wrong with a day that was told in this column, by all that is known with it.
type Check = fn(Column, NaiveDate, &Herd, NaiveDate) -> Option<NoDay>;

/// The one table.
const CHECKS: [Check; 5] = [to_come, too_long, too_old, before_birth, born_after];

/// That she is to be dried off may be planned; that she is dry may not.
fn to_come(column: Column, day: NaiveDate, now: &Herd, on: NaiveDate) -> Option<NoDay> {
    let is_dry = column == Column::DryFrom && now.status == Some(Status::Dry);
    let has_been = is_dry || matches!(column, Column::Born | Column::Calved);
    (has_been && day > on).then_some(NoDay::ToCome)
}

fn too_long(column: Column, day: NaiveDate, _: &Herd, on: NaiveDate) -> Option<NoDay> {
    let days = (day - on).num_days();
    (column == Column::DueToCalve && days > LONGEST_CARRIED).then_some(NoDay::TooLong(days))
}

fn too_old(_: Column, day: NaiveDate, _: &Herd, on: NaiveDate) -> Option<NoDay> {
    let oldest = on.checked_sub_months(Months::new(12 * OLDEST));
    oldest.is_some_and(|oldest| day < oldest).then_some(NoDay::TooOld)
}

fn before_birth(column: Column, day: NaiveDate, now: &Herd, _: NaiveDate) -> Option<NoDay> {
    now.born.filter(|born| column != Column::Born && day < *born).map(NoDay::BeforeBirth)
}

fn born_after(column: Column, day: NaiveDate, now: &Herd, _: NaiveDate) -> Option<NoDay> {
    let later = [(Column::Calved, now.calved), (Column::DryFrom, now.dry_from)];
    let after = later.into_iter().find_map(|(of, on)| Some(NoDay::After(of, on.filter(|on| *on < day)?)));
    after.filter(|_| column == Column::Born)
}
