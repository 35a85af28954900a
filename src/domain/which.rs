//! Which standing instruction is meant, where several hold for the same feet: one is never taken for another by a guess.

use super::herd::Scope;
use super::ids::RecordId;
use super::instruction::Instruction;
use super::letters::seen;
use chrono::NaiveDate;

/// By what one is told from others for the same feet; with neither it is the only one.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Which {
    /// Its words, or some of them; empty: not told.
    pub words: String,
    /// The day it was given.
    pub since: Option<NaiveDate>,
}

/// An instruction as a message names it: its words, and the day it was given.
pub type Named = (String, NaiveDate);

/// Why it is not told which one is meant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NotOne {
    /// None holds for these feet.
    NoneHolds,
    /// These hold, and what was told fits several of them, or none.
    Which(Vec<Named>),
}

/// The one of those that hold which is meant.
///
/// # Errors
/// None for these feet, or not exactly one that fits.
pub fn meant<'i>(held: &'i [Instruction], scope: Scope, which: &Which) -> Result<&'i Instruction, NotOne> {
    let held: Vec<&Instruction> = held.iter().filter(|one| one.scope == scope).collect();
    match (which.among(&held).as_slice(), held.is_empty()) {
        (_, true) => Err(NotOne::NoneHolds),
        ([only], false) => Ok(only),
        _ => Err(NotOne::Which(held.iter().map(|one| (one.text.clone(), one.since)).collect())),
    }
}

/// The one of those that hold which is for the same feet in the same words: given once more, nobody could tell the two apart.
/// `instead_of` is left out: it ends as the new one is given.
pub fn alike<'i>(
    held: &'i [Instruction],
    scope: Scope,
    text: &str,
    instead_of: Option<RecordId>,
) -> Option<&'i Instruction> {
    let words = folded(text);
    held.iter().find(|one| one.scope == scope && Some(one.id) != instead_of && folded(&one.text) == words)
}

impl Which {
    /// Those that it fits. Whose whole words were told is meant, though they are some of the words of another.
    pub fn among<'i>(&self, of: &[&'i Instruction]) -> Vec<&'i Instruction> {
        let given = |one: &&Instruction| self.since.is_none_or(|day| one.since == day);
        let that_day: Vec<&Instruction> = of.iter().copied().filter(given).collect();
        let words = folded(&self.words);
        let whole: Vec<&Instruction> = that_day.iter().copied().filter(|one| folded(&one.text) == words).collect();
        if whole.is_empty() {
            return that_day.into_iter().filter(|one| folded(&one.text).contains(&words)).collect();
        }
        whole
    }

    /// What tells one from others for the same feet: nothing where there are none, else its words, and its day where another has
    /// the same words.
    pub fn of(one: &Instruction, others: &[&Instruction]) -> Which {
        let same_words = others.iter().any(|other| folded(&other.text) == folded(&one.text));
        match others {
            [] => Which::default(),
            _ => Which { words: one.text.clone(), since: same_words.then_some(one.since) },
        }
    }
}

/// Words as they are compared: capitals, and how many blanks stand between them, make no difference.
fn folded(words: &str) -> String {
    seen(words).split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}
