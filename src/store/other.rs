//! Another book, read for joining: not a byte of it is changed, and whatever is wrong with it ends in a sentence.

use super::book::Book;
use super::error::{Problem, StoreError};
use super::hand::Hand;
use super::medium::{Medium, hand_beside};
use super::order::{Records, merge};
use crate::wire::envelope::Raw;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;

/// Another book, and the keys that wait beside it.
pub struct Other {
    book: Book,
    hand: Option<Hand>,
    /// What was wrong on the way.
    pub problems: Vec<Problem>,
}

impl Other {
    /// Opens the book in that file, and the hand where one lies beside it. Errors: those of a book.
    pub fn open(path: &Path) -> Result<Other, StoreError> {
        let book = Book::open_other(Medium::Kept(path.to_owned()))?;
        let mut problems = Vec::new();
        let place = hand_beside(path);
        let hand = match place.exists().then(|| Hand::open(Medium::Kept(place.clone()))) {
            Some(Ok((hand, wrong))) => {
                problems.extend(wrong);
                Some(hand)
            }
            Some(Err(why)) => {
                let why = format!("the keys in it were not read: {why}");
                problems.push(Problem::Given { place: place.display().to_string(), why });
                None
            }
            None if book.facts.out => {
                let why = "an animal was still in the crush there, and this file with her keys is not beside the book. Leave \
                           crushbook on that tablet, or bring this file too, and join again"
                    .to_owned();
                problems.push(Problem::Given { place: place.display().to_string(), why });
                None
            }
            None => None,
        };
        Ok(Other { book, hand, problems })
    }

    /// How many records wait beside the book.
    pub fn waiting(&self) -> usize {
        self.hand.as_ref().map_or(0, |hand| hand.held().len())
    }

    /// How many records it holds, as it says itself.
    pub fn count(&self) -> u64 {
        let packed: u64 = self.book.facts.runs.each().map(|(_, from, to)| (to - from).saturating_add(1)).sum();
        packed + self.waiting() as u64
    }

    /// Every record once. Where the file does not hold together they end with a problem.
    pub fn every(&self) -> Result<Records<'_>, StoreError> {
        let hand = self.hand.iter().flat_map(|hand| hand.held().values());
        Ok(Box::new(Careful(Some(merge(self.book.every()?, hand)))))
    }
}

/// A damaged file can make redb panic; that must not take our own book down with it.
struct Careful<'r>(Option<Records<'r>>);

impl Iterator for Careful<'_> {
    type Item = Result<Raw, Problem>;
    fn next(&mut self) -> Option<Result<Raw, Problem>> {
        let records = self.0.as_mut()?;
        match catch_unwind(AssertUnwindSafe(|| records.next())) {
            Ok(next) => next,
            Err(_) => {
                self.0 = None;
                let why = "its structure does not hold together".to_owned();
                Some(Err(Problem::Unreadable { place: "the rest of the other book".to_owned(), why }))
            }
        }
    }
}
