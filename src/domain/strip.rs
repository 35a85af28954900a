//! The history of an animal as a strip: one column a turn, one row a foot.

use super::anatomy::Foot;
use super::finding::{Degree, Finding, Level};
use super::history::course::{Carried, Course, State};
use super::history::{History, Look, Turn, TurnState};
use super::treatment::{Gait, Put};
use super::vocabulary::Vocabulary;
use chrono::NaiveDate;
use std::cmp::Reverse;

/// One turn of the strip.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Column {
    /// The day.
    pub on: NaiveDate,
    /// Whether it was signed off.
    pub signed: bool,
    /// How she walked.
    pub gait: Option<Gait>,
    /// The feet, in the order LF RF LH RH.
    pub feet: [Cell; 4],
}

/// One foot in one turn.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Cell {
    /// Whether it was lifted, or anything was said of it.
    pub looked: bool,
    /// The worst of what was there.
    pub worst: Option<(Finding, Degree)>,
    /// How many more there were.
    pub more: usize,
    /// What was there before and had no answer in this turn: the worst of it.
    pub waiting: Option<(Finding, Degree)>,
    /// How many were answered healed.
    pub healed: usize,
    /// A wrap was put on.
    pub wrap: bool,
    /// A block was put on.
    pub block: bool,
}

/// Her turns, oldest first.
pub fn strip(history: &History) -> Vec<Column> {
    history.turns.iter().map(|turn| column(history, turn)).collect()
}

fn column(history: &History, turn: &Turn) -> Column {
    let feet = std::array::from_fn(|at| cell(history, turn, Foot::ALL[at], turn.looks[at]));
    let gait = turn.gaits.last().map(|(_, gait)| *gait);
    Column { on: turn.on, signed: turn.state == TurnState::Signed, gait, feet }
}

fn cell(history: &History, turn: &Turn, foot: Foot, look: Option<Look>) -> Cell {
    let (mut there, mut waiting, mut healed) = (Vec::new(), Vec::new(), 0);
    for course in history.courses.iter().filter(|course| course.place.foot() == Some(foot)) {
        let Some(last) = course.steps.iter().rposition(|step| step.turn == turn.id && step.looked()) else {
            waiting.extend(left_open(history, turn, course));
            continue;
        };
        if course.steps[last].heals() {
            healed += 1;
        } else {
            there.extend(Carried::of(&course.steps[..=last]).map(Carried::newest));
        }
    }
    // Of what is alike, the claw's before the skin's.
    let worst_first = |states: &mut Vec<State>| {
        states.sort_by_key(|state| {
            (Reverse(state.degree.rank().map(|rank| rank.min(3))), state.what.row().level == Level::Foot)
        });
    };
    worst_first(&mut there);
    worst_first(&mut waiting);
    let put = |of: fn(&Put) -> bool| turn.puts.iter().any(|view| view.put.foot() == Some(foot) && of(&view.put));
    Cell {
        looked: look.is_some_and(|look| look.lifted && (look.all_seen || look.trimmed)) || healed + there.len() > 0,
        worst: there.first().map(|state| (state.what, state.degree)),
        more: there.len().saturating_sub(1),
        waiting: waiting.first().map(|state| (state.what, state.degree)),
        healed,
        wrap: put(|put| matches!(put, Put::Wrap { .. })),
        block: put(|put| matches!(put, Put::Block { .. })),
    }
}

/// What an earlier turn found, nothing had ended, and this turn did not answer.
fn left_open(history: &History, turn: &Turn, course: &Course) -> Option<State> {
    let at = |id| history.turns.iter().position(|known| known.id == id);
    let now = at(turn.id)?;
    let before = course.steps.iter().rposition(|step| at(step.turn).is_some_and(|then| then < now) && step.looked())?;
    if course.steps[before].heals() { None } else { Carried::of(&course.steps[..=before]).map(Carried::newest) }
}
