//! Every rule is shown something bad that it must refuse, and something like it that it must let pass.

use super::files::{modules, places};
use super::house::MOST_LINES;
use super::rules::{Known, faults};
use super::shape::enums;
use std::collections::BTreeSet;

/// What is wrong with a file of one line under its opening.
fn of(path: &str, line: &str) -> Vec<String> {
    faults(path, &format!("//! An example.\n{line}\n"), &known())
}

/// A small repository.
fn known() -> Known {
    Known {
        crates: BTreeSet::from(["bincode", "chrono", "ratatui", "redb", "serde", "toml"].map(str::to_owned)),
        enums: BTreeSet::from(["Event".to_owned()]),
    }
}

/// A file, a line that it must not hold, and a piece of what must be said about it.
#[rustfmt::skip]
const BAD: &[(&str, &str, &str)] = &[
    // Rooms.
    ("src/domain/x.rs", "use crate::store::Store;", "domain may not use store"),
    ("src/screen/x.rs", "fn f() { crate::store::open(); }", "screen may not use store"),
    ("src/screen/x.rs", "fn f() { say!(1, crate::wire::sheet::print(2)); }", "screen may not use wire"),
    ("src/domain/x.rs", "use crate::{domain::ids::RecordId, keys::key::Key};", "domain may not use keys"),
    ("src/session/x.rs", "fn f(_: &crate::screen::View) {}", "session may not use screen"),
    ("src/terminal/x.rs", "use crate::session::Session;", "terminal may not use session"),
    ("src/store/x.rs", "macro_rules! m { () => { $crate::keys::key::Key }; }", "store may not use keys"),
    ("src/keys/x.rs", "use crate::cellar::Key;", "crate::cellar is no room"),
    ("src/keys/x.rs", "use crushbook::keys::key::Key;", "write crate::"),
    ("src/keys/x.rs", "use super::super::domain::Foot;", "super leaves the room"),
    ("src/keys/mod.rs", "use super::domain::Foot;", "super leaves the room"),
    ("src/wire/sheet/x.rs", "use super::super::super::domain::Foot;", "super leaves the room"),
    ("src/cellar/x.rs", "fn f() {}", "lies in no room"),
    // Names.
    ("src/keys/x.rs", "use crate::keys::key::*;", "names all of crate::keys::key"),
    ("src/keys/x.rs", "use crate::keys::{key::*, table};", "names all of crate::keys::key"),
    ("src/keys/x.rs", "use crate::keys::{*};", "names all of crate::keys"),
    ("src/keys/x.rs", "pub use key::Key;", "hands on key::Key"),
    ("src/keys/x.rs", "pub(crate) use key::Key;", "hands on key::Key"),
    ("src/keys/x.rs", "mod inner { pub(super) use super::key::Key; }", "hands on super::key::Key"),
    // Outside crates.
    ("src/domain/x.rs", "use serde::Serialize;", "domain may not use the crate serde"),
    ("src/domain/x.rs", "use ::serde::Serialize;", "domain may not use the crate serde"),
    ("src/domain/x.rs", "fn f() { for _ in 0..redb::MOST {} }", "domain may not use the crate redb"),
    ("src/report/x.rs", "#[derive(serde::Serialize)] struct S;", "report may not use the crate serde"),
    ("src/command/x.rs", "use redb::Database;", "command may not use the crate redb"),
    ("src/run/x.rs", "fn f() -> redb::Error { g() }", "run may not use the crate redb"),
    ("src/session/x.rs", "use ratatui::style::Color;", "session may not use the crate ratatui"),
    ("src/wire/x.rs", "use bincode::config;", "only src/wire/codec.rs names bincode"),
    ("src/screen/x.rs", "use ratatui::crossterm::event::read;", "only src/terminal/ names crossterm"),
    ("src/run/x.rs", "use ratatui::{Frame, crossterm::{event}};", "only src/terminal/ names crossterm"),
    ("src/run/x.rs", "use ratatui::backend::CrosstermBackend;", "only src/terminal/ names CrosstermBackend"),
    // Clocks.
    ("src/domain/x.rs", "use chrono::{NaiveDate, Local};", "only src/terminal/ names chrono::Local"),
    ("src/command/x.rs", "fn f() { chrono::Utc::now(); }", "only src/terminal/ names chrono::Utc"),
    ("src/run/x.rs", "use std::time::{Duration, Instant};", "only src/terminal/ names time::Instant"),
    ("src/main.rs", "fn f() { std::time::SystemTime::now(); }", "only src/terminal/ names time::SystemTime"),
    ("src/run/x.rs", "fn f(watch: W) { watch.elapsed(); }", "only src/terminal/ calls elapsed"),
    // Writing.
    ("src/store/x.rs", "fn f() { db.begin_write(); }", "f begins to write past Book::begin_write"),
    ("src/store/book.rs", "impl Book { fn f(&self) { self.database()?.begin_write()?; } }", "f begins to write past"),
    // Records and domain enums.
    ("src/wire/x.rs", "struct S { #[serde(default, skip_serializing_if = \"Option::is_none\")] a: u8 }", "skip_serializing_if"),
    ("src/wire/x.rs", "#[serde(untagged)] enum E { A }", "serde untagged"),
    ("src/wire/x.rs", "struct S { #[serde(flatten)] a: T }", "serde flatten"),
    ("src/domain/x.rs", "fn f(e: E) { match e { Event::Found(_) | Event::Staged(_) => 1, _ => 2 }; }", "line 2: Event is matched with a bare `_`"),
    // Tests and texts.
    ("tests/x.rs", "#[test] #[ignore] fn f() {}", "an ignored test tests nothing"),
    ("tests/x.rs", "proptest! { #[test] #[ignore = \"slow\"] fn f(a in 0..1) {} }", "an ignored test tests nothing"),
    ("src/keys/x.rs", "fn f( {}", "cannot be read as Rust"),
];

/// What looks like the above and is right.
#[rustfmt::skip]
const GOOD: &[(&str, &str)] = &[
    ("src/store/x.rs", "use crate::domain::ids::RecordId;\nuse redb::{Database, Error};\nuse super::tables;"),
    ("src/wire/sheet/x.rs", "use super::super::error::WireError;"),
    ("src/domain/mod.rs", "pub mod ids;\nuse self::ids::RecordId;"),
    ("src/domain/x.rs", "macro_rules! words { () => {}; }\npub(crate) use words;"),
    ("src/domain/x.rs", "/// Not as in `crate::store::open`, never at `chrono::Local::now()`.\nconst TEXT: &str = \"use redb::*;\";"),
    ("src/domain/x.rs", "fn area(a: u8, b: u8) -> u8 { a * b }"),
    ("src/wire/codec.rs", "use bincode::config;"),
    ("src/terminal/x.rs", "use ratatui::crossterm::event::read;\nuse std::time::Instant;\nfn f() { start.elapsed(); }"),
    ("src/run/x.rs", "use crate::terminal::clock;\nfn f() { clock::now(); }"),
    ("src/store/take.rs", "fn f(book: &Book) { book.begin_write(); }"),
    ("src/store/book.rs", "impl Book { fn begin_write(&self) { self.database()?.begin_write()?; } }"),
    ("src/domain/x.rs", "fn f(e: E) { match e { Event::Found(_) => 1, Event::Staged(_) => 2 }; match a { Some(1) => 1, _ => 2 }; }"),
    ("src/main.rs", "use crushbook::run;"),
    ("tests/x.rs", "use proptest::prelude::*;\nuse crushbook::store::Store;"),
];

#[test]
fn what_is_bad_is_refused() {
    for (path, line, expected) in BAD {
        let found = of(path, line);
        assert!(
            found.iter().any(|fault| fault.contains(expected)),
            "{path}: {line}\nexpected {expected}, got {found:#?}"
        );
        assert!(found.iter().all(|fault| fault.starts_with(path)), "{found:#?}");
    }
}

#[test]
fn what_is_right_passes() {
    for (path, line) in GOOD {
        assert_eq!(of(path, line), Vec::<String>::new(), "{path}: {line}");
    }
}

#[test]
fn a_fault_is_said_with_its_line() {
    assert_eq!(
        of("src/domain/x.rs", "\nuse crate::store::Store;"),
        ["src/domain/x.rs: line 3: domain may not use store"]
    );
}

#[test]
fn a_file_without_an_opening_is_refused() {
    let found = faults("src/domain/x.rs", "use std::fmt;\n", &known());
    assert_eq!(found, ["src/domain/x.rs: does not open with //!: say what lives here and why"]);
}

#[test]
fn a_file_that_is_too_long_is_refused() {
    let lines = |count: usize| format!("//! An example.\n{}", "// A line.\n".repeat(count - 1));
    assert_eq!(faults("tests/x.rs", &lines(MOST_LINES), &known()), Vec::<String>::new());
    assert_eq!(faults("tests/x.rs", &lines(MOST_LINES + 1), &known()).len(), 1);
}

#[test]
fn a_file_is_looked_for_where_its_mod_line_points() {
    assert_eq!(modules("mod a;\npub mod b;\nmod inline {}\n"), ["a", "b"]);
    assert_eq!(places("src/lib.rs", "keys"), ["src/keys.rs", "src/keys/mod.rs"]);
    assert_eq!(places("src/keys/mod.rs", "load"), ["src/keys/load.rs", "src/keys/load/mod.rs"]);
    assert_eq!(places("tests/trade.rs", "claws"), ["tests/trade/claws.rs", "tests/trade/claws/mod.rs"]);
}

#[test]
fn enums_are_found_written_out_and_as_vocabularies() {
    let text =
        "pub enum Event { A }\nenum Own { A }\nvocabulary! {\n/// A foot.\nFoot, \"foot\" { Lf = 1 \"LF\", } }\n";
    let file = syn::parse_file(text).expect("an example that can be read");
    assert_eq!(enums(&file), BTreeSet::from(["Event", "Foot"].map(str::to_owned)));
}
