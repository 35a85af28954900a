//! Lame and not looked at yet, or very lame for too long.

use super::rules::LookRules;
use super::{Due, Urgency, What};
use crate::domain::treatment::Gait;
use chrono::{Days, NaiveDate};

/// What is known of her lameness.
pub(super) struct Lame {
    /// Her last score.
    pub gait: Gait,
    /// First day of the unbroken run of lame scores.
    pub since: NaiveDate,
    /// Day of the last score.
    pub last: NaiveDate,
    /// First day of the run of severe ones that the last score belongs to.
    pub severe_since: Option<NaiveDate>,
    /// Whether a foot was lifted since.
    pub looked: bool,
    /// Whether nothing was found then.
    pub sound: bool,
}

/// Very lame for longer than the rule is the vet's (stop sign); lame with nothing found in the foot is the vet's too
/// (trimmers' code); lame and not looked at is due within the rule's days.
pub(super) fn due(rules: &LookRules, lame: &Lame, today: NaiveDate) -> Option<Due> {
    let severe = lame.gait.scale.is_severe(lame.gait.score);
    if let Some(day) = lame.severe_since.map(|day| day + days(rules.severe)).filter(|day| today > *day) {
        return Some(Due { what: What::Vet, day, urgency: Urgency::Urgent });
    }
    if !lame.looked {
        let day = lame.since + days(if severe { rules.very_lame } else { rules.lame });
        let past = if severe { Urgency::Urgent } else { Urgency::Late };
        let urgency = if today > day {
            past
        } else if today == day {
            Urgency::Due
        } else {
            Urgency::Coming
        };
        return Some(Due { what: What::LookAgain, day, urgency });
    }
    lame.sound.then_some(Due { what: What::Vet, day: lame.last, urgency: Urgency::Due })
}

fn days(count: u16) -> Days {
    Days::new(u64::from(count))
}
