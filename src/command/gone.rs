//! `crushbook gone`: animals that have left. Nobody is gone because a list does not name her, so this is said of each, or of
//! all that a list leaves out; and whoever has something on is then left out herself, and named one by one.

use super::cli::Cli;
use super::farm::Farms;
use super::fault::Fault;
use super::herd::against::unsure;
use super::herd::known::{herd, on};
use super::herd::{named, option};
use super::press::press;
use super::{World, animal, note, place, practice, today};
use crate::domain::event::Event;
use crate::domain::herd::Leaving;
use crate::domain::herd_list::Known;
use crate::domain::herd_list::compare::compare;
use crate::domain::herd_list::figures::Figures;
use crate::domain::herd_list::her::Her;
use crate::domain::ids::{AnimalId, FarmId};
use crate::domain::vocabulary::Vocabulary;
use crate::report::due::called;
use crate::report::safe::safe;
use crate::report::words::{self, Words};
use crate::store::Store;
use crate::wire::herd_csv::read;
use std::path::Path;

/// What was asked for.
pub struct Asked<'a> {
    /// Animals by what they are called.
    pub animals: &'a [String],
    /// A list: everybody whom it does not name.
    pub missing_from: Option<&'a Path>,
    /// How they left.
    pub how: Leaving,
    /// More about it.
    pub words: &'a str,
}

/// Says that animals have left.
///
/// # Errors
/// An animal that is not there, or has left already; a list that cannot be read, or has a bad row.
pub fn gone(cli: &Cli, world: &mut World, farm: Option<&str>, asked: &Asked<'_>) -> Result<(), Fault> {
    let list = asked.missing_from.map(|file| named(file, world, "a herd list")).transpose()?;
    place::with_book(cli, world, |store, world| {
        let (farm, name, herd) = herd_of(store, world, farm)?;
        let words = practice::words(cli, world)?;
        let (leaving, kept) = match &list {
            Some((file, bytes)) => missing(cli, world, &herd, (file, bytes), words)?,
            None => (by_name(store, (farm, &name), &herd, asked.animals)?, Vec::new()),
        };
        let event = |animal: AnimalId| Event::Left { animal, why: asked.how, words: asked.words.trim().to_owned() };
        let facts = leaving.iter().map(|her| (her.known.animal.0, event(her.known.animal)));
        press(store, cli, world, facts.collect())?;
        for her in &leaving {
            say(world, her, asked.how, words)?;
        }
        for her in &kept {
            let on = safe(&on(&her.history, words).join(", "));
            let who = called(&her.history.labels);
            writeln!(
                world.out,
                "{who} HAS SOMETHING ON: {on}. She was left as she is; name her to say that she is gone."
            )?;
        }
        match leaving.len() {
            0 => writeln!(world.out, "Nothing was written.")?,
            _ => writeln!(world.out, "crushbook undo{} takes it back.", option(&name))?,
        }
        Ok(())
    })
}

/// Says that animals which had left are back.
///
/// # Errors
/// An animal that is not there, or has not left.
pub fn back(
    cli: &Cli,
    world: &mut World,
    farm: Option<&str>,
    (animals, words): (&[String], &str),
) -> Result<(), Fault> {
    place::with_book(cli, world, |store, world| {
        let (farm, name, herd) = herd_of(store, world, farm)?;
        let region = practice::words(cli, world)?;
        let back = those(store, (farm, &name), &herd, animals, |one, her| match her.known.left {
            Some(_) => Ok(()),
            None => {
                let what = format!("{} has not left", safe(one));
                let next = "Nothing was written. Leave her out; if another of this name left, name her by her tag.";
                Err(Fault::failed(what, next))
            }
        })?;
        let event = |animal: AnimalId| Event::CameBack { animal, words: words.trim().to_owned() };
        let facts = back.iter().map(|her| (her.known.animal.0, event(her.known.animal)));
        press(store, cli, world, facts.collect())?;
        for her in &back {
            let on = on(&her.history, region);
            let on = if on.is_empty() { String::new() } else { format!(". SHE HAS SOMETHING ON: {}", on.join(", ")) };
            writeln!(world.out, "{}: back in the herd{}", called(&her.history.labels), safe(&on))?;
        }
        writeln!(world.out, "crushbook undo{} takes it back.", option(&name))?;
        Ok(())
    })
}

/// The farm that is meant, its name, and its herd.
fn herd_of(store: &Store, world: &mut World, farm: Option<&str>) -> Result<(FarmId, String, Vec<Her>), Fault> {
    let (farms, problems) = Farms::of(store)?;
    note(world, &problems)?;
    let farm = farms.meant(farm)?;
    let (herd, problems) = herd(store, farm)?;
    note(world, &problems)?;
    Ok((farm, farms.name(farm), herd))
}

fn say(world: &mut World, her: &Her, how: Leaving, words: Words) -> Result<(), Fault> {
    let who = called(&her.history.labels);
    let how_said = if how == Leaving::Gone { "gone, not told how".to_owned() } else { how.word().to_owned() };
    let on = on(&her.history, words);
    match how {
        Leaving::Gone | Leaving::Sold if !on.is_empty() => {
            let on = safe(&on.join(", "));
            writeln!(world.out, "{who}: {how_said}. SHE HAS SOMETHING ON: {on}. She stays on the due list.")?;
        }
        Leaving::Gone | Leaving::Sold | Leaving::Died | Leaving::Slaughter => {
            writeln!(world.out, "{who}: {how_said}")?;
        }
    }
    Ok(())
}

/// Animals that leave, by what they are called, each once.
fn by_name<'h>(
    store: &Store,
    farm: (FarmId, &str),
    herd: &'h [Her],
    animals: &[String],
) -> Result<Vec<&'h Her>, Fault> {
    those(store, farm, herd, animals, |one, her| match her.known.left {
        None => Ok(()),
        Some((how, day)) => {
            let what = format!("{} left already: {} {}", safe(one), how.word(), words::day(day));
            let next = "Nothing was written. Leave her out, or say with --back that she is back.";
            Err(Fault::failed(what, next))
        }
    })
}

/// Animals by what they are called, each once; the first of whom it cannot be said ends it.
fn those<'h>(
    store: &Store,
    (farm, name): (FarmId, &str),
    herd: &'h [Her],
    animals: &[String],
    may: impl Fn(&str, &Her) -> Result<(), Fault>,
) -> Result<Vec<&'h Her>, Fault> {
    let mut those: Vec<&Her> = Vec::new();
    for one in animals {
        let animal = animal::meant(store, farm, name, one)?;
        let Some(her) = herd.iter().find(|her| her.known.animal == animal) else { continue };
        may(one, her)?;
        if !those.iter().any(|other| other.known.animal == animal) {
            those.push(her);
        }
    }
    Ok(those)
}

/// Whoever a list does not name: first those who are gone by that, then those with something on, who are not.
fn missing<'h>(
    cli: &Cli,
    world: &World,
    herd: &'h [Her],
    (file, bytes): (&str, &[u8]),
    words: Words,
) -> Result<(Vec<&'h Her>, Vec<&'h Her>), Fault> {
    // Days of the list do not matter here, so they may stand either way round.
    let list = read(bytes, file, Figures::DayFirst);
    let known: Vec<Known> = herd.iter().map(|her| her.known.clone()).collect();
    let preview = compare(&list.rows, &list.unread, &known, today(cli, world));
    let causes = unsure(file, &list, &preview);
    if !causes.is_empty() {
        let what = format!("{file} does not say surely whom it names, and nothing was written");
        return Err(Fault::failed(what, "Correct these lines, or name the animals that are gone.").because(causes));
    }
    let missing = herd.iter().filter(|her| preview.missing.contains(&her.known.animal));
    Ok(missing.partition(|her| on(&her.history, words).is_empty()))
}
