//! The line to call out to the farm when an animal goes: what is on her, which foot in full words, off by when.

use crate::domain::finding::Finding;
use crate::domain::follow_up::due;
use crate::domain::follow_up::rules::Rules;
use crate::domain::history::History;
use crate::domain::history::open::{Open, OpenItem};
use crate::domain::ids::TurnId;
use crate::domain::treatment::{OffBy, Put};
use crate::domain::vocabulary::Vocabulary;
use crate::report::safe::safe;
use crate::report::words::{self, Words};
use chrono::NaiveDate;

/// One line for each thing that this turn left on her, and for foul that it found.
pub fn lines(history: &History, turn: TurnId, rules: &Rules, today: NaiveDate, words: Words) -> Vec<String> {
    let Some(turn) = history.turn(turn) else { return Vec::new() };
    let open = Open::of(history);
    let number = &history.labels.number;
    let foul = turn.found.iter().filter(|found| found.what == Finding::IP).filter_map(|found| found.place.foot());
    // Foul is told to the farm on the day; how it is treated is the vet's plan.
    let foul = foul.map(|foot| {
        let foul = words.fill("{foul}: tell the farm today, the vet's plan");
        format!("{} {} {foul}", safe(number), words::foot_in_full(foot))
    });
    let left = history.open.iter().filter_map(|item| match item {
        OpenItem::On { put, what, off_by, .. } if turn.puts.iter().any(|view| view.id == *put) => {
            let day = due(&open, item, rules, today).map(|due| due.day);
            Some(line(number, what, (*off_by, day), words))
        }
        OpenItem::On { .. }
        | OpenItem::LookSoon { .. }
        | OpenItem::Recheck { .. }
        | OpenItem::SetByHand { .. }
        | OpenItem::Lame { .. }
        | OpenItem::Withheld { .. }
        | OpenItem::Vet { .. } => None,
    });
    left.chain(foul).collect()
}

fn line(number: &str, what: &Put, (promise, day): (Option<OffBy>, Option<NaiveDate>), words: Words) -> String {
    let foot = what.foot().map_or("", words::foot_in_full);
    let thing = match what {
        Put::Block { side, .. } => format!("{} claw {}", side.word(), words.put(what)),
        Put::Wrap { .. } | Put::Dressing { .. } => words.put(what),
    };
    let when = match (what, promise, day) {
        (Put::Wrap { .. }, Some(promise), _) => format!(", off by {}", words::off_by(promise)),
        (Put::Wrap { .. }, None, Some(day)) => format!(", off by {}", words::weekday(day)),
        (Put::Block { .. }, _, Some(day)) => format!(", look by {}", words::weekday(day)),
        (Put::Wrap { .. } | Put::Block { .. } | Put::Dressing { .. }, _, _) => String::new(),
    };
    format!("{} {foot} {thing}{when}", safe(number))
}
