//! An animal's cases, flags and strip as JSON; the fields are told at `json::animal`.

use super::json::{NEUTRAL, day, finding, some};
use crate::domain::anatomy::Foot;
use crate::domain::case::{Case, Fate};
use crate::domain::finding::Degree;
use crate::domain::flag::{FLAGS, Flag};
use crate::domain::follow_up::rules::RuleSet;
use crate::domain::history::History;
use crate::domain::history::Verdict;
use crate::domain::history::course::{Said, Step};
use crate::domain::strip::{Cell, Column};
use crate::domain::vocabulary::Vocabulary;
use crate::domain::{flag, strip};
use crate::report;
use chrono::NaiveDate;
use serde_json::{Value, json};

/// Every case, newest first.
pub fn cases(history: &History, rules: &RuleSet, today: NaiveDate) -> Vec<Value> {
    let window = rules.case.window;
    history.cases(window).iter().rev().map(|one| case(one, window, today)).collect()
}

fn case(case: &Case, window: u16, today: NaiveDate) -> Value {
    let (state, days) = match case.fate(window, today) {
        Fate::Healed(on) => ("healed", on - case.since),
        Fate::Lost => ("lost", case.last - case.since),
        Fate::Open => ("open", today - case.since),
    };
    let after = |step: &Step| json!({ "days": (step.on - case.since).num_days(), "said": said(step) });
    let mut row = finding(case.place, case.what, case.degree);
    row.as_object_mut().map(|fields| fields.remove("outcome"));
    row["words"] = json!(some(&case.words));
    row["infected"] = json!(case.infected);
    row["deep"] = json!(case.deep);
    row["since"] = json!(day(case.since));
    row["last"] = json!(day(case.last));
    row["state"] = json!(state);
    row["days"] = json!(days.num_days());
    row["healed"] = json!(case.healed().map(day));
    row["first_answer"] = json!(case.first_answer().map(after));
    row["window"] = json!(window);
    row["steps"] =
        json!(case.steps.iter().map(|one| json!({ "date": day(one.on), "said": said(one) })).collect::<Vec<_>>());
    row
}

/// The word of a look: an outcome, a stage or a grade; `found` where none was given.
fn said(step: &Step) -> &'static str {
    match step.said {
        Said::Answered(Verdict::Outcome(outcome)) => outcome.word(),
        Said::Answered(Verdict::Stage(stage)) => stage.word(),
        Said::Found(told) => degree(told.degree).unwrap_or("found"),
    }
}

fn degree(degree: Degree) -> Option<&'static str> {
    match degree {
        Degree::NotGiven => None,
        Degree::Grade(grade) => Some(grade.word()),
        Degree::Stage(stage) => Some(stage.word()),
    }
}

/// Her flags, each with the source of its row.
pub fn flags(history: &History, rules: &RuleSet, today: NaiveDate) -> Vec<Value> {
    flag::flags(history, rules, today).iter().map(one_flag).collect()
}

fn one_flag(flag: &Flag) -> Value {
    let source = FLAGS.iter().find(|row| row.kind == flag.kind).map(|row| row.source);
    json!({
        "kind": flag.kind.word(), "foot": flag.place.foot().map(Vocabulary::word),
        "claw": flag.place.side().map(Vocabulary::word), "zone": flag.place.zone().map(|zone| zone.number()),
        "code": flag.what.map(Vocabulary::word), "since": day(flag.since), "count": flag.count, "limit": flag.limit,
        "source": source, "words": report::flag::line(flag, NEUTRAL),
    })
}

/// Her turns, the oldest first.
pub fn strip(history: &History) -> Vec<Value> {
    strip::strip(history).iter().map(column).collect()
}

fn column(turn: &Column) -> Value {
    let feet: Vec<Value> = Foot::ALL.iter().zip(&turn.feet).map(|(foot, seen)| cell(*foot, seen)).collect();
    json!({ "date": day(turn.on), "feet": feet })
}

fn cell(foot: Foot, seen: &Cell) -> Value {
    json!({
        "foot": foot.word(), "looked": seen.looked, "code": seen.worst.map(|(what, _)| what.word()),
        "degree": seen.worst.and_then(|(_, told)| degree(told)), "more": seen.more, "healed": seen.healed,
        "wrap": seen.wrap, "block": seen.block,
    })
}
