//! The program breaks off by a fault of its own: a report without names, told at the next start until it was read.
//!
//! This test binary starts itself once more as a program that panics: [`program`] is that program when the variable below
//! is set, and does nothing in an ordinary run.

use super::program::Terminal;
use crate::support::tablet::{day, moment};
use crushbook::command::crash::{in_the_code, keep, told, unread};
use crushbook::keys::context::Context;
use crushbook::keys::intent::Intent;
use crushbook::run::crash;
use portable_pty::{CommandBuilder, PtySize, native_pty_system};
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::Command;

const AS_PROGRAM: &str = "CRUSHBOOK_TEST_CRASH";

#[test]
fn program() {
    let Some(folder) = std::env::var_os(AS_PROGRAM) else { return };
    crash::install(Some(PathBuf::from(folder)));
    crash::note_size(80, 24);
    crash::note_wish(Context::Today, Intent::Digit(7));
    crash::note_wish(Context::Foot, Intent::Zone(4));
    let typed = "1382";
    panic!("Quillbarrow {typed}");
}

fn reports(folder: &Path) -> Vec<PathBuf> {
    let files = fs::read_dir(folder).expect("a folder").map(|file| file.expect("a file").path());
    let mut reports: Vec<PathBuf> = files.filter(|file| !file.ends_with("crash-unread.txt")).collect();
    reports.sort();
    reports
}

#[test]
fn a_report_says_where_and_names_nobody() {
    let home = tempfile::tempdir().expect("a folder");
    let folder = home.path().join("state");
    let ended = Command::new(std::env::current_exe().expect("this binary"))
        .args(["--exact", "stories::crash::program", "--nocapture"])
        .env(AS_PROGRAM, &folder)
        .env("HOME", home.path())
        .output()
        .expect("started");
    let said = String::from_utf8_lossy(&ended.stderr).into_owned();
    assert!(said.contains("crushbook broke off by a fault of its own"), "{said}");
    assert!(said.contains("Everything that was shown as saved is in the book: start it again"), "{said}");
    let [report] = reports(&folder).try_into().expect("one report");
    assert!(said.contains(&report.display().to_string()), "{said}");
    let text = fs::read_to_string(&report).expect("a report");
    for line in [
        concat!("crushbook ", env!("CARGO_PKG_VERSION")),
        "message left out",
        "screen 80x24",
        "hands foot",
        "wishes Digit Zone",
    ] {
        assert!(text.lines().any(|found| found == line), "no {line:?} in\n{text}");
    }
    assert!(text.contains("\nplace tests/stories/crash.rs:"), "{text}");
    assert!(text.contains("stories::crash::program"), "the calls that led there:\n{text}");
    let built = env!("CARGO_MANIFEST_DIR");
    let user = home.path().display().to_string();
    for name in ["Quillbarrow", "1382", built, &user, "/root/", "/home/", ".cargo/registry", "Digit(7)"] {
        assert!(!text.contains(name), "{name} is in\n{text}");
    }
}

#[test]
fn a_place_in_the_code_does_not_tell_where_it_was_built() {
    for (built, told) in [
        ("/home/hester/.cargo/registry/src/an-index/redb-4.6.0/src/db.rs", "redb-4.6.0/src/db.rs"),
        ("C:\\Users\\Hester\\crushbook\\src\\run\\mod.rs", "crushbook/src/run/mod.rs"),
        ("/rustc/59807616/library/std/src/panicking.rs", "std/src/panicking.rs"),
        ("src/run/mod.rs", "src/run/mod.rs"),
        ("./tests/stories/crash.rs", "tests/stories/crash.rs"),
        ("/home/hester/main.rs", "main.rs"),
    ] {
        assert_eq!(in_the_code(built), told);
    }
}

#[test]
fn a_few_reports_are_kept_and_the_newest_is_told_of() {
    let home = tempfile::tempdir().expect("a folder");
    for number in 1..=8 {
        let report = format!("crushbook 0\nwhen 2026-05-0{number} 09:30\nplace src/x.rs:{number}:1\n");
        keep(home.path(), moment(day(number)), &report).expect("kept");
    }
    let names: Vec<String> = reports(home.path())
        .iter()
        .map(|file| file.file_name().expect("a name").to_string_lossy().into_owned())
        .collect();
    let days: Vec<String> = (4..=8).map(|number| format!("crash-2026050{number}-093000.txt")).collect();
    assert_eq!(names, days);
    let newest = unread(home.path()).expect("unread");
    assert_eq!((newest.when.as_str(), newest.place.as_str()), ("2026-05-08 09:30", "src/x.rs:8:1"));
    assert!(told(&newest, true).contains("Nothing that was shown as saved is lost"));
    assert!(!told(&newest, false).contains("Nothing that was shown as saved is lost"));
    // Whoever writes into that file leads nobody out of the folder.
    fs::write(home.path().join("crash-unread.txt"), "../crash-secret.txt").expect("written");
    fs::write(home.path().join("../crash-secret.txt"), "when never").expect("written");
    assert_eq!(unread(home.path()), None);
    fs::remove_file(home.path().join("../crash-secret.txt")).expect("removed");
}

#[test]
fn the_next_start_tells_of_it_until_somebody_left_after_reading_it() {
    let home = tempfile::tempdir().expect("a folder");
    let folder = home.path().join(".local/state/crushbook");
    let report = "crushbook 0\nwhen 2026-05-14 09:30\nplace src/x.rs:12:1\n";
    keep(&folder, moment(day(14)), report).expect("kept");
    let arguments = ["demo", "--book", "herd.book", "--today", "2026-05-14"];
    // Killed before anybody left: it is told again.
    let mut terminal = Terminal::open(home.path(), &arguments);
    terminal.until(&["broke off on 2026-05-14 09:30", "shown as saved"]);
    terminal.kill();
    let mut terminal = Terminal::open(home.path(), &arguments);
    terminal.until(&["broke off on 2026-05-14 09:30", "is lost"]);
    assert_eq!(terminal.leave("q"), 0);
    let mut terminal = Terminal::open(home.path(), &arguments);
    terminal.until(&["Quillbarrow", "NUMBER"]);
    assert!(!terminal.shown().contains("broke off"));
    assert_eq!(terminal.leave("q"), 0);
    assert!(reports(&folder).iter().any(|file| file.ends_with("crash-20260514-093000.txt")), "the report stays");
}

/// The terminal's window is closed: nothing can be written any more, also not that nothing can be written.
#[test]
fn a_terminal_that_is_gone_is_no_fault() {
    let home = tempfile::tempdir().expect("a folder");
    let size = PtySize { rows: 24, cols: 80, pixel_width: 0, pixel_height: 0 };
    let pair = native_pty_system().openpty(size).expect("a pseudo-terminal");
    let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_crushbook"));
    command.args(["demo", "--book", "herd.book", "--today", "2026-05-14"]);
    command.env_clear();
    command.env("HOME", home.path());
    command.env("TERM", "xterm-256color");
    command.cwd(home.path());
    let mut child = pair.slave.spawn_command(command).expect("the program starts");
    drop(pair.slave);
    let mut output = pair.master.try_clone_reader().expect("its output");
    let (mut seen, mut bytes) = (Vec::new(), [0; 4096]);
    while !String::from_utf8_lossy(&seen).contains("Quillbarrow") {
        let count = output.read(&mut bytes).expect("it draws");
        assert!(count > 0, "it ended");
        seen.extend(&bytes[..count]);
    }
    drop(output);
    drop(pair.master);
    // 128 and the number of SIGHUP (POSIX, `kill -l`), or a clean end where the closed input is seen first.
    let code = child.wait().expect("it ends").exit_code();
    let folder = home.path().join(".local/state/crushbook");
    let log = std::fs::read_to_string(folder.join("log.txt")).unwrap_or_default();
    assert!([0, 129].contains(&code), "{code} {log}");
    let names: Vec<_> = reports(&folder).iter().filter_map(|file| Some(file.file_name()?.to_owned())).collect();
    assert_eq!(names, ["log.txt"], "nothing broke off");
    assert!(!home.path().join("herd.book-hand").exists(), "the book is at rest");
}
