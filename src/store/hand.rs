//! The hand: the key presses since the last packing, in a file of their own, so that a press costs one flush however
//! large the book is, and a dead battery is mended in a moment.

use super::error::{Problem, StoreError};
use super::medium::{Medium, broken, failed};
use super::shield::{BROKEN, shielded};
use super::tables::{DRAFT, LOG};
use crate::domain::ids::RecordId;
use crate::wire::envelope::Raw;
use redb::{Database, ReadableDatabase, ReadableTable, ReadableTableMetadata, TableHandle};
use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

/// Cache of the hand, bytes.
const CACHE: usize = 4 << 20;
/// Row of DRAFT with the half-typed text.
const TYPED: u8 = 0;
/// Row of DRAFT with the name that was due when the hand was last emptied: an old book beside it is noticed by this.
const DUE: u8 = 1;

/// Presses not packed yet. All of it is in memory too: it is a turn or two.
pub struct Hand {
    medium: Medium,
    db: Option<Database>,
    /// Tells the file that was opened from any other.
    mark: Option<Vec<u8>>,
    held: BTreeMap<RecordId, Raw>,
    spoiled: BTreeSet<RecordId>,
    typed: String,
    due: Option<RecordId>,
}

impl Hand {
    /// Opens the hand where there is one and reads what it holds; one that is not there is made by [`Hand::make`]. Rows that
    /// cannot be read stay where they are.
    pub fn open(medium: Medium) -> Result<(Hand, Vec<Problem>), StoreError> {
        let mut hand = Hand {
            medium,
            db: None,
            mark: None,
            held: BTreeMap::new(),
            spoiled: BTreeSet::new(),
            typed: String::new(),
            due: None,
        };
        let problems = if hand.medium.is_there()? { hand.reopen()? } else { Vec::new() };
        Ok((hand, problems))
    }

    /// Makes the file where it is not open yet.
    pub fn make(&mut self) -> Result<(), StoreError> {
        if self.db.is_none() { self.reopen().map(|_| ()) } else { Ok(()) }
    }

    /// Errors: the file that was opened lies there no more.
    pub fn in_place(&self) -> Result<(), StoreError> {
        self.mark.as_ref().map_or(Ok(()), |mark| self.medium.in_place(mark))
    }

    /// Forgets a file that is gone, once all it held is in the book.
    pub fn forget(&mut self) {
        shielded(|| drop(self.db.take()));
        (self.mark, self.due) = (None, None);
        self.held.clear();
        self.spoiled.clear();
        self.typed.clear();
    }

    /// Opens the file again, as must be done after a failed commit, and reads what is really there.
    ///
    /// What is read is written once more. A sync that failed may have left its bytes where programs see them and no battery
    /// may be pulled, and no later sync would tell (the behaviour of Linux described in Rebello et al. 2020, "Can
    /// applications recover from fsync failures?", USENIX ATC).
    pub fn reopen(&mut self) -> Result<Vec<Problem>, StoreError> {
        shielded(|| drop(self.db.take()));
        let db = self.medium.open(CACHE)?;
        let mut problems = Vec::new();
        let read = match self.guarded(|_| is_hand(&db)) {
            Ok(true) => self.guarded(|hand| hand.read(&db, &mut problems)),
            Ok(false) => Err(StoreError::NotABook(self.medium.path())),
            Err(error) => Err(error),
        };
        if let Err(error) = read {
            shielded(|| drop(db));
            return Err(error);
        }
        self.db = Some(db);
        self.mark = Some(self.medium.mark());
        if !self.is_blank() || !self.typed.is_empty() {
            self.write(|log, draft| write_again(log).and_then(|()| write_again(draft)))?;
        }
        Ok(problems)
    }

    fn read(&mut self, db: &Database, problems: &mut Vec<Problem>) -> Result<(), redb::Error> {
        self.held.clear();
        self.spoiled.clear();
        let transaction = db.begin_read()?;
        for row in transaction.open_table(LOG)?.iter()? {
            let (key, value) = row?;
            let (series, seq) = key.value();
            let id = RecordId { series, seq };
            let place = format!("record {id} beside the book");
            match Raw::parse(value.value()) {
                Ok(raw) if raw.id == id => {
                    self.held.insert(id, raw);
                    continue;
                }
                Ok(raw) => problems.push(Problem::Misplaced { place, found: format!("record {}", raw.id) }),
                Err(error) => problems.push(Problem::Unreadable { place, why: error.to_string() }),
            }
            self.spoiled.insert(id);
        }
        let draft = transaction.open_table(DRAFT)?;
        self.typed = draft.get(TYPED)?.map(|row| String::from_utf8_lossy(row.value()).into_owned()).unwrap_or_default();
        self.due = draft.get(DUE)?.and_then(|row| super::tables::last_id(row.value()));
        Ok(())
    }

    /// Writes records: one commit, one flush. Nothing is held that is not on disk.
    pub fn append(&mut self, raws: Vec<Raw>) -> Result<(), StoreError> {
        if raws.is_empty() {
            return Ok(());
        }
        self.write(|log, _| {
            for raw in &raws {
                log.insert((raw.id.series, raw.id.seq), &*raw.bytes)?;
            }
            Ok(())
        })?;
        self.held.extend(raws.into_iter().map(|raw| (raw.id, raw)));
        Ok(())
    }

    /// Lets go of everything that could be read, once it is in the book, and remembers which name is due next.
    pub fn empty(&mut self, due: RecordId) -> Result<(), StoreError> {
        let held = &self.held;
        self.write(|log, draft| {
            for id in held.keys() {
                log.remove((id.series, id.seq))?;
            }
            draft.insert(DUE, super::tables::id_bytes(due).as_slice())?;
            Ok(())
        })?;
        self.held.clear();
        self.due = Some(due);
        Ok(())
    }

    /// Keeps half-typed text, in one commit; nothing is written when it is the same.
    pub fn set_typed(&mut self, text: &str) -> Result<(), StoreError> {
        if self.typed == text {
            return Ok(());
        }
        self.write(|_, draft| draft.insert(TYPED, text.as_bytes()).map(drop))?;
        self.typed = text.to_owned();
        Ok(())
    }

    fn write(
        &self,
        change: impl FnOnce(
            &mut redb::Table<'_, (u64, u64), &'static [u8]>,
            &mut redb::Table<'_, u8, &'static [u8]>,
        ) -> Result<(), redb::StorageError>,
    ) -> Result<(), StoreError> {
        let path = self.medium.path();
        let Some(db) = &self.db else {
            return Err(StoreError::NotSaved { path, why: "it is not open".to_owned() });
        };
        let commit = || -> Result<(), redb::Error> {
            let transaction = db.begin_write()?;
            {
                let mut log = transaction.open_table(LOG)?;
                let mut draft = transaction.open_table(DRAFT)?;
                change(&mut log, &mut draft)?;
            }
            Ok(transaction.commit()?)
        };
        let done = shielded(commit).map(|done| done.map_err(|error| error.to_string()));
        done.unwrap_or_else(|| Err(BROKEN.to_owned())).map_err(|why| StoreError::NotSaved { path, why })
    }

    /// Half-typed text.
    pub fn typed(&self) -> &str {
        &self.typed
    }

    /// Records held, by name.
    pub fn held(&self) -> &BTreeMap<RecordId, Raw> {
        &self.held
    }

    /// Which name was due when the hand was last emptied.
    pub fn due(&self) -> Option<RecordId> {
        self.due
    }

    /// The lowest name here, read or not.
    pub fn first(&self) -> Option<RecordId> {
        self.held.keys().chain(&self.spoiled).min().copied()
    }

    /// The highest number of a series here, read or not; 0 where there is none.
    pub fn end(&self, series: u64) -> u64 {
        self.held.keys().chain(&self.spoiled).filter(|id| id.series == series).map(|id| id.seq).max().unwrap_or(0)
    }

    /// The next number of a series that this hand knows of; 0 where it knows none.
    pub fn reach(&self, series: u64) -> u64 {
        let due = self.due.filter(|due| due.series == series).map_or(0, |due| due.seq);
        match self.end(series) {
            0 => due,
            end => due.max(end.saturating_add(1)),
        }
    }

    /// Whether no record is here, read or not.
    pub fn is_spent(&self) -> bool {
        self.first().is_none()
    }

    /// Whether nothing was ever laid into it.
    pub fn is_blank(&self) -> bool {
        self.is_spent() && self.due.is_none()
    }

    /// Where it is.
    pub fn path(&self) -> PathBuf {
        self.medium.path()
    }

    /// The highest tick here.
    pub fn tick(&self) -> u64 {
        self.held.values().map(|raw| raw.tick).max().unwrap_or(0)
    }

    /// Closes the file.
    pub fn close(mut self) -> Result<(), StoreError> {
        match self.db.take() {
            Some(db) => self.guarded(|_| Ok(db.close()?)),
            None => Ok(()),
        }
    }

    /// Takes the file away, where it holds nothing any more.
    pub fn put_away(&mut self) -> Result<(), StoreError> {
        let Some(db) = self.db.take() else { return Ok(()) };
        self.guarded(|_| Ok(db.close()?))?;
        self.forget();
        self.medium.remove()
    }

    /// Does something with redb and says which file failed.
    fn guarded<T>(&mut self, work: impl FnOnce(&mut Hand) -> Result<T, redb::Error>) -> Result<T, StoreError> {
        let path = self.medium.path();
        shielded(|| work(self)).ok_or_else(|| broken(&path))?.map_err(|error| failed(&path, error))
    }
}

impl Drop for Hand {
    /// Closing a damaged file may panic too.
    fn drop(&mut self) {
        shielded(|| drop(self.db.take()));
    }
}

/// Takes every row out and puts it back, so that none of it lies in an older page.
fn write_again<K>(table: &mut redb::Table<'_, K, &'static [u8]>) -> Result<(), redb::StorageError>
where
    K: for<'k> redb::Key<SelfType<'k> = K> + 'static,
{
    let rows = table.iter()?.map(|row| row.map(|(key, value)| (key.value(), value.value().to_vec())));
    let rows = rows.collect::<Result<Vec<_>, redb::StorageError>>()?;
    table.retain(|_, _| false)?;
    for (key, value) in rows {
        table.insert(key, value.as_slice())?;
    }
    Ok(())
}

/// Whether the file is a hand; a new one is made into one.
fn is_hand(db: &Database) -> Result<bool, redb::Error> {
    let names: Vec<String> = db.begin_read()?.list_tables()?.map(|table| table.name().to_owned()).collect();
    if names.iter().any(|name| name == LOG.name()) {
        return Ok(true);
    }
    if !names.is_empty() {
        return Ok(false);
    }
    let transaction = db.begin_write()?;
    transaction.open_table(LOG)?.len()?;
    transaction.open_table(DRAFT)?.len()?;
    transaction.commit()?;
    Ok(true)
}
