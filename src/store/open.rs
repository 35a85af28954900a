//! Opening a store: after a clean end, after a dead battery, and when hand and book do not belong together.

use super::Store;
use super::book::Book;
use super::error::{Problem, StoreError};
use super::hand::Hand;
use super::medium::Medium;
use crate::domain::ids::RecordId;

/// Where new series come from: 64 random bits, or a test's own.
pub type Source<'a> = &'a mut dyn FnMut() -> Result<u64, StoreError>;

/// 64 random bits from the system.
pub fn random() -> Result<u64, StoreError> {
    getrandom::u64().map_err(|error| StoreError::NoRandom(error.to_string()))
}

impl Store {
    /// Opens hand and book, making what is not there, and packs what a dead battery left in the hand.
    ///
    /// A new series is begun at first start, and when hand and book are not of one piece: both are kept, and it is said.
    pub fn open(hand: Medium, book: Medium, source: Source<'_>) -> Result<(Store, Vec<Problem>), StoreError> {
        let mut book = Book::open(book)?;
        let (hand, mut problems) = Hand::open(hand)?;
        if book.facts.old_lists {
            book.rebuild()?;
        }
        let apart = apart(&book, &hand);
        let series = match (book.facts.series, apart) {
            (Some(series), None) => series,
            (own, apart) => {
                problems.extend(apart.map(|hand| Problem::Apart { book: own.unwrap_or(0), hand }));
                begin(&mut book, &hand, source)?
            }
        };
        let mut store = Store { hand, book, series };
        problems.extend(store.pack()?.into_problems());
        Ok((store, problems))
    }

    /// Begins a new series, as must be done after a restore or a rescue.
    pub fn begin_series(&mut self, source: Source<'_>) -> Result<(), StoreError> {
        self.series = begin(&mut self.book, &self.hand, source)?;
        Ok(())
    }
}

/// Begins a series that neither file knows.
fn begin(book: &mut Book, hand: &Hand, source: Source<'_>) -> Result<u64, StoreError> {
    loop {
        let series = source()?;
        // 0 is the practice's.
        if series != RecordId::PRACTICE.series && book.facts.runs.end(series) == 0 && hand.end(series) == 0 {
            book.set_series(series)?;
            return Ok(series);
        }
    }
}

/// What the hand names that does not belong to this book: another series, or a number that the book does not reach.
fn apart(book: &Book, hand: &Hand) -> Option<RecordId> {
    let own = book.facts.series;
    let fits = |id: &RecordId| own == Some(id.series) && id.seq <= book.facts.runs.end(id.series).saturating_add(1);
    [hand.first(), hand.due()].into_iter().flatten().find(|id| !fits(id))
}
