//! One animal as text: what is open, the map as it was last seen, and her turns, newest first.

use crate::claw_map::mask::Size;
use crate::claw_map::picture::View;
use crate::domain::follow_up::due;
use crate::domain::follow_up::list::DueItem;
use crate::domain::follow_up::rules::Rules;
use crate::domain::herd::Labels;
use crate::domain::history::History;
use crate::domain::history::open::Open;
use crate::domain::vocabulary::Vocabulary;
use crate::report::disagreement;
use crate::report::due::{called, reason};
use crate::report::map_text;
use crate::report::marks;
use crate::report::safe::safe;
use crate::report::words::{self, Words};
use chrono::NaiveDate;

/// One turn, written out: its day and its lines in the words of a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TurnText {
    /// The day.
    pub on: NaiveDate,
    /// What was recorded, a fact a line.
    pub lines: Vec<String>,
}

/// Writes the whole of an animal. `turns` are given newest first.
pub fn text(
    history: &History,
    farm: &str,
    turns: &[TurnText],
    (rules, today): (&Rules, NaiveDate),
    words: Words,
) -> String {
    let mut text = format!("{}\n", head(history, farm));
    text.push_str(&open_items(history, rules, today, words));
    for doubt in words::doubts(history) {
        text.push_str(&format!("Doubtful: {doubt}\n"));
    }
    for line in disagreement::lines(history, words) {
        text.push_str(&format!("Look again: {line}\n"));
    }
    text.push_str(&last_map(history, rules, today, words));
    for turn in turns {
        text.push_str(&format!("\n{} {}\n", words::weekday(turn.on), turn.on.format("%Y")));
        for line in &turn.lines {
            text.push_str(&format!("  {}\n", safe(line.trim())));
        }
    }
    text
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
    format!("  {}: {what}; {}\n", words.place(item.place()), safe(&reason(open, item, today, words)))
}
