//! Two different records under one name: both are kept, whichever came first, and it is said.

use super::tablet::{day, newer};
use super::{Bench, every, farm_of, raws, take};
use crushbook::domain::event::Event;
use crushbook::domain::record::Record;
use crushbook::store::error::Problem;

/// A story and its double: after the farm, each gives the next number to another fact.
fn forked() -> (Vec<Record>, Record, Record) {
    let mut one = farm_of(1);
    let mut other = one.clone();
    let shared = one.known.records.clone();
    let animal = one.known.animals[0];
    let mine = one.press(day(1), vec![(animal.0, Event::CullSaid { animal })]);
    let theirs = other.press(day(1), vec![(animal.0, Event::Kicker { animal, kicks: true })]);
    (shared, mine[0].clone(), theirs[0].clone())
}

#[test]
fn both_are_kept_and_the_history_does_not_depend_on_which_came_first() {
    let (shared, mine, theirs) = forked();
    let mut seen = Vec::new();
    for pair in [[&mine, &theirs], [&theirs, &mine]] {
        let bench = Bench::new();
        let mut store = bench.opened(1);
        take(&mut store, &shared);
        assert_eq!(take(&mut store, std::slice::from_ref(pair[0])).forks, []);
        let taken = take(&mut store, std::slice::from_ref(pair[1]));
        assert_eq!(taken.forks, [mine.id]);
        let again = take(&mut store, &[mine.clone(), theirs.clone()]);
        assert_eq!((again.new, again.held, again.forks), (0, 2, vec![]), "both are held");
        let all = every(&store);
        assert!(all.contains(&(mine.id, mine.clone())) && all.contains(&(theirs.id, theirs.clone())));
        let (records, problems) = store.records(mine.about).expect("read");
        assert_eq!(problems, [Problem::Fork(mine.id)]);
        let verdict = store.verify().expect("checked");
        assert_eq!(verdict.problems, [Problem::Fork(mine.id)]);
        store.rebuild().expect("rebuilt");
        assert_eq!(store.records(mine.about).expect("read").0, records);
        seen.push(records);
    }
    assert_eq!(seen[0], seen[1]);
}

#[test]
fn both_in_one_taking_are_kept_too() {
    let (mut all, mine, theirs) = forked();
    all.extend([mine.clone(), theirs]);
    let bench = Bench::new();
    let mut store = bench.opened(1);
    assert_eq!(take(&mut store, &all).forks, [mine.id]);
    assert_eq!(every(&store).len(), all.len());
}

#[test]
fn a_record_of_a_newer_program_is_kept_counted_and_routed() {
    let mut tablet = farm_of(1);
    let animal = tablet.known.animals[0];
    let record = newer(tablet.press(day(1), vec![(animal.0, Event::CullSaid { animal })])[0].clone());
    let mut all = tablet.known.records.clone();
    all.pop();
    all.push(record.clone());
    let bench = Bench::new();
    let mut store = bench.opened(1);
    take(&mut store, &all);
    assert!(store.records(animal.0).expect("read").0.contains(&record));
    let verdict = store.verify().expect("checked");
    assert_eq!((verdict.records, verdict.newer, verdict.is_sound()), (4, 1, true), "{verdict:?}");
    let bytes = &raws(std::slice::from_ref(&record))[0].bytes;
    assert!(store.every().expect("read").any(|raw| raw.is_ok_and(|raw| raw.bytes == *bytes)), "byte for byte");
}

#[test]
fn numbers_that_have_not_come_show_as_gaps() {
    let tablet = farm_of(4);
    let bench = Bench::new();
    let mut store = bench.opened(1);
    let records = &tablet.known.records;
    take(&mut store, &[records[0].clone(), records[3].clone()]);
    assert_eq!(store.verify().expect("checked").gaps, [(7, 2, 3)]);
    take(&mut store, records);
    assert_eq!(store.verify().expect("checked").gaps, []);
    assert_eq!(every(&store).len(), records.len());
}
