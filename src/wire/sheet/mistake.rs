//! What is wrong with a sheet, where, and what to write instead.

use super::print::place_words;
use super::tokens::quoted;
use super::words::{SHARED, printed, shown};
use super::{Mistake, Reading, print};
use crate::domain::anatomy::Place;
use crate::domain::instruction::NoReview;
use crate::domain::sheet::transcribe::{Snag, SnagWhy};
use crate::domain::which::Named;

/// A word of the sheet as a message may show it: control characters written out, cut where it is long.
pub(super) fn safe(text: &str) -> String {
    const LONGEST: usize = 40;
    let mut short: String = text.chars().take(LONGEST).collect();
    if short.len() < text.len() {
        short.push_str("...");
    }
    quoted(&short)
}

/// "did you mean X?" for a word close to one of the choices, else the choices.
pub(super) fn did_you_mean(word: &str, choices: &[String]) -> String {
    let near = |choice: &String| distance(&word.to_lowercase(), &choice.to_lowercase());
    let allowed = 1 + word.chars().count() / 4;
    match choices.iter().min_by_key(|choice| near(choice)) {
        Some(best) if near(best) <= allowed => format!("did you mean {best}?"),
        _ => one_of(choices),
    }
}

/// "write one of: a, b, c".
pub(super) fn one_of(choices: &[String]) -> String {
    match choices {
        [] => "take it out".to_string(),
        [only] => format!("write {only}"),
        several => format!("write one of: {}", several.join(", ")),
    }
}

/// How many letters must be changed, added or left out to make one word of the other (Levenshtein 1966).
fn distance(a: &str, b: &str) -> usize {
    const LONGEST: usize = 40;
    let b: Vec<char> = b.chars().take(LONGEST).collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, left) in a.chars().take(LONGEST).enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, right) in b.iter().enumerate() {
            let replaced = diagonal + usize::from(left != *right);
            diagonal = row[j + 1];
            row[j + 1] = replaced.min(row[j] + 1).min(diagonal + 1);
        }
    }
    row[b.len()]
}

/// Words for something that could not be entered.
pub(super) fn explain(reading: &Reading, file: &str, entry: usize, snag: &Snag) -> Mistake {
    let lines = reading.lines.get(entry).map(Vec::as_slice).unwrap_or_default();
    let line = lines.get(snag.fact + 1).or(lines.first()).copied().unwrap_or(1);
    let (what, suggestion) = match &snag.why {
        SnagWhy::NothingToAnswer { place, what } => {
            let (code, there) = (printed(*what), said(*place));
            (
                format!("no open {code} {there} to answer on {}", print::day(reading.sheet.on)),
                format!(
                    "if it is new today, write it as found: {} with grade or stage",
                    shown(&[&place_words(*place), &code])
                ),
            )
        }
        SnagWhy::NothingOn { place, thing } => (
            format!("the book knows of no {} {}", printed(*thing), said(*place)),
            "check number and foot; word about something never put on cannot be kept, a note can".to_string(),
        ),
        SnagWhy::NoVet { place } => (
            match place.foot() {
                Some(_) => format!("the vet was not advised {}", said(*place)),
                None => "the vet was not advised about this animal".to_string(),
            },
            "check number and foot; what the vet said unasked can be a note".to_string(),
        ),
        SnagWhy::NoInstruction { scope } => (
            format!("no instruction for {} was given on this farm", printed(*scope)),
            "write the instruction itself on the sheet of its day".to_string(),
        ),
        SnagWhy::NotHeld { scope } => (
            format!("no instruction for {} held on {}", printed(*scope), print::day(reading.sheet.on)),
            "check the claws; one that was ended is given anew".to_string(),
        ),
        SnagWhy::WhichInstruction { scope, hold } => (
            format!("which instruction for {} is meant? those that hold: {}", printed(*scope), held(hold)),
            format!("write its words, or since and its day, behind {0}: {0} since 5 May 2026 goes on", printed(*scope)),
        ),
        SnagWhy::HoldsAlready { scope, one } => (
            format!(
                "an instruction of these words for {} holds already: {}",
                printed(*scope),
                held(std::slice::from_ref(one))
            ),
            "take the line out; looked at again it goes on, and what is done otherwise is said in other words"
                .to_string(),
        ),
        SnagWhy::NoReview { why, within } => (
            match why {
                NoReview::Gone(day) => format!("the review: {} is not after the sheet's day", print::day(*day)),
                NoReview::TooLate(day, last) => {
                    format!("the review: {} is too late, {} at the latest", print::day(*day), print::day(*last))
                }
            },
            format!("an instruction is looked at again within {within} days"),
        ),
        SnagWhy::NoFact(fact, why) => (format!("the {} cannot be so", printed(*fact)), (*why).to_string()),
        SnagWhy::NoContact(why) => {
            (why.to_string(), "write it like told contact \"Tom\" \"takes wraps off\" \"01632 960123\"".to_string())
        }
        SnagWhy::NobodyCalled { name, here } => {
            let names: Vec<String> = here.iter().map(|one| safe(one)).collect();
            let known = match names.is_empty() {
                true => "no contact of this farm is known: take the line out".to_string(),
                false => format!("those there are: {}", names.join(", ")),
            };
            (format!("no contact there is called {}", safe(name)), known)
        }
        SnagWhy::FarmCalled(name) => (
            format!("another farm is called {}", safe(name)),
            "write another name; if the two are one, join them first: crushbook twice lists them".to_string(),
        ),
        SnagWhy::NoLabel(label, why) => (format!("that is no {}: {why}", printed(*label)), why.instead().to_string()),
        SnagWhy::Borne(label, text) => (
            format!("another animal of this farm is called {}", safe(text)),
            format!(
                "check the {}; if both bear it, write {} {} {SHARED}",
                printed(*label),
                printed(*label),
                quoted(text)
            ),
        ),
        SnagWhy::NoDay(column, why) => (format!("{}: {}", printed(*column), why.what()), why.instead().to_string()),
        SnagWhy::HasLeft(how, day) => (
            format!("she left: {} {}", printed(*how), print::day(*day)),
            "if she is back, write came back above it; what is not about her is told of the farm: told called"
                .to_string(),
        ),
        SnagWhy::NeedsTurn => (
            "only somebody with the foot in hand can know this".to_string(),
            "write it under the animal: animal NUMBER".to_string(),
        ),
    };
    Mistake { file: shown(&[file]), line, column: 1, what, suggestion }
}

/// Instructions, each with its words and its day.
fn held(hold: &[Named]) -> String {
    let one = |(words, since): &Named| format!("{} since {}", safe(words), print::day(*since));
    hold.iter().map(one).collect::<Vec<_>>().join(", ")
}

fn said(place: Place) -> String {
    match place {
        Place::Animal => "on the whole animal".to_string(),
        Place::Above(_)
        | Place::Foot(_)
        | Place::Skin(_, _)
        | Place::Claw(_, _)
        | Place::Dewclaw(_, _)
        | Place::Horn(_, _, _) => format!("at {}", place_words(place)),
    }
}
