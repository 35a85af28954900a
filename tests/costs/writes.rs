//! A press costs one flush and the same few writes however large the book is; and after a kill the book is not repaired.

use super::{Machine, empty, large, small};
use crate::screens::world::six_days_later;
use crate::support::meter::{Count, Meter};
use chrono::NaiveDate;
use crushbook::domain::anatomy::{Foot, Place, Skin};
use crushbook::domain::event::Event;
use crushbook::domain::finding::{Degree, Finding};
use crushbook::domain::ids::{RecordId, TurnId};
use crushbook::domain::record::{Record, Stamp};
use crushbook::keys::keymap::BuiltIn;
use crushbook::store::Store;
use redb::Builder;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

/// One key: a finding.
fn press(store: &Store) -> Vec<Record> {
    let on = NaiveDate::from_ymd_opt(2026, 5, 14).expect("a day");
    let now = "2026-05-14T09:30:00+02:00".parse().expect("a moment");
    let stamp = Stamp { next: store.next_id(), tick: store.tick(), by: None, now, on };
    let animal = RecordId { series: 7, seq: 6 };
    let found = Event::Found {
        turn: TurnId(RecordId { series: 7, seq: 7 }),
        place: Place::Skin(Foot::RightHind, Skin::Heel),
        what: Finding::DD,
        degree: Degree::NotGiven,
        words: String::new(),
    };
    stamp.press([(animal, found)])
}

/// What a press after `before` others asks of both disks.
fn cost(machine: &Machine, before: usize) -> (Count, Count) {
    let mut store = machine.open();
    store.lay_out().expect("a hand");
    for _ in 0..before {
        store.append(&press(&store)).expect("saved");
    }
    let (hand, book) = (machine.hand.count(), machine.book.count());
    store.append(&press(&store)).expect("saved");
    (machine.hand.count() - hand, machine.book.count() - book)
}

#[test]
fn whoever_only_reads_lays_out_no_hand() {
    for book in [small().book, large().book] {
        // At rest the hand is gone.
        let machine = Machine { hand: Meter::default(), book };
        let (hand, book) = (machine.hand.count(), machine.book.count());
        let store = machine.open();
        store.open_items(None).expect("read");
        // redb itself writes that the book is open.
        assert_eq!((machine.book.count() - book).flushes, 1);
        store.close().expect("closes");
        assert_eq!(machine.hand.count() - hand, Count::default());
    }
}

#[test]
fn a_press_costs_one_flush_and_leaves_the_book_alone() {
    for before in [0, 1, 9, 30] {
        for machine in [empty(), small(), large()] {
            let (hand, book) = cost(&machine, before);
            assert_eq!(hand.flushes, 1, "press {before}");
            // 8 is the measured goal for a file beside the book.
            assert!((1..=8).contains(&hand.writes), "press {before}: {} writes", hand.writes);
            assert_eq!(book, Count::default(), "press {before}");
        }
    }
}

#[test]
fn a_press_costs_the_same_beside_an_empty_book_and_a_large_one() {
    for before in [0, 1, 9, 30] {
        assert_eq!(cost(&empty(), before), cost(&large(), before), "press {before}");
    }
}

/// How often redb calls for repair when it opens what is on this disk.
fn repairs(disk: &Meter) -> u64 {
    let calls = Arc::new(AtomicU64::new(0));
    let counted = calls.clone();
    let mut builder = Builder::new();
    builder.set_repair_callback(move |_| {
        counted.fetch_add(1, Ordering::Relaxed);
    });
    builder.create_with_backend(disk.copy()).expect("it opens");
    calls.load(Ordering::Relaxed)
}

#[test]
fn after_a_kill_the_book_is_not_repaired() {
    for machine in [empty(), small(), large()] {
        let mut store = machine.open();
        store.append(&press(&store)).expect("saved");
        assert!(repairs(&machine.hand) > 0, "the small hand is repaired, so repairs are seen");
        assert_eq!(repairs(&machine.book), 0, "killed after a press");
        store.pack().expect("packed");
        assert_eq!(repairs(&machine.book), 0, "killed after packing");
        store.rebuild().expect("rebuilt");
        assert_eq!(repairs(&machine.book), 0, "killed after the lists were made again");
    }
}

#[test]
fn packing_a_turn_costs_the_same_in_a_large_book_but_for_higher_trees() {
    let pack = |machine: Machine| {
        let mut store = machine.open();
        // The first packing may have to make the file longer, which is one flush more.
        store.append(&press(&store)).expect("saved");
        store.pack().expect("packed");
        store.append(&press(&store)).expect("saved");
        machine.book_cost(|| store.pack().expect("packed")).1
    };
    let (in_small, in_large) = (pack(small()), pack(large()));
    assert_eq!(in_large.flushes, in_small.flushes);
    // Eight tables and redb's own, each at most a level higher.
    assert!(in_large.reads <= in_small.reads + 10, "{in_small:?} {in_large:?}");
    assert!(in_large.writes <= in_small.writes + 10, "{in_small:?} {in_large:?}");
}

#[test]
fn at_the_desk_too_a_key_that_records_costs_one_flush() {
    for (map, other) in [(BuiltIn::TwoHands, "Right"), (BuiltIn::Keypad, "* 6")] {
        let mut rig = six_days_later(map);
        rig.press("1 3 8 Enter 3");
        rig.press(other);
        for (zone, finding) in [("4", "1"), ("6", "1"), ("3", "2")] {
            let before = (rig.records(), rig.power.syncs());
            rig.press(zone);
            assert_eq!((rig.records(), rig.power.syncs()), before, "{map:?}: a zone only asks");
            rig.press(finding);
            assert_eq!((rig.records(), rig.power.syncs()), (before.0 + 1, before.1 + 1), "{map:?}: {finding} records");
            rig.press("Esc");
        }
    }
}
