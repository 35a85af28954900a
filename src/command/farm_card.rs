//! `crushbook farm`: what is known of the farms, and telling something about one. A fact is never overwritten: each word is a
//! record with its day, and undo takes it back.

use super::cli::{Cli, FarmTold};
use super::contact::ContactTold;
use super::farm::{Farms, people as recorders};
use super::fault::Fault;
use super::form::FarmForm;
use super::herd::{columns, option};
use super::press::press;
use super::sheets::of_farm;
use super::{World, json, note, place, practice, rules, today};
use crate::domain::contact::{Contact, Known, Word};
use crate::domain::event::Event;
use crate::domain::farm::checked;
use crate::domain::farm_card::{Card, Heard};
use crate::domain::follow_up::review;
use crate::domain::follow_up::rules::Rules;
use crate::domain::herd::FarmFact;
use crate::domain::history::standing::Standing;
use crate::domain::ids::{AnimalId, FarmId, RecordId};
use crate::domain::instruction::Instruction;
use crate::domain::known::as_of;
use crate::domain::record::Record;
use crate::domain::sheet::Sheet;
use crate::domain::vocabulary::Vocabulary;
use crate::report::contact::contact;
use crate::report::farm::{called, text};
use crate::report::safe::safe;
use crate::report::words;
use crate::store::Store;
use crate::store::error::StoreError;
use crate::wire::error::plain;
use crate::wire::sheet::print;
use crate::wire::table;
use chrono::NaiveDate;
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// Shows farms, or tells something about one.
///
/// # Errors
/// A farm that is not there; a word that a fact cannot have; what the store says.
pub fn farm(
    cli: &Cli,
    world: &mut World,
    name: Option<&str>,
    (told, contact): (&FarmTold, &ContactTold),
    form: FarmForm,
) -> Result<(), Fault> {
    let told = told.facts();
    place::with_book(cli, world, |store, world| {
        let (farms, problems) = Farms::of(store)?;
        note(world, &problems)?;
        if !told.is_empty() || contact.is_told() {
            // With several farms in the book, one is named: nothing is told of the wrong one.
            let farm = farms.meant(name)?;
            return tell(store, cli, world, (&farms, farm), (&told, contact));
        }
        let rules = rules::for_list(store, world)?;
        let all = match name {
            Some(_) => vec![farms.meant(name)?],
            None => farms.firsts(),
        };
        let cards = all.into_iter().map(|farm| card(store, &rules, farm, None)).collect::<Result<Vec<_>, _>>()?;
        if form == FarmForm::Sheet {
            let pages: Vec<String> = pages(store, &cards)?.iter().map(print).collect();
            write!(world.out, "{}", pages.join("\n"))?;
            return Ok(());
        }
        write(cli, world, &cards, &rules, (name.is_some(), form))
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
    (told, contact): (&[(FarmFact, String)], &ContactTold),
) -> Result<(), Fault> {
    let before = card(store, &Rules::default(), farm, None)?;
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
    let contact = contact.word(&before, (farm, today))?;
    let of_contact = contact.iter().map(|told| (farm.0, told.event.clone()));
    press(store, cli, world, events.chain(of_contact).collect())?;
    for (fact, was, now) in &new {
        let [was, now] = [was, now].map(|words| if words.is_empty() { "nothing".to_owned() } else { safe(words) });
        writeln!(world.out, "{}: {now}, was {was}", called(*fact))?;
    }
    if let Some(told) = &contact {
        writeln!(world.out, "{}", told.said)?;
    }
    match (new.as_slice(), contact) {
        ([], None) => writeln!(world.out, "Nothing is new, and nothing was written.")?,
        _ => writeln!(world.out, "crushbook undo{} takes it back.", option(&farms.name(farm)))?,
    }
    Ok(())
}

/// Reads all that a card shows; with a day, what was told of the farm by then.
///
/// # Errors
/// What the store says.
pub fn card(store: &Store, rules: &Rules, farm: FarmId, until: Option<NaiveDate>) -> Result<Card, StoreError> {
    let (farms, _) = Farms::of(store)?;
    let records = known(store.records(farm.0)?.0, until);
    let (rows, _) = store.farms()?;
    let here = store.animals(farm)?.0;
    let here: BTreeSet<AnimalId> = here.iter().filter(|row| row.left.is_none()).map(|row| row.of).collect();
    let card = Card::of(records, farm, farms.name(farm));
    Ok(Card {
        animals: here.len(),
        rules: own_rules(known(store.records(RecordId::PRACTICE)?.0, until), &farms, farm),
        differs: rules.differing(farm),
        given_up: rows.into_iter().find(|row| row.farm == farm).and_then(|row| row.given_up),
        ..card
    })
}

/// Of records those that were known on that day; without one all.
fn known(records: Vec<Record>, until: Option<NaiveDate>) -> Vec<Record> {
    until.map_or_else(|| records.clone(), |day| as_of(&records, day))
}

/// The day on which rules of its own were adopted last.
fn own_rules(practice: Vec<Record>, farms: &Farms, farm: FarmId) -> Option<NaiveDate> {
    let standing = Standing::of(practice);
    let adopted = standing.records().iter().filter(|record| match record.event() {
        Some(Event::RulesAdopted { farm: Some(of), .. }) => farms.first(*of) == farm,
        Some(_) | None => false,
    });
    adopted.map(|record| record.on).next_back()
}

fn write(
    cli: &Cli,
    world: &mut World,
    cards: &[Card],
    rules: &Rules,
    (one, form): (bool, FarmForm),
) -> Result<(), Fault> {
    let today = today(cli, world);
    match form {
        FarmForm::Text if one => {
            let words = practice::words(cli, world)?;
            let text = |card| text(card, (rules.of(card.farm), today, words));
            cards.iter().try_for_each(|card| write!(world.out, "{}", text(card)))?;
        }
        FarmForm::Text if cards.is_empty() => writeln!(world.out, "This book holds no farm yet.")?,
        FarmForm::Text => write!(world.out, "{}", columns(&rows(cards)))?,
        FarmForm::Csv => {
            let text = table::write(&rows(cards));
            let text = text.map_err(|why| Fault::failed(why.to_string(), "Report this fault of the program."))?;
            write!(world.out, "{text}")?;
        }
        FarmForm::Sheet => {}
        FarmForm::Json => {
            let farms: Vec<Value> = cards.iter().map(|card| value(card, rules, today)).collect();
            let value = json!({ "today": today.to_string(), "farms": farms });
            writeln!(world.out, "{}", json::written(&value))?;
        }
    }
    Ok(())
}

/// The sheets of farms, one farm after the other.
fn pages(store: &Store, cards: &[Card]) -> Result<Vec<Sheet>, StoreError> {
    let mut pages = Vec::new();
    for card in cards {
        pages.extend(of_farm(store.records(card.farm.0)?.0, (card.farm, &card.name), &recorders(store)?));
    }
    Ok(pages)
}

/// A head, then a row for each farm.
fn rows(cards: &[Card]) -> Vec<Vec<String>> {
    let facts = || Card::listed().map(called);
    let head =
        std::iter::once("farm".to_owned()).chain(facts()).chain(["animals", "contacts"].map(str::to_owned)).collect();
    let row = |card: &Card| {
        let facts = Card::listed().map(|fact| safe(card.now(fact)));
        std::iter::once(safe(&card.name)).chain(facts).chain([card.animals.to_string(), people(card)]).collect()
    };
    std::iter::once(head).chain(cards.iter().map(row)).collect()
}

/// Those who are there, in one cell.
fn people(card: &Card) -> String {
    card.contacts_here().map(contact).collect::<Vec<String>>().join("; ")
}

/// A farm: `farm, animals`, a field for each fact, `since` with the day of each, `history[]` with `fact, was, since`, `contacts[]`,
/// `instructions[]`, `ended[]`, `heard[]`, `rules_since`, `differs[]`, `handed_to`.
fn value(card: &Card, rules: &Rules, today: NaiveDate) -> Value {
    let field = |fact: FarmFact| called(fact).replace(' ', "_");
    let some = |words: &str| (!words.is_empty()).then(|| words.to_owned());
    let mut value = json!({ "farm": card.name, "animals": card.animals });
    for fact in Card::listed().chain([FarmFact::HerdList]) {
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
    value["contacts"] = json!(card.contacts.iter().map(of_contact).collect::<Vec<Value>>());
    let instructions = card.given.standing.iter().map(|one| standing(card, one, rules, today));
    value["instructions"] = json!(instructions.collect::<Vec<Value>>());
    let ended = card.given.ended.iter().map(|ended| {
        let into = ended.into.and_then(|id| card.text_of(id));
        let mut value = given(&ended.was);
        value["ended"] = json!(ended.on.to_string());
        (value["because"], value["became"]) = (json!(some(&ended.why)), json!(into));
        value
    });
    value["ended"] = json!(ended.collect::<Vec<Value>>());
    let heard = card.heard.iter().map(|one| match one {
        Heard::Called { on, words, urgent, caller } => {
            json!({ "date": on.to_string(), "called": words, "urgent": urgent, "by": some(caller) })
        }
        Heard::Changed { on, change, words } => {
            json!({ "date": on.to_string(), "changed": change.word(), "words": some(words) })
        }
    });
    value["heard"] = json!(heard.collect::<Vec<Value>>());
    value["rules_since"] = json!(card.rules.map(|day| day.to_string()));
    let differs = card.differs.iter().map(
        |one| json!({ "rule": format!("{}.{}", one.section, one.name), "here": one.own, "elsewhere": one.practice }),
    );
    value["differs"] = json!(differs.collect::<Vec<Value>>());
    value["handed_to"] = json!(card.given_up);
    value
}

/// One of its people: `name, does, phone, gone, since`, and `before[]` with the same of earlier words, newest first.
fn of_contact(known: &Known) -> Value {
    let some = |words: &str| (!words.is_empty()).then(|| words.to_owned());
    let word = |word: &Word| {
        let Contact { name, does, phone } = &word.contact;
        json!({
            "name": name, "does": some(does), "phone": some(phone), "gone": word.gone, "since": word.on.to_string(),
        })
    };
    let mut value = word(&known.now);
    value["before"] = json!(known.before.iter().map(word).collect::<Vec<Value>>());
    value
}

/// An instruction as it was given: `for, text, since, asked_by, why, vet`.
pub(super) fn given(one: &Instruction) -> Value {
    let some = |words: &str| (!words.is_empty()).then(|| words.to_owned());
    json!({
        "for": one.scope.word(), "text": one.text, "since": one.since.to_string(), "asked_by": some(&one.asked_by),
        "why": some(&one.why), "vet": some(&one.vet),
    })
}

/// One that holds: besides `review, overdue, looked_at[]`, and `least_sole_mm` where it takes horn away.
fn standing(card: &Card, one: &Instruction, rules: &Rules, today: NaiveDate) -> Value {
    let rules = rules.of(card.farm);
    let due = review::due(rules, one, today);
    let looks = card.given.looks.iter().filter(|(of, _, _)| *of == one.id);
    let mut value = given(one);
    value["review"] = json!(due.day.to_string());
    value["overdue"] = json!(due.day < today);
    value["looked_at"] = json!(looks.map(|(_, on, _)| on.to_string()).collect::<Vec<String>>());
    value["least_sole_mm"] = json!(one.takes_horn().then_some(rules.sole));
    value
}
