//! `crushbook backup`: makes a backup of the book, in the folder that is named here or in the practice's file.

use super::cli::Cli;
use super::fault::Fault;
use super::{World, note, place, practice, today};
use crate::report::safe::safe;
use crate::store::backup::{Backup, BackupError, make};
use crate::store::folder::Files;
use std::path::{Path, PathBuf};

/// Makes a backup; gives the exit code: 0, or 1 where the book it is of does not check.
///
/// # Errors
/// No folder is named, there is no book, and whatever keeps the backup from being made.
pub fn backup(cli: &Cli, world: &mut World, folder: Option<&Path>) -> Result<u8, Fault> {
    place::existing(cli)?;
    let folder = wanted(cli, world, folder)?;
    place::with_book(cli, world, |store, world| {
        let done = make(store.snapshot()?, &Files::new(&folder), today(cli, world))?;
        if done.problems.is_empty() {
            store.remember_backup(done.made)?;
        }
        say(&done, world)
    })
}

fn wanted(cli: &Cli, world: &mut World, folder: Option<&Path>) -> Result<PathBuf, Fault> {
    if let Some(folder) = folder {
        return Ok(folder.to_owned());
    }
    let said = practice::told(cli, world)?.backups.unwrap_or_default();
    if said.folder.is_empty() {
        let hint = "Name one: crushbook backup FOLDER. Or once and for all, in practice.toml: backup = \"/media/stick\". \
                    crushbook folders prints where that file lies.";
        return Err(Fault::usage("no folder for backups is named", hint));
    }
    Ok(PathBuf::from(said.folder))
}

fn say(done: &Backup, world: &mut World) -> Result<u8, Fault> {
    let file = safe(&done.file.display().to_string());
    note(world, &done.problems)?;
    if !done.problems.is_empty() {
        writeln!(
            world.err,
            "The book does not check, and so neither does its backup. It was made all the same: {file}. Older ones are as \
             they were. Run crushbook check."
        )?;
        return Ok(1);
    }
    writeln!(world.out, "{} records in {file}, read back and checked.", done.made.count)?;
    if done.gone > 0 {
        writeln!(world.out, "{} older backups went: the last ten are kept, and then one a month.", done.gone)?;
    }
    Ok(0)
}

impl From<BackupError> for Fault {
    fn from(error: BackupError) -> Fault {
        Fault::failed(error.to_string(), "")
    }
}
