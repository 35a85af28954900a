//! Lines outside a turn: what was told about the farm or about an animal.
//!
//! `told phone "01632 960114"`, `told contact "Tom" "takes wraps off" "01632 960123"`, `told 1382 LH wrap off by "Tom" telephone`, `told 1382 dry since 2 May 2026`.

use super::Mistake;
use super::day::{self, Near};
use super::reader::{Reader, plain};
use super::words::{AGAIN, NO_HORN, NO_REASON, NO_VET, NOBODY, SHARED, all, printed};
use super::{fact, place, thing};
use crate::domain::anatomy::Place;
use crate::domain::herd::{Change, FarmFact, Leaving, Scope};
use crate::domain::herd_list::cell;
use crate::domain::label::Label;
use crate::domain::sheet::{FarmTold, Line, Thing, Told};
use crate::domain::treatment::{Means, Word};
use crate::domain::vocabulary::Vocabulary;
use crate::domain::which::Which;
use chrono::NaiveDate;

/// Reads the rest of a line that began with "told".
pub(super) fn read(reader: &mut Reader) -> Result<Line, Mistake> {
    if let Some(told) = farm(reader)? {
        return Ok(Line::Farm(told));
    }
    let animal = reader.text("an animal's number, or a word about the farm")?;
    let told = animal_told(reader)?;
    Ok(Line::Animal { animal, told })
}

/// Whether a bare word here would be read as said of the farm: an animal of that name is written in quotes.
pub(super) fn is_farm_word(word: &str) -> bool {
    let first = |words: &str| words.split('-').next().is_some_and(|first| first.eq_ignore_ascii_case(word));
    FarmFact::ALL.iter().any(|fact| first(fact.word()))
        || Change::ALL.iter().any(|change| first(change.word()))
        || ["called", "rung", "instruction"].iter().any(|known| first(known))
}

fn farm(reader: &mut Reader) -> Result<Option<FarmTold>, Mistake> {
    let told = if let Some(fact) = reader.member::<FarmFact>() {
        let words = reader.text(&printed(fact))?;
        if fact == FarmFact::Contact { contact(reader, words)? } else { FarmTold::Fact(fact, words) }
    } else if let Some(change) = reader.member::<Change>() {
        FarmTold::Changed(change, reader.words())
    } else if reader.take("called") {
        let (words, urgent, caller) = call(reader)?;
        FarmTold::Called { words, urgent, caller }
    } else if reader.take("rung") {
        let answered = !reader.take("no answer");
        let who = by(reader)?;
        FarmTold::Rung { answered, who, words: reader.words() }
    } else if reader.take("instruction") {
        instruction(reader)?
    } else {
        return Ok(None);
    };
    reader.finish(&[])?;
    Ok(Some(told))
}

/// A name alone is whom to ask for first; with what they do, their number or `gone` behind it, it is one of the farm's people.
fn contact(reader: &mut Reader, name: String) -> Result<FarmTold, Mistake> {
    let told = reader.at_quote();
    let (does, phone) = (reader.words(), reader.words());
    let gone = reader.take("gone");
    reader.finish(&plain(&["gone"]))?;
    let told = told || gone;
    Ok(if told { FarmTold::Contact { name, does, phone, gone } } else { FarmTold::Fact(FarmFact::Contact, name) })
}

/// `inner front "lower a little" by "Marla" why "white line" review 9 Feb vet "Ivo"`, the same with `takes no horn` in the place of the
/// vet, `inner front goes on "words" review 9 May`, or `inner front ended "why"`; of several for the same claws the last two say
/// which, as `inner front "lower a little" since 11 Nov goes on`.
fn instruction(reader: &mut Reader) -> Result<FarmTold, Mistake> {
    let scope = reader.need::<Scope>()?;
    if let Some(told) = of_one(reader, scope, "")? {
        return Ok(told);
    }
    let at = reader.at();
    let text = reader.text("the instruction")?;
    if let Some(told) = of_one(reader, scope, &text)? {
        return Ok(told);
    }
    if text.trim().is_empty() {
        return Err(reader.stumble_at(
            at,
            "the instruction has no words",
            "write what is to be done at each of these feet",
        ));
    }
    given(reader, scope, text)
}

/// What stands behind an instruction, in any order.
const BEHIND: [&str; 5] = ["by", "why", "review", "vet", NO_HORN];

/// What is told of an instruction that is given, in any order and each of it once: who asked, why and whether it takes horn away
/// always, as the screens ask it. A sheet that was printed says so where the book knows nobody, no reason or no vet.
fn given(reader: &mut Reader, scope: Scope, text: String) -> Result<FarmTold, Mistake> {
    let (mut asked_by, mut why, mut review_on, mut horn) = (None, None, None, None);
    let again = reader.take(AGAIN);
    loop {
        let at = reader.at();
        let (word, twice) = if reader.take("by") {
            ("by", asked_by.replace(who_asked(reader, at)?).is_some())
        } else if reader.take(NO_REASON) {
            ("why", why.replace(String::new()).is_some())
        } else if reader.take("why") {
            ("why", why.replace(reason(reader, at)?).is_some())
        } else if reader.take("review") {
            ("review", review_on.replace(day::to_come(reader)?).is_some())
        } else if let Some(said) = vet(reader)? {
            both(reader, at, horn.as_ref(), &said)?;
            (of_horn(&said), horn.replace(said).is_some())
        } else {
            break;
        };
        if twice {
            return Err(reader.stumble_at(at, format!("{word} is told twice"), "say it once"));
        }
    }
    reader.finish(&plain(&BEHIND))?;
    let asked_by = asked_by.ok_or_else(|| reader.stumble("who asked for it?", "write by \"NAME\""))?;
    let why = why.ok_or_else(|| reader.stumble("why is it done?", "write why \"REASON\""))?;
    let instead = || {
        format!("write {NO_HORN}, or vet \"NAME\" where it does: then it is the vet's, with the least sole beside it")
    };
    let vet = horn.ok_or_else(|| reader.stumble("does it take horn away?", instead()))?;
    Ok(FarmTold::Instructed { scope, text, again, asked_by, why, review_on, vet })
}

/// What became of one that was given: it goes on or is ended; none where neither is said.
fn of_one(reader: &mut Reader, scope: Scope, words: &str) -> Result<Option<FarmTold>, Mistake> {
    let since = if reader.take("since") { Some(day::read(reader, Near::Behind)?) } else { None };
    let which = Which { words: words.to_string(), since };
    if reader.take("ended") {
        return Ok(Some(FarmTold::InstructionEnded { scope, which, why: reader.words() }));
    }
    if reader.take("goes on") {
        let words = reader.words();
        let review_on = review(reader)?;
        reader.finish(&plain(&["review"]))?;
        return Ok(Some(FarmTold::InstructionReviewed { scope, which, words, review_on }));
    }
    match since {
        Some(_) => Err(reader.unknown("word about an instruction that was given", &plain(&["goes on", "ended"]))),
        None => Ok(None),
    }
}

/// Who asked for it, behind its word.
fn who_asked(reader: &mut Reader, at: usize) -> Result<String, Mistake> {
    if reader.take(NOBODY) {
        return Ok(String::new());
    }
    let who = reader.text("the name")?;
    has_words(reader, at, who, ("who asked has no name", "write by \"NAME\""))
}

/// Why it was asked for, behind its word.
fn reason(reader: &mut Reader, at: usize) -> Result<String, Mistake> {
    let why = reader.text("the reason")?;
    has_words(reader, at, why, ("the reason has no words", "write why \"REASON\""))
}

/// A text with more than blanks in it.
fn has_words(reader: &Reader, at: usize, text: String, (what, instead): (&str, &str)) -> Result<String, Mistake> {
    if text.trim().is_empty() { Err(reader.stumble_at(at, what, instead)) } else { Ok(text) }
}

/// Whether it takes horn away, if that comes next: one that does names the vet, since it is the vet's; empty for one that takes none.
/// Of a record without a vet a printed sheet says that none is named.
fn vet(reader: &mut Reader) -> Result<Option<Option<String>>, Mistake> {
    let at = reader.at();
    for (said, vet) in [(NO_VET, None), (NO_HORN, Some(String::new()))] {
        if reader.take(said) {
            return Ok(Some(vet));
        }
    }
    if !reader.take("vet") {
        return Ok(None);
    }
    let vet = reader.text("the vet's name")?;
    match vet.trim().is_empty() {
        true => Err(reader.stumble_at(at, "the vet has no name", format!("write it, or {NO_HORN}"))),
        false => Ok(Some(Some(vet))),
    }
}

/// The word by which a sheet says it.
fn of_horn(vet: &Option<String>) -> &'static str {
    match vet.as_deref() {
        None => NO_VET,
        Some("") => NO_HORN,
        Some(_) => "vet",
    }
}

/// That it takes horn away and that it takes none cannot both be so.
fn both(reader: &Reader, at: usize, before: Option<&Option<String>>, said: &Option<String>) -> Result<(), Mistake> {
    let before = before.map(of_horn);
    match before.filter(|before| *before != of_horn(said)) {
        Some(before) => {
            let what = format!("{} after {before}", of_horn(said));
            Err(reader.stumble_at(at, what, "say one of them: with a vet it takes horn away"))
        }
        None => Ok(()),
    }
}

/// The day to look at it again, where it is told.
fn review(reader: &mut Reader) -> Result<Option<NaiveDate>, Mistake> {
    if reader.take("review") { day::to_come(reader).map(Some) } else { Ok(None) }
}

/// `"words" by "who" urgent`, the last two where told.
fn call(reader: &mut Reader) -> Result<(String, bool, String), Mistake> {
    let at = reader.at();
    let words = reader.text("what was said")?;
    if words.trim().is_empty() {
        return Err(reader.stumble_at(at, "a call without words", "write what was said in quotes"));
    }
    let caller = by(reader)?;
    let urgent = reader.take("urgent");
    Ok((words, urgent, caller))
}

fn by(reader: &mut Reader) -> Result<String, Mistake> {
    if reader.take("by") { reader.text("the name") } else { Ok(String::new()) }
}

fn animal_told(reader: &mut Reader) -> Result<Told, Mistake> {
    if let Some(told) = herd(reader)? {
        reader.finish(&[])?;
        return Ok(told);
    }
    let at = reader.at();
    let place = place::read(reader)?;
    if let Some(told) = of_claw(reader, place)? {
        reader.finish(&[])?;
        return Ok(told);
    }
    if reader.take("vet answered") {
        let words = reader.words();
        reader.finish(&[])?;
        return Ok(Told::VetAnswered { place, words });
    }
    if let Some(told) = word(reader, place)? {
        reader.finish(&[])?;
        return Ok(told);
    }
    if place == Place::Animal && reader.peek().is_none_or(|token| token.quoted) {
        return Err(reader.unknown("word about an animal", &words()));
    }
    let fact = fact::at_place(reader, place)?;
    if fact.needs_no_turn() {
        return Ok(Told::Fact(fact));
    }
    let instead = "write it under the animal: animal NUMBER; what others put on needs put on by \"name\"";
    Err(reader.stumble_at(at, "only somebody with the foot in hand can know this", instead))
}

fn herd(reader: &mut Reader) -> Result<Option<Told>, Mistake> {
    let told = if let Some(why) = reader.member::<Leaving>() {
        Told::Left { why, words: reader.words() }
    } else if reader.take("came back") {
        Told::Back(reader.words())
    } else if let Some(label) = reader.member::<Label>() {
        let text = reader.text(&format!("the new {}", printed(label)))?;
        let shared = reader.take(SHARED);
        reader.finish(&plain(&[SHARED]))?;
        Told::Label { label, text, shared }
    } else if reader.take("kicks no more") {
        Told::Kicks(false)
    } else if reader.take("kicks") {
        Told::Kicks(true)
    } else if reader.take("cull") {
        Told::Cull
    } else if reader.take("dry since") {
        Told::Dry(day::read(reader, Near::Behind)?)
    } else if reader.take("dry") {
        Told::Dry(reader.today)
    } else if reader.take("calved") {
        Told::Calved(day::read(reader, Near::Behind)?)
    } else if reader.take("due to calve") {
        Told::DueToCalve(day::read(reader, Near::Ahead)?)
    } else if reader.take("lactation") {
        Told::Lactation(lactation(reader)?)
    } else if reader.take("group") {
        Told::Group(reader.text("the group")?)
    } else if reader.take("called") {
        let (words, urgent, caller) = call(reader)?;
        Told::Called { words, urgent, caller }
    } else {
        return Ok(None);
    };
    Ok(Some(told))
}

/// Which lactation she is in, as a herd list may say it.
fn lactation(reader: &mut Reader) -> Result<u8, Mistake> {
    let at = reader.at();
    let number = reader.peek().filter(|token| !token.quoted).and_then(|token| cell::lactation(&token.text));
    let number = number.ok_or_else(|| {
        reader.stumble_at(at, "a lactation is a whole number from 0 to 30", "write it like lactation 2")
    })?;
    reader.back_to(at + 1);
    Ok(number)
}

fn of_claw(reader: &mut Reader, place: Place) -> Result<Option<Told>, Mistake> {
    let at = reader.at();
    if !reader.take("gone") {
        return Ok(None);
    }
    match place {
        Place::Claw(foot, side) => Ok(Some(Told::ClawGone(foot, side))),
        Place::Animal
        | Place::Above(_)
        | Place::Foot(_)
        | Place::Skin(_, _)
        | Place::Dewclaw(_, _)
        | Place::Horn(_, _, _) => Err(reader.stumble_at(at, "which claw is gone?", "write it like LH inner gone")),
    }
}

/// What the farm says of a wrap or block: `LH wrap off by "Tom" telephone`.
fn word(reader: &mut Reader, place: Place) -> Result<Option<Told>, Mistake> {
    let start = reader.at();
    let Some(thing) = reader.member::<Thing>() else {
        let bare_place = reader.peek().is_none() && place.foot().is_some();
        return if bare_place { Err(thing::unknown_thing(reader)) } else { Ok(None) };
    };
    let Some(word) = reader.member::<Word>() else {
        reader.back_to(start);
        return Ok(None);
    };
    if place == Place::Animal {
        return Err(reader.stumble_at(start, "on which foot?", "write it like LH wrap off"));
    }
    let by = by(reader)?;
    let means = reader.need::<Means>()?;
    Ok(Some(Told::Word { place, thing, by, means, word }))
}

/// What can be told of an animal, for a message.
fn words() -> Vec<String> {
    let mut words = all::<Leaving>();
    words.extend(all::<Label>());
    words.extend(plain(&[
        "came back",
        "kicks",
        "cull",
        "dry since",
        "calved",
        "due to calve",
        "lactation",
        "group",
        "called",
    ]));
    words.extend(plain(&["LH wrap off by \"name\" telephone", "note", "gait", "vet", "vet answered", "recheck"]));
    words
}
