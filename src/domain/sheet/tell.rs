//! What was told outside the crush, from a sheet to events: word by telephone, a sale, a change on the farm.

use super::super::anatomy::Place;
use super::super::contact::{Contact, Known, Word, checked, is_called, known, named};
use super::super::event::Event;
use super::super::farm;
use super::super::herd::{Herd, Status};
use super::super::history::History;
use super::super::history::open::OpenItem;
use super::super::history::standing::Standing;
use super::super::ids::{AnimalId, FarmId, RecordId};
use super::super::known::as_of;
use super::super::record::Record;
use super::instruct::{self, Then};
use super::of_told::vets;
use super::transcribe::{Snag, SnagWhy, on_there, outside};
use super::{FarmTold, Told};
use chrono::NaiveDate;

/// The event of something told about an animal, or why it cannot be entered. `on` is the sheet's day.
pub fn tell(
    told: &Told,
    animal: AnimalId,
    farm: FarmId,
    history: Option<&History>,
    on: NaiveDate,
) -> Result<Event, Snag> {
    let described = |herd: Herd| Event::Described { animal, herd };
    Ok(match told.clone() {
        Told::Word { place, thing, by, means, word } => {
            let item = history
                .and_then(|history| on_there(history, thing, place, on, &[]))
                .ok_or(Snag { fact: 0, why: SnagWhy::NothingOn { place, thing } })?;
            Event::ToldOff { item, by, means, word }
        }
        Told::Left { why, words } => Event::Left { animal, why, words },
        Told::Back(words) => Event::CameBack { animal, words },
        Told::Label { label, text, shared: _ } => {
            let refused = |why| Snag { fact: 0, why: SnagWhy::NoLabel(label, why) };
            let mut labels = history.map(|history| history.labels.clone()).unwrap_or_default();
            label.set(&mut labels, &label.checked(&text).map_err(refused)?);
            Event::Renumbered { animal, labels }
        }
        Told::Kicks(kicks) => Event::Kicker { animal, kicks },
        Told::Cull => Event::CullSaid { animal },
        Told::ClawGone(foot, side) => Event::ClawGone { animal, foot, side },
        Told::Dry(day) => described(Herd { dry_from: Some(day), status: Some(Status::Dry), ..Herd::default() }),
        Told::Calved(day) => described(Herd { calved: Some(day), status: Some(Status::InMilk), ..Herd::default() }),
        Told::DueToCalve(day) => described(Herd { due_to_calve: Some(day), ..Herd::default() }),
        Told::Lactation(number) => described(Herd { lactation: Some(number), ..Herd::default() }),
        Told::Group(group) => described(Herd { group, ..Herd::default() }),
        Told::Called { words, urgent, caller } => Event::FarmCalled { farm, words, urgent, caller },
        Told::VetAnswered { place, words } => {
            let of = history
                .and_then(|history| vet_advised(history, place, on))
                .ok_or(Snag { fact: 0, why: SnagWhy::NoVet { place } })?;
            Event::VetAnswered { of, words }
        }
        Told::Fact(fact) => outside(&fact, None).ok_or(Snag { fact: 0, why: SnagWhy::NeedsTurn })?,
    })
}

/// The newest advice about that place that still waits for an answer; else the newest at all, so that a sheet entered
/// twice means the same advice both times.
fn vet_advised(history: &History, place: Place, on: NaiveDate) -> Option<RecordId> {
    let there = |other: Place| place == Place::Animal || other == place;
    let waiting = history.open.iter().rev().find_map(|item| match item {
        OpenItem::Vet { of, place, since, .. } if there(*place) && *since <= on => Some(*of),
        OpenItem::Withheld { of, place, used, counts: false, .. } if there(*place) && *used <= on => Some(*of),
        OpenItem::Vet { .. }
        | OpenItem::On { .. }
        | OpenItem::LookSoon { .. }
        | OpenItem::Recheck { .. }
        | OpenItem::SetByHand { .. }
        | OpenItem::Lame { .. }
        | OpenItem::Withheld { .. } => None,
    });
    let advised = || vets(history).into_iter().filter(|(day, _, place)| there(*place) && *day <= on);
    waiting.or_else(|| advised().max_by_key(|(day, _, _)| *day).map(|(_, of, _)| of))
}

/// The event of something told about a farm, or why it cannot be entered. `records` are the farm's, `then` is the sheet's day.
pub fn tell_farm(told: &FarmTold, farm: FarmId, records: &[Record], then: Then<'_>) -> Result<Event, Snag> {
    Ok(match told.clone() {
        FarmTold::Fact(fact, words) => self::fact(Event::FarmDescribed { farm, fact, words }, records, then)?,
        FarmTold::Contact { name, does, phone, gone } => {
            contact(Event::ContactTold { farm, name, does, phone, gone }, records, then)?
        }
        FarmTold::Changed(change, words) => Event::FarmChanged { farm, change, words },
        FarmTold::Called { words, urgent, caller } => Event::FarmCalled { farm, words, urgent, caller },
        FarmTold::Rung { answered, who, words } => Event::FarmRung { farm, answered, who, words },
        FarmTold::Instructed { scope, text, again, asked_by, why, review_on, vet } => {
            let vet = vet.unwrap_or_default();
            let given = Event::Instructed { farm, scope, text: text.clone(), asked_by, why, review_on, vet };
            // One that is in the book was given by the rules of its time.
            if !records.iter().any(|record| record.on == then.on && record.event() == Some(&given)) {
                instruct::review(review_on, then)?;
                if !again {
                    instruct::not_twice(farm, (scope, &text), records, then.on)?;
                }
            }
            given
        }
        FarmTold::InstructionReviewed { scope, which, words, review_on } => {
            instruct::goes_on(farm, (scope, &which), words, review_on, records, then)?
        }
        FarmTold::InstructionEnded { scope, which, why } => {
            instruct::ended(farm, (scope, &which), why, records, then.on)?
        }
    })
}

/// A word on a fact, where the farm can have it; what is in the book of that day is as it is.
fn fact(told: Event, records: &[Record], then: Then<'_>) -> Result<Event, Snag> {
    if let Event::FarmDescribed { farm, fact, words } = &told
        && !records.iter().any(|record| record.on == then.on && record.event() == Some(&told))
    {
        let refused = |why| Snag { fact: 0, why: SnagWhy::NoFact(*fact, why) };
        let words = farm::checked(*fact, words).map_err(refused)?;
        return Ok(Event::FarmDescribed { farm: *farm, fact: *fact, words });
    }
    Ok(told)
}

/// One of the farm's people, where they can be kept so; what is in the book of that day is as it is.
fn contact(told: Event, records: &[Record], then: Then<'_>) -> Result<Event, Snag> {
    if let Event::ContactTold { farm, name, does, phone, gone } = &told
        && !records.iter().any(|record| record.on == then.on && record.event() == Some(&told))
    {
        let refused = |why| Snag { fact: 0, why: SnagWhy::NoContact(why) };
        let known = known(&Standing::of(as_of(records, then.on)), *farm);
        if *gone && let Some(word) = told_gone(&known, name, then.on) {
            let Contact { name, does, phone } = word.contact.clone();
            return Ok(Event::ContactTold { farm: *farm, name, does, phone, gone: true });
        }
        let here: Vec<Contact> = known.into_iter().filter(|one| !one.now.gone).map(|one| one.now.contact).collect();
        let one = named(&here, name);
        if *gone && one.is_none() {
            let here = here.into_iter().map(|one| one.name).collect();
            return Err(Snag { fact: 0, why: SnagWhy::NobodyCalled { name: name.clone(), here } });
        }
        // Gone is whoever is known, as they are written there.
        let name = one.filter(|_| *gone).map_or(name, |one| &one.name);
        let Contact { name, does, phone } = checked(name, does, phone).map_err(refused)?;
        return Ok(Event::ContactTold { farm: *farm, name, does, phone, gone: *gone });
    }
    Ok(told)
}

/// What was told that very day of one who is there no longer, however it was written.
fn told_gone<'k>(known: &'k [Known], name: &str, on: NaiveDate) -> Option<&'k Word> {
    let one = known.iter().find(|one| is_called(&one.now.contact.name, name))?;
    Some(&one.now).filter(|word| word.gone && word.on == on)
}
