//! One line of a turn: a place, then what about it.

use super::Mistake;
use super::day::{self, Near};
use super::reader::{Reader, plain};
use super::words::{FEET as FOOT_WORDS, TRIMS, all, first_word, look_up, printed};
use super::{finding, medicine, place, thing};
use crate::domain::anatomy::{Foot, Place};
use crate::domain::finding::{FINDINGS, Finding};
use crate::domain::history::Look;
use crate::domain::sheet::{FEET, Fact};
use crate::domain::treatment::{Gait, GaitScale, Measure, Relief, Sign, Trim};
use crate::domain::vocabulary::Vocabulary;

/// A line of a turn, read.
pub(super) struct Told {
    /// Its facts: several where one line speaks of several feet.
    pub(super) facts: Vec<Fact>,
    /// Feet said to have nothing found on them.
    pub(super) nothing_on: Vec<Foot>,
}

/// Reads a line of a turn. `seen` holds the feet this turn has already spoken of, for "rest".
pub(super) fn read(reader: &mut Reader, seen: &[Foot]) -> Result<Told, Mistake> {
    if let Some(feet) = several_feet(reader, seen) {
        return looks(reader, &feet);
    }
    let place = place::read(reader)?;
    if let Place::Foot(foot) = place
        && starts_a_look(reader)
    {
        return looks(reader, &[foot]);
    }
    let fact = at_place(reader, place)?;
    Ok(Told { facts: vec![fact], nothing_on: Vec::new() })
}

/// Reads what is said about a place.
pub(super) fn at_place(reader: &mut Reader, place: Place) -> Result<Fact, Mistake> {
    if let Some(fact) = finding::read(reader, place)? {
        return Ok(fact);
    }
    if let Some(fact) = thing::read(reader, place)? {
        return Ok(fact);
    }
    let at = reader.at();
    if let Some(fact) = anywhere(reader, place)? {
        return Ok(fact);
    }
    if let Some(fact) = whole_animal(reader)? {
        return match place {
            Place::Animal => Ok(fact),
            Place::Above(_)
            | Place::Foot(_)
            | Place::Skin(_, _)
            | Place::Claw(_, _)
            | Place::Dewclaw(_, _)
            | Place::Horn(_, _, _) => {
                Err(reader.stumble_at(at, "this is said of the whole animal", "leave the foot out"))
            }
        };
    }
    if let Some(fact) = on_a_foot(reader, place)? {
        return Ok(fact);
    }
    Err(unknown(reader, place))
}

/// Facts of any place, the whole animal included.
fn anywhere(reader: &mut Reader, place: Place) -> Result<Option<Fact>, Mistake> {
    if reader.take("note") {
        let text = reader.text("the note")?;
        reader.finish(&[])?;
        return Ok(Some(Fact::Note { place, text }));
    }
    if reader.take("vet") {
        let sign = reader.need::<Sign>()?;
        let words = reader.words();
        reader.finish(&[])?;
        return Ok(Some(Fact::Vet { place, sign, words }));
    }
    if reader.take("recheck") {
        let on = day::read(reader, Near::Ahead)?;
        let words = reader.words();
        reader.finish(&[])?;
        return Ok(Some(Fact::Recheck { place, on, words }));
    }
    if reader.take("sore") {
        reader.finish(&[])?;
        return Ok(Some(Fact::Sore(place)));
    }
    Ok(None)
}

/// Facts of the whole animal.
fn whole_animal(reader: &mut Reader) -> Result<Option<Fact>, Mistake> {
    if reader.take("gait") {
        let gait = gait(reader)?;
        reader.finish(&[])?;
        return Ok(Some(Fact::Gait(gait)));
    }
    if reader.take("pain relief") || reader.take("relief") {
        let relief = reader.need::<Relief>()?;
        reader.finish(&[])?;
        return Ok(Some(Fact::Relief(relief)));
    }
    if reader.take("handed over to") {
        let at = reader.at();
        let name = reader.text("the name")?;
        if name.trim().is_empty() {
            return Err(reader.stumble_at(at, "the name is empty", "write who recorded from here on"));
        }
        reader.finish(&[])?;
        return Ok(Some(Fact::HandedOver(name)));
    }
    if reader.take("medicine") {
        return medicine::read(reader).map(|medicine| Some(Fact::Medicine(Box::new(medicine))));
    }
    Ok(None)
}

/// Facts of a foot or a part of one.
fn on_a_foot(reader: &mut Reader, place: Place) -> Result<Option<Fact>, Mistake> {
    let at = reader.at();
    let fact = if let Some(how) = reader.longest(|word| look_up(TRIMS, word)) {
        Fact::Trimmed { place, how }
    } else if let Some(what) = reader.member::<Measure>() {
        let mm = reader.number::<u16>();
        let mm = mm.ok_or_else(|| reader.stumble("how many millimetres?", "write it like wall 78 mm"))?;
        reader.take("mm");
        Fact::Measured { place, what, mm }
    } else {
        return Ok(None);
    };
    if place == Place::Animal {
        return Err(reader.stumble_at(at, "on which foot?", "write the foot first: LH, RH, LF or RF"));
    }
    reader.finish(&[])?;
    Ok(Some(fact))
}

fn gait(reader: &mut Reader) -> Result<Gait, Mistake> {
    let at = reader.at();
    let score = reader.number::<u8>();
    let score = score.ok_or_else(|| reader.stumble("which gait score?", "write it like gait 2 of 0-3"))?;
    reader.take("of");
    let scale = reader.need::<GaitScale>()?;
    if !scale.range().contains(&score) {
        let said = format!("the scale {} has no score {score}", printed(scale));
        let mistake =
            reader.stumble_at(at, said, format!("write a score inside {}, or the other scale", printed(scale)));
        reader.mistakes.push(mistake);
    }
    Ok(Gait { scale, score })
}

/// Feet spoken of together.
const GROUPS: [(&str, &[Foot]); 5] = [
    ("all four", &FEET),
    ("fronts", &[Foot::LeftFront, Foot::RightFront]),
    ("both fronts", &[Foot::LeftFront, Foot::RightFront]),
    ("hinds", &[Foot::LeftHind, Foot::RightHind]),
    ("both hinds", &[Foot::LeftHind, Foot::RightHind]),
];

fn several_feet(reader: &mut Reader, seen: &[Foot]) -> Option<Vec<Foot>> {
    if reader.take("the rest") || reader.take("rest") {
        return Some(FEET.into_iter().filter(|foot| !seen.contains(foot)).collect());
    }
    GROUPS.iter().find(|(words, _)| reader.take(words)).map(|(_, feet)| feet.to_vec())
}

const LOOKS: [&str; 5] = ["lifted", "trimmed", "all seen", "nothing found", "not lifted"];

fn starts_a_look(reader: &Reader) -> bool {
    let is_one = |word: &str| LOOKS.iter().any(|look| look.replace(' ', "-").eq_ignore_ascii_case(word)).then_some(());
    reader.peek_longest(is_one).is_some()
}

/// Reads "lifted trimmed all seen" or "trimmed nothing found". A foot that was trimmed or seen was lifted.
fn looks(reader: &mut Reader, feet: &[Foot]) -> Result<Told, Mistake> {
    let at = reader.at();
    let (mut look, mut nothing) = (Look::default(), false);
    let not_lifted = reader.take("not lifted");
    loop {
        if not_lifted {
            break;
        } else if reader.take("lifted") {
            look.lifted = true;
        } else if reader.take("trimmed") {
            look = Look { lifted: true, trimmed: true, ..look };
        } else if reader.take("all seen") {
            look = Look { lifted: true, all_seen: true, ..look };
        } else if reader.take("nothing found") {
            look = Look { lifted: true, all_seen: true, ..look };
            nothing = true;
        } else {
            break;
        }
    }
    reader.finish(&plain(&LOOKS))?;
    if !look.lifted && !not_lifted {
        return Err(reader.stumble_at(at, "what about those feet?", "write trimmed nothing found, or lifted"));
    }
    let facts = feet.iter().map(|foot| Fact::Look { foot: *foot, look }).collect();
    Ok(Told { facts, nothing_on: if nothing { feet.to_vec() } else { Vec::new() } })
}

fn unknown(reader: &Reader, place: Place) -> Mistake {
    let mut words: Vec<String> = plain(&["note", "vet", "recheck", "sore"]);
    match place {
        Place::Animal => {
            words.extend(plain(&[
                "gait",
                "pain relief",
                "medicine",
                "signed",
                "got away",
                "set aside",
                "handed over to",
                "animal",
                "told",
            ]));
            words.extend(plain(&["all four", "hinds", "fronts", "rest"]));
            words.extend(FOOT_WORDS.iter().take(4).map(|(word, _)| word.to_string()));
        }
        Place::Above(_)
        | Place::Foot(_)
        | Place::Skin(_, _)
        | Place::Claw(_, _)
        | Place::Dewclaw(_, _)
        | Place::Horn(_, _, _) => {
            words.extend(plain(&["wrap", "block", "dressing"]));
            words.extend(Trim::ALL.iter().map(|trim| first_word(TRIMS, *trim)));
            words.extend(all::<Measure>());
            words.extend(if matches!(place, Place::Foot(_)) { plain(&LOOKS) } else { Vec::new() });
            words.extend(FINDINGS.iter().map(|row| row.finding).filter(|what| fits(*what, place)).map(printed));
        }
    }
    reader.unknown("word of the sheet", &words)
}

/// Whether a finding can be said at a place or somewhere inside it.
fn fits(what: Finding, place: Place) -> bool {
    what.can_be_at(place) || matches!(place, Place::Foot(_) | Place::Claw(_, _))
}
