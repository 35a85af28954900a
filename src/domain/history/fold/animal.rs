//! The animal herself: labels, herd data, what she lost.

use super::super::History;
use crate::domain::anatomy::{Foot, Side};
use crate::domain::herd::{Herd, Labels, Leaving};
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
        courses: Vec::new(),
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

/// Two tablets began an animal under this name: what is on her may be on either. So she is called by everything that either was
/// called, and neither has left.
pub(super) fn either(history: &mut History) {
    let day = history.earlier.last().map_or(NaiveDate::MIN, |(day, _)| *day);
    history.earlier.push((day, history.labels.clone()));
    let all = |text: fn(&Labels) -> &String| {
        let mut texts: Vec<&str> = Vec::new();
        for (_, labels) in &history.earlier {
            let text = text(labels).as_str();
            if !text.is_empty() && !texts.contains(&text) {
                texts.push(text);
            }
        }
        texts.join(" or ")
    };
    history.labels = Labels {
        number: all(|labels| &labels.number),
        tag: all(|labels| &labels.tag),
        electronic: all(|labels| &labels.electronic),
        name: all(|labels| &labels.name),
    };
    history.left = None;
}

/// She left. "Gone, not told how" says nothing new of one who is known to be sold: what is on her stays the new keeper's to
/// know.
pub(super) fn leave(history: &mut History, why: Leaving, on: NaiveDate) {
    if why != Leaving::Gone || history.left.is_none() {
        history.left = Some((why, on));
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
