//! One order for all records of a book, wherever in it they lie: by name, then by checksum. Which of two records of a name
//! lies in a page is a matter of which came first; nobody outside may notice.

use super::error::Problem;
use crate::wire::envelope::Raw;
use std::iter::Peekable;

/// Records, and what was wrong between them.
pub type Records<'r> = Box<dyn Iterator<Item = Result<Raw, Problem>> + 'r>;

/// Merges the records of a book and of a hand, each of them in that order. What both hold comes once.
pub fn merge<'r>(book: [Records<'static>; 2], hand: impl Iterator<Item = &'r Raw> + 'r) -> Records<'r> {
    let [pages, forks] = book;
    let hand: Records<'r> = Box::new(hand.cloned().map(Ok));
    Box::new(Merged([pages, forks, hand].map(Iterator::peekable)))
}

struct Merged<'r>([Peekable<Records<'r>>; 3]);

impl Iterator for Merged<'_> {
    type Item = Result<Raw, Problem>;
    fn next(&mut self) -> Option<Result<Raw, Problem>> {
        let mut least = None;
        for (index, records) in self.0.iter_mut().enumerate() {
            let key = match records.peek() {
                None => continue,
                Some(Err(_)) => return records.next(),
                Some(Ok(raw)) => (raw.id, raw.crc()),
            };
            if least.is_none_or(|(_, other)| key < other) {
                least = Some((index, key));
            }
        }
        let next = self.0[least?.0].next();
        for records in &mut self.0 {
            records.next_if(|other| Some(other) == next.as_ref());
        }
        next
    }
}
