//! The book: what is packed. Opens it, knows what it holds, and owns the one way to begin writing in it.

use super::error::{Problem, StoreError};
use super::medium::{Medium, broken, failed};
use super::order::Records;
use super::runs::Runs;
use super::shelf::{Shelf, page};
use super::shield::{BROKEN, each, shielded};
use super::tables::{self, DERIVED, FORK, LAYOUT, MARK, META, PAGE, PAGE_OF, Taking, meta};
use crate::domain::backup::Made;
use crate::domain::ids::RecordId;
use crate::wire::envelope::Raw;
use crate::wire::tally::tally;
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
    /// Tells the file that was opened from any other.
    mark: Option<Vec<u8>>,
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
    /// The last good backup.
    pub backup: Option<Made>,
    /// What is known of takings-in that ended too soon.
    pub taking: Taking,
    /// Whether the lists were laid out by another program than this one.
    pub old_lists: bool,
}

impl Facts {
    /// What the rows of META say.
    pub fn of(rows: &BTreeMap<u16, Vec<u8>>) -> Facts {
        let number = |key: u16| rows.get(&key).and_then(|row| tables::number(row));
        let runs = rows.get(&meta::RUNS).map_or(Some(Runs::default()), |row| Runs::decode(row));
        Facts {
            series: number(meta::SERIES),
            old_lists: runs.is_none() || rows.get(&meta::LISTS).map(Vec::as_slice) != Some(&tables::lists_layout()),
            runs: runs.unwrap_or_default(),
            tick: number(meta::TICK).unwrap_or(0),
            file: rows.get(&meta::FILE).cloned().unwrap_or_default(),
            out: rows.get(&meta::OUT).is_some_and(|row| row == &[1]),
            backup: rows.get(&meta::BACKUP).and_then(|row| tables::backup(row)),
            taking: Taking::of(rows.get(&meta::TAKING).map(Vec::as_slice)),
        }
    }
}

/// Every row of META.
pub fn rows_of(table: &impl ReadableTable<u16, &'static [u8]>) -> Result<BTreeMap<u16, Vec<u8>>, redb::StorageError> {
    table.iter()?.map(|row| row.map(|(key, value)| (key.value(), value.value().to_vec()))).collect()
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
        let mut book = Book { medium, db: None, mark: None, facts: Facts::default() };
        book.reopen()?;
        Ok(book)
    }

    /// Errors: the file that was opened lies there no more.
    pub fn in_place(&self) -> Result<(), StoreError> {
        self.mark.as_ref().map_or(Ok(()), |mark| self.medium.in_place(mark))
    }

    /// A new file with no book in it yet, flushed piece by piece while it is filled.
    pub fn blank(medium: Medium, piece: u64) -> Result<Book, StoreError> {
        let db = Some(medium.open_in_pieces(CACHE, piece)?);
        Ok(Book { medium, db, mark: None, facts: Facts::default() })
    }

    /// Opens the book of somebody else, from a medium that nothing is written to: what is no book is not made one, and its
    /// lists stay as they are.
    pub fn open_other(medium: Medium) -> Result<Book, StoreError> {
        let mut book = Book { medium, db: None, mark: None, facts: Facts::default() };
        book.db = Some(book.medium.open(CACHE)?);
        book.facts = book.read_facts()?;
        Ok(book)
    }

    /// Opens the file again, as must be done after a failed commit. None is made in the place of one that is gone.
    pub fn reopen(&mut self) -> Result<(), StoreError> {
        self.in_place()?;
        shielded(|| drop(self.db.take()));
        self.db = Some(self.medium.open(CACHE)?);
        self.mark = Some(self.medium.mark());
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
            Ok(Some(rows_of(&table)?))
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
        Ok(Facts::of(&rows))
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

    /// The book as it is now, whatever its tables are. Not to be held longer than it takes to copy it.
    pub fn reading(&self) -> Result<ReadTransaction, redb::Error> {
        Ok(self.database()?.begin_read()?)
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

    /// What it is kept on.
    pub fn medium(&self) -> &Medium {
        &self.medium
    }

    /// Where it is.
    pub fn path(&self) -> PathBuf {
        self.medium.path()
    }

    /// Runs something on the database and says which file failed.
    pub fn run<T>(&self, work: impl FnOnce(&Book) -> Result<T, redb::Error>) -> Result<T, StoreError> {
        let path = self.medium.path();
        shielded(|| work(self)).ok_or_else(|| broken(&path))?.map_err(|error| failed(&path, error))
    }

    /// redb's own check of every page's checksum. False where the file fails it, whether or not redb found an earlier state
    /// that holds.
    pub fn check_pages(&mut self) -> Result<bool, StoreError> {
        let path = self.medium.path();
        let closed = || redb::Error::DatabaseClosed;
        let db = self.db.as_mut().ok_or_else(closed).map_err(|error| failed(&path, error))?;
        match shielded(|| db.check_integrity()) {
            None | Some(Err(redb::DatabaseError::Storage(redb::StorageError::Corrupted(_)))) => Ok(false),
            Some(sound) => sound.map_err(|error| failed(&path, error)),
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
        let pages = until_broken(pages).flat_map(move |row| {
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
        let forks = until_broken(forks).flat_map(move |row| {
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
        let last = || Err(Problem::Unreadable { place: "a part of the book".to_owned(), why: BROKEN.to_owned() });
        Ok([Box::new(each(pages, last)), Box::new(each(forks, last))])
    }

    /// Closes the file.
    pub fn close(mut self) -> Result<(), StoreError> {
        let path = self.medium.path();
        let Some(db) = self.db.take() else { return Ok(()) };
        shielded(|| db.close()).ok_or_else(|| broken(&path))?.map_err(|error| failed(&path, error))
    }

    fn database(&self) -> Result<&Database, redb::Error> {
        self.db.as_ref().ok_or(redb::Error::DatabaseClosed)
    }
}

impl Drop for Book {
    /// Closing a damaged file may panic too.
    fn drop(&mut self) {
        shielded(|| drop(self.db.take()));
    }
}

/// Rows up to the first that the file does not give, and that: redb would say the same of it again and again.
fn until_broken<T, E>(rows: impl Iterator<Item = Result<T, E>>) -> impl Iterator<Item = Result<T, E>> {
    let mut broken = false;
    rows.take_while(move |row| !std::mem::replace(&mut broken, row.is_err()))
}

/// Makes every derived table that is not there.
pub fn make_lists(transaction: &WriteTransaction) -> Result<(), redb::Error> {
    for table in DERIVED {
        transaction.open_table(table)?.len()?;
    }
    transaction.open_table(META)?.insert(meta::LISTS, tables::lists_layout().as_slice())?;
    Ok(())
}

/// Writes what the book says about itself, and for a rescue which numbers it holds.
pub fn write_facts(transaction: &WriteTransaction, facts: &Facts) -> Result<(), redb::Error> {
    write_uncounted(transaction, facts)?;
    transaction.open_table(META)?.insert(meta::TALLY, tally(facts.runs.each()).as_slice())?;
    Ok(())
}

/// The same without those numbers.
pub fn write_uncounted(transaction: &WriteTransaction, facts: &Facts) -> Result<(), redb::Error> {
    let mut table = transaction.open_table(META)?;
    if let Some(series) = facts.series {
        table.insert(meta::SERIES, series.to_le_bytes().as_slice())?;
    }
    table.insert(meta::RUNS, facts.runs.encode().as_slice())?;
    table.insert(meta::TICK, facts.tick.to_le_bytes().as_slice())?;
    table.insert(meta::FILE, facts.file.as_slice())?;
    table.insert(meta::OUT, [u8::from(facts.out)].as_slice())?;
    if let Some(made) = facts.backup {
        table.insert(meta::BACKUP, tables::backup_bytes(made).as_slice())?;
    }
    match facts.taking.row() {
        Some(row) => drop(table.insert(meta::TAKING, [row].as_slice())?),
        None => drop(table.remove(meta::TAKING)?),
    }
    Ok(())
}
