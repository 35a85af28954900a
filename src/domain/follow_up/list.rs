//! What is due of many animals: one list, most urgent first, that does not cry wolf.

use super::rules::Rules;
use super::{Due, Urgency, What, due};
use crate::domain::anatomy::Place;
use crate::domain::history::open::{Knowing, Open, OpenItem};
use crate::domain::ids::{AnimalId, FarmId};
use chrono::{NaiveDate, TimeDelta};
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// One open item of one animal with what is due about it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DueItem<'a> {
    /// The animal.
    pub open: &'a Open,
    /// The item.
    pub item: &'a OpenItem,
    /// What is due.
    pub due: Due,
}

impl DueItem<'_> {
    /// Whether it counts in the loud number at the top: late or urgent, and not told bare and felt.
    pub fn is_loud(&self) -> bool {
        self.due.urgency >= Urgency::Late && self.knowing() != Some(Knowing::ToldBare)
    }

    /// What is known about something left on; none for other items.
    pub fn knowing(&self) -> Option<Knowing> {
        if let OpenItem::On { knowing, .. } = self.item { Some(*knowing) } else { None }
    }

    /// Whether it is a look at a finding that nobody saw for so long that only its number is told.
    pub fn is_long_unseen(&self, rules: &Rules, today: NaiveDate) -> bool {
        let seen = match self.item {
            OpenItem::Recheck { last, .. } => *last,
            OpenItem::SetByHand { on, .. } => *on,
            OpenItem::Lame { last, .. } => *last,
            OpenItem::On { .. } | OpenItem::LookSoon { .. } | OpenItem::Withheld { .. } | OpenItem::Vet { .. } => {
                return false;
            }
        };
        self.due.what == What::LookAgain
            && today - seen >= TimeDelta::days(i64::from(rules.of(self.open.farm).look.unseen))
    }

    /// Rank among items of the same urgency: seen still on, nobody answered, told off, told bare; then everything else.
    fn rank(&self) -> u8 {
        match self.knowing() {
            Some(Knowing::StillOn) => 0,
            Some(Knowing::NotHeard | Knowing::Asked | Knowing::KeeperTold) => 1,
            Some(Knowing::ToldOff) => 2,
            Some(Knowing::ToldBare) => 4,
            None => 3,
        }
    }
}

/// Looks at findings that nobody saw for long, folded into one line a farm. Wraps and blocks never are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unseen {
    /// How many.
    pub count: usize,
    /// The day the oldest was due.
    pub oldest: NaiveDate,
}

/// Everything due.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DueList<'a> {
    /// Items, most urgent first.
    pub items: Vec<DueItem<'a>>,
    /// Looks folded, by farm.
    pub unseen: BTreeMap<FarmId, Unseen>,
}

/// Everything due of many animals. The order depends on facts alone, never on how they arrived.
pub fn list<'a>(open: &'a [Open], rules: &Rules, today: NaiveDate) -> DueList<'a> {
    let mut list = gathered(open.iter(), rules, today);
    list.items.sort_by_cached_key(order);
    list
}

/// How many lines of the list are late or urgent, of one farm or of all: the loud number at the top. Items told bare and
/// felt are not among them, and looks that nobody saw for long count as the one line they are.
pub fn loud(open: &[Open], farm: Option<FarmId>, rules: &Rules, today: NaiveDate) -> usize {
    let here = open.iter().filter(|open| farm.is_none_or(|farm| open.farm == farm));
    let list = gathered(here, rules, today);
    list.items.iter().filter(|item| item.is_loud()).count() + list.unseen.len()
}

/// The most urgent item of one animal.
pub fn worst<'a>(open: &'a Open, rules: &Rules, today: NaiveDate) -> Option<DueItem<'a>> {
    items(open, rules, today).min_by_key(order)
}

fn gathered<'a>(open: impl Iterator<Item = &'a Open>, rules: &Rules, today: NaiveDate) -> DueList<'a> {
    let mut list = DueList { items: Vec::new(), unseen: BTreeMap::new() };
    for item in open.flat_map(|open| items(open, rules, today)) {
        if item.is_long_unseen(rules, today) {
            let unseen = list.unseen.entry(item.open.farm).or_insert(Unseen { count: 0, oldest: item.due.day });
            unseen.count += 1;
            unseen.oldest = unseen.oldest.min(item.due.day);
        } else {
            list.items.push(item);
        }
    }
    list
}

fn items<'a>(open: &'a Open, rules: &Rules, today: NaiveDate) -> impl Iterator<Item = DueItem<'a>> {
    open.items.iter().filter_map(move |item| due(open, item, rules, today).map(|due| DueItem { open, item, due }))
}

/// Most urgent first; what is alike stands in the order of its facts.
fn order(item: &DueItem<'_>) -> (Reverse<Urgency>, u8, NaiveDate, AnimalId, What, Place) {
    (Reverse(item.due.urgency), item.rank(), item.due.day, item.open.animal, item.due.what, item.item.place())
}
