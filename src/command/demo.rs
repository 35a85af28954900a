//! `crushbook demo`: the sample herd in a book of its own, with its days moved so that it is always now.

use super::animal::meant;
use super::cli::{Cli, ListForm};
use super::desk::{Day, Desk};
use super::enter::{enter_sheet, sheets_in, take};
use super::farm::Farms;
use super::fault::Fault;
use super::{Next, World, due, opened, place, practice, rules, today};
use crate::domain::follow_up::list::list;
use crate::domain::follow_up::rules::Rules;
use crate::domain::history::History;
use crate::domain::history::open::OpenItem;
use crate::domain::ids::{AnimalId, FarmId};
use crate::domain::sheet::shift::moved_herd;
use crate::report::animal::{head, last_map};
use crate::store::Store;
use crate::wire::herd_csv;
use chrono::NaiveDate;

macro_rules! sheets {
    ($($day:literal)+) => { &[$(($day, include_str!(concat!("../../sample-herd/", $day, ".txt"))),)+] };
}

/// The sheets of the sample herd, oldest first; the last is today's.
pub const SHEETS: &[(&str, &str)] = sheets! {
    "2025-11-13" "2025-11-27" "2025-12-11" "2026-01-08" "2026-01-22" "2026-01-26" "2026-02-05" "2026-02-14" "2026-02-19"
    "2026-02-23" "2026-03-05" "2026-03-19" "2026-03-24" "2026-04-02" "2026-04-16" "2026-04-30" "2026-05-05" "2026-05-14"
};

/// The herd list.
pub const HERD: &[u8] = include_bytes!("../../sample-herd/herd.csv");

/// The farm of the sample herd.
pub const FARM: &str = "Quillbarrow";

/// Opens the sample herd: for the screens, or as text where no person sits at a terminal.
pub fn demo(cli: &Cli, world: &mut World) -> Result<Next, Fault> {
    let (book, kept) = match &cli.book {
        Some(book) => (book.clone(), None),
        None => {
            let folder = tempfile::tempdir().map_err(|why| {
                Fault::failed(format!("no temporary folder can be made: {why}"), "Name a file with --book FILE.")
            })?;
            (folder.path().join("demo.redb"), Some(folder))
        }
    };
    let mut store = place::open_at(&book, world)?;
    let (farms, _) = Farms::of(&store)?;
    match farms.named(FARM) {
        Some(_) => {}
        None if farms.is_empty() => fill(&mut store, today(cli, world), world)?,
        None => {
            let what = format!("{} holds farms of its own, and the sample herd is kept out of it", book.display());
            return Err(Fault::failed(what, "Name a new file with --book FILE, or leave it out."));
        }
    }
    if world.terminal {
        return Ok(Next::Screens(Box::new(opened(cli, store, Some(FARM.to_owned()), kept))));
    }
    print(&store, cli, world)?;
    store.close()?;
    Ok(Next::Done(0))
}

/// Enters the whole herd into an empty book: its list first, then every sheet, in one piece.
pub fn fill(store: &mut Store, today: NaiveDate, world: &mut World) -> Result<(), Fault> {
    let records = {
        let mut desk = Desk::new(store, world.now)?;
        write_out(&mut desk, today)?;
        desk.done().0
    };
    take(store, &records, world)
}

fn write_out(desk: &mut Desk, today: NaiveDate) -> Result<(), Fault> {
    let mut given = Vec::new();
    for (name, text) in SHEETS {
        for sheet in sheets_in(text, name) {
            given.push(sheet.map_err(|mistakes| broken(&mistakes))?);
        }
    }
    let (Some(first), Some(last)) = (given.first(), given.last()) else { return Ok(()) };
    let by = today - last.reading.sheet.on;
    let out_of_time = || Fault::usage("that day is beyond the calendar", "Name a nearer day with --today.");
    let begun = first.reading.sheet.on.checked_add_signed(by).ok_or_else(out_of_time)?;
    let day = Day { on: begun, by: None };
    let farm = desk.begin_farm(FARM, day)?;
    for row in herd_csv::read(HERD, "herd.csv").rows {
        let herd = moved_herd(row.herd, by).ok_or_else(out_of_time)?;
        desk.begin_animal(farm, row.labels, Some(herd), day)?;
    }
    let mut mistakes = Vec::new();
    for mut sheet in given {
        sheet.reading.sheet = sheet.reading.sheet.moved(by).ok_or_else(out_of_time)?;
        enter_sheet(desk, &sheet, false, &mut mistakes)?;
    }
    if mistakes.is_empty() { Ok(()) } else { Err(broken(&mistakes)) }
}

fn broken(mistakes: &[crate::wire::sheet::Mistake]) -> Fault {
    let causes = mistakes.iter().map(ToString::to_string).collect();
    Fault::failed("the sample herd cannot be entered", "Report this fault of the program.").because(causes)
}

fn print(store: &Store, cli: &Cli, world: &mut World) -> Result<(), Fault> {
    due::write(store, cli, world, Some(FARM), ListForm::Text)?;
    let farm = Farms::of(store)?.0.meant(Some(FARM))?;
    let (rules, today) = (rules::for_list(store, world)?, today(cli, world));
    let animal = worst(store, farm, &rules, today)?;
    let history = History::of(store.records(animal.0)?.0, animal);
    writeln!(world.out, "\n{}", head(&history, FARM))?;
    let words = practice::words(cli, world)?;
    write!(world.out, "{}", last_map(&history, &rules, today, words))?;
    writeln!(world.out, "\nThe sample herd is invented. Run crushbook demo in a terminal to open the screens.")?;
    Ok(())
}

/// Whoever has the most urgent thing on.
fn worst(store: &Store, farm: FarmId, rules: &Rules, today: NaiveDate) -> Result<AnimalId, Fault> {
    let (open, _) = store.open_items(Some(farm))?;
    let items = list(&open, rules, today).items;
    let on = items.iter().find(|item| matches!(item.item, OpenItem::On { .. }));
    match on.or(items.first()) {
        Some(item) => Ok(item.open.animal),
        None => meant(store, farm, FARM, "1382"),
    }
}
