//! When both hind feet were last seen to. That answers a routine trim, which one foot does not: whoever was called out for it has
//! three more. Visits for hind feet alone are ordinary, and count.
//!
//! 92 % of the lesions of lame cows were in a hind foot (Murray et al. 1996), and both are lifted, since 38 % of chronic cases were
//! lame on the other side later (Thomas et al. 2016).

use super::anatomy::{Foot, Side};
use super::history::{History, Turn};
use super::treatment::Trim;
use super::vocabulary::Vocabulary;
use chrono::NaiveDate;

/// The hind feet.
const HINDS: [Foot; 2] = [Foot::LeftHind, Foot::RightHind];

/// How a foot was seen to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum How {
    /// It was up.
    Up,
    /// It was trimmed, or all of it was seen and nothing was to be trimmed: horn that needs no knife is left (common practice).
    GoneOver,
    /// It was trimmed. A claw that was lowered, or loose horn cut away, is treatment (common practice).
    Trimmed,
}

/// The last day on which each hind foot was seen to so; none where it never was. A foot that has no claw any more is left out.
pub fn days(history: &History, how: How) -> impl Iterator<Item = (Foot, Option<NaiveDate>)> + '_ {
    let there = HINDS.into_iter().filter(|foot| !is_gone(history, *foot));
    there.map(move |foot| (foot, last(history, foot, how)))
}

/// The last day on which a foot was seen to so.
pub fn last(history: &History, foot: Foot, how: How) -> Option<NaiveDate> {
    history.turns.iter().filter(|turn| is_seen_to(turn, foot, how)).map(|turn| turn.on).max()
}

/// The day since which both were; none where one of them never was.
pub fn both(history: &History, how: How) -> Option<NaiveDate> {
    days(history, how).map(|(_, day)| day).min().flatten()
}

fn is_gone(history: &History, foot: Foot) -> bool {
    [Side::Outer, Side::Inner].iter().all(|side| history.claws_gone.contains(&(foot, *side)))
}

fn is_seen_to(turn: &Turn, foot: Foot, how: How) -> bool {
    let rest = || Foot::ALL.iter().filter(|other| **other != foot).all(|other| was(turn, *other, how));
    // Three feet are no emergency: the fourth would not come up, and is not asked for at every visit (common practice).
    was(turn, foot, how) || how != How::Trimmed && rest()
}

fn was(turn: &Turn, foot: Foot, how: How) -> bool {
    let look = turn.look(foot);
    let cut = turn.trims.iter().any(|(_, place, trim)| place.foot() == Some(foot) && *trim == Trim::Routine);
    match how {
        How::Up => look.lifted || cut || turn.found.iter().any(|found| found.place.foot() == Some(foot)),
        How::GoneOver => look.trimmed || look.lifted && look.all_seen || cut,
        How::Trimmed => look.trimmed || cut,
    }
}
