//! Clocks: set wrong, over midnight, in and out of summer time, on a leap day. Order never hangs on them.

use crate::support::tablet::{Tablet, day};
use chrono::{DateTime, NaiveDate};
use crushbook::domain::event::Event;
use crushbook::domain::history::{DoubtWhat, History};
use crushbook::domain::ids::AnimalId;
use crushbook::domain::record::{Moment, Record, Stamp};

/// One animal with a fact written at each of these moments, all on one tablet, in this order.
fn written(moments: &[&str]) -> (Vec<Record>, AnimalId) {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    let cow = tablet.animal(day(1), farm, "7");
    for text in moments {
        let now: Moment = DateTime::parse_from_rfc3339(text).expect("a moment");
        let stamp = Stamp { now, ..tablet.stamp(now.date_naive()) };
        tablet.keep(stamp.press([(cow.0, Event::CullSaid { animal: cow })]));
    }
    (tablet.seen, cow)
}

fn doubtful(moments: &[&str]) -> usize {
    let (records, cow) = written(moments);
    History::of(records, cow).doubts.iter().filter(|doubt| doubt.what == DoubtWhat::Clock).count()
}

#[test]
fn a_clock_set_back_is_told_and_changes_no_order() {
    let moments = ["2026-06-03T09:00:00+01:00", "2026-06-03T08:00:00+01:00", "2026-06-03T08:00:05+01:00"];
    assert_eq!(doubtful(&moments), 1, "the one after the step back");
    let (mut records, cow) = written(&moments);
    let expected = History::of(records.clone(), cow);
    records.reverse();
    assert_eq!(History::of(records, cow), expected);
    assert_eq!(doubtful(&["2026-06-03T09:00:00+01:00", "2026-06-03T08:59:30+01:00"]), 0, "a clock put right a little");
}

#[test]
fn the_hour_that_comes_twice_and_midnight_are_no_doubt() {
    // Clocks go back at 02:00 summer time on 25 October 2026 (last Sunday of October).
    let autumn = ["2026-10-25T01:59:00+01:00", "2026-10-25T01:01:00+00:00", "2026-10-25T01:30:00+00:00"];
    assert_eq!(doubtful(&autumn), 0);
    let midnight = ["2026-06-03T23:59:59+01:00", "2026-06-04T00:00:01+01:00"];
    assert_eq!(doubtful(&midnight), 0);
}

#[test]
fn a_leap_day_is_a_day() {
    let (records, cow) =
        written(&["2028-02-28T10:00:00+00:00", "2028-02-29T10:00:00+00:00", "2028-03-01T10:00:00+00:00"]);
    let history = History::of(records, cow);
    assert_eq!(history.cull, NaiveDate::from_ymd_opt(2028, 3, 1));
    assert!(history.doubts.is_empty());
}
