//! What must be settled before an animal goes, and what is only written down as left open.
//!
//! Only what hurts asks. Asking sixty times a day about everything teaches to skip.

use super::anatomy::{Foot, Place, Side};
use super::event::{Gap, OpenGap};
use super::finding::{Degree, Finding};
use super::history::open::OpenItem;
use super::history::{Case, History, Turn};
use super::ids::{PutId, RecordId};
use super::treatment::{Put, Trim};
use super::vocabulary::Vocabulary;

/// One line that asks before sign-off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Check {
    /// Something on that nobody looked at in this turn.
    StillOn {
        /// What was put on.
        put: PutId,
        /// Where.
        place: Place,
    },
    /// A wrap of this turn without a day to be off.
    WrapDay {
        /// The wrap.
        put: PutId,
        /// Where.
        place: Place,
    },
    /// A wrap of this turn that nobody was named to take off.
    WrapWho {
        /// The wrap.
        put: PutId,
        /// Where.
        place: Place,
    },
    /// A block of this turn on a sore claw, or without a sound partner.
    BlockDoubt {
        /// The block.
        put: PutId,
        /// Where.
        place: Place,
    },
    /// A stop sign of this turn.
    Stop {
        /// The record that advised the vet.
        of: RecordId,
        /// Where.
        place: Place,
    },
}

impl Check {
    /// What is written as left open when the line is passed knowingly.
    pub fn gap(self) -> OpenGap {
        match self {
            Check::StillOn { place, .. } => OpenGap { gap: Gap::StillOn, place },
            Check::WrapDay { place, .. } | Check::WrapWho { place, .. } => OpenGap { gap: Gap::NoDay, place },
            Check::BlockDoubt { place, .. } => OpenGap { gap: Gap::BlockDoubt, place },
            Check::Stop { place, .. } => OpenGap { gap: Gap::StopSign, place },
        }
    }
}

/// Lines that ask, in the order of the feet.
pub fn checks(history: &History, turn: &Turn) -> Vec<Check> {
    let mut checks: Vec<Check> = history.open.iter().filter_map(|item| still_on(item, turn)).collect();
    for view in &turn.puts {
        let still_there = history.open.iter().any(|item| matches!(item, OpenItem::On { put, .. } if *put == view.id));
        let place = view.put.place();
        match &view.put {
            Put::Wrap { .. } if still_there => {
                if view.off_by.is_none() {
                    checks.push(Check::WrapDay { put: view.id, place });
                }
                if view.remover.is_empty() {
                    checks.push(Check::WrapWho { put: view.id, place });
                }
            }
            Put::Block { foot, side, .. } if still_there && !is_sound(history, *foot, *side) => {
                checks.push(Check::BlockDoubt { put: view.id, place });
            }
            Put::Wrap { .. } | Put::Block { .. } | Put::Dressing { .. } => {}
        }
    }
    let stops = history.open.iter().filter_map(|item| match item {
        OpenItem::Vet { of, place, .. } => Some(Check::Stop { of: *of, place: *place }),
        OpenItem::On { .. }
        | OpenItem::LookSoon { .. }
        | OpenItem::Recheck { .. }
        | OpenItem::SetByHand { .. }
        | OpenItem::Lame { .. } => None,
    });
    checks.extend(stops);
    checks.sort_by_key(|check| check.gap().place.foot());
    checks
}

fn still_on(item: &OpenItem, turn: &Turn) -> Option<Check> {
    let OpenItem::On { put, what, .. } = item else { return None };
    let of_this_turn = turn.puts.iter().any(|view| view.id == *put);
    let seen = turn.offs.iter().any(|off| off.item == super::event::Item::Known(*put) || off.id == put.0);
    (!of_this_turn && !seen).then_some(Check::StillOn { put: *put, place: what.place() })
}

/// What is left open without asking, in grey words.
pub fn gaps(history: &History, turn: &Turn) -> Vec<OpenGap> {
    let mut gaps: Vec<OpenGap> =
        unanswered(history, turn).into_iter().map(|case| OpenGap { gap: Gap::Unanswered, place: case.place }).collect();
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
    if lame && turn.found.is_empty() && history.open_cases().next().is_none() {
        gaps.push(OpenGap { gap: Gap::LameNothingFound, place: Place::Animal });
    }
    if turn.medicines.iter().any(|(_, medicine)| medicine.meat_days.is_none() || medicine.milk_days.is_none()) {
        gaps.push(OpenGap { gap: Gap::NoWithdrawal, place: Place::Animal });
    }
    gaps
}

/// Open cases from earlier turns that this turn has neither answered nor found again.
pub fn unanswered<'h>(history: &'h History, turn: &Turn) -> Vec<&'h Case> {
    history
        .open_cases()
        .filter(|case| case.found.first().is_some_and(|(first, _)| *first != turn.id))
        .filter(|case| !case.found.iter().any(|(of, _)| *of == turn.id))
        .filter(|case| !turn.answers.iter().any(|answer| answer.case == case.id))
        .collect()
}

/// Whether a claw can carry a block: there, and without an open lesion of its own.
pub fn is_sound(history: &History, foot: Foot, side: Side) -> bool {
    !history.claws_gone.contains(&(foot, side)) && soreness(history, foot, side) == 0
}

/// How sore a claw is by its open cases: 0 for none that a block would hurt, more for worse.
pub fn soreness(history: &History, foot: Foot, side: Side) -> u8 {
    let on_claw = |case: &&Case| case.place.foot() == Some(foot) && case.place.side() == Some(side);
    history
        .open_cases()
        .filter(on_claw)
        .map(|case| match case.what {
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
