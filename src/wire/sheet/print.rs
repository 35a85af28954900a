//! Writes a sheet in its one printed form: place first, then what about it; what was not told is not written.

use super::tokens::{bare_or_quoted, quoted};
use super::words::{
    AGAIN, MILKINGS, NO_HORN, NO_REASON, NO_VET, NOBODY, OFFS, SHARED, SKIN, TRIMS, first_word, printed,
};
use super::{day, medicine, told};
use crate::domain::anatomy::{Foot, Place};
use crate::domain::event::PauseWhy;
use crate::domain::finding::Degree;
use crate::domain::herd::{FarmFact, Scope, VisitWhy};
use crate::domain::history::{Look, Verdict};
use crate::domain::sheet::{End, FEET, Fact, FarmTold, Line, NewFinding, Sheet, SheetTurn, Told};
use crate::domain::treatment::{Milking, OffBy, Put, SkinState};
use crate::domain::which::Which;
use chrono::NaiveDate;

/// Parts of a line; empty ones are left out.
type Parts = Vec<String>;

/// A day in full, for messages too.
pub(super) fn day(day: NaiveDate) -> String {
    day::full(day)
}

/// Writes a whole sheet.
pub(super) fn sheet(sheet: &Sheet) -> String {
    let mut out = format!("farm {}\nday {}\n", name(&sheet.farm), day::full(sheet.on));
    if !sheet.by.is_empty() {
        out.push_str(&format!("by {}\n", name(&sheet.by)));
    }
    let why = match sheet.why {
        VisitWhy::Routine => None,
        VisitWhy::CallOut => Some(printed(sheet.why)),
    };
    let words = sheet.visit.iter().copied().map(printed).chain(sheet.ended.map(printed));
    let visit = joined(why.into_iter().chain(words));
    if !visit.is_empty() {
        out.push_str(&format!("visit {visit}\n"));
    }
    let mut within_told = false;
    for line in &sheet.lines {
        let is_told = !matches!(line, Line::Turn(_));
        if !(is_told && within_told) {
            out.push('\n');
        }
        within_told = is_told;
        match line {
            Line::Turn(turn) => out.push_str(&self::turn(turn, sheet.on)),
            Line::Animal { animal, told } => out.push_str(&animal_told(animal, told, sheet.on)),
            Line::Farm(told) => out.push_str(&line_of(["told".to_string(), farm_told(told, sheet.on)])),
        }
    }
    out
}

/// A name of several plain words stands bare, any other in quotes.
fn name(text: &str) -> String {
    let words: Vec<&str> = text.split(' ').collect();
    if words.iter().all(|word| bare_or_quoted(word) == *word) { text.to_string() } else { quoted(text) }
}

fn line_of(parts: impl IntoIterator<Item = String>) -> String {
    let mut line = joined(parts);
    line.push('\n');
    line
}

fn joined(parts: impl IntoIterator<Item = String>) -> String {
    parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ")
}

fn turn(turn: &SheetTurn, on: NaiveDate) -> String {
    let mut out = line_of(["animal".to_string(), bare_or_quoted(&turn.animal)]);
    let mut rest = turn.facts.as_slice();
    while !rest.is_empty() {
        let (line, taken) = looks(turn, rest).unwrap_or_else(|| (fact(&rest[0], on), 1));
        out.push_str(&format!("  {line}\n"));
        rest = &rest[taken..];
    }
    let end = match &turn.end {
        End::Open => return out,
        End::Paused(why) => why.map_or_else(|| "paused".to_string(), printed::<PauseWhy>),
        End::Signed(open) => {
            let gaps = open.iter().flat_map(|open| ["open".to_string(), printed(open.gap), place_words(open.place)]);
            joined(std::iter::once("signed".to_string()).chain(gaps))
        }
    };
    out.push_str(&format!("  {end}\n"));
    out
}

/// Looks at the head of the facts, several feet in one line where they were all looked at alike.
fn looks(turn: &SheetTurn, facts: &[Fact]) -> Option<(String, usize)> {
    let [Fact::Look { foot, look }, ..] = facts else { return None };
    let nothing = |foot: Foot| look.all_seen && !turn.facts.iter().any(|fact| fact.shows_trouble_on(foot));
    let alike = |feet: &[Foot]| {
        feet.len() <= facts.len()
            && feet.iter().zip(facts).all(|(wanted, fact)| {
                *fact == Fact::Look { foot: *wanted, look: *look } && nothing(*wanted) == nothing(*foot)
            })
    };
    let groups: [(&str, &[Foot]); 3] = [("all four", &FEET), ("fronts", &FEET[..2]), ("hinds", &FEET[2..])];
    let (feet, taken) = groups
        .into_iter()
        .find(|(_, feet)| alike(feet))
        .map_or_else(|| (printed(*foot), 1), |(words, feet)| (words.to_string(), feet.len()));
    Some((joined([feet, look_words(*look, nothing(*foot)).to_string()]), taken))
}

fn look_words(look: Look, nothing: bool) -> &'static str {
    match (look.trimmed, look.all_seen, nothing) {
        (true, true, true) => "trimmed nothing found",
        (false, true, true) => "nothing found",
        (true, true, false) => "lifted trimmed all seen",
        (true, false, _) => "lifted trimmed",
        (false, true, false) => "lifted all seen",
        (false, false, _) if look.lifted => "lifted",
        (false, false, _) => "not lifted",
    }
}

/// A place in the words of a sheet; nothing for the whole animal.
pub(super) fn place_words(place: Place) -> String {
    match place {
        Place::Animal => String::new(),
        Place::Above(foot) => format!("{} above", printed(foot)),
        Place::Foot(foot) => printed(foot),
        Place::Skin(foot, skin) => format!("{} {}", printed(foot), first_word(SKIN, skin)),
        Place::Claw(foot, side) => format!("{} {}", printed(foot), printed(side)),
        Place::Dewclaw(foot, side) => format!("{} {} dewclaw", printed(foot), printed(side)),
        Place::Horn(foot, side, horn) => format!("{} {} {}", printed(foot), printed(side), printed(horn)),
    }
}

/// Own words in quotes, nothing where there are none.
fn own(words: &str) -> String {
    if words.is_empty() { String::new() } else { quoted(words) }
}

/// A word and a name after it, nothing where there is no name.
fn with(word: &str, name: &str) -> String {
    if name.is_empty() { String::new() } else { format!("{word} {}", quoted(name)) }
}

fn fact(fact: &Fact, on: NaiveDate) -> String {
    let there = fact.place().map(place_words).unwrap_or_default();
    let parts: Parts = match fact {
        Fact::Look { look, .. } => vec![look_words(*look, false).to_string()],
        Fact::Found(found) => finding(found),
        Fact::Answered { what, verdict, .. } => vec![printed(*what), verdict_words(*verdict)],
        Fact::Trimmed { how, .. } => vec![first_word(TRIMS, *how)],
        Fact::Put { put, off_by, remover, by_others } => {
            let others = with("put on by", by_others);
            let promised = off_by.map(|off_by| promise(off_by, on)).unwrap_or_default();
            vec![put_words(put), others, promised, with("by", remover)]
        }
        Fact::Off { thing, outcome, skin, .. } => {
            let skin = match skin {
                SkinState::NotTold => String::new(),
                SkinState::Sound | SkinState::Raw | SkinState::CutIn => format!("skin {}", printed(*skin)),
            };
            vec![printed(*thing), first_word(OFFS, *outcome), skin]
        }
        Fact::Gait(gait) => vec![format!("gait {} of {}", gait.score, printed(gait.scale))],
        Fact::Measured { what, mm, .. } => vec![format!("{} {mm} mm", printed(*what))],
        Fact::Sore(_) => vec!["sore".to_string()],
        Fact::Note { text, .. } => vec!["note".to_string(), quoted(text)],
        Fact::Medicine(used) => vec![medicine::print(used)],
        Fact::HandedOver(name) => vec!["handed over to".to_string(), quoted(name)],
        Fact::Relief(relief) => vec![format!("pain relief {}", printed(*relief))],
        Fact::Vet { sign, words, .. } => vec!["vet".to_string(), printed(*sign), own(words)],
        Fact::Recheck { on: day, words, .. } => vec!["recheck".to_string(), day::ahead(*day, on), own(words)],
    };
    joined(std::iter::once(there).chain(parts))
}

fn finding(found: &NewFinding) -> Parts {
    let degree = match found.degree {
        Degree::NotGiven => String::new(),
        Degree::Grade(grade) => printed(grade),
        Degree::Stage(stage) => printed(stage),
    };
    let flag = |told: bool, word: &str| if told { word.to_string() } else { String::new() };
    vec![
        printed(found.what),
        degree,
        flag(found.infected, "infected"),
        flag(found.deep, "deep"),
        found.side.map(printed).unwrap_or_default(),
        own(&found.words),
    ]
}

fn verdict_words(verdict: Verdict) -> String {
    match verdict {
        Verdict::Outcome(outcome) => printed(outcome),
        Verdict::Stage(stage) => format!("now {}", printed(stage)),
    }
}

fn put_words(put: &Put) -> String {
    match put {
        Put::Block { kind, .. } => format!("block {}", printed(*kind)),
        Put::Wrap { colour, .. } => joined(["wrap".to_string(), colour.map(printed).unwrap_or_default()]),
        Put::Dressing { product, .. } => joined(["dressing".to_string(), own(product)]),
    }
}

fn promise(off_by: OffBy, on: NaiveDate) -> String {
    let milking = match off_by.milking {
        Milking::Any => String::new(),
        Milking::Morning | Milking::Evening => first_word(MILKINGS, off_by.milking),
    };
    joined(["off by".to_string(), day::ahead(off_by.day, on), milking])
}

fn animal_told(animal: &str, told: &Told, on: NaiveDate) -> String {
    let animal = if told::is_farm_word(animal) { quoted(animal) } else { bare_or_quoted(animal) };
    let parts: Parts = match told {
        Told::Word { place, thing, by, means, word } => {
            vec![place_words(*place), printed(*thing), printed(*word), with("by", by), printed(*means)]
        }
        Told::Left { why, words } => vec![printed(*why), own(words)],
        Told::Back(words) => vec!["came back".to_string(), own(words)],
        Told::Label { label, text, shared } => {
            vec![printed(*label), quoted(text), if *shared { SHARED } else { "" }.to_string()]
        }
        Told::Kicks(kicks) => vec![if *kicks { "kicks" } else { "kicks no more" }.to_string()],
        Told::Cull => vec!["cull".to_string()],
        Told::ClawGone(foot, side) => vec![printed(*foot), printed(*side), "gone".to_string()],
        Told::Dry(day) => vec!["dry since".to_string(), day::full(*day)],
        Told::Calved(day) => vec!["calved".to_string(), day::full(*day)],
        Told::DueToCalve(day) => vec!["due to calve".to_string(), day::full(*day)],
        Told::Lactation(number) => vec!["lactation".to_string(), number.to_string()],
        Told::Group(group) => vec!["group".to_string(), quoted(group)],
        Told::Called { words, urgent, caller } => call(words, *urgent, caller),
        Told::VetAnswered { place, words } => vec![place_words(*place), "vet answered".to_string(), own(words)],
        Told::Fact(told) => vec![fact(told, on)],
    };
    line_of(["told".to_string(), animal].into_iter().chain(parts))
}

fn farm_told(told: &FarmTold, on: NaiveDate) -> String {
    joined(match told {
        FarmTold::Fact(fact, words) => vec![printed(*fact), quoted(words)],
        FarmTold::Contact { name, does, phone, gone } => contact([name, does, phone], *gone),
        FarmTold::Changed(change, words) => vec![printed(*change), own(words)],
        FarmTold::Called { words, urgent, caller } => call(words, *urgent, caller),
        FarmTold::Rung { answered, who, words } => {
            let answer = if *answered { "" } else { "no answer" };
            vec!["rung".to_string(), answer.to_string(), with("by", who), own(words)]
        }
        FarmTold::Instructed { scope, text, again, asked_by, why, review_on, vet } => {
            let again = if *again { AGAIN } else { "" };
            let given = vec!["instruction".to_string(), printed(*scope), quoted(text), again.to_string()];
            let by = if asked_by.is_empty() { format!("by {NOBODY}") } else { with("by", asked_by) };
            let why = if why.is_empty() { NO_REASON.to_string() } else { with("why", why) };
            let horn = match vet.as_deref() {
                None => NO_VET.to_string(),
                Some("") => NO_HORN.to_string(),
                Some(vet) => with("vet", vet),
            };
            [given, vec![by, why, review(*review_on, on), horn]].concat()
        }
        FarmTold::InstructionReviewed { scope, which, words, review_on } => {
            [of_one(*scope, which), vec!["goes on".to_string(), own(words), review(*review_on, on)]].concat()
        }
        FarmTold::InstructionEnded { scope, which, why } => {
            [of_one(*scope, which), vec!["ended".to_string(), own(why)]].concat()
        }
    })
}

/// A name alone would be whom to ask for first, so what they do stands there even where it is not told.
fn contact([name, does, phone]: [&str; 3], gone: bool) -> Parts {
    let does = if does.is_empty() && phone.is_empty() && gone { String::new() } else { quoted(does) };
    let gone = if gone { "gone" } else { "" };
    vec![printed(FarmFact::Contact), quoted(name), does, own(phone), gone.to_string()]
}

/// Which instruction is spoken of.
fn of_one(scope: Scope, which: &Which) -> Parts {
    let since = which.since.map(|day| format!("since {}", day::full(day))).unwrap_or_default();
    vec!["instruction".to_string(), printed(scope), own(&which.words), since]
}

fn review(review_on: Option<NaiveDate>, on: NaiveDate) -> String {
    review_on.map(|day| format!("review {}", day::ahead(day, on))).unwrap_or_default()
}

fn call(words: &str, urgent: bool, caller: &str) -> Parts {
    let urgent = if urgent { "urgent" } else { "" };
    vec!["called".to_string(), quoted(words), with("by", caller), urgent.to_string()]
}
