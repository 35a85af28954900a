//! Milk and meat withheld, in words: until when, and who stated it.

use crate::domain::withdrawal::{Stated, after};
use crate::report::safe::safe;
use crate::report::words::{Words, weekday};
use chrono::NaiveDate;

/// What is stated where it does not count.
pub const ONLY_THE_VET: &str = "under a {wrap} or off label only the vet's words count";

/// `NO MEAT until Sat 12 Dec is over, stated by the label: dressing product`.
pub fn line(stated: &Stated, used: NaiveDate, counts: bool, words: Words) -> String {
    let product = safe(&stated.product);
    if !counts {
        return format!("{product}: {}; ask the vet", words.fill(ONLY_THE_VET));
    }
    let until = |what: &str, days: Option<u16>| match days? {
        0 => Some(format!("{what} not withheld")),
        days => Some(format!("NO {} until {} is over", what.to_uppercase(), weekday(after(used, days)?))),
    };
    let both: Vec<String> = [("milk", stated.milk_days), ("meat", stated.meat_days)]
        .into_iter()
        .filter_map(|(what, days)| until(what, days))
        .collect();
    format!("{}, stated by {}: {product}", both.join(", "), by(stated))
}

/// What was stated, for a choice: `milk 2, meat 10 days, by Ivo Lask`.
pub fn days(stated: &Stated) -> String {
    let told = [("milk", stated.milk_days), ("meat", stated.meat_days)];
    let parts: Vec<String> = told.iter().filter_map(|(what, days)| days.map(|days| format!("{what} {days}"))).collect();
    format!("{} days, by {}", parts.join(", "), by(stated))
}

fn by(stated: &Stated) -> String {
    if stated.by.is_empty() { "nobody named".to_owned() } else { safe(&stated.by) }
}
