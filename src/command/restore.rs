//! `crushbook restore`: puts a backup in the place of the book. The book that was there is set aside, never deleted.

use super::cli::Cli;
use super::fault::Fault;
use super::{World, place};
use crate::report::safe::safe;
use crate::store::folder::Files;
use crate::store::medium::Medium;
use crate::store::open::random;
use crate::store::restore::{Over, RestoreError, restore as put_back};
use std::path::Path;

/// Puts it back.
///
/// # Errors
/// A backup that is none, a book that holds more and may not be set aside; then nothing was changed.
pub fn restore(cli: &Cli, world: &mut World, backup: &Path, set_newer_aside: bool) -> Result<(), Fault> {
    let book = place::book(cli)?;
    if same(backup, &book) {
        let what = format!("{} is the book itself, not a backup of it", book.display());
        return Err(Fault::usage(what, "Name one of your backups; their names begin with crushbook- and a day."));
    }
    let (folder, name) = Files::of_book(&book).map_err(|why| {
        Fault::failed(format!("{} cannot be a book: {why}", book.display()), "Name another file with --book FILE.")
    })?;
    let over = if set_newer_aside { Over::Anything } else { Over::Older };
    let done = put_back(&Medium::Within(backup.to_owned()), &folder, &name, over, &mut random)?;
    // Presses that lay beside the old book are taken into the new one.
    place::open(cli, world)?.close()?;
    let shown = |path: &Path| safe(&path.display().to_string());
    writeln!(world.out, "{} is back, with {} records, read through.", shown(&book), done.records)?;
    if let Some(aside) = done.aside {
        writeln!(world.out, "The book that was there is kept: {}", shown(&aside))?;
    }
    Ok(())
}

/// Whether two paths mean one file, as far as the file system tells.
fn same(one: &Path, other: &Path) -> bool {
    matches!((one.canonicalize(), other.canonicalize()), (Ok(one), Ok(other)) if one == other)
}

impl From<RestoreError> for Fault {
    fn from(error: RestoreError) -> Fault {
        let hint = match error {
            RestoreError::Lacks { .. } | RestoreError::Unknown { .. } => {
                "Nothing was changed. Make a backup of it as it is, or set it aside with --set-newer-aside: it is then kept \
                 under another name beside the one put back."
            }
            RestoreError::NoBackup(_)
            | RestoreError::Foreign(_)
            | RestoreError::Unsound { .. }
            | RestoreError::NotAtRest(_)
            | RestoreError::Store(_)
            | RestoreError::Disk { .. } => "",
        };
        Fault::failed(error.to_string(), hint)
    }
}
