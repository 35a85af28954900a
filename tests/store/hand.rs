//! One press, one commit, one flush; given again it is not written again; and a book that stays whole through a full disk.

use super::tablet::day;
use super::{Bench, every, farm_of};
use crushbook::domain::event::Event;
use crushbook::domain::record::{Record, Stamp};
use crushbook::store::Store;
use crushbook::store::error::StoreError;

/// Stamps one press with the store's own next name, one record about the practice for each word.
pub fn press(store: &Store, words: &[&str]) -> Vec<Record> {
    let stamp = Stamp {
        next: store.next_id(),
        tick: store.tick(),
        by: None,
        now: "2026-05-14T09:30:00+02:00".parse().expect("a moment"),
        on: day(0),
    };
    let practice = crushbook::domain::ids::RecordId::PRACTICE;
    stamp.press(words.iter().map(|name| (practice, Event::PersonBegun { name: (*name).to_owned() })))
}

#[test]
fn a_press_of_several_records_costs_exactly_one_flush() {
    let bench = Bench::new();
    let mut store = bench.opened(1);
    for words in [["Ada", "Ben"], ["Cil", "Dot"], ["Eva", "Fay"]] {
        let before = (bench.power.syncs(), bench.power.writes());
        let records = press(&store, &words);
        store.append(&records).expect("saved");
        assert_eq!(bench.power.syncs() - before.0, 1);
        // At most 8 writes, as the measured goal says.
        assert!(bench.power.writes() - before.1 <= 8, "{} writes", bench.power.writes() - before.1);
    }
}

#[test]
fn a_press_costs_the_same_beside_a_large_book() {
    let bench = Bench::new();
    let mut store = bench.opened(1);
    super::take(&mut store, &farm_of(2000).known.records);
    // The first press after a taking-in makes a hand.
    store.append(&press(&store, &["Zoe"])).expect("saved");
    let records = press(&store, &["Ada"]);
    let before = (bench.power.syncs(), bench.power.writes());
    store.append(&records).expect("saved");
    assert_eq!(bench.power.syncs() - before.0, 1);
    assert!(bench.power.writes() - before.1 <= 8);
}

#[test]
fn what_was_appended_is_there_after_reopening_and_after_packing() {
    let bench = Bench::new();
    let mut store = bench.opened(1);
    let mut model = Vec::new();
    for words in [["Ada", "Ben"], ["Cil", "Dot"]] {
        let records = press(&store, &words);
        store.append(&records).expect("saved");
        model.extend(records.into_iter().map(|record| (record.id, record)));
    }
    assert_eq!(every(&store), model);
    drop(store);
    let mut store = bench.opened(2);
    assert_eq!(every(&store), model);
    assert_eq!(store.series(), 1, "the series goes on");
    assert_eq!(store.next_id().seq, 5);
    assert_eq!(store.pack().expect("packed").new, 0, "opening packed the hand");
    store.close().expect("closed");
    assert_eq!(every(&bench.opened(3)), model);
}

#[test]
fn the_same_press_again_is_not_written_again() {
    let bench = Bench::new();
    let mut store = bench.opened(1);
    let records = press(&store, &["Ada"]);
    store.append(&records).expect("saved");
    let before = bench.power.writes();
    store.append(&records).expect("already there");
    assert_eq!(bench.power.writes(), before);
    store.pack().expect("packed");
    let before = bench.power.writes();
    store.append(&records).expect("already in the book");
    assert_eq!(bench.power.writes(), before);
    assert_eq!(every(&store).len(), 1);
}

#[test]
fn a_press_out_of_step_or_of_another_series_is_refused_whole() {
    let bench = Bench::new();
    let mut store = bench.opened(1);
    let mut skipping = press(&store, &["Ada", "Ben"]);
    skipping[1].id.seq += 1;
    let error = store.append(&skipping).expect_err("a gap");
    assert!(matches!(error, StoreError::OutOfStep { .. }), "{error}");
    let mut foreign = press(&store, &["Ada"]);
    foreign[0].id.series = 99;
    assert!(matches!(store.append(&foreign), Err(StoreError::OutOfStep { .. })));
    assert_eq!(every(&store), []);
}

#[test]
fn a_text_too_long_is_refused_and_nothing_of_the_press_is_saved() {
    let bench = Bench::new();
    let mut store = bench.opened(1);
    let long = "x".repeat(5000);
    let records = press(&store, &["Ada", &long]);
    let error = store.append(&records).expect_err("too long");
    assert!(error.to_string().contains("Nothing of this key was saved"), "{error}");
    assert_eq!(every(&store), []);
}

#[test]
fn a_full_disk_says_not_saved_and_the_press_can_be_given_again() {
    let bench = Bench::new();
    let mut store = bench.opened(1);
    let first = press(&store, &["Ada"]);
    store.append(&first).expect("saved");
    let second = press(&store, &["Ben"]);
    bench.power.fill(true);
    let error = store.append(&second).expect_err("full");
    assert!(error.to_string().starts_with("NOT SAVED"), "{error}");
    assert_eq!(every(&store).len(), 1, "what is not on disk is not shown");
    bench.power.fill(false);
    assert!(store.append(&second).is_err(), "redb refuses everything until it is reopened");
    store.reopen().expect("reopened");
    store.append(&second).expect("saved at last");
    assert_eq!(every(&store).len(), 2);
    assert!(store.verify().expect("checked").is_sound());
}

#[test]
fn half_typed_text_outlives_a_dead_battery() {
    let bench = Bench::new();
    let mut store = bench.opened(1);
    store.set_draft("138").expect("kept");
    bench.power.cut_at(bench.power.operations(), 3);
    drop(store);
    bench.hand.lose_power();
    bench.book.lose_power();
    bench.power.restore();
    let mut store = bench.opened(2);
    assert_eq!(store.draft(), "138");
    let before = bench.power.writes();
    store.set_draft("138").expect("the same");
    assert_eq!(bench.power.writes(), before);
    store.set_draft("").expect("emptied");
    assert_eq!(store.draft(), "");
}

#[test]
fn an_old_book_beside_a_newer_hand_begins_a_new_series_and_keeps_both() {
    let bench = Bench::new();
    let mut store = bench.opened(1);
    let old = bench.book.image();
    let records = press(&store, &["Ada"]);
    store.append(&records).expect("saved");
    store.pack().expect("packed");
    let more = press(&store, &["Ben"]);
    store.append(&more).expect("saved");
    drop(store);
    bench.book.put(old);
    let (store, problems) = bench.open(50).expect("it opens all the same");
    assert!(problems[0].to_string().contains("do not belong together"), "{problems:?}");
    assert_eq!(store.series(), 50);
    assert_eq!(every(&store).len(), 1, "what the hand held is kept");
    drop(store);
    let (store, problems) = bench.open(60).expect("opens");
    assert_eq!((store.series(), problems), (50, vec![]), "said once");
}

#[test]
fn a_store_may_go_to_the_thread_that_packs() {
    fn moves<T: Send>() {}
    moves::<Store>();
}
