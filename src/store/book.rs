//! The book: what is packed. Opens it, knows what it holds, and owns the one way to begin writing in it.

use super::error::{Problem, StoreError};
use super::medium::{Medium, failed};
use super::order::Records;
use super::runs::Runs;
use super::shelf::{Shelf, page};
use super::tables::{self, FORK, LAYOUT, LISTS, MARK, META, PAGE, PAGE_OF, ROWS_OF, meta};
use crate::domain::ids::RecordId;
use crate::wire::envelope::Raw;
use redb::{
    Database, ReadOnlyTable, ReadTransaction, ReadableDatabase, ReadableTable, ReadableTableMetadata, WriteTransaction,
};
use std::collections::BTreeMap;
use std::path::PathBuf;

/// Cache of the book, bytes: redb's own default is a gibibyte.
const CACHE: usize = 8 << 20;

/// An open book.
pub struct Book {
    medium: Medium,
    db: Option<Database>,
    /// What META says.
    pub facts: Facts,
}

/// What a book says about itself.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Facts {
    /// Own series; none before the first start ended.
    pub series: Option<u64>,
    /// Numbers held of each series.
    pub runs: Runs,
    /// Highest tick of any record held.
    pub tick: u64,
    /// Which file this was when its series was begun.
    pub file: Vec<u8>,
    /// Whether a hand lies beside it: if none does, it is lost.
    pub out: bool,
    /// Whether the lists were laid out by another program than this one.
    pub old_lists: bool,
}

/// Tables of truth in one view of the book.
pub struct View {
    page: ReadOnlyTable<(u64, u64), &'static [u8]>,
    fork: ReadOnlyTable<(u64, u64, u32), &'static [u8]>,
    page_of: ReadOnlyTable<&'static [u8], &'static [u8]>,
    /// The transaction, for the lists.
    pub transaction: ReadTransaction,
}

type ReadShelf<'a> = Shelf<
    'a,
    ReadOnlyTable<(u64, u64), &'static [u8]>,
    ReadOnlyTable<(u64, u64, u32), &'static [u8]>,
    ReadOnlyTable<&'static [u8], &'static [u8]>,
>;

impl View {
    /// The records of this view, with the hand over them.
    pub fn shelf<'a>(&'a self, hand: Option<&'a BTreeMap<RecordId, Raw>>) -> ReadShelf<'a> {
        Shelf { page: &self.page, fork: &self.fork, page_of: &self.page_of, hand }
    }
}

impl Book {
    /// Opens the book and makes it where it is new.
    pub fn open(medium: Medium) -> Result<Book, StoreError> {
        let mut book = Book { medium, db: None, facts: Facts::default() };
        book.reopen()?;
        Ok(book)
    }

    /// Opens the book of somebody else, from a medium that nothing is written to: what is no book is not made one, and its
    /// lists stay as they are.
    pub fn open_other(medium: Medium) -> Result<Book, StoreError> {
        let mut book = Book { medium, db: None, facts: Facts::default() };
        book.db = Some(book.medium.open(CACHE)?);
        book.facts = book.read_facts()?;
        Ok(book)
    }

    /// Opens the file again, as must be done after a failed commit.
    pub fn reopen(&mut self) -> Result<(), StoreError> {
        self.db = None;
        self.db = Some(self.medium.open(CACHE)?);
        if self.run(|book| Ok(book.database()?.begin_read()?.list_tables()?.next().is_none()))? {
            self.run(Book::make)?;
        }
        self.facts = self.read_facts()?;
        Ok(())
    }

    fn make(&self) -> Result<(), redb::Error> {
        let transaction = self.begin_write()?;
        transaction.open_table(PAGE)?.len()?;
        transaction.open_table(FORK)?.len()?;
        make_lists(&transaction)?;
        {
            let mut facts = transaction.open_table(META)?;
            facts.insert(meta::MARK, MARK)?;
            facts.insert(meta::LAYOUT, LAYOUT.to_le_bytes().as_slice())?;
        }
        Ok(transaction.commit()?)
    }

    fn read_facts(&self) -> Result<Facts, StoreError> {
        let path = self.medium.path();
        let rows = self.run(|book| {
            let transaction = book.database()?.begin_read()?;
            let table = match transaction.open_table(META) {
                Err(redb::TableError::TableDoesNotExist(_) | redb::TableError::TableTypeMismatch { .. }) => {
                    return Ok(None);
                }
                table => table?,
            };
            let mut rows = BTreeMap::new();
            for row in table.iter()? {
                let (key, value) = row?;
                rows.insert(key.value(), value.value().to_vec());
            }
            Ok(Some(rows))
        })?;
        let rows = rows.unwrap_or_default();
        let small = |key: u16| rows.get(&key).and_then(|row| Some(u32::from_le_bytes(row.as_slice().try_into().ok()?)));
        if rows.get(&meta::MARK).map(Vec::as_slice) != Some(MARK) {
            return Err(StoreError::NotABook(path));
        }
        match small(meta::LAYOUT) {
            Some(LAYOUT) => {}
            Some(found) if found > LAYOUT => return Err(StoreError::Newer { path, found, known: LAYOUT }),
            _ => return Err(StoreError::Damaged { path, why: "its layout number cannot be read".to_owned() }),
        }
        let number = |key: u16| rows.get(&key).and_then(|row| tables::number(row));
        let runs = rows.get(&meta::RUNS).map_or(Some(Runs::default()), |row| Runs::decode(row));
        Ok(Facts {
            series: number(meta::SERIES),
            old_lists: runs.is_none() || rows.get(&meta::LISTS).map(Vec::as_slice) != Some(&tables::lists_layout()),
            runs: runs.unwrap_or_default(),
            tick: number(meta::TICK).unwrap_or(0),
            file: rows.get(&meta::FILE).cloned().unwrap_or_default(),
            out: rows.get(&meta::OUT).is_some_and(|row| row == &[1]),
        })
    }

    /// The one way to begin writing: with quick repair, so that opening after a dead battery reads a few pages, however
    /// large the book is.
    pub fn begin_write(&self) -> Result<WriteTransaction, redb::Error> {
        let mut transaction = self.database()?.begin_write()?;
        transaction.set_quick_repair(true);
        Ok(transaction)
    }

    /// A view of the book as it is now. Not to be held: while one is, the file grows.
    pub fn view(&self) -> Result<View, redb::Error> {
        let transaction = self.database()?.begin_read()?;
        Ok(View {
            page: transaction.open_table(PAGE)?,
            fork: transaction.open_table(FORK)?,
            page_of: transaction.open_table(PAGE_OF)?,
            transaction,
        })
    }

    /// Changes what the book says about itself.
    pub fn say(&mut self, change: impl FnOnce(&mut Facts)) -> Result<(), StoreError> {
        let mut facts = self.facts.clone();
        change(&mut facts);
        self.run(|book| {
            let transaction = book.begin_write()?;
            write_facts(&transaction, &facts)?;
            Ok(transaction.commit()?)
        })?;
        self.facts = facts;
        Ok(())
    }

    /// What the file system tells this file from a copy of it by.
    pub fn file(&self) -> Vec<u8> {
        self.medium.mark()
    }

    /// Where it is.
    pub fn path(&self) -> PathBuf {
        self.medium.path()
    }

    /// Runs something on the database and says which file failed.
    pub fn run<T>(&self, work: impl FnOnce(&Book) -> Result<T, redb::Error>) -> Result<T, StoreError> {
        work(self).map_err(|error| failed(&self.medium.path(), error))
    }

    /// redb's own check of every page's checksum. False where the file fails it, whether or not redb found an earlier state
    /// that holds.
    pub fn check_pages(&mut self) -> Result<bool, StoreError> {
        let path = self.medium.path();
        let closed = || redb::Error::DatabaseClosed;
        let db = self.db.as_mut().ok_or_else(closed).map_err(|error| failed(&path, error))?;
        match db.check_integrity() {
            Err(redb::DatabaseError::Storage(redb::StorageError::Corrupted(_))) => Ok(false),
            sound => sound.map_err(|error| failed(&path, error)),
        }
    }

    /// Whether this very record is in the book, byte for byte.
    pub fn holds(&self, raw: &Raw) -> Result<bool, StoreError> {
        if !self.facts.runs.holds(raw.id) {
            return Ok(false);
        }
        self.run(|book| {
            let view = book.view()?;
            let shelf = view.shelf(None);
            let key = (raw.id.series, raw.id.seq);
            let page = shelf.cover(key)?.unwrap_or(key);
            Ok(shelf.read(page, &mut Vec::new())?.iter().any(|held| held == raw))
        })
    }

    /// Every record: those of the pages, and the other bytes of names, each in the order of names.
    pub fn every(&self) -> Result<[Records<'static>; 2], StoreError> {
        let (pages, forks) = self.run(|book| {
            let view = book.view()?;
            Ok((view.page.range::<(u64, u64)>(..)?, view.fork.range::<(u64, u64, u32)>(..)?))
        })?;
        let broken = |error: redb::StorageError| Problem::Unreadable {
            place: "a part of the book".to_owned(),
            why: error.to_string(),
        };
        let pages = pages.flat_map(move |row| {
            let mut problems = Vec::new();
            let raws = match row {
                Ok((key, bytes)) => page(key.value(), bytes.value(), &mut problems),
                Err(error) => {
                    problems.push(broken(error));
                    Vec::new()
                }
            };
            raws.into_iter().map(Ok).chain(problems.into_iter().map(Err)).collect::<Vec<_>>()
        });
        let forks = forks.flat_map(move |row| {
            let mut problems = Vec::new();
            let raw = match row {
                Ok((key, bytes)) => {
                    let (series, seq, _) = key.value();
                    super::shelf::fork(RecordId { series, seq }, bytes.value(), &mut problems)
                }
                Err(error) => {
                    problems.push(broken(error));
                    None
                }
            };
            raw.map(Ok).into_iter().chain(problems.into_iter().map(Err)).collect::<Vec<_>>()
        });
        Ok([Box::new(pages), Box::new(forks)])
    }

    /// Closes the file.
    pub fn close(mut self) -> Result<(), StoreError> {
        let path = self.medium.path();
        self.db.take().map_or(Ok(()), |db| db.close().map_err(|error| failed(&path, error)))
    }

    fn database(&self) -> Result<&Database, redb::Error> {
        self.db.as_ref().ok_or(redb::Error::DatabaseClosed)
    }
}

/// Makes every derived table that is not there.
pub fn make_lists(transaction: &WriteTransaction) -> Result<(), redb::Error> {
    for table in [PAGE_OF, ROWS_OF].into_iter().chain(LISTS.map(|list| list.2)) {
        transaction.open_table(table)?.len()?;
    }
    transaction.open_table(META)?.insert(meta::LISTS, tables::lists_layout().as_slice())?;
    Ok(())
}

/// Writes what the book says about itself.
pub fn write_facts(transaction: &WriteTransaction, facts: &Facts) -> Result<(), redb::Error> {
    let mut table = transaction.open_table(META)?;
    if let Some(series) = facts.series {
        table.insert(meta::SERIES, series.to_le_bytes().as_slice())?;
    }
    table.insert(meta::RUNS, facts.runs.encode().as_slice())?;
    table.insert(meta::TICK, facts.tick.to_le_bytes().as_slice())?;
    table.insert(meta::FILE, facts.file.as_slice())?;
    table.insert(meta::OUT, [u8::from(facts.out)].as_slice())?;
    Ok(())
}
