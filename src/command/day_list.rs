//! `crushbook day-list`: who should come through on a day and why, as a page to tick off, as JSON, or as sheets to write upon.

use super::cli::{Cli, DayListForm};
use super::farm::Farms;
use super::fault::Fault;
use super::json::{NEUTRAL, review, table, written};
use super::{World, note, place, practice, rules, today};
use crate::domain::day_list::{DayList, Line, day_list as listed};
use crate::domain::event::Event;
use crate::domain::history::TurnState;
use crate::domain::history::standing::Standing;
use crate::domain::ids::FarmId;
use crate::domain::sheet::of::called;
use crate::domain::vocabulary::Vocabulary;
use crate::report::day_list::Page;
use crate::store::Store;
use chrono::NaiveDate;
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
        let mut records = Vec::with_capacity(animals.len());
        for row in animals {
            let (of_her, problems) = store.records(row.animal.0)?;
            note(world, &problems)?;
            let known = of_her.into_iter().filter(|record| record.on <= today);
            records.push((row.animal, known.collect()));
        }
        let list = listed(&records, &rules, today);
        let calls = calls(store, farm, &list, today)?;
        let name = farms.name(farm);
        let again = farms.reviews(Some(farm), &rules, today);
        let words = match form {
            DayListForm::Text => practice::words(cli, world)?,
            DayListForm::Json | DayListForm::Csv | DayListForm::Sheet => NEUTRAL,
        };
        let page = Page { list: &list, farm: &name, calls: &calls, again: &again, rules: &rules, today, words };
        match form {
            DayListForm::Text => write!(world.out, "{}", page.text())?,
            DayListForm::Sheet => write!(world.out, "{}", page.sheets(blank))?,
            DayListForm::Csv => {
                let rows: Vec<Value> = list.expected.iter().chain(&list.unasked).map(|line| row(&page, line)).collect();
                write!(world.out, "{}", table(&FIELDS, &rows)?)?;
            }
            DayListForm::Json => writeln!(world.out, "{}", written(&json(&page)))?,
        }
        Ok(())
    })
}

/// What the farm called about itself since anybody of it was last in the crush.
fn calls(store: &Store, farm: FarmId, list: &DayList, today: NaiveDate) -> Result<Vec<(NaiveDate, String)>, Fault> {
    let (records, _) = store.records(farm.0)?;
    let turns = list.expected.iter().chain(&list.unasked).filter_map(|line| line.last.as_ref());
    let last = turns.map(|turn| turn.on).max();
    let since = |on: NaiveDate| on <= today && last.is_none_or(|last| on > last);
    let standing = Standing::of(records);
    let of_it = standing.records().iter().filter(|record| record.about == farm.0 && since(record.on));
    let called = of_it.filter_map(|record| match record.event() {
        Some(Event::FarmCalled { words, .. }) => Some((record.on, words.clone())),
        Some(_) | None => None,
    });
    Ok(called.collect())
}

/// `farm, date, expected, done`, `animals[]` with `animal, reason, why[], came, missed, last`, `unasked[]` likewise, `spared[]` with
/// `animal, due_to_calve`, `calls[]` with `date, words`, `reviews[]` as in the due list.
fn json(page: &Page) -> Value {
    let row = |line: &Line| row(page, line);
    let (expected, done) = page.list.done();
    let spared = page
        .list
        .spared
        .iter()
        .map(|spared| json!({ "animal": called(&spared.labels), "due_to_calve": spared.due_to_calve.to_string() }));
    json!({
        "farm": page.farm,
        "date": page.today.to_string(),
        "expected": expected,
        "done": done,
        "animals": page.list.expected.iter().map(row).collect::<Vec<_>>(),
        "unasked": page.list.unasked.iter().map(row).collect::<Vec<_>>(),
        "spared": spared.collect::<Vec<_>>(),
        "reviews": page.again.iter().map(|one| review(one, page.farm, page.rules)).collect::<Vec<_>>(),
        "calls": page.calls.iter().map(|(on, words)| json!({ "date": on.to_string(), "words": words })).collect::<Vec<_>>(),
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
        "came": line.came.map(state),
        "missed": line.missed.map(|on| on.to_string()),
        "last": line.last.as_ref().map(|turn| turn.on.to_string()),
    })
}

fn state(state: TurnState) -> &'static str {
    match state {
        TurnState::Open => "in-the-crush",
        TurnState::Paused => "set-aside",
        TurnState::Signed => "done",
    }
}
