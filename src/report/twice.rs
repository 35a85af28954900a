//! What tells one from another, in lines: for whoever is to say whether two are one, or which of several is meant.

use crate::domain::follow_up::due;
use crate::domain::follow_up::list::DueItem;
use crate::domain::follow_up::rules::Rules;
use crate::domain::herd::Labels;
use crate::domain::history::History;
use crate::domain::history::open::Open;
use crate::domain::twice::{Kind, Pair, Sketch};
use crate::domain::vocabulary::Vocabulary;
use crate::report::due::called;
use crate::report::safe::safe;
use crate::report::words::{self, Words};
use chrono::NaiveDate;

/// Open items that are told one by one; the rest is a number.
const ITEMS: usize = 3;

/// What two have in common, in a sentence: `2 animals may be one: 1382, the same number`.
pub fn title(pair: &Pair) -> String {
    let called = safe(&pair.called);
    let kind = pair.kind.word();
    match pair.alike {
        Some(alike) => format!("2 {kind} may be one: {called}, the same {}", alike.word()),
        None => format!("2 {kind} were joined: {called}"),
    }
}

/// The same in the few words of a line that is always there.
pub fn short(pair: &Pair) -> String {
    format!("2 {} may be one: {}", pair.kind.word(), safe(&pair.called))
}

/// What there is to know of one, a fact a line, the name first.
pub fn lines(sketch: &Sketch, by: (&Rules, NaiveDate), words: Words) -> Vec<String> {
    match sketch {
        Sketch::Animal(history) => animal(history, by, words),
        Sketch::Farm { name, phone, animals, last } => {
            let mut lines = vec![safe(name)];
            lines.push(if phone.is_empty() { "no telephone number".to_owned() } else { safe(phone) });
            lines.push(if *animals == 1 { "1 animal".to_owned() } else { format!("{animals} animals") });
            lines.push(last.map_or("no visit yet".to_owned(), |day| format!("last visit {}", words::day(day))));
            lines
        }
        Sketch::Person { name, since } => {
            let since = since.map(|day| format!("named {}", words::day(day)));
            std::iter::once(safe(name)).chain(since).collect()
        }
    }
}

fn animal(history: &History, (rules, today): (&Rules, NaiveDate), words: Words) -> Vec<String> {
    let labels = &history.labels;
    let name = called(labels);
    let mut lines = vec![if name.is_empty() { "no number".to_owned() } else { name }];
    let tag = if labels.tag.is_empty() { "no ear tag".to_owned() } else { format!("tag {}", safe(&labels.tag)) };
    lines.push(tag);
    lines.extend((!labels.electronic.is_empty()).then(|| format!("electronic {}", safe(&labels.electronic))));
    lines.extend(earlier(history).map(|was| format!("was {was}")));
    let state = history.herd.status.map(|status| status.word().replace('-', " "));
    let left = history.left.map(|(why, day)| format!("{} {}", why.word(), words::day(day)));
    lines.extend(left.or(state));
    let turns = match (history.turns.len(), history.turns.last()) {
        (1, Some(turn)) => format!("1 turn, {}", words::day(turn.on)),
        (count, Some(turn)) => format!("{count} turns, last {}", words::day(turn.on)),
        (_, None) => "no turn yet".to_owned(),
    };
    lines.push(turns);
    let open = Open::of(history);
    let items = open.items.iter().filter_map(|item| {
        let due = due(&open, item, rules, today)?;
        Some(DueItem { open: &open, item, due })
    });
    let open: Vec<String> = items
        .map(|item| {
            let (urgency, what) = (words::urgency(item.due.urgency), words.what(item.due.what));
            format!("{}: {what}, {urgency}", words.place(item.item.place()))
        })
        .collect();
    lines.extend(open.iter().take(ITEMS).cloned());
    match open.len() {
        0 => lines.push("nothing open".to_owned()),
        count if count > ITEMS => lines.push(format!("and {} more open", count - ITEMS)),
        _ => {}
    }
    lines
}

/// The numbers she had before, newest first; none where she always had the one.
pub fn earlier(history: &History) -> Option<String> {
    let now = first(&history.labels);
    let mut numbers: Vec<String> = Vec::new();
    for (_, labels) in history.earlier.iter().rev() {
        let was = safe(first(labels));
        if !was.is_empty() && was != safe(now) && !numbers.contains(&was) {
            numbers.push(was);
        }
    }
    (!numbers.is_empty()).then(|| numbers.join(", "))
}

fn first(labels: &Labels) -> &str {
    let all = [&labels.number, &labels.tag, &labels.electronic, &labels.name];
    all.into_iter().find(|label| !label.is_empty()).map_or("", String::as_str)
}

/// What the two choices about a pair say.
pub fn choices(kind: Kind) -> [&'static str; 2] {
    match kind {
        Kind::Animals => ["one animal: join them", "two animals, do not ask again"],
        Kind::Farms => ["one farm: join them", "two farms, do not ask again"],
        Kind::People => ["one person: join them", "two people, do not ask again"],
    }
}
