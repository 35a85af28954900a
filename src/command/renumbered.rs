//! What is said after an animal was given another number, tag, electronic number or name: which of them is new.

use super::World;
use super::fault::Fault;
use crate::domain::herd::{Herd, Labels};
use crate::domain::herd_list::column::{Column, LABELS};
use crate::domain::vocabulary::Vocabulary;
use crate::report::due::called;
use crate::report::safe::safe;

/// Says what she is called now and what is new on her.
///
/// # Errors
/// Those of the output.
pub fn say(world: &mut World, before: &Labels, now: &Labels) -> Result<(), Fault> {
    let (was, is) = (called(before), called(now));
    let who = if was == is { is } else { format!("{was} is now {is}") };
    let cell = |column: Column, labels: &Labels| column.cell(labels, &Herd::default());
    let new: Vec<Column> = LABELS.into_iter().filter(|column| cell(*column, before) != cell(*column, now)).collect();
    let said = new.iter().filter_map(|column| told(*column, &cell(*column, now), now));
    let all: Vec<String> = std::iter::once(who).chain(said).collect();
    writeln!(world.out, "{}", all.join(", "))?;
    Ok(())
}

/// A label that is gone, or new and not what she is called anyway.
fn told(column: Column, value: &str, now: &Labels) -> Option<String> {
    let word = column.word();
    match (value.is_empty(), column) {
        (false, Column::Number | Column::Name) => None,
        (false, _) => Some(format!("{word} now {}", safe(value))),
        (true, Column::Number) => Some(format!("no {word} any more: she is called by {}", surest(now))),
        (true, _) => Some(format!("no {word} any more")),
    }
}

/// What she is called by who has no number.
fn surest(labels: &Labels) -> &'static str {
    match (labels.tag.is_empty(), labels.electronic.is_empty()) {
        (false, _) => "her tag",
        (true, false) => "her electronic number",
        (true, true) => "her name",
    }
}
