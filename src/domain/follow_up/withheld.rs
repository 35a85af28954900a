//! Milk and meat withheld: the days that label or vet stated, from the last use. There is no default: the program invents
//! no period.

use super::{Due, Urgency, What};
use crate::domain::withdrawal::Stated;
use chrono::NaiveDate;

/// Shown until its last day is over. What does not count is asked of the vet the same day (common practice).
pub(super) fn due(stated: &Stated, used: NaiveDate, counts: bool, today: NaiveDate) -> Option<Due> {
    if !counts {
        let urgency = if today > used { Urgency::Late } else { Urgency::Due };
        return Some(Due { what: What::VetsDays, day: used, urgency });
    }
    let day = stated.ends(used)?;
    (today <= day).then_some(Due { what: What::Withheld, day, urgency: Urgency::Coming })
}
