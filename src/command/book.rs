//! Where the book is, and opening it.

use super::Done;
use super::fault::Fault;
use crate::domain::herd::FarmFact;
use crate::store::Store;
use crate::store::medium::{Medium, hand_beside};
use crate::store::open::random;
use crate::wire::rows::FarmRow;
use etcetera::{BaseStrategy, choose_base_strategy};
use std::io::Write;
use std::path::{Path, PathBuf};

/// Folders by the custom of the system.
pub struct Folders {
    /// The book.
    pub data: PathBuf,
    /// Keymaps and rules.
    pub config: PathBuf,
}

/// The folders of this user.
///
/// # Errors
/// Where no home folder is known.
pub fn user_folders() -> Result<Folders, Fault> {
    let base = choose_base_strategy()
        .map_err(|_| Fault::failed("no home folder is known", "name the book with --book FILE"))?;
    Ok(Folders { data: base.data_dir().join("crushbook"), config: base.config_dir().join("crushbook") })
}

/// The book's file.
fn path(book: Option<&Path>) -> Result<PathBuf, Fault> {
    match book {
        Some(path) => Ok(path.to_owned()),
        None => Ok(user_folders()?.data.join("book")),
    }
}

/// Opens the book, beginning it where there is none; with what was noticed.
///
/// # Errors
/// What the store says.
pub fn open(book: Option<&Path>) -> Result<(Store, Vec<String>), Fault> {
    let path = path(book)?;
    let (store, problems) = Store::open(Medium::File(hand_beside(&path)), Medium::File(path), &mut random)?;
    Ok((store, problems.iter().map(ToString::to_string).collect()))
}

/// The farm of this name; the only one where none is named.
///
/// # Errors
/// An unknown name, with the names that are known.
pub fn farm(store: &Store, name: Option<&str>) -> Result<FarmRow, Fault> {
    let (farms, _) = store.farms()?;
    let mut farms: Vec<FarmRow> = farms.into_iter().filter(|row| row.joined_into.is_none()).collect();
    let names: Vec<&str> = farms.iter().map(|row| row.name.as_str()).collect();
    let known = if names.is_empty() { "the book holds no farm yet".to_owned() } else { names.join(", ") };
    let position = match name {
        Some(name) => farms.iter().position(|row| row.name.eq_ignore_ascii_case(name)),
        None if farms.len() == 1 => Some(0),
        None => None,
    };
    match (position, name) {
        (Some(position), _) => Ok(farms.swap_remove(position)),
        (None, Some(name)) => Err(Fault::usage(format!("no farm is called {name:?}"), format!("known: {known}"))),
        (None, None) => Err(Fault::usage("which farm?", format!("name it with --farm; known: {known}"))),
    }
}

/// A fact told about a farm.
pub fn told(farm: &FarmRow, fact: FarmFact) -> &str {
    farm.facts.iter().find(|(known, _)| *known == fact).map_or("", |(_, words)| words)
}

/// Prints the folders.
///
/// # Errors
/// No home folder, or an output that cannot be written.
pub fn folders(out: &mut dyn Write) -> Result<Done, Fault> {
    let folders = user_folders()?;
    writeln!(out, "book      {}", folders.data.join("book").display())?;
    writeln!(out, "settings  {}", folders.config.display())?;
    writeln!(out, "keymap    {}", folders.config.join("keys.toml").display())?;
    Ok(Done::Code(0))
}
