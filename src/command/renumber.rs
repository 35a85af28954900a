//! `crushbook renumber`: another number, tag, electronic number or name. The old one still finds her.

use super::cli::Cli;
use super::farm::Farms;
use super::fault::Fault;
use super::twice::write;
use super::{World, note, place};
use crate::domain::event::Event;
use crate::domain::history::History;
use crate::report::due::called;
use crate::report::safe::safe;

/// Writes what is new on an animal.
///
/// # Errors
/// An animal that is not there; a number that another wears.
pub fn renumber(cli: &Cli, world: &mut World, number: &str, farm: Option<&str>, new: &NewLabels) -> Result<(), Fault> {
    place::with_book(cli, world, |store, world| {
        let (farms, problems) = Farms::of(store)?;
        note(world, &problems)?;
        let farm = farms.meant(farm)?;
        let name = farms.name(farm);
        let animal = super::animal::meant(store, farm, &name, number)?;
        let history = History::of(store.records(animal.0)?.0, animal);
        let mut labels = history.labels.clone();
        let fields = [
            (&new.number, &mut labels.number),
            (&new.tag, &mut labels.tag),
            (&new.electronic, &mut labels.electronic),
            (&new.name, &mut labels.name),
        ];
        for (told, field) in fields {
            if let Some(told) = told {
                told.trim().clone_into(field);
            }
        }
        if labels == history.labels {
            let hint = "Say what is new: --number, --tag, --electronic or --name.";
            return Err(Fault::usage(format!("{} is called so already", safe(number)), hint));
        }
        let is_new =
            |told: &Option<String>| told.as_deref().map(str::trim).filter(|told| !told.is_empty()).map(str::to_owned);
        for told in [&new.number, &new.tag, &new.electronic].into_iter().filter_map(is_new) {
            let (rows, _) = store.find(farm, &told)?;
            let another = rows.iter().any(|row| row.current && row.left.is_none() && row.of != animal);
            if another && !new.shared {
                return Err(Fault::failed(
                    format!("another animal of {} is called {}", safe(&name), safe(&told)),
                    "If they are one, join them with crushbook twice join; if both bear it, say --shared.",
                ));
            }
        }
        let before = called(&history.labels);
        let after = called(&labels);
        write(store, cli, world, animal.0, Event::Renumbered { animal, labels })?;
        writeln!(world.out, "{before} is now {after}")?;
        Ok(())
    })
}

/// What is new on an animal.
pub struct NewLabels {
    /// Working number; empty: she has none any more.
    pub number: Option<String>,
    /// Ear tag.
    pub tag: Option<String>,
    /// Electronic number.
    pub electronic: Option<String>,
    /// Name.
    pub name: Option<String>,
    /// Whether another may bear it too.
    pub shared: bool,
}
