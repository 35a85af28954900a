//! Where an animal stands in the herd's year, in one short line; and what was told of her, with what was said before.

use crate::domain::herd::{Herd, Labels, Status};
use crate::domain::herd_list::Row;
use crate::domain::herd_list::column::{Column, LABELS};
use crate::domain::herd_list::doubt::doubts;
use crate::domain::herd_list::her::Her;
use crate::domain::history::History;
use crate::domain::vocabulary::Vocabulary;
use crate::report::due::called;
use crate::report::safe::safe;
use crate::report::words;
use chrono::NaiveDate;

/// Her year in one line: `lactation 3, 12 days in milk`, `lactation 4, dry 20 days, calves in 40 days`. Empty where nothing is
/// known of it.
pub fn year(herd: &Herd, today: NaiveDate) -> String {
    let days = |count: i64| if count == 1 { "1 day".to_owned() } else { format!("{count} days") };
    let state = match (herd.days_in_milk(today), herd.days_dry(today)) {
        (Some(milk), _) => Some(format!("{} in milk", days(milk))),
        (None, Some(dry)) => Some(format!("dry {}", days(dry))),
        (None, None) if herd.is_dry(today) => Some("dry".to_owned()),
        (None, None) => (herd.status == Some(Status::Heifer)).then(|| "heifer".to_owned()),
    };
    let calving = herd.days_to_calving(today).map(|to| match to {
        0 => "due to calve today".to_owned(),
        1.. => format!("calves in {}", days(to)),
        _ => format!("was due to calve {} ago", days(-to)),
    });
    let lactation = herd.lactation.map(|number| format!("lactation {number}"));
    [lactation, state, calving].into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// Where she stands in few letters: `in milk 12 d`, `dry 20 d`, `heifer`.
pub fn stage(herd: &Herd, today: NaiveDate) -> String {
    match (herd.days_in_milk(today), herd.days_dry(today)) {
        (Some(milk), _) => format!("in milk {milk} d"),
        (None, Some(dry)) => format!("dry {dry} d"),
        (None, None) if herd.is_dry(today) => "dry".to_owned(),
        (None, None) => herd.status.map_or(String::new(), |status| status.word().replace('-', " ")),
    }
}

/// What is known of her in this column, since when, and what is doubtful about it.
pub fn fact(her: &Her, column: Column, today: NaiveDate) -> String {
    let (labels, herd) = (&her.known.labels, &her.known.herd);
    let now = said(column, labels, herd);
    let now = if column == Column::Status { now.replace('-', " ") } else { now };
    if now.is_empty() {
        return "not told".to_owned();
    }
    let since = her.since(column).map_or(String::new(), |day| format!(", told {}", words::day(day)));
    let row = Row { line: 0, labels: labels.clone(), herd: herd.clone() };
    let doubt = doubts(&row, today).into_iter().find(|doubt| doubt.column == column);
    let doubt = doubt.map_or(String::new(), |doubt| format!("; {}", doubt.what));
    format!("{now}{since}{doubt}")
}

/// All that is told of her in the words of a herd list, but for what she is called first.
pub fn told(labels: &Labels, herd: &Herd) -> String {
    let cells = Column::ALL
        .iter()
        .filter(|column| !matches!(column, Column::Number | Column::Name | Column::Lactation | Column::Status));
    let cells = cells.filter_map(|column| {
        let cell = said(*column, labels, herd);
        let head = if *column == Column::Breed { "" } else { column.word() };
        (!cell.is_empty()).then(|| format!("{head} {cell}").trim_start().to_owned())
    });
    cells.collect::<Vec<_>>().join(", ")
}

/// What stands in a column, for people: days in letters.
fn said(column: Column, labels: &Labels, herd: &Herd) -> String {
    let day = match column {
        Column::Born => herd.born,
        Column::Calved => herd.calved,
        Column::DryFrom => herd.dry_from,
        Column::DueToCalve => herd.due_to_calve,
        Column::Number
        | Column::Tag
        | Column::Electronic
        | Column::Name
        | Column::Breed
        | Column::Lactation
        | Column::Group
        | Column::Status => None,
    };
    day.map_or_else(|| safe(&column.cell(labels, herd)), words::day)
}

/// What changed of labels other than what she is called first: `tag UK 1, was nothing`. None where she is called otherwise.
pub fn relabelled(before: &Labels, after: &Labels) -> Option<String> {
    if called(before) != called(after) {
        return None;
    }
    let none = Herd::default();
    let or_nothing = |cell: String| if cell.is_empty() { "nothing".to_owned() } else { cell };
    let changed = LABELS.into_iter().filter_map(|column| {
        let [was, now] = [said(column, before, &none), said(column, after, &none)];
        (was != now).then(|| format!("{} {}, was {}", column.word(), or_nothing(now), or_nothing(was)))
    });
    Some(changed.collect::<Vec<_>>().join("; "))
}

/// Herd data that replaced others, newest first: `Told 14 May 2026: lactation 4, was 3`.
pub fn changes(history: &History) -> Vec<String> {
    let (none, mut known, mut lines) = (Labels::default(), Herd::default(), Vec::new());
    for (on, told) in &history.told {
        let before = known.clone();
        known.hear(told);
        let changed = Column::ALL.iter().filter_map(|column| {
            let [was, now] = [said(*column, &none, &before), said(*column, &none, &known)];
            (was != now && !was.is_empty()).then(|| format!("{} {now}, was {was}", column.word()))
        });
        let changed: Vec<String> = changed.collect();
        if !changed.is_empty() {
            lines.push(format!("Told {}: {}", words::day(*on), changed.join("; ")));
        }
    }
    lines.reverse();
    lines
}
