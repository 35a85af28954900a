//! Cases in words: since when, what became of it, what was done; and what changed since an earlier turn.

use crate::domain::case::{Case, Change, Changed, Done, Fate};
use crate::domain::follow_up::rules::RuleSet;
use crate::domain::history::course::{Said, Step};
use crate::domain::history::{History, Verdict};
use crate::domain::treatment::Outcome;
use crate::domain::vocabulary::Vocabulary;
use crate::report::safe::safe;
use crate::report::words::{self, Words};
use chrono::NaiveDate;

/// What and where: `LH outer 4 sole ulcer severe`.
pub fn name(case: &Case, words: Words) -> String {
    // Of what has healed it is told how bad it had been.
    let degree = if case.healed().is_some() { case.worst() } else { case.degree };
    let mut parts =
        vec![words.place(case.place), words::finding_name(case.what).to_owned(), words::degree(degree).to_owned()];
    parts.push(safe(&case.words));
    parts.extend(case.infected.then(|| "infected".to_owned()));
    parts.extend(case.deep.then(|| "deep".to_owned()));
    parts.retain(|part| !part.is_empty());
    parts.join(" ")
}

/// Every case in two lines or three, the newest first, under the rule that tells them apart.
pub fn text(history: &History, rules: &RuleSet, today: NaiveDate, words: Words) -> String {
    let window = rules.case.window;
    let cases = history.cases(window);
    if cases.is_empty() {
        return String::new();
    }
    let mut text = format!("\nCases (found anew after more than {window} days unseen is another case):\n");
    for case in cases.iter().rev() {
        text.push_str(&format!("  {}\n", name(case, words)));
        text.push_str(&format!("    {}\n", fate(case, window, today)));
        let done = done(history, case, words);
        if !done.is_empty() {
            text.push_str(&format!("    done: {done}\n"));
        }
    }
    text
}

/// Since when, its first answer, its end: `since 3 Feb 2026, first answer better after 14 days, healed after 42 days`.
pub fn fate(case: &Case, window: u16, today: NaiveDate) -> String {
    let mut parts = vec![format!("since {}", words::day(case.since))];
    parts.extend(case.unseen.map(|unseen| format!("found anew after {} unseen", days(unseen))));
    if let Some(step) = case.first_answer() {
        parts.push(format!("first answer {} after {}", said(step), days((step.on - case.since).num_days())));
    }
    parts.push(match case.fate(window, today) {
        Fate::Healed(day) => format!("healed after {}", days((day - case.since).num_days())),
        Fate::Lost => format!("lost to view: nobody looked since {}", words::day(case.last)),
        Fate::Open => format!("open, {} so far", days((today - case.since).num_days())),
    });
    parts.join(", ")
}

/// What was done about it, each thing once with its first day.
fn done(history: &History, case: &Case, words: Words) -> String {
    let mut told: Vec<String> = Vec::new();
    for (day, done) in history.done_about(case) {
        let what = match done {
            Done::Trimmed(how) => words::trim(how).to_owned(),
            Done::Put(put) => words.put(&put),
        };
        told.push(format!("{what} {}", words::day(day)));
    }
    told.dedup();
    told.join(", ")
}

/// What one look said.
pub fn said(step: &Step) -> String {
    match step.said {
        Said::Answered(Verdict::Outcome(outcome)) => words::outcome(outcome).to_owned(),
        Said::Answered(Verdict::Stage(stage)) => stage.word().to_owned(),
        Said::Found(told) => format!("found again {}", words::degree(told.degree)).trim_end().to_owned(),
    }
}

/// A change in one line: `WORSE LH outer 4 SU severe (was light), seen 14 May`.
pub fn change(changed: &Changed, today: NaiveDate, words: Words) -> String {
    let Changed { case, then, change } = changed;
    let degree = if *change == Change::Healed { case.worst() } else { case.degree };
    let grown = then.filter(|then| then.degree != degree).map_or(String::new(), |then| {
        format!(
            " (was {})",
            match words::degree(then.degree) {
                "" => "not graded",
                told => told,
            }
        )
    });
    let what = words::finding(case.what, degree, &case.words);
    let seen = if case.last == today { String::new() } else { format!(", seen {}", case.last.format("%-d %b")) };
    let anew = case.unseen.filter(|_| *change == Change::New).map(|days| format!(", unseen {days} d before"));
    let seen = anew.unwrap_or(seen);
    format!("{} {} {what}{grown}{seen}", change_word(*change).to_uppercase(), words.place(case.place))
}

/// A change in a word.
pub fn change_word(change: Change) -> &'static str {
    match change {
        Change::New => "new",
        Change::Healed => words::outcome(Outcome::Healed),
        Change::Better => words::outcome(Outcome::Better),
        Change::Worse => words::outcome(Outcome::Worse),
        Change::Same => words::outcome(Outcome::Same),
        Change::NotSeen => "not seen",
    }
}

fn days(count: i64) -> String {
    if count == 1 { "1 day".to_owned() } else { format!("{count} days") }
}
