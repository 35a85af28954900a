//! The books that are compared, each with its twin in SQLite.

use crate::meter::Meter;
use crate::rounds::{Outcome, timed};
use crate::twin::Twin;
use crate::years::Plan;
use crushbook::store::Store;
use crushbook::store::medium::{Medium, hand_beside};
use std::path::{Path, PathBuf};

/// Series of all records, and of the stores themselves: as long in bytes as a random one.
pub const SERIES: u64 = 0x7c15_9e37_79b9_7f4a;

/// A book on disk and its twin.
pub struct Pair {
    /// The book.
    pub book: PathBuf,
    /// Its twin.
    pub twin: PathBuf,
    /// How many animals have something open.
    pub open: usize,
}

/// Opens a book with its hand.
pub fn open(book: &Path) -> Outcome<Store> {
    let (hand, book) = (Medium::File(hand_beside(book)), Medium::File(book.to_owned()));
    // A book that was typed into elsewhere begins another series here.
    let mut next = SERIES;
    let mut source = || {
        next += 1;
        Ok(next - 1)
    };
    Ok(Store::open(hand, book, &mut source)?.0)
}

/// Makes both, filled with a plan where there is one, and closes them.
pub fn make(folder: &Path, name: &str, plan: Option<Plan>) -> Outcome<Pair> {
    let book = folder.join(format!("{name}.redb"));
    let twin = folder.join(format!("{name}.sqlite"));
    let records = || plan.into_iter().flat_map(|plan| plan.records(SERIES));
    let mut store = open(&book)?;
    let (taken, time) = timed(|| Ok(store.take(&mut records().map(Ok))?))?;
    let (open, _) = store.open_items(None)?;
    store.close()?;
    let (_, twin_time) = timed(|| Twin::open(&twin)?.fill(records(), &open))?;
    // What still waits to be written would make every flush of the race slower.
    for file in [&book, &twin] {
        std::fs::File::open(file)?.sync_all()?;
    }
    let size = |file: &Path| std::fs::metadata(file).map_or(0, |found| found.len() / 1_000_000);
    println!(
        "{name}: {} records, {} animals with something open; {} MB in {:.1} s, SQLite {} MB in {:.1} s",
        taken.new,
        open.len(),
        size(&book),
        time.as_secs_f64(),
        size(&twin),
        twin_time.as_secs_f64()
    );
    Ok(Pair { book, twin, open: open.len() })
}

/// A book's bytes on a medium that counts. It is a copy, so a first start begins a new series in it; that one is not counted.
pub fn settled(book: &Path) -> Outcome<Meter> {
    let medium = Meter::of(std::fs::read(book)?);
    let (store, _) = Store::open(Meter::default().medium(), medium.medium(), &mut || Ok(SERIES + 1))?;
    store.close()?;
    Ok(medium.copy())
}
