//! `crushbook demo`: the sample herd in a book of its own, with its days moved so that it is always now.

use super::animal::meant;
use super::cli::Cli;
use super::desk::{Day, Desk};
use super::enter::{Given, enter_sheet, sheets_in, take};
use super::farm::Farms;
use super::fault::Fault;
use super::form::ListForm;
use super::sample::{FARMS, NEW_LIST, SampleFarm};
use super::{Next, Opened, World, due, opened, place, practice, rules, today};
use crate::domain::follow_up::list::list;
use crate::domain::follow_up::rules::Rules;
use crate::domain::herd_list::figures::Figures;
use crate::domain::history::History;
use crate::domain::history::open::OpenItem;
use crate::domain::ids::{AnimalId, FarmId};
use crate::domain::sheet::Sheet;
use crate::domain::sheet::shift::moved_herd;
use crate::report::animal::{head, last_map};
use crate::store::Store;
use crate::wire::herd_csv;
use chrono::{NaiveDate, TimeDelta};
use std::path::Path;

/// The farm the demo opens with.
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
    if world.terminal || cli.plain {
        // The sample herd can always be entered again.
        let mut opened = Opened { kept, ..opened(cli, store, &book, Some(FARM.to_owned())) };
        opened.practice.backups = None;
        if opened.kept.is_some() {
            lay_out_list(&opened.lists)?;
        }
        return Ok(Next::of(opened, cli, world));
    }
    print(&store, cli, world)?;
    store.close()?;
    Ok(Next::Done(0))
}

/// Puts the list that can be tried where the screens look for one.
fn lay_out_list(folder: &Path) -> Result<(), Fault> {
    let (name, list) = NEW_LIST;
    let written = std::fs::create_dir_all(folder).and_then(|()| std::fs::write(folder.join(name), list));
    written.map_err(|why| {
        Fault::failed(format!("{} cannot be written: {why}", folder.display()), "Name a file with --book FILE.")
    })
}

/// Enters all farms into an empty book: their lists first, then every sheet by day, in one piece.
pub fn fill(store: &mut Store, today: NaiveDate, world: &mut World) -> Result<(), Fault> {
    let records = {
        let mut desk = Desk::new(store, world.now)?;
        write_out(&mut desk, today)?;
        desk.done().0
    };
    take(store, &records, world)
}

fn write_out(desk: &mut Desk, today: NaiveDate) -> Result<(), Fault> {
    let farms = FARMS.iter().map(given).collect::<Result<Vec<_>, _>>()?;
    let Some(last) = farms.iter().flatten().map(|sheet| sheet.reading.sheet.on).max() else { return Ok(()) };
    let by = today - last;
    let mut sheets = Vec::new();
    for (farm, given) in FARMS.iter().zip(farms) {
        let given = given.into_iter().map(|sheet| moved(sheet, by)).collect::<Result<Vec<_>, _>>()?;
        if let Some(first) = given.first() {
            begin(desk, farm, &first.reading.sheet, by)?;
        }
        sheets.extend(given);
    }
    // In the order in which it happened: one trimmer drives from farm to farm.
    sheets.sort_by_key(|sheet| sheet.reading.sheet.on);
    let mut mistakes = Vec::new();
    for sheet in &sheets {
        enter_sheet(desk, sheet, false, &mut mistakes)?;
    }
    if mistakes.is_empty() { Ok(()) } else { Err(broken(&mistakes)) }
}

/// The sheets of a farm, read.
fn given(farm: &SampleFarm) -> Result<Vec<Given>, Fault> {
    let sheets = farm.sheets.iter().flat_map(|(day, text)| sheets_in(text, &format!("{}/{day}", farm.folder)));
    sheets.map(|sheet| sheet.map_err(|mistakes| broken(&mistakes))).collect()
}

fn moved(mut given: Given, by: TimeDelta) -> Result<Given, Fault> {
    given.reading.sheet = given.reading.sheet.moved(by).ok_or_else(out_of_time)?;
    Ok(given)
}

/// Begins a farm with its herd list, on the day of its first sheet and by whoever wrote that.
fn begin(desk: &mut Desk, farm: &SampleFarm, first: &Sheet, by: TimeDelta) -> Result<(), Fault> {
    let day = Day { on: first.on, by: desk.person(&first.by, first.on)? };
    let id = desk.begin_farm(&first.farm, day)?;
    for row in herd_csv::read(farm.list, "herd.csv", Figures::Unsaid).rows {
        let herd = moved_herd(row.herd, by).ok_or_else(out_of_time)?;
        desk.begin_animal(id, row.labels, Some(herd), day)?;
    }
    Ok(())
}

fn out_of_time() -> Fault {
    Fault::usage("that day is beyond the calendar", "Name a nearer day with --today.")
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
