//! Two that may be one: entered on two tablets, or again under a new number because a tag was lost. They are offered, never
//! joined by themselves: numbers are given again, and two people may bear one name.

use super::event::Event;
use super::herd::Labels;
use super::history::standing::Standing;
use super::history::{History, Join};
use super::ids::RecordId;
use super::vocabulary::vocabulary;
use chrono::NaiveDate;
use std::collections::{BTreeMap, BTreeSet};

vocabulary! {
    /// What may have been entered twice.
    Kind, "kind" {
        /// Animals of one farm.
        Animals = 1 "animals",
        /// Farms.
        Farms = 2 "farms",
        /// People who record.
        People = 3 "people",
    }
}

vocabulary! {
    /// What two have in common.
    Alike, "likeness" {
        /// The working number.
        Number = 1 "number",
        /// The ear tag.
        Tag = 2 "tag",
        /// The electronic number.
        Electronic = 3 "electronic number",
        /// The name.
        Name = 4 "name",
    }
}

/// Two that may be one, or were said to be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pair {
    /// What they are.
    pub kind: Kind,
    /// The one that was begun first.
    pub one: RecordId,
    /// The other.
    pub other: RecordId,
    /// What they have in common; none of two that were joined.
    pub alike: Option<Alike>,
    /// What both are called.
    pub called: String,
    /// The record that says they are one, where one does.
    pub joined: Option<RecordId>,
}

/// An animal as she is compared.
#[derive(Debug, Clone, Copy)]
pub struct Called<'l> {
    /// The animal.
    pub id: RecordId,
    /// What she is called now.
    pub labels: &'l Labels,
    /// Whether she left.
    pub left: bool,
}

/// Pairs that a person said are two.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Apart(BTreeSet<(RecordId, RecordId)>);

impl Apart {
    /// What stands of it in the records of a farm or of the practice.
    pub fn of(standing: &Standing) -> Apart {
        let mut apart = Apart::default();
        for record in standing.records() {
            if let Some(Event::KeptApart { one, other }) = record.event() {
                apart.0.insert(in_order(*one, *other));
            }
        }
        apart
    }

    fn holds(&self, one: RecordId, other: RecordId) -> bool {
        self.0.contains(&in_order(one, other))
    }
}

/// The smaller name first.
pub fn in_order(one: RecordId, other: RecordId) -> (RecordId, RecordId) {
    (one.min(other), one.max(other))
}

/// A name or label as it is compared: letters and digits alone, whatever their case.
pub fn folded(text: &str) -> String {
    text.chars().filter(|letter| letter.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// Animals of one farm that may be one. A tag or electronic number is given once in the world (ISO 11784 for the electronic one);
/// a working number is given again, so it counts only between two that are here and were begun by different tablets, and not where
/// their tags say otherwise.
pub fn animals(herd: &[Called], apart: &Apart) -> Vec<Pair> {
    let mut pairs = Pairs::new(Kind::Animals, apart);
    pairs.find(herd, Alike::Electronic, |called| folded(&called.labels.electronic), |_, _| true);
    pairs.find(herd, Alike::Tag, |called| folded(&called.labels.tag), |_, _| true);
    // "12-4" and "124" may well be two on one farm.
    pairs.find(
        herd,
        Alike::Number,
        |called| called.labels.number.trim().to_lowercase(),
        |one, other| {
            let here = !one.left && !other.left;
            here && one.id.series != other.id.series && !tags_differ(one.labels, other.labels)
        },
    );
    pairs.found.into_values().collect()
}

/// Farms, or people, of one name.
pub fn named(kind: Kind, named: &[(RecordId, String)], apart: &Apart) -> Vec<Pair> {
    let labels: Vec<(RecordId, Labels)> =
        named.iter().map(|(id, name)| (*id, Labels { name: name.clone(), ..Labels::default() })).collect();
    let all: Vec<Called> = labels.iter().map(|(id, labels)| Called { id: *id, labels, left: false }).collect();
    let mut pairs = Pairs::new(kind, apart);
    pairs.find(&all, Alike::Name, |called| folded(&called.labels.name), |_, _| true);
    pairs.found.into_values().collect()
}

/// Two that were joined, as a pair.
pub fn joined(kind: Kind, join: &Join, called: &str) -> Pair {
    let (one, other) = in_order(join.one, join.other);
    Pair { kind, one, other, alike: None, called: called.to_owned(), joined: Some(join.id) }
}

/// Whether both carry a tag or an electronic number, and not the same.
fn tags_differ(one: &Labels, other: &Labels) -> bool {
    let differ = |one: &str, other: &str| {
        let (one, other) = (folded(one), folded(other));
        !one.is_empty() && !other.is_empty() && one != other
    };
    differ(&one.tag, &other.tag) || differ(&one.electronic, &other.electronic)
}

/// Pairs found so far, each once, by their names.
struct Pairs<'a> {
    kind: Kind,
    apart: &'a Apart,
    found: BTreeMap<(RecordId, RecordId), Pair>,
}

impl<'a> Pairs<'a> {
    fn new(kind: Kind, apart: &'a Apart) -> Pairs<'a> {
        Pairs { kind, apart, found: BTreeMap::new() }
    }

    /// Pairs those that share a key. Each is offered with the first that it may be one with: once these are joined, the rest of
    /// several is asked about in turn.
    fn find(
        &mut self,
        all: &[Called],
        alike: Alike,
        key: impl Fn(&Called) -> String,
        may_be: impl Fn(&Called, &Called) -> bool,
    ) {
        let mut groups: BTreeMap<String, Vec<&Called>> = BTreeMap::new();
        for called in all {
            groups.entry(key(called)).or_default().push(called);
        }
        groups.remove("");
        for mut group in groups.into_values() {
            group.sort_by_key(|called| called.id);
            for (at, other) in group.iter().enumerate() {
                let fits =
                    |one: &&&Called| one.id != other.id && !self.apart.holds(one.id, other.id) && may_be(one, other);
                if let Some(one) = group[..at].iter().find(fits) {
                    let called =
                        [&other.labels.number, &other.labels.tag, &other.labels.electronic, &other.labels.name];
                    let called = called.into_iter().find(|label| !label.is_empty()).cloned().unwrap_or_default();
                    let pair = Pair {
                        kind: self.kind,
                        one: one.id,
                        other: other.id,
                        alike: Some(alike),
                        called,
                        joined: None,
                    };
                    self.found.entry((one.id, other.id)).or_insert(pair);
                }
            }
        }
    }
}

/// What tells one from another, for a person who is to say which it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Sketch {
    /// An animal: her labels, her last turn, what is open.
    Animal(Box<History>),
    /// A farm.
    Farm {
        /// Its name.
        name: String,
        /// Its telephone number; empty: not known.
        phone: String,
        /// How many animals it has.
        animals: usize,
        /// The day of its last visit.
        last: Option<NaiveDate>,
    },
    /// Somebody who records.
    Person {
        /// The name.
        name: String,
        /// The day they were named.
        since: Option<NaiveDate>,
    },
}
