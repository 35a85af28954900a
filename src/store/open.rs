//! Opening a store: after a clean end, after a dead battery, and when hand and book do not belong together.

use super::Store;
use super::backup::before_upgrade;
use super::book::Book;
use super::copy::Snapshot;
use super::error::{Problem, StoreError};
use super::folder::Files;
use super::hand::Hand;
use super::medium::Medium;
use super::tables::{Taking, layout_words};
use super::take::Taken;
use crate::domain::ids::RecordId;
use std::path::PathBuf;

/// Where new series come from: 64 random bits, or a test's own.
pub type Source<'a> = &'a mut dyn FnMut() -> Result<u64, StoreError>;

/// 64 random bits from the system.
pub fn random() -> Result<u64, StoreError> {
    getrandom::u64().map_err(|error| StoreError::NoRandom(error.to_string()))
}

impl Store {
    /// Opens hand and book, making what is not there, and packs what a dead battery left in the hand.
    ///
    /// A new series is begun at first start, in a copy of a book, when the hand is lost, when hand and book are not of one
    /// piece, and when a taking-in broke off. What both hold is kept, and it is said.
    pub fn open(hand: Medium, book: Medium, source: Source<'_>) -> Result<(Store, Vec<Problem>), StoreError> {
        let was_empty = book.is_empty().then(|| Problem::WasEmpty(book.path()));
        let mut book = Book::open(book)?;
        let (hand, mut problems) = Hand::open(hand)?;
        problems.extend(was_empty);
        if book.facts.old_lists {
            problems.extend(copy_first(&book));
            book.rebuild()?;
        }
        let broke_off = book.facts.taking == Taking::UnderWay;
        problems.extend(broke_off.then_some(Problem::BrokeOff));
        let go = match go(&book, &hand) {
            // Numbers that it had given lie in the bytes of the file.
            Go::On(_) if broke_off => Go::Anew(None),
            go => go,
        };
        let mut store = Store { hand, book, book_failed: false, laid_out: false, series: RecordId::PRACTICE.series };
        let taken = match go {
            Go::On(series) => {
                store.series = series;
                store.pack()?
            }
            Go::Anew(problem) => {
                problems.extend(problem);
                store.begin_series(source)?
            }
        };
        problems.extend(taken.into_problems());
        Ok((store, problems))
    }

    /// Layout of the books that this program writes, and of their lists, in figures.
    pub fn layout() -> String {
        layout_words()
    }

    /// Takes in the hand and begins a series that neither file knows, as must be done after a restore or a rescue.
    ///
    /// The hand is told first: one that is empty and names a series that was never used is no contradiction when the
    /// battery goes in between.
    pub fn begin_series(&mut self, source: Source<'_>) -> Result<Taken, StoreError> {
        let series = self.unused(source)?;
        self.hand.make()?;
        let taken = self.take_hand()?;
        self.hand.empty(RecordId { series, seq: 1 })?;
        let file = self.book.file();
        self.book.say(|facts| {
            (facts.series, facts.file, facts.out) = (Some(series), file, true);
            if facts.taking == Taking::UnderWay {
                facts.taking = Taking::BrokeOff;
            }
        })?;
        self.series = series;
        self.laid_out = true;
        Ok(taken)
    }

    fn unused(&self, source: Source<'_>) -> Result<u64, StoreError> {
        /// Not one of these is known already, unless the source gives no random numbers.
        const TRIES: usize = 16;
        for _ in 0..TRIES {
            let series = source()?;
            // 0 is the practice's.
            let known = self.book.facts.runs.end(series) > 0 || self.hand.end(series) > 0;
            if series != RecordId::PRACTICE.series && !known {
                return Ok(series);
            }
        }
        Err(StoreError::NoRandom("it gives the same numbers again and again".to_owned()))
    }

    /// Makes the hand ready for presses: tells a new one what is due in it, then the book that there is one, since from now
    /// on it would be missed. Whoever only reads needs none, and pays no flush for it; the first press makes it too.
    pub fn lay_out(&mut self) -> Result<(), StoreError> {
        if self.laid_out {
            return Ok(());
        }
        self.hand.make()?;
        if self.hand.is_blank() {
            self.hand.empty(self.next_id())?;
        }
        if !self.book.facts.out {
            self.book.say(|facts| facts.out = true)?;
        }
        self.laid_out = true;
        Ok(())
    }
}

/// Copies a book of another layout beside itself before anything in it is written anew, and says so.
///
/// Lists are derived and could be made again from the same pages at any time. They are copied with the rest all the same: it
/// is the moment in which a fault of a new program would first meet an old book, and the copy takes a fraction of the time
/// that making the lists takes. For the same reason a copy that cannot be made keeps nobody from the book.
fn copy_first(book: &Book) -> Option<Problem> {
    let Medium::File(path) = book.medium() else { return None };
    let copy = || -> Result<PathBuf, String> {
        let (folder, name) = Files::of_book(path).map_err(|why| why.to_string())?;
        let of = Snapshot::of(book).map_err(|why| why.to_string())?;
        before_upgrade(of, &folder, &name).map_err(|why| why.to_string())
    };
    Some(match copy() {
        Ok(copy) => Problem::LaidOutAnew(copy),
        Err(why) => Problem::NotCopied(why),
    })
}

/// Whether a book may go on in its series.
enum Go {
    /// It may.
    On(u64),
    /// A new one must be begun, and this be said.
    Anew(Option<Problem>),
}

fn go(book: &Book, hand: &Hand) -> Go {
    let end = |series| book.facts.runs.end(series);
    let apart = |hand| Problem::Apart { book: book.facts.series.unwrap_or(0), hand };
    let Some(own) = book.facts.series else { return Go::Anew(hand.first().map(apart)) };
    if book.facts.file != book.file() {
        // A copy of a book at rest is a whole book: there is nothing to say.
        return Go::Anew(book.facts.out.then(|| Problem::Copied(book.path())));
    }
    if hand.is_blank() {
        return if book.facts.out { Go::Anew(Some(Problem::HandLost(hand.path()))) } else { Go::On(own) };
    }
    // What it names must be of this series and no further than the book reaches.
    let fits = |id: &RecordId| id.series == own && id.seq <= end(own).saturating_add(1);
    let named = [hand.first(), hand.due()].into_iter().flatten();
    match named.clone().find(|id| !fits(id)) {
        // Nothing is in it, and nothing of what was due in it went missing: a beginning that broke off.
        Some(due) if hand.first().is_none() && due.seq <= end(due.series).saturating_add(1) => Go::Anew(None),
        Some(id) => Go::Anew(Some(apart(id))),
        // A hand that ends before the book does is older than it; the keys of the newer one are not here.
        None if hand.reach(own) <= end(own) => Go::Anew(named.max().map(apart)),
        None => Go::On(own),
    }
}
