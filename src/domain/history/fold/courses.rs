//! Her courses: findings and their answers over visits.

use super::super::course::{Course, Said, Step, Told};
use super::super::{Answer, Found, History, Verdict};
use crate::domain::anatomy::Place;
use crate::domain::event::Detail;
use crate::domain::finding::{Degree, Finding};
use crate::domain::ids::{CaseId, RecordId, TurnId};
use crate::domain::record::Record;
use chrono::NaiveDate;

/// A finding: one more of an open course at the same place, or the first of a new one.
pub(super) fn find(
    courses: &mut Vec<Course>,
    turn: TurnId,
    on: NaiveDate,
    id: RecordId,
    (place, what, degree, words): (Place, Finding, Degree, &str),
) -> Found {
    let told = Told { what, degree, infected: None, deep: None };
    let step = Step { turn, id, on, said: Said::Found(told), disputed: false };
    let open = courses.iter_mut().find(|course| course.is_of(place, what, words) && course.end().is_none());
    let case = match open {
        Some(course) => {
            course.steps.push(step);
            course.id
        }
        None => {
            courses.push(Course { id: CaseId(id), place, words: words.to_owned(), steps: vec![step] });
            CaseId(id)
        }
    };
    let words = words.to_owned();
    Found { id, case, place, what, degree, infected: false, deep: false, side: None, words, was: Vec::new() }
}

/// More told about a finding; false where this animal has no such finding.
pub(super) fn detail(history: &mut History, of: CaseId, detail: &Detail) -> bool {
    let mut steps = history.courses.iter_mut().flat_map(|course| &mut course.steps);
    let told = steps.find_map(|step| match &mut step.said {
        Said::Found(told) if step.id == of.0 => Some(told),
        Said::Found(_) | Said::Answered(_) => None,
    });
    let found = history.turns.iter_mut().flat_map(|turn| &mut turn.found).find(|found| found.id == of.0);
    let (Some(told), Some(found)) = (told, found) else { return false };
    match *detail {
        Detail::Degree(degree) => (found.degree, told.degree) = (degree, degree),
        Detail::Subtype(what) => (found.what, told.what) = (what, what),
        Detail::Infected(yes) => (found.infected, told.infected) = (yes, Some(yes)),
        Detail::Deep(yes) => (found.deep, told.deep) = (yes, Some(yes)),
        Detail::Side(side) => found.side = Some(side),
    }
    true
}

/// An answer; none where no course of hers holds the finding it names.
pub(super) fn answer(
    courses: &mut [Course],
    turn: TurnId,
    record: &Record,
    named: CaseId,
    verdict: Verdict,
) -> Option<Answer> {
    // A sheet typed late may have put an earlier finding before the one that the answer names.
    let course = courses.iter_mut().find(|course| course.holds(named.0))?;
    let disputed = verdict.ends() && course.disputes(record.id, record.on, named.0);
    course.steps.push(Step { turn, id: record.id, on: record.on, said: Said::Answered(verdict), disputed });
    Some(Answer { id: record.id, case: course.id, place: course.place, what: course.what(), verdict })
}
