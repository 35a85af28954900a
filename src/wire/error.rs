//! What can be wrong with bytes or text from outside, each with the value and the place.

use crate::domain::ids::RecordId;

/// Why something could not be read, or must not be written.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum WireError {
    /// Something inside something else: an offset in a page, a field of a record.
    #[error("{place}: {why}")]
    At {
        /// Where.
        place: String,
        /// What.
        why: Box<WireError>,
    },
    /// The bytes end too early.
    #[error("{what} ends after {have} bytes where {need} are needed: it was cut short; restore it from a backup")]
    TooShort {
        /// What ends.
        what: &'static str,
        /// Bytes there are.
        have: usize,
        /// Bytes needed.
        need: usize,
    },
    /// The first bytes are not those of a record or page.
    #[error("no {what} begins with bytes {found:02x?}: this is something else or damaged; restore it from a backup")]
    BadMagic {
        /// What was looked for.
        what: &'static str,
        /// What stands there.
        found: [u8; 4],
    },
    /// The outermost layout is newer than this program.
    #[error("{what} is written in layout {version}, which this program does not know: open it with a newer crushbook")]
    NewerLayout {
        /// What.
        what: &'static str,
        /// Its layout number.
        version: u8,
    },
    /// A length that cannot be.
    #[error("{what} says it has {said} bytes, which cannot be: it is damaged; restore it from a backup")]
    BadLength {
        /// What.
        what: &'static str,
        /// The length it says.
        said: u64,
    },
    /// The checksum does not fit the bytes.
    #[error(
        "{what} has checksum {said:08x} but its bytes give {found:08x}: they changed after writing; restore it from a \
         backup"
    )]
    BadChecksum {
        /// What.
        what: &'static str,
        /// Checksum it carries.
        said: u32,
        /// Checksum its bytes have.
        found: u32,
    },
    /// A line of JSON whose words are not those that were written.
    #[error(
        "its words give checksum {found:08x} and the line says {said:08x}: it was changed after it was written; export it \
         again where it was recorded"
    )]
    OtherWords {
        /// Checksum the line carries.
        said: u32,
        /// Checksum of the record its words give.
        found: u32,
    },
    /// A byte that says "there" or "not there" and says neither, or says "not there" of what is there.
    #[error("{what} has mark {said}, which means nothing: it is damaged; restore it from a backup")]
    BadFlag {
        /// What.
        what: &'static str,
        /// The mark.
        said: u8,
    },
    /// More bytes after the end.
    #[error("{extra} bytes too many after {what}: read it piece by piece, or restore it from a backup")]
    Trailing {
        /// What ended.
        what: &'static str,
        /// How many.
        extra: usize,
    },
    /// More than is ever written.
    #[error("{what} has {bytes} bytes and may have {limit}: shorten it, or write it in two parts")]
    TooLong {
        /// What.
        what: &'static str,
        /// Bytes it has.
        bytes: usize,
        /// Bytes it may have.
        limit: usize,
    },
    /// The codec refuses, in its own words.
    #[error("payload cannot be read or written: {0}")]
    Codec(String),
    /// A number that the list does not have.
    #[error("no {0} has number {1}: written by a newer crushbook, or damaged")]
    UnknownCode(&'static str, u16),
    /// A kind or revision that this program does not have.
    #[error("no record is of kind {kind}, revision {revision}: written by a newer crushbook, or damaged")]
    UnknownKind {
        /// Kind number.
        kind: u16,
        /// Revision.
        revision: u8,
    },
    /// A word in place of a kind that this program does not have.
    #[error("no record is of kind {word}, revision {revision}: correct the word, or read it with a newer crushbook")]
    UnknownKindWord {
        /// The word.
        word: String,
        /// Revision.
        revision: u8,
    },
    /// A place that is nowhere on an animal.
    #[error("no {kind} is made of foot {foot}, claw {side}, zone {zone}: correct the place")]
    BadPlace {
        /// Kind of place.
        kind: &'static str,
        /// Foot, or "none".
        foot: &'static str,
        /// Claw, or "none".
        side: &'static str,
        /// Zone number, or "none".
        zone: String,
    },
    /// Of several things exactly one must be told.
    #[error("{told} of the possible parts of {what} are told, and it must be {wanted}: tell the right number of them")]
    NotOne {
        /// What.
        what: &'static str,
        /// How many were told.
        told: usize,
        /// How many must be.
        wanted: &'static str,
    },
    /// A day outside the years 1 to 9999.
    #[error("day number {0} is outside the years 1 to 9999: correct the day")]
    BadDay(i64),
    /// A moment outside the years 1 to 9999, or an offset of a day or more.
    #[error("second {seconds} with offset {minutes} minutes is no moment of the years 1 to 9999: correct the clock")]
    BadMoment {
        /// Seconds since 1970.
        seconds: i64,
        /// Offset in minutes.
        minutes: i64,
    },
    /// A moment finer than is kept.
    #[error("{0} is finer than whole seconds and minutes of offset: cut it before it is recorded")]
    TooFine(String),
    /// A correction inside a correction.
    #[error("a correction cannot correct into a correction: correct the first record directly")]
    NestedCorrection,
    /// The name of a record that cannot be read.
    #[error("{0} is no record name: it must be 16 hexadecimal digits, a dash and a number")]
    BadId(String),
    /// Bytes written as text that cannot be read.
    #[error("{0} is no run of bytes: it must be pairs of hexadecimal digits")]
    BadHex(String),
    /// A JSON line that cannot be read.
    #[error("{}{why}: correct the line", column_of(*column))]
    BadJson {
        /// Column in bytes, from 1; 0 where it is not known.
        column: usize,
        /// Why.
        why: String,
    },
    /// A derived row in another layout than this program writes.
    #[error("{table} row is in layout {said}, this program writes {wanted}: rebuild the book's lists")]
    OtherLayout {
        /// Table.
        table: &'static str,
        /// Layout it has.
        said: u8,
        /// Layout it should have.
        wanted: u8,
    },
}

impl WireError {
    /// The same error, with where it is put in front.
    pub fn at(self, place: impl Into<String>) -> WireError {
        WireError::At { place: place.into(), why: Box::new(self) }
    }

    /// The same error, with the record it is in put in front.
    pub fn in_record(self, id: RecordId) -> WireError {
        self.at(format!("record {id}"))
    }
}

fn column_of(column: usize) -> String {
    if column == 0 { String::new() } else { format!("column {column}: ") }
}

/// Outside text, fit for an error message: nothing that moves a cursor or turns the reading order; 80 characters at
/// most.
pub fn plain(text: &str) -> String {
    const LIMIT: usize = 80;
    let mut out = String::new();
    for (index, letter) in text.chars().enumerate() {
        match letter {
            _ if index == LIMIT => return out + "...",
            '"' | '\'' | '\\' => out.push(letter),
            other => out.extend(other.escape_debug()),
        }
    }
    out
}
