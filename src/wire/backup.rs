//! What a backup's file is called: the day, how many records, and the series of the book it is of, so that backups of
//! several books lie in one folder and nobody's farm is named. `crushbook-2026-05-14-000004632-7c159e3779b97f4a.redb`

use crate::domain::backup::Made;
use chrono::NaiveDate;

const BEGIN: &str = "crushbook-";
/// Of a whole backup.
const WHOLE: &str = ".redb";
/// Of one whose book does not check: never taken for a good one, and never deleted.
const DAMAGED: &str = "-damaged.redb";
/// Of one that is being written, or whose writing broke off.
const UNFINISHED: &str = ".unfinished";

/// Name of a good backup.
pub fn name(made: Made, series: u64) -> String {
    format!("{BEGIN}{}{WHOLE}", stem(made, series))
}

/// Name of a backup of a book that does not check.
pub fn damaged(made: Made, series: u64) -> String {
    format!("{BEGIN}{}{DAMAGED}", stem(made, series))
}

/// Name of whatever this book is writing.
pub fn unfinished(series: u64) -> String {
    format!("{BEGIN}{series:016x}{UNFINISHED}")
}

fn stem(made: Made, series: u64) -> String {
    format!("{}-{:09}-{series:016x}", made.on.format("%Y-%m-%d"), made.count)
}

/// What a file is a good backup of, by its name: what, and the series of the book. None for every other name; whatever is
/// read prints the same name.
pub fn read_name(text: &str) -> Option<(Made, u64)> {
    let stem = text.strip_prefix(BEGIN)?.strip_suffix(WHOLE)?;
    let (rest, series) = stem.rsplit_once('-')?;
    let (day, count) = rest.rsplit_once('-')?;
    let on = NaiveDate::parse_from_str(day, "%Y-%m-%d").ok()?;
    let made = Made { count: count.parse().ok()?, on };
    let series = u64::from_str_radix(series, 16).ok()?;
    (name(made, series) == text).then_some((made, series))
}
