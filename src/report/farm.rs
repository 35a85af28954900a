//! What is known of a farm, as text.

use crate::domain::farm::{Known, Said};
use crate::domain::herd::FarmFact;
use crate::domain::instruction::Instruction;
use crate::domain::vocabulary::Vocabulary;
use crate::report::safe::safe;
use crate::report::words;
use chrono::NaiveDate;

/// A farm with all that a card of it shows.
pub struct Farm {
    /// Its name.
    pub name: String,
    /// Facts of which anything was told.
    pub facts: Vec<Known>,
    /// Standing instructions that hold.
    pub instructions: Vec<Instruction>,
    /// Animals that are here.
    pub animals: usize,
    /// Since when it goes by rules of its own.
    pub rules: Option<NaiveDate>,
    /// To whom its list was handed, if it was given up.
    pub given_up: Option<String>,
}

impl Farm {
    /// What holds of a fact; empty where nothing is known.
    pub fn now(&self, fact: FarmFact) -> &str {
        self.facts.iter().find(|known| known.fact == fact).map_or("", |known| known.now.words.as_str())
    }

    /// The facts in a row of a list, in the order of the vocabulary; the name stands before them.
    pub fn listed() -> impl Iterator<Item = FarmFact> {
        FarmFact::ALL.iter().copied().filter(|fact| !matches!(fact, FarmFact::Name | FarmFact::HerdList))
    }

    /// The whole card: each fact with its day and what was said before, then the instructions.
    pub fn text(&self, today: NaiveDate) -> String {
        let mut text = format!("{}\n", safe(&self.name));
        if let Some(to) = &self.given_up {
            text.push_str(&format!("  given up, list handed to {}\n", safe(to)));
        }
        let facts = self.facts.iter().filter(|known| known.fact != FarmFact::Name || !known.before.is_empty());
        for known in facts {
            text.push_str(&format!("  {:14}{}\n", called(known.fact), fact(known)));
        }
        text.push_str(&format!("  {:14}{}\n", "animals", self.animals));
        let rules = self.rules.map_or("the practice's".to_owned(), |on| format!("its own, since {}", words::day(on)));
        text.push_str(&format!("  {:14}{rules}\n", "rules"));
        for one in &self.instructions {
            text.push_str(&format!("  {:14}{}\n", "always", instruction(one, today)));
        }
        text
    }
}

/// What a fact is called.
pub fn called(fact: FarmFact) -> String {
    fact.word().replace('-', " ")
}

fn fact(known: &Known) -> String {
    let words = |said: &Said| if said.words.is_empty() { "nothing".to_owned() } else { safe(&said.words) };
    let mut text = format!("{}, since {}", words(&known.now), words::day(known.now.on));
    for said in &known.before {
        text.push_str(&format!("; was {} since {}", words(said), words::day(said.on)));
    }
    text
}

/// An instruction in one line: for whom, what, by whose wish, why, and when to look at it again.
fn instruction(one: &Instruction, today: NaiveDate) -> String {
    let told =
        |what: &str, words: &str| if words.is_empty() { String::new() } else { format!(", {what}{}", safe(words)) };
    let review = match one.review_on {
        Some(day) if day < today => format!(", REVIEW WAS DUE {}", words::day(day)),
        Some(day) => format!(", review {}", words::day(day)),
        None => String::new(),
    };
    format!(
        "{}: {}, since {}{}{}{}{review}",
        one.scope.word().replace('-', " "),
        safe(&one.text),
        words::day(one.since),
        told("asked by ", &one.asked_by),
        told("because ", &one.why),
        told("vet ", &one.vet),
    )
}
