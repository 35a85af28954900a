//! Lines that cannot be meant so, each with the cell and what to do.

use super::column::Column;
use crate::domain::her_days::NoDay;
use crate::domain::herd::Leaving;
use crate::domain::vocabulary::Vocabulary;
use chrono::NaiveDate;

/// A line that fits no animal, or more than one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Clash {
    /// Line, from 1.
    pub line: u64,
    /// The cell's column.
    pub column: Column,
    /// What stands there.
    pub value: String,
    /// Why it cannot be meant.
    pub why: Why,
}

/// Why a line cannot be meant. Animals are named as they are called here.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Why {
    /// Another animal has it.
    #[error(
        "{who} has it here as her {}: correct the list; or say what {who} is called now (crushbook renumber), then take the \
         list again", .column.word()
    )]
    Anothers {
        /// Whose it is.
        who: String,
        /// As what.
        column: Column,
    },
    /// Two labels of the line are two animals'.
    #[error("it is {who}'s here, and the {} of this line is {other}'s: correct the one that is wrong", .by.word())]
    Torn {
        /// Whose this cell is.
        who: String,
        /// Whose the surer label is.
        other: String,
        /// The surer label.
        by: Column,
    },
    /// The number is hers, and another label is not.
    #[error(
        "{who} has {has} here: if she was given another, say so with crushbook renumber; if this is another animal, say first \
         that {who} is gone (crushbook gone)"
    )]
    Otherwise {
        /// Whose number it is.
        who: String,
        /// What she has instead.
        has: String,
    },
    /// Several have it.
    #[error("{0} animals have it here: write her tag or electronic number in the line too")]
    Shared(usize),
    /// She had it, and has another now.
    #[error("{0} had it before: write what she has now; or, for another animal, her tag or electronic number too")]
    Earlier(String),
    /// Whoever had it left.
    #[error(
        "{who} had it and left on {} ({}): take the line out, or write another animal's own tag or electronic number; if she is \
         back, say so first: crushbook gone --back with her number; crushbook undo takes back what was said last",
        .day.format("%-d %b %Y"), .how.word()
    )]
    Left {
        /// Who.
        who: String,
        /// How she left.
        how: Leaving,
        /// When.
        day: NaiveDate,
    },
    /// That day cannot be hers.
    #[error("{0}")]
    NoDay(NoDay),
    /// Another line has it.
    #[error("line {0} has it too: correct the one that is wrong, or take one out")]
    Line(u64),
    /// Another line is the same animal.
    #[error("line {line} is {who} too: take one out")]
    OneAnimal {
        /// The other line.
        line: u64,
        /// Who both are.
        who: String,
    },
    /// She stands for several entries, none of which can be told it.
    #[error("{0} was joined of several entries that differ in this: take them apart first (crushbook twice part)")]
    Joined(String),
    /// She was told of on a later day, and the newest word holds.
    #[error("{who} was told of on {}, which is after the day of this list: take it with --today of that day or later", .day.format("%-d %b %Y"))]
    Later {
        /// Who.
        who: String,
        /// When.
        day: NaiveDate,
    },
}
