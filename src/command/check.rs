//! `check`: every checksum, and that what is derived equals a replay. In a process of its own: a damaged file may end the
//! program that reads it, and that must become a sentence too.

use super::fault::Fault;
use super::{Cli, Done, book};
use std::io::Write;
use std::process::Command;

/// Runs the check beside itself and says what came of it.
///
/// # Errors
/// A book that is damaged, or that cannot be read at all.
pub fn run(cli: &Cli, out: &mut dyn Write) -> Result<Done, Fault> {
    let program = std::env::current_exe().map_err(|error| {
        Fault::failed(format!("the program cannot find itself: {error}"), "start it by its full path")
    })?;
    let mut child = Command::new(program);
    if let Some(book) = &cli.book {
        child.arg("--book").arg(book);
    }
    let done = child
        .arg("check-here")
        .output()
        .map_err(|error| Fault::failed(format!("the check cannot be started: {error}"), "close other programs"))?;
    out.write_all(&done.stdout)?;
    match done.status.code() {
        Some(0) => Ok(Done::Code(0)),
        Some(code @ (1 | 2)) => {
            let said = String::from_utf8_lossy(&done.stderr).trim_start_matches("crushbook: ").trim().to_owned();
            let what = crate::report::safe::safe(&said.replace('\n', "; "));
            Err(Fault { code: code as u8, what, causes: Vec::new(), hint: String::new() })
        }
        Some(_) | None => Err(Fault::failed(
            "the book is damaged so badly that reading it ended the check",
            "copy the book's file somewhere safe before anything else, then go back to a backup",
        )),
    }
}

/// Checks in this process.
///
/// # Errors
/// Everything that is wrong, one a line.
pub fn here(cli: &Cli, out: &mut dyn Write) -> Result<Done, Fault> {
    let (mut store, noticed) = book::open(cli.book.as_deref())?;
    let verdict = store.verify()?;
    writeln!(out, "{} records, {} animals, farms and others", verdict.records, verdict.subjects)?;
    if verdict.newer > 0 {
        writeln!(out, "{} written by a newer program: kept, not shown", verdict.newer)?;
    }
    for (series, from, to) in &verdict.gaps {
        writeln!(out, "missing in series {series:016x}: {from} to {to}")?;
    }
    store.close()?;
    if verdict.is_sound() && noticed.is_empty() {
        writeln!(out, "sound: every checksum fits, and every list equals a replay")?;
        return Ok(Done::Code(0));
    }
    let causes = noticed.into_iter().chain(verdict.problems.iter().map(ToString::to_string)).collect();
    Err(Fault::failed("the book is damaged", "copy the book's file somewhere safe first").because(causes))
}
