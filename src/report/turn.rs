//! One turn in lines.

use crate::domain::anatomy::Foot;
use crate::domain::history::{Turn, Verdict};
use crate::domain::vocabulary::Vocabulary;
use crate::report::words::{self, Words};

/// A turn in lines.
pub fn lines(turn: &Turn, words: Words) -> Vec<String> {
    let mut lines = told(turn, words);
    let not_seen: Vec<&str> = Foot::ALL
        .iter()
        .zip(turn.looks)
        .filter(|(_, look)| look.is_none_or(|look| !look.lifted))
        .map(|(foot, _)| words.foot(*foot))
        .collect();
    if !not_seen.is_empty() {
        lines.push(format!("not looked at: {}", not_seen.join(" ")));
    }
    lines
}

/// What was found and done in it, in lines.
pub fn told(turn: &Turn, words: Words) -> Vec<String> {
    let mut lines = Vec::new();
    let found = turn.found.iter().map(|found| {
        format!("{} {}", words.place(found.place), words::finding(found.what, found.degree, &found.words))
    });
    lines.extend(found);
    lines.extend(turn.trims.iter().map(|(_, place, how)| format!("{} {}", words.place(*place), words::trim(*how))));
    lines.extend(turn.puts.iter().map(|view| {
        let off = view.off_by.map_or(String::new(), |promise| format!(", off by {}", words::off_by(promise)));
        format!("{} {}{off}", words.place(view.put.place()), words.put(&view.put))
    }));
    lines.extend(
        turn.answers
            .iter()
            .map(|answer| format!("{} {} {}", words.place(answer.place), answer.what.word(), verdict(answer.verdict))),
    );
    lines.extend(
        turn.offs
            .iter()
            .map(|off| format!("{} {} {}", words.place(off.place), words::off(off.outcome), words::skin(off.skin))),
    );
    lines.extend(turn.gaits.iter().map(|(_, gait)| words.gait(*gait)));
    lines.extend(
        turn.measures
            .iter()
            .map(|(_, place, what, mm)| format!("{} {} {mm} mm", words.place(*place), words::measure(*what))),
    );
    lines.extend(turn.sore.iter().map(|(_, place)| format!("{} sore to testers", words.place(*place))));
    lines.extend(
        turn.vet.iter().map(|(_, place, sign, _)| format!("{} VET: {}", words.place(*place), words.sign(*sign))),
    );
    lines.extend(turn.notes.iter().map(|(_, _, text)| format!("note: {text}")));
    lines
}

/// An answer to an earlier finding in words.
pub fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Outcome(outcome) => words::outcome(outcome),
        Verdict::Stage(stage) => stage.word(),
    }
}
