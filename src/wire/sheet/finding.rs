//! Findings and answers: `LH outer 4 SU severe infected deep "under the wall"`, `LH outer 4 SU better`, `LH heel DD now M3`.

use super::Mistake;
use super::mistake::one_of;
use super::print::place_words;
use super::reader::{Reader, choices, plain};
use super::words::{self, SIDES, all, look_up, printed};
use crate::domain::anatomy::{Place, Side, Zone};
use crate::domain::finding::{Degree, FINDINGS, Finding, Grade, Level, Scale, Stage};
use crate::domain::history::Verdict;
use crate::domain::sheet::{Fact, NewFinding};
use crate::domain::treatment::Outcome;
use crate::domain::vocabulary::Vocabulary;

/// Reads the rest of a line after the place, where a finding comes next; none where none does.
pub(super) fn read(reader: &mut Reader, place: Place) -> Result<Option<Fact>, Mistake> {
    let at = reader.at();
    let Some(told) = reader.longest(words::finding) else {
        return Ok(None);
    };
    let place = the_only_zone(told, place);
    let what = place.zone().map_or(told, |zone| told.told_by(zone));
    if !what.can_be_at(place) {
        let mistake = reader.stumble_at(at, impossible(what, place), elsewhere(what, place));
        reader.mistakes.push(mistake);
    }
    if let Some(verdict) = verdict(reader, what)? {
        reader.finish(&[])?;
        return Ok(Some(Fact::Answered { place, what, verdict }));
    }
    let found = details(reader, place, what)?;
    Ok(Some(Fact::Found(found)))
}

/// A finding with one possible zone needs none told: SU is in 4, IH in the cleft.
fn the_only_zone(what: Finding, place: Place) -> Place {
    let &[number] = what.row().zones else { return place };
    let zone = Zone::from_number(number);
    if let (Place::Claw(foot, side), Some(Zone::Horn(horn))) = (place, zone) {
        return Place::Horn(foot, side, horn);
    }
    if let (Place::Foot(foot), Some(Zone::Skin(skin))) = (place, zone) {
        return Place::Skin(foot, skin);
    }
    place
}

/// What became of an earlier finding. Digital dermatitis is answered by its stage of today, all else in words.
fn verdict(reader: &mut Reader, what: Finding) -> Result<Option<Verdict>, Mistake> {
    let now = reader.take("now");
    let at = reader.at();
    if reader.take("not looked at") {
        return Ok(Some(Verdict::Outcome(Outcome::NotLooked)));
    }
    if let Some(outcome) = reader.member::<Outcome>() {
        if what.row().scale == Scale::Stage && outcome != Outcome::NotLooked {
            return Err(reader.stumble_at(
                at,
                format!("{} is answered by today's stage", printed(what)),
                format!("write {} now M0 (none left), now M1, ... or not looked", printed(what)),
            ));
        }
        return Ok(Some(Verdict::Outcome(outcome)));
    }
    if !now {
        return Ok(None);
    }
    if what.row().scale == Scale::Stage {
        return reader.need::<Stage>().map(|stage| Some(Verdict::Stage(stage)));
    }
    Err(reader.unknown(Outcome::NAME, &all::<Outcome>()))
}

fn details(reader: &mut Reader, place: Place, what: Finding) -> Result<NewFinding, Mistake> {
    let words = String::new();
    let degree = Degree::NotGiven;
    let mut found = NewFinding { place, what, degree, infected: false, deep: false, side: None, words };
    loop {
        let at = reader.at();
        if let Some(degree) = degree_word(reader) {
            check_degree(reader, at, what, degree);
            found.degree = degree;
        } else if reader.take("infected") {
            check_infectable(reader, at, what);
            found.infected = true;
        } else if reader.take("deep") {
            found.deep = true;
        } else if let Some(side) = reader.longest(|word| look_up(SIDES, word)) {
            check_side(reader, at, place, side);
            found.side = Some(side);
        } else if reader.at_quote() && found.words.is_empty() {
            found.words = reader.words();
        } else {
            break;
        }
    }
    reader.finish(&further(what, place))?;
    if what == Finding::OwnWords && found.words.is_empty() {
        return Err(reader.stumble("own words without words", "write them in quotes at the end"));
    }
    Ok(found)
}

fn degree_word(reader: &mut Reader) -> Option<Degree> {
    let grade = reader.member::<Grade>().map(Degree::Grade);
    grade.or_else(|| reader.member::<Stage>().map(Degree::Stage))
}

fn check_degree(reader: &mut Reader, at: usize, what: Finding, degree: Degree) {
    if what.takes(degree) {
        return;
    }
    let code = printed(what);
    let (said, instead) = match what.row().scale {
        Scale::Grade => (format!("{code} has a grade, no stage"), one_of(&all::<Grade>())),
        Scale::Stage => (format!("{code} has a stage, no grade"), one_of(&all::<Stage>())),
        Scale::None => (format!("{code} has no grade"), "leave it out".to_string()),
    };
    let mistake = reader.stumble_at(at, said, instead);
    reader.mistakes.push(mistake);
}

fn check_infectable(reader: &mut Reader, at: usize, what: Finding) {
    if what.row().infectable {
        return;
    }
    let can = choices(FINDINGS.iter().filter(|row| row.infectable).map(|row| row.finding));
    let said = format!("{} is not marked infected", printed(what));
    let instead = format!("only these are: {}; else write DD as a finding of its own", can.join(", "));
    let mistake = reader.stumble_at(at, said, instead);
    reader.mistakes.push(mistake);
}

fn check_side(reader: &mut Reader, at: usize, place: Place, side: Side) {
    let Some(owner) = place.side() else { return };
    let instead = if owner == side { "leave it out" } else { "take one of them out" };
    let mistake = reader.stumble_at(at, format!("the claw is already told: {}", printed(owner)), instead);
    reader.mistakes.push(mistake);
}

/// What may follow a finding, for a message about a word that may not.
fn further(what: Finding, place: Place) -> Vec<String> {
    let mut words = match what.row().scale {
        Scale::Grade => all::<Grade>(),
        Scale::Stage => all::<Stage>(),
        Scale::None => Vec::new(),
    };
    words.extend(what.row().infectable.then(|| "infected".to_string()));
    words.push("deep".to_string());
    if place.side().is_none() {
        words.extend(all::<Side>());
    }
    words.extend(if what.row().scale == Scale::Stage { plain(&["now"]) } else { all::<Outcome>() });
    words
}

fn impossible(what: Finding, place: Place) -> String {
    let code = printed(what);
    match (what.row().level, place) {
        (_, Place::Animal) => format!("{code} is on a foot: which one?"),
        (Level::Claw, Place::Foot(_)) => format!("{code} is on a claw: which one?"),
        (Level::Foot | Level::Claw | Level::Any, _) => match place.zone() {
            Some(zone) => format!("{code} ({}) cannot be in zone {}", what.row().name, zone.number()),
            None => format!("{code} ({}) needs another place", what.row().name),
        },
    }
}

/// Where the finding can be on that foot, and what else of its group could be at that place.
fn elsewhere(what: Finding, place: Place) -> String {
    let Some(foot) = place.foot() else {
        return format!("write the foot first: LH ... {}", printed(what));
    };
    let side = place.side().unwrap_or(foot.likely_claw());
    let row = what.row();
    let places: Vec<Place> = match (row.zones, row.level) {
        ([], Level::Claw) => vec![Place::Claw(foot, side)],
        ([], Level::Foot | Level::Any) => vec![Place::Foot(foot)],
        (zones, Level::Foot | Level::Claw | Level::Any) => {
            zones.iter().filter_map(|number| Zone::from_number(*number)).map(|zone| zone.on(foot, side)).collect()
        }
    };
    let mut lines: Vec<String> =
        places.iter().map(|place| format!("{} {}", place_words(*place), printed(what))).collect();
    let kin = FINDINGS.iter().filter(|other| {
        let group = other.finding.group() == what.group() && other.finding != what.group();
        group && other.finding.can_be_at(place)
    });
    lines.extend(kin.map(|other| format!("{} {}", place_words(place), printed(other.finding))));
    one_of(&lines)
}
