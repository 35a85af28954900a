//! What a visit adds up to: the first bill is written from it.

use super::history::Turn;
use super::ids::AnimalId;
use super::treatment::Put;
use std::collections::BTreeSet;

/// Counts over turns.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Totals {
    /// Animals, each once.
    pub animals: usize,
    /// Turns: an animal in the crush twice has two.
    pub turns: usize,
    /// Feet lifted.
    pub lifted: usize,
    /// Feet trimmed.
    pub trimmed: usize,
    /// Blocks put on.
    pub blocks: usize,
    /// Wraps put on.
    pub wraps: usize,
    /// Dressings.
    pub dressings: usize,
}

impl Totals {
    /// Counts these turns. What others put on is not the trimmer's to bill.
    pub fn of<'t>(turns: impl IntoIterator<Item = (AnimalId, &'t Turn)>) -> Totals {
        let mut totals = Totals::default();
        let mut animals = BTreeSet::new();
        for (animal, turn) in turns {
            animals.insert(animal);
            totals.turns += 1;
            for look in turn.looks.iter().flatten() {
                totals.lifted += usize::from(look.lifted);
                totals.trimmed += usize::from(look.trimmed);
            }
            for view in turn.puts.iter().filter(|view| view.by_others.is_empty()) {
                match view.put {
                    Put::Block { .. } => totals.blocks += 1,
                    Put::Wrap { .. } => totals.wraps += 1,
                    Put::Dressing { .. } => totals.dressings += 1,
                }
            }
        }
        totals.animals = animals.len();
        totals
    }

    /// Each count with its name, in the order of a bill.
    pub fn rows(&self) -> [(&'static str, usize); 7] {
        [
            ("animals", self.animals),
            ("turns", self.turns),
            ("feet lifted", self.lifted),
            ("feet trimmed", self.trimmed),
            ("blocks", self.blocks),
            ("wraps", self.wraps),
            ("dressings", self.dressings),
        ]
    }
}
