//! The animal herself: labels, herd data, what she lost.

use super::super::History;
use crate::domain::anatomy::{Foot, Side};
use crate::domain::herd::{Herd, Labels};
use crate::domain::ids::{AnimalId, FarmId, RecordId};
use chrono::NaiveDate;
use std::collections::BTreeSet;

/// A history of nothing yet.
pub(super) fn blank(class: &BTreeSet<RecordId>) -> History {
    History {
        animals: class.iter().copied().map(AnimalId).collect(),
        farm: None,
        labels: Labels::default(),
        earlier: Vec::new(),
        herd: Herd::default(),
        left: None,
        kicker: false,
        cull: None,
        claws_gone: Vec::new(),
        turns: Vec::new(),
        cases: Vec::new(),
        open: Vec::new(),
        outside: Vec::new(),
        doubts: Vec::new(),
        newer: 0,
        count: 0,
    }
}

/// She was begun; of two joined animals the first entered keeps her farm.
pub(super) fn begin(history: &mut History, farm: FarmId, labels: &Labels, on: NaiveDate) {
    history.farm.get_or_insert(farm);
    relabel(history, labels, on);
}

/// Her labels changed: the old ones still find her.
pub(super) fn relabel(history: &mut History, labels: &Labels, on: NaiveDate) {
    if history.labels == *labels {
        return;
    }
    let before = std::mem::replace(&mut history.labels, labels.clone());
    if before != Labels::default() {
        history.earlier.push((on, before));
    }
}

/// The newest word on each field.
pub(super) fn describe(history: &mut History, told: &Herd) {
    fn newer<T: Clone>(field: &mut Option<T>, told: &Option<T>) {
        if told.is_some() {
            field.clone_from(told);
        }
    }
    fn newer_words(field: &mut String, told: &str) {
        if !told.is_empty() {
            told.clone_into(field);
        }
    }
    let herd = &mut history.herd;
    let Herd { breed, group, born, lactation, calved, dry_from, due_to_calve, status } = told;
    newer_words(&mut herd.breed, breed);
    newer_words(&mut herd.group, group);
    newer(&mut herd.born, born);
    newer(&mut herd.lactation, lactation);
    newer(&mut herd.calved, calved);
    newer(&mut herd.dry_from, dry_from);
    newer(&mut herd.due_to_calve, due_to_calve);
    newer(&mut herd.status, status);
}

/// A claw is gone, told once or often.
pub(super) fn claw_gone(history: &mut History, foot: Foot, side: Side) {
    if !history.claws_gone.contains(&(foot, side)) {
        history.claws_gone.push((foot, side));
    }
}
