//! A line of the list of the day where there is one row for it: each reason in a longer and a shorter form. And how the day
//! stands, in a row.

use super::due::called;
use super::safe::safe;
use super::short::{self, short};
use super::words::{self, Words};
use crate::domain::day_list::{Came, Counts, DayList, Line, Spared, StillHere, Why};
use crate::domain::follow_up::list::DueItem;
use crate::domain::follow_up::rules::{RuleSet, Rules};
use crate::domain::follow_up::{Due, Urgency};
use crate::domain::history::open::{Open, OpenItem};
use crate::domain::history::{Turn, TurnState};
use crate::domain::hours;
use crate::domain::ids::VisitId;
use crate::domain::record::Moment;
use chrono::NaiveDate;
use unicode_width::UnicodeWidthStr;

/// One thing that is said of an animal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Said {
    /// How urgent it is, where it is due at all.
    pub urgency: Option<Urgency>,
    /// The same in fewer and fewer words.
    pub forms: Vec<String>,
    /// In fewer still, for a row that has no room for any of these.
    pub least: Vec<String>,
}

/// The rules and the day that a list is read with.
pub type By<'r> = (&'r Rules, NaiveDate);

/// Why she should come, the most pressing first; and that she did not come when she was last expected.
pub fn reasons(line: &Line, by: By<'_>, at: Moment, words: Words) -> Vec<Said> {
    let missed = line.missed.map(|on| plain([format!("not here on {}", words::weekday(on)), day("not here", on)]));
    line.why.iter().map(|why| reason(line, why, by, at, words)).chain(missed).collect()
}

fn reason(line: &Line, why: &Why, by: By<'_>, at: Moment, words: Words) -> Said {
    match why {
        Why::Open(item, due) => {
            let left = due.and_then(|due| hours::left(item, due, line.scored, (by.1, at)));
            open(&line.open, item, *due, left, by, words)
        }
        Why::Called { on, words: said, urgent } => {
            let forms = [format!("called {}: {said}", words::weekday(*on)), format!("called: {said}")];
            let urgency = if *urgent { Urgency::Urgent } else { Urgency::Due };
            Said { urgency: Some(urgency), ..plain(forms) }
        }
        Why::HalfDone(on) => plain([format!("not finished {}", words::weekday(*on)), day("not finished", *on)]),
        Why::DriedOff(on) => plain([format!("dried off {}", words::weekday(*on)), day("dried off", *on)]),
        Why::InMilk(days) => plain([format!("{days} days in milk, no trim yet"), format!("{days} days in milk")]),
        Why::Unseen(Some(on)) => plain([format!("last seen {}", words::day(*on))]),
        Why::Unseen(None) => plain(["never seen".to_owned()]),
        Why::HindsUnseen(Some(on)) => plain([
            words.fill(&format!("both {{hind}} feet last up {}", words::day(*on))),
            words.fill(&format!("{{hind}} feet {}", words::day(*on))),
        ]),
        Why::HindsUnseen(None) => plain([words.fill("both {hind} feet never up"), words.fill("{hind} feet never up")]),
        Why::Calving(days) => plain([format!("due to calve in {days} days"), format!("calves in {days} days")]),
    }
}

/// Something open that is due and needs no crush, or is not asked for today.
pub fn known(item: &DueItem<'_>, by: By<'_>, words: Words) -> Said {
    open(item.open, item.item, Some(item.due), None, by, words)
}

fn open(of: &Open, item: &OpenItem, due: Option<Due>, left: Option<i64>, by: By<'_>, words: Words) -> Said {
    let due = due.filter(|due| due.urgency > Urgency::Coming || matches!(item, OpenItem::Lame { .. }));
    let text = short(of, item, by, words);
    let forms = match (item, due) {
        // Hours count: she is looked at before they are over.
        (OpenItem::Lame { gait, .. }, Some(due)) => {
            let left = left.filter(|_| due.urgency <= Urgency::Due).map(|left| format!(", {}", hours(left)));
            let left = left.unwrap_or_default();
            vec![format!("{text}{left}"), format!("{}{left}", words.gait(*gait))]
        }
        // A sign for the vet says so itself.
        (OpenItem::Vet { .. }, _) => vec![text],
        (OpenItem::Withheld { .. }, Some(due)) => vec![text, words.what(due.what)],
        (OpenItem::On { .. }, due) => {
            let days = text.replace(" days", " d");
            let what = due.map(|due| format!("{}: {text}", words.what(due.what)));
            what.into_iter().chain([text, days]).collect()
        }
        (
            OpenItem::LookSoon { .. }
            | OpenItem::Recheck { .. }
            | OpenItem::SetByHand { .. }
            | OpenItem::Lame { .. }
            | OpenItem::Withheld { .. },
            None,
        ) => vec![text],
        (OpenItem::LookSoon { .. } | OpenItem::Recheck { .. } | OpenItem::SetByHand { .. }, Some(due)) => {
            vec![format!("{}: {text}", words.what(due.what)), text]
        }
    };
    let urgency = due.map(|due| due.urgency).filter(|urgency| *urgency > Urgency::Coming);
    let least = short::forms(of, item, by, words).into_iter().skip(1).map(|form| safe(&form)).collect();
    Said { urgency, least, ..plain(forms) }
}

/// Hours that are left; below nothing they are over.
pub fn hours(left: i64) -> String {
    if left < 0 { format!("{} h over", -left) } else { format!("{left} h left") }
}

/// That she is left for now, and until when.
pub fn spared(spared: &Spared) -> Said {
    let on = words::weekday(spared.due_to_calve);
    plain([
        format!("no routine trim now: calves {on}"),
        format!("spared: calves {on}"),
        day("spared:", spared.due_to_calve),
    ])
}

/// That she may have left without a word.
pub fn still_here(unseen: &StillHere) -> Said {
    let on = unseen.last.map_or("never seen".to_owned(), |on| format!("last seen {}", words::day(on)));
    plain([format!("{on}: still here?"), on])
}

/// How many may have left without a word; none where nobody has.
pub fn asked(list: &DayList, rules: &RuleSet) -> Option<String> {
    match list.still_here.len() {
        0 => None,
        count => Some(format!("{count} not seen for over {}: still here?", span(rules.still_here))),
    }
}

/// Days, as years where they are.
fn span(days: u16) -> String {
    match (days / 365, days % 365) {
        (1, 0) => "a year".to_owned(),
        (years @ 2.., 0) => format!("{years} years"),
        _ => format!("{days} days"),
    }
}

fn plain(forms: impl IntoIterator<Item = String>) -> Said {
    Said { urgency: None, forms: forms.into_iter().map(|form| safe(&form)).collect(), least: Vec::new() }
}

fn day(what: &str, on: NaiveDate) -> String {
    format!("{what} {}", on.format("%-d %b"))
}

/// How the day stands in one row of so many columns: where all of it has no room nothing is said of what is none, and then shorter.
pub fn counts_within(list: &DayList, columns: usize) -> String {
    let Counts { expected, done, waiting, to_come, unasked, unasked_waiting } = list.counts();
    let some = |count: usize, what: &str| (count > 0).then(|| format!("{count} {what}"));
    let of: Vec<String> = [Some(format!("{done} done")), some(waiting, "waiting"), some(to_come, "to come")]
        .into_iter()
        .flatten()
        .collect();
    let beside: Vec<String> =
        [some(unasked, "unasked"), some(unasked_waiting, "waiting")].into_iter().flatten().collect();
    let joined = |head: &str| {
        let all = [of.join(", "), beside.join(", ")];
        let all: Vec<&str> = all.iter().map(String::as_str).filter(|part| !part.is_empty()).collect();
        format!("{head}{expected}: {}", all.join("; "))
    };
    let forms = [counts(list), joined("expected "), joined("")];
    let fits = forms.iter().find(|form| form.width() <= columns);
    fits.unwrap_or(&forms[2]).clone()
}

/// How the day stands: `expected 14: 3 done, 1 waiting, 10 to come; 2 unasked`.
pub fn counts(list: &DayList) -> String {
    let Counts { expected, done, waiting, to_come, unasked, unasked_waiting } = list.counts();
    let unasked = match (unasked, unasked_waiting) {
        (0, _) => String::new(),
        (unasked, 0) => format!("; {unasked} unasked"),
        (unasked, waiting) => format!("; {unasked} unasked, {waiting} waiting"),
    };
    match expected {
        0 => format!("nobody expected{unasked}"),
        _ => format!("expected {expected}: {done} done, {waiting} waiting, {to_come} to come{unasked}"),
    }
}

/// How the day stands beside an animal in the crush, in a longer and a shorter form: of those expected so many are done; where the
/// whole herd is to come through, of that.
pub fn head(list: &DayList, whole_herd: Option<(usize, usize)>) -> [String; 2] {
    let (expected, done) = list.done();
    let (of, all, done) = match whole_herd {
        Some((herd, done)) => ("herd", herd, done),
        None => ("expected", expected, done),
    };
    match all {
        // Whoever came is done all the same.
        0 => {
            let done = list.unasked.iter().filter(|line| line.came == Some(Came::Done)).count();
            [format!("nobody expected: {done} done"), format!("{done} done")]
        }
        all => [format!("{of} {all}: {done} done"), format!("{done} of {all} done")],
    }
}

/// The same when the visit ends: who did not come, and who came unasked, by what they are called; and how many may
/// have left without a word.
pub fn close(list: &DayList, rules: &RuleSet, visit: Option<VisitId>) -> Vec<String> {
    let who = |lines: &mut dyn Iterator<Item = &Line>| lines.map(|line| called(&line.labels)).collect::<Vec<_>>();
    // Of a visit of several days: whoever was done on an earlier one.
    let was_done = |line: &&Line| {
        let done = |last: &Turn| Some(last.visit) == visit && last.state == TurnState::Signed && last.is_look();
        line.last.as_ref().is_some_and(done)
    };
    let (before, away): (Vec<&Line>, Vec<&Line>) = list.who(None).partition(was_done);
    let (before, away) = (who(&mut before.into_iter()), who(&mut away.into_iter()));
    let unasked = who(&mut list.unasked.iter());
    let not_up = who(&mut list.who(Some(Came::NoFootUp)));
    let mut lines = vec![counts(list)];
    if !away.is_empty() {
        lines.push(format!("{} did not come: {}; carried over to the next visit", away.len(), away.join(", ")));
    }
    if !before.is_empty() {
        lines.push(format!("{} done on an earlier day of the visit: {}", before.len(), before.join(", ")));
    }
    if !not_up.is_empty() {
        lines.push(format!("{} signed off with no foot up: {}", not_up.len(), not_up.join(", ")));
    }
    if !unasked.is_empty() {
        lines.push(format!("{} came unasked: {}", unasked.len(), unasked.join(", ")));
    }
    lines.extend(asked(list, rules));
    lines
}
