//! `crushbook due`: what is due, as text or as JSON.

use super::cli::Cli;
use super::farm::Farms;
use super::fault::Fault;
use super::form::ListForm;
use super::{World, json, note, place, practice, rules, today};
use crate::domain::follow_up::given_up::without_routine;
use crate::domain::follow_up::list::list;
use crate::domain::ids::FarmId;
use crate::report;
use crate::store::Store;

/// Prints what is due on a farm, or on all.
pub fn due(cli: &Cli, world: &mut World, farm: Option<&str>, form: ListForm) -> Result<(), Fault> {
    place::with_book(cli, world, |store, world| write(store, cli, world, farm, form))
}

/// Writes what is due in an open book.
pub fn write(store: &Store, cli: &Cli, world: &mut World, farm: Option<&str>, form: ListForm) -> Result<(), Fault> {
    let (farms, problems) = Farms::of(store)?;
    note(world, &problems)?;
    let farm: Option<FarmId> = farm.map(|name| farms.meant(Some(name))).transpose()?;
    let (mut open, problems) = store.open_items(farm)?;
    note(world, &problems)?;
    without_routine(&mut open, farms.given_up());
    let today = today(cli, world);
    let rules = rules::for_list(store, world)?;
    let items = list(&open, &rules, today);
    let again = farms.reviews(farm, &rules, today);
    match form {
        ListForm::Text => {
            let words = practice::words(cli, world)?;
            write!(
                world.out,
                "{}",
                report::due::text((&items, &again), &|farm| farms.name(farm), (&rules, today), words)
            )?;
        }
        ListForm::Json => {
            let value = json::due((&items, &again), &|farm| farms.name(farm), (&rules, today));
            writeln!(world.out, "{}", json::written(&value))?;
        }
    }
    Ok(())
}
