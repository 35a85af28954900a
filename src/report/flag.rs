//! Flags in words: what was recorded, where, and the number that raises it.

use crate::domain::flag::{Flag, Kind};
use crate::report::words::{self, Words};

/// A flag in one line: `RH outer: 3rd case since 3 Feb 2026, now SU`.
pub fn line(flag: &Flag, words: Words) -> String {
    let place = words.place(flag.place);
    let what = flag.what.map_or("", words::finding_name);
    let since = words::day(flag.since);
    match flag.kind {
        Kind::BlockedSore => format!("{place}: blocked {}, and this claw is sore itself", days(flag.count)),
        Kind::WorseTwice => format!("{place} {what}: worse twice running, since {since}"),
        Kind::HealedLate => {
            format!("{place} {what}: still there after {}, such horn closes in {}", days(flag.count), flag.limit)
        }
        Kind::Third => format!("{place}: {} cases since {since}, the last {what}", flag.count),
        Kind::Back => format!("{place} {what}: back {} after healed", days(flag.count)),
        Kind::Opposite => format!("{place} {what}: the opposite foot has it too"),
        Kind::Overdue => format!("{}not trimmed for {} (rule {})", of_foot(flag, words), days(flag.count), flag.limit),
    }
}

/// The same where there is hardly room.
pub fn short(flag: &Flag, words: Words) -> String {
    let place = words.place(flag.place);
    let what = flag.what.map_or("", crate::domain::vocabulary::Vocabulary::word);
    match flag.kind {
        Kind::BlockedSore => format!("{place} block: SORE CLAW"),
        Kind::WorseTwice => format!("{place} {what} worse twice"),
        Kind::HealedLate => format!("{place} {what} late, {} d", flag.count),
        Kind::Third => format!("{place} {} cases a year", flag.count),
        Kind::Back => format!("{place} {what} back in {} d", flag.count),
        Kind::Opposite => format!("{place} {what} both feet"),
        Kind::Overdue => format!("{}no trim for {} d", of_foot(flag, words), flag.count),
    }
}

/// The foot that is behind the other, where one is.
fn of_foot(flag: &Flag, words: Words) -> String {
    flag.place.foot().map_or(String::new(), |foot| format!("{} ", words.foot(foot)))
}

fn days(count: i64) -> String {
    if count == 1 { "1 day".to_owned() } else { format!("{count} days") }
}
