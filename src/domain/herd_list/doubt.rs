//! What is doubtful about a line though it can be meant so: a tag whose check digit does not fit, an electronic number
//! that no maker gives, a day that is still to come. Warned of, never refused.

use super::Row;
use super::column::Column;
use crate::domain::her_days::{NoDay, wrong};
use crate::domain::herd::Herd;
use chrono::NaiveDate;

/// Something doubtful.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Doubt {
    /// Line, from 1.
    pub line: u64,
    /// The cell's column.
    pub column: Column,
    /// What stands there.
    pub value: String,
    /// What is doubtful about it.
    pub what: What,
}

/// Kinds of doubt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, thiserror::Error)]
pub enum What {
    /// A GB tag with too few or too many digits.
    #[error("a GB tag has 12 digits after UK, and this has {0}: look at the tag")]
    TagDigits(usize),
    /// A GB tag whose check digit is another.
    #[error("the check digit of this GB tag should be {0}: look at the tag, two digits may be swapped")]
    TagCheck(u8),
    /// No transponder has a number so high.
    #[error("the last 12 digits of an electronic number are at most 274877906943: read her once more")]
    ElectronicRange,
    /// The code for tests.
    #[error("999 is the code for tests: such a number is on no animal")]
    ElectronicTest,
    /// A day that cannot be hers: kept before it was asked, since no list, sheet or key tells one.
    #[error("{0}")]
    Day(NoDay),
    /// She is long past the day on which she was due to calve, and no calving was told since.
    #[error("she would be {0} days past it, and no calving was told: look at the year, or say that she calved")]
    Overdue(i64),
}

/// Highest number of 38 bits, which the last 12 digits of an electronic number are (ISO 11784).
const HIGHEST: u64 = (1 << 38) - 1;

/// What is doubtful about a line of a list of that day.
pub fn doubts(row: &Row, on: NaiveDate) -> Vec<Doubt> {
    let found = [
        (Column::Tag, tag(&row.labels.tag)),
        (Column::Electronic, electronic(&row.labels.electronic)),
        (Column::DueToCalve, overdue(&row.herd, on)),
    ];
    let days = wrong(&row.herd, &Herd::default(), on).into_iter().map(|(column, why)| (column, Some(What::Day(why))));
    let doubt = |(column, what): (Column, Option<What>)| {
        what.map(|what| Doubt { line: row.line, column, value: column.of(row), what })
    };
    found.into_iter().chain(days).filter_map(doubt).collect()
}

/// Days after which a cow that was due has calved, or carries no more: births two months late are not known (from memory; within a
/// breed it is up to twelve days, see `her_days`).
const LATE: i64 = 60;

fn overdue(herd: &Herd, on: NaiveDate) -> Option<What> {
    let late = -herd.days_to_calving(on)?;
    (late > LATE).then_some(What::Overdue(late))
}

/// The tag of Great Britain: `UK`, herd 6, check 1, animal 5; the check is herd and animal as one number, modulo 7, plus 1. Of
/// other tags, those of Northern Ireland (`UK` and 9) among them, nothing is known here.
pub fn tag(tag: &str) -> Option<What> {
    let plain: String = tag.chars().filter(|letter| !letter.is_whitespace()).collect::<String>().to_uppercase();
    let digits = plain.strip_prefix("UK").filter(|rest| rest.bytes().all(|byte| byte.is_ascii_digit()))?;
    if digits.starts_with('9') {
        return None;
    }
    if digits.len() != 12 {
        return Some(What::TagDigits(digits.len()));
    }
    let (herd, rest) = digits.split_at(6);
    let (check, animal) = rest.split_at(1);
    let number: u64 = format!("{herd}{animal}").parse().ok()?;
    let fits = u8::try_from(number % 7 + 1).ok()?;
    (check != fits.to_string()).then_some(What::TagCheck(fits))
}

/// An electronic number: 3 digits of a country or a maker, then 12.
pub fn electronic(number: &str) -> Option<What> {
    let (code, rest) = number.split_at_checked(3)?;
    let rest: u64 = rest.parse().ok().filter(|_| number.len() == 15)?;
    if rest > HIGHEST {
        return Some(What::ElectronicRange);
    }
    (code == "999").then_some(What::ElectronicTest)
}
