//! `crushbook keys`: the key table, or every problem of a keymap file. And the user's own keymap for the screens.

use super::cli::Cli;
use super::fault::Fault;
use super::place::{places, read_file};
use super::{World, place, practice};
use crate::keys::help::markdown;
use crate::keys::keymap::{BuiltIn, Keymap};
use crate::keys::load::load;
use std::path::Path;

/// Prints the table of the built-in keymaps, or of a file that has no problem.
///
/// # Errors
/// A file that cannot be read, or every problem of it.
pub fn keys(cli: &Cli, world: &mut World, file: Option<&Path>) -> Result<(), Fault> {
    let maps: Vec<Keymap> = match file {
        None => BuiltIn::ALL.map(BuiltIn::keymap).into(),
        Some(file) => vec![read(file)?],
    };
    let words = practice::words(cli, world)?;
    write!(world.out, "{}", markdown(&maps, &|text| words.fill(text)))?;
    Ok(())
}

fn read(file: &Path) -> Result<Keymap, Fault> {
    let (name, bytes) = place::named_file(file)?;
    let (keymap, problems) = load(&name, &bytes);
    if problems.is_empty() {
        return Ok(keymap);
    }
    let causes: Vec<String> = problems.iter().map(ToString::to_string).collect();
    let hint = "Until they are put right the built-in keys are used; crushbook keys prints them.";
    let count = match causes.len() {
        1 => "one problem".to_owned(),
        count => format!("{count} problems"),
    };
    Err(Fault::failed(format!("{count} in {name}"), hint).because(causes))
}

/// The user's own keymap where there is one, else the built-in one for two hands; with every problem of the file, which
/// never stops the work.
pub fn own() -> (Keymap, Vec<String>) {
    let built_in = BuiltIn::TwoHands.keymap();
    let Ok(places) = places() else { return (built_in, Vec::new()) };
    let name = places.keys.display().to_string();
    match read_file(&places.keys) {
        Ok(bytes) => {
            let (keymap, problems) = load(&name, &bytes);
            (keymap, problems.iter().map(ToString::to_string).collect())
        }
        Err(why) if why.kind() == std::io::ErrorKind::NotFound => (built_in, Vec::new()),
        Err(why) => (built_in, vec![format!("{name} cannot be read ({why}); the built-in keys are used")]),
    }
}
