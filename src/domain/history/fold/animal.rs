//! The animal herself: labels, herd data, what she lost.

use super::super::History;
use super::super::standing::Standing;
use crate::domain::anatomy::{Foot, Side};
use crate::domain::event::Event;
use crate::domain::herd::{Herd, Labels, Leaving};
use crate::domain::ids::{AnimalId, FarmId, RecordId};
use crate::domain::record::Record;
use chrono::NaiveDate;
use std::collections::{BTreeMap, BTreeSet};

/// A history of nothing yet.
pub(super) fn blank(class: &BTreeSet<RecordId>) -> History {
    History {
        animals: class.iter().copied().map(AnimalId).collect(),
        farm: None,
        labels: Labels::default(),
        earlier: Vec::new(),
        herd: Herd::default(),
        told: Vec::new(),
        left: None,
        back: None,
        kicker: false,
        cull: None,
        claws_gone: Vec::new(),
        turns: Vec::new(),
        courses: Vec::new(),
        open: Vec::new(),
        outside: Vec::new(),
        joins: Vec::new(),
        moved_away: Vec::new(),
        corrections: Vec::new(),
        doubts: Vec::new(),
        newer: 0,
        count: 0,
    }
}

/// What each of those that stand for her is called, by the records about it alone.
pub(super) type Own = BTreeMap<RecordId, Labels>;

/// She was begun; of two joined animals the first entered keeps her farm.
pub(super) fn begin(history: &mut History, own: &mut Own, record: &Record, farm: FarmId, labels: &Labels) {
    history.farm.get_or_insert(farm);
    relabel(history, own, record, labels);
}

/// Her labels changed: the old ones still find her. A record tells what changed for the one it is about: of two joined animals
/// each keeps what the other never had.
pub(super) fn relabel(history: &mut History, own: &mut Own, record: &Record, labels: &Labels) {
    let known = own.insert(record.about, labels.clone()).unwrap_or_default();
    let field = |of: fn(&Labels) -> &String| {
        let changed = of(labels) != of(&known);
        if changed { of(labels) } else { of(&history.labels) }.clone()
    };
    let now = Labels {
        number: field(|labels| &labels.number),
        tag: field(|labels| &labels.tag),
        electronic: field(|labels| &labels.electronic),
        name: field(|labels| &labels.name),
    };
    if history.labels == now {
        return;
    }
    let before = std::mem::replace(&mut history.labels, now);
    if before != Labels::default() {
        history.earlier.push((record.on, before));
    }
}

/// What somebody else in these records is called now, with all she is joined with.
pub(super) fn called(standing: &Standing, animal: AnimalId) -> Labels {
    let class = standing.one_with(animal.0);
    let (mut other, mut own) = (blank(&class), Own::new());
    for record in standing.records().iter().filter(|record| class.contains(&record.about)) {
        if let Some(Event::AnimalBegun { labels, .. } | Event::Renumbered { labels, .. }) = record.event() {
            relabel(&mut other, &mut own, record, labels);
        }
    }
    other.labels
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

/// The newest word on each field; what was said before stays beside it.
pub(super) fn describe(history: &mut History, on: NaiveDate, told: &Herd) {
    history.told.push((on, told.clone()));
    history.herd.hear(told);
}

/// A claw is gone, told once or often.
pub(super) fn claw_gone(history: &mut History, foot: Foot, side: Side) {
    if !history.claws_gone.contains(&(foot, side)) {
        history.claws_gone.push((foot, side));
    }
}
