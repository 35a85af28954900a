//! A start: open, the list of what is due, the last turn of the first animal on it. And the list alone, in a book that is
//! open already.

use crate::books::{Pair, SERIES, open, settled};
use crate::floor::Floor;
use crate::meter::{Count, Meter};
use crate::rounds::{Outcome, Racer, Times, race, timed};
use crate::twin::Twin;
use chrono::NaiveDate;
use crushbook::domain::follow_up::list::list;
use crushbook::domain::follow_up::rules::Rules;
use crushbook::domain::history::History;
use crushbook::domain::history::open::Open;
use crushbook::domain::ids::AnimalId;
use crushbook::store::Store;
use std::hint::black_box;
use std::path::Path;
use std::time::Duration;

/// What of it is due.
fn due(open: &[Open], today: NaiveDate) {
    black_box(list(open, &Rules::default(), today));
}

/// One of them: whoever stands in the middle.
fn one(open: &[Open]) -> Outcome<AnimalId> {
    Ok(open.get(open.len() / 2).ok_or("somebody has something open")?.animal)
}

/// List and last turn in an open book.
fn look(store: &Store, today: NaiveDate) -> Outcome<()> {
    let (open, _) = store.open_items(None)?;
    due(&open, today);
    let animal = one(&open)?;
    let history = History::of(store.records(animal.0)?.0, animal);
    black_box(history.last_turn(None));
    Ok(())
}

/// The same of SQLite.
fn look_there(twin: &Twin, today: NaiveDate) -> Outcome<()> {
    let open = twin.open_items()?;
    due(&open, today);
    let history = twin.history(one(&open)?)?;
    black_box(history.last_turn(None));
    Ok(())
}

fn ours(book: &Path, today: NaiveDate) -> Outcome<Duration> {
    let (store, time) = timed(|| {
        let store = open(book)?;
        look(&store, today)?;
        Ok(store)
    })?;
    store.close()?;
    Ok(time)
}

fn theirs(file: &Path, today: NaiveDate) -> Outcome<Duration> {
    let (_twin, time) = timed(|| {
        let twin = Twin::open(file)?;
        look_there(&twin, today)?;
        Ok(twin)
    })?;
    Ok(time)
}

/// Asks open books: for the list of a short and a long one, and for the list and the last turn.
fn look_at(rounds: usize, short: (&Pair, NaiveDate), long: (&Pair, NaiveDate)) -> Outcome<Times> {
    let (of_short, of_long, twin) = (open(&short.0.book)?, open(&long.0.book)?, Twin::open(&long.0.twin)?);
    let of = |store: &Store, today| {
        let (_, time) = timed(|| {
            due(&store.open_items(None)?.0, today);
            Ok(())
        })?;
        Ok(time)
    };
    let of_twin = |twin: &Twin, today| {
        let (_, time) = timed(|| {
            due(&twin.open_items()?, today);
            Ok(())
        })?;
        Ok(time)
    };
    let times = race(
        rounds,
        vec![
            Racer::new("list, short", || of(&of_short, short.1)),
            Racer::new("list, long", || of(&of_long, long.1)),
            Racer::new("list, SQLite", || of_twin(&twin, long.1)),
            Racer::new("look", || Ok(timed(|| look(&of_long, long.1))?.1)),
            Racer::new("look, SQLite", || Ok(timed(|| look_there(&twin, long.1))?.1)),
        ],
    )?;
    of_short.close()?;
    of_long.close()?;
    Ok(times)
}

/// Starts both, and asks both when they are open.
pub fn run(folder: &Path, rounds: usize, short: (&Pair, NaiveDate), long: (&Pair, NaiveDate)) -> Outcome<Times> {
    let looks = look_at(rounds, short, long)?;
    let mut floor = Floor::new(folder)?;
    let starts = race(
        rounds,
        vec![
            Racer::new("F of starts", || floor.write(&[0; 140])),
            Racer::new("start", || ours(&long.0.book, long.1)),
            Racer::new("start, SQLite", || theirs(&long.0.twin, long.1)),
            Racer::new("opening", || {
                let (store, time) = timed(|| open(&long.0.book))?;
                store.close()?;
                Ok(time)
            }),
        ],
    )?;
    Ok(looks.and(starts))
}

/// What a start asks for.
pub struct Counts {
    /// Of the book, by opening it.
    pub opening: Count,
    /// Of the book, by the list of what is due.
    pub list: Count,
    /// Of the book, by one animal.
    pub animal: Count,
    /// Flushes of hand and book.
    pub flushes: u64,
}

/// Counts one start.
pub fn count(book: &Path, today: NaiveDate) -> Outcome<Counts> {
    let (hand, book) = (Meter::default(), settled(book)?);
    let (store, _) = Store::open(hand.medium(), book.medium(), &mut || Ok(SERIES))?;
    let opening = book.count();
    let (open, _) = store.open_items(None)?;
    due(&open, today);
    let listed = book.count();
    store.records(one(&open)?.0)?;
    Ok(Counts {
        opening,
        list: listed - opening,
        animal: book.count() - listed,
        flushes: opening.flushes + hand.count().flushes,
    })
}

/// Peak memory of a process that does nothing but one start, in MB; none where the system does not tell.
pub fn memory(book: &Path, today: NaiveDate) -> Outcome<Option<f64>> {
    let child = std::process::Command::new(std::env::current_exe()?)
        .args(["--start".as_ref(), book.as_os_str(), today.to_string().as_ref()])
        .output()?;
    let said = String::from_utf8(child.stdout)?;
    Ok(said.trim().parse::<f64>().ok().map(|kib| kib / 1024.0))
}

/// The child of [`memory`]: starts, and prints its peak in KiB.
pub fn child(book: &Path, today: NaiveDate) -> Outcome<()> {
    ours(book, today)?;
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let peak = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    println!("{}", peak.unwrap_or_default().trim_end_matches("kB").trim());
    Ok(())
}
