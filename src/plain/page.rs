//! Numbered lines of at most 80 columns, each beginning with what it is about. A long list comes in pages.

use crate::report::safe::{cut, wrapped};
use unicode_width::UnicodeWidthStr;

/// Columns of a line, by the width it takes.
pub const COLUMNS: usize = 80;
/// Lines that come at once of a list, as they are written.
pub const PAGE: usize = 12;
/// Columns of what a line is about.
const ABOUT: usize = 24;
/// Columns that two lines of one matter fill at least on average.
const SHORT: usize = 20;

/// Something that is said, and what it is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Said {
    about: String,
    words: String,
}

/// Something said about a matter.
pub fn said(about: impl Into<String>, words: impl Into<String>) -> Said {
    Said { about: about.into(), words: words.into() }
}

impl Said {
    /// The same, said of the line that is picked.
    pub fn picked(self) -> Said {
        Said { about: format!("picked {}", self.about), ..self }
    }
}

/// What is said after a line.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Answer {
    /// What is always said whole.
    pub now: Vec<Said>,
    /// What comes in pages.
    pub list: Vec<Said>,
    /// What is said below the first page.
    pub then: Vec<Said>,
}

impl Answer {
    /// Whether nothing is said.
    pub fn is_empty(&self) -> bool {
        self.now.is_empty() && self.list.is_empty() && self.then.is_empty()
    }
}

/// The lines written so far, and what of a list is still to come.
#[derive(Debug, Clone, Default)]
pub struct Pages {
    number: usize,
    rest: Vec<Said>,
}

impl Pages {
    /// Writes an answer; of its list the first page.
    pub fn write(&mut self, answer: Answer) -> String {
        let Answer { now, list, then } = answer;
        let mut text: String = now.iter().map(|one| self.lines(one)).collect();
        if !list.is_empty() {
            self.rest = list;
            text.push_str(&self.more());
        }
        text.extend(then.iter().map(|one| self.lines(one)));
        text
    }

    /// Writes the next page.
    pub fn more(&mut self) -> String {
        let mut text = String::new();
        let mut rest = std::mem::take(&mut self.rest).into_iter().peekable();
        while let Some(one) = rest.peek() {
            let before = self.number;
            let lines = self.lines(one);
            // Whole things only: one that has no room comes with the next page, unless it is longer than any.
            if !text.is_empty() && text.lines().count() + lines.lines().count() > PAGE {
                self.number = before;
                break;
            }
            text.push_str(&lines);
            rest.next();
        }
        self.rest = rest.collect();
        if text.is_empty() {
            text.push_str(&self.lines(&said("more", "there is no more")));
        }
        match self.rest.len() {
            0 => {}
            1 => text.push_str(&self.lines(&said("more", "1 more line: say more"))),
            left => text.push_str(&self.lines(&said("more", format!("{left} more lines: say more")))),
        }
        text
    }

    /// One thing in as many lines as it takes; each says what it is about, and nothing is left out.
    fn lines(&mut self, one: &Said) -> String {
        let about = cut(&one.about, ABOUT);
        let mut text = String::new();
        // The number may grow by a figure on the way. Two lines hold more together than one has room for, so none is shorter than
        // this in the middle.
        let last = self.number + one.words.width() / SHORT + 2;
        let room = COLUMNS.saturating_sub(last.to_string().len() + about.width() + 3);
        for part in wrapped(&one.words, room) {
            self.number += 1;
            text.push_str(&format!("{} {about}: {part}\n", self.number));
        }
        text
    }
}
