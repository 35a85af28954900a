//! The take-off list of a farm: what stands on it, as data. How it looks on paper, on a phone and in a calendar stands in the
//! files beside.
//!
//! It goes to others, so nobody is named on it for having said that something is off, or nobody will say it again.

pub mod calendar;
pub mod html;
pub mod ics;
pub mod map;
pub mod text;
mod touch;
pub mod words;

use crate::claw_map::marks::Marks;
use crate::domain::anatomy::Place;
use crate::domain::contact::{Contact, named};
use crate::domain::finding::Finding;
use crate::domain::follow_up::list::{DueItem, list};
use crate::domain::follow_up::rules::Rules;
use crate::domain::follow_up::{Due, Urgency, What, due};
use crate::domain::herd::Status;
use crate::domain::history::History;
use crate::domain::history::open::{Knowing, Open, OpenItem};
use crate::domain::ids::{AnimalId, PutId};
use crate::domain::record::Record;
use crate::domain::sheet::of::called as label;
use crate::domain::treatment::{Milking, OffBy, Put, Relief, Sign};
use crate::domain::vocabulary::Vocabulary;
use crate::domain::withdrawal::Stated;
use crate::report::due::{called, since};
use crate::report::marks;
use crate::report::safe::safe;
use crate::report::words::{Words, weekday};
use chrono::NaiveDate;

/// The farm, as far as its list names it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Farm {
    /// Its name.
    pub name: String,
    /// Its vet.
    pub vet: String,
    /// The vet's telephone number.
    pub vet_phone: String,
    /// Its people who are there.
    pub contacts: Vec<Contact>,
}

/// An animal: all that was ever recorded about her, and what it adds up to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Animal {
    /// Her records, and those of whoever was one with her or had a turn moved.
    pub records: Vec<Record>,
    /// What they add up to.
    pub history: History,
}

impl Animal {
    /// Folds the records.
    pub fn of(records: Vec<Record>, animal: AnimalId) -> Animal {
        Animal { history: History::of(records.clone(), animal), records }
    }
}

/// What the farm is to do about something on a foot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Task {
    /// Take it off.
    TakeOff,
    /// Said to be off: feel for what is left of it.
    Feel,
    /// She was sold with it on: tell the new keeper.
    TellKeeper,
    /// A block that still helps.
    LeaveOn,
    /// Felt all round already: the trimmer looks at it at the next lifting.
    Felt,
}

impl Task {
    /// In the order of the list.
    pub const ALL: [Task; 5] = [Task::TakeOff, Task::Feel, Task::TellKeeper, Task::LeaveOn, Task::Felt];

    /// The word in JSON.
    pub fn word(self) -> &'static str {
        match self {
            Task::TakeOff => "take-off",
            Task::Feel => "feel",
            Task::TellKeeper => "tell-keeper",
            Task::LeaveOn => "leave-on",
            Task::Felt => "felt",
        }
    }

    fn of(what: What, knowing: Knowing) -> Task {
        match (what, knowing) {
            (What::TellKeeper, _) => Task::TellKeeper,
            (_, Knowing::ToldBare) => Task::Felt,
            (_, Knowing::ToldOff) => Task::Feel,
            (What::BlockLook, Knowing::NotHeard | Knowing::Asked | Knowing::StillOn | Knowing::KeeperTold) => {
                Task::LeaveOn
            }
            (
                What::WrapOff
                | What::RingLook
                | What::BlockOff
                | What::LookAgain
                | What::Vet
                | What::Withheld
                | What::VetsDays
                | What::Review,
                Knowing::NotHeard | Knowing::Asked | Knowing::StillOn | Knowing::KeeperTold,
            ) => Task::TakeOff,
        }
    }

    /// Whether the farm has a foot to see to: with a box to tick and a line to sign.
    pub fn is_to_do(self) -> bool {
        match self {
            Task::TakeOff | Task::Feel | Task::TellKeeper => true,
            Task::LeaveOn | Task::Felt => false,
        }
    }
}

/// Something on a foot.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct On {
    /// Its name.
    pub put: PutId,
    /// What the animal is called.
    pub animal: String,
    /// The one label by which a program finds her.
    pub label: String,
    /// Where she is to be looked for; empty where she is milked with the rest.
    pub where_is: String,
    /// What it is.
    pub what: Put,
    /// The day it was put on.
    pub since: NaiveDate,
    /// What is to be done.
    pub task: Task,
    /// The day that counts today: for a block that stays on, of the next look.
    pub due: NaiveDate,
    /// By when it is to be off: as promised, else by the rule.
    pub off_by: OffBy,
    /// How urgent it is.
    pub urgency: Urgency,
    /// Who takes it off; empty: nobody named.
    pub remover: String,
    /// A block stands under the same foot, and stays there.
    pub leave_block: bool,
    /// Of a block: pain relief as last told since it was put on.
    pub relief: Option<Relief>,
    /// The map of her feet.
    pub marks: Marks,
}

/// An animal that the vet is to see.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ForVet {
    /// The animal.
    pub id: AnimalId,
    /// What she is called.
    pub animal: String,
    /// The one label by which a program finds her.
    pub label: String,
    /// Where she is to be looked for.
    pub where_is: String,
    /// Where it is.
    pub place: Place,
    /// What was seen.
    pub sign: Sign,
    /// More, in the trimmer's words.
    pub words: String,
    /// Since when.
    pub since: Option<NaiveDate>,
}

/// Milk or meat of an animal that is withheld, as somebody stated.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Withheld {
    /// What she is called.
    pub animal: String,
    /// The one label by which a program finds her.
    pub label: String,
    /// Where she is to be looked for.
    pub where_is: String,
    /// The last day of use.
    pub used: NaiveDate,
    /// What was stated, and by whom.
    pub stated: Stated,
    /// Whether that counts.
    pub counts: bool,
}

/// The list of one farm on one day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TakeOff {
    /// The farm.
    pub farm: Farm,
    /// The day.
    pub today: NaiveDate,
    /// Animals for the vet, on top of the list.
    pub for_vet: Vec<ForVet>,
    /// Milk and meat that are withheld.
    pub withheld: Vec<Withheld>,
    /// What is on the feet, most urgent first.
    pub on: Vec<On>,
}

impl TakeOff {
    /// What stands on the list.
    pub fn of(farm: Farm, animals: &[Animal], rules: &Rules, today: NaiveDate, words: Words) -> TakeOff {
        let open: Vec<Open> = animals.iter().map(|animal| Open::of(&animal.history)).collect();
        let mut take_off = TakeOff { farm, today, for_vet: Vec::new(), withheld: Vec::new(), on: Vec::new() };
        let mut follows = Vec::new();
        for item in list(&open, rules, today).items {
            let Some(at) = open.iter().position(|open| std::ptr::eq(open, item.open)) else { continue };
            let history = &animals[at].history;
            take_off.for_vet.extend(told_vet(&item, history));
            follows.extend(follows_vet(&item, history));
            take_off.withheld.extend(withheld(&item, history));
            take_off.on.extend(on(&item, history, (rules, today), words));
        }
        // What the trimmer said is not said again because a rule says it too.
        let known: Vec<(AnimalId, Sign)> = take_off.for_vet.iter().map(|one| (one.id, one.sign)).collect();
        take_off.for_vet.extend(follows.into_iter().filter(|one| !known.contains(&(one.id, one.sign))));
        take_off
    }

    /// What is on the feet with this to do about it.
    pub fn with(&self, task: Task) -> impl Iterator<Item = &On> {
        self.on.iter().filter(move |on| on.task == task)
    }

    /// The one of the farm's people who is to take it off.
    pub fn who(&self, on: &On) -> Option<&Contact> {
        named(&self.farm.contacts, &on.remover)
    }

    /// Those with a number who have something to take off or to feel for, in the order of the farm's people.
    pub fn to_ring(&self) -> Vec<&Contact> {
        let to_do = [Task::TakeOff, Task::Feel].into_iter().flat_map(|task| self.with(task));
        let meant: Vec<&Contact> = to_do.filter_map(|on| self.who(on)).collect();
        self.farm.contacts.iter().filter(|one| !one.phone.is_empty() && meant.contains(one)).collect()
    }

    /// Whether nothing stands on it.
    pub fn is_empty(&self) -> bool {
        self.on.is_empty() && self.for_vet.is_empty()
    }
}

/// The vet was advised.
fn told_vet(item: &DueItem, history: &History) -> Option<ForVet> {
    if let OpenItem::Vet { sign, words, .. } = item.item { Some(for_vet(item, history, *sign, words)) } else { None }
}

/// A rule makes it the vet's: toe necrosis, foul that is no better, very lame for too long, lame with sound feet.
fn follows_vet(item: &DueItem, history: &History) -> Option<ForVet> {
    if item.due.what != What::Vet {
        return None;
    }
    let sign = match item.item {
        OpenItem::Recheck { told, .. } if told.what.word == Finding::IP => Sign::FoulNotBetter,
        OpenItem::Recheck { .. } => Sign::ToeNecrosis,
        // Very lame for too long is urgent from the day it is; a sound foot is not.
        OpenItem::Lame { .. } if item.due.urgency == Urgency::Urgent => Sign::Long,
        OpenItem::Lame { .. } => Sign::LookHigher,
        OpenItem::Vet { .. }
        | OpenItem::On { .. }
        | OpenItem::LookSoon { .. }
        | OpenItem::SetByHand { .. }
        | OpenItem::Withheld { .. } => return None,
    };
    Some(for_vet(item, history, sign, ""))
}

fn withheld(item: &DueItem, history: &History) -> Option<Withheld> {
    let OpenItem::Withheld { used, stated, counts, .. } = item.item else { return None };
    Some(Withheld {
        animal: called(&item.open.labels),
        label: label(&item.open.labels),
        where_is: where_is(history),
        used: *used,
        stated: stated.clone(),
        counts: *counts,
    })
}

fn for_vet(item: &DueItem, history: &History, sign: Sign, words: &str) -> ForVet {
    ForVet {
        id: item.open.animal,
        animal: called(&item.open.labels),
        label: label(&item.open.labels),
        where_is: where_is(history),
        place: item.item.place(),
        sign,
        words: safe(words),
        since: since(item.item),
    }
}

/// Something on a foot as the list shows it.
fn on(item: &DueItem, history: &History, (rules, today): (&Rules, NaiveDate), words: Words) -> Option<On> {
    let OpenItem::On { put, what, since, remover, knowing, .. } = item.item else { return None };
    let Due { what: to_do, day, urgency } = item.due;
    Some(On {
        put: *put,
        animal: called(&item.open.labels),
        label: label(&item.open.labels),
        where_is: where_is(history),
        what: what.clone(),
        since: *since,
        task: Task::of(to_do, *knowing),
        due: day,
        off_by: off_by(item.open, item.item, rules).unwrap_or(OffBy { day, milking: Milking::Any }),
        urgency,
        remover: safe(remover),
        leave_block: matches!(what, Put::Wrap { .. }) && block_under(history, what),
        relief: matches!(what, Put::Block { .. }).then(|| relief_since(history, *since)).flatten(),
        marks: marks::standing(history, rules, today, words),
    })
}

/// By when something is to be off, whatever day it is now: the rule is asked for a day on which nothing else is left to do.
fn off_by(open: &Open, item: &OpenItem, rules: &Rules) -> Option<OffBy> {
    let OpenItem::On { off_by, .. } = item else { return None };
    off_by.or_else(|| due(open, item, rules, NaiveDate::MAX).map(|due| OffBy { day: due.day, milking: Milking::Any }))
}

fn block_under(history: &History, wrap: &Put) -> bool {
    history.open.iter().any(|item| match item {
        OpenItem::On { what: block @ Put::Block { .. }, .. } => block.foot() == wrap.foot(),
        OpenItem::On { what: Put::Wrap { .. } | Put::Dressing { .. }, .. }
        | OpenItem::LookSoon { .. }
        | OpenItem::Recheck { .. }
        | OpenItem::SetByHand { .. }
        | OpenItem::Lame { .. }
        | OpenItem::Withheld { .. }
        | OpenItem::Vet { .. } => false,
    })
}

/// The newest word on pain relief since a block was put on.
fn relief_since(history: &History, day: NaiveDate) -> Option<Relief> {
    let since = history.turns.iter().rev().take_while(|turn| turn.on >= day);
    since.filter_map(|turn| turn.relief).map(|(_, relief)| relief).next()
}

/// Where she is to be looked for: who is dry, young or sold does not come by with the rest.
fn where_is(history: &History) -> String {
    let milked = history.herd.status == Some(Status::InMilk);
    let dry = (history.herd.status == Some(Status::Dry)).then(|| "dry".to_owned());
    let group = Some(safe(&history.herd.group)).filter(|group| !milked && !group.trim().is_empty());
    let left = history.left.map(|(why, day)| format!("{} {}", why.word(), weekday(day)));
    [dry, group, left].into_iter().flatten().collect::<Vec<String>>().join(", ")
}
