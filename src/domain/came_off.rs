//! When something put on really came off, against the day it was promised.

use super::event::{Event, Item};
use super::history::{History, PutView, Turn};
use super::treatment::{Off, Word};
use chrono::NaiveDate;

/// What is known of something after it was put on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum After {
    /// Seen off, on this day.
    Off(NaiveDate, Off),
    /// Told about by somebody, on this day, and not seen since.
    Told(NaiveDate, String, Word),
    /// Seen still on, on this day.
    SeenOn(NaiveDate, Off),
    /// Nothing was heard of it.
    NotHeard,
}

/// The newest that is known of something put on; seen off ends it.
pub fn came_off(history: &History, view: &PutView) -> After {
    let it = Item::Known(view.id);
    let in_turns = history.turns.iter().flat_map(|turn| {
        turn.offs.iter().filter(|off| off.item == it).map(|off| (turn.on, seen(turn.on, off.outcome)))
    });
    let seen_outside = history.outside.iter().filter_map(|told| {
        let Event::SeenOff { item, outcome, .. } = &told.event else { return None };
        (*item == it).then(|| (told.on, seen(told.on, *outcome)))
    });
    let heard = history.outside.iter().filter_map(|told| {
        let Event::ToldOff { item, by, word, .. } = &told.event else { return None };
        (*item == view.id).then(|| (told.on, After::Told(told.on, by.clone(), *word)))
    });
    let mut known: Vec<(NaiveDate, After)> = heard.chain(in_turns).chain(seen_outside).collect();
    known.sort_by_key(|(day, _)| *day);
    let off = known.iter().find(|(_, after)| matches!(after, After::Off(_, _))).cloned();
    off.or(known.pop()).map_or(After::NotHeard, |(_, after)| after)
}

/// What she went home with after a turn, as far as it was put on in the crush: of this turn and of those before it.
pub fn on_after<'h>(history: &'h History, turn: &Turn) -> Vec<&'h PutView> {
    let end = history.turns.iter().position(|known| known.id == turn.id).map_or(0, |at| at + 1);
    let puts = history.turns[..end].iter().flat_map(|turn| &turn.puts).filter(|view| view.put.must_come_off());
    let gone = |view: &PutView| match came_off(history, view) {
        // Of several off and on in one turn, what came off then is told by the turn itself.
        After::Off(day, _) if day == turn.on => turn.offs.iter().any(|off| off.item == Item::Known(view.id)),
        After::Off(day, _) => day < turn.on,
        After::Told(_, _, _) | After::SeenOn(_, _) | After::NotHeard => false,
    };
    puts.filter(|view| !gone(view)).collect()
}

fn seen(on: NaiveDate, outcome: Off) -> After {
    if outcome.closes() { After::Off(on, outcome) } else { After::SeenOn(on, outcome) }
}
