//! `crushbook farm`: what is known of the farms, and telling something about one. A fact is never overwritten: each word is a
//! record with its day, and undo takes it back.

use super::cli::{Cli, FarmTold, TableForm};
use super::farm::Farms;
use super::fault::Fault;
use super::herd::{columns, option};
use super::press::press;
use super::{World, json, note, place, today};
use crate::domain::event::Event;
use crate::domain::farm::{checked, facts};
use crate::domain::herd::FarmFact;
use crate::domain::history::standing::Standing;
use crate::domain::ids::{AnimalId, FarmId, RecordId};
use crate::domain::instruction::standing;
use crate::report::farm::{Farm, called};
use crate::report::safe::safe;
use crate::report::words;
use crate::store::Store;
use crate::wire::error::plain;
use crate::wire::table;
use chrono::NaiveDate;
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// Shows farms, or tells something about one.
///
/// # Errors
/// A farm that is not there; a word that a fact cannot have; what the store says.
pub fn farm(cli: &Cli, world: &mut World, name: Option<&str>, told: &FarmTold, form: TableForm) -> Result<(), Fault> {
    let told = told.facts();
    place::with_book(cli, world, |store, world| {
        let (farms, problems) = Farms::of(store)?;
        note(world, &problems)?;
        if !told.is_empty() {
            // With several farms in the book, one is named: nothing is told of the wrong one.
            let farm = farms.meant(name)?;
            return tell(store, cli, world, (&farms, farm), &told);
        }
        let all = match name {
            Some(_) => vec![farms.meant(name)?],
            None => farms.firsts(),
        };
        let cards = all.into_iter().map(|farm| card(store, &farms, farm)).collect::<Result<Vec<_>, _>>()?;
        write(cli, world, &cards, (name.is_some(), form))
    })
}

impl FarmTold {
    /// Facts that were told, with their words.
    fn facts(&self) -> Vec<(FarmFact, String)> {
        let told = [
            (FarmFact::Name, &self.name),
            (FarmFact::Phone, &self.phone),
            (FarmFact::Contact, &self.contact),
            (FarmFact::Vet, &self.vet),
            (FarmFact::VetPhone, &self.vet_phone),
            (FarmFact::HerdSize, &self.herd_size),
            (FarmFact::GaitScale, &self.gait_scale),
            (FarmFact::Address, &self.address),
            (FarmFact::Note, &self.note),
            (FarmFact::NewAnimals, &self.new_animals),
        ];
        told.into_iter().filter_map(|(fact, words)| Some((fact, words.clone()?))).collect()
    }
}

/// Tells what is new; what is known already is not written again.
fn tell(
    store: &mut Store,
    cli: &Cli,
    world: &mut World,
    (farms, farm): (&Farms, FarmId),
    told: &[(FarmFact, String)],
) -> Result<(), Fault> {
    let before = card(store, farms, farm)?;
    let today = today(cli, world);
    let mut new = Vec::new();
    for (fact, words) in told {
        let words = checked(*fact, words).map_err(|why| {
            let what = format!("{} cannot be {:?}", called(*fact), plain(words));
            Fault::usage(what, format!("{why}; nothing was written."))
        })?;
        if *fact == FarmFact::Name && farms.named(&words).is_some_and(|other| other != farm) {
            let hint = "If the two are one, join them: crushbook twice lists them. Nothing was written.";
            return Err(Fault::failed(format!("another farm is called {}", plain(&words)), hint));
        }
        if let Some(known) = before.facts.iter().find(|known| known.fact == *fact && known.now.on > today) {
            let (what, on) = (called(*fact), words::day(known.now.on));
            let hint = "The newest word holds. Say it with --today of that day or later; nothing was written.";
            return Err(Fault::usage(format!("{what} was told on {on}, which is after {}", words::day(today)), hint));
        }
        let was = if *fact == FarmFact::Name { before.name.as_str() } else { before.now(*fact) };
        if was != words {
            new.push((*fact, was.to_owned(), words));
        }
    }
    let events =
        new.iter().map(|(fact, _, words)| (farm.0, Event::FarmDescribed { farm, fact: *fact, words: words.clone() }));
    press(store, cli, world, events.collect())?;
    for (fact, was, now) in &new {
        let [was, now] = [was, now].map(|words| if words.is_empty() { "nothing".to_owned() } else { safe(words) });
        writeln!(world.out, "{}: {now}, was {was}", called(*fact))?;
    }
    match new.as_slice() {
        [] => writeln!(world.out, "Nothing is new, and nothing was written.")?,
        _ => writeln!(world.out, "crushbook undo{} takes it back.", option(&farms.name(farm)))?,
    }
    Ok(())
}

/// Reads all that a card shows.
fn card(store: &Store, farms: &Farms, farm: FarmId) -> Result<Farm, Fault> {
    let (records, _) = store.records(farm.0)?;
    let (rows, _) = store.farms()?;
    let here = store.animals(farm)?.0;
    let here: BTreeSet<AnimalId> = here.iter().filter(|row| row.left.is_none()).map(|row| row.of).collect();
    Ok(Farm {
        name: farms.name(farm),
        facts: facts(records.clone(), farm),
        instructions: standing(records),
        animals: here.len(),
        rules: own_rules(store, farms, farm)?,
        given_up: rows.into_iter().find(|row| row.farm == farm).and_then(|row| row.given_up),
    })
}

/// The day on which rules of its own were adopted last.
fn own_rules(store: &Store, farms: &Farms, farm: FarmId) -> Result<Option<NaiveDate>, Fault> {
    let standing = Standing::of(store.records(RecordId::PRACTICE)?.0);
    let adopted = standing.records().iter().filter(|record| match record.event() {
        Some(Event::RulesAdopted { farm: Some(of), .. }) => farms.first(*of) == farm,
        Some(_) | None => false,
    });
    Ok(adopted.map(|record| record.on).next_back())
}

fn write(cli: &Cli, world: &mut World, cards: &[Farm], (one, form): (bool, TableForm)) -> Result<(), Fault> {
    let today = today(cli, world);
    match form {
        TableForm::Text if one => cards.iter().try_for_each(|card| write!(world.out, "{}", card.text(today)))?,
        TableForm::Text if cards.is_empty() => writeln!(world.out, "This book holds no farm yet.")?,
        TableForm::Text => write!(world.out, "{}", columns(&rows(cards)))?,
        TableForm::Csv => {
            let text = table::write(&rows(cards));
            let text = text.map_err(|why| Fault::failed(why.to_string(), "Report this fault of the program."))?;
            write!(world.out, "{text}")?;
        }
        TableForm::Json => {
            let farms: Vec<Value> = cards.iter().map(|card| value(card, today)).collect();
            let value = json!({ "today": today.to_string(), "farms": farms });
            writeln!(world.out, "{}", json::written(&value))?;
        }
    }
    Ok(())
}

/// A head, then a row for each farm.
fn rows(cards: &[Farm]) -> Vec<Vec<String>> {
    let facts = || Farm::listed().map(called);
    let head = std::iter::once("farm".to_owned()).chain(facts()).chain(["animals".to_owned()]).collect();
    let row = |card: &Farm| {
        let facts = Farm::listed().map(|fact| safe(card.now(fact)));
        std::iter::once(safe(&card.name)).chain(facts).chain([card.animals.to_string()]).collect()
    };
    std::iter::once(head).chain(cards.iter().map(row)).collect()
}

/// A farm: `farm, animals`, a field for each fact, `since` with the day of each, `history[]` with `fact, was, since`,
/// `instructions[]`, `rules_since`, `handed_to`.
fn value(card: &Farm, today: NaiveDate) -> Value {
    let field = |fact: FarmFact| called(fact).replace(' ', "_");
    let some = |words: &str| (!words.is_empty()).then(|| words.to_owned());
    let mut value = json!({ "farm": card.name, "animals": card.animals });
    for fact in Farm::listed().chain([FarmFact::HerdList]) {
        // A count is a number, but for one that a sheet told in words.
        let count = (fact == FarmFact::HerdSize).then(|| card.now(fact).parse::<u32>().ok()).flatten();
        value[field(fact)] = count.map_or_else(|| json!(some(card.now(fact))), |count| json!(count));
    }
    let since = card.facts.iter().map(|known| (field(known.fact), json!(known.now.on.to_string())));
    value["since"] = Value::Object(since.collect());
    let before = card.facts.iter().flat_map(|known| {
        let words = known.before.iter();
        words.map(|said| json!({ "fact": field(known.fact), "was": some(&said.words), "since": said.on.to_string() }))
    });
    value["history"] = json!(before.collect::<Vec<Value>>());
    let instructions = card.instructions.iter().map(|one| {
        use crate::domain::vocabulary::Vocabulary;
        json!({
            "for": one.scope.word(), "text": one.text, "since": one.since.to_string(), "asked_by": some(&one.asked_by),
            "why": some(&one.why), "review": one.review_on.map(|day| day.to_string()), "vet": some(&one.vet),
            "overdue": one.review_on.is_some_and(|day| day < today),
        })
    });
    value["instructions"] = json!(instructions.collect::<Vec<Value>>());
    value["rules_since"] = json!(card.rules.map(|day| day.to_string()));
    value["handed_to"] = json!(card.given_up);
    value
}
