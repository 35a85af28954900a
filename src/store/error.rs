//! What can go wrong with a store, said in sentences: what, where, and what to do next.
//!
//! A [`StoreError`] ends the operation. A [`Problem`] is one thing that was wrong on the way: reading many things hands
//! back what could be read together with its problems, and never stops at the first.

use crate::domain::ids::RecordId;
use std::path::PathBuf;

/// Why a store could not do what it was asked.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// Another program holds the lock.
    #[error(
        "This book is already open in another crushbook window ({}). Go on in that window, or close it and try again.",
        .0.display()
    )]
    InUse(PathBuf),
    /// The path is a folder.
    #[error("{} is a folder, not a book. Name a file in it: --book {}", .0.display(), .0.join("my.book").display())]
    IsFolder(PathBuf),
    /// The file, or its folder, may not be written.
    #[error(
        "{} cannot be written: you may read it at most. Ask its owner for the right to write, or name another file with --book.",
        .0.display()
    )]
    ReadOnly(PathBuf),
    /// The file holds something else.
    #[error("{} is not a book of this program. Nothing in it was changed. Name another file with --book.", .0.display())]
    NotABook(PathBuf),
    /// The file was laid out by a newer program.
    #[error(
        "{} was written by a newer crushbook (layout {found}; this one knows up to {known}). Nothing in it was changed. \
         Open it with the newer program.",
        .path.display()
    )]
    Newer {
        /// The file.
        path: PathBuf,
        /// Its layout number.
        found: u32,
        /// The newest layout number this program knows.
        known: u32,
    },
    /// The file is cut short or damaged so that it cannot be opened.
    #[error(
        "{} is damaged or cut short and cannot be opened ({why}). Copy the file somewhere safe first, then take a backup.",
        .path.display()
    )]
    Damaged {
        /// The file.
        path: PathBuf,
        /// What was noticed.
        why: String,
    },
    /// The disk refused.
    #[error("{}: {why}. Look whether the disk is full or has gone, then try again.", .path.display())]
    Disk {
        /// The file.
        path: PathBuf,
        /// What the disk said.
        why: String,
    },
    /// A press may not be on disk.
    #[error(
        "NOT SAVED: {} could not be written ({why}). The last key is kept; make room on the disk and try again.",
        .path.display()
    )]
    NotSaved {
        /// The file.
        path: PathBuf,
        /// What the disk said.
        why: String,
    },
    /// A record cannot be written down.
    #[error("record {id} cannot be written down: {why}. Nothing of this key was saved.")]
    Unwritable {
        /// Its name.
        id: RecordId,
        /// Why.
        why: String,
    },
    /// A press was stamped with a number that is not the next of this store's own series.
    #[error("record {found} is out of step: the next record of this book is {next}. Nothing of this key was saved.")]
    OutOfStep {
        /// The number it bears.
        found: RecordId,
        /// The number that is due.
        next: RecordId,
    },
    /// Whoever waited for a taking-in said stop.
    #[error("stopped: nothing was taken in, and the book is as it was. Give the same again whenever it suits.")]
    Stopped,
    /// The system gave no random number.
    #[error(
        "no random number from the system ({0}), so no new series of records can be begun. Start the machine again."
    )]
    NoRandom(String),
}

/// One thing that was wrong on the way. Nothing is dropped for it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, thiserror::Error)]
pub enum Problem {
    /// Bytes that cannot be read; they are kept as they are.
    #[error("{place} cannot be read: {why}. It is kept as it is; look for it in a backup")]
    Unreadable {
        /// Which page or record.
        place: String,
        /// What is wrong with it.
        why: String,
    },
    /// A row whose key says another thing than what it holds.
    #[error("{place} holds {found}, which belongs elsewhere. It is kept as it is; look for it in a backup")]
    Misplaced {
        /// Which page or record.
        place: String,
        /// What it holds.
        found: String,
    },
    /// Two different records bear one name. Both are kept.
    #[error(
        "two tablets wrote under one name, {0}, after a book was copied behind the program's back. Both records are kept \
         and count; look over the animals that were treated since"
    )]
    Fork(RecordId),
    /// Records that were here are not found.
    #[error("{subject} had {expected} records and {found} are found. Run the check, and join a backup")]
    Missing {
        /// The animal or farm.
        subject: RecordId,
        /// How many there were.
        expected: u64,
        /// How many are found.
        found: u64,
    },
    /// The list of numbers held and the pages do not agree.
    #[error("numbers {from} to {to} of series {series:016x} should be in the book and are not. Join a backup")]
    Lost {
        /// The series.
        series: u64,
        /// First number.
        from: u64,
        /// Last number.
        to: u64,
    },
    /// A derived row is not what the records add up to.
    #[error("list {table} does not agree with the records about {subject}. Rebuild the lists")]
    Stale {
        /// The table.
        table: String,
        /// Whom the row is about.
        subject: RecordId,
    },
    /// More rows in a derived table than the records add up to.
    #[error("list {table} has {found} rows and the records give {expected}. Rebuild the lists")]
    Stray {
        /// The table.
        table: String,
        /// Rows there.
        found: u64,
        /// Rows the records give.
        expected: u64,
    },
    /// Hand and book are not of one piece; a new series was begun, and both are kept.
    #[error(
        "the book and the keys beside it do not belong together (book series {book:016x}, keys {hand}). Both are kept, \
         and new records are numbered anew"
    )]
    Apart {
        /// Series of the book.
        book: u64,
        /// What the hand names.
        hand: RecordId,
    },
    /// The book is not the file it was when its series was begun.
    #[error(
        "this book was copied or moved to {}. Nothing in it was changed; new records are numbered anew, so that they \
         cannot be taken for those of another copy",
        .0.display()
    )]
    Copied(PathBuf),
    /// The file with the keys that were not in the book yet is not there.
    #[error(
        "{} is gone, and with it the keys pressed since the last sign-off. If it is found, put it back beside the book \
         and start again: it is taken in. Until then new records are numbered anew",
        .0.display()
    )]
    HandLost(PathBuf),
    /// The file itself failed its own checksums.
    #[error("the file fails its own checksums. Keep a copy of it, then join a backup")]
    Checksum,
    /// Something read from elsewhere was wrong.
    #[error("{place}: {why}")]
    Given {
        /// Where.
        place: String,
        /// What and what to do.
        why: String,
    },
}

/// Rows of a list, with what was wrong on the way.
pub type Told<T> = Result<(Vec<T>, Vec<Problem>), StoreError>;
