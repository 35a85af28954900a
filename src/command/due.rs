//! `due`: what must come off and what must be looked at again.

use super::fault::Fault;
use super::{Cli, Done, Form, Here, book};
use crate::domain::follow_up::rules::Rules;
use crate::domain::follow_up::{DueItem, list};
use crate::domain::vocabulary::Vocabulary;
use crate::report::due::{reason, since, table};
use crate::store::Store;
use chrono::NaiveDate;
use serde_json::{Map, Value};
use std::io::Write;

/// Prints the due list.
///
/// # Errors
/// An unknown farm; what the store says.
pub fn run(cli: &Cli, here: &Here, farm: Option<&str>, form: Form, out: &mut dyn Write) -> Result<Done, Fault> {
    let (store, problems) = book::open(cli.book.as_deref())?;
    print(&store, farm, cli.day(here), form, out)?;
    if form == Form::Text {
        for problem in problems {
            writeln!(out, "note: {problem}")?;
        }
    }
    store.close()?;
    Ok(Done::Code(0))
}

/// Prints the due list of a store.
///
/// # Errors
/// An unknown farm; what the store says.
pub fn print(
    store: &Store,
    farm: Option<&str>,
    today: NaiveDate,
    form: Form,
    out: &mut dyn Write,
) -> Result<(), Fault> {
    let only = match farm {
        Some(_) => Some(book::farm(store, farm)?.farm),
        None => None,
    };
    let (open, _) = store.open_items(only)?;
    let (farms, _) = store.farms()?;
    let name = |item: &DueItem<'_>| {
        farms.iter().find(|row| row.farm == item.open.farm).map_or("", |row| row.name.as_str()).to_owned()
    };
    let items = list(&open, &Rules::default(), today);
    match form {
        Form::Text => {
            for line in table(&items, name, today) {
                writeln!(out, "{line}")?;
            }
        }
        Form::Json => {
            let rows: Vec<Value> = items.iter().map(|item| json(item, &name(item), today)).collect();
            let text = serde_json::to_string_pretty(&rows)
                .map_err(|error| Fault::failed(error.to_string(), "this is a fault of the program"))?;
            writeln!(out, "{text}")?;
        }
    }
    Ok(())
}

/// One item with stable field names.
pub fn json(item: &DueItem<'_>, farm: &str, today: NaiveDate) -> Value {
    let place = item.item.place();
    let mut row = Map::new();
    row.insert("farm".into(), farm.into());
    row.insert("animal".into(), item.open.labels.number.as_str().into());
    row.insert("foot".into(), place.foot().map(Vocabulary::word).into());
    row.insert("claw".into(), place.side().map(Vocabulary::word).into());
    row.insert("what".into(), item.due.what.word().into());
    row.insert("since".into(), since(item.item).to_string().into());
    row.insert("due".into(), item.due.day.to_string().into());
    row.insert("state".into(), item.due.urgency.word().into());
    row.insert("reason".into(), reason(item, today).into());
    Value::Object(row)
}
