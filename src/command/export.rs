//! `crushbook export`: every record of the book as an exchange file, on the output, in a file, or in a folder that a
//! file-sharing service carries to the other tablets. A file is written aside and renamed, so nobody ever finds half of one.

use super::cli::Cli;
use super::fault::Fault;
use super::form::ExportForm;
use super::progress::Progress;
use super::{World, note, place, rescue};
use crate::report::safe::safe;
use crate::store::Store;
use crate::store::error::StoreError;
use crate::store::medium::hand_beside;
use crate::wire::exchange::{Writing, is_exchange};
use std::fs::{self, File};
use std::io::{self, BufWriter, Read, Write};
use std::path::{Path, PathBuf};

/// Bytes written at a time.
const BUFFER: usize = 1 << 16;
/// Problems that are written out; the rest is counted.
const LISTED: u64 = 20;

/// Exports the book; gives the exit code: 0, or 1 where a part of it cannot be read.
pub fn export(cli: &Cli, world: &mut World, form: ExportForm, to: Option<&Path>) -> Result<u8, Fault> {
    let ExportForm::Jsonl = form;
    let book = place::book(cli)?;
    if !book.exists() {
        let what = format!("there is no book at {}", book.display());
        return Err(Fault::failed(what, "Name another with --book FILE."));
    }
    match place::open_and_tell(&book) {
        Err(newer @ StoreError::Newer { .. }) => of_newer(world, &book, &newer, to),
        Err(error) => Err(error.into()),
        Ok((store, problems)) => {
            note(world, &problems)?;
            let done = written(&store, world, &book, to);
            store.close()?;
            done
        }
    }
}

/// A book of a newer program: its records are found in the bytes of the file, whatever its layout, and the book is not touched.
fn of_newer(world: &mut World, book: &Path, newer: &StoreError, to: Option<&Path>) -> Result<u8, Fault> {
    if to.is_some_and(Path::is_dir) {
        return Err(Fault::failed(newer.to_string(), "To export it with this one, name a file: --to FILE."));
    }
    let (store, kept) = rescue::aside(book)?;
    writeln!(
        world.err,
        "crushbook: {} was laid out by a newer crushbook: its records are taken from the bytes of the file",
        safe(&book.display().to_string())
    )?;
    let done = written(&store, world, book, to);
    store.close()?;
    drop(kept);
    done
}

fn written(store: &Store, world: &mut World, book: &Path, to: Option<&Path>) -> Result<u8, Fault> {
    let told = match to {
        None => {
            let mut out = BufWriter::with_capacity(BUFFER, &mut *world.out);
            write(store, &mut out, &Waiting { watched: world.watched, stop: world.stop }, world.err, &Fault::from)?
        }
        Some(to) => {
            let file = target(to, store, book)?;
            let told = aside(store, world, &file)?;
            writeln!(world.out, "{} records written to {}", told.records, safe(&file.display().to_string()))?;
            told
        }
    };
    if told.problems == 0 {
        return Ok(0);
    }
    writeln!(
        world.err,
        "crushbook: {} parts of the book could not be read; all else was written. Run crushbook check.",
        told.problems
    )?;
    Ok(1)
}

/// What an export wrote, and how much it could not read.
struct Told {
    records: u64,
    problems: u64,
}

/// Whoever waits for it.
struct Waiting<'w> {
    watched: bool,
    stop: &'w dyn Fn() -> Option<u8>,
}

fn write(
    store: &Store,
    to: &mut dyn Write,
    waiting: &Waiting<'_>,
    err: &mut dyn Write,
    failed: &dyn Fn(io::Error) -> Fault,
) -> Result<Told, Fault> {
    let (mut progress, count, mut problems) = (Progress::new(waiting.watched), store.count(), 0);
    let mut writing = Writing::begin(to).map_err(failed)?;
    for (done, given) in (0..).zip(store.every()?) {
        if let Some(signal) = (waiting.stop)() {
            progress.clear(err);
            return Err(Fault::failed("stopped before all was written", "").stopped_by(Some(signal)));
        }
        progress.show(err, "exporting", done, count);
        let problem = match given {
            Ok(raw) => writing.record(&raw).map_err(failed)?.err().map(|why| why.to_string()),
            Err(problem) => Some(problem.to_string()),
        };
        if let Some(problem) = problem {
            problems += 1;
            if problems <= LISTED {
                progress.clear(err);
                writeln!(err, "crushbook: {}", safe(&problem))?;
            }
        }
    }
    progress.clear(err);
    Ok(Told { records: writing.end().map_err(failed)?, problems })
}

/// Writes beside the file, and gives it its name once all of it is on disk. Whatever goes wrong, what was there before stays.
fn aside(store: &Store, world: &mut World, file: &Path) -> Result<Told, Fault> {
    let part = part_of(file);
    let failed = |why: io::Error| {
        let what = format!("{} cannot be written: {why}; what was there before is as it was", file.display());
        Fault::failed(what, "Look whether the folder is there, may be written, and has room.")
    };
    let waiting = Waiting { watched: world.watched, stop: world.stop };
    let written = File::create(&part).map_err(failed).and_then(|open| {
        let mut to = BufWriter::with_capacity(BUFFER, &open);
        let told = write(store, &mut to, &waiting, world.err, &failed)?;
        drop(to);
        open.sync_all().and_then(|()| fs::rename(&part, file)).map_err(failed)?;
        Ok(told)
    });
    match &written {
        // Some shared folders cannot be synced; the name is there all the same.
        Ok(_) => drop(File::open(folder_of(file)).and_then(|folder| folder.sync_all())),
        Err(_) => drop(fs::remove_file(&part)),
    }
    written
}

/// The file that is meant. Errors: something else than an exchange file lies there.
fn target(to: &Path, store: &Store, book: &Path) -> Result<PathBuf, Fault> {
    let file = if to.is_dir() { to.join(name(store.series())) } else { to.to_owned() };
    let refused = |what: &str| {
        Err(Fault::failed(
            format!("{} {what}; it was left as it is", file.display()),
            "Name another file, or a folder.",
        ))
    };
    if file == hand_beside(book) {
        return refused("belongs to the book itself");
    }
    if file.symlink_metadata().is_ok_and(|there| !there.is_file()) {
        return refused("is a link, a pipe or a device");
    }
    let mut begins = Vec::new();
    let there = File::open(&file).and_then(|open| open.take(64).read_to_end(&mut begins));
    match there {
        Err(why) if why.kind() == io::ErrorKind::NotFound => Ok(file),
        Ok(bytes) if bytes == 0 || is_exchange(&begins) => Ok(file),
        Ok(_) | Err(_) => refused("is there already and is no exchange file"),
    }
}

/// The name of a tablet's own file in a shared folder: by the series of its book, which no other book has.
fn name(series: u64) -> String {
    format!("crushbook-{series:016x}.jsonl")
}

/// Where a file is written before it is whole: no reader of the folder takes hidden files.
fn part_of(file: &Path) -> PathBuf {
    let mut name = std::ffi::OsString::from(".");
    name.push(file.file_name().unwrap_or_default());
    name.push(".part");
    file.with_file_name(name)
}

fn folder_of(file: &Path) -> &Path {
    file.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}
