//! A block: looked at while it helps, off before it harms.

use super::rules::BlockRule;
use super::{Due, Urgency, What};
use crate::domain::history::open::Knowing;
use crate::domain::treatment::OffBy;
use chrono::{Days, NaiveDate};

/// A look is late this many days after it was due, and never before the second look (common practice).
const GRACE: Days = Days::new(7);

/// Until the day it must be off, the next look after it was last seen; from that day on, off.
pub(super) fn due(
    rule: &BlockRule,
    every: Option<u16>,
    (since, seen_on): (NaiveDate, Option<NaiveDate>),
    off_by: Option<OffBy>,
    knowing: Knowing,
    today: NaiveDate,
) -> Due {
    let after = |days: u16| since + Days::new(u64::from(days));
    let off = off_by.map_or(after(rule.off), |promise| promise.day);
    let urgent = off + Days::new(u64::from(rule.urgent.saturating_sub(rule.off)));
    let next = next_look(rule, since, seen_on);
    // Nobody handles a dry animal daily: her block is looked at more often, and waits for no second look to be late.
    let (look, late) = match every {
        Some(days) => {
            let look = next.min(seen_on.unwrap_or(since) + Days::new(u64::from(days)));
            (look, look + GRACE)
        }
        None => (next, (next + GRACE).max(after(rule.again))),
    };
    // A look that was late stays late on the day the block must be off.
    let late = today > off || today > late;
    let urgency = if today > urgent {
        Urgency::Urgent
    } else if late {
        Urgency::Late
    } else if today >= look.min(off) {
        Urgency::Due
    } else {
        Urgency::Coming
    };
    let (what, day) = if today >= off || look >= off { (What::BlockOff, off) } else { (What::BlockLook, look) };
    let due = Due { what, day, urgency };
    match knowing {
        Knowing::NotHeard | Knowing::Asked | Knowing::StillOn | Knowing::KeeperTold => due,
        // Told off by somebody: looked for when the foot is next up.
        Knowing::ToldOff => Due { what: What::BlockLook, ..due },
        Knowing::ToldBare => Due { what: What::BlockLook, day: due.day.min(today), urgency: Urgency::Due },
    }
}

/// The first look asked for after the block was last seen on; after the last of them, the day it must be off.
fn next_look(rule: &BlockRule, since: NaiveDate, seen_on: Option<NaiveDate>) -> NaiveDate {
    let last = seen_on.unwrap_or(since);
    let day = |days: u16| since + Days::new(u64::from(days));
    [rule.look, rule.again].map(day).into_iter().find(|look| *look > last).unwrap_or(day(rule.off))
}
