//! `crushbook undo`: takes back what was last written about a farm and its herd without the screens: a fact, an instruction, a
//! herd list, animals that are gone, a scoring walk. Undo of the screens is for the press just made and knows nothing of these.

use super::cli::Cli;
use super::farm::Farms;
use super::fault::Fault;
use super::press::press;
use super::{World, note, place, practice};
use crate::domain::event::Event;
use crate::domain::history::standing::Standing;
use crate::domain::ids::{FarmId, RecordId};
use crate::domain::record::Record;
use crate::report::due::called;
use crate::report::safe::safe;
use crate::report::words;
use crate::store::Store;
use crate::store::error::StoreError;
use std::collections::{BTreeMap, BTreeSet};

/// Lines of a press that are written out.
const LISTED: usize = 5;

/// Shows what would be taken back, or takes it back.
///
/// # Errors
/// Nothing to take back; somebody whom it began, and of whom more was written since.
pub fn undo(cli: &Cli, world: &mut World, farm: Option<&str>, yes: bool) -> Result<(), Fault> {
    place::with_book(cli, world, |store, world| {
        let (farms, problems) = Farms::of(store)?;
        note(world, &problems)?;
        let farm = farms.meant(farm)?;
        let written = Written::of(store, farm)?;
        let Some(last) = written.last(store.series()) else {
            let what =
                format!("nothing was written about {} from here that could be taken back", safe(&farms.name(farm)));
            return Err(Fault::failed(what, "What another tablet wrote is corrected there, or said anew here."));
        };
        if let Some(who) = written.gone_on(&last) {
            let what = format!("more was written since of {}, whom this began", safe(&who));
            return Err(Fault::failed(what, "Nothing was taken back. Say what is wrong one by one instead."));
        }
        if written.visited(&last) {
            let hint = "Nothing was taken back. Say what is wrong of the visit with crushbook visit instead.";
            return Err(Fault::failed("animals came in the visit that this began", hint));
        }
        let words = practice::words(cli, world)?;
        writeln!(world.out, "Written on {}:", words::day(last[0].on))?;
        let list = last.iter().filter(|record| is_of_farm(record));
        let said: Vec<&&Record> = if list.clone().next().is_some() { list.collect() } else { last.iter().collect() };
        for record in said.iter().take(LISTED) {
            let who = written.called(record.about).filter(|_| record.about != farm.0);
            let who = who.map_or(String::new(), |who| format!("{}: ", safe(&who)));
            let event = record.event().map_or(String::new(), |event| words.event(event));
            writeln!(world.out, "  {who}{event}")?;
        }
        if let more @ 1.. = said.len().saturating_sub(LISTED) {
            writeln!(world.out, "  and {more} more")?;
        }
        if !yes {
            writeln!(world.out, "Nothing was taken back yet: --yes takes it back.")?;
            return Ok(());
        }
        let about: BTreeSet<RecordId> = last.iter().map(|record| record.about).collect();
        let undone = Event::Undone { press: last[0].press_id() };
        press(store, cli, world, about.into_iter().map(|about| (about, undone.clone())).collect())?;
        writeln!(world.out, "Taken back.")?;
        Ok(())
    })
}

/// What stands of a farm and its animals, by whom it is about.
struct Written {
    records: BTreeMap<RecordId, Vec<Record>>,
}

impl Written {
    fn of(store: &Store, farm: FarmId) -> Result<Written, StoreError> {
        let animals = store.animals(farm)?.0;
        let subjects: BTreeSet<RecordId> = animals.iter().map(|row| row.of.0).chain(std::iter::once(farm.0)).collect();
        let mut records: BTreeMap<RecordId, Vec<Record>> = BTreeMap::new();
        let mut met = BTreeSet::new();
        for subject in subjects {
            for record in Standing::of(store.records(subject)?.0).records() {
                if met.insert(record.id) {
                    records.entry(record.about).or_default().push(record.clone());
                }
            }
        }
        Ok(Written { records })
    }

    fn all(&self) -> impl Iterator<Item = &Record> {
        self.records.values().flatten()
    }

    /// The newest press of a series that a command like these wrote.
    fn last(&self, series: u64) -> Option<Vec<&Record>> {
        let mut presses: BTreeMap<u64, Vec<&Record>> = BTreeMap::new();
        for record in self.all().filter(|record| record.id.series == series) {
            presses.entry(record.press).or_default().push(record);
        }
        let mut last =
            presses.into_values().rev().find(|press| press.iter().all(|record| record.event().is_some_and(is_ours)))?;
        last.sort_by_key(|record| record.id);
        Some(last)
    }

    /// Whoever was begun by a press and has more recorded since; taken back, that would be about nobody. What was taken back again
    /// does not stand, and that it was says nothing more of her.
    fn gone_on(&self, press: &[&Record]) -> Option<String> {
        let begun = press
            .iter()
            .filter(|record| matches!(record.event(), Some(Event::AnimalBegun { .. } | Event::FarmBegun { .. })));
        let more = |record: &&&Record| {
            let speaks = |other: &Record| match other.event() {
                Some(Event::Undone { .. }) => false,
                event => other.about == record.id || event.and_then(Event::also_about) == Some(record.id),
            };
            self.all().any(|other| speaks(other) && other.press_id() != record.press_id())
        };
        begun.clone().find(more).map(|record| self.called(record.id).unwrap_or_default())
    }

    /// Whether animals came into the crush in a visit that a press began; taken back, they would have come in none.
    fn visited(&self, press: &[&Record]) -> bool {
        let begun = press.iter().filter(|record| matches!(record.event(), Some(Event::VisitBegun { .. })));
        let ids: BTreeSet<RecordId> = begun.map(|record| record.id).collect();
        self.all().any(|other| matches!(other.event(), Some(Event::TurnBegun { visit, .. }) if ids.contains(&visit.0)))
    }

    /// What somebody was begun as.
    fn called(&self, subject: RecordId) -> Option<String> {
        self.records.get(&subject)?.iter().find_map(|record| match record.event() {
            Some(Event::AnimalBegun { labels, .. }) => Some(called(labels)),
            Some(Event::FarmBegun { name }) => Some(name.clone()),
            Some(_) | None => None,
        })
    }
}

/// Whether it says something of the farm itself: in the press of a herd list that stands for all of it.
fn is_of_farm(record: &Record) -> bool {
    matches!(record.event(), Some(Event::FarmDescribed { .. } | Event::ContactTold { .. }))
}

/// Whether a command of farm and herd writes such events.
fn is_ours(event: &Event) -> bool {
    matches!(
        event,
        Event::FarmBegun { .. }
            | Event::FarmDescribed { .. }
            | Event::ContactTold { .. }
            | Event::FarmCalled { .. }
            | Event::FarmChanged { .. }
            | Event::Instructed { .. }
            | Event::InstructionEnded { .. }
            | Event::InstructionReviewed { .. }
            | Event::AnimalBegun { .. }
            | Event::Described { .. }
            | Event::Renumbered { .. }
            | Event::Left { .. }
            | Event::CameBack { .. }
            | Event::Walked { turn: None, .. }
            | Event::VisitBegun { .. }
            | Event::VisitPaused { .. }
            | Event::VisitClosed { .. }
            | Event::VisitDescribed { .. }
    )
}
