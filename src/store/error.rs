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
    /// The path is a link without an end.
    #[error(
        "{} is a link that leads nowhere. Plug in the disk that it leads to, or name another file with --book.",
        .0.display()
    )]
    LeadsNowhere(PathBuf),
    /// The path is a pipe, a terminal or the like.
    #[error("{} is a pipe or a device, not a file. Name a file.", .0.display())]
    NotAFile(PathBuf),
    /// There is nothing.
    #[error("there is no file at {}. Check the name; crushbook folders prints where your book would be.", .0.display())]
    NotThere(PathBuf),
    /// The file may not be read.
    #[error("{} may not be read. Ask its owner for the right to read it.", .0.display())]
    MayNotRead(PathBuf),
    /// The file, or its folder, may not be written.
    #[error(
        "{} cannot be written: you may read it at most. Ask its owner for the right to write, or copy it to where you may \
         and name the copy with --book.",
        .0.display()
    )]
    ReadOnly(PathBuf),
    /// The file holds something else.
    #[error(
        "{} is not a book of this program, or its beginning is damaged. Nothing in it was changed. Name another file with \
         --book; if it was your book, crushbook rescue takes out what is still in it.",
        .0.display()
    )]
    NotABook(PathBuf),
    /// The file was laid out by a newer program.
    #[error(
        "{} was written by a newer crushbook (layout {found}; this one knows up to {known}). Nothing in it was changed. \
         Open it with the newer program; crushbook rescue takes its records into a new book of this one.",
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
        "{} is damaged or cut short and cannot be read ({why}). Copy the file somewhere safe first; then crushbook restore BACKUP \
         puts a backup in its place, and crushbook rescue takes out what is still in it.",
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
    /// The file that was opened lies there no more.
    #[error(
        "Put it back: {} is gone, moved or deleted, or its disk was pulled out. The last key is kept and tried again.",
        .0.display()
    )]
    Gone(PathBuf),
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

impl StoreError {
    /// Its kind in fixed words, and what the system said: no path and no name.
    pub fn kind(&self) -> (&'static str, &str) {
        match self {
            StoreError::InUse(_) => ("in use", ""),
            StoreError::IsFolder(_) => ("a folder", ""),
            StoreError::LeadsNowhere(_) => ("a link that leads nowhere", ""),
            StoreError::NotAFile(_) => ("not a file", ""),
            StoreError::NotThere(_) => ("not there", ""),
            StoreError::MayNotRead(_) => ("may not be read", ""),
            StoreError::ReadOnly(_) => ("may not be written", ""),
            StoreError::NotABook(_) => ("not a book", ""),
            StoreError::Newer { .. } => ("of a newer program", ""),
            StoreError::Damaged { why, .. } => ("damaged:", why),
            StoreError::Disk { why, .. } => ("disk:", why),
            StoreError::NotSaved { why, .. } => ("not saved:", why),
            StoreError::Gone(_) => ("gone", ""),
            StoreError::Unwritable { .. } => ("cannot be written down", ""),
            StoreError::OutOfStep { .. } => ("out of step", ""),
            StoreError::NoRandom(why) => ("no random number:", why),
            StoreError::Stopped => ("stopped", ""),
        }
    }
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
    /// Records that lie in the bytes of a file and are not found in it.
    #[error(
        "numbers {from} to {to} of series {series:016x} lie in the file and are no part of it: they were being written when the \
         power, the program or the disk gave out, and were never saved; or else the way to them is damaged. If they were saved \
         once, a rescue takes them out"
    )]
    Unreached {
        /// The series.
        series: u64,
        /// First number.
        from: u64,
        /// Last number.
        to: u64,
    },
    /// Records were being taken in when the program, the power or the disk gave out.
    #[error(
        "what was being entered, imported or joined last broke off: nothing of it is in the book, and everything else is as it \
         was. Do it again; new records are numbered anew"
    )]
    BrokeOff,
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
    /// The lists were of another program's layout.
    #[error(
        "this book was laid out by another crushbook and is laid out anew now. As it was before, it lies in {}; delete that \
         when you have a backup",
        .0.display()
    )]
    LaidOutAnew(PathBuf),
    /// The same, and there was no room for a copy first.
    #[error(
        "this book was laid out by another crushbook; its lists are made again now, and no record was touched. It could not \
         be copied first: {0}"
    )]
    NotCopied(String),
    /// The file itself failed its own checksums.
    #[error("the file fails its own checksums. Keep a copy of it, then join a backup")]
    Checksum,
    /// The book was there and held nothing.
    #[error(
        "{} was there and empty, and a new book was begun in it. If it held records, look for a backup, or rescue the whole \
         disk that it lies on",
        .0.display()
    )]
    WasEmpty(PathBuf),
    /// Something read from elsewhere was wrong.
    #[error("{place}: {why}")]
    Given {
        /// Where.
        place: String,
        /// What and what to do.
        why: String,
    },
}

impl Problem {
    /// Its kind in fixed words: no path and no name.
    pub fn kind(&self) -> &'static str {
        match self {
            Problem::Unreadable { .. } => "cannot be read",
            Problem::Misplaced { .. } => "lies in a wrong place",
            Problem::Fork(_) => "one name twice",
            Problem::Missing { .. } => "records of one are missing",
            Problem::Lost { .. } => "numbers are lost",
            Problem::Unreached { .. } => "records lie beyond reach",
            Problem::BrokeOff => "a taking-in broke off",
            Problem::Stale { .. } | Problem::Stray { .. } => "a list does not agree",
            Problem::Apart { .. } => "hand and book do not belong together",
            Problem::Copied(_) => "copied or moved",
            Problem::HandLost(_) => "the hand is lost",
            Problem::Checksum => "the file fails its checksums",
            Problem::WasEmpty(_) => "was empty",
            Problem::LaidOutAnew(_) => "laid out anew",
            Problem::NotCopied(_) => "laid out anew without a copy",
            Problem::Given { .. } => "something given was wrong",
        }
    }

    /// Whether it is about how the book came here and not about its bytes: nothing is damaged.
    pub fn is_of_the_way(&self) -> bool {
        match self {
            Problem::Apart { .. }
            | Problem::BrokeOff
            | Problem::Copied(_)
            | Problem::Fork(_)
            | Problem::WasEmpty(_)
            | Problem::LaidOutAnew(_)
            | Problem::NotCopied(_) => true,
            Problem::Unreadable { .. }
            | Problem::Misplaced { .. }
            | Problem::Missing { .. }
            | Problem::Lost { .. }
            | Problem::Unreached { .. }
            | Problem::Stale { .. }
            | Problem::Stray { .. }
            | Problem::HandLost(_)
            | Problem::Checksum
            | Problem::Given { .. } => false,
        }
    }
}

/// Rows of a list, with what was wrong on the way.
pub type Told<T> = Result<(Vec<T>, Vec<Problem>), StoreError>;
