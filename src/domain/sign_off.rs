//! What must be settled before an animal goes, and what is only written down as left open.
//!
//! Only what hurts asks. Asking sixty times a day about everything teaches to skip.

use super::anatomy::{Foot, Place, Side};
use super::event::{Gap, Item, OpenGap};
use super::finding::{Degree, Finding};
use super::history::course::Course;
use super::history::open::OpenItem;
use super::history::{History, PutView, Turn};
use super::ids::{PutId, RecordId};
use super::treatment::{Put, Trim};
use super::vocabulary::Vocabulary;

/// Something that a check found: the record it is about, and where.
pub type Found = (RecordId, Place);

/// Things on her that nobody looked at in this turn.
pub fn still_on(history: &History, turn: &Turn) -> Vec<Found> {
    let of_this_turn = |put: PutId| turn.puts.iter().any(|view| view.id == put);
    let seen = |put: PutId| turn.offs.iter().any(|off| off.item == Item::Known(put) || off.id == put.0);
    let on = on_her(history).filter(|(put, _)| !of_this_turn(*put) && !seen(*put));
    on.map(|(put, what)| (put.0, what.place())).collect()
}

/// Wraps of this turn without a day to be off.
pub fn wraps_without_day(history: &History, turn: &Turn) -> Vec<Found> {
    put_now(history, turn, |_, view| matches!(view.put, Put::Wrap { .. }) && view.off_by.is_none())
}

/// Wraps of this turn that nobody was named to take off.
pub fn wraps_without_person(history: &History, turn: &Turn) -> Vec<Found> {
    put_now(history, turn, |_, view| matches!(view.put, Put::Wrap { .. }) && view.remover.is_empty())
}

/// Blocks of this turn on a sore claw, or without a sound partner.
pub fn doubtful_blocks(history: &History, turn: &Turn) -> Vec<Found> {
    put_now(history, turn, |history, view| match view.put {
        Put::Block { foot, side, .. } => !is_sound(history, foot, side),
        Put::Wrap { .. } | Put::Dressing { .. } => false,
    })
}

/// Stop signs that nobody answered.
pub fn stop_signs(history: &History, _: &Turn) -> Vec<Found> {
    let sign = |item: &OpenItem| if let OpenItem::Vet { of, place, .. } = item { Some((*of, *place)) } else { None };
    history.open.iter().filter_map(sign).collect()
}

/// What is on her.
fn on_her(history: &History) -> impl Iterator<Item = (PutId, &Put)> {
    history.open.iter().filter_map(|item| {
        let OpenItem::On { put, what, .. } = item else { return None };
        Some((*put, what))
    })
}

/// What was put on in this turn and is still there.
fn put_now(history: &History, turn: &Turn, asks: impl Fn(&History, &PutView) -> bool) -> Vec<Found> {
    let there = |view: &&PutView| on_her(history).any(|(put, _)| put == view.id);
    let open = turn.puts.iter().filter(there).filter(|view| asks(history, view));
    open.map(|view| (view.id.0, view.put.place())).collect()
}

/// What is left open without asking, in grey words.
pub fn gaps(history: &History, turn: &Turn) -> Vec<OpenGap> {
    let mut gaps: Vec<OpenGap> = unanswered(history, turn)
        .into_iter()
        .map(|ghost| OpenGap { gap: Gap::Unanswered, place: ghost.place })
        .collect();
    for (index, foot) in Foot::ALL.iter().enumerate() {
        if turn.looks[index].is_none_or(|look| !look.lifted) {
            gaps.push(OpenGap { gap: Gap::NotLooked, place: Place::Foot(*foot) });
        }
    }
    for found in &turn.found {
        let (foot, side) = (found.place.foot(), found.place.side());
        let deep = matches!(found.what, Finding::SU | Finding::BU | Finding::TU | Finding::WLA);
        let relieved = turn.puts.iter().any(|view| matches!(view.put, Put::Block { .. }) && view.put.foot() == foot)
            || turn
                .trims
                .iter()
                .any(|(_, place, how)| *how == Trim::Lowered && place.foot() == foot && place.side() == side);
        if deep && !relieved {
            gaps.push(OpenGap { gap: Gap::NoRelief, place: found.place });
        }
        let active = matches!(found.degree, Degree::Stage(stage) if stage.is_active());
        let done = turn.puts.iter().any(|view| !matches!(view.put, Put::Block { .. }) && view.put.foot() == foot);
        if found.what == Finding::DD && active && !done {
            gaps.push(OpenGap { gap: Gap::ActiveUntreated, place: found.place });
        }
    }
    let lame = turn.gaits.iter().any(|(_, gait)| gait.scale.is_lame(gait.score));
    if lame && turn.found.is_empty() && history.open_courses().next().is_none() {
        gaps.push(OpenGap { gap: Gap::LameNothingFound, place: Place::Animal });
    }
    if turn.medicines.iter().any(|(_, medicine)| medicine.meat_days.is_none() || medicine.milk_days.is_none()) {
        gaps.push(OpenGap { gap: Gap::NoWithdrawal, place: Place::Animal });
    }
    gaps
}

/// Ghosts: what earlier turns found and nothing has ended, and this turn has neither answered nor found again. In the order
/// of the feet.
pub fn unanswered<'h>(history: &'h History, turn: &Turn) -> Vec<&'h Course> {
    let asked = |course: &&Course| !course.steps.iter().any(|step| step.turn == turn.id);
    let mut ghosts: Vec<&Course> = history.open_courses().filter(asked).collect();
    ghosts.sort_by_key(|course| course.place.foot());
    ghosts
}

/// Whether a claw can carry a block: there, and without an open lesion of its own.
pub fn is_sound(history: &History, foot: Foot, side: Side) -> bool {
    !history.claws_gone.contains(&(foot, side)) && soreness(history, foot, side) == 0
}

/// How sore a claw is by its open cases: 0 for none that a block would hurt, more for worse.
pub fn soreness(history: &History, foot: Foot, side: Side) -> u8 {
    let on_claw = |course: &&Course| course.place.foot() == Some(foot) && course.place.side() == Some(side);
    history
        .open_courses()
        .filter(on_claw)
        .map(|course| match course.what() {
            Finding::SU | Finding::BU | Finding::TU | Finding::TN | Finding::WLA | Finding::U => 3,
            Finding::WLF | Finding::WL | Finding::DS | Finding::TS | Finding::HFA | Finding::ForeignBody => 2,
            Finding::SH | Finding::SHC | Finding::SHD => 1,
            Finding::AC
            | Finding::CD
            | Finding::CC
            | Finding::SC
            | Finding::DD
            | Finding::ID
            | Finding::IH
            | Finding::IP
            | Finding::SW
            | Finding::HHE
            | Finding::HF
            | Finding::HFH
            | Finding::HFV
            | Finding::OwnWords => 0,
        })
        .max()
        .unwrap_or(0)
}
