//! A wrap: it must come off, or it tightens into the skin.

use super::rules::WrapRule;
use super::{Due, Urgency, What};
use crate::domain::herd::Status;
use crate::domain::history::open::{Knowing, Open};
use crate::domain::treatment::OffBy;
use chrono::{Days, NaiveDate};

/// A promised day takes the place of the rule's day and moves lateness with it: who promises two days is late on the fifth.
/// Told off, it is to be looked for as a ring; told bare and felt, that is due at the next lifting but never loud.
pub(super) fn due(
    rule: &WrapRule,
    since: NaiveDate,
    off_by: Option<OffBy>,
    knowing: Knowing,
    told_on: Option<NaiveDate>,
    open: &Open,
    today: NaiveDate,
) -> Due {
    let day = off_by.map_or(since + days(rule.off), |promise| promise.day);
    let urgency = urgency(rule, day, today);
    match knowing {
        Knowing::NotHeard | Knowing::Asked | Knowing::StillOn | Knowing::KeeperTold => {
            Due { what: What::WrapOff, day, urgency: louder_when_dry(urgency, open) }
        }
        Knowing::ToldOff => Due { what: What::RingLook, day, urgency: louder_when_dry(urgency, open) },
        Knowing::ToldBare => {
            let day = told_on.unwrap_or(day);
            Due { what: What::RingLook, day, urgency: Urgency::Due }
        }
    }
}

fn urgency(rule: &WrapRule, day: NaiveDate, today: NaiveDate) -> Urgency {
    let late = day + days(rule.late.saturating_sub(rule.off));
    let urgent = day + days(rule.urgent.saturating_sub(rule.off));
    if today > urgent {
        Urgency::Urgent
    } else if today > late {
        Urgency::Late
    } else if today >= day {
        Urgency::Due
    } else {
        Urgency::Coming
    }
}

/// Nobody handles a dry animal daily (common practice): what is due on her is one step louder.
fn louder_when_dry(urgency: Urgency, open: &Open) -> Urgency {
    match (open.status, urgency) {
        (Some(Status::Dry), Urgency::Due) => Urgency::Late,
        (Some(Status::Dry), Urgency::Late) => Urgency::Urgent,
        (
            None | Some(Status::Dry | Status::InMilk | Status::Heifer | Status::Male),
            Urgency::Coming | Urgency::Due | Urgency::Late | Urgency::Urgent,
        ) => urgency,
    }
}

fn days(count: u16) -> Days {
    Days::new(u64::from(count))
}
