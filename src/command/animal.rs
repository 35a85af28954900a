//! `crushbook animal`: one animal as text, as JSON, or as sheets.

use super::cli::Cli;
use super::farm::Farms;
use super::fault::Fault;
use super::form::AnimalForm;
use super::json::NEUTRAL;
use super::sheets::{Around, sheets};
use super::{World, json, note, place, practice, rules, today};
use crate::domain::history::standing::Standing;
use crate::domain::history::{History, Turn};
use crate::domain::ids::{AnimalId, FarmId, TurnId};
use crate::domain::recorders::{Part, parts};
use crate::domain::sheet::{Line, Sheet};
use crate::keys::near::nearest;
use crate::report::animal::{TurnText, text};
use crate::report::due::called;
use crate::report::safe::safe;
use crate::report::words::Words;
use crate::store::Store;
use crate::wire::error::plain;
use crate::wire::rows::LabelRow;
use crate::wire::sheet::print;
use std::collections::BTreeSet;

/// Prints one animal.
pub fn animal(cli: &Cli, world: &mut World, number: &str, farm: Option<&str>, form: AnimalForm) -> Result<(), Fault> {
    place::with_book(cli, world, |store, world| write(store, cli, world, (number, farm), form))
}

fn write(
    store: &Store,
    cli: &Cli,
    world: &mut World,
    (number, farm): (&str, Option<&str>),
    form: AnimalForm,
) -> Result<(), Fault> {
    let (farms, problems) = Farms::of(store)?;
    note(world, &problems)?;
    let farm = farms.meant(farm)?;
    let name = farms.name(farm);
    let animal = meant(store, farm, &name, number)?;
    let (records, problems) = store.records(animal.0)?;
    note(world, &problems)?;
    let history = History::of(records.clone(), animal);
    let (rules, today) = (rules::for_list(store, world)?, today(cli, world));
    let around = Around::of(store, &history)?;
    let sheets = sheets(&records, &history, &name, &around);
    match form {
        AnimalForm::Text => {
            let words = practice::words(cli, world)?;
            let standing = Standing::of(records.clone());
            let shared = |sheet: &Sheet| shared(&standing, &history, &around, sheet, words);
            let turns: Vec<TurnText> = sheets
                .iter()
                .rev()
                .map(|sheet| TurnText { on: sheet.on, lines: lines(sheet).into_iter().chain(shared(sheet)).collect() })
                .collect();
            let is_now = called(&history.labels);
            let hers = [&history.labels.number, &history.labels.tag, &history.labels.electronic, &history.labels.name];
            if !hers.iter().any(|label| label.trim().eq_ignore_ascii_case(number.trim())) {
                writeln!(world.out, "{} is now {is_now}.", safe(number))?;
            }
            write!(world.out, "{}", text(&history, &name, &turns, (&rules, today), words))?;
        }
        AnimalForm::Json => {
            let mut value = json::animal(&history, &name, &rules, today);
            let standing = Standing::of(records.clone());
            for (turn, row) in history.turns.iter().rev().zip(value["turns"].as_array_mut().into_iter().flatten()) {
                let parts = by_whom(&standing, turn.id, &around, NEUTRAL);
                let parts = parts.into_iter().map(|(by, said)| serde_json::json!({ "by": by, "said": said }));
                row["recorded"] = parts.collect();
            }
            writeln!(world.out, "{}", json::written(&value))?;
        }
        AnimalForm::Sheet => {
            let pages: Vec<String> = sheets.iter().map(print).collect();
            write!(world.out, "{}", pages.join("\n"))?;
        }
    }
    Ok(())
}

/// What each person recorded in a turn, in words; the name is empty where nobody was named. Nothing where one person did all:
/// that is what the turn itself says.
fn by_whom(standing: &Standing, turn: TurnId, around: &Around, words: Words) -> Vec<(String, Vec<String>)> {
    let part = |part: Part| {
        let mut said: Vec<String> = part.events.iter().map(|event| words.event(event)).collect();
        said.dedup();
        (around.name(part.by).to_owned(), said)
    };
    let parts = parts(standing, turn);
    if parts.len() > 1 { parts.into_iter().map(part).collect() } else { Vec::new() }
}

/// Who recorded what in the turns of a sheet, where more than one person did.
fn shared(standing: &Standing, history: &History, around: &Around, sheet: &Sheet, words: Words) -> Vec<String> {
    let of_sheet = |turn: &&Turn| turn.on == sheet.on && around.name(turn.by) == sheet.by;
    let turns = history.turns.iter().filter(of_sheet).map(|turn| by_whom(standing, turn.id, around, words));
    let nobody = |by: String| if by.is_empty() { "nobody named".to_owned() } else { by };
    turns.flatten().map(|(by, said)| format!("by {}: {}", nobody(by), said.join("; "))).collect()
}

/// The lines of a sheet without its head, since the text names farm and day already.
fn lines(sheet: &Sheet) -> Vec<String> {
    let printed = print(sheet);
    let begins = match sheet.lines.first() {
        Some(Line::Turn(_)) => "animal ",
        Some(Line::Animal { .. } | Line::Farm(_)) | None => "told ",
    };
    printed
        .lines()
        .skip_while(|line| !line.starts_with(begins))
        .filter(|line| !line.is_empty() && !line.starts_with("animal "))
        .map(str::to_owned)
        .collect()
}

/// The animal that is called so on that farm now and has not left, else whoever is called so, else the only one that ever
/// was: a number is given again once its cow is gone.
pub fn meant(store: &Store, farm: FarmId, farm_name: &str, called: &str) -> Result<AnimalId, Fault> {
    let (rows, _) = store.find(farm, called)?;
    let those = |meant: fn(&LabelRow) -> bool| -> BTreeSet<AnimalId> {
        rows.iter().filter(|row| meant(row)).map(|row| row.of).collect()
    };
    let nearest_first = [those(|row| row.current && row.left.is_none()), those(|row| row.current), those(|_| true)];
    let found = nearest_first.into_iter().find(|set| !set.is_empty()).unwrap_or_default();
    match found.len() {
        1 => Ok(found.into_iter().next().expect("one is there")),
        0 => {
            let (animals, _) = store.animals(farm)?;
            let numbers = animals.iter().map(|row| row.labels.number.as_str());
            let hint = match nearest(called, numbers) {
                Some(near) => format!("Did you mean {near}?"),
                None => "Check the number and the farm.".to_owned(),
            };
            Err(Fault::failed(format!("no animal of {farm_name} is called {}", plain(called)), hint))
        }
        several => Err(Fault::failed(
            format!("{several} animals of {farm_name} are called {}", plain(called)),
            "Name her by her tag, electronic number or name.",
        )),
    }
}
