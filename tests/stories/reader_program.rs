//! Tag readers at the real program in a pseudo-terminal: fifteen digits and Enter as a reader types them, in one piece and 5 ms
//! apart, wherever the hands are. What counts is what lies in the book afterwards, its program killed, and what the screen says.

use super::program::{DEMO, TODAY, Terminal, open, without_screen};
use std::fs;
use std::path::Path;
use std::time::Duration;
use tempfile::TempDir;

/// Worn by 1371 and 1372 of the sample herd, and by nobody. 999 is the code for tests (ISO 11784, from memory).
const HERS: &str = "999000000001371";
const NEXT: &str = "999000000001372";
const NOBODYS: &str = "999000000009999";

/// In one piece, as a keyboard driver hands over; and as wired readers type (5 ms is common practice).
const PACES: [Option<Duration>; 2] = [None, Some(Duration::from_millis(5))];
/// A silence that no reader makes: then this machine was too busy to be one, and it reads again from the start.
const BUSY: Duration = Duration::from_millis(30);

/// The sample herd on disk, with room in the reader's pace for a busy machine.
fn herd() -> TempDir {
    let home = tempfile::tempdir().expect("a folder");
    let settings = home.path().join(".config").join("crushbook");
    fs::create_dir_all(&settings).expect("a folder");
    fs::write(settings.join("practice.toml"), "reader-gap = 60\n").expect("the practice's file");
    let mut terminal = Terminal::open(home.path(), &DEMO);
    terminal.until(&["Quillbarrow", "NUMBER"]);
    assert_eq!(terminal.leave("q"), 0);
    home
}

fn again(home: &Path) -> Terminal {
    Terminal::open(home, &["--book", "herd.book", "--today", TODAY])
}

/// Records in the book and in the hand.
fn records(home: &Path) -> usize {
    let (store, _) = open(home);
    store.every().expect("read").count()
}

/// Does the same with a reader of each pace, in a herd of its own each.
fn with_each_reader(story: impl Fn(&Path, &dyn Fn(&mut Terminal, &str))) {
    for pace in PACES {
        for attempt in 1.. {
            let home = herd();
            let longest = std::cell::Cell::new(Duration::ZERO);
            let read = |terminal: &mut Terminal, tag: &str| {
                longest.set(longest.get().max(terminal.read_tag(tag, pace)));
            };
            let told = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| story(home.path(), &read)));
            match told {
                Ok(()) => break,
                Err(_) if longest.get() > BUSY && attempt < 5 => {}
                Err(why) => std::panic::resume_unwind(why),
            }
        }
    }
}

#[test]
fn on_today_a_reading_selects_her_and_writes_nothing() {
    with_each_reader(|home, read| {
        let before = records(home);
        let mut terminal = again(home);
        terminal.until(&["Quillbarrow", "NUMBER"]);
        read(&mut terminal, HERS);
        terminal.until(&["tag read: 1371", "> 1371"]);
        // She is selected, and Enter of the reader opened nobody.
        assert!(!terminal.shown().contains("in the crush"), "{}", terminal.shown());
        terminal.kill();
        assert_eq!(records(home), before);
    });
}

/// Leaves 1398 in the crush and gives back how many records there are then.
fn one_in_the_crush(home: &Path) -> usize {
    let mut terminal = again(home);
    terminal.until(&["Quillbarrow", "NUMBER"]);
    terminal.type_number("1398");
    terminal.press("\r", &["1398", "in the crush"]);
    terminal.kill();
    records(home)
}

#[test]
fn in_the_crush_a_reading_only_says_who_is_next() {
    with_each_reader(|home, read| {
        let before = one_in_the_crush(home);
        let mut terminal = again(home);
        terminal.until(&["1398", "expected 14: 1 done "]);
        read(&mut terminal, HERS);
        terminal.until(&["next: 1371"]);
        assert!(terminal.shown().contains("not looked at"), "no foot is up\n{}", terminal.shown());
        terminal.kill();
        assert_eq!(records(home), before, "nothing is written");
        let mut terminal = again(home);
        terminal.until(&["1398", "expected 14: 1 done "]);
        assert_eq!(terminal.leave("q"), 0);
    });
}

#[test]
fn with_a_foot_up_and_with_a_question_open_too() {
    with_each_reader(|home, read| {
        let before = one_in_the_crush(home);
        let mut terminal = again(home);
        terminal.until(&["1398", "expected 14: 1 done "]);
        terminal.press("1", &["LH [>]0"]);
        read(&mut terminal, HERS);
        terminal.until(&["next: 1371", "LH [>]0"]);
        terminal.kill();
        assert_eq!(records(home), before, "nothing is written");
        let mut terminal = again(home);
        terminal.until(&["1398", "expected 14: 1 done "]);
        terminal.press("1", &["LH [>]0"]);
        terminal.press("4", &["LH outer 4", "SU sole"]);
        read(&mut terminal, NEXT);
        terminal.until(&["next: 1372", "SU sole", "LH [>]0"]);
        terminal.kill();
        assert_eq!(records(home), before, "nothing is written");
    });
}

#[test]
fn in_a_text_what_is_typed_is_kept_and_no_digit_comes_to_it() {
    with_each_reader(|home, read| {
        let before = one_in_the_crush(home);
        let mut terminal = again(home);
        terminal.until(&["1398", "expected 14: 1 done "]);
        terminal.press("n", &["note"]);
        for (letter, typed) in [("h", "h_"), ("o", "ho_"), ("t", "hot_")] {
            terminal.press(letter, &[typed]);
        }
        read(&mut terminal, HERS);
        terminal.until(&["next: 1371", "hot_"]);
        terminal.press_until("\r", |screen| screen.contains("note: hot"));
        assert_eq!(records_killed(&mut terminal, home), before + 1, "one note, by the key that keeps it");
        let animal =
            without_screen(home, &["animal", "1398", "--farm", "Quillbarrow", "--book", "herd.book", "--as", "json"]);
        assert!(animal.contains("\"hot\"") && !animal.contains("hot9"), "{animal}");
    });
}

fn records_killed(terminal: &mut Terminal, home: &Path) -> usize {
    terminal.kill();
    records(home)
}

#[test]
fn whoever_wears_it_is_asked_once() {
    with_each_reader(|home, read| {
        let before = records(home);
        let mut terminal = again(home);
        terminal.until(&["Quillbarrow", "NUMBER"]);
        read(&mut terminal, NOBODYS);
        terminal.until(&["nobody here wears 999 000000009999", "who does?", "not now"]);
        // Put off by the key that says so; a key right behind a reading may be taken for the reader's own and is told so.
        terminal.press_until("\r", |screen| !screen.contains("who does?"));
        terminal.until(&["NUMBER"]);
        read(&mut terminal, NOBODYS);
        terminal.until(&["put off until the next visit", "NUMBER"]);
        assert!(!terminal.shown().contains("who does?"), "{}", terminal.shown());
        assert_eq!(records_killed(&mut terminal, home), before, "a reading writes nothing, nor does putting it off");
    });
}
