//! Her cases: a finding and its answers over visits.

use super::super::{Answer, Case, Found, History, Verdict};
use crate::domain::anatomy::Place;
use crate::domain::event::Detail;
use crate::domain::finding::{Degree, Finding};
use crate::domain::ids::{CaseId, RecordId, TurnId};
use crate::domain::record::Record;
use chrono::{Days, NaiveDate};

/// Days after which the same finding at the same place, unanswered in between, is a new case (Thomas et al. 2015, J Dairy
/// Sci 98:4477, looked again at day 35).
const WINDOW: Days = Days::new(35);

/// A finding: one more of an open case at the same place, or the first of a new one.
pub(super) fn find(
    cases: &mut Vec<Case>,
    turn: TurnId,
    on: NaiveDate,
    id: RecordId,
    (place, what, degree, words): (Place, Finding, Degree, &str),
) -> Found {
    let same = |case: &Case| {
        case.end.is_none() && case.place == place && case.what.group() == what.group() && case.words_fit(what, words)
    };
    let within = |case: &Case| case.last.checked_add_days(WINDOW).is_none_or(|end| on <= end);
    let mut case_id = CaseId(id);
    match cases.iter_mut().find(|case| same(case)) {
        Some(case) if within(case) => {
            case_id = case.id;
            case.found.push((turn, id));
            case.last = case.last.max(on);
            if what.row().group.is_some() {
                case.what = what;
            }
            if degree != Degree::NotGiven {
                case.degree = degree;
            }
        }
        older => {
            // Lost to view for longer than the window: the new finding ends the old case without an answer.
            if let Some(case) = older {
                case.end = Some(id);
            }
            cases.push(Case {
                id: case_id,
                place,
                what,
                degree,
                infected: false,
                deep: false,
                words: words.to_owned(),
                since: on,
                last: on,
                found: vec![(turn, id)],
                answers: Vec::new(),
                end: None,
            });
        }
    }
    Found { id, case: case_id, place, what, degree, infected: false, deep: false, side: None, words: words.to_owned() }
}

impl Case {
    /// Own words are another thing when they are other words.
    fn words_fit(&self, what: Finding, words: &str) -> bool {
        what != Finding::OwnWords || self.words == words
    }

    /// Whether a record is one of its findings.
    pub fn holds(&self, found: RecordId) -> bool {
        self.found.iter().any(|(_, id)| *id == found)
    }
}

/// More told about a finding; false where this animal has no such finding.
pub(super) fn detail(history: &mut History, of: CaseId, detail: &Detail) -> bool {
    let Some(case) = history.cases.iter_mut().find(|case| case.holds(of.0)) else { return false };
    let found = history.turns.iter_mut().flat_map(|turn| &mut turn.found).find(|found| found.id == of.0);
    let Some(found) = found else { return false };
    match *detail {
        Detail::Degree(degree) => (found.degree, case.degree) = (degree, degree),
        Detail::Subtype(what) => (found.what, case.what) = (what, what),
        Detail::Infected(yes) => (found.infected, case.infected) = (yes, yes),
        Detail::Deep(yes) => (found.deep, case.deep) = (yes, yes),
        Detail::Side(side) => found.side = Some(side),
    }
    true
}

/// Whether another tablet saw it still there on the day of this answer. Nobody knows who looked last, so no answer of that day
/// ends it; a finding that the answer names was in its writer's sight.
pub(super) fn is_disputed(history: &History, record: &Record, named: CaseId) -> bool {
    let Some(case) = history.cases.iter().find(|case| case.holds(named.0)) else { return false };
    let that_day = |turn: &TurnId| history.turn(*turn).is_some_and(|turn| turn.on == record.on);
    let theirs = |id: &RecordId| id.series != record.id.series && *id != named.0;
    let found = case.found.iter().any(|(turn, id)| theirs(id) && that_day(turn));
    let still = |verdict: &Verdict| verdict.looked() && !verdict.ends();
    found || case.answers.iter().any(|(turn, id, verdict)| still(verdict) && theirs(id) && that_day(turn))
}

/// An answer; none where no case of hers holds the finding it names.
pub(super) fn answer(
    cases: &mut [Case],
    turn: TurnId,
    record: &Record,
    named: CaseId,
    (verdict, disputed): (Verdict, bool),
) -> Option<Answer> {
    // A sheet typed late may have put an earlier finding before the one that the answer names.
    let case = cases.iter_mut().find(|case| case.holds(named.0))?;
    case.answers.push((turn, record.id, verdict));
    if super::looked(verdict) {
        case.last = case.last.max(record.on);
        case.end = (verdict.ends() && !disputed).then_some(record.id);
        if let Verdict::Stage(stage) = verdict {
            case.degree = Degree::Stage(stage);
        }
    }
    Some(Answer { id: record.id, case: case.id, place: case.place, what: case.what, verdict })
}
