//! A farm's list of its animals against what is known of them: what is new, what has changed, who is missing, and which lines
//! cannot be meant so. Says what would change and changes nothing.
//!
//! A cell left empty says nothing. Nobody is gone because a list does not name her.

pub mod cell;
pub mod clash;
pub mod column;
pub mod compare;
pub mod doubt;
pub mod figures;
pub mod her;
mod index;
pub mod written;

use super::herd::{Herd, Labels, Leaving};
use super::ids::AnimalId;
use chrono::NaiveDate;
use column::Column;

/// One line of a list.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Row {
    /// Line it stands on, from 1.
    pub line: u64,
    /// What she is called by; what is empty is not told.
    pub labels: Labels,
    /// What the list tells of her.
    pub herd: Herd,
}

/// An animal of the farm, gone or not, as far as a list can speak of her. Its texts hold what is seen and no more.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Known {
    /// The animal.
    pub animal: AnimalId,
    /// Her labels now.
    pub labels: Labels,
    /// Labels she had before.
    pub earlier: Vec<Labels>,
    /// Herd data.
    pub herd: Herd,
    /// How and when she left.
    pub left: Option<(Leaving, NaiveDate)>,
    /// The last day on which labels or herd data were told of her.
    pub told: Option<NaiveDate>,
}

/// One cell that says otherwise than what is known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// The column.
    pub column: Column,
    /// What is known; empty: nothing.
    pub was: String,
    /// What the list says.
    pub now: String,
}

/// An animal of whom the list says something new.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Changed {
    /// The animal.
    pub animal: AnimalId,
    /// Her line.
    pub row: Row,
    /// What is new, in the order of the columns; never empty.
    pub changes: Vec<Change>,
}
