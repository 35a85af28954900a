//! `demo`: a fresh copy of the sample herd, moved so that its last day is today.

use super::fault::Fault;
use super::ledger::Ledger;
use super::{Cli, Done, Form, Here, book, due, enter};
use crate::domain::history::History;
use crate::domain::sheet::shift::moved_herd;
use crate::report::animal;
use crate::store::Store;
use crate::wire::{herd_csv, sheet};
use chrono::{NaiveDate, TimeDelta};
use std::io::Write;

/// The herd list.
const HERD: &str = include_str!("../../sample-herd/herd.csv");

macro_rules! sheets {
    ($($name:literal)+) => { &[$(($name, include_str!(concat!("../../sample-herd/", $name)))),+] };
}

/// The sheets in the order of their days; the last is today.
pub const SHEETS: &[(&str, &str)] = sheets! {
    "2025-11-13.txt" "2025-11-27.txt" "2025-12-11.txt" "2026-01-08.txt" "2026-01-22.txt" "2026-01-26.txt"
    "2026-02-05.txt" "2026-02-14.txt" "2026-02-19.txt" "2026-02-23.txt" "2026-03-05.txt" "2026-03-19.txt"
    "2026-03-24.txt" "2026-04-02.txt" "2026-04-16.txt" "2026-04-30.txt" "2026-05-05.txt" "2026-05-14.txt"
};

/// The animal whose map is shown where output is no terminal.
const SHOWN: &str = "1400";

/// Fills a book with the sample herd and opens it, or prints what it holds.
///
/// # Errors
/// A book named with `--book` that holds something already; what the store says.
pub fn run(cli: &Cli, here: &Here, out: &mut dyn Write) -> Result<Done, Fault> {
    let folder = match &cli.book {
        Some(_) => None,
        None => Some(tempfile::tempdir().map_err(|error| {
            Fault::failed(format!("no temporary folder: {error}"), "name a file to keep it in with --book")
        })?),
    };
    let path = folder.as_ref().map(|folder| folder.path().join("sample-herd")).or_else(|| cli.book.clone());
    let (mut store, problems) = book::open(path.as_deref())?;
    let today = cli.day(here);
    if store.farms()?.0.is_empty() {
        fill(&mut store, today, here)?;
    } else if store.farms()?.0.iter().all(|row| row.name != "Quillbarrow") {
        return Err(Fault::usage("that book is not empty", "the sample herd goes into a new file only"));
    }
    if here.terminal {
        return Ok(Done::Screens(Box::new(store), folder, problems));
    }
    print(&store, today, out)?;
    store.close()?;
    Ok(Done::Code(0))
}

/// Enters the sample herd, its days moved so that the last sheet's is `today`.
///
/// # Errors
/// A sheet of the sample herd that cannot be entered: then the program is at fault.
pub fn fill(store: &mut Store, today: NaiveDate, here: &Here) -> Result<(), Fault> {
    let broken = |causes: Vec<String>| {
        Fault::failed("the sample herd cannot be entered", "this is a fault of the program").because(causes)
    };
    let mut readings = Vec::new();
    for (name, text) in SHEETS {
        let reading =
            sheet::read(text, name).map_err(|mistakes| broken(mistakes.iter().map(ToString::to_string).collect()))?;
        readings.push((*name, reading));
    }
    let (Some(first), Some(last)) = (readings.first(), readings.last()) else { return Ok(()) };
    let by: TimeDelta = today - last.1.sheet.on;
    let farm_name = first.1.sheet.farm.clone();
    let begun = first.1.sheet.on + by - TimeDelta::days(1);
    let mut ledger = Ledger::new(store, here.now);
    let farm = ledger.begin_farm(begun, &farm_name);
    let herd = herd_csv::read(HERD.as_bytes(), "herd.csv");
    for row in herd.rows {
        let moved = moved_herd(row.herd, by).ok_or_else(|| broken(vec!["a day beyond the calendar".into()]))?;
        ledger.begin_animal(begun, farm, row.labels, Some(moved));
    }
    for (name, mut reading) in readings {
        let moved = reading.sheet.moved(by).ok_or_else(|| broken(vec!["a day beyond the calendar".into()]))?;
        reading.sheet = moved;
        enter::sheet(&mut ledger, &reading, name, false)?
            .map_err(|mistakes| broken(mistakes.iter().map(ToString::to_string).collect()))?;
    }
    ledger.commit()?;
    Ok(())
}

fn print(store: &Store, today: NaiveDate, out: &mut dyn Write) -> Result<(), Fault> {
    writeln!(out, "The sample herd as it stands today. What is due, most urgent first:\n")?;
    due::print(store, None, today, Form::Text, out)?;
    let farm = book::farm(store, None)?;
    let (rows, _) = store.find(farm.farm, SHOWN)?;
    if let Some(row) = rows.first() {
        let history = History::of(store.records(row.of.0)?.0, row.of);
        writeln!(out, "\n{} as she stands:\n", row.labels.number)?;
        let rules = crate::domain::follow_up::rules::Rules::default();
        for line in animal::glance(&history, &rules, today) {
            writeln!(out, "{line}")?;
        }
    }
    writeln!(out, "\nA record and a reminder, no diagnosis: treatment belongs to the vet and to local law.")?;
    writeln!(out, "This output is no terminal. To open the screens, run in a terminal: crushbook demo")?;
    Ok(())
}
