//! Where bytes are kept: two redb files side by side.
//!
//! The *hand* takes each key press in one commit with one flush. The *book* holds what is packed: pages of whole records,
//! which are the truth and never rewritten, and lists folded from them, which can always be made again. Packing the hand
//! and joining another book are one operation, [`Store::take`].

pub mod backup;
mod book;
pub mod copy;
pub mod error;
mod farm;
pub mod folder;
pub mod fuzz;
mod hand;
pub mod lists;
pub mod medium;
pub mod open;
mod order;
pub mod other;
mod overlay;
mod refold;
pub mod rescue;
pub mod restore;
mod rows;
mod runs;
mod shelf;
pub mod shield;
mod tables;
pub mod take;
pub mod verify;

use crate::domain::ids::RecordId;
use crate::domain::record::Record;
use crate::wire::envelope::{Raw, encode};
use error::{Problem, StoreError, Told};
use refold::Note;
use take::{Taken, Watch};

/// A book with the hand beside it.
pub struct Store {
    hand: hand::Hand,
    book: book::Book,
    /// Whether the book could not be opened anew after an error.
    book_failed: bool,
    /// Whether the hand is ready for presses.
    laid_out: bool,
    series: u64,
}

impl Store {
    /// Writes one key press into the hand: one commit, one flush. A record that is on disk already, byte for byte, is not
    /// written again, so a press whose commit failed may simply be given again.
    ///
    /// Errors: `OutOfStep` unless the rest are numbered on from [`Store::next_id`]; `Unwritable`; `NotSaved`, after which
    /// the store must be reopened. In every case nothing or all of the press is on disk.
    pub fn append(&mut self, press: &[Record]) -> Result<(), StoreError> {
        let mut next = self.next_id();
        let mut fresh = Vec::with_capacity(press.len());
        for record in press {
            let raw = encode(record).map_err(|why| StoreError::Unwritable { id: record.id, why: why.to_string() })?;
            if self.hand.held().get(&raw.id) == Some(&raw) || self.book.holds(&raw)? {
                continue;
            }
            if raw.id != next {
                return Err(StoreError::OutOfStep { found: raw.id, next });
            }
            next.seq += 1;
            fresh.push(raw);
        }
        if fresh.is_empty() {
            return Ok(());
        }
        // What is written into a file that was deleted is saved as long as the program runs, and not a moment longer.
        self.book.in_place().and_then(|()| self.hand.in_place())?;
        self.lay_out().map_err(not_saved)?;
        self.hand.append(fresh)
    }

    /// Takes records into the book, from wherever they come: the only way in. What is held is dropped, other bytes of a
    /// name held are kept beside and reported, and the rows of everybody touched are folded again, in one commit.
    pub fn take(&mut self, from: &mut dyn Iterator<Item = Result<Raw, Problem>>) -> Result<Taken, StoreError> {
        self.take_watched(from, &mut |_| true)
    }

    /// The same for whoever waits: `watch` is told how far it is, and says whether to go on. Errors: `Stopped` where it says
    /// no; nothing is in the book then.
    pub fn take_watched(
        &mut self,
        from: &mut dyn Iterator<Item = Result<Raw, Problem>>,
        watch: Watch<'_>,
    ) -> Result<Taken, StoreError> {
        let Some((before, news)) = self.book.pass_over(from, watch)? else { return Err(StoreError::Stopped) };
        let Some(news) = news else {
            return Ok(before);
        };
        // They may go on from where the hand says that it goes on. Half-typed text would go with it.
        if self.hand.typed().is_empty() {
            self.rest()?
        } else {
            self.pack()?
        };
        self.book.take_much(before, &mut std::iter::once(news).chain(from), watch)
    }

    /// Packs, and takes the hand away, so that the book at rest is one file. One with rows that cannot be read stays.
    fn rest(&mut self) -> Result<Taken, StoreError> {
        let taken = self.pack()?;
        if self.hand.is_spent() {
            if self.book.facts.out {
                self.book.say(|facts| facts.out = false)?;
            }
            self.hand.put_away()?;
            self.laid_out = false;
        }
        Ok(taken)
    }

    /// Takes the hand into the book and then empties it: at sign-off, pause, quit and start.
    pub fn pack(&mut self) -> Result<Taken, StoreError> {
        if self.hand.held().is_empty() {
            return Ok(Taken::default());
        }
        let taken = self.take_hand()?;
        self.hand.empty(self.next_id())?;
        Ok(taken)
    }

    fn take_hand(&mut self) -> Result<Taken, StoreError> {
        let held: Vec<Raw> = self.hand.held().values().cloned().collect();
        if held.is_empty() {
            return Ok(Taken::default());
        }
        if self.book_failed {
            self.book.reopen()?;
        }
        let taken = self.book.take(&mut held.into_iter().map(Ok));
        // After an error redb neither writes nor reads until the file is opened anew, also when the trouble is long over.
        self.book_failed = taken.is_err() && self.book.reopen().is_err();
        taken
    }

    /// Every record tied to this animal, farm, or the practice, in the order of facts: book and hand, and the records of
    /// whoever was joined with it or had a turn moved. With whatever of them could not be read.
    pub fn records(&self, of: RecordId) -> Told<Record> {
        self.book.run(|book| {
            let view = book.view()?;
            let group = view.shelf(Some(self.hand.held())).group(of)?;
            let (records, mut problems) = group.records();
            let notes = view.transaction.open_table(tables::ROWS_OF)?;
            for (&subject, &found) in &group.counts {
                let note = notes.get(tables::id_bytes(subject).as_slice())?.map(|row| Note::decode(row.value()));
                let expected = note.unwrap_or_default().count;
                if expected > found {
                    problems.push(Problem::Missing { subject, expected, found });
                }
            }
            Ok((records, problems))
        })
    }

    /// Every record once, in the order of names and then of bytes, for export, backup, check and join: so books that hold the
    /// same records give the same. Not to be held while keys are typed.
    pub fn every(&self) -> Result<Box<dyn Iterator<Item = Result<Raw, Problem>> + '_>, StoreError> {
        Ok(Box::new(order::merge(self.book.every()?, self.hand.held().values())))
    }

    /// How many numbers the book holds; records that share one count once.
    pub fn count(&self) -> u64 {
        self.book.facts.runs.each().map(|(_, from, to)| to - from + 1).sum()
    }

    /// Numbers missing below the highest of each series: series, first, last. Another tablet may have them.
    pub fn gaps(&self) -> Vec<(u64, u64, u64)> {
        self.book.facts.runs.gaps()
    }

    /// Makes every list again from the pages.
    pub fn rebuild(&mut self) -> Result<(), StoreError> {
        self.book.rebuild()
    }

    /// The name of the next record.
    pub fn next_id(&self) -> RecordId {
        let end = self.book.facts.runs.end(self.series).max(self.hand.end(self.series));
        RecordId { series: self.series, seq: end + 1 }
    }

    /// The logical counter of the next press: above that of every record here.
    pub fn tick(&self) -> u64 {
        self.book.facts.tick.max(self.hand.tick()) + 1
    }

    /// The series this store writes in.
    pub fn series(&self) -> u64 {
        self.series
    }

    /// How many records are here.
    pub fn how_many(&self) -> u64 {
        let held = self.hand.held().len() as u64;
        self.book.facts.runs.each().fold(held, |sum, (_, from, to)| sum.saturating_add(to - from).saturating_add(1))
    }

    /// Half-typed text, as it was when the battery went.
    pub fn draft(&self) -> &str {
        self.hand.typed()
    }

    /// Keeps half-typed text.
    pub fn set_draft(&mut self, text: &str) -> Result<(), StoreError> {
        if text == self.hand.typed() {
            return Ok(());
        }
        self.lay_out().map_err(not_saved)?;
        self.hand.set_typed(text)
    }

    /// Opens both files again, as must be done after [`StoreError::NotSaved`]. The press that failed may be on disk after
    /// all: give it to [`Store::append`] again. A hand that is gone costs nothing: what it held goes into the book.
    pub fn reopen(&mut self) -> Result<Vec<Problem>, StoreError> {
        self.book.reopen()?;
        self.book_failed = false;
        self.laid_out = false;
        if self.hand.in_place().is_err() {
            self.take_hand()?;
            self.hand.forget();
            return Ok(Vec::new());
        }
        self.hand.reopen()
    }

    /// Packs, and closes both files. The hand's is taken away, so that the book at rest is one file. Text still half typed
    /// is given up.
    pub fn close(mut self) -> Result<Taken, StoreError> {
        let taken = self.rest()?;
        self.hand.close()?;
        self.book.close()?;
        Ok(taken)
    }

    fn book(&self) -> &book::Book {
        &self.book
    }

    fn hand(&self) -> &hand::Hand {
        &self.hand
    }
}

/// What kept a press from being written, whichever file it was.
fn not_saved(error: StoreError) -> StoreError {
    match error {
        StoreError::NotSaved { .. } => error,
        StoreError::Disk { path, why } | StoreError::Damaged { path, why } => StoreError::NotSaved { path, why },
        other => other,
    }
}
