//! `keys`: the key table, or every problem of a keymap file.

use super::Done;
use super::fault::Fault;
use crate::keys::help;
use crate::keys::keymap::BuiltIn;
use crate::keys::load::load;
use std::io::Write;
use std::path::Path;

/// Prints the table of the built-in keymaps, or checks a file.
///
/// # Errors
/// A file that cannot be read, or that has problems: each with its line and a suggestion.
pub fn run(file: Option<&Path>, out: &mut dyn Write) -> Result<Done, Fault> {
    let Some(file) = file else {
        let maps: Vec<_> = BuiltIn::ALL.iter().map(|map| map.keymap()).collect();
        write!(out, "{}", help::markdown(&maps))?;
        return Ok(Done::Code(0));
    };
    let name = file.display().to_string();
    let bytes = std::fs::read(file)
        .map_err(|error| Fault::failed(format!("{name} cannot be read: {error}"), "look at its name"))?;
    let (map, problems) = load(&name, &bytes);
    if problems.is_empty() {
        write!(out, "{}", help::markdown(&[map]))?;
        return Ok(Done::Code(0));
    }
    let causes = problems.iter().map(ToString::to_string).collect();
    Err(Fault::failed(
        "this keymap has problems; while it has, the built-in one is used",
        "mend these lines and check again",
    )
    .because(causes))
}
