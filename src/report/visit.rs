//! A visit in words: why it was made, how much of the herd it was, when it was washed, who waits. What nobody told is said so.

use crate::domain::visit_log::{Cleaned, State, Visit};
use crate::domain::visit_sum::{InMilk, VisitSum, WHOLE_HERD};
use crate::domain::vocabulary::Vocabulary;
use crate::report::day_list::farm_call;
use crate::report::safe::{column, safe};
use crate::report::totals;
use crate::report::words::{self, Words};

/// What is said where nobody told it.
pub const NOT_TOLD: &str = "not told";

/// What is said of a visit beside its counts, a line each, under the counts' own column; then what the farm called meanwhile.
pub fn lines(sum: &VisitSum) -> Vec<String> {
    let calls = sum.calls.iter().map(farm_call);
    rows(sum).into_iter().map(|(head, text)| format!("{} {text}", column(head, 14))).chain(calls).collect()
}

/// The counts and all that is said of the visit, in one line.
pub fn in_one(sum: &VisitSum, words: Words) -> String {
    let counts = totals::rows(&sum.totals, words).into_iter().filter(|(_, count)| *count > 0);
    let counts: Vec<String> = counts.map(|(name, count)| format!("{name} {count}")).collect();
    let counts = if counts.is_empty() { "no animal yet".to_owned() } else { counts.join(", ") };
    let said = rows(sum).into_iter().map(|(head, text)| format!("{head}: {text}"));
    std::iter::once(counts).chain(said).collect::<Vec<_>>().join("; ")
}

fn rows(sum: &VisitSum) -> Vec<(&'static str, String)> {
    let visit = &sum.visit;
    let of_herd = visit.whole_herd.map_or(NOT_TOLD, herd).to_owned();
    let mut rows = vec![("visit", visit.why.word().to_owned()), ("herd", of_herd)];
    if visit.days.len() > 1 {
        rows.push(("days", visit.days.iter().map(|day| words::weekday(*day)).collect::<Vec<_>>().join(", ")));
    }
    rows.extend(match visit.state {
        State::Open => None,
        State::Paused(day) => Some(("set aside", words::weekday(day))),
        State::Closed(day) => Some(("closed", words::weekday(day))),
    });
    rows.extend(waits(sum).map(|who| ("waits", who)));
    rows.push(("in milk", in_milk(&sum.in_milk, visit.whole_herd)));
    rows.push(("cleaned before", cleaned(visit, visit.cleaned_before)));
    rows.push(("cleaned after", cleaned(visit, visit.cleaned_after)));
    rows
}

/// Who still waits; none where nobody does.
pub fn waits(sum: &VisitSum) -> Option<String> {
    let who: Vec<String> =
        sum.waits.iter().map(|who| if who.is_empty() { "no number".to_owned() } else { safe(who) }).collect();
    (!who.is_empty()).then(|| who.join(", "))
}

/// Why it was made, and how much of the herd is to come through where that was told.
pub fn kind(visit: &Visit) -> String {
    let herd = visit.whole_herd.map(herd);
    std::iter::once(visit.why.word()).chain(herd).collect::<Vec<_>>().join(", ")
}

fn herd(whole: bool) -> &'static str {
    if whole { "whole herd" } else { "selected animals" }
}

/// When knives and crush were washed: the time where it was on the visit's first day, else the day with it.
pub fn cleaned(visit: &Visit, cleaned: Option<Cleaned>) -> String {
    let Some(cleaned) = cleaned else { return NOT_TOLD.to_owned() };
    let at = cleaned.at.map(|at| at.format("%H:%M").to_string());
    let day = (cleaned.on != visit.on || at.is_none()).then(|| words::weekday(cleaned.on));
    day.into_iter().chain(at).collect::<Vec<_>>().join(" ")
}

fn in_milk(share: &InMilk, whole_herd: Option<bool>) -> String {
    let Some(percent) = share.percent() else { return "nobody told who is in milk".to_owned() };
    let untold = if share.untold > 0 { format!("; {} not told", share.untold) } else { String::new() };
    let short = whole_herd == Some(true) && !share.is_whole();
    let short = if short { format!("; a whole herd is {WHOLE_HERD} % or more") } else { String::new() };
    format!("{} of {} came = {percent} %{untold}{short}", share.came, share.of)
}
