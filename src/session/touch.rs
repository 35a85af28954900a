//! Taps: what a place on the screen stands for, and what a tap on it decides. Whatever a tap does has a key.
//!
//! A tap writes only on what is selected already: rain and sleeves tap too. So the first tap on what would write only selects
//! it, and is shown; what writes nothing is done at once.

use super::act::Ask;
use super::crush;
use super::decide::{Decision, Effect, Next, decide};
use super::mode::{Hand, Mode};
use super::{Refusal, Session, today};
use crate::domain::anatomy::Place;
use crate::domain::record::Stamp;
use crate::keys::intent::Intent;
use crate::keys::key::Key;

/// What a place on the screen stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Target {
    /// A wish, as its key would say it.
    Wish(Intent),
    /// A key that begins a sequence.
    Begin(Key),
    /// A line of the list that is shown.
    Line(usize),
    /// A zone, claw or foot of the map.
    Place(Place),
}

/// What a tap comes to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Tapped {
    /// As a key would: the hand as it was to be before it, and what is decided.
    Does(Decision),
    /// It is selected now; tapped once more, it is done.
    Selects,
    /// The key waits for the next one.
    Begins(Key),
    /// Nothing.
    Nothing,
}

/// What a tap on a target decides.
pub fn tapped(session: &Session, target: Target, stamp: &Stamp) -> Tapped {
    match target {
        Target::Wish(intent) => careful(session, target, decide(session, intent, stamp)),
        Target::Begin(key) => Tapped::Begins(key),
        Target::Line(index) => line(session, index, stamp),
        Target::Place(place) => on_the_map(session, place),
    }
}

/// What writes waits until it is selected.
fn careful(session: &Session, target: Target, decision: Decision) -> Tapped {
    let writes = match &decision {
        Decision::Record(_, _) => true,
        // Nor is the program left, or a backup begun, by the first drop of rain.
        Decision::Go(Next::Do(Effect::Leave | Effect::Backup | Effect::Taps(_))) => true,
        Decision::Go(_) | Decision::Refuse(_) => false,
    };
    if writes && session.selected != Some(target) { Tapped::Selects } else { Tapped::Does(decision) }
}

/// A line is picked by the first tap and opened by the second.
fn line(session: &Session, index: usize, stamp: &Stamp) -> Tapped {
    let mut mode = session.mode.clone();
    let (cursor, wanted) = match &mut mode {
        Mode::Today { typed, cursor } => {
            let wanted = today::cursor_of(typed, index);
            (cursor, wanted)
        }
        Mode::Farms { cursor }
        | Mode::Card { cursor, .. }
        | Mode::Herd { cursor, .. }
        | Mode::Due { cursor, .. }
        | Mode::Ring { cursor, .. } => (cursor, index),
        Mode::Walk(_)
        | Mode::Crush(_)
        | Mode::Pad { .. }
        | Mode::SignOff { .. }
        | Mode::Last { .. }
        | Mode::Always { .. }
        | Mode::Text { .. }
        | Mode::Paper { .. }
        | Mode::Totals { .. }
        | Mode::Help { .. } => return Tapped::Nothing,
    };
    if *cursor == wanted {
        // It is drawn as picked.
        return Tapped::Does(decide(session, Intent::GoOn, stamp));
    }
    *cursor = wanted;
    Tapped::Does(Decision::Go(Next::Mode(mode)))
}

/// Another foot is lifted, a zone of the foot in hand asks what is found there, a claw is gone to. None of it writes. A
/// question about a finding is left by it, as by going back.
fn on_the_map(session: &Session, place: Place) -> Tapped {
    let hand = match &session.mode {
        Mode::Crush(hand) => *hand,
        Mode::Pad { ask: Ask::Finding(_) | Ask::About(_) | Ask::Answer(_), under } => match under.as_ref() {
            Mode::Crush(hand) => *hand,
            Mode::Today { .. }
            | Mode::Walk(_)
            | Mode::Farms { .. }
            | Mode::Pad { .. }
            | Mode::SignOff { .. }
            | Mode::Card { .. }
            | Mode::Herd { .. }
            | Mode::Due { .. }
            | Mode::Ring { .. }
            | Mode::Last { .. }
            | Mode::Always { .. }
            | Mode::Text { .. }
            | Mode::Paper { .. }
            | Mode::Totals { .. }
            | Mode::Help { .. } => return Tapped::Nothing,
        },
        Mode::Today { .. }
        | Mode::Walk(_)
        | Mode::Farms { .. }
        | Mode::Pad { .. }
        | Mode::SignOff { .. }
        | Mode::Card { .. }
        | Mode::Herd { .. }
        | Mode::Due { .. }
        | Mode::Ring { .. }
        | Mode::Last { .. }
        | Mode::Always { .. }
        | Mode::Text { .. }
        | Mode::Paper { .. }
        | Mode::Totals { .. }
        | Mode::Help { .. } => return Tapped::Nothing,
    };
    let side = place.side().unwrap_or(hand.side);
    match (place.foot(), place.zone()) {
        (Some(foot), _) if hand.foot != Some(foot) => Tapped::Does(Decision::Go(Next::Foot(Hand::lift(foot)))),
        (Some(_), Some(zone)) => Tapped::Does(crush::ask_zone(session, Hand { side, ..hand }, zone.number())),
        (Some(_), None) => Tapped::Does(Decision::Go(Next::Mode(Mode::Crush(Hand { side, ..hand })))),
        (None, _) => Tapped::Nothing,
    }
}

/// Whether a wish does anything now: a cell of the pad says only what its key does.
pub fn does(session: &Session, intent: Intent, stamp: &Stamp) -> bool {
    // On the walk going on does nothing before a digit is typed.
    if intent == Intent::GoOn && matches!(&session.mode, Mode::Walk(walking) if walking.is_blank()) {
        return false;
    }
    !matches!(
        decide(session, intent, stamp),
        Decision::Refuse(Refusal::NotHere | Refusal::NoFoot | Refusal::NoSuchChoice)
    )
}
