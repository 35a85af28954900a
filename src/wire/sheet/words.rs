//! The words of the notation: the domain's own stable words, with spaces for hyphens, and the few that read better.

use super::tokens::quoted;
use crate::domain::anatomy::{Foot, Side, Skin};
use crate::domain::finding::{FINDINGS, Finding};
use crate::domain::treatment::{Milking, Off, Trim};
use crate::domain::vocabulary::Vocabulary;

/// A word as a sheet shows it: `got-away` becomes `got away`; what holds a figure (`0-3`, `over-14-days`) stays.
pub(super) fn printed<V: Vocabulary>(member: V) -> String {
    let word = member.word();
    if word.bytes().any(|byte| byte.is_ascii_digit()) { word.to_string() } else { word.replace('-', " ") }
}

/// All words of a list as a sheet shows them.
pub(super) fn all<V: Vocabulary>() -> Vec<String> {
    V::ALL.iter().map(|member| printed(*member)).collect()
}

/// Words joined by spaces, without the quotes that [`quoted`] adds but with its care for what upsets a terminal.
pub(super) fn shown(words: &[&str]) -> String {
    let text = words.iter().filter(|word| !word.is_empty()).copied().collect::<Vec<_>>().join(" ");
    let safe = quoted(&text);
    safe[1..safe.len() - 1].to_string()
}

/// Looks a word up in a table; words are lower case with hyphens.
pub(super) fn look_up<T: Copy>(table: &[(&str, T)], word: &str) -> Option<T> {
    table.iter().find(|(known, _)| known.eq_ignore_ascii_case(word)).map(|(_, meant)| *meant)
}

/// Feet: short, North American (LR, RR), and in full words as farm papers have them.
pub(super) const FEET: &[(&str, Foot)] = &[
    ("LF", Foot::LeftFront),
    ("RF", Foot::RightFront),
    ("LH", Foot::LeftHind),
    ("RH", Foot::RightHind),
    ("LR", Foot::LeftHind),
    ("RR", Foot::RightHind),
    ("left-front", Foot::LeftFront),
    ("front-left", Foot::LeftFront),
    ("right-front", Foot::RightFront),
    ("front-right", Foot::RightFront),
    ("left-hind", Foot::LeftHind),
    ("hind-left", Foot::LeftHind),
    ("left-rear", Foot::LeftHind),
    ("rear-left", Foot::LeftHind),
    ("left-back", Foot::LeftHind),
    ("back-left", Foot::LeftHind),
    ("right-hind", Foot::RightHind),
    ("hind-right", Foot::RightHind),
    ("right-rear", Foot::RightHind),
    ("rear-right", Foot::RightHind),
    ("right-back", Foot::RightHind),
    ("back-right", Foot::RightHind),
];

/// That another of the herd bears it too.
pub(super) const SHARED: &str = "shared";
/// Claws.
pub(super) const SIDES: &[(&str, Side)] =
    &[("outer", Side::Outer), ("inner", Side::Inner), ("lateral", Side::Outer), ("medial", Side::Inner)];

/// Skin zones by word; the first word of each is the one printed.
pub(super) const SKIN: &[(&str, Skin)] = &[("cleft", Skin::Cleft), ("front", Skin::Front), ("heel", Skin::Heel)];

/// Trims; the first word of each is the one printed.
pub(super) const TRIMS: &[(&str, Trim)] = &[
    ("trim", Trim::Routine),
    ("lowered", Trim::Lowered),
    ("loose-horn", Trim::LooseHorn),
    ("shortened", Trim::Dewclaw),
    ("loose-horn-removed", Trim::LooseHorn),
];

/// Ways in which a wrap or block was found; the first word of each is the one printed.
pub(super) const OFFS: &[(&str, Off)] = &[
    ("off-bare", Off::Bare),
    ("off-ring", Off::Ring),
    ("already-off", Off::AlreadyOff),
    ("taken-off", Off::TakenOff),
    ("fell-off", Off::FellOff),
    ("replaced", Off::Replaced),
    ("left-sound", Off::LeftSound),
    ("left-worn", Off::LeftWorn),
    ("not-found", Off::NotFound),
    ("left-on", Off::LeftOn),
    ("bare", Off::Bare),
    ("ring", Off::Ring),
    ("off-replaced", Off::Replaced),
    ("left-on-sound", Off::LeftSound),
    ("left-on-worn", Off::LeftWorn),
];

/// Milkings; "any" is not written.
pub(super) const MILKINGS: &[(&str, Milking)] = &[
    ("morning", Milking::Morning),
    ("evening", Milking::Evening),
    ("AM", Milking::Morning),
    ("PM", Milking::Evening),
    ("morning-milking", Milking::Morning),
    ("evening-milking", Milking::Evening),
];

/// What says of an instruction that it was given though one of the same words held, as two tablets may tell it.
pub(super) const AGAIN: &str = "again";
/// What says of an instruction that it takes no horn away.
pub(super) const NO_HORN: &str = "takes no horn";
/// What a printed sheet says of one that names no vet: whether it was asked is not in the book.
pub(super) const NO_VET: &str = "no vet named";
/// What a printed sheet says, behind `by`, of one of which the book does not know who asked.
pub(super) const NOBODY: &str = "nobody named";
/// The same of one of which it does not know why.
pub(super) const NO_REASON: &str = "why not told";

/// Further words for findings, beside code and full name.
const FINDING_WORDS: &[(&str, Finding)] = &[
    ("foul", Finding::IP),
    ("phlegmon", Finding::IP),
    ("foot-rot", Finding::IP),
    ("swelling", Finding::SW),
    ("thin-sole", Finding::TS),
    ("fissure", Finding::HF),
    ("haemorrhage", Finding::SH),
    ("white-line", Finding::WL),
];

/// The word a table prints for a member: its first.
pub(super) fn first_word<T: Copy + PartialEq>(table: &[(&'static str, T)], member: T) -> String {
    let found = table.iter().find(|(_, meant)| *meant == member).map(|(word, _)| word.replace('-', " "));
    found.unwrap_or_default()
}

/// A finding by code, by its name in the Atlas, or by a trimmer's word.
pub(super) fn finding(word: &str) -> Option<Finding> {
    let named = |name: &str| {
        let plain = name.split(" (").next().unwrap_or(name);
        plain.replace(' ', "-").eq_ignore_ascii_case(word)
    };
    Finding::from_word(word)
        .or_else(|| FINDINGS.iter().find(|row| named(row.name)).map(|row| row.finding))
        .or_else(|| look_up(FINDING_WORDS, word))
}
