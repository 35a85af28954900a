//! The check finds what is damaged, lists are made again, and a backup heals what was lost.

use super::tablet::day;
use super::{Bench, every, farm_of, raws, take};
use crushbook::domain::event::Event;
use crushbook::domain::record::Record;
use crushbook::store::error::Problem;
use redb::{ReadableDatabase, ReadableTable, TableDefinition};

const PAGE: TableDefinition<(u64, u64), &[u8]> = TableDefinition::new("page");

fn story() -> Vec<Record> {
    let mut tablet = farm_of(20);
    let animal = tablet.known.animals[3];
    let turn = tablet.turn(day(1), tablet.known.visits[0], animal);
    tablet.wrap(day(1), turn, animal);
    tablet.known.records
}

/// Writes into a book's table behind the store's back, with checksums of the file that hold.
fn meddle(bench: &Bench, change: impl FnOnce(&redb::WriteTransaction)) {
    let db = redb::Builder::new().create_with_backend(bench.book.clone()).expect("opens");
    let transaction = db.begin_write().expect("writes");
    change(&transaction);
    transaction.commit().expect("commits");
}

/// The first page's bytes.
fn first_page(bench: &Bench) -> Vec<u8> {
    let db = redb::Builder::new().create_with_backend(bench.book.clone()).expect("opens");
    let table = db.begin_read().expect("reads").open_table(PAGE).expect("a table");
    let (_, page) = table.first().expect("reads").expect("a page");
    page.value().to_vec()
}

fn book(records: &[Record]) -> Bench {
    let bench = Bench::new();
    let mut store = bench.opened(1);
    take(&mut store, records);
    store.close().expect("closed");
    bench
}

#[test]
fn a_flipped_byte_in_a_page_costs_one_record_and_is_found_and_a_backup_heals_it() {
    let records = story();
    let bench = book(&records);
    let mut page = first_page(&bench);
    let last = page.len() - 30;
    page[last] ^= 1;
    meddle(&bench, |transaction| {
        transaction.open_table(PAGE).expect("a table").insert((7, 1), page.as_slice()).expect("written");
    });
    let mut store = bench.opened(2);
    let verdict = store.verify().expect("checked");
    assert_eq!(verdict.records, records.len() as u64 - 1);
    assert!(verdict.problems.iter().any(|problem| matches!(problem, Problem::Unreadable { .. })), "{verdict:?}");
    assert!(
        verdict.problems.iter().any(|problem| matches!(problem, Problem::Lost { from: 24, to: 24, .. })),
        "{verdict:?}"
    );
    let (_, problems) = store.records(records[23].about).expect("read");
    assert!(
        problems.iter().any(|problem| matches!(problem, Problem::Missing { expected: 3, found: 2, .. })),
        "{problems:?}"
    );
    assert_eq!(take(&mut store, &records).new, 1);
    assert_eq!(store.verify().expect("checked").records, records.len() as u64);
    let (mended, _) = store.records(records[23].about).expect("read");
    assert_eq!(mended.len(), 3);
    assert!(!store.verify().expect("checked").problems.iter().any(|problem| matches!(problem, Problem::Lost { .. })));
}

#[test]
fn a_lost_page_is_told_and_rejoined() {
    let records = story();
    let bench = book(&records);
    meddle(&bench, |transaction| {
        transaction.open_table(PAGE).expect("a table").remove((7, 1)).expect("removed");
    });
    let mut store = bench.opened(2);
    let verdict = store.verify().expect("checked");
    assert!(verdict.problems.contains(&Problem::Lost { series: 7, from: 1, to: 24 }), "{verdict:?}");
    take(&mut store, &records);
    assert_eq!(every(&store).len(), records.len());
    let verdict = store.verify().expect("checked");
    assert!(verdict.is_sound(), "{verdict:?}");
}

#[test]
fn a_changed_or_missing_row_is_found_read_past_and_made_again() {
    let records = story();
    let bench = book(&records);
    const OPEN: TableDefinition<&[u8], &[u8]> = TableDefinition::new("open");
    meddle(&bench, |transaction| {
        let mut table = transaction.open_table(OPEN).expect("a table");
        let key = table.first().expect("reads").expect("a row").0.value().to_vec();
        table.insert(key.as_slice(), b"nonsense".as_slice()).expect("written");
    });
    let mut store = bench.opened(2);
    let (open, problems) = store.open_items(None).expect("read");
    assert_eq!(open.len(), 1, "the wrap still shows");
    assert!(matches!(problems.as_slice(), [Problem::Stale { .. }]));
    assert!(matches!(store.verify().expect("checked").problems.as_slice(), [Problem::Stale { .. }]));
    store.rebuild().expect("made again");
    assert!(store.verify().expect("checked").is_sound());
    drop(store);
    meddle(&bench, |transaction| {
        transaction.open_table(OPEN).expect("a table").retain(|_, _| false).expect("emptied");
    });
    let mut store = bench.opened(2);
    assert!(!store.verify().expect("checked").is_sound());
    store.rebuild().expect("made again");
    assert!(store.verify().expect("checked").is_sound());
    assert_eq!(store.open_items(None).expect("read").0.len(), 1);
}

#[test]
fn lists_of_an_older_layout_are_made_again_at_opening() {
    let records = story();
    let bench = book(&records);
    const META: TableDefinition<u16, &[u8]> = TableDefinition::new("meta");
    const OPEN: TableDefinition<&[u8], &[u8]> = TableDefinition::new("open");
    meddle(&bench, |transaction| {
        transaction.open_table(META).expect("a table").insert(5, [0_u8; 5].as_slice()).expect("written");
        transaction.open_table(OPEN).expect("a table").retain(|_, _| false).expect("emptied");
    });
    let mut store = bench.opened(2);
    assert_eq!(store.open_items(None).expect("read").0.len(), 1);
    assert!(store.verify().expect("checked").is_sound());
}

#[test]
fn a_row_of_the_hand_that_cannot_be_read_stays_and_its_number_is_not_given_again() {
    const LOG: TableDefinition<(u64, u64), &[u8]> = TableDefinition::new("log");
    let bench = Bench::new();
    let mut store = bench.opened(7);
    let mut tablet = farm_of(1);
    store.append(&tablet.known.records).expect("saved");
    drop(store);
    {
        let db = redb::Builder::new().create_with_backend(bench.hand.clone()).expect("opens");
        let transaction = db.begin_write().expect("writes");
        let mut bytes = raws(&tablet.known.records[2..])[0].bytes.to_vec();
        bytes[120] ^= 1;
        transaction.open_table(LOG).expect("a table").insert((7, 3), bytes.as_slice()).expect("written");
        transaction.commit().expect("commits");
    }
    let (mut store, problems) = bench.open(8).expect("opens");
    assert!(matches!(problems.as_slice(), [Problem::Unreadable { .. }]), "{problems:?}");
    assert_eq!((every(&store).len(), store.next_id().seq), (2, 4));
    let animal = tablet.known.animals[0];
    let next = tablet.press(day(1), vec![(animal.0, Event::CullSaid { animal })]);
    store.append(&next).expect("saved");
    store.close().expect("closed");
    let (store, problems) = bench.open(9).expect("opens");
    assert!(matches!(problems.as_slice(), [Problem::Unreadable { .. }]), "still there, still said: {problems:?}");
    assert_eq!(store.series(), 7);
}
