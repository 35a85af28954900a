//! What is known of a farm, as text.

use crate::domain::farm::Said;
use crate::domain::farm_card::{Card, Heard, Line};
use crate::domain::follow_up::Due;
use crate::domain::follow_up::review;
use crate::domain::follow_up::rules::{Differs, RuleSet};
use crate::domain::herd::{FarmFact, Scope};
use crate::domain::instruction::{Ended, Instruction};
use crate::domain::vocabulary::Vocabulary;
use crate::report::contact;
use crate::report::safe::safe;
use crate::report::words::{self, Words};
use chrono::NaiveDate;
use std::cmp::Ordering;

/// What a card is read with: the farm's rules, the day, the words of the region.
pub type By<'a> = (&'a RuleSet, NaiveDate, Words);

/// The whole card: each fact with its day and what was said before, the rules, the instructions with their history, calls and
/// changes.
pub fn text(card: &Card, by: By<'_>) -> String {
    let mut text = format!("{}\n", safe(&card.name));
    for one in card.lines(false) {
        let (about, said) = line(card, one, by);
        text.push_str(&format!("  {about:14}{said}\n"));
    }
    text
}

/// A line of a card: what it is about, and what is said.
pub fn line(card: &Card, line: Line, by: By<'_>) -> (String, String) {
    let said = |about: &str, text: String| (about.to_owned(), text);
    match line {
        Line::GivenUp => {
            said("given up", format!("list handed to {}", safe(card.given_up.as_deref().unwrap_or_default())))
        }
        Line::Fact(fact) => (on_card(fact), now(card, fact)),
        Line::Was(fact, at) => {
            let was = card.known(fact).and_then(|known| known.before.get(at));
            said(" was", was.map_or(String::new(), dated))
        }
        Line::Contact(at) => {
            said("contact", card.contacts.get(at).map_or(String::new(), |known| contact::now(&known.now)))
        }
        Line::ContactWas(at, before) => {
            let was = card.contacts.get(at).and_then(|known| known.before.get(before));
            said(" was", was.map_or(String::new(), contact::was))
        }
        Line::TellContact => said("contact", "tell of one more".to_owned()),
        Line::Animals => said("animals", animals(card)),
        Line::Rules => {
            let rules =
                card.rules.map_or("the practice's".to_owned(), |on| format!("its own, since {}", words::day(on)));
            said("rules", rules)
        }
        Line::Differs(at) => said(" differs", card.differs.get(at).map_or(String::new(), differs)),
        Line::Standing(at) => {
            said("always", card.given.standing.get(at).map_or(String::new(), |one| instruction(one, by)))
        }
        Line::Looked(at) => {
            let look = card.given.looks.get(at);
            said(" looked at", look.map_or(String::new(), |(_, on, said)| goes_on(*on, said)))
        }
        Line::Give => said("always", "give a standing instruction".to_owned()),
        Line::Ended(at) => {
            said("no longer", card.given.ended.get(at).map_or(String::new(), |one| ended(card, one, by.2)))
        }
        Line::Heard(at) => card.heard.get(at).map_or_else(|| said("", String::new()), heard),
    }
}

/// What a fact is called.
pub fn called(fact: FarmFact) -> String {
    fact.word().replace('-', " ")
}

/// The same beside the farm's other people.
pub fn on_card(fact: FarmFact) -> String {
    if fact == FarmFact::Contact { "ask for".to_owned() } else { called(fact) }
}

/// Whom a standing instruction is for.
pub fn scope(words: Words, scope: Scope) -> String {
    words.fill(match scope {
        Scope::All => "all feet",
        Scope::Fronts => "fronts",
        Scope::Hinds => "{hind}s",
        Scope::OuterHind => "outer {hind}",
        Scope::InnerHind => "inner {hind}",
        Scope::OuterFront => "outer front",
        Scope::InnerFront => "inner front",
    })
}

fn now(card: &Card, fact: FarmFact) -> String {
    match card.known(fact) {
        Some(known) => dated(&known.now),
        None if fact == FarmFact::Name => safe(&card.name),
        None => "not told".to_owned(),
    }
}

fn dated(said: &Said) -> String {
    let words = if said.words.is_empty() { "nothing".to_owned() } else { safe(&said.words) };
    format!("{words}, since {}", words::day(said.on))
}

/// Animals in the book against how many the farm says it has.
fn animals(card: &Card) -> String {
    let here = card.animals;
    let against = match card.now(FarmFact::HerdSize).parse::<usize>() {
        Ok(said) if said > here => format!(", {} fewer than the farm says", said - here),
        Ok(said) if said < here => format!(", {} more than the farm says", here - said),
        Ok(_) => ", as the farm says".to_owned(),
        Err(_) => String::new(),
    };
    format!("{here} in the book{against}")
}

fn differs(one: &Differs) -> String {
    let unit = if one.name.ends_with("-mm") { "mm" } else { "days" };
    let name = one.name.trim_end_matches("-mm").replace('-', " ");
    format!("{} {name} {} {unit}, elsewhere {}", one.section, one.own, one.practice)
}

fn told(what: &str, words: &str) -> String {
    if words.is_empty() { String::new() } else { format!(", {what}{}", safe(words)) }
}

/// Since when, by whose wish and why: `since 3 Feb 2026, asked by Marla Tove, because ...`.
pub fn history(one: &Instruction) -> String {
    format!("{}, {}", since(one), asked(one))
}

/// Since when it holds.
pub fn since(one: &Instruction) -> String {
    format!("since {}", words::day(one.since))
}

/// By whose wish and why; of one that was given before that was asked, that nobody said so.
pub fn asked(one: &Instruction) -> String {
    let (by, why) = (safe(&one.asked_by), safe(&one.why));
    match (by.is_empty(), why.is_empty()) {
        (false, false) => format!("asked by {by}, because {why}"),
        (false, true) => format!("asked by {by}, nobody said why"),
        (true, false) => format!("nobody said who asked, because {why}"),
        (true, true) => "nobody said who asked or why".to_owned(),
    }
}

/// When it is to be looked at again, or since when it should have been.
pub fn review(due: Due, today: NaiveDate) -> String {
    match due.day.cmp(&today) {
        Ordering::Greater => format!("review {}", words::day(due.day)),
        Ordering::Equal => "REVIEW TODAY".to_owned(),
        Ordering::Less => format!("REVIEW WAS DUE {}", words::day(due.day)),
    }
}

/// For whom one is; of one that takes horn away also how much sole stays in any case, and whose it is: that is read before what
/// is to be done.
pub fn whose(one: &Instruction, rules: &RuleSet, words: Words) -> String {
    let scope = scope(words, one.scope);
    horn(one, rules).map_or_else(|| scope.clone(), |horn| format!("{scope}, {horn}"))
}

/// What is done, where it is said already for whom.
pub fn what(one: &Instruction, rules: &RuleSet) -> String {
    let text = safe(&one.text);
    horn(one, rules).map_or_else(|| text.clone(), |horn| format!("{horn}: {text}"))
}

fn horn(one: &Instruction, rules: &RuleSet) -> Option<String> {
    one.takes_horn().then(|| format!("sole at least {} mm, vet {}", rules.sole, safe(&one.vet)))
}

/// Of one that names no vet, that it names none: whether anybody was asked if it takes horn away is not in the book.
pub fn no_vet(one: &Instruction) -> Option<String> {
    (!one.takes_horn()).then(|| "no vet named".to_owned())
}

/// An instruction in one line: for whom, what, by whose wish, why, and when to look at it again.
fn instruction(one: &Instruction, (rules, today, words): By<'_>) -> String {
    let review = review(review::due(rules, one, today), today);
    format!("{}: {}, {}, {review}", whose(one, rules, words), safe(&one.text), history(one))
}

fn goes_on(on: NaiveDate, said: &str) -> String {
    format!("{}: goes on{}", words::day(on), told("", said))
}

fn ended(card: &Card, one: &Ended, words: Words) -> String {
    let how = match one.into.and_then(|id| card.text_of(id)) {
        Some(text) => format!("changed {} to: {}", words::day(one.on), safe(text)),
        None => format!("ended {}{}", words::day(one.on), told("because ", &one.why)),
    };
    let vet = told("vet ", &one.was.vet);
    format!("{}: {}, {}{vet}, {how}", scope(words, one.was.scope), safe(&one.was.text), history(&one.was))
}

fn heard(one: &Heard) -> (String, String) {
    match one {
        Heard::Called { on, words: said, urgent, caller } => {
            let urgent = if *urgent { ", urgent" } else { "" };
            ("called".to_owned(), format!("{}{urgent}{}: {}", words::day(*on), told("", caller), safe(said)))
        }
        Heard::Changed { on, change, words: said } => {
            let change = words::change(*change);
            let said = if said.is_empty() { String::new() } else { format!(": {}", safe(said)) };
            ("changed".to_owned(), format!("{}, {change}{said}", words::day(*on)))
        }
    }
}
