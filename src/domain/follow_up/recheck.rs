//! When to look at a finding again.

use super::rules::RecheckRules;
use super::{Due, Urgency, What};
use crate::domain::finding::{Degree, Finding, Grade};
use crate::domain::history::course::State;
use chrono::{Days, NaiveDate};

/// A look is late this many days after it was due (common practice: half a visit's rhythm).
const GRACE: Days = Days::new(7);

/// A finding as it was last seen, and whether she is lame.
pub(super) struct Seen {
    pub(super) state: State,
    pub(super) lame: bool,
}

/// The look owed on a finding; none for findings that no rule asks to see again.
pub(super) fn due(rules: &RecheckRules, seen: &Seen, last: NaiveDate, today: NaiveDate) -> Option<Due> {
    let what = seen.state.what;
    if what == Finding::TN {
        // Toe necrosis and deep infection are the vet's, now (trimmers' code).
        return Some(Due { what: What::Vet, day: last, urgency: Urgency::Urgent });
    }
    let days = interval(rules, seen)?;
    let due = after(last, days, today);
    if what == Finding::IP && due.urgency == Urgency::Late {
        // Foul not better in time: suspect the joint (stop signs).
        return Some(Due { what: What::Vet, urgency: Urgency::Urgent, ..due });
    }
    Some(due)
}

/// Days until the finding is looked at again.
fn interval(rules: &RecheckRules, seen: &Seen) -> Option<u16> {
    let Seen { state: State { what, degree, infected, deep }, lame } = *seen;
    let moderate = matches!(degree, Degree::Grade(Grade::Moderate | Grade::Severe));
    match what {
        Finding::SU | Finding::BU | Finding::U => Some(if deep || infected { rules.ulcer_deep } else { rules.ulcer }),
        Finding::TU => Some(if infected { rules.deep.min(rules.toe_ulcer) } else { rules.toe_ulcer }),
        Finding::WLA => Some(if infected { rules.deep.min(rules.abscess) } else { rules.abscess }),
        // Subtype not told: the shorter of the two, where it is bad enough to look again (common practice).
        Finding::WL => moderate.then_some(rules.abscess),
        Finding::WLF if infected => Some(rules.deep),
        Finding::WLF => (moderate || lame).then_some(rules.fissure),
        Finding::HFA if deep || infected => Some(rules.deep),
        Finding::SW => Some(rules.deep),
        Finding::TS => Some(rules.thin_sole),
        Finding::DD => matches!(degree, Degree::Stage(stage) if stage.is_active()).then_some(rules.dermatitis),
        Finding::IP => Some(rules.foul),
        // Handled before: the vet's.
        Finding::TN => None,
        Finding::AC
        | Finding::CD
        | Finding::CC
        | Finding::SC
        | Finding::ID
        | Finding::IH
        | Finding::DS
        | Finding::HHE
        | Finding::HF
        | Finding::HFA
        | Finding::HFH
        | Finding::HFV
        | Finding::SH
        | Finding::SHD
        | Finding::SHC
        | Finding::ForeignBody
        | Finding::OwnWords => None,
    }
}

/// A look owed so many days after a day.
pub(super) fn after(last: NaiveDate, days: u16, today: NaiveDate) -> Due {
    on(last + Days::new(u64::from(days)), today)
}

/// A look owed on a day.
pub(super) fn on(day: NaiveDate, today: NaiveDate) -> Due {
    let urgency = if today > day + GRACE {
        Urgency::Late
    } else if today >= day {
        Urgency::Due
    } else {
        Urgency::Coming
    };
    Due { what: What::LookAgain, day, urgency }
}
