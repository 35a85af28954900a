//! `crushbook check`: reads the whole book and compares every list with a replay.
//!
//! A damaged file can take the process down from inside the database, beyond what a program can catch. So the reading is
//! done by a second process of the same program, and whatever becomes of it ends in a sentence.

use super::cli::Cli;
use super::fault::Fault;
use super::{World, note, place};
use crate::report::safe::safe;
use crate::store::error::Problem;
use crate::store::medium::hand_beside;
use crate::store::rescue::{Seen, records};
use crate::store::verify::Verdict;
use std::process::{Command, Stdio};

/// Checks in a second process; gives the exit code: 0 sound, 1 not.
pub fn check(cli: &Cli, world: &mut World) -> Result<u8, Fault> {
    let book = place::existing(cli)?;
    if std::fs::metadata(&book).is_ok_and(|file| file.len() == 0) {
        let what = format!("{} is empty: there is no record in it", book.display());
        return Err(Fault::failed(
            what,
            "If it held records, look for a backup, or rescue the whole disk that it lies on: crushbook rescue DISK.",
        ));
    }
    let program = std::env::current_exe().map_err(|why| {
        Fault::failed(format!("this program cannot find itself ({why})"), "Start it by its whole path.")
    })?;
    let mut reader = Command::new(program);
    reader.arg("check-here").arg("--book").arg(&book).stdin(Stdio::null());
    let answer = reader.output().map_err(|why| {
        Fault::failed(format!("no second process can be started ({why})"), "Close other programs and try again.")
    })?;
    match answer.status.code() {
        Some(code @ (0 | 1)) => {
            world.out.write_all(&answer.stdout)?;
            world.err.write_all(&answer.stderr)?;
            Ok(u8::from(code == 1))
        }
        Some(_) | None => Err(Fault::failed(
            format!("{} is so damaged that reading it broke off ({})", book.display(), answer.status),
            "Copy the file somewhere safe before anything else; then crushbook restore BACKUP puts your last backup in its place, and \
             crushbook rescue takes out what is still in it.",
        )),
    }
}

/// Checks in this process.
pub fn check_here(cli: &Cli, world: &mut World) -> Result<u8, Fault> {
    // What goes wrong inside the database is told in our own words.
    std::panic::set_hook(Box::new(|_| {}));
    let book = place::book(cli)?;
    // What lies in the bytes, before anything is opened.
    let lying = records(&book)?.seen();
    let hand = hand_beside(&book);
    let beside = if hand.is_file() { records(&hand)?.seen() } else { Seen::default() };
    let (mut store, on_the_way) = place::open_and_tell(&book)?;
    let mut verdict = store.verify_against(&lying, &beside)?;
    let (about_the_way, damage): (Vec<_>, Vec<_>) = on_the_way.into_iter().partition(Problem::is_of_the_way);
    note(world, &about_the_way)?;
    verdict.problems.splice(0..0, damage);
    write_counts(&verdict, world)?;
    if verdict.is_sound() {
        note(world, &verdict.problems)?;
        writeln!(world.out, "The book is sound: every checksum fits, and every list equals a replay of the records.")?;
        store.close()?;
        return Ok(0);
    }
    note(world, &verdict.problems)?;
    let book = safe(&book.display().to_string());
    writeln!(
        world.err,
        "{} wrong. Copy {book} somewhere safe before anything else; then crushbook rescue {book} takes out what is still in \
         it, and what is missing may be in your last backup.",
        match verdict.damage().count() {
            1 => "One thing is".to_owned(),
            count => format!("{count} things are"),
        },
    )?;
    Ok(1)
}

fn write_counts(verdict: &Verdict, world: &mut World) -> Result<(), Fault> {
    writeln!(world.out, "{} records about {} animals and farms can be read.", verdict.records, verdict.subjects)?;
    if verdict.newer > 0 {
        writeln!(world.out, "{} of them were written by a newer crushbook; they are kept.", verdict.newer)?;
    }
    for (series, first, last) in &verdict.gaps {
        writeln!(
            world.out,
            "Numbers {first} to {last} of series {series:016x} are not here; another tablet may have them."
        )?;
    }
    for (series, first, last) in &verdict.never_saved {
        writeln!(
            world.out,
            "Numbers {first} to {last} of series {series:016x} were being taken in when that broke off. They were never part \
             of the book and count nowhere; what was being entered, imported or joined is to be done again if it was not yet."
        )?;
    }
    Ok(())
}
