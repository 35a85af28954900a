//! The due list as text, and why each item is on it.

use crate::domain::follow_up::{DueItem, Urgency};
use crate::domain::herd::{Leaving, Status};
use crate::domain::history::open::OpenItem;
use crate::report::safe::{column, safe};
use crate::report::words;
use chrono::NaiveDate;

/// Lines of the list: state, number, what, where, due, why.
pub fn table(items: &[DueItem<'_>], farm: impl Fn(&DueItem<'_>) -> String, today: NaiveDate) -> Vec<String> {
    if items.is_empty() {
        return vec!["nothing is due".to_owned()];
    }
    let head = ["state", "number", "what", "where", "due", "farm", "why"];
    let widths = [10, 7, 15, 14, 10, 14];
    let row = |cells: [&str; 7]| {
        let columns = cells.iter().zip(widths).map(|(cell, width)| column(cell, width)).collect::<Vec<_>>().join(" ");
        format!("{columns} {}", safe(cells[6])).trim_end().to_owned()
    };
    let mut lines = vec![row(head)];
    for item in items {
        lines.push(row([
            words::urgency(item.due.urgency),
            &item.open.labels.number,
            words::what(item.due.what),
            &words::place(item.item.place()),
            &words::weekday(item.due.day),
            &farm(item),
            &reason(item, today),
        ]));
    }
    let loud = items.iter().filter(|item| item.is_loud()).count();
    let now = items.iter().filter(|item| item.due.urgency >= Urgency::Due).count();
    lines.push(format!("{now} due now, {loud} of them late or urgent, {} in all", items.len()));
    lines
}

/// The day an item counts from.
pub fn since(item: &OpenItem) -> NaiveDate {
    match item {
        OpenItem::On { since, .. } | OpenItem::LookSoon { since, .. } | OpenItem::Vet { since, .. } => *since,
        OpenItem::Recheck { last, .. } => *last,
        OpenItem::SetByHand { on, .. } => *on,
    }
}

/// Why an item is on the list, in words.
pub fn reason(item: &DueItem<'_>, today: NaiveDate) -> String {
    let days = (today - since(item.item)).num_days();
    let mut parts = match item.item {
        OpenItem::On { what, off_by, remover, knowing, told, .. } => {
            let mut parts = vec![format!("{} on for {days} days", words::put(what))];
            parts.extend(off_by.map(|promise| format!("promised off by {}", words::off_by(promise))));
            if !remover.is_empty() {
                parts.push(format!("{} takes it off", safe(remover)));
            }
            parts.push(words::knowing(*knowing).to_owned());
            parts.extend(told.as_ref().map(|(by, day)| match by.as_str() {
                "" => format!("on {}", words::weekday(*day)),
                by => format!("{} on {}", safe(by), words::weekday(*day)),
            }));
            parts
        }
        OpenItem::LookSoon { .. } => vec![format!("raw, or its block was lost early, {days} days ago")],
        OpenItem::Recheck { what, degree, .. } => {
            vec![format!("{} last looked at {days} days ago", words::finding(*what, *degree, ""))]
        }
        OpenItem::SetByHand { words, .. } => vec![format!("day set by hand {}", safe(words)).trim_end().to_owned()],
        OpenItem::Vet { sign, words, .. } => {
            vec![format!("{} {}", words::sign(*sign), safe(words)).trim_end().to_owned()]
        }
    };
    if item.open.status == Some(Status::Dry) {
        parts.push("DRY: nobody handles her daily".to_owned());
    }
    match item.open.left {
        Some((Leaving::Sold, day)) => parts.push(format!("sold {}: tell the new keeper", words::weekday(day))),
        Some((Leaving::Gone, day)) => parts.push(format!("gone {}", words::weekday(day))),
        Some((Leaving::Died | Leaving::Slaughter, _)) | None => {}
    }
    parts.join(", ")
}
