//! What things cost, counted: flushes, reads, repairs, bytes. No clock is asked, so it holds on any machine.
//!
//! The same practice is kept twice: in a small book, and in one that holds seven times as many records of other farms. What
//! costs more in the large one than a tree that is a level higher costs what the book holds.

mod book;
mod picture;
mod press;
mod reads;
mod writes;

use crate::support::meter::{Count, Meter};
use crate::support::years::{Plan, TEN_YEARS};
use crushbook::store::Store;
use std::sync::OnceLock;

/// The practice that is asked about.
const OURS: Plan = Plan { farms: 4, herd: 40, years: 1, found: 450, ..TEN_YEARS };
/// Other farms, seven times as large, without anything open.
const OTHERS: Plan = Plan { farms: 28, found: 0, seed: 2, ..OURS };
/// Series of both.
const SERIES: [u64; 2] = [7, 8];

/// A machine with hand and book.
#[derive(Clone, Default)]
struct Machine {
    hand: Meter,
    book: Meter,
}

impl Machine {
    fn open(&self) -> Store {
        let mut source = || Ok(99);
        let (store, problems) =
            Store::open(self.hand.medium(), self.book.medium(), &mut source).expect("the store opens");
        assert_eq!(problems, []);
        store
    }

    /// What is on its disks, for a program that may write there without anybody seeing it.
    fn copy(&self) -> Machine {
        Machine { hand: self.hand.copy(), book: self.book.copy() }
    }

    /// What a piece of work asks of the book.
    fn book_cost<T>(&self, work: impl FnOnce() -> T) -> (T, Count) {
        let before = self.book.count();
        let done = work();
        (done, self.book.count() - before)
    }
}

/// A book with these plans taken in, closed.
fn filled(plans: &[(Plan, u64)]) -> Machine {
    let machine = Machine::default();
    let mut store = machine.open();
    for (plan, series) in plans {
        let taken = store.take(&mut plan.records(*series).map(Ok)).expect("the book takes records");
        assert!(taken.problems.is_empty() && taken.new > 0, "{taken:?}");
    }
    store.close().expect("closes");
    machine
}

/// A book with nothing in it.
fn empty() -> Machine {
    filled(&[])
}

/// The small book.
fn small() -> Machine {
    static MADE: OnceLock<Machine> = OnceLock::new();
    MADE.get_or_init(|| filled(&[(OURS, SERIES[0])])).copy()
}

/// The large book.
fn large() -> Machine {
    static MADE: OnceLock<Machine> = OnceLock::new();
    MADE.get_or_init(|| filled(&[(OURS, SERIES[0]), (OTHERS, SERIES[1])])).copy()
}
