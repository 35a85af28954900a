//! A copy of a book while it is worked with: what is in book and hand at one moment, written into a file of its own.
//!
//! [`Store::snapshot`] is taken by whoever holds the store and costs nothing; [`Snapshot::write`] may go on elsewhere while
//! keys are pressed and hands are packed. The copy is one transaction: before its end the file is no book at all.

use super::Store;
use super::book::{Book, Facts, make_lists, rows_of, write_facts};
use super::error::StoreError;
use super::hand::Hand;
use super::medium::{Medium, Memory};
use super::tables::{DERIVED, FORK, META, PAGE, Taking};
use super::take::{Taken, take_in};
use super::verify::Verdict;
use crate::domain::backup::Made;
use crate::domain::ids::RecordId;
use crate::wire::envelope::Raw;
use redb::{
    CursorError, Key, ReadTransaction, ReadableTable, Table, TableDefinition, TableError, Value, WriteTransaction,
};
use std::ops::Bound;
use std::path::PathBuf;

/// Written and flushed at a time, bytes. Whoever presses a key meanwhile waits for one of these at most; smaller ones make
/// the copy slower.
const PIECE: u64 = 512 << 10;

/// A book and its hand at one moment. The book's file grows while it is held.
pub struct Snapshot {
    book: PathBuf,
    transaction: ReadTransaction,
    hand: Vec<Raw>,
    /// Series the book wrote in.
    pub series: u64,
    /// Records in both.
    pub count: u64,
}

impl Store {
    /// What is in book and hand now: every press that was acknowledged.
    pub fn snapshot(&self) -> Result<Snapshot, StoreError> {
        let hand = self.hand.held().values().cloned().collect();
        Ok(Snapshot { hand, series: self.series, count: self.held(), ..Snapshot::of(&self.book)? })
    }

    /// Records in book and hand.
    pub fn held(&self) -> u64 {
        let runs = &self.book.facts.runs;
        let in_hand = self.hand.held().keys().filter(|id| !runs.holds(**id)).count();
        runs.count() + in_hand as u64
    }

    /// A book with no hand beside it, to be looked through and not written in.
    pub(super) fn alone(book: Book) -> Result<Store, StoreError> {
        let (hand, _) = Hand::open(Medium::memory(&Memory::default()))?;
        let series = book.facts.series.unwrap_or(RecordId::PRACTICE.series);
        Ok(Store { hand, book, book_failed: false, laid_out: false, series })
    }
}

impl Snapshot {
    /// What is in a book alone.
    pub(super) fn of(book: &Book) -> Result<Snapshot, StoreError> {
        let series = book.facts.series.unwrap_or(RecordId::PRACTICE.series);
        let count = book.facts.runs.count();
        Ok(Snapshot { book: book.path(), transaction: book.run(Book::reading)?, hand: Vec::new(), series, count })
    }

    /// Writes the copy as a book of its own, at rest, which knows of itself as the last backup where it is one.
    pub fn write(self, to: Medium, made: Option<Made>) -> Result<(), StoreError> {
        let (copy, path) = (Book::blank(to, PIECE)?, self.book.clone());
        copy.run(|book| {
            let transaction = book.begin_write()?;
            self.fill(&transaction, made)?;
            Ok(transaction.commit()?)
        })
        // What redb says of reading the one and of writing the other bears no name.
        .map_err(|why| match why {
            StoreError::Damaged { why, .. } => StoreError::Damaged { path, why },
            other => other,
        })?;
        copy.close()
    }

    fn fill(self, to: &WriteTransaction, made: Option<Made>) -> Result<(), redb::Error> {
        copy_table(&self.transaction, to, PAGE)?;
        copy_table(&self.transaction, to, FORK)?;
        copy_table(&self.transaction, to, META)?;
        for table in DERIVED {
            copy_table(&self.transaction, to, table)?;
        }
        // The book may go on growing into what it frees.
        drop(self.transaction);
        let mut facts = Facts::of(&rows_of(&to.open_table(META)?)?);
        let current = !facts.old_lists;
        if current {
            make_lists(to)?;
            take_in(to, &mut facts, Taken::default(), &mut self.hand.into_iter().map(Ok), &mut |_| true)?;
        }
        // Of no file yet, so that whoever goes on with it begins a new series; and nothing lies in its bytes but what it holds.
        (facts.file, facts.out, facts.backup) = (Vec::new(), false, made.or(facts.backup));
        facts.taking = Taking::Whole;
        write_facts(to, &facts)
    }
}

/// Copies one table; one that is not there is not made.
fn copy_table<K: Key, V: Value>(
    from: &ReadTransaction,
    to: &WriteTransaction,
    table: TableDefinition<'static, K, V>,
) -> Result<(), redb::Error> {
    let from = match from.open_table(table) {
        Err(TableError::TableDoesNotExist(_)) => return Ok(()),
        found => found?,
    };
    let mut to = to.open_table(table)?;
    if !in_order(&from, &mut to)? {
        for row in from.iter()? {
            let (key, value) = row?;
            to.insert(key.value(), value.value())?;
        }
    }
    Ok(())
}

/// Writes row behind row, which is the fast way. False where they are not in their order, as in a damaged file.
fn in_order<K: Key, V: Value>(from: &impl ReadableTable<K, V>, to: &mut Table<'_, K, V>) -> Result<bool, redb::Error> {
    let mut end = to.upper_bound_mut(Bound::<K::SelfType<'_>>::Unbounded)?;
    for row in from.iter()? {
        let (key, value) = row?;
        match end.insert_before(key.value(), value.value()) {
            Err(CursorError::Storage(why)) => return Err(why.into()),
            Err(_) => {
                end.close()?;
                return Ok(false);
            }
            Ok(()) => {}
        }
    }
    end.close()?;
    Ok(true)
}

/// Opens a copy and replays it; nothing is written that another program would notice.
pub(super) fn verify(copy: Medium) -> Result<Verdict, StoreError> {
    let mut store = Store::alone(Book::open(copy)?)?;
    let verdict = store.verify()?;
    store.book.close()?;
    Ok(verdict)
}
