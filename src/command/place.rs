//! Where the book and the keys are kept, and opening the book that is meant.

use super::cli::Cli;
use super::fault::Fault;
use super::recorder::Recorder;
use super::{World, note, practice};
use crate::report::safe::safe;
use crate::store::Store;
use crate::store::error::{Problem, StoreError};
use crate::store::medium::{Medium, hand_beside, is_file};
use crate::store::open::random;
use etcetera::BaseStrategy;
use etcetera::base_strategy::Xdg;
use std::path::{Path, PathBuf};

/// The files that are used where none is named.
pub struct Places {
    /// The book.
    pub book: PathBuf,
    /// The user's own keymap.
    pub keys: PathBuf,
    /// What the practice says about itself.
    pub practice: PathBuf,
}

/// The files in the user's data and config folders. Errors: there is no home folder.
pub fn places() -> Result<Places, Fault> {
    let base = Xdg::new().map_err(|why| {
        Fault::failed(format!("your home folder is not known: {why}"), "Set HOME, or name a book with --book FILE.")
    })?;
    Ok(Places {
        book: base.data_dir().join("crushbook").join("book.redb"),
        keys: base.config_dir().join("crushbook").join("keys.toml"),
        practice: base.config_dir().join("crushbook").join("practice.toml"),
    })
}

/// Where herd lists are looked for by the screens: beside that book.
pub fn lists(book: &Path) -> PathBuf {
    book.with_file_name("herd-lists")
}

/// Where the log and reports of faults are kept; none where there is no home folder.
pub fn state_folder() -> Option<PathBuf> {
    Some(Xdg::new().ok()?.state_dir()?.join("crushbook"))
}

/// The book that is meant.
pub fn book(cli: &Cli) -> Result<PathBuf, Fault> {
    match &cli.book {
        Some(book) => Ok(book.clone()),
        None => Ok(places()?.book),
    }
}

/// The book that is meant, which must be there.
pub fn existing(cli: &Cli) -> Result<PathBuf, Fault> {
    let book = book(cli)?;
    if is_file(&book)? {
        return Ok(book);
    }
    let what = format!("there is no book at {}", book.display());
    Err(Fault::failed(what, "Name another with --book FILE; crushbook folders prints where yours would be."))
}

/// Opens the book that is meant, making it where there is none, and says what was wrong on the way.
pub fn open(cli: &Cli, world: &mut World) -> Result<Store, Fault> {
    open_at(&book(cli)?, world)
}

/// Opens that book.
pub fn open_at(book: &Path, world: &mut World) -> Result<Store, Fault> {
    let (store, problems) = open_and_tell(book)?;
    note(world, &problems)?;
    Ok(store)
}

/// Opens that book, and hands back what was wrong on the way.
pub fn open_and_tell(book: &Path) -> Result<(Store, Vec<Problem>), StoreError> {
    Store::open(Medium::File(hand_beside(book)), Medium::File(book.to_owned()), &mut random)
}

/// Does something with the book that is meant. Whatever came of it, the book is left at rest as one file; what went wrong
/// first is what is said.
pub fn with_book<T>(
    cli: &Cli,
    world: &mut World,
    work: impl FnOnce(&mut Store, &mut World) -> Result<T, Fault>,
) -> Result<T, Fault> {
    let mut store = open(cli, world)?;
    let done = Recorder::of(&store, cli.recorded_by.as_deref()).and_then(|by| {
        world.by = by;
        work(&mut store, world)
    });
    let closed = store.close();
    let done = done?;
    closed?;
    Ok(done)
}

/// The bytes of a file. Errors: it cannot be read, or is none: a pipe would be waited for without an end.
pub fn read_file(file: &Path) -> std::io::Result<Vec<u8>> {
    match is_file(file) {
        Ok(true) => std::fs::read(file),
        Ok(false) => Err(std::io::ErrorKind::NotFound.into()),
        Err(StoreError::IsFolder(_)) => Err(std::io::ErrorKind::IsADirectory.into()),
        Err(error) => Err(std::io::Error::other(error.to_string())),
    }
}

/// A file that was named: what it is called in a sentence, and its bytes. `wanted` is what it should be. Errors: it cannot be read.
pub fn named_file(file: &Path, wanted: &str) -> Result<(String, Vec<u8>), Fault> {
    let name = file.display().to_string();
    let bytes = read_file(file).map_err(|why| unread(&name, wanted, &why))?;
    Ok((name, bytes))
}

/// That a file cannot be read, and what to do.
pub fn unread(name: &str, wanted: &str, why: &std::io::Error) -> Fault {
    match why.kind() {
        std::io::ErrorKind::IsADirectory => {
            Fault::failed(format!("{name} is a folder, and {wanted} is wanted"), "Name a file in it.")
        }
        _ => {
            let hint = "Check the name, or ask its owner for the right to read.";
            Fault::failed(format!("{name} cannot be read: {why}"), hint)
        }
    }
}

/// `crushbook folders`: prints them.
pub fn folders(cli: &Cli, world: &mut World) -> Result<(), Fault> {
    let places = places()?;
    writeln!(world.out, "book      {}", book(cli)?.display())?;
    writeln!(world.out, "lists     {}", lists(&book(cli)?).display())?;
    writeln!(world.out, "keys      {}", places.keys.display())?;
    writeln!(world.out, "practice  {}", places.practice.display())?;
    if let Some(backups) = practice::told(cli, world)?.backups.filter(|backups| !backups.folder.is_empty()) {
        writeln!(world.out, "backups   {}", safe(&backups.folder))?;
    }
    if let Some(state) = state_folder() {
        writeln!(world.out, "log       {}", state.display())?;
    }
    Ok(())
}
