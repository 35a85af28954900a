//! The exchange file: what one tablet gives another, as text that any file-sharing service carries.
//!
//! A head, one record a line (`wire/jsonl.rs`), and an end that counts them, so that a file that has not arrived whole is
//! noticed even when it ends with a line. Files may be put one behind the other. Writing and reading hold one line at a time.
//!
//! ```text
//! {"crushbook":"exchange","layout":1}
//! {"id":...}
//! {"end":1}
//! ```

use super::envelope::{LIMIT, Raw};
use super::error::{WireError, plain};
use super::jsonl::{from_json, to_json};
use serde::Deserialize;
use std::collections::VecDeque;
use std::io::{self, BufRead, Write};

/// Layout of the file that this program writes, and the newest it reads.
const LAYOUT: u64 = 1;
/// How every exchange file begins.
const BEGINS: &[u8] = br#"{"crushbook":"exchange","#;
/// How a record's line begins.
const RECORD_BEGINS: &str = r#"{"id":"#;
/// Most bytes of a line: a letter of a text takes at most six in JSON, and a byte of what cannot be read two.
pub const LINE_LIMIT: usize = 8 * LIMIT;
/// A file with so many lines and no record among them is something else.
const PATIENCE: usize = 100;
/// The mark some editors put before UTF-8 text.
const MARK: &[u8] = "\u{feff}".as_bytes();

/// An exchange file being written.
pub struct Writing<W> {
    to: W,
    records: u64,
}

impl<W: Write> Writing<W> {
    /// Writes the head. Errors: those of the writer, here and below.
    pub fn begin(mut to: W) -> io::Result<Writing<W>> {
        to.write_all(BEGINS)?;
        writeln!(to, "\"layout\":{LAYOUT}}}")?;
        Ok(Writing { to, records: 0 })
    }

    /// Writes one record; the inner error says why this one cannot be written, and nothing of it was.
    pub fn record(&mut self, raw: &Raw) -> io::Result<Result<(), WireError>> {
        let line = match to_json(raw) {
            Ok(line) => line,
            Err(why) => return Ok(Err(why)),
        };
        writeln!(self.to, "{line}")?;
        self.records += 1;
        Ok(Ok(()))
    }

    /// Writes the end, and says how many records there are.
    pub fn end(mut self) -> io::Result<u64> {
        writeln!(self.to, "{{\"end\":{}}}", self.records)?;
        self.to.flush()?;
        Ok(self.records)
    }
}

/// Whether a file that begins with these bytes is an exchange file by its head.
pub fn is_exchange(begins: &[u8]) -> bool {
    begins.strip_prefix(MARK).unwrap_or(begins).starts_with(BEGINS)
}

/// What is wrong with an exchange file, or a line of it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Wrong {
    /// Nothing is in it.
    #[error("it is empty: it has not arrived yet, or nothing was exported into it. Wait for it, or export again")]
    Empty,
    /// It is something else.
    #[error("it is no exchange file: {0}")]
    Foreign(String),
    /// A newer crushbook wrote it.
    #[error("a newer crushbook wrote it (layout {0}; this one knows up to {LAYOUT}). Take it in with the newer one")]
    Newer(u64),
    /// One line, by its number.
    #[error("line {line}: {why}")]
    Line {
        /// Number, from 1.
        line: u64,
        /// Why.
        why: WireError,
    },
    /// A line longer than any record.
    #[error("line {0} is longer than any record ({LINE_LIMIT} bytes): two lines ran together. Export the file again")]
    Long(u64),
    /// A record before any head.
    #[error("line {0} stands before the line that begins an exchange file: the file was cut. Bring the whole file")]
    NoHead(u64),
    /// The last line has no end.
    #[error("it ends in the middle of line {0}: it was cut short or is still on its way. Bring the whole file")]
    Cut(u64),
    /// The line that ends it is not there.
    #[error(
        "the line that ends it is missing after {0} records: it was cut short or is still on its way. Bring the whole file"
    )]
    NoEnd(u64),
    /// Lines were lost, or came twice.
    #[error("line {line} says that {said} records stand before it, and {found} do. Bring the whole file")]
    Count {
        /// Number of the line.
        line: u64,
        /// Records it says there are.
        said: u64,
        /// Records read.
        found: u64,
    },
    /// The medium.
    #[error(
        "it cannot be read any further after line {line} ({why}). Look whether the medium is still there, then try again"
    )]
    Medium {
        /// Last line read.
        line: u64,
        /// What the system said.
        why: String,
    },
}

impl Wrong {
    /// Whether nothing of the file was taken for records.
    pub fn is_foreign(&self) -> bool {
        matches!(self, Wrong::Empty | Wrong::Foreign(_) | Wrong::Newer(_))
    }

    /// Whether it may come right by itself, once the file has been carried over.
    pub fn is_on_its_way(&self) -> bool {
        matches!(self, Wrong::Empty | Wrong::Cut(_) | Wrong::NoEnd(_))
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Head {
    crushbook: String,
    layout: u64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct End {
    end: u64,
}

/// Where in a file the reading is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum At {
    /// Nothing was read that only an exchange file has.
    Start,
    /// Between a head and its end, with so many records read.
    Inside(u64),
    /// Behind an end, or among records without a head.
    Outside,
    /// Done.
    Over,
}

/// The records of an exchange file, and what is wrong with it, in the order of its lines. Total on any bytes.
pub struct Reading<R> {
    from: R,
    line: u64,
    at: At,
    /// What was met before the first thing that only an exchange file has, and how the file begins.
    odd: Vec<Wrong>,
    first: String,
    ready: VecDeque<Result<Raw, Wrong>>,
}

/// A line as it was read.
enum Line {
    /// Whole, with its break.
    Whole(Vec<u8>),
    /// The last, without a break.
    Broken(Vec<u8>),
    /// More than [`LINE_LIMIT`].
    Long,
}

impl<R: BufRead> Reading<R> {
    /// Reads from there.
    pub fn new(from: R) -> Reading<R> {
        Reading { from, line: 0, at: At::Start, odd: Vec::new(), first: String::new(), ready: VecDeque::new() }
    }

    /// Reads until something is ready, or all is read.
    fn step(&mut self) {
        if self.line == 0 {
            match self.from.fill_buf().map(looks_like) {
                Ok(Some(wrong)) => return self.stop(wrong),
                Ok(None) => {}
                Err(why) => return self.stop(Wrong::Medium { line: 0, why: why.to_string() }),
            }
        }
        match next_line(&mut self.from) {
            Err(why) => self.stop(Wrong::Medium { line: self.line, why: why.to_string() }),
            Ok(None) => self.finish(None),
            Ok(Some(line)) => {
                self.line += 1;
                match line {
                    Line::Long => self.odd(Wrong::Long(self.line)),
                    Line::Whole(bytes) => {
                        if let Err(why) = self.take(&bytes) {
                            self.odd(Wrong::Line { line: self.line, why });
                        }
                    }
                    Line::Broken(bytes) => {
                        let cut = self.take(&bytes).is_err().then_some(Wrong::Cut(self.line));
                        self.finish(cut);
                    }
                }
            }
        }
    }

    /// Takes a line for what it is.
    fn take(&mut self, bytes: &[u8]) -> Result<(), WireError> {
        let bytes = if self.line == 1 { bytes.strip_prefix(MARK).unwrap_or(bytes) } else { bytes };
        let text = std::str::from_utf8(bytes.strip_suffix(b"\r").unwrap_or(bytes));
        let text = text.map_err(|_| WireError::BadJson { column: 0, why: "it is no UTF-8 text".to_owned() });
        if self.line == 1 {
            self.first = text.as_ref().map_or_else(|_| "letters that are no text".to_owned(), |text| plain(text));
        }
        let text = text?;
        if text.trim().is_empty() {
            return Ok(());
        }
        // Nearly every line is a record, and that shows at once.
        if !text.starts_with(RECORD_BEGINS) {
            if let Ok(head) = serde_json::from_str::<Head>(text)
                && head.crushbook == "exchange"
            {
                self.begin(head.layout);
                return Ok(());
            }
            if let Ok(End { end }) = serde_json::from_str::<End>(text) {
                self.count(end);
                return Ok(());
            }
        }
        self.record(from_json(text)?);
        Ok(())
    }

    fn begin(&mut self, layout: u64) {
        self.settle();
        self.miss_end();
        if layout > LAYOUT {
            return self.stop(Wrong::Newer(layout));
        }
        self.at = At::Inside(0);
    }

    fn count(&mut self, said: u64) {
        self.settle();
        if let At::Inside(found) = self.at
            && found != said
        {
            self.ready.push_back(Err(Wrong::Count { line: self.line, said, found }));
        }
        self.at = At::Outside;
    }

    fn record(&mut self, raw: Raw) {
        self.settle();
        self.at = match self.at {
            At::Inside(records) => At::Inside(records + 1),
            // Told once, at the first of them.
            At::Start => {
                self.ready.push_back(Err(Wrong::NoHead(self.line)));
                At::Outside
            }
            At::Outside | At::Over => At::Outside,
        };
        self.ready.push_back(Ok(raw));
    }

    /// Only an exchange file holds this: what was odd before it is damage.
    fn settle(&mut self) {
        self.ready.extend(self.odd.drain(..).map(Err));
    }

    /// Something that is no line of an exchange file.
    fn odd(&mut self, wrong: Wrong) {
        match self.at {
            At::Start if self.odd.len() + 1 >= PATIENCE => self.stop(self.foreign()),
            At::Start => self.odd.push(wrong),
            At::Inside(_) | At::Outside | At::Over => self.ready.push_back(Err(wrong)),
        }
    }

    fn foreign(&self) -> Wrong {
        Wrong::Foreign(format!(
            "it begins with \"{}\". crushbook export writes such files; sheets go in with crushbook enter",
            self.first
        ))
    }

    fn miss_end(&mut self) {
        if let At::Inside(records) = self.at {
            self.ready.push_back(Err(Wrong::NoEnd(records)));
        }
    }

    /// The file is over.
    fn finish(&mut self, cut: Option<Wrong>) {
        if self.at == At::Start {
            // Blank lines are odd to nobody.
            let blank = self.odd.is_empty() && cut.is_none();
            return self.stop(if blank { Wrong::Empty } else { self.foreign() });
        }
        match cut {
            Some(cut) => self.ready.push_back(Err(cut)),
            None => self.miss_end(),
        }
        self.at = At::Over;
    }

    /// Nothing more of it is read.
    fn stop(&mut self, wrong: Wrong) {
        self.ready.push_back(Err(wrong));
        self.at = At::Over;
    }
}

impl<R: BufRead> Iterator for Reading<R> {
    type Item = Result<Raw, Wrong>;
    fn next(&mut self) -> Option<Result<Raw, Wrong>> {
        while self.ready.is_empty() && self.at != At::Over {
            self.step();
        }
        self.ready.pop_front()
    }
}

/// What the first bytes of a file show it to be, where that is no text.
fn looks_like(begins: &[u8]) -> Option<Wrong> {
    if begins.is_empty() {
        return Some(Wrong::Empty);
    }
    let what = if begins.starts_with(b"redb") {
        "it is a book. crushbook join takes in what is new in it"
    } else if begins.starts_with(&[0xff, 0xfe]) || begins.starts_with(&[0xfe, 0xff]) {
        "its letters were changed on the way (UTF-16). Carry the file over as it is"
    } else if begins.iter().take(1 << 10).any(|&byte| byte == 0) {
        "it is no text at all. crushbook export writes such files"
    } else {
        return None;
    };
    Some(Wrong::Foreign(what.to_owned()))
}

/// The next line, of which no more than the limit is ever held; none at the end.
fn next_line(from: &mut impl BufRead) -> io::Result<Option<Line>> {
    let mut line = Vec::new();
    let mut long = false;
    loop {
        let held = match from.fill_buf() {
            Err(why) if why.kind() == io::ErrorKind::Interrupted => continue,
            held => held?,
        };
        if held.is_empty() {
            return Ok(if long { Some(Line::Long) } else { (!line.is_empty()).then_some(Line::Broken(line)) });
        }
        let end = held.iter().position(|&byte| byte == b'\n');
        let piece = &held[..end.unwrap_or(held.len())];
        long |= line.len() + piece.len() > LINE_LIMIT;
        if !long {
            line.extend_from_slice(piece);
        }
        let used = end.map_or(held.len(), |end| end + 1);
        from.consume(used);
        if end.is_some() {
            return Ok(Some(if long { Line::Long } else { Line::Whole(line) }));
        }
    }
}
