//! The invented years are what they say they are.

use super::OURS;
use crate::support::years::Plan;
use crushbook::domain::event::Event;
use crushbook::domain::ids::RecordId;
use crushbook::wire::envelope::Raw;
use std::collections::BTreeSet;

/// Two years of more animals, for shares that hold.
const TWO_YEARS: Plan = Plan { farms: 6, years: 2, ..OURS };

fn events() -> Vec<(RecordId, Event)> {
    let decoded = |raw: Raw| raw.decode().expect("an invented record can be read");
    let records = TWO_YEARS.records(7).map(decoded);
    records.filter_map(|record| record.event().cloned().map(|event| (record.about, event))).collect()
}

#[test]
fn the_same_plan_gives_the_same_records_and_another_seed_others() {
    let all = |plan: Plan| plan.records(7).collect::<Vec<Raw>>();
    assert!(all(OURS) == all(OURS));
    assert!(all(OURS) != all(Plan { seed: OURS.seed + 1, ..OURS }));
}

#[test]
fn numbers_are_dense_and_ticks_never_go_back() {
    let mut before = (0, 0);
    for raw in OURS.records(7) {
        assert_eq!(raw.id, RecordId { series: 7, seq: before.0 + 1 });
        assert!(raw.tick >= before.1);
        before = (raw.id.seq, raw.tick);
    }
}

#[test]
fn a_quarter_of_the_animals_leaves_in_a_year_and_of_most_nobody_tells() {
    let events = events();
    let begun = events.iter().filter(|(_, event)| matches!(event, Event::AnimalBegun { .. })).count();
    let told: BTreeSet<RecordId> =
        events.iter().filter(|(_, event)| matches!(event, Event::Left { .. })).map(|(about, _)| *about).collect();
    let standing = (TWO_YEARS.farms * TWO_YEARS.herd) as usize;
    let of_hundred = |count: usize| count * 100 / standing;
    // Two quarters, less those whose successor was not in the crush yet; two fifths of them told.
    let (replaced, said) = (of_hundred(begun - standing), of_hundred(told.len()));
    assert!((30..=50).contains(&replaced), "{replaced} of a hundred were replaced in two years");
    assert!((12..=25).contains(&said), "{said} of a hundred were said to have left in two years");
}
