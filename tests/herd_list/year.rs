//! Where an animal stands in her year, in one line. Days are counted by hand.

use crate::support::tablet::day;
use chrono::{Days, NaiveDate};
use crushbook::domain::herd::{Herd, Status};
use crushbook::report::herd::year;

/// 14 May 2026 and so many days before it.
fn ago(days: u64) -> Option<NaiveDate> {
    Some(day(14) - Days::new(days))
}

fn ahead(days: u64) -> Option<NaiveDate> {
    Some(day(14) + Days::new(days))
}

#[test]
fn lactation_days_in_milk_and_days_to_calving_stand_in_one_line() {
    let herd = |status, calved, dry_from, due_to_calve| Herd {
        status,
        calved,
        dry_from,
        due_to_calve,
        lactation: Some(3),
        ..Herd::default()
    };
    use Status::{Dry, Heifer, InMilk, Male};
    let table = [
        (herd(Some(InMilk), ago(254), None, None), "lactation 3, 254 days in milk"),
        (herd(None, ago(1), None, None), "lactation 3, 1 day in milk"),
        (herd(Some(Dry), ago(330), ago(20), ahead(40)), "lactation 3, dry 20 days, calves in 40 days"),
        (herd(None, ago(330), ago(20), ahead(1)), "lactation 3, dry 20 days, calves in 1 day"),
        (herd(Some(Dry), ago(330), None, ahead(0)), "lactation 3, dry, due to calve today"),
        (herd(Some(Dry), ago(330), ago(60), ago(3)), "lactation 3, dry 60 days, was due to calve 3 days ago"),
        // She calved since: the dry time and the due day before it are over, though nobody took them out.
        (herd(Some(InMilk), ago(5), ago(60), ago(3)), "lactation 3, 5 days in milk"),
        // In milk again, and nobody said when she calved.
        (herd(Some(InMilk), ago(400), ago(60), None), "lactation 3"),
        // To be dried off.
        (herd(Some(InMilk), ago(300), ahead(6), ahead(66)), "lactation 3, 300 days in milk, calves in 66 days"),
        (herd(Some(Heifer), None, None, ahead(9)), "lactation 3, heifer, calves in 9 days"),
        (herd(Some(Male), None, None, None), "lactation 3"),
        // A list may tell a calving that is still to come.
        (herd(None, ahead(2), None, None), "lactation 3"),
    ];
    for (herd, line) in table {
        assert_eq!(year(&herd, day(14)), line, "{herd:?}");
    }
    assert_eq!(year(&Herd::default(), day(14)), "");
}
