//! One animal as text: what is open, her flags and cases, the strip of her turns, the map as it was last seen, and her turns,
//! newest first.

use crate::claw_map::mask::Size;
use crate::claw_map::picture::View;
use crate::domain::event::Event;
use crate::domain::flag::flags;
use crate::domain::follow_up::due;
use crate::domain::follow_up::list::DueItem;
use crate::domain::follow_up::rules::{RuleSet, Rules};
use crate::domain::herd::Labels;
use crate::domain::history::open::Open;
use crate::domain::history::{Correction, History};
use crate::domain::strip::strip as turns_of;
use crate::domain::treatment::Put;
use crate::domain::vocabulary::Vocabulary;
use crate::report::disagreement;
use crate::report::due::{called, reason};
use crate::report::safe::{safe, wrapped};
use crate::report::words::{self, Words};
use crate::report::{case, flag, herd, map_text, marks, strip};
use chrono::NaiveDate;

/// One turn, written out: its day and its lines in the words of a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TurnText {
    /// The day.
    pub on: NaiveDate,
    /// What was recorded, a fact a line.
    pub lines: Vec<String>,
}

/// Columns of a page of text, less the indent.
const COLUMNS: usize = 78;

/// Writes the whole of an animal. `turns` are given newest first.
pub fn text(
    history: &History,
    farm: &str,
    turns: &[TurnText],
    (rules, today): (&Rules, NaiveDate),
    words: Words,
) -> String {
    let mut text = format!("{}\n", head(history, farm));
    for part in [herd::year(&history.herd, today), herd::told(&history.labels, &history.herd)] {
        text.extend(wrapped(&part, COLUMNS).iter().map(|line| format!("  {line}\n")));
    }
    text.push_str(&open_items(history, rules, today, words));
    text.push_str(&flagged(history, rules.of_her(history), today, words));
    text.push_str(&case::text(history, rules.of_her(history), today, words));
    text.push_str(&stripped(history, words));
    for doubt in words::doubts(history) {
        text.push_str(&format!("Doubtful: {doubt}\n"));
    }
    for line in disagreement::lines(history, words) {
        text.push_str(&format!("Look again: {line}\n"));
    }
    text.push_str(&set_right(history, words));
    text.push_str(&last_map(history, rules, today, words));
    for turn in turns {
        text.push_str(&format!("\n{} {}\n", words::weekday(turn.on), turn.on.format("%Y")));
        for line in &turn.lines {
            text.push_str(&format!("  {}\n", safe(line.trim())));
        }
    }
    text
}

/// Her flags, each with the reason.
fn flagged(history: &History, rules: &RuleSet, today: NaiveDate, words: Words) -> String {
    let lines: Vec<String> =
        flags(history, rules, today).iter().map(|one| format!("  {}\n", flag::line(one, words))).collect();
    if lines.is_empty() { String::new() } else { format!("\nFlags:\n{}", lines.concat()) }
}

/// Her turns as a strip, as wide as a page of text.
fn stripped(history: &History, words: Words) -> String {
    if history.turns.is_empty() {
        return String::new();
    }
    let lines: Vec<String> =
        strip::lines(&turns_of(history), COLUMNS, words).iter().map(|line| format!("  {line}\n")).collect();
    format!("\nTurns, one column each:\n{}", lines.concat())
}

/// What was set right: labels she had, whom she was joined with, turns that came and went, findings that were corrected.
fn set_right(history: &History, words: Words) -> String {
    let mut lines: Vec<String> = Vec::new();
    let after = history.earlier.iter().skip(1).map(|(_, labels)| labels).chain([&history.labels]);
    for ((until, labels), after) in history.earlier.iter().zip(after).collect::<Vec<_>>().into_iter().rev() {
        lines.push(match herd::relabelled(labels, after) {
            None => format!("Called {} until {}", called(labels), words::day(*until)),
            Some(what) => format!("{what}, since {}", words::day(*until)),
        });
    }
    lines.extend(herd::changes(history));
    for join in &history.joins {
        lines.push(format!("Joined with another entry of hers on {}", words::day(join.on)));
    }
    for turn in &history.turns {
        let from = turn.came_from.as_ref();
        lines.extend(from.map(|from| format!("Turn of {} came from {}", words::day(turn.on), name(from))));
    }
    for moved in &history.moved_away {
        lines.push(format!("Turn of {} moved to {}", words::day(moved.on), name(&moved.labels)));
    }
    for correction in &history.corrections {
        let [was, now] = corrected(history, correction, words);
        lines.push(format!("Corrected {}: was {was}, now {now}; {}", words::day(correction.on), correction.why));
    }
    lines.iter().map(|line| format!("{}\n", safe(line))).collect()
}

/// What a fact said before it was corrected, and what it says now. Of what was told about a finding, or about something put on,
/// that is named.
pub fn corrected(history: &History, correction: &Correction, words: Words) -> [String; 2] {
    let (mut found, mut puts) =
        (history.turns.iter().flat_map(|turn| &turn.found), history.turns.iter().flat_map(|turn| &turn.puts));
    let of = if let Event::Detailed { of, .. } = &correction.now { found.find(|found| found.id == of.0) } else { None };
    let put =
        if let Event::PutDetailed { put, .. } = &correction.now { puts.find(|view| view.id == *put) } else { None };
    let head = match (of, put) {
        (Some(found), _) => format!("{} {} ", words.place(found.place), found.what.row().name),
        (None, Some(view)) if matches!(view.put, Put::Wrap { .. }) => {
            words.fill(&format!("{} {{wrap}} ", words.place(view.put.place())))
        }
        (None, Some(view)) => format!("{} block ", words.place(view.put.place())),
        (None, None) => String::new(),
    };
    [&correction.was, &correction.now].map(|event| format!("{head}{}", words.event(event)))
}

/// The map as it was last seen, with what is on her now, under its own title.
pub fn last_map(history: &History, rules: &Rules, today: NaiveDate, words: Words) -> String {
    let title = match history.turns.last() {
        Some(turn) => {
            words.fill(&format!("Last in the {{crush}} on {} {}", words::weekday(turn.on), turn.on.format("%Y")))
        }
        None => words.fill("Not in the {crush} yet"),
    };
    let marks = match history.turns.last() {
        Some(turn) => marks::under_way(history, turn, rules, today, None, words),
        None => marks::standing(history, rules, today, words),
    };
    format!("\n{title}:\n\n{}\n", map_text::map_text(&marks, View::ToeDown, Size::S80).trim_end())
}

/// Number, name, farm, and what everybody at the crush must know.
pub fn head(history: &History, farm: &str) -> String {
    let mut parts = vec![name(&history.labels), safe(farm)];
    parts.extend(history.herd.status.map(|status| status.word().replace('-', " ")));
    parts.extend(history.kicker.then(|| "KICKS".to_owned()));
    parts.extend(history.cull.map(|day| format!("farmer said cull {}", words::weekday(day))));
    parts.extend(history.left.map(|(why, day)| format!("{} {}", why.word(), words::weekday(day))));
    parts.retain(|part| !part.is_empty());
    parts.join(", ")
}

fn name(labels: &Labels) -> String {
    match called(labels).as_str() {
        "" => "an animal without a number".to_owned(),
        called => called.to_owned(),
    }
}

fn open_items(history: &History, rules: &Rules, today: NaiveDate, words: Words) -> String {
    let open = Open::of(history);
    let mut lines: Vec<String> = Vec::new();
    for item in &open.items {
        lines.push(line(&open, item, (rules, today), words));
    }
    match lines.as_slice() {
        [] => "\nNothing is open.\n".to_owned(),
        lines => format!("\nOpen:\n{}", lines.concat()),
    }
}

fn line(
    open: &Open,
    item: &crate::domain::history::open::OpenItem,
    (rules, today): (&Rules, NaiveDate),
    words: Words,
) -> String {
    let what = match due(open, item, rules, today) {
        Some(due) => {
            let item = DueItem { open, item, due };
            let (urgency, what) = (words::urgency(item.due.urgency), words.what(item.due.what));
            format!("{urgency}, {what} {}", words::weekday(item.due.day))
        }
        None => "no day".to_owned(),
    };
    format!("  {}: {what}; {}\n", words.place(item.place()), safe(&reason(open, item, (rules, today), words)))
}
