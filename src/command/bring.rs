//! Taking in what another tablet recorded, wherever it comes from, and saying in words what it changed: how much was new, on
//! which farms, what is due that was not known here, where two tablets disagree, and what is missing still.

use super::cli::Cli;
use super::farm::Farms;
use super::fault::Fault;
use super::progress::Progress;
use super::{World, practice, rules, today, twice};
use crate::domain::follow_up::What;
use crate::domain::follow_up::list::{DueItem, list};
use crate::domain::history::History;
use crate::domain::ids::{FarmId, RecordId};
use crate::report;
use crate::report::due::called;
use crate::report::safe::safe;
use crate::store::Store;
use crate::store::error::{Problem, StoreError};
use crate::store::take::{Step, Taken};
use crate::wire::envelope::Raw;
use std::cell::{Cell, RefCell};
use std::collections::BTreeSet;

/// Lines of one kind that are written out; the rest is counted.
const LISTED: usize = 20;

/// What a source tells while it is read: how far it is, and what is wrong with it.
#[derive(Default)]
pub struct Told {
    /// So much was read.
    pub done: Cell<u64>,
    /// Of so much; 0 where nobody knows.
    pub of: u64,
    /// Problems that are written out.
    listed: RefCell<Vec<String>>,
    /// Problems in all.
    count: Cell<usize>,
    /// Of them, those for which something was not taken in.
    lost: Cell<usize>,
}

impl Told {
    /// A source of that size.
    pub fn new(of: u64) -> Told {
        Told { of, ..Told::default() }
    }

    /// Notes a problem; `lost` where something that should have come in did not.
    pub fn note(&self, problem: &str, lost: bool) {
        let count = self.count.get() + 1;
        self.count.set(count);
        self.lost.set(self.lost.get() + usize::from(lost));
        if count <= LISTED {
            self.listed.borrow_mut().push(problem.to_owned());
        }
    }
}

/// What is due, as it can be compared before and after.
type Due = BTreeSet<(RecordId, What)>;

/// Takes in all of it, in one commit, and says what came of it; gives the exit code: 1 where something was lost on the way.
pub fn bring(
    cli: &Cli,
    world: &mut World,
    store: &mut Store,
    told: &Told,
    from: &mut dyn Iterator<Item = Result<Raw, Problem>>,
) -> Result<u8, Fault> {
    let before = due(cli, world, store)?;
    let mut progress = Progress::new(world.watched);
    // A problem of one record is told like one of its source.
    let mut records = from.filter_map(|given| match given {
        Ok(raw) => Some(Ok(raw)),
        Err(problem) => {
            told.note(&problem.to_string(), true);
            None
        }
    });
    let (err, stop) = (&mut *world.err, world.stop);
    let taken = store.take_watched(&mut records, &mut |step| {
        match step {
            Step::Reading(_) if told.of == 0 => {}
            Step::Reading(_) => progress.show(err, "reading", told.done.get(), told.of),
            Step::Adding(done, of) => progress.show(err, "adding up", done as u64, of as u64),
        }
        stop().is_none()
    });
    progress.clear(world.err);
    let taken = taken.map_err(|why| match why {
        StoreError::Stopped => Fault::from(why).stopped_by((world.stop)()),
        other => Fault::from(other),
    })?;
    taken.problems.iter().for_each(|problem| told.note(&problem.to_string(), true));
    say(cli, world, store, (&taken, &before))?;
    complain(world, &taken, told)
}

/// Everything on the due list by what it stands on.
fn due(cli: &Cli, world: &mut World, store: &Store) -> Result<Due, Fault> {
    let (open, _) = store.open_items(None)?;
    let (rules, today) = (rules::in_force(store)?.0, today(cli, world));
    Ok(list(&open, &rules, today).items.iter().map(key).collect())
}

fn key(item: &DueItem<'_>) -> (RecordId, What) {
    (item.item.id(), item.due.what)
}

fn say(cli: &Cli, world: &mut World, store: &Store, (taken, before): (&Taken, &Due)) -> Result<(), Fault> {
    let new = taken.new + taken.forks.len() as u64;
    match (new, taken.held) {
        (0, 0) => writeln!(world.out, "No record was in it.")?,
        (0, held) => writeln!(world.out, "Nothing is new: {} here already.", were(held))?,
        (new, 0) => writeln!(world.out, "{} new.", are(new))?,
        (new, held) => writeln!(world.out, "{} new; {} here already.", are(new), were(held))?,
    }
    if new > 0 {
        let (farms, _) = Farms::of(store)?;
        for (farm, animals) in taken.farms.iter().filter(|(farm, _)| farm.0 != RecordId::PRACTICE) {
            let animals = if *animals == 1 { "1 animal".to_owned() } else { format!("{animals} animals") };
            writeln!(world.out, "  {}: {animals}", safe(&farms.name(*farm)))?;
        }
        newly_due(cli, world, store, &farms, before)?;
        differing(cli, world, store, &farms, taken)?;
        match twice::offered(store, world)? {
            0 => {}
            1 => writeln!(world.out, "One pair may be in the book twice now: crushbook twice shows it.")?,
            pairs => writeln!(world.out, "{pairs} pairs may be in the book twice now: crushbook twice shows them.")?,
        }
    }
    for (series, first, last) in store.gaps() {
        let numbers = if first == last { format!("Number {first}") } else { format!("Numbers {first} to {last}") };
        let verb = if first == last { "is" } else { "are" };
        writeln!(world.out, "{numbers} of series {series:016x} {verb} not here; another tablet may have them.")?;
    }
    Ok(())
}

fn are(records: u64) -> String {
    if records == 1 { "1 record is".to_owned() } else { format!("{records} records are") }
}

fn were(records: u64) -> String {
    if records == 1 { "1 record was".to_owned() } else { format!("{records} records were") }
}

/// What is on the due list now and was not.
fn newly_due(cli: &Cli, world: &mut World, store: &Store, farms: &Farms, before: &Due) -> Result<(), Fault> {
    let (open, _) = store.open_items(None)?;
    let (rules, today) = (rules::in_force(store)?.0, today(cli, world));
    let mut list = list(&open, &rules, today);
    list.items.retain(|item| !before.contains(&key(item)));
    list.unseen.clear();
    if list.items.len() > LISTED {
        let count = list.items.len();
        writeln!(world.out, "{count} things on the due list were not known here; crushbook due shows it.")?;
    } else if !list.items.is_empty() {
        let words = practice::words(cli, world)?;
        let name = |farm: FarmId| farms.name(farm);
        writeln!(
            world.out,
            "\nNot known here until now.\n{}",
            report::due::text((&list, &[]), &name, (&rules, today), words)
        )?;
    }
    Ok(())
}

/// Where two tablets disagree about an animal with something new.
fn differing(cli: &Cli, world: &mut World, store: &Store, farms: &Farms, taken: &Taken) -> Result<(), Fault> {
    if taken.differing.is_empty() {
        return Ok(());
    }
    let words = practice::words(cli, world)?;
    writeln!(world.out, "Two tablets disagree; both facts are kept. Look again at the next lifting:")?;
    for (farm, animal) in taken.differing.iter().take(LISTED) {
        let (records, _) = store.records(animal.0)?;
        let history = History::of(records, *animal);
        let who = safe(&format!("{} {}", farms.name(*farm), called(&history.labels)));
        for line in report::disagreement::lines(&history, words) {
            writeln!(world.out, "  {}: {line}", who.trim())?;
        }
    }
    if let more @ 1.. = taken.differing.len().saturating_sub(LISTED) {
        writeln!(world.out, "  and {more} more animals; crushbook animal tells of each")?;
    }
    Ok(())
}

/// Says what was wrong, and whether anything was lost by it.
fn complain(world: &mut World, taken: &Taken, told: &Told) -> Result<u8, Fault> {
    for fork in &taken.forks {
        told.note(&Problem::Fork(*fork).to_string(), false);
    }
    for problem in told.listed.borrow().iter() {
        writeln!(world.err, "crushbook: {}", safe(problem))?;
    }
    if let more @ 1.. = told.count.get().saturating_sub(LISTED) {
        writeln!(world.err, "crushbook: and {more} more of them")?;
    }
    match told.lost.get() {
        0 => Ok(0),
        lost => {
            let problems = if lost == 1 { "1 problem".to_owned() } else { format!("{lost} problems") };
            let rest = match taken.new + taken.held {
                0 => "nothing was taken in, and nothing was changed",
                _ => "all that is whole was taken in, and nothing else was changed",
            };
            writeln!(world.err, "crushbook: {problems}; {rest}.")?;
            Ok(1)
        }
    }
}
