//! `crushbook rescue`: takes every record that can still be read out of a damaged file, or any file, into a new book.
//!
//! The new book is made in a folder of its own beside where it is to be, checked there, and only then given its name. The
//! damaged file is read and nothing else.

use super::fault::Fault;
use super::{World, note};
use crate::domain::ids::RecordId;
use crate::report::safe::safe;
use crate::store::Store;
use crate::store::error::{Problem, StoreError};
use crate::store::medium::{Medium, hand_beside};
use crate::store::open::random;
use crate::store::rescue::{Seen, records};
use crate::store::take::Taken;
use crate::store::verify::Verdict;
use std::ffi::OsString;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// Runs of missing numbers that are written out; more are only counted.
const RUNS: usize = 20;

/// Rescues; gives the exit code: 0 where nothing is known to be missing, else 1.
pub fn rescue(world: &mut World, damaged: &Path, to: Option<&Path>) -> Result<u8, Fault> {
    let to = to.map_or_else(|| beside(damaged), Path::to_owned);
    refuse_to_overwrite(&to)?;
    let sources = sources(damaged)?;
    let folder = to.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let making = tempfile::Builder::new().prefix(".crushbook-rescue-").tempdir_in(folder).map_err(|why| {
        let what = format!("no new book can be made in {}: {why}", folder.display());
        Fault::failed(what, "Name a file on a disk with room for it: --to FILE.")
    })?;
    let made = making.path().join("rescued");
    let (mut store, _) = Store::open(Medium::File(hand_beside(&made)), Medium::File(made.clone()), &mut random)?;
    let (seen, taken) = take_all(&mut store, &sources)?;
    if taken.new == 0 {
        return Err(nothing(damaged, &seen));
    }
    let verdict = store.verify()?;
    store.close()?;
    refuse_to_overwrite(&to)?;
    std::fs::rename(&made, &to).map_err(|why| {
        Fault::failed(
            format!("the rescued book cannot be named {}: {why}", to.display()),
            "Name another file with --to FILE.",
        )
    })?;
    tell(world, &sources, &to, &seen, &verdict)
}

/// Every record of a file, whatever its layout, in a book of its own that goes with the folder it lies in.
pub fn aside(book: &Path) -> Result<(Store, TempDir), Fault> {
    let kept = tempfile::tempdir().map_err(|why| {
        Fault::failed(
            format!("nothing can be kept in the folder for passing files: {why}"),
            "Make room there, or set TMPDIR.",
        )
    })?;
    let made = kept.path().join("aside");
    let (mut store, _) = Store::open(Medium::File(hand_beside(&made)), Medium::File(made), &mut random)?;
    let (seen, taken) = take_all(&mut store, &sources(book)?)?;
    if taken.new == 0 { Err(nothing(book, &seen)) } else { Ok((store, kept)) }
}

/// Where the new book is made when nobody says: `my.book` becomes `my-rescued.book`.
fn beside(damaged: &Path) -> PathBuf {
    let mut name = damaged.file_stem().map_or_else(|| OsString::from("book"), OsString::from);
    name.push("-rescued");
    if let Some(end) = damaged.extension() {
        name.push(".");
        name.push(end);
    }
    damaged.with_file_name(name)
}

fn refuse_to_overwrite(to: &Path) -> Result<(), Fault> {
    let taken = [to.to_owned(), hand_beside(to)].into_iter().find(|path| path.symlink_metadata().is_ok());
    match taken {
        None => Ok(()),
        Some(path) => Err(Fault::failed(
            format!("{} is there already, and nothing is written over it", path.display()),
            "Name a new file with --to FILE.",
        )),
    }
}

/// The file, and the keys beside it where they lie there.
fn sources(damaged: &Path) -> Result<Vec<PathBuf>, StoreError> {
    let hand = hand_beside(damaged);
    records(damaged)?;
    Ok([Some(damaged.to_owned()), hand.is_file().then_some(hand)].into_iter().flatten().collect())
}

fn take_all(store: &mut Store, sources: &[PathBuf]) -> Result<(Seen, Taken), StoreError> {
    let (mut seen, mut taken) = (Seen::default(), Taken::default());
    for source in sources {
        let mut found = records(source)?;
        // Where a record seems to begin and none can be read is counted in what is seen.
        let more = store.take(&mut found.by_ref().filter_map(Result::ok).map(Ok))?;
        taken.new += more.new;
        seen.add(found.seen());
    }
    Ok((seen, taken))
}

fn nothing(damaged: &Path, seen: &Seen) -> Fault {
    let mut what = format!("no record was found in {}, in {} bytes", damaged.display(), seen.bytes);
    if seen.newer > 0 {
        what = format!("{what}; {} places look like records of a newer crushbook", seen.newer);
        return Fault::failed(what, "Rescue it with the newer program.").because(broken_off(seen));
    }
    let hint = "Nothing was written. Try an earlier copy, or the whole disk that it lay on.";
    Fault::failed(what, hint).because(broken_off(seen))
}

fn broken_off(seen: &Seen) -> Vec<String> {
    let refused = (seen.unreadable > 0).then(|| format!("the disk did not give {} bytes of it", seen.unreadable));
    let gone = seen.broke_off.as_ref().map(|why| format!("reading broke off at byte {}: {why}", seen.bytes));
    refused.into_iter().chain(gone).collect()
}

fn tell(world: &mut World, sources: &[PathBuf], to: &Path, seen: &Seen, verdict: &Verdict) -> Result<u8, Fault> {
    let name = |path: &Path| safe(&path.display().to_string());
    let read: Vec<String> = sources.iter().map(|source| name(source)).collect();
    writeln!(world.out, "Looked through {}: {} bytes. Nothing there was changed.", read.join(" and "), seen.bytes)?;
    writeln!(
        world.out,
        "{} records about {} animals and farms can be read. They are in {}, and it is checked.",
        verdict.records,
        verdict.subjects,
        name(to)
    )?;
    if verdict.newer > 0 {
        writeln!(world.out, "{} of them were written by a newer crushbook; they are kept.", verdict.newer)?;
    }
    for run in seen.gaps().iter().take(RUNS) {
        writeln!(world.out, "{} are missing: gone without a trace, or on another tablet.", numbers(*run))?;
    }
    let said = said(seen, verdict);
    for line in &said {
        writeln!(world.err, "crushbook: {}", safe(line))?;
    }
    note(world, &verdict.problems)?;
    writeln!(
        world.out,
        "Look through it with crushbook --book {}; then move the damaged file away, but keep",
        name(to)
    )?;
    writeln!(world.out, "it, and give the new book its name. What is missing may be in a backup: join it.")?;
    Ok(u8::from(!said.is_empty() || verdict.problems.iter().any(|problem| !matches!(problem, Problem::Fork(_)))))
}

/// What is missing, or may be.
fn said(seen: &Seen, verdict: &Verdict) -> Vec<String> {
    let lost = seen.lost();
    let count = lost.iter().fold(0_u64, |sum, (_, from, to)| sum.saturating_add(to - from).saturating_add(1));
    let mut said: Vec<String> = lost.iter().take(RUNS).map(|run| format!("{} cannot be read", numbers(*run))).collect();
    if lost.len() > RUNS {
        said.push(format!("and {} more runs of numbers", lost.len() - RUNS));
    }
    if count > 0 {
        said.push(format!("{count} records were here and cannot be read; {} could", verdict.records));
    }
    if !seen.is_counted() {
        said.push("nothing in it tells how many records there were: look whether the last days are there".to_owned());
    }
    if seen.newer > 0 {
        said.push(format!("{} places look like records of a newer crushbook: rescue it with that one too", seen.newer));
    }
    said.extend(broken_off(seen));
    said
}

fn numbers((series, from, to): (u64, u64, u64)) -> String {
    let first = RecordId { series, seq: from };
    if from == to { format!("record {first}") } else { format!("numbers {from} to {to} of series {series:016x}") }
}
