//! Sold with something on: the new keeper has to be told, or nobody looks under it.

use super::{Due, Urgency, What};
use crate::domain::history::open::Knowing;
use chrono::NaiveDate;

/// To be told from the day she was sold, and never less urgent than what is on her; none once the keeper was told
/// (common practice).
pub(super) fn due(sold: NaiveDate, on_her: Due, knowing: Knowing) -> Option<Due> {
    match knowing {
        Knowing::KeeperTold => None,
        Knowing::NotHeard | Knowing::Asked | Knowing::StillOn | Knowing::ToldOff | Knowing::ToldBare => {
            Some(Due { what: What::TellKeeper, day: sold, urgency: on_her.urgency.max(Urgency::Late) })
        }
    }
}
