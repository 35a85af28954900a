//! `export` and `import`: loss-free both ways, written aside, and every file that is not whole answered with a sentence.

use super::home::{Home, TODAY};
use crate::support::tablet::{day, moment};
use clap::Parser;
use crushbook::command::cli::Cli;
use crushbook::command::fault::Fault;
use crushbook::command::recorder::Recorder;
use crushbook::command::{Next, World, run};
use std::cell::Cell;
use std::fs;

/// A sheet with two animals of an invented farm.
const SHEET: &str = "farm Lintel\nday 12 May 2026\nanimal 12\n  LH lifted\n  LH heel DD M2\n  LH heel wrap red off by 15 May\n  signed\n\
                     animal 13\n  all four trimmed nothing found\n  signed\n";

fn with_lintel() -> Home {
    let home = Home::new();
    home.run_with(&["enter", "-", "--new-farm", "--today", TODAY, "--book", "lintel.book"], SHEET).well();
    home
}

fn text(home: &Home, name: &str) -> String {
    fs::read_to_string(home.path(name)).expect("there")
}

#[test]
fn a_book_goes_out_and_into_an_empty_one_and_out_again_the_same() {
    let home = Home::with_herd();
    // Counted by the check, which reads the book another way.
    let said = home.run(&["check", "--book", "herd.book"]).well();
    let count: usize = said.split_once(' ').and_then(|(count, _)| count.parse().ok()).expect("a count of records");
    assert_eq!(
        home.run(&["export", "--book", "herd.book", "--to", "herd.jsonl"]).well(),
        format!("{count} records written to herd.jsonl\n")
    );
    let lines = text(&home, "herd.jsonl");
    assert_eq!(lines.lines().count(), count + 2, "a head, a line for each, and an end");
    assert!(
        lines.lines().all(|line| serde_json::from_str::<serde_json::Value>(line).is_ok()),
        "JSON to another reader"
    );
    let said = home.run(&["import", "herd.jsonl", "--book", "second.book", "--today", TODAY]).well();
    assert!(
        said.starts_with(&format!("{count} records are new.\n")) && said.contains("  Oddenfold: 36 animals\n"),
        "{said}"
    );
    assert_eq!(home.run(&["export", "--as", "jsonl", "--book", "second.book"]).well(), lines, "the very same file");
    assert_eq!(home.json(&["due", "--book", "second.book"]), home.json(&["due", "--book", "herd.book"]));
    assert!(home.run(&["check", "--book", "second.book"]).well().contains("The book is sound"));
    let again = home.run_with(&["import", "-", "--book", "second.book", "--today", TODAY], &lines).well();
    assert_eq!(again, format!("Nothing is new: {count} records were here already.\n"));
}

#[test]
fn an_import_says_what_is_due_that_was_not_known() {
    let home = with_lintel();
    let lines = home.run(&["export", "--book", "lintel.book"]).well();
    let said = home.run_with(&["import", "-", "--today", TODAY], &lines).well();
    assert!(said.contains("  Lintel: 2 animals\n"), "{said}");
    assert!(said.contains("Not known here until now.\nDue on THU 14 May 2026: "), "{said}");
    assert!(said.contains("red wrap"), "{said}");
}

#[test]
fn a_damaged_line_is_told_and_the_good_ones_come_in() {
    let home = with_lintel();
    let lines = home.run(&["export", "--book", "lintel.book"]).well();
    let count = lines.lines().count();
    let bad: Vec<String> = lines
        .lines()
        .enumerate()
        .map(|(at, line)| if at == 4 { line.replace("2026-05-12", "2026-05-13") } else { line.to_owned() })
        .collect();
    home.write("bad.jsonl", &bad.join("\n"));
    let said = home.run(&["import", "bad.jsonl"]);
    assert!(said.out.starts_with(&format!("{} records are new.\n", count - 3)), "{}", said.out);
    assert!(said.out.contains("Number 4 of series "), "the gap is told: {}", said.out);
    let complaint = said.complained(1);
    assert!(
        complaint.contains("bad.jsonl:5: record ") && complaint.contains("was changed after it was written"),
        "{complaint}"
    );
    assert!(
        complaint.ends_with("2 problems; all that is whole was taken in, and nothing else was changed.\n"),
        "{complaint}"
    );
    // Many are counted, not all written out.
    let noise: String =
        lines.lines().take(1).chain(std::iter::repeat_n("{oops", 500)).map(|line| format!("{line}\n")).collect();
    let complaint = home.run_with(&["import", "-"], &noise).complained(1);
    assert!(complaint.lines().count() == 22 && complaint.contains("and 481 more of them"), "{complaint}");
}

#[test]
fn files_that_cannot_be_taken_in_end_in_a_sentence() {
    let home = with_lintel();
    let lines = home.run(&["export", "--book", "lintel.book"]).well();
    home.write("empty", "");
    home.write("list.csv", "number,tag,name\n12,XX 1,Bramble\n");
    home.write("cut.jsonl", &lines[..lines.len() - 40]);
    fs::create_dir(home.path("folder")).expect("made");
    for (file, wanted) in [
        ("empty", "empty: it is empty"),
        ("list.csv", "list.csv: it is no exchange file: it begins with \"number,tag,name\""),
        ("lintel.book", "lintel.book: it is no exchange file: it is a book. crushbook join takes in what is new in it"),
        ("cut.jsonl", "cut.jsonl: it ends in the middle of line "),
        ("folder", "crushbook join folder takes in all exchange files of a folder"),
        ("nowhere.jsonl", "nowhere.jsonl cannot be read"),
    ] {
        let said = home.run(&["import", file]).complained(1);
        assert!(said.contains(wanted), "{said}\nshould contain {wanted}");
    }
    // One slip in the names of several changes nothing.
    home.run(&["import", "cut.jsonl", "nowhere.jsonl", "--book", "new.book"]).complained(1);
    assert!(!home.path("new.book").exists());
    assert!(home.run(&["import"]).complained(2).contains("FILE"));
}

#[test]
fn an_export_never_replaces_what_is_no_export() {
    let home = with_lintel();
    home.write("letter.txt", "Dear Hester");
    for name in ["letter.txt", "lintel.book"] {
        let before = fs::read(home.path(name)).expect("there");
        let said = home.run(&["export", "--book", "lintel.book", "--to", name]).complained(1);
        assert!(said.contains("is there already and is no exchange file"), "{said}");
        if name != "lintel.book" {
            assert_eq!(fs::read(home.path(name)).expect("there"), before);
        }
    }
    assert!(home.run(&["due", "--book", "lintel.book", "--today", TODAY]).well().contains("red wrap"));
    let said = home.run(&["export", "--book", "lintel.book", "--to", "no/folder/x.jsonl"]).complained(1);
    assert!(said.contains("cannot be written") && said.contains("Look whether the folder is there"), "{said}");
    let said = home.run(&["export", "--book", "none.book"]).complained(1);
    assert!(said.contains("there is no book at none.book") && !home.path("none.book").exists(), "{said}");
    // An older export is replaced, and nothing is left beside it.
    for _ in 0..2 {
        home.run(&["export", "--book", "lintel.book", "--to", "lintel.jsonl"]).well();
    }
    let left: Vec<_> = fs::read_dir(&home.0).expect("read").map(|entry| entry.expect("there").file_name()).collect();
    assert!(!left.iter().any(|name| name.to_string_lossy().ends_with(".part")), "{left:?}");
}

/// A disk that fills in the middle of an export is stood in for by a device that refuses every byte.
#[cfg(target_os = "linux")]
#[test]
fn an_export_that_has_no_room_says_so() {
    use std::process::{Command, Stdio};
    let home = with_lintel();
    let full = fs::OpenOptions::new().write(true).open("/dev/full").expect("Linux has it");
    let output = Command::new(env!("CARGO_BIN_EXE_crushbook"))
        .args(["export", "--book", "lintel.book"])
        .env_clear()
        .env("HOME", home.0.path())
        .current_dir(home.0.path())
        .stdout(full)
        .stderr(Stdio::piped())
        .output()
        .expect("the program runs");
    let said = String::from_utf8(output.stderr).expect("text");
    assert_eq!(output.status.code(), Some(1), "{said}");
    assert!(said.contains("the output cannot be written") && said.contains("disk is full"), "{said}");
}

/// Whoever waits presses Ctrl+C: the exit code is that of the signal, and all is as it was.
#[cfg(unix)]
#[test]
fn an_import_that_is_interrupted_leaves_the_book_as_it_was() {
    use std::io::Write;
    use std::process::{Command, Stdio};
    let home = Home::with_herd();
    let lines = home.run(&["export", "--book", "herd.book"]).well();
    let mut child = Command::new(env!("CARGO_BIN_EXE_crushbook"))
        .args(["import", "-", "--book", "lintel.book"])
        .env_clear()
        .env("HOME", home.0.path())
        .current_dir(home.0.path())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("starts");
    let mut input = child.stdin.take().expect("an input");
    // More than it takes at a time, so that it has asked once whether to stop; then it waits for more.
    let (most, rest) = lines.split_at(lines.len() - 200);
    for _ in 0..4 {
        input.write_all(most.as_bytes()).expect("it reads");
        input.write_all(b"\n").expect("it reads");
    }
    let killed = Command::new("kill").args(["-INT", &child.id().to_string()]).status().expect("kill is there");
    assert!(killed.success());
    let _ = input.write_all(rest.as_bytes());
    drop(input);
    let output = child.wait_with_output().expect("it ends");
    let said = String::from_utf8(output.stderr).expect("text");
    assert_eq!(output.status.code(), Some(130), "128 and the number of the signal: {said}");
    assert!(said.contains("stopped: nothing was taken in, and the book is as it was"), "{said}");
    let count = home.run(&["export", "--book", "lintel.book"]).well().lines().count();
    assert_eq!(count, 2, "a head and an end");
}

/// Asks for an export of the book with a bar to watch and a signal after so many records; gives what is said on the two outputs.
fn watched(home: &Home, stop_after: usize) -> (Result<u8, Fault>, String, String) {
    let path = |name: &str| home.path(name).display().to_string();
    let arguments =
        ["crushbook", "export", "--book", &path("lintel.book"), "--to", &path("lintel.jsonl")].map(str::to_owned);
    let cli = Cli::parse_from(arguments);
    let (mut input, mut out, mut err) = (std::io::empty(), Vec::new(), Vec::new());
    let asked = Cell::new(0);
    let stop = || {
        asked.set(asked.get() + 1);
        (asked.get() > stop_after).then_some(2)
    };
    let mut world = World {
        by: Recorder::default(),
        now: moment(day(1)),
        input: &mut input,
        out: &mut out,
        err: &mut err,
        terminal: false,
        dumb: false,
        watched: true,
        stop: &stop,
    };
    let done = run(&cli, &mut world).map(|next| match next {
        Next::Done(code) => code,
        Next::Screens(_) | Next::Lines(_) | Next::Trial(_, _) => panic!("no screens"),
    });
    let text = |bytes| String::from_utf8(bytes).expect("text");
    (done, text(out), text(err))
}

#[test]
fn an_export_that_is_stopped_leaves_the_older_one_and_nothing_else() {
    let home = with_lintel();
    let records = home.run(&["export", "--book", "lintel.book"]).well().lines().count() - 2;
    watched(&home, usize::MAX).0.expect("exported");
    let before = text(&home, "lintel.jsonl");
    for after in 0..records {
        let (done, out, _) = watched(&home, after);
        let fault = done.expect_err("stopped");
        assert_eq!((fault.code(), out.as_str()), (130, ""), "128 and the number of the signal: {fault:?}");
        assert_eq!(text(&home, "lintel.jsonl"), before, "stopped after {after}");
        assert!(!home.path(".lintel.jsonl.part").exists());
    }
}

#[test]
fn a_bar_grows_on_a_terminal_and_is_gone_at_the_end() {
    let home = with_lintel();
    let (done, out, err) = watched(&home, usize::MAX);
    assert_eq!(done, Ok(0), "{out}");
    let drawn: Vec<&str> = err.split('\r').map(str::trim_end).collect();
    assert!(drawn.contains(&"exporting [....................]   0 %"), "{drawn:?}");
    assert!(drawn.iter().any(|line| line.starts_with("exporting [##########")), "{drawn:?}");
    assert!(drawn.iter().all(|line| line.len() < 60), "fits the smallest screen: {drawn:?}");
    assert!(err.ends_with('\r') && drawn[drawn.len() - 2].is_empty(), "nothing is left of it: {err:?}");
    // In a pipe there is none: every other test says so with `well`.
}

#[test]
fn a_book_of_a_newer_layout_is_refused_in_words_and_still_exported() {
    let home = with_lintel();
    let lines = home.run(&["export", "--book", "lintel.book"]).well();
    {
        // What a newer program does first: it gives the book a higher number.
        let db = redb::Database::create(home.path("lintel.book")).expect("opens");
        let transaction = db.begin_write().expect("writes");
        let meta = redb::TableDefinition::<u16, &[u8]>::new("meta");
        transaction.open_table(meta).expect("a table").insert(1, 9_u32.to_le_bytes().as_slice()).expect("written");
        transaction.commit().expect("commits");
    }
    let said = home.run(&["due", "--book", "lintel.book"]).complained(1);
    assert!(said.contains("layout 9") && said.contains("newer program"), "{said}");
    let exported = home.run(&["export", "--book", "lintel.book"]);
    assert_eq!((exported.code, exported.out.as_str()), (Some(0), lines.as_str()), "{}", exported.err);
    assert!(exported.err.contains("laid out by a newer crushbook"), "{}", exported.err);
    let said = home.run(&["export", "--book", "lintel.book", "--to", "."]).complained(1);
    assert!(said.contains("name a file: --to FILE"), "{said}");
    assert!(home.run(&["export", "--book", "lintel.book"]).out == lines, "and again: it is as it was");
}

#[test]
fn what_is_no_ordinary_file_is_neither_read_nor_written_over() {
    let home = with_lintel();
    for from in ["import", "join"] {
        let said = home.run(&[from, "/dev/null", "--book", "lintel.book"]).complained(1);
        assert!(said.contains("is a pipe or a device, not a file"), "{said}");
    }
    let said = home.run(&["enter", "/dev/null", "--book", "lintel.book"]);
    assert!(said.err.contains("/dev/null cannot be read"), "{}", said.err);
    home.write("real.jsonl", "");
    std::os::unix::fs::symlink("real.jsonl", home.path("link.jsonl")).expect("linked");
    for to in ["link.jsonl", "/dev/null", "lintel.book", "lintel.book-hand"] {
        let said = home.run(&["export", "--book", "lintel.book", "--to", to]).complained(1);
        assert!(said.contains("it was left as it is"), "{to}: {said}");
    }
    assert_eq!(text(&home, "real.jsonl"), "");
    assert!(home.path("link.jsonl").is_symlink() && !home.path("lintel.book-hand").exists());
}
