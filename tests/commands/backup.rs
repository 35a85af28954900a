//! Backup and restore on the command line, with the real program and real folders.

use super::home::{Home, TODAY};
use crushbook::wire::backup::read_name;
use std::fs;

const BOOK: [&str; 4] = ["--book", "herd.book", "--today", TODAY];

fn run(home: &Home, arguments: &[&str]) -> super::home::Said {
    home.run(&[arguments, &BOOK[..]].concat())
}

/// Names of the backups in a folder of the home.
fn backups(home: &Home, folder: &str) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(home.path(folder))
        .expect("listed")
        .map(|entry| entry.expect("an entry").file_name().into_string().expect("text"))
        .filter(|name| read_name(name).is_some())
        .collect();
    names.sort();
    names
}

fn practice(home: &Home, text: &str) {
    fs::create_dir_all(home.path(".config/crushbook")).expect("a folder");
    home.write(".config/crushbook/practice.toml", text);
}

/// What the book says of every animal with something open.
fn due(home: &Home, book: &str) -> String {
    home.run(&["due", "--book", book, "--today", TODAY]).well()
}

#[test]
fn a_backup_is_made_where_it_is_said_or_where_the_practice_says() {
    let home = Home::with_herd();
    fs::create_dir(home.path("stick")).expect("a folder");
    let said = run(&home, &["backup", "stick"]).well();
    let names = backups(&home, "stick");
    assert_eq!(names.len(), 1);
    assert!(names[0].starts_with("crushbook-2026-05-14-") && !said.contains("Quillbarrow"), "{said}");
    assert!(said.contains(&names[0]) && said.contains("read back and checked"), "{said}");
    assert!(run(&home, &["backup"]).complained(2).contains("no folder for backups is named"));
    fs::create_dir(home.path("share")).expect("a folder");
    practice(&home, &format!("backup = \"{}\"\nbackup-days = 3\n", home.path("share").display()));
    run(&home, &["backup"]).well();
    assert_eq!(backups(&home, "share"), names);
    let folders = home.run(&["folders"]).well();
    assert!(folders.contains(&format!("backups   {}", home.path("share").display())), "{folders}");
    assert_eq!(home.run(&["check", "--book", &format!("share/{}", names[0])]).code, Some(0));
}

#[test]
fn what_keeps_a_backup_from_being_made_is_said() {
    let home = Home::with_herd();
    home.write("letter", "Dear farmer,\n");
    assert!(run(&home, &["backup", "letter"]).complained(1).contains("letter is a file, not a folder"));
    assert!(run(&home, &["backup", "gone"]).complained(1).contains("gone is not there. Put the stick in"));
    let said = home.run(&["backup", ".", "--book", "none.book"]).complained(1);
    assert!(said.contains("there is no book at none.book") && !home.path("none.book").exists(), "{said}");
    practice(&home, "backup = \"stick\"\nbackup-days = 0\n");
    assert!(!home.run(&["folders"]).out.contains("backups"));
    let said = run(&home, &["backup"]).complained(2);
    assert!(said.contains("practice.toml:1: backup cannot be \"stick\"; write the whole path of a folder"), "{said}");
    assert!(said.contains("practice.toml:2: backup-days cannot be 0; write a number of days, 1 to 365"), "{said}");
}

#[test]
fn a_lost_book_comes_back_whole() {
    let home = Home::with_herd();
    let before = due(&home, "herd.book");
    run(&home, &["backup", "."]).well();
    let name = backups(&home, ".").remove(0);
    fs::remove_file(home.path("herd.book")).expect("lost");
    let said = run(&home, &["restore", &name]).well();
    assert!(said.contains("herd.book is back") && !said.contains("kept"), "{said}");
    assert_eq!(due(&home, "herd.book"), before);
    assert!(home.path(&name).exists() && !home.path("herd.book-restoring").exists());
    let new = home.run(&["restore", &name, "--book", "far/away/new.book"]).well();
    assert!(new.contains("new.book is back"), "a folder that is not there yet is made: {new}");
}

#[test]
fn a_book_that_holds_more_is_kept_unless_that_is_said_and_then_set_aside() {
    let home = Home::with_herd();
    run(&home, &["backup", "."]).well();
    let name = backups(&home, ".").remove(0);
    home.write(
        "more.txt",
        "farm Quillbarrow\nday 14 May 2026\nby Ann\nanimal 1382\n  all four trimmed nothing found\n  signed\n",
    );
    run(&home, &["enter", "more.txt"]).well();
    let said = run(&home, &["restore", &name]).complained(1);
    assert!(said.contains("records that the backup lacks") && said.contains("--set-newer-aside"), "{said}");
    assert!(!home.path("herd.book-set-aside").exists());
    let said = run(&home, &["restore", &name, "--set-newer-aside"]).well();
    assert!(said.contains("is kept: ") && said.contains("herd.book-set-aside"), "{said}");
    let animal = |book: &str| home.run(&["animal", "1382", "--farm", "Quillbarrow", "--book", book]).well();
    assert_ne!(animal("herd.book-set-aside"), animal("herd.book"), "one turn more");
    assert!(run(&home, &["restore", "herd.book"]).complained(2).contains("is the book itself"));
    assert!(run(&home, &["restore", "none.redb"]).complained(1).contains("there is no backup at none.redb"));
    assert!(run(&home, &["restore", "more.txt"]).complained(1).contains("more.txt is no backup of this program"));
}

#[test]
fn a_damaged_book_is_backed_up_and_said_to_be_damaged() {
    let home = Home::with_herd();
    let mut bytes = fs::read(home.path("herd.book")).expect("there");
    let word = b"copper paste";
    for at in (0..bytes.len() - word.len()).filter(|at| bytes[*at..].starts_with(word)).collect::<Vec<_>>() {
        bytes[at] ^= 0x20;
    }
    fs::write(home.path("herd.book"), bytes).expect("written");
    let said = run(&home, &["backup", "."]).complained(1);
    assert!(said.contains("The book does not check") && said.contains("-damaged.redb"), "{said}");
    assert_eq!(backups(&home, "."), [] as [String; 0], "it counts as none");
}

/// A pipe that nobody writes to keeps whoever opens it waiting for ever.
#[cfg(unix)]
#[test]
fn a_pipe_in_the_place_of_a_file_is_told_and_never_waited_for() {
    let home = Home::with_herd();
    let pipe = |name: &str| {
        assert!(std::process::Command::new("mkfifo").arg(home.path(name)).status().expect("mkfifo runs").success());
    };
    run(&home, &["backup", "."]).well();
    let made = backups(&home, ".").remove(0);
    // Of days long ago, as many as the rule thins.
    for day in 10..24 {
        pipe(&made.replace(TODAY, &format!("2025-03-{day}")));
    }
    run(&home, &["backup", "."]).well();
    assert_eq!(backups(&home, ".").len(), 15, "what is no backup is not taken away");
    pipe("pipe.redb");
    let said = run(&home, &["restore", "pipe.redb"]).complained(1);
    assert!(said.contains("pipe.redb is a pipe or a device, not a file"), "{said}");
    for set_aside in [
        &["restore", &made, "--book", "pipe.redb"][..],
        &["restore", &made, "--book", "pipe.redb", "--set-newer-aside"],
    ] {
        let said = home.run(set_aside).complained(1);
        assert!(
            said.contains("pipe.redb is a pipe or a device, not a file") || said.contains("cannot be read through"),
            "{said}"
        );
    }
    assert!(!home.path("pipe.redb-set-aside").exists() && !home.path("pipe.redb-restoring").exists());
}
