//! When an open item is due and how urgent it is: one rule a file, each default with its source.
//!
//! Nothing here is stored. A changed rule changes the list at once and touches no record.

mod block;
pub mod given_up;
mod keeper;
mod lame;
pub mod list;
mod recheck;
pub mod review;
pub mod rules;
mod vet;
mod withheld;
mod wrap;

use super::herd::{Leaving, Status};
use super::history::open::{Open, OpenItem};
use super::treatment::Put;
use super::vocabulary::vocabulary;
use chrono::NaiveDate;
use rules::{RuleSet, Rules};

vocabulary! {
    /// What is to be done about an item.
    What, "follow-up" {
        /// Take the wrap off.
        WrapOff = 1 "wrap-off",
        /// Told off: look for a ring.
        RingLook = 2 "ring-look",
        /// Look at the block.
        BlockLook = 3 "block-look",
        /// Take the block off.
        BlockOff = 4 "block-off",
        /// Look at a finding again.
        LookAgain = 5 "look-again",
        /// The vet.
        Vet = 6 "vet",
        /// She was sold with something on: tell the new keeper.
        TellKeeper = 7 "tell-keeper",
        /// Milk or meat is withheld, as stated.
        Withheld = 8 "withheld",
        /// Days were stated that do not count under a wrap: ask the vet.
        VetsDays = 9 "vets-days",
        /// Look again at a standing instruction of a farm.
        Review = 10 "review",
    }
}

vocabulary! {
    /// How urgent it is.
    Urgency, "state" {
        /// Not yet.
        Coming = 1 "coming",
        /// Now.
        Due = 2 "due",
        /// Past its time.
        Late = 3 "late",
        /// Harm is likely.
        Urgent = 4 "urgent",
    }
}

/// What is due, when, and how urgent it is today.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Due {
    /// What is to be done.
    pub what: What,
    /// The day it is due.
    pub day: NaiveDate,
    /// How urgent it is.
    pub urgency: Urgency,
}

/// What is due about one item on a day; none where no rule asks for anything.
pub fn due(open: &Open, item: &OpenItem, rules: &Rules, today: NaiveDate) -> Option<Due> {
    // Nobody can take anything off a dead animal; of one sold the new keeper is to be told.
    if matches!(open.left, Some((Leaving::Died | Leaving::Slaughter, _))) {
        return None;
    }
    let rules = rules.of(open.farm);
    match item {
        OpenItem::On { knowing, trouble, .. } => {
            let on_her = troubled(on(open, item, rules, today)?, *trouble);
            match open.left {
                Some((Leaving::Sold, sold)) => keeper::due(sold, on_her, *knowing),
                Some((Leaving::Gone | Leaving::Died | Leaving::Slaughter, _)) | None => Some(on_her),
            }
        }
        OpenItem::LookSoon { since, .. } => Some(recheck::after(*since, rules.look.raw_skin, today)),
        OpenItem::SetByHand { on, .. } => Some(recheck::on(*on, today)),
        OpenItem::Recheck { told, last, .. } => {
            let lame = open.items.iter().any(|item| matches!(item, OpenItem::Lame { .. }));
            let seen = recheck::Seen { state: told.within(rules.case.window), lame };
            recheck::due(&rules.recheck, &seen, *last, today)
        }
        OpenItem::Lame { since, last, gait, severe_since, looked, sound, .. } => {
            let lame = lame::Lame {
                gait: *gait,
                since: *since,
                last: *last,
                severe_since: *severe_since,
                looked: *looked,
                sound: *sound,
            };
            lame::due(&rules.look, &lame, today)
        }
        OpenItem::Withheld { stated, used, counts, .. } => withheld::due(stated, *used, *counts, today),
        OpenItem::Vet { since, .. } => Some(vet::due(*since)),
    }
}

/// Swollen, smelling or lamer with something on: urgent from the day it is said, whatever the rule's day.
fn troubled(due: Due, since: Option<NaiveDate>) -> Due {
    match since {
        Some(day) => Due { urgency: Urgency::Urgent, day: day.min(due.day), ..due },
        None => due,
    }
}

/// What is due about something left on; none of a dressing, or where the item is something else.
fn on(open: &Open, item: &OpenItem, rules: &RuleSet, today: NaiveDate) -> Option<Due> {
    let OpenItem::On { what, since, off_by, seen_on, knowing, told, .. } = item else { return None };
    match what {
        Put::Wrap { .. } => {
            let told_on = told.as_ref().map(|(_, day)| *day);
            Some(wrap::due(&rules.wrap, *since, *off_by, *knowing, told_on, open, today))
        }
        Put::Block { kind, .. } => {
            Some(block::due(rules.block(*kind), dry(open, rules), (*since, *seen_on), *off_by, *knowing, today))
        }
        Put::Dressing { .. } => None,
    }
}

/// Days between looks at a block on a dry animal; none for others.
fn dry(open: &Open, rules: &RuleSet) -> Option<u16> {
    (open.status == Some(Status::Dry)).then_some(rules.look.dry_block)
}
