//! `crushbook called` and `crushbook changed`: what the farm says, and what changed there.

use super::cli::Cli;
use super::farm::Farms;
use super::fault::{Fault, name};
use super::herd::option;
use super::press::press_on;
use super::{World, animal, note, place, practice, today};
use crate::domain::event::Event;
use crate::domain::herd::Change;
use crate::domain::history::History;
use crate::domain::ids::{AnimalId, FarmId, RecordId};
use crate::domain::vocabulary::Vocabulary;
use crate::report::due;
use crate::report::safe::safe;
use crate::report::words;
use crate::store::Store;
use chrono::NaiveDate;

/// A call.
pub struct Call<'a> {
    /// What was said.
    pub words: &'a str,
    /// Whom it is about, by what she is called; none: the farm.
    pub about: Option<&'a str>,
    /// It cannot wait.
    pub urgent: bool,
    /// Who called.
    pub by: &'a str,
}

/// Writes a call down.
///
/// # Errors
/// A farm or an animal that is not there, no words.
pub fn called(cli: &Cli, world: &mut World, farm: Option<&str>, call: &Call<'_>) -> Result<(), Fault> {
    let said = call.words.trim();
    if said.is_empty() {
        return Err(Fault::usage("the call has no words", "Write what was said."));
    }
    let caller = name("who called", call.by)?;
    on_farm(cli, world, farm, |store, (farm, name), world| {
        let (about, who) = match call.about {
            Some(her) => {
                let (animal, who) = here(store, farm, name, her)?;
                (animal.0, Some(who))
            }
            None => (farm.0, None),
        };
        let caller = caller.clone();
        let event = Event::FarmCalled { farm, words: said.to_owned(), urgent: call.urgent, caller };
        write(store, cli, world, (today(cli, world), about, event), (name, who))
    })
}

/// Writes down that something changed, on a day gone by.
///
/// # Errors
/// A farm that is not there, a day to come, a change that needs words and has none.
pub fn changed(
    cli: &Cli,
    world: &mut World,
    farm: Option<&str>,
    (change, said): (Change, &str),
    since: Option<NaiveDate>,
) -> Result<(), Fault> {
    let (today, said) = (today(cli, world), said.trim());
    let on = since.unwrap_or(today);
    if on > today {
        let what = format!("{} is still to come", words::day(on));
        return Err(Fault::usage(what, "Say it once it has changed; nothing was written."));
    }
    if change == Change::Other && said.is_empty() {
        return Err(Fault::usage("the change has no words", "Say what it is; nothing was written."));
    }
    on_farm(cli, world, farm, |store, (farm, name), world| {
        let event = Event::FarmChanged { farm, change, words: said.to_owned() };
        write(store, cli, world, (on, farm.0, event), (name, None))
    })
}

/// An animal that is here, and what she is called: of one that is known to be gone nobody is to come for a call.
fn here(store: &Store, farm: FarmId, name: &str, her: &str) -> Result<(AnimalId, String), Fault> {
    let animal = animal::meant(store, farm, name, her)?;
    let history = History::of(store.records(animal.0)?.0, animal);
    let who = due::called(&history.labels);
    let Some((how, day)) = history.left else { return Ok((animal, who)) };
    let what = format!("{who} left: {} {}", how.word(), words::day(day));
    let next = "Nothing was written. If she is back, crushbook gone --back with her number says so first; if it was another, name \
                her by her tag; without --about it is written of the farm.";
    Err(Fault::failed(what, next))
}

/// Does something with the farm that is meant and its name.
fn on_farm(
    cli: &Cli,
    world: &mut World,
    farm: Option<&str>,
    act: impl FnOnce(&mut Store, (FarmId, &str), &mut World) -> Result<(), Fault>,
) -> Result<(), Fault> {
    place::with_book(cli, world, |store, world| {
        let (farms, problems) = Farms::of(store)?;
        note(world, &problems)?;
        let farm = farms.meant(farm)?;
        act(store, (farm, &farms.name(farm)), world)
    })
}

/// One record in one press, and what it says.
fn write(
    store: &mut Store,
    cli: &Cli,
    world: &mut World,
    (on, about, event): (NaiveDate, RecordId, Event),
    (farm, who): (&str, Option<String>),
) -> Result<(), Fault> {
    let said = practice::words(cli, world)?.event(&event);
    let said = who.map_or(said.clone(), |who| format!("{who}: {said}"));
    press_on(store, world, on, vec![(about, event)])?;
    writeln!(world.out, "{}: {}", words::day(on), safe(&said))?;
    writeln!(world.out, "crushbook undo{} takes it back.", option(farm))?;
    Ok(())
}
