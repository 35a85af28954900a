//! A list as records: one press, so that one undo takes all of it back, and one commit, so that a dead battery leaves all of it
//! or nothing.

use super::clash::{Clash, Why};
use super::column::Column;
use super::compare::Preview;
use super::her::Her;
use super::{Changed, Row};
use crate::domain::event::Event;
use crate::domain::herd::{FarmFact, Herd, Labels};
use crate::domain::history::History;
use crate::domain::ids::{AnimalId, FarmId, RecordId};
use crate::domain::letters::seen;
use crate::domain::record::{Record, Stamp};

/// One press under way.
struct Press {
    stamp: Stamp,
    facts: Vec<(RecordId, Event)>,
}

impl Press {
    fn next(&self) -> RecordId {
        RecordId { series: self.stamp.next.series, seq: self.stamp.next.seq + self.facts.len() as u64 }
    }

    fn write(&mut self, about: RecordId, event: Event) {
        self.facts.push((about, event));
    }
}

/// A farm that a list is about: known, or to be begun.
#[derive(Debug, Clone, Copy)]
pub struct Meant<'m> {
    /// The farm; none: it is begun with the list.
    pub farm: Option<FarmId>,
    /// Its name.
    pub name: &'m str,
    /// Its animals.
    pub herd: &'m [Her],
}

/// Writes out what a list changes; nothing where it changes nothing. What cannot be told of an animal goes to the clashes.
pub fn write_out(stamp: &Stamp, list: &str, meant: Meant<'_>, preview: &mut Preview) -> Vec<Record> {
    let mut press = Press { stamp: *stamp, facts: Vec::new() };
    let known = meant.farm;
    let farm = known.unwrap_or(FarmId(press.next()));
    if known.is_none() {
        press.write(farm.0, Event::FarmBegun { name: meant.name.to_owned() });
    }
    preview.new.iter().for_each(|row| begin(&mut press, farm, row));
    let mut clashes = Vec::new();
    preview.changed.retain(|changed| {
        let her = meant.herd.iter().find(|her| her.known.animal == changed.animal);
        match her.map(|her| change(&mut press, her, changed)) {
            Some(Err(clash)) => {
                clashes.push(clash);
                false
            }
            Some(Ok(())) | None => true,
        }
    });
    preview.clashes.extend(clashes);
    if preview.is_empty() {
        return Vec::new();
    }
    let words = format!("{list}: {} new, {} changed", preview.new.len(), preview.changed.len());
    press.write(farm.0, Event::FarmDescribed { farm, fact: FarmFact::HerdList, words });
    press.stamp.press(press.facts)
}

fn begin(press: &mut Press, farm: FarmId, row: &Row) {
    let animal = AnimalId(press.next());
    press.write(animal.0, Event::AnimalBegun { farm, labels: row.labels.clone() });
    if !row.herd.is_untold() {
        press.write(animal.0, Event::Described { animal, herd: row.herd.clone() });
    }
}

/// Tells what changed of her, and nothing else.
fn change(press: &mut Press, her: &Her, changed: &Changed) -> Result<(), Clash> {
    let (mut labels, mut herd) = (her.history.labels.clone(), Herd::default());
    for one in &changed.changes {
        one.column.lay_over(&changed.row, &mut labels, &mut herd);
    }
    if let Some(first) = changed.changes.iter().find(|one| one.column.is_label()) {
        let about = bearer(&press.stamp, her, &labels).ok_or_else(|| unsettled(her, changed, first.column))?;
        press.write(about, Event::Renumbered { animal: AnimalId(about), labels });
    }
    if !herd.is_untold() {
        press.write(changed.animal.0, Event::Described { animal: changed.animal, herd });
    }
    Ok(())
}

/// Of several entries that were joined the one of whom the new labels must be told to become hers: each record is read
/// against what its own entry was called.
fn bearer(stamp: &Stamp, her: &Her, labels: &Labels) -> Option<RecordId> {
    let entries = her.history.animals.iter().map(|animal| animal.0);
    let mut fitting = entries.filter(|about| {
        let told = Event::Renumbered { animal: AnimalId(*about), labels: labels.clone() };
        let records = her.records.iter().cloned().chain(stamp.press([(*about, told)])).collect();
        History::of(records, her.known.animal).labels == *labels
    });
    fitting.next()
}

fn unsettled(her: &Her, changed: &Changed, column: Column) -> Clash {
    let why = Why::Joined(called(&her.history.labels));
    Clash { line: changed.row.line, column, value: column.of(&changed.row), why }
}

/// What she is called: by the surest that she has, and her name.
fn called(labels: &Labels) -> String {
    let first = [&labels.number, &labels.tag, &labels.electronic].map(|label| seen(label)).into_iter();
    let first = first.filter(|label| !label.is_empty()).take(1);
    let both: Vec<String> = first.chain([seen(&labels.name)]).filter(|label| !label.is_empty()).collect();
    both.join(" ")
}
