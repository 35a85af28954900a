//! Disks that fail: full, or not answering, at every call in turn. What is refused is said, kept and given again, and is then
//! there once; and what was said to be saved after that outlives a battery pulled at once.

use super::disk::Power;
use super::hand::press;
use super::power::{AT_REST, world};
use super::world::Step::{self, Close, Draft, Open, Pack, Press, Rebuild, Take};
use super::world::World;
use super::{Bench, every};
use crushbook::store::Store;
use crushbook::store::medium::{Medium, hand_beside};
use std::fs::{self, OpenOptions};
use std::io::Write;
use std::path::PathBuf;

/// Everything that writes.
const STORY: &[Step] = &[
    Open,
    Press,
    Press,
    Draft("13"),
    Press,
    Pack,
    Press,
    Take(2),
    Draft(""),
    Rebuild,
    Close,
    Open,
    Press,
    Pack,
    Press,
];

/// Plays the story with trouble at each of its calls in turn, or at every so many; the battery is pulled at its end.
fn at_every_call(before: &World, step: usize, trouble: impl Fn(&Power, usize), mend: impl Fn(&Power) + Copy) {
    let mut easy = before.copy();
    assert_eq!(easy.insist(STORY, |_| {}), [] as [String; 0]);
    let calls = easy.bench.power.calls();
    let mut refused = 0;
    for call in (0..calls).step_by(step) {
        let mut world = before.copy();
        trouble(&world.bench.power, call);
        let said = world.insist(STORY, mend);
        refused += usize::from(said.iter().any(|said| said.starts_with("NOT SAVED")));
        mend(&world.bench.power);
        world.bench.power.cut_at(world.bench.power.operations(), call as u64);
        world.lose_power();
        let wrong = world.judge();
        assert!(wrong.is_empty(), "trouble at call {call} of {calls}: {said:?}: {wrong:?}");
    }
    assert!(refused > 0, "no press was refused in {calls} calls");
}

#[test]
fn an_error_at_any_call_costs_nothing() {
    at_every_call(&world(AT_REST), 1, |power, call| power.fail(call, 1), |_| {});
}

#[test]
fn a_disk_that_does_not_answer_for_a_while_costs_nothing() {
    at_every_call(&world(&[]), 3, |power, call| power.fail(call, 4), |_| {});
}

#[test]
fn a_disk_full_at_any_call_costs_nothing() {
    at_every_call(&world(AT_REST), 1, |power, call| power.fill_at(Some(call)), |power| power.fill_at(None));
}

#[test]
fn a_disk_of_any_size_that_is_too_small_costs_nothing() {
    let before = world(&[]);
    let mut easy = before.copy();
    assert_eq!(easy.insist(STORY, |_| {}), [] as [String; 0]);
    let whole = easy.bench.book.image().len();
    for room in (0..whole).step_by(8192) {
        let mut world = before.copy();
        world.bench.power.room(Some(room));
        let said = world.insist(STORY, |power| power.room(None));
        assert!(!said.is_empty(), "{room} of {whole} bytes are too few");
        world.bench.power.cut_at(world.bench.power.operations(), room as u64);
        world.lose_power();
        let wrong = world.judge();
        assert!(wrong.is_empty(), "{room} of {whole} bytes: {said:?}: {wrong:?}");
    }
}

/// Nobody opens anything again: the hand takes keys, and at the next sign-off the book takes the hand.
#[test]
fn a_book_that_failed_at_sign_off_is_read_and_takes_all_in_at_the_next() {
    let full = |power: &Power| power.fill(true);
    let once = |power: &Power| power.fail(power.calls(), 1);
    for (trouble, readable) in [(full as fn(&Power), false), (once, true)] {
        let mut world = world(AT_REST);
        world.play(&[Open, Press]).expect("saved");
        trouble(&world.bench.power);
        assert!(world.store().pack().is_err());
        assert!(!readable || world.store().farms().is_ok(), "{:?}", world.store().farms());
        world.bench.power.fill(false);
        world.play(&[Press, Pack]).expect("saved and packed");
        assert_eq!(world.store().pack().expect("packed").held, 0, "the hand is empty");
        world.lose_power();
        assert_eq!(world.judge(), [] as [String; 0]);
    }
}

/// A disk with an end: how its store is opened, how it is filled, and how it is emptied again.
struct Small {
    open: Box<dyn Fn() -> Store>,
    fill: Box<dyn Fn()>,
    free: Box<dyn Fn()>,
}

/// A real file system, where `CRUSHBOOK_SMALL_DISK` names a folder on one: to mount one takes rights that tests do not have.
fn small_file_system() -> Option<Small> {
    let folder = PathBuf::from(std::env::var_os("CRUSHBOOK_SMALL_DISK")?);
    let (book, filler) = (folder.join("my.book"), folder.join("filler"));
    for left in [&book, &hand_beside(&book), &filler] {
        drop(fs::remove_file(left));
    }
    let filled = filler.clone();
    let fill = move || {
        let mut file = OpenOptions::new().create(true).append(true).open(&filled).expect("a file");
        // Byte by byte at the end, so that not one is left.
        for size in [1 << 16, 1 << 12, 1] {
            for blocks in 0.. {
                assert!(blocks << 16 < 1 << 30, "CRUSHBOOK_SMALL_DISK names a folder on a large disk");
                if file.write_all(&vec![0; size]).is_err() {
                    break;
                }
            }
        }
    };
    let open = move || {
        let (hand, book) = (Medium::File(hand_beside(&book)), Medium::File(book.clone()));
        Store::open(hand, book, &mut || Ok(7)).expect("opens").0
    };
    let free = move || fs::remove_file(&filler).expect("emptied");
    Some(Small { open: Box::new(open), fill: Box::new(fill), free: Box::new(free) })
}

fn small_medium() -> Small {
    let bench = Bench::new();
    let (power, emptied) = (bench.power.clone(), bench.power.clone());
    let open = move || bench.opened(7);
    Small {
        open: Box::new(open),
        fill: Box::new(move || power.room(Some(0))),
        free: Box::new(move || emptied.room(None)),
    }
}

#[test]
#[expect(clippy::print_stdout, reason = "the test says which of the two it used")]
fn a_real_file_system_that_runs_full_refuses_and_then_saves() {
    let (small, used) = match small_file_system() {
        Some(small) => (small, "a real small file system"),
        None => (small_medium(), "a medium of limited size; CRUSHBOOK_SMALL_DISK names no real one"),
    };
    println!("used: {used}");
    let mut store = (small.open)();
    let mut pressed = 0;
    (small.fill)();
    let refused = loop {
        let long = "x".repeat(4000);
        let records = press(&store, &[&long]);
        pressed += 1;
        match store.append(&records) {
            Ok(()) => assert!(pressed < 1000, "never full: {used}"),
            Err(error) => {
                assert!(error.to_string().starts_with("NOT SAVED"), "{error}");
                break records;
            }
        }
    };
    assert_eq!(every(&store).len(), pressed - 1, "what is not on disk is not shown");
    (small.free)();
    store.reopen().expect("opened again");
    store.append(&refused).expect("saved at last");
    store.append(&refused).expect("and not twice");
    store.close().expect("closed");
    let mut store = (small.open)();
    assert_eq!(every(&store).len(), pressed);
    assert!(store.verify().expect("checked").is_sound());
}

/// redb says the same of a page that cannot be read as often as it is asked.
#[test]
fn a_disk_that_answers_no_more_ends_the_reading() {
    let bench = Bench::new();
    let mut store = bench.opened(70);
    super::take(&mut store, &super::farm_of(3000).known.records);
    store.close().expect("closed");
    let store = bench.opened(70);
    bench.power.fail(bench.power.calls() + 5, 1 << 40);
    let far = 1 << 16;
    let read = store.every().map(|every| every.take(far).filter(Result::is_err).count());
    assert!(read.is_err() || read.is_ok_and(|wrong| (1..=2).contains(&wrong)), "once for each table");
}
