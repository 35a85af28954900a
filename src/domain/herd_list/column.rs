//! The columns of a herd list: what each is called, and where its cell is kept.

use super::super::herd::{Herd, Labels};
use super::super::vocabulary::{Vocabulary, vocabulary};
use super::Row;
use crate::domain::letters::seen;

vocabulary! {
    /// A column; its word stands at the head of a list.
    Column, "column" {
        /// Working number.
        Number = 1 "number",
        /// Printed ear tag.
        Tag = 2 "tag",
        /// Electronic number.
        Electronic = 3 "electronic number",
        /// Name.
        Name = 4 "name",
        /// Breed.
        Breed = 5 "breed",
        /// Day of birth.
        Born = 6 "born",
        /// Lactation number.
        Lactation = 7 "lactation",
        /// Day of last calving.
        Calved = 8 "calved",
        /// Day dried off.
        DryFrom = 9 "dry from",
        /// Day due to calve.
        DueToCalve = 10 "due to calve",
        /// Group or pen.
        Group = 11 "group",
        /// State.
        Status = 12 "status",
    }
}

/// Columns that tell one animal from another, the surest first.
pub const NUMBERS: [Column; 3] = [Column::Tag, Column::Electronic, Column::Number];

/// Columns that say what she is called by.
pub const LABELS: [Column; 4] = [Column::Number, Column::Tag, Column::Electronic, Column::Name];

impl Column {
    /// What stands in it, as a list writes it; empty for what is not told.
    pub fn cell(self, labels: &Labels, herd: &Herd) -> String {
        fn of<T: ToString>(told: Option<T>) -> String {
            told.map_or_else(String::new, |told| told.to_string())
        }
        match self {
            Column::Number => seen(&labels.number),
            Column::Tag => seen(&labels.tag),
            Column::Electronic => seen(&labels.electronic),
            Column::Name => seen(&labels.name),
            Column::Breed => seen(&herd.breed),
            Column::Born => of(herd.born),
            Column::Lactation => of(herd.lactation),
            Column::Calved => of(herd.calved),
            Column::DryFrom => of(herd.dry_from),
            Column::DueToCalve => of(herd.due_to_calve),
            Column::Group => seen(&herd.group),
            Column::Status => herd.status.map_or("", Vocabulary::word).to_owned(),
        }
    }

    /// The same of a line.
    pub fn of(self, row: &Row) -> String {
        self.cell(&row.labels, &row.herd)
    }

    /// Whether it says what she is called by.
    pub fn is_label(self) -> bool {
        LABELS.contains(&self)
    }

    /// Puts what a line says in this column over what is known.
    pub fn lay_over(self, row: &Row, labels: &mut Labels, herd: &mut Herd) {
        let Row { labels: told, herd: new, .. } = row;
        match self {
            Column::Number => labels.number.clone_from(&told.number),
            Column::Tag => labels.tag.clone_from(&told.tag),
            Column::Electronic => labels.electronic.clone_from(&told.electronic),
            Column::Name => labels.name.clone_from(&told.name),
            Column::Breed => herd.breed.clone_from(&new.breed),
            Column::Born => herd.born = new.born,
            Column::Lactation => herd.lactation = new.lactation,
            Column::Calved => herd.calved = new.calved,
            Column::DryFrom => herd.dry_from = new.dry_from,
            Column::DueToCalve => herd.due_to_calve = new.due_to_calve,
            Column::Group => herd.group.clone_from(&new.group),
            Column::Status => herd.status = new.status,
        }
    }
}
