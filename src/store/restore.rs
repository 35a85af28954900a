//! A backup put in the place of a book. It is first copied beside the book and read through there; the old book keeps its
//! bytes under another name; then one rename puts the new one in its place, so that a battery that goes at any moment leaves
//! the old book whole or the new one.

use super::Store;
use super::book::Book;
use super::error::{Problem, StoreError};
use super::folder::Folder;
use super::hand::Hand;
use super::medium::{Medium, disk};
use super::open::Source;
use crate::domain::ids::RecordId;
use crate::wire::envelope::Raw;
use std::collections::HashSet;
use std::io;
use std::path::PathBuf;

/// What may become of the book that is there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Over {
    /// It is set aside only where the backup has all that it has.
    Older,
    /// It is set aside whatever it has, and is not even read.
    Anything,
}

/// What a restore came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Restored {
    /// Records of the backup.
    pub records: u64,
    /// Where the old book lies now; none where there was none.
    pub aside: Option<PathBuf>,
}

/// Why a book was not replaced. It is as it was.
#[derive(Debug, thiserror::Error)]
pub enum RestoreError {
    /// No such file.
    #[error("there is no backup at {}. Check the name, or put the stick in.", .0.display())]
    NoBackup(PathBuf),
    /// It is something else.
    #[error("{} is no backup of this program. Name one of your backups; their names begin with crushbook- and a day.", .0.display())]
    Foreign(PathBuf),
    /// It cannot be read through.
    #[error("{} is no whole backup ({why}). Take another one.", .file.display())]
    Unsound {
        /// The file.
        file: PathBuf,
        /// The first thing that is wrong.
        why: String,
    },
    /// It is half a book: its last presses lie in a file beside it.
    #[error(
        "{} is no backup but a book that was not left in good order: its last presses lie in the file beside it. Open it \
         once with --book and leave it; then it is whole.",
        .0.display()
    )]
    NotAtRest(PathBuf),
    /// The book holds what the backup does not.
    #[error("{} holds {records} records that the backup lacks.", .book.display())]
    Lacks {
        /// The book.
        book: PathBuf,
        /// How many.
        records: u64,
    },
    /// Nobody can say what the book holds.
    #[error("{} cannot be read through, so it may hold records that the backup lacks: {why}", .book.display())]
    Unknown {
        /// The book.
        book: PathBuf,
        /// Why.
        why: String,
    },
    /// Something else about one of the files.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// The folder of the book.
    #[error("{}: {why}. Look whether the disk is full or may not be written, then try again.", .folder.display())]
    Disk {
        /// The folder.
        folder: PathBuf,
        /// What was said.
        why: String,
    },
}

/// Bytes copied and flushed at a time.
const PIECE: usize = 256 << 10;

/// Puts a backup in the place of the book of that name in that folder, there or not, and begins a new series in it. The
/// hand's presses come into the old book where that is read, and stay beside the new one where it is not: whoever opens
/// it next takes them in.
///
/// # Errors
/// [`RestoreError`].
pub fn restore(
    from: &Medium,
    folder: &dyn Folder,
    book: &str,
    over: Over,
    source: Source<'_>,
) -> Result<Restored, RestoreError> {
    let told = |why: io::Error| RestoreError::Disk { folder: folder.path(), why: why.to_string() };
    let (beside, hand) = (format!("{book}-restoring"), format!("{book}-hand"));
    clear(folder, &beside).map_err(told)?;
    let mut lay_out = || -> Result<(Restored, bool), RestoreError> {
        copy(from, &folder.file(&beside))?;
        let (records, held) = read_through(from, folder, &beside, source)?;
        let names = folder.names().map_err(told)?;
        let there = names.iter().any(|name| name == book);
        if there {
            may_go(folder, book, over, &held)?;
        }
        Ok((Restored { records, aside: None }, there))
    };
    let (mut restored, there) = lay_out().inspect_err(|_| drop(clear(folder, &beside)))?;
    if there {
        let aside = free_name(folder, book).map_err(told)?;
        folder.also(book, &aside).and_then(|()| folder.sync()).map_err(told)?;
        // A hand that nobody can open would keep the new book shut too.
        let is_there = folder.file(&hand).is_there()?;
        if is_there && Hand::open(folder.file(&hand)).is_err() {
            folder.rename(&hand, &format!("{aside}-hand")).and_then(|()| folder.sync()).map_err(told)?;
        }
        restored.aside = Some(folder.path().join(aside));
    }
    folder.rename(&beside, book).and_then(|()| folder.sync()).map_err(told)?;
    Ok(restored)
}

/// Takes away what an earlier restore left that broke off.
fn clear(folder: &dyn Folder, beside: &str) -> io::Result<()> {
    folder.remove(beside)?;
    folder.remove(&format!("{beside}-hand"))
}

/// Copies bytes as they are; the backup itself is never opened for writing.
fn copy(from: &Medium, to: &Medium) -> Result<(), RestoreError> {
    if !from.is_there()? {
        return Err(RestoreError::NoBackup(from.path()));
    }
    if let Err(why @ StoreError::InUse(_)) = from.series() {
        return Err(why.into());
    }
    let failed = |medium: &Medium, why| disk(&medium.path(), why);
    let (source, target) = (from.to_read()?, to.backend()?);
    let length = source.len().map_err(|why| failed(from, why))?;
    target.set_len(length).map_err(|why| failed(to, why))?;
    let mut at = 0;
    while at < length {
        let size = usize::try_from(length - at).map_or(PIECE, |left| left.min(PIECE));
        let mut bytes = vec![0; size];
        source.read(at, &mut bytes).map_err(|why| failed(from, why))?;
        target.write(at, &bytes).and_then(|()| target.sync_data()).map_err(|why| failed(to, why))?;
        at += size as u64;
    }
    Ok(())
}

/// What a book holds, record by record: its name, and the checksum of its bytes.
type Held = HashSet<(RecordId, u32)>;

/// Opens the copy, replays it and begins a series in it.
fn read_through(
    from: &Medium,
    folder: &dyn Folder,
    beside: &str,
    source: Source<'_>,
) -> Result<(u64, Held), RestoreError> {
    let unsound = |why: String| RestoreError::Unsound { file: from.path(), why };
    let book = Book::open(folder.file(beside)).map_err(|why| match why {
        // The copy's name would say nothing to anybody.
        StoreError::NotABook(_) => RestoreError::Foreign(from.path()),
        StoreError::Newer { found, known, .. } => StoreError::Newer { path: from.path(), found, known }.into(),
        StoreError::Damaged { why, .. } => unsound(why),
        other => RestoreError::Store(other),
    })?;
    if book.facts.series.is_none() {
        return Err(RestoreError::Foreign(from.path()));
    }
    if book.facts.out {
        return Err(RestoreError::NotAtRest(from.path()));
    }
    let hand_name = format!("{beside}-hand");
    let (hand, _) = Hand::open(folder.file(&hand_name))?;
    let mut store = Store { hand, series: RecordId::PRACTICE.series, ..Store::alone(book)? };
    if store.book.facts.old_lists {
        store.rebuild()?;
    }
    let verdict = store.verify()?;
    if let Some(problem) = verdict.damage().next() {
        return Err(unsound(problem.to_string()));
    }
    let held = store.every()?.filter_map(Result::ok).map(|raw| name(&raw)).collect();
    store.begin_series(source)?;
    store.close()?;
    // It held nothing but the number that is due.
    folder.remove(&hand_name).map_err(|why| StoreError::Disk { path: folder.path(), why: why.to_string() })?;
    Ok((verdict.records, held))
}

fn name(raw: &Raw) -> (RecordId, u32) {
    (raw.id, raw.crc())
}

/// Whether the book that is there may be set aside.
fn may_go(folder: &dyn Folder, book: &str, over: Over, held: &Held) -> Result<(), RestoreError> {
    let medium = folder.file(book);
    let path = medium.path();
    let unknown = |why: String| RestoreError::Unknown { book: path.clone(), why };
    if over == Over::Anything {
        // Only whether it is a file, and nobody works with it.
        return match medium.series() {
            Err(why @ (StoreError::InUse(_) | StoreError::NotAFile(_) | StoreError::IsFolder(_))) => Err(why.into()),
            _ => Ok(()),
        };
    }
    let hand = folder.file(&format!("{book}-hand"));
    let (store, problems) = match Store::open(hand, medium, &mut super::open::random) {
        Ok(opened) => opened,
        Err(why @ StoreError::InUse(_)) => return Err(why.into()),
        Err(why) => return Err(unknown(why.to_string())),
    };
    let mut lacking = 0;
    let mut unread: Option<Problem> = problems.into_iter().next();
    for given in store.every()? {
        match given {
            Ok(raw) => lacking += u64::from(!held.contains(&name(&raw))),
            Err(problem) => unread = Some(problem),
        }
    }
    store.close()?;
    match (lacking, unread) {
        (0, None) => Ok(()),
        (0, Some(problem)) => Err(unknown(problem.to_string())),
        (records, _) => Err(RestoreError::Lacks { book: path, records }),
    }
}

/// A name beside the book that nothing bears yet.
fn free_name(folder: &dyn Folder, book: &str) -> io::Result<String> {
    let names = folder.names()?;
    let taken = |name: &String| names.contains(name) || names.contains(&format!("{name}-hand"));
    let numbered = (2_u32..).map(|number| format!("{book}-set-aside-{number}"));
    let free = std::iter::once(format!("{book}-set-aside")).chain(numbered).find(|name| !taken(name));
    free.ok_or_else(|| io::ErrorKind::AlreadyExists.into())
}
