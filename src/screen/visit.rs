//! The words of the visit: what can be said of it, which one it is, and what it adds up to before it is closed.

use crate::domain::herd::VisitWord;
use crate::domain::ids::{PersonId, VisitId};
use crate::domain::visit_sum::VisitSum;
use crate::report::day_list::farm_call;
use crate::report::safe::{safe, whole};
use crate::report::visit as report;
use crate::report::words::{day, visit_word, weekday};
use crate::screen::words::of;
use crate::session::visit::{Act, Ask, Waits};
use crate::session::{FarmLine, Session};
use chrono::{Datelike, NaiveDate};

/// What a choice says; what is said of the visit already is marked.
pub fn act(session: &Session, act: &Act) -> String {
    match act {
        Act::Say(word) if is_said(session, *word) => format!("{}: so now", short(*word)),
        Act::Say(word) => short(*word).to_owned(),
        Act::Pause => "set it aside".to_owned(),
        Act::GoOn(visit) => format!("go on with {}", weekday(begun(session, *visit))),
        Act::New => "a new visit".to_owned(),
        Act::AskClose(visit) if Some(*visit) == session.visits.now => "close it".to_owned(),
        Act::AskClose(visit) => format!("close that of {}", weekday(begun(session, *visit))),
        Act::Ask(Ask::Which) => "go on with one".to_owned(),
        Act::Ask(Ask::Sure(_)) | Act::Close(_) => "close the visit".to_owned(),
        Act::Ask(Ask::Menu | Ask::Close(_) | Ask::Who) => "the visit".to_owned(),
        Act::Who => "somebody else records".to_owned(),
        Act::Records(person) => name(session, *person),
        Act::Name => "somebody else".to_owned(),
    }
}

fn short(word: VisitWord) -> &'static str {
    match word {
        VisitWord::Routine => "routine",
        VisitWord::CallOut => "call-out",
        VisitWord::WholeHerd => "whole herd",
        VisitWord::Selected | VisitWord::CleanedBefore | VisitWord::CleanedAfter | VisitWord::GoneOn => {
            visit_word(word)
        }
    }
}

/// The same in fewer letters.
pub fn brief(session: &Session, act: &Act) -> Vec<String> {
    let now =
        |word: &VisitWord, text: &str| if is_said(session, *word) { format!("{text} *") } else { text.to_owned() };
    let of_day = |text: &str, visit| format!("{text} {}", begun(session, visit).format("%-d %b"));
    match act {
        Act::Say(word) => {
            let forms: &[&str] = match word {
                VisitWord::Routine => &["routine"],
                VisitWord::CallOut => &["call-out", "called"],
                VisitWord::WholeHerd => &["whole herd", "whole"],
                VisitWord::Selected => &["selected", "some"],
                VisitWord::CleanedBefore => &["clean before", "before"],
                VisitWord::CleanedAfter => &["clean after", "after"],
                VisitWord::GoneOn => &["goes on"],
            };
            forms.iter().map(|form| now(word, form)).collect()
        }
        Act::Pause => vec!["aside".to_owned()],
        Act::GoOn(visit) => vec![of_day("go on", *visit), of_day("on", *visit)],
        Act::New => vec!["new".to_owned()],
        Act::AskClose(visit) if Some(*visit) == session.visits.now => vec!["close".to_owned()],
        Act::AskClose(visit) => vec![of_day("close", *visit), "close".to_owned()],
        Act::Ask(Ask::Which) => vec!["go on".to_owned()],
        Act::Ask(Ask::Sure(_)) | Act::Close(_) => vec!["close it".to_owned(), "close".to_owned()],
        Act::Ask(Ask::Menu | Ask::Close(_) | Ask::Who) => Vec::new(),
        Act::Who => vec!["who else".to_owned(), "who".to_owned()],
        Act::Records(person) => vec![name(session, *person)],
        Act::Name => vec!["another".to_owned(), "else".to_owned()],
    }
}

/// What stands beside a farm to choose: what there is to go on with, or that it is given up.
pub fn stands(farm: &FarmLine, today: NaiveDate) -> Option<String> {
    match farm.waits(today) {
        Some(Waits::UnderWay) => Some("visit under way".to_owned()),
        Some(Waits::Aside(on)) if on == today => Some("visit set aside today".to_owned()),
        Some(Waits::Aside(on)) if on.year() == today.year() => Some(format!("visit set aside {}", on.format("%-d %b"))),
        Some(Waits::Aside(on)) => Some(format!("visit set aside {}", day(on))),
        None => farm.given_up.then(|| "given up".to_owned()),
    }
}

/// The heading of a question.
pub fn title(session: &Session, ask: &Ask) -> String {
    match (ask, session.visits.under_way()) {
        (Ask::Menu, Some(visit)) => format!("the visit: {}", report::kind(visit)),
        (Ask::Menu, None) => "the visit: none is under way".to_owned(),
        (Ask::Which, _) => "a visit was set aside: does it go on?".to_owned(),
        (Ask::Close(sum), _) => format!("close the visit of {}?", weekday(sum.visit.on)),
        (Ask::Sure(_), _) => "close it all the same?".to_owned(),
        (Ask::Who, _) => "who records?".to_owned(),
    }
}

/// What is said aloud before it is closed.
pub fn shouts(ask: &Ask) -> Vec<String> {
    match ask {
        Ask::Close(sum) => waits(sum).into_iter().chain(called(sum)).collect(),
        Ask::Sure(sum) => waits(sum).into_iter().collect(),
        Ask::Menu | Ask::Which | Ask::Who => Vec::new(),
    }
}

fn waits(sum: &VisitSum) -> Option<String> {
    report::waits(sum).map(|who| format!("STILL WAITS: {who}"))
}

/// Columns of a call: with more, the choices below it would have no room.
const CALL: usize = 100;

/// What the farm called about itself meanwhile, the newest: its closing hears it. The totals have all of it.
fn called(sum: &VisitSum) -> Option<String> {
    let said = farm_call(sum.calls.last()?);
    let cut = whole(&said, CALL);
    let rest = sum.calls.len() - 1;
    let more = if rest > 0 { format!(" ({rest} earlier: in the totals)") } else { String::new() };
    let dots = if cut.len() < said.len() { "... (all of it in the totals)" } else { "" };
    Some(format!("{cut}{dots}{more}"))
}

/// What is worth knowing beside the question: when it was washed, what the visit adds up to.
pub fn note(session: &Session, ask: &Ask) -> Option<String> {
    match ask {
        Ask::Menu => {
            let visit = session.visits.under_way()?;
            let [before, after] = [visit.cleaned_before, visit.cleaned_after].map(|told| report::cleaned(visit, told));
            let days = visit.days.iter().map(|on| day(*on)).collect::<Vec<_>>().join(", ");
            Some(format!("begun {days}; cleaned before: {before}; after: {after}"))
        }
        Ask::Which | Ask::Who => None,
        Ask::Close(sum) => Some(report::in_one(sum, of(session))),
        Ask::Sure(sum) if !sum.visit.holds(sum.visit.cleaned_after) => {
            Some("nothing was told of washing and disinfecting after".to_owned())
        }
        Ask::Sure(_) => None,
    }
}

/// A person who records.
fn name(session: &Session, person: PersonId) -> String {
    safe(session.people.iter().find(|(id, _)| *id == person).map_or("", |(_, name)| name))
}

/// The day a visit began.
fn begun(session: &Session, visit: VisitId) -> chrono::NaiveDate {
    session.visits.get(visit).map_or(session.today, |visit| visit.on)
}

/// Whether that is said of the visit under way.
fn is_said(session: &Session, word: VisitWord) -> bool {
    session.visits.under_way().is_some_and(|visit| visit.says(word))
}
