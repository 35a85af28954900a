//! One animal as text: who she is, the map as she stands, what is open, her turns newest first.

use crate::claw_map::mask::Size;
use crate::claw_map::picture::View;
use crate::domain::follow_up::list;
use crate::domain::follow_up::rules::Rules;
use crate::domain::history::{History, TurnState};
use crate::report::safe::safe;
use crate::report::{due, map_text, marks, turn, words};
use chrono::NaiveDate;

/// The whole text.
pub fn lines(history: &History, rules: &Rules, today: NaiveDate) -> Vec<String> {
    let labels = &history.labels;
    let mut lines = vec![format!("{} {}", safe(&labels.number), safe(&labels.name)).trim_end().to_owned()];
    for (day, earlier) in &history.earlier {
        lines.push(format!("until {} her number was {}", words::day(*day), safe(&earlier.number)));
    }
    if history.kicker {
        lines.push("KICKS".to_owned());
    }
    if let Some((why, day)) = history.left {
        use crate::domain::vocabulary::Vocabulary;
        lines.push(format!("{} {}", why.word(), words::day(day)));
    }
    lines.push(String::new());
    lines.extend(map_lines(history, rules, today, Size::L));
    lines.push(String::new());
    lines.extend(open_lines(history, rules, today));
    for turn in history.turns.iter().rev() {
        let state = match turn.state {
            TurnState::Open => " (under way)",
            TurnState::Paused => " (waits half done)",
            TurnState::Signed => "",
        };
        lines.push(String::new());
        lines.push(format!("{}{state}", words::day(turn.on)));
        lines.extend(turn::lines(turn).into_iter().map(|line| format!("  {}", safe(&line))));
    }
    if history.newer > 0 {
        lines.push(format!("{} of her records were written by a newer program and are not shown", history.newer));
    }
    lines
}

/// What is open about her.
pub fn open_lines(history: &History, rules: &Rules, today: NaiveDate) -> Vec<String> {
    let open = [marks::facts(history)];
    let items = list(&open, rules, today);
    if items.is_empty() {
        return vec!["open: nothing".to_owned()];
    }
    items
        .iter()
        .map(|item| {
            let (state, what) = (words::urgency(item.due.urgency), words::what(item.due.what));
            let (place, reason) = (words::place(item.item.place()), due::reason(item, today));
            format!("open: {state} {what} {place} by {}: {reason}", words::weekday(item.due.day))
        })
        .collect()
}

/// The map as she stands: 80 columns with every code whole for `Size::L`, 40 for `Size::S80`.
fn map_lines(history: &History, rules: &Rules, today: NaiveDate, size: Size) -> Vec<String> {
    let map = map_text::map_text(&marks::standing(history, rules, today), View::ToeDown, size);
    map.lines().map(str::to_owned).collect()
}

/// The map and what is open, in 40 columns: what a glance needs.
pub fn glance(history: &History, rules: &Rules, today: NaiveDate) -> Vec<String> {
    let mut lines = map_lines(history, rules, today, Size::S80);
    lines.extend(open_lines(history, rules, today));
    lines
}
