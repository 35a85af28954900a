//! The line to call out to the farm when an animal goes: what is on her, which foot in full words, off by when.

use crate::domain::anatomy::Foot;
use crate::domain::follow_up::due;
use crate::domain::follow_up::rules::Rules;
use crate::domain::history::History;
use crate::domain::history::open::{Open, OpenItem};
use crate::domain::ids::{AnimalId, FarmId, RecordId, TurnId};
use crate::domain::treatment::{Milking, OffBy, Put};
use crate::domain::vocabulary::Vocabulary;
use chrono::NaiveDate;

/// One line for each thing that this turn left on her.
pub fn lines(history: &History, turn: TurnId, rules: &Rules, today: NaiveDate) -> Vec<String> {
    let Some(turn) = history.turn(turn) else { return Vec::new() };
    let open = Open {
        animal: history.animals.first().copied().unwrap_or(AnimalId(RecordId::PRACTICE)),
        farm: history.farm.unwrap_or(FarmId(RecordId::PRACTICE)),
        labels: history.labels.clone(),
        status: history.herd.status,
        left: history.left,
        items: Vec::new(),
    };
    history
        .open
        .iter()
        .filter_map(|item| match item {
            OpenItem::On { put, what, off_by, .. } if turn.puts.iter().any(|view| view.id == *put) => {
                let day = due(&open, item, rules, today).map(|due| due.day);
                Some(line(&history.labels.number, what, *off_by, day))
            }
            OpenItem::On { .. }
            | OpenItem::LookSoon { .. }
            | OpenItem::Recheck { .. }
            | OpenItem::SetByHand { .. }
            | OpenItem::Vet { .. } => None,
        })
        .collect()
}

fn line(number: &str, what: &Put, off_by: Option<OffBy>, day: Option<NaiveDate>) -> String {
    let foot = what.foot().map_or("", full);
    let thing = match what {
        Put::Wrap { colour: Some(colour), .. } => format!("{} wrap", colour.word()),
        Put::Wrap { colour: None, .. } => "wrap".to_owned(),
        Put::Block { side, .. } => format!("{} claw block", side.word()),
        Put::Dressing { .. } => "dressing".to_owned(),
    };
    let when = match (what, off_by, day) {
        (Put::Wrap { .. }, Some(promise), _) => {
            format!(", off by {}{}", weekday(promise.day), milking(promise.milking))
        }
        (Put::Wrap { .. }, None, Some(day)) => format!(", off by {}", weekday(day)),
        (Put::Block { .. }, _, Some(day)) => format!(", look by {}", weekday(day)),
        (Put::Wrap { .. } | Put::Block { .. } | Put::Dressing { .. }, _, _) => String::new(),
    };
    format!("{number} {foot} {thing}{when}")
}

/// A foot in full words, as farm papers write it: "R" alone is ambiguous.
fn full(foot: Foot) -> &'static str {
    match foot {
        Foot::LeftFront => "FRONT LEFT",
        Foot::RightFront => "FRONT RIGHT",
        Foot::LeftHind => "BACK LEFT",
        Foot::RightHind => "BACK RIGHT",
    }
}

fn milking(milking: Milking) -> &'static str {
    match milking {
        Milking::Any => "",
        Milking::Morning => " morning milking",
        Milking::Evening => " evening milking",
    }
}

/// Weekday and month in letters: `FRI 15 May`.
fn weekday(day: NaiveDate) -> String {
    let text = day.format("%a %-d %b").to_string();
    let (weekday, rest) = text.split_at(3);
    format!("{}{rest}", weekday.to_uppercase())
}
