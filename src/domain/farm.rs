//! What is known of a farm: the newest word on each fact, since when, and every word before it.

use super::contact::{NO_NUMBER, is_number};
use super::event::Event;
use super::herd::FarmFact;
use super::history::standing::Standing;
use super::ids::FarmId;
use super::letters::has_unseen;
use super::record::Record;
use super::vocabulary::Vocabulary;
use chrono::NaiveDate;

/// A word on a fact and the day it was said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Said {
    /// The day.
    pub on: NaiveDate,
    /// The word; empty: it holds no longer.
    pub words: String,
}

/// A fact of which anything was ever told.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Known {
    /// Which.
    pub fact: FarmFact,
    /// What holds.
    pub now: Said,
    /// What was said before, newest first.
    pub before: Vec<Said>,
}

/// Every fact of a farm out of the records of its group, in the order of the vocabulary. A farm that was joined into another
/// keeps its own name.
pub fn facts(records: Vec<Record>, farm: FarmId) -> Vec<Known> {
    let standing = Standing::of(records);
    let joined = standing.one_with(farm.0);
    let said = |wanted: FarmFact| {
        let words = standing.records().iter().rev().filter_map(|record| match record.event() {
            Some(Event::FarmDescribed { farm: of, fact, words }) if *fact == wanted => {
                let hers = if wanted == FarmFact::Name { *of == farm } else { joined.contains(&of.0) };
                hers.then(|| Said { on: record.on, words: words.clone() })
            }
            Some(_) | None => None,
        });
        let mut words = words.collect::<Vec<_>>().into_iter();
        Some(Known { fact: wanted, now: words.next()?, before: words.collect() })
    };
    FarmFact::ALL.iter().filter_map(|fact| said(*fact)).collect()
}

/// Most animals that a farm may be said to have.
const LARGEST: u32 = 100_000;

/// Whether two names mean one farm: capitals and blanks round them aside.
pub fn is_called(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}

/// How a name is written.
const UNSEEN: &str = "letters stand in it that nobody sees: type it anew, letter by letter";

/// Whether a word is a name or a number, by which something is found, so that it must not differ by a letter that nobody sees.
fn is_name(fact: FarmFact) -> bool {
    match fact {
        FarmFact::Name
        | FarmFact::Phone
        | FarmFact::Contact
        | FarmFact::Vet
        | FarmFact::VetPhone
        | FarmFact::NewAnimals => true,
        FarmFact::HerdSize | FarmFact::GaitScale | FarmFact::Address | FarmFact::Note | FarmFact::HerdList => false,
    }
}

/// The word on a fact as it is kept, or how it is to be written. An empty word says that it holds no longer.
pub fn checked(fact: FarmFact, words: &str) -> Result<String, &'static str> {
    let words = words.trim();
    if is_name(fact) && has_unseen(words) {
        return Err(UNSEEN);
    }
    let kept = match fact {
        FarmFact::Phone | FarmFact::VetPhone if !words.is_empty() && !is_number(words) => return Err(NO_NUMBER),
        FarmFact::Name if words.is_empty() => return Err("a farm has a name"),
        FarmFact::HerdSize if !words.is_empty() => {
            let count = words.parse::<u32>().ok().filter(|count| *count <= LARGEST);
            count.ok_or("write a whole number of animals, 0 to 100000")?.to_string()
        }
        FarmFact::GaitScale if !words.is_empty() => {
            let scale = super::treatment::GaitScale::from_word(words).ok_or("the scales are 0-3 and 1-5")?;
            scale.word().to_owned()
        }
        FarmFact::Name
        | FarmFact::HerdSize
        | FarmFact::GaitScale
        | FarmFact::Phone
        | FarmFact::Contact
        | FarmFact::Vet
        | FarmFact::VetPhone
        | FarmFact::Address
        | FarmFact::Note
        | FarmFact::NewAnimals
        | FarmFact::HerdList => words.to_owned(),
    };
    Ok(kept)
}
