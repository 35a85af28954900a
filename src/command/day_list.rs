//! `crushbook day-list`: who should come through on a day and why, as a page to tick off, as JSON, or as sheets to write upon.

use super::cli::Cli;
use super::day_parts::Parts;
use super::farm::Farms;
use super::fault::Fault;
use super::form::DayListForm;
use super::json::{NEUTRAL, review, table, written};
use super::{World, note, place, practice, rules, today};
use crate::domain::day_list::{Came, Line, Spared, StillHere};
use crate::domain::farm_call::FarmCall;
use crate::domain::follow_up::review::Review;
use crate::domain::hours;
use crate::domain::sheet::of::called;
use crate::domain::vocabulary::Vocabulary;
use crate::report::day_list::{Page, farm_call};
use serde_json::{Value, json};

/// Prints the list of a farm's day.
///
/// # Errors
/// An unknown farm, and what the store says.
pub fn day_list(
    cli: &Cli,
    world: &mut World,
    farm: Option<&str>,
    form: DayListForm,
    blank: usize,
) -> Result<(), Fault> {
    place::with_book(cli, world, |store, world| {
        let (farms, problems) = Farms::of(store)?;
        note(world, &problems)?;
        let (farm, today) = (farms.meant(farm)?, today(cli, world));
        let rules = rules::for_list(store, world)?;
        let (animals, problems) = store.animals(farm)?;
        note(world, &problems)?;
        let herd = animals.iter().map(|row| (row.animal, row.count)).collect();
        let mut parts = Parts::default();
        let problems = parts.read(store, (farm, today), &herd, &rules, &mut |_, _| {})?;
        note(world, &problems)?;
        let list = parts.list();
        let calls = parts.calls(store.records(farm.0)?.0);
        let name = farms.name(farm);
        let again = farms.reviews(Some(farm), &rules, today);
        let words = match form {
            DayListForm::Text => practice::words(cli, world)?,
            DayListForm::Json | DayListForm::Csv | DayListForm::Sheet => NEUTRAL,
        };
        // A day that is said is looked at as it ends.
        let at = cli.today.map_or(world.now, |day| hours::end_of(day, world.now));
        let page =
            Page { list: &list, of: farm, farm: &name, calls: &calls, again: &again, rules: &rules, today, at, words };
        match form {
            DayListForm::Text => write!(world.out, "{}", page.text())?,
            DayListForm::Sheet => write!(world.out, "{}", page.sheets(blank))?,
            DayListForm::Csv => {
                let rows = list.expected.iter().chain(&list.unasked).map(|line| row(&page, line));
                let rows: Vec<Value> = rows.chain(beside(&page)).collect();
                write!(world.out, "{}", table(&FIELDS, &rows)?)?;
            }
            DayListForm::Json => writeln!(world.out, "{}", written(&json(&page)))?,
        }
        Ok(())
    })
}

/// `farm, date, expected, done`, `animals[]` with `animal, reason, why[], came, missed, last`, `unasked[]` likewise, `spared[]` with
/// `animal, due_to_calve`, `still_here[]` with `animal, last`, `calls[]` with `date, words, urgent`, `reviews[]` as in the due list.
fn json(page: &Page) -> Value {
    let row = |line: &Line| row(page, line);
    let (expected, done) = page.list.done();
    let due = |spared: &Spared| spared.due_to_calve.to_string();
    let spared = page.list.spared.iter().map(|one| json!({ "animal": called(&one.labels), "due_to_calve": due(one) }));
    json!({
        "farm": page.farm,
        "date": page.today.to_string(),
        "expected": expected,
        "done": done,
        "animals": page.list.expected.iter().map(row).collect::<Vec<_>>(),
        "unasked": page.list.unasked.iter().map(row).collect::<Vec<_>>(),
        "spared": spared.collect::<Vec<_>>(),
        "still_here": page.list.still_here.iter().map(unseen).collect::<Vec<_>>(),
        "calls": page.calls.iter().map(called_in).collect::<Vec<_>>(),
        "reviews": page.again.iter().map(|one| review(one, page.farm, page.rules)).collect::<Vec<_>>(),
    })
}

/// Fields of an animal of the list, in the order of a table.
const FIELDS: [&str; 6] = ["animal", "reason", "why", "came", "missed", "last"];

fn row(page: &Page, line: &Line) -> Value {
    let whys: Vec<String> = line.why.iter().map(|why| page.why(line, why)).collect();
    json!({
        "animal": called(&line.labels),
        "reason": line.why.first().map(|why| why.reason().word()),
        "why": whys,
        "came": line.came.map(Came::word),
        "missed": line.missed.map(|on| on.to_string()),
        "last": line.last.as_ref().map(|turn| turn.on.to_string()),
    })
}

/// A call of the farm about itself: `date, words, urgent`.
pub fn called_in(call: &FarmCall) -> Value {
    json!({ "date": call.on.to_string(), "words": call.words, "urgent": call.urgent })
}

fn unseen(unseen: &StillHere) -> Value {
    json!({ "animal": called(&unseen.labels), "last": unseen.last.map(|on| on.to_string()) })
}

/// Rows of a table for what stands beside the list, and is not to be dropped: who is left because she calves soon, who may have left
/// without a word, what the farm called, instructions to be looked at again.
fn beside(page: &Page) -> Vec<Value> {
    let calves = |one: &Spared| {
        let why = format!("due to calve {}", one.due_to_calve);
        json!({ "animal": called(&one.labels), "reason": "spared", "why": why })
    };
    let asked = |of: &StillHere| {
        let mut row = unseen(of);
        row["reason"] = json!("still-here");
        row
    };
    let called = |call: &FarmCall| json!({ "reason": "farm-called", "why": farm_call(call) });
    let reviewed = |one: &Review| json!({ "reason": "review", "why": page.review(one) });
    let of_animals = page.list.spared.iter().map(calves).chain(page.list.still_here.iter().map(asked));
    of_animals.chain(page.calls.iter().map(called)).chain(page.again.iter().map(reviewed)).collect()
}
