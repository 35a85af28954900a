//! Reading costs what is asked for, not what the book holds.

use super::{Machine, large, small};
use crushbook::command::day_parts::Parts;
use crushbook::domain::anatomy::{Foot, Place};
use crushbook::domain::event::Event;
use crushbook::domain::follow_up::rules::Rules;
use crushbook::domain::herd::Labels;
use crushbook::domain::history::History;
use crushbook::domain::history::open::Open;
use crushbook::domain::ids::{AnimalId, FarmId};
use crushbook::domain::record::Stamp;
use crushbook::domain::treatment::Put;
use crushbook::run::then::Then;
use crushbook::session::HerdLine;
use crushbook::store::Store;
use redb::{Builder, ReadableTable, TableDefinition};
use std::collections::BTreeMap;

/// Our first farm: the same in both books.
fn farm(store: &Store) -> FarmId {
    store.farms().expect("read").0[0].farm
}

/// Reads of the book that one question takes in a book just opened, with its answer.
fn asked<T>(machine: &Machine, question: impl FnOnce(&Store) -> T) -> (T, u64) {
    let store = machine.open();
    let (answer, cost) = machine.book_cost(|| question(&store));
    (answer, cost.reads)
}

/// Asks the same of both books: the same answer, for at most one more read a tree that had to grow a level.
fn costs_the_same<T: PartialEq>(trees: u64, question: impl Fn(&Store) -> T) {
    let (few, in_small) = asked(&small(), &question);
    let (same, in_large) = asked(&large(), &question);
    assert!(few == same, "both books hold the same of it");
    assert!(in_large <= in_small + trees, "{in_small} reads in the small book, {in_large} in the large one");
}

/// Animals of our first farm with the number of pages that hold their records, fewest first.
fn animals() -> Vec<(usize, AnimalId)> {
    let store = small().open();
    let (rows, _) = store.animals(farm(&store)).expect("read");
    let turns = |animal: AnimalId| History::of(store.records(animal.0).expect("read").0, animal).turns.len();
    let mut animals: Vec<(usize, AnimalId)> = rows.iter().map(|row| (turns(row.animal), row.animal)).collect();
    animals.sort();
    animals
}

#[test]
fn an_animal_costs_what_she_holds() {
    let animals = animals();
    let (few, many) = (animals[0], animals[animals.len() - 1]);
    assert!(few.0 < many.0, "the farm has animals with few turns and with many");
    for (_, animal) in [few, many] {
        // Which pages, the pages, how many records there should be.
        costs_the_same(3, |store| store.records(animal.0).expect("read"));
    }
    let reads = |animal: AnimalId| asked(&large(), |store| store.records(animal.0).map(drop)).1;
    assert!(reads(few.1) < reads(many.1), "more turns take more reads, or this counts nothing");
}

#[test]
fn a_farm_costs_what_it_holds() {
    costs_the_same(2, |store| store.animals(farm(store)).expect("read"));
    costs_the_same(2, |store| store.open_items(Some(farm(store))).expect("read"));
    costs_the_same(2, |store| store.day(farm(store), super::OURS.begin()).expect("read"));
    costs_the_same(4, |store| store.records(farm(store).0).expect("read"));
    costs_the_same(2, |store| store.find(farm(store), "101").expect("read"));
}

#[test]
fn the_due_list_costs_what_is_open() {
    costs_the_same(1, |store| store.open_items(None).expect("read"));
    let (open, _) = asked(&large(), |store| store.open_items(None).expect("read").0);
    assert!(open.len() > 5, "{} animals have something open", open.len());
}

/// Everybody of our first farm with the number of her records.
fn herd(store: &Store) -> BTreeMap<AnimalId, u64> {
    let (rows, _) = store.animals(farm(store)).expect("read");
    rows.iter().map(|row| (row.animal, row.count)).collect()
}

/// Who is read for the list of our first farm's day.
fn listed(store: &Store, parts: &mut Parts) -> Vec<AnimalId> {
    let mut read = Vec::new();
    let of = (farm(store), super::OURS.begin() + chrono::Days::new(super::OURS.days()));
    let problems = parts.read(store, of, &herd(store), &Rules::default(), &mut |animal, _| read.push(animal));
    assert_eq!(problems.expect("read"), []);
    read
}

#[test]
fn the_list_of_a_day_costs_what_the_farm_holds() {
    // Farms, turns by day, rows of the herd; which pages, the pages.
    costs_the_same(8, |store| {
        let mut parts = Parts::default();
        let read = listed(store, &mut parts);
        (read, parts.list())
    });
}

#[test]
fn after_a_press_the_list_reads_whom_it_touched_and_after_none_nobody() {
    let mut store = large().open();
    let mut parts = Parts::default();
    let everybody: Vec<AnimalId> = herd(&store).into_keys().collect();
    assert_eq!(listed(&store, &mut parts), everybody);
    assert_eq!(listed(&store, &mut parts), []);
    let touched = everybody[everybody.len() / 2];
    let on = super::OURS.begin() + chrono::Days::new(super::OURS.days());
    let now = "2026-05-14T09:30:00+02:00".parse().expect("a moment");
    let stamp = Stamp { next: store.next_id(), tick: store.tick(), by: None, now, on };
    let call = Event::FarmCalled { farm: farm(&store), words: "slow".into(), urgent: true, caller: String::new() };
    store.append(&stamp.press([(touched.0, call)])).expect("saved");
    let before = parts.list();
    assert_eq!(listed(&store, &mut parts), [touched]);
    let after = parts.list();
    assert!(before != after && after.expected.iter().any(|line| line.animal == touched), "she was called about");
    // Read at once or bit by bit, it is the same list.
    let mut whole = Parts::default();
    listed(&store, &mut whole);
    assert!(whole.list() == after);
}

/// Who is read for how the herd of our first farm stood on the last day but one, and how many had something open then.
fn known_then(store: &Store, then: &mut Then) -> (Vec<AnimalId>, usize) {
    let herd = herd(store);
    let line = |id: &AnimalId| HerdLine {
        id: *id,
        labels: Labels::default(),
        earlier: Vec::new(),
        earlier_electronic: Vec::new(),
        status: None,
        left: None,
        turn: None,
    };
    let mut lines: Vec<HerdLine> = herd.keys().map(line).collect();
    let of = (farm(store), super::OURS.begin() + chrono::Days::new(super::OURS.days() - 1));
    let mut read = Vec::new();
    let (open, problems) = then.read(store, of, (&mut lines, &herd), &mut |animal| read.push(animal)).expect("read");
    assert_eq!(problems, []);
    (read, open.len())
}

/// As on Today: the whole herd once, then whom a press touched, and nobody where none did.
#[test]
fn after_an_animal_on_paper_only_she_is_read_again() {
    let mut store = large().open();
    let mut then = Then::default();
    let everybody: Vec<AnimalId> = herd(&store).into_keys().collect();
    let (read, open) = known_then(&store, &mut then);
    assert!(read == everybody && open > 0, "{} of {}, {open} with something open", read.len(), everybody.len());
    assert_eq!(known_then(&store, &mut then), (Vec::new(), open));
    let touched = everybody[everybody.len() / 2];
    let on = super::OURS.begin() + chrono::Days::new(super::OURS.days() - 1);
    let now = "2026-05-14T09:30:00+02:00".parse().expect("a moment");
    let stamp = Stamp { next: store.next_id(), tick: store.tick(), by: None, now, on };
    let wrap = Event::PutOn {
        turn: None,
        put: Put::Wrap { over: Place::Foot(Foot::LeftHind), colour: None },
        off_by: None,
        remover: String::new(),
        by_others: "Vet".to_owned(),
    };
    store.append(&stamp.press([(touched.0, wrap)])).expect("saved");
    let (read, now_open) = known_then(&store, &mut then);
    assert_eq!(read, [touched]);
    // Read at once or bit by bit, as many had something on.
    assert_eq!(known_then(&store, &mut Then::default()), (everybody, now_open));
    assert!(now_open >= open);
}

/// Start, due list, the last turn of the first on it.
fn start(machine: &Machine) -> (Vec<Open>, Labels) {
    let store = machine.open();
    let (open, _) = store.open_items(None).expect("read");
    let (records, _) = store.records(open[0].animal.0).expect("read");
    let history = History::of(records, open[0].animal);
    assert!(history.last_turn(None).is_some());
    (open, history.labels)
}

#[test]
fn a_start_takes_at_most_64_reads() {
    for machine in [small(), large()] {
        let before = (machine.book.count(), machine.hand.count());
        start(&machine);
        let (book, hand) = (machine.book.count() - before.0, machine.hand.count() - before.1);
        assert!(book.reads + hand.reads <= 64, "{} reads of the book, {} of the hand", book.reads, hand.reads);
        assert!(book.reads >= 10, "the reads are counted: {}", book.reads);
    }
}

#[test]
fn the_due_list_reads_no_turns() {
    let machine = small();
    let (open, _) = start(&machine);
    // Behind the store's back every page of records is taken away: whatever read one would now know nothing.
    let book = Builder::new().create_with_backend(machine.book.clone()).expect("opens");
    let writing = book.begin_write().expect("begins");
    {
        let mut pages = writing.open_table(TableDefinition::<(u64, u64), &[u8]>::new("page")).expect("there");
        let keys: Vec<(u64, u64)> = pages.iter().expect("read").map(|row| row.expect("read").0.value()).collect();
        assert!(keys.len() > 10);
        for key in keys {
            pages.remove(key).expect("removed");
        }
    }
    writing.commit().expect("committed");
    drop(book);
    let store = machine.open();
    let (still, problems) = store.open_items(None).expect("read");
    assert!(still == open, "{} animals of {}", still.len(), open.len());
    assert_eq!(problems, []);
}
