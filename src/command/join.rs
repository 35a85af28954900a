//! `crushbook join`: takes in what is new in another tablet's book, or in a folder of exchange files that some service carries
//! between the tablets. Nothing is ever written there.

use super::bring::{Told, bring};
use super::cli::Cli;
use super::fault::Fault;
use super::import::{Source, take_in};
use super::{World, place};
use crate::report::safe::safe;
use crate::store::other::Other;
use std::fs::{self, File};
use std::io::Read;
use std::path::{Path, PathBuf};

/// How a book's file begins: redb's mark (its design document names it).
const BOOK_BEGINS: &[u8] = b"redb\x1a\n\xa9\r\n";

/// Takes in the other; gives the exit code: 1 where something of it was lost.
pub fn join(cli: &Cli, world: &mut World, other: &Path) -> Result<u8, Fault> {
    let name = other.display();
    if other.is_dir() {
        // What is on its way, or is none of ours, lies in every shared folder.
        let theirs = folder(other)?;
        return take_in(cli, world, &theirs, &|wrong| !wrong.is_foreign() && !wrong.is_on_its_way());
    }
    if other.metadata().is_ok_and(|there| !there.is_file()) {
        let hint = "Give an exchange file as input: crushbook import -";
        return Err(Fault::failed(format!("{name} is a pipe or a device, not a file"), hint));
    }
    let mut begins = Vec::new();
    let read = File::open(other).and_then(|file| file.take(BOOK_BEGINS.len() as u64).read_to_end(&mut begins));
    read.map_err(|why| {
        let hint = "Nothing was taken in. Check the name, and whether the medium is there.";
        Fault::failed(format!("{name} cannot be read: {why}"), hint)
    })?;
    if begins != BOOK_BEGINS {
        return take_in(cli, world, &[Source::new(other)?], &|_| true);
    }
    let whole = |path: &Path| path.canonicalize().unwrap_or_else(|_| path.to_owned());
    let own = place::book(cli)?;
    if whole(other) == whole(&own) {
        let hint = "Name the other tablet's book; --book says which is yours.";
        return Err(Fault::usage(format!("{name} is the very book it would be joined into"), hint));
    }
    quietly(|| book(cli, world, other))
}

fn book(cli: &Cli, world: &mut World, path: &Path) -> Result<u8, Fault> {
    let other = Other::open(path)?;
    let told = Told::new(other.count());
    other.problems.iter().for_each(|problem| told.note(&problem.to_string(), true));
    if let waiting @ 1.. = other.waiting() {
        let verb = if waiting == 1 { "record that waited" } else { "records that waited" };
        writeln!(world.out, "{waiting} {verb} beside {} were read too.", safe(&path.display().to_string()))?;
    }
    let mut records = other.every()?.inspect(|_| told.done.set(told.done.get() + 1));
    place::with_book(cli, world, |store, world| bring(cli, world, store, &told, &mut records))
}

/// Every file of a folder that is not hidden, in the order of names: whatever a service calls its copies.
fn folder(folder: &Path) -> Result<Vec<Source>, Fault> {
    let failed = |why| {
        let hint = "Nothing was taken in. Look whether the folder is still there.";
        Fault::failed(format!("{} cannot be read: {why}", folder.display()), hint)
    };
    let entries = fs::read_dir(folder).and_then(Iterator::collect::<Result<Vec<_>, _>>).map_err(failed)?;
    let hidden = |path: &PathBuf| path.file_name().is_none_or(|name| name.as_encoded_bytes().starts_with(b"."));
    let mut files: Vec<PathBuf> = entries.into_iter().map(|entry| entry.path()).collect();
    files.retain(|path| path.is_file() && !hidden(path));
    files.sort();
    if files.is_empty() {
        let hint =
            format!("crushbook export --to {} writes yours there; the other tablet does the same.", folder.display());
        return Err(Fault::failed(format!("{} holds no exchange file", folder.display()), hint));
    }
    Ok(files.into_iter().map(Source::later).collect())
}

/// Runs something without a word of redb's own panics on a damaged file: they end in a sentence of ours.
fn quietly<T>(work: impl FnOnce() -> T) -> T {
    let before = std::sync::Arc::new(std::panic::take_hook());
    let told = std::sync::Arc::clone(&before);
    std::panic::set_hook(Box::new(move |info| {
        if !info.location().is_some_and(|place| place.file().contains("redb")) {
            told(info);
        }
    }));
    let done = work();
    std::panic::set_hook(Box::new(move |info| before(info)));
    done
}
