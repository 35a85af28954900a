//! `crushbook walk`: a scoring walk typed or written elsewhere is taken in, all of it or nothing; or the walk of a day is printed.

use super::cli::Cli;
use super::enter;
use super::farm::Farms;
use super::fault::Fault;
use super::form::TableForm;
use super::herd::{named, option};
use super::json::{table, written};
use super::press::stamp;
use super::{World, animal, note, place, practice, rules, today};
use crate::domain::event::Event;
use crate::domain::follow_up::rules::Rules;
use crate::domain::herd::{FarmFact, Herd, Labels};
use crate::domain::ids::{AnimalId, FarmId, RecordId};
use crate::domain::sheet::of::called;
use crate::domain::treatment::{Gait, GaitScale};
use crate::domain::vocabulary::Vocabulary;
use crate::domain::walk::{Walk, Walker, walker};
use crate::report::safe::safe;
use crate::report::walk::text;
use crate::store::Store;
use crate::wire::walk_list::{Scored, read};
use chrono::NaiveDate;
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::path::Path;

/// A farm with what a walk on it goes by.
struct Farm {
    id: FarmId,
    name: String,
    scale: GaitScale,
    /// Group in which unknown numbers are new; empty: they are mistakes.
    newcomers: String,
}

/// Takes a walk in, or prints that of the day.
///
/// # Errors
/// An unknown farm; of a walk any line that cannot be taken.
pub fn walk(cli: &Cli, world: &mut World, farm: &str, file: Option<&Path>, form: TableForm) -> Result<(), Fault> {
    let list = file.map(|file| named(file, world, "the list of a walk")).transpose()?;
    place::with_book(cli, world, |store, world| {
        let (farms, problems) = Farms::of(store)?;
        note(world, &problems)?;
        let id = farms.meant(Some(farm))?;
        let farm = of_farm(cli, world, store, (id, farms.name(id)))?;
        let (rules, on) = (rules::for_list(store, world)?, today(cli, world));
        if let Some((name, bytes)) = &list {
            let told = take(store, world, (&farm, &rules, on), (name, bytes))?;
            if form == TableForm::Text {
                writeln!(world.out, "{told}")?;
                return Ok(());
            }
        }
        print(store, world, (&farm, &rules, on), form)
    })
}

fn of_farm(cli: &Cli, world: &mut World, store: &Store, (id, name): (FarmId, String)) -> Result<Farm, Fault> {
    let (rows, problems) = store.farms()?;
    note(world, &problems)?;
    let facts = rows.into_iter().find(|row| row.farm == id).map(|row| row.facts).unwrap_or_default();
    let told = |fact| facts.iter().find(|(known, _)| *known == fact).map_or("", |(_, words)| words.as_str());
    let usual = practice::told(cli, world)?.region.gait_scale();
    let scale = GaitScale::from_word(told(FarmFact::GaitScale)).unwrap_or(usual);
    Ok(Farm { id, name, scale, newcomers: told(FarmFact::NewAnimals).to_owned() })
}

/// Reads the walk of a day out of the book.
fn of_day(store: &Store, world: &mut World, (farm, rules, on): (&Farm, &Rules, NaiveDate)) -> Result<Walk, Fault> {
    let (animals, problems) = store.animals(farm.id)?;
    note(world, &problems)?;
    let mut walk = Walk::default();
    for animal in animals.iter().map(|row| row.of).collect::<BTreeSet<AnimalId>>() {
        let (records, problems) = store.records(animal.0)?;
        note(world, &problems)?;
        walk.walkers.extend(walker(animal, &records, rules, on));
    }
    Ok(walk)
}

/// Whom a line means.
enum Who {
    Known(AnimalId),
    New(String),
}

/// Takes the lines in: every mistake is told, and then nothing is written.
fn take(
    store: &mut Store,
    world: &mut World,
    day: (&Farm, &Rules, NaiveDate),
    (name, bytes): (&str, &[u8]),
) -> Result<String, Fault> {
    let (farm, _, on) = day;
    let walk = of_day(store, world, day)?;
    let (scored, mistakes) = read(bytes);
    let mut bad: Vec<(usize, String)> = mistakes.iter().map(|one| (one.line, format!("{name}, {one}"))).collect();
    let mut scores: Vec<(Who, &Scored)> = Vec::new();
    let mut again = Vec::new();
    for one in &scored {
        match whom(store, farm, &walk, one) {
            Err(why) => bad.push((one.line, format!("{name}, line {}, {}: {why}", one.line, one.number))),
            Ok(who) => {
                if let Some(at) = scores.iter().position(|(other, _)| same(other, &who)) {
                    let (_, before) = scores.remove(at);
                    let told = format!("{} stands on lines {} and {}", one.number, before.line, one.line);
                    again.push(format!("{told}: the later counts, score {}", one.score));
                }
                scores.push((who, one));
            }
        }
    }
    if !bad.is_empty() {
        bad.sort();
        let what = format!("{} of {name} cannot be taken, and nothing was written", lines(bad.len()));
        let hint = "Correct these and take the walk again. A new animal is added in the screens, or with a herd list.";
        return Err(Fault::failed(what, hint).because(bad.into_iter().map(|(_, why)| why).collect()));
    }
    for told in again {
        writeln!(world.err, "crushbook: {}", safe(&told))?;
    }
    write(store, world, (farm, on), &walk, &scores)
}

fn lines(count: usize) -> String {
    if count == 1 { "1 line".to_owned() } else { format!("{count} lines") }
}

fn same(one: &Who, other: &Who) -> bool {
    match (one, other) {
        (Who::Known(one), Who::Known(other)) => one == other,
        (Who::New(one), Who::New(other)) => one == other,
        (Who::Known(_), Who::New(_)) | (Who::New(_), Who::Known(_)) => false,
    }
}

/// Whom a line means, or why it cannot be taken.
fn whom(store: &Store, farm: &Farm, walk: &Walk, one: &Scored) -> Result<Who, String> {
    let range = farm.scale.range();
    if !range.contains(&one.score) {
        return Err(format!("{} is no score here: {} to {}", one.score, range.start(), range.end()));
    }
    let (known, _) = store.find(farm.id, &one.number).map_err(|why| why.to_string())?;
    if known.is_empty() && !farm.newcomers.is_empty() {
        // Two numbers, or a score too many: a new number is one word, or a slip of the pen would be a cow.
        if one.number.contains(char::is_whitespace) {
            return Err(format!("nobody here is called {}, and a new number is one word", safe(&one.number)));
        }
        return Ok(Who::New(one.number.clone()));
    }
    let animal = animal::meant(store, farm.id, &farm.name, &one.number)
        .map_err(|fault| format!("{}. {}", fault.what, fault.hint))?;
    if walk.of(animal).is_none() {
        return Err("she has left: is she back, open her on Today in the screens".to_owned());
    }
    Ok(Who::Known(animal))
}

/// Writes the scores, and new animals before theirs, in one press; what was done, in words. What is so already is not written again.
fn write(
    store: &mut Store,
    world: &mut World,
    (farm, on): (&Farm, NaiveDate),
    walk: &Walk,
    scores: &[(Who, &Scored)],
) -> Result<String, Fault> {
    let next = store.next_id();
    let mut facts: Vec<(RecordId, Event)> = Vec::new();
    let (mut known, mut new, mut unchanged) = (0, 0, 0);
    for (who, one) in scores {
        let gait = Gait { scale: farm.scale, score: one.score };
        let animal = match who {
            Who::Known(animal) if walk.of(*animal).is_some_and(|walker| walker.score == Some(gait)) => {
                unchanged += 1;
                continue;
            }
            Who::Known(animal) => {
                known += 1;
                *animal
            }
            Who::New(number) => {
                new += 1;
                let animal = AnimalId(RecordId { series: next.series, seq: next.seq + facts.len() as u64 });
                let labels = Labels { number: number.clone(), ..Labels::default() };
                facts.push((animal.0, Event::AnimalBegun { farm: farm.id, labels }));
                let herd = Herd { group: farm.newcomers.clone(), ..Herd::default() };
                facts.push((animal.0, Event::Described { animal, herd }));
                animal
            }
        };
        facts.push((animal.0, Event::Walked { turn: None, gait }));
    }
    let parts = [(known, "scored"), (new, "new and scored"), (unchanged, "scored so already")];
    let said: Vec<String> =
        parts.iter().filter(|(count, _)| *count > 0).map(|(count, what)| format!("{count} {what}")).collect();
    if facts.is_empty() {
        let said = if said.is_empty() { "No line is in that walk".to_owned() } else { said.join(", ") };
        return Ok(format!("{said}. Nothing was written."));
    }
    let records = stamp(store, world, on)?.press(facts);
    enter::take(store, &records, world)?;
    Ok(format!("{}. crushbook undo{} takes it back.", said.join(", "), option(&farm.name)))
}

/// Prints the walk of the day.
fn print(store: &Store, world: &mut World, day: (&Farm, &Rules, NaiveDate), form: TableForm) -> Result<(), Fault> {
    let (farm, _, on) = day;
    let walk = of_day(store, world, day)?;
    match form {
        TableForm::Text => write!(world.out, "{}", text(&walk, &farm.name, farm.scale, on))?,
        TableForm::Csv => {
            let rows: Vec<Value> = all(&walk).map(row).collect();
            write!(world.out, "{}", table(&FIELDS, &rows)?)?;
        }
        TableForm::Json => writeln!(world.out, "{}", written(&value(&walk, farm, on)))?,
    }
    Ok(())
}

/// The lame ones first, then who else was scored, then who was not.
fn all(walk: &Walk) -> impl Iterator<Item = &Walker> {
    let mut sound: Vec<&Walker> = walk.scored().filter(|walker| !walker.is_lame()).collect();
    sound.sort_by_cached_key(|walker| (walker.labels.number.len(), walker.labels.number.clone()));
    walk.lame().into_iter().chain(sound).chain(walk.unscored())
}

/// `farm, date, scale, herd, scored`, `counts[]` with `scale, score, animals, percent`, `whole_herd`, `animals[]` as in the table.
fn value(walk: &Walk, farm: &Farm, on: NaiveDate) -> Value {
    let counts = walk.counts(farm.scale);
    let counts = counts.iter().map(|one| {
        json!({ "scale": one.gait.scale.word(), "score": one.gait.score, "animals": one.animals, "percent": one.percent })
    });
    json!({
        "farm": farm.name,
        "date": on.to_string(),
        "scale": farm.scale.word(),
        "herd": walk.walkers.len(),
        "scored": walk.scored().count(),
        "counts": counts.collect::<Vec<_>>(),
        "whole_herd": walk.scored().next().is_some() && !walk.is_part(),
        "animals": all(walk).map(row).collect::<Vec<_>>(),
    })
}

/// Fields of an animal of the walk, in the order of a table.
const FIELDS: [&str; 8] = ["animal", "score", "scale", "lame", "look_by", "before", "before_scale", "before_date"];

fn row(walker: &Walker) -> Value {
    let Walker { score, before, look_by, .. } = walker;
    json!({
        "animal": called(&walker.labels),
        "score": score.map(|gait| gait.score),
        "scale": score.map(|gait| gait.scale.word()),
        "lame": score.map(|gait| gait.scale.is_lame(gait.score)),
        "look_by": look_by.map(|day| day.to_string()),
        "before": before.map(|(_, gait)| gait.score),
        "before_scale": before.map(|(_, gait)| gait.scale.word()),
        "before_date": before.map(|(on, _)| on.to_string()),
    })
}
