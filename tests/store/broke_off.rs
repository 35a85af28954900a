//! A large taking-in that the program, the battery or the disk broke off: nothing of it counts, a check calls the book sound
//! and says what lies in its bytes, and no number that lies there is ever given again.

use super::tablet::{Tablet, day};
use super::{every, farm_of, raws, take};
use crushbook::domain::event::Event;
use crushbook::domain::herd::FarmFact;
use crushbook::domain::ids::FarmId;
use crushbook::domain::record::Record;
use crushbook::store::Store;
use crushbook::store::error::{Problem, StoreError};
use crushbook::store::medium::{Medium, hand_beside};
use crushbook::store::rescue::{Seen, records};
use crushbook::store::take::Step;
use crushbook::store::verify::Verdict;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::Command;

/// Notes so many and so long that redb writes much of them before its commit.
fn notes(tablet: &mut Tablet) -> Vec<Record> {
    let farm = FarmId(tablet.known.records[0].id);
    let words = "the yard was wet ".repeat(60);
    for _ in 0..12_000 {
        let event = Event::FarmDescribed { farm, fact: FarmFact::Note, words: words.clone() };
        tablet.press(day(2), vec![(farm.0, event)]);
    }
    tablet.known.records.clone()
}

fn open(book: &Path, series: u64) -> (Store, Vec<Problem>) {
    let mut next = series;
    let mut source = || {
        next += 1;
        Ok(next - 1)
    };
    Store::open(Medium::File(hand_beside(book)), Medium::File(book.to_owned()), &mut source).expect("opens")
}

/// A book of four records, left as a program that is killed leaves it while many more of its own series come in.
fn kill(book: &Path) {
    let (mut store, _) = open(book, 7);
    let mut tablet = farm_of(2);
    take(&mut store, &tablet.known.records);
    let mut bytes = Vec::new();
    let mut look = |_: Step| {
        bytes = fs::read(book).expect("read");
        true
    };
    store.take_watched(&mut raws(&notes(&mut tablet)).into_iter().map(Ok), &mut look).expect("taken");
    store.close().expect("closed");
    fs::write(book, bytes).expect("written");
}

fn checked(book: &Path) -> Verdict {
    let lying = records(book).expect("read").seen();
    let (mut store, _) = open(book, 200);
    let verdict = store.verify_against(&lying, &Seen::default()).expect("checked");
    store.close().expect("closed");
    verdict
}

#[test]
fn what_broke_off_is_told_and_is_no_damage_and_its_numbers_are_never_given_again() {
    let home = tempfile::tempdir().expect("a folder");
    let book = home.path().join("my.book");
    kill(&book);
    let (store, problems) = open(&book, 100);
    assert_eq!(problems, [Problem::BrokeOff]);
    assert_eq!((every(&store).len(), store.series()), (4, 100), "a new series");
    let next = store.next_id();
    store.close().expect("closed");
    let verdict = checked(&book);
    assert!(verdict.is_sound(), "{:?}", verdict.problems);
    assert!(!verdict.never_saved.is_empty(), "some of it lies in the bytes");
    assert!(verdict.never_saved.iter().all(|(series, from, _)| (*series, *from > 4) == (7, true)), "{verdict:?}");
    let (mut store, problems) = open(&book, 300);
    assert_eq!((problems, store.next_id()), (Vec::new(), next), "it is said once");
    // Work goes on, and what is rescued from the file later is a record of its own beside it.
    let mut press = farm_of(0).other(100).known.records;
    press.truncate(1);
    press[0].id = next;
    store.append(&press).expect("saved");
    let lying: BTreeSet<_> = records(&book).expect("read").filter_map(Result::ok).map(|raw| raw.id).collect();
    store.close().expect("closed");
    assert!(!lying.contains(&next) && lying.len() > 4);
    let rescued: Vec<_> = records(&book).expect("read").filter_map(Result::ok).map(Ok).collect();
    let (mut store, _) = open(&book, 400);
    let taken = store.take(&mut rescued.into_iter()).expect("taken");
    assert_eq!(taken.forks, []);
}

#[test]
fn the_program_says_that_it_broke_off_and_calls_the_book_sound() {
    let home = tempfile::tempdir().expect("a folder");
    let book = home.path().join("my.book");
    kill(&book);
    let check = || {
        let mut program = Command::new(env!("CARGO_BIN_EXE_crushbook"));
        let output = program.args(["check", "--book"]).arg(&book).env("HOME", home.path()).output().expect("runs");
        let text = |bytes| String::from_utf8(bytes).expect("text");
        (output.status.code(), text(output.stdout), text(output.stderr))
    };
    let (code, out, err) = check();
    assert_eq!(code, Some(0), "{out}{err}");
    assert!(err.contains("broke off: nothing of it is in the book") && err.contains("Do it again"), "{err}");
    assert!(out.contains("of series 0000000000000007 were being taken in when that broke off"), "{out}");
    assert!(out.contains("The book is sound"), "{out}");
    let (code, out, err) = check();
    assert_eq!((code, err.as_str()), (Some(0), ""), "once is enough: {out}");
    assert!(out.contains("were never part of the book"), "{out}");
}

#[test]
fn what_is_stopped_begins_no_new_series_and_a_check_calls_the_book_sound() {
    let home = tempfile::tempdir().expect("a folder");
    let book = home.path().join("my.book");
    let mut other = farm_of(0).other(9);
    let (mut store, _) = open(&book, 7);
    take(&mut store, &farm_of(1).known.records);
    let mut stop = |step: Step| !matches!(step, Step::Adding(_, _));
    let stopped = store.take_watched(&mut raws(&notes(&mut other)).into_iter().map(Ok), &mut stop);
    assert!(matches!(stopped, Err(StoreError::Stopped)));
    store.close().expect("closed");
    let (store, problems) = open(&book, 300);
    assert_eq!((problems, store.series()), (Vec::new(), 7));
    store.close().expect("closed");
    assert!(checked(&book).is_sound());
}
