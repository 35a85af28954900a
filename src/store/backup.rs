//! A backup: a copy of the book written aside, opened and replayed, and only then given its name. Older ones are thinned by
//! the rule of [`spare`], and nothing else in the folder is touched.

use super::Store;
use super::copy::{Snapshot, verify};
use super::error::{Problem, StoreError};
use super::folder::Folder;
use crate::domain::backup::{Made, spare};
use crate::wire::backup::{damaged, name, read_name, unfinished};
use chrono::NaiveDate;
use std::collections::BTreeSet;
use std::io;
use std::path::PathBuf;

/// What a backup came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Backup {
    /// What it is of.
    pub made: Made,
    /// Its file.
    pub file: PathBuf,
    /// What is wrong with it, because it is wrong with the book: then it does not count as a good one.
    pub problems: Vec<Problem>,
    /// Older ones that went by the rule.
    pub gone: usize,
}

/// Why there is no new backup. The older ones are as they were.
#[derive(Debug, thiserror::Error)]
pub enum BackupError {
    /// The folder is not there, or is none.
    #[error(
        "no backup was made: {} is not there. Put the stick in, or name another folder; earlier backups are as they were.",
        .0.display()
    )]
    NoFolder(PathBuf),
    /// A file stands where the folder should be.
    #[error("no backup was made: {} is a file, not a folder. Name a folder.", .0.display())]
    NotAFolder(PathBuf),
    /// It cannot be written there.
    #[error(
        "no backup was made: {} cannot be written. Ask for the right to write there, or name another folder.",
        .0.display()
    )]
    ReadOnly(PathBuf),
    /// There is no room, or the disk has gone.
    #[error(
        "no backup was made in {}: {why}. Look whether it is full or was pulled out; earlier backups there are as they were.",
        .folder.display()
    )]
    Disk {
        /// The folder.
        folder: PathBuf,
        /// What was said.
        why: String,
    },
}

impl Store {
    /// The last good backup.
    pub fn backed_up(&self) -> Option<Made> {
        self.book.facts.backup
    }

    /// Remembers a good backup; one that is older than the last is no news.
    pub fn remember_backup(&mut self, made: Made) -> Result<(), StoreError> {
        if self.book.facts.backup.is_some_and(|last| last >= made) {
            return Ok(());
        }
        self.book.say(|facts| facts.backup = Some(made))
    }
}

/// Makes a backup of that day. Takes seconds for a large book, and may do so on a thread of its own.
///
/// # Errors
/// [`BackupError`]; then what was begun is taken away, or it is next time.
pub fn make(of: Snapshot, folder: &dyn Folder, on: NaiveDate) -> Result<Backup, BackupError> {
    let told = |why| said(folder, &why);
    let names = folder.names().map_err(told)?;
    let series = of.series;
    let aside = unfinished(series);
    folder.remove(&aside).map_err(told)?;
    let made = Made { count: of.count, on };
    let written = write(of, folder, &aside, Some(made));
    if written.is_err() {
        // Where even this fails it is done before the next one.
        drop(folder.remove(&aside));
    }
    let problems = written?;
    let name = if problems.is_empty() { name(made, series) } else { damaged(made, series) };
    folder.rename(&aside, &name).and_then(|()| folder.sync()).map_err(told)?;
    let gone = if problems.is_empty() { thin(folder, &names, made, series) } else { 0 };
    Ok(Backup { made, file: folder.path().join(name), problems, gone })
}

/// Writes the copy and reads it through.
fn write(of: Snapshot, folder: &dyn Folder, aside: &str, made: Option<Made>) -> Result<Vec<Problem>, BackupError> {
    let told = |why: StoreError| match why {
        StoreError::ReadOnly(_) => BackupError::ReadOnly(folder.path()),
        StoreError::Disk { why, .. } => BackupError::Disk { folder: folder.path(), why },
        other => BackupError::Disk { folder: folder.path(), why: other.to_string() },
    };
    of.write(folder.file(aside), made).map_err(told)?;
    Ok(verify(folder.file(aside)).map_err(told)?.damage().cloned().collect())
}

/// Takes away what the rule no longer keeps, and says how much. Only what by its name and by its own word is a backup of
/// this very book; one that cannot be taken away stays, and is tried again next time.
fn thin(folder: &dyn Folder, names: &[String], made: Made, series: u64) -> usize {
    let ours = names.iter().filter_map(|name| read_name(name)).filter(|(_, of)| *of == series).map(|(made, _)| made);
    let all: BTreeSet<Made> = ours.chain([made]).collect();
    let mut gone = 0;
    for one in spare(&all) {
        let name = name(one, series);
        let is_ours = matches!(folder.file(&name).series(), Ok(Some(of)) if of == series);
        gone += usize::from(is_ours && folder.remove(&name).is_ok());
    }
    gone
}

/// What a folder said.
fn said(folder: &dyn Folder, why: &io::Error) -> BackupError {
    let path = folder.path();
    match why.kind() {
        io::ErrorKind::NotFound => BackupError::NoFolder(path),
        io::ErrorKind::NotADirectory => BackupError::NotAFolder(path),
        io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => BackupError::ReadOnly(path),
        _ => BackupError::Disk { folder: path, why: why.to_string() },
    }
}

/// A copy of a book as it was before a newer program laid it out anew, beside it. One that is there already is of the same
/// records.
pub(super) fn before_upgrade(of: Snapshot, folder: &dyn Folder, book: &str) -> Result<PathBuf, BackupError> {
    let name = format!("{book}-before-upgrade-{}", of.count);
    let told = |why: io::Error| said(folder, &why);
    if !folder.names().map_err(told)?.contains(&name) {
        let aside = format!("{book}-before-upgrade.unfinished");
        folder.remove(&aside).map_err(told)?;
        // It is no backup by the rule: it bears no day and is never thinned.
        write(of, folder, &aside, None)?;
        folder.rename(&aside, &name).and_then(|()| folder.sync()).map_err(told)?;
    }
    Ok(folder.path().join(name))
}
