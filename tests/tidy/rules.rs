//! The rules for one source file: a function from its path and text to what is wrong with it.

use super::house::{CALLS, MOST_LINES, ONLY, ROOMS, Room, UNSAFE_SERDE, room_of};
use super::shape::{catch_alls, writings};
use super::tokens::{self, Noted, Notes};
use std::collections::BTreeSet;

/// What the rules know of the repository.
pub struct Known {
    /// Outside crates in the manifest.
    pub crates: BTreeSet<String>,
    /// Enums of the domain.
    pub enums: BTreeSet<String>,
}

/// What is wrong with a file, with its path and line.
pub fn faults(path: &str, text: &str, known: &Known) -> Vec<String> {
    let mut faults = document_faults(text);
    match (tokens::read(text), syn::parse_file(text)) {
        (Ok(notes), Ok(file)) => {
            faults.extend(attribute_faults(&notes));
            if path.starts_with("src/") {
                faults.extend(import_faults(&notes));
                faults.extend(path_faults(path, &notes, &known.crates));
                faults.extend(writing_faults(path, &file));
                faults.extend(catch_all_faults(&file, &known.enums));
            }
        }
        (Err(why), _) => faults.push(why),
        (_, Err(why)) => faults.push(format!("cannot be read as Rust: {why}")),
    }
    faults.into_iter().map(|fault| format!("{path}: {fault}")).collect()
}

fn document_faults(text: &str) -> Vec<String> {
    let mut faults = Vec::new();
    if !text.starts_with("//!") {
        faults.push("does not open with //!: say what lives here and why".to_owned());
    }
    let lines = text.lines().count();
    if lines > MOST_LINES {
        faults.push(format!("has {lines} lines; split it, {MOST_LINES} is the most"));
    }
    faults
}

fn attribute_faults(notes: &Notes) -> Vec<String> {
    let mut faults = Vec::new();
    for Noted { line, what } in &notes.attributes {
        match what.first().map(String::as_str) {
            Some("ignore") => faults.push(format!("line {line}: an ignored test tests nothing")),
            Some("serde") => faults.extend(
                what.iter()
                    .filter(|word| UNSAFE_SERDE.contains(&word.as_str()))
                    .map(|word| format!("line {line}: serde {word} has no place in a record")),
            ),
            _ => {}
        }
    }
    faults
}

fn import_faults(notes: &Notes) -> Vec<String> {
    let globs = notes.globs.iter().map(|Noted { line, what }| format!("line {line}: names all of {what}; name each"));
    let re_exports = notes
        .re_exports
        .iter()
        // A macro can be named across files in no other way.
        .filter(|noted| !notes.macros.contains(&noted.what))
        .map(|Noted { line, what }| format!("line {line}: hands on {what}; everything has one path"));
    globs.chain(re_exports).collect()
}

fn path_faults(path: &str, notes: &Notes, crates: &BTreeSet<String>) -> Vec<String> {
    let room = room_of(path);
    let mut faults = Vec::new();
    for Noted { line, what } in &notes.paths {
        let fault = room
            .and_then(|room| across(room, what).or_else(|| outside(room, what, crates)))
            .or_else(|| climbs(path, what))
            .or_else(|| elsewhere(path, what));
        faults.extend(fault.map(|fault| format!("line {line}: {fault}")));
    }
    if room.is_none() && !["src/lib.rs", "src/main.rs"].contains(&path) {
        faults.push("lies in no room".to_owned());
    }
    for Noted { line, what } in &notes.methods {
        let call = CALLS.iter().find(|(name, place, _)| what == name && !path.starts_with(place));
        faults.extend(call.map(|(name, place, why)| format!("line {line}: only {place} calls {name}: {why}")));
    }
    faults
}

/// A path into another room.
fn across(room: &Room, path: &[String]) -> Option<String> {
    let [first, other, ..] = path else { return None };
    if first == "crushbook" {
        return Some("the library names itself; write crate::".to_owned());
    }
    if first != "crate" || other == room.name || room.rooms.contains(&other.as_str()) {
        return None;
    }
    Some(match ROOMS.iter().any(|room| room.name == other) {
        true => format!("{} may not use {other}", room.name),
        false => format!("crate::{other} is no room"),
    })
}

/// A path into an outside crate.
fn outside(room: &Room, path: &[String], crates: &BTreeSet<String>) -> Option<String> {
    let name = path.first().filter(|_| path.len() > 1)?;
    (crates.contains(name) && !room.crates.contains(&name.as_str()))
        .then(|| format!("{} may not use the crate {name}", room.name))
}

/// `super` so often that the path leaves its room.
fn climbs(path: &str, what: &[String]) -> Option<String> {
    let supers = what.iter().take_while(|name| *name == "super").count();
    let folders = path.matches('/').count();
    let depth = if path.ends_with("/mod.rs") { folders - 1 } else { folders };
    (supers > 0 && supers >= depth).then(|| "super leaves the room; write crate::room::".to_owned())
}

/// What only one place may name.
fn elsewhere(path: &str, what: &[String]) -> Option<String> {
    let (piece, place, why) = ONLY.iter().find(|(piece, place, _)| {
        !path.starts_with(place) && what.len() > 1 && what.windows(piece.len()).any(|part| part == *piece)
    })?;
    Some(format!("only {place} names {}: {why}", piece.join("::")))
}

/// The book is begun to be written in one function, which sees to quick repair; the hand in a file of its own.
fn writing_faults(path: &str, file: &syn::File) -> Vec<String> {
    let writings = writings(file);
    if path == "src/store/hand.rs" {
        return Vec::new();
    }
    let own = |function: &str| path == "src/store/book.rs" && function == "begin_write";
    writings
        .iter()
        .filter(|writing| !own(&writing.function))
        .filter(|writing| !writing.on_book || !path.starts_with("src/store/"))
        .map(|writing| format!("{} begins to write past Book::begin_write, so without quick repair", writing.function))
        .collect()
}

/// A new finding must make the compiler list every decision about findings.
fn catch_all_faults(file: &syn::File, enums: &BTreeSet<String>) -> Vec<String> {
    let found = catch_alls(file, enums);
    found
        .iter()
        .map(|Noted { line, what }| format!("line {line}: {what} is matched with a bare `_`; name the rest"))
        .collect()
}
