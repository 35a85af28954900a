//! Backups from the screens: at the end of a visit, on leaving, by a key; never in the way of one.

use super::rig::Rig;
use crate::screens::world::screen;
use crate::support::tablet::day;
use crushbook::domain::backup::{Backups, DAYS};
use crushbook::domain::history::TurnState;
use crushbook::keys::keymap::BuiltIn;
use crushbook::run::desk::Flow;
use crushbook::session::backup::Keeping;
use crushbook::session::mode::Mode;
use crushbook::session::{Notice, Refusal};
use crushbook::wire::backup::read_name;
use std::path::Path;

const MAP: BuiltIn = BuiltIn::TwoHands;
/// A number, all four feet trimmed, signed off.
const TURN: &str = "1 3 8 2 Enter 5 Enter";

/// A book of a day ago with one animal, and the folder that its backups are made in; empty: none is named.
fn rig(folder: &Path) -> Rig {
    let mut rig = Rig::with(MAP, &["1382"]);
    rig.practice.backups = Some(Backups { folder: folder.display().to_string(), days: DAYS });
    rig.pass(0);
    // So fast that nobody looks whether a backup is done before the next key.
    rig.hurry();
    rig
}

fn keeping(rig: &Rig) -> Keeping {
    rig.session().backup.clone().expect("backups are kept")
}

/// Records of each backup in a folder.
fn counts(folder: &Path) -> Vec<u64> {
    let names = std::fs::read_dir(folder).expect("listed").map(|entry| entry.expect("an entry").file_name());
    let mut counts: Vec<u64> =
        names.map(|name| read_name(name.to_str().expect("text")).expect("a backup").0.count).collect();
    counts.sort();
    counts
}

fn seen(rig: &Rig) -> String {
    screen(rig, MAP, (80, 24))
}

#[test]
fn a_visit_ends_with_a_backup_and_a_second_look_makes_none() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut rig = rig(folder.path());
    assert!(seen(&rig).contains("no backup of this book yet: b makes one"), "{}", seen(&rig));
    rig.press(TURN);
    assert!(!keeping(&rig).under_way, "not while animals come");
    rig.press("v");
    assert!(keeping(&rig).under_way);
    assert_eq!(rig.settle(), Flow::On);
    assert!(matches!(rig.notice(), Some(Notice::Words(words)) if words.starts_with("backed up and checked: ")));
    assert!(!seen(&rig).contains("no backup"), "{}", seen(&rig));
    let made = counts(folder.path());
    assert_eq!(made.len(), 1);
    rig.press("Enter v");
    assert!(!keeping(&rig).under_way, "nothing came since");
    assert_eq!(counts(folder.path()), made);
}

#[test]
fn keys_go_on_while_a_backup_is_made_and_are_in_the_next() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut rig = rig(folder.path());
    rig.press("b");
    assert!(keeping(&rig).under_way && seen(&rig).contains("backing up"), "{}", seen(&rig));
    rig.press(TURN);
    assert_eq!(rig.session().herd[0].turn.map(|turn| turn.state), Some(TurnState::Signed));
    rig.settle();
    rig.press("s");
    assert!(seen(&rig).contains("backup of 2 May 2026"), "{}", seen(&rig));
    rig.press("b");
    rig.settle();
    let counts = counts(folder.path());
    assert_eq!(counts.len(), 2);
    assert!(counts[1] > counts[0]);
}

#[test]
fn an_old_backup_is_said_once_records_came_and_the_days_are_over() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut rig = rig(folder.path());
    rig.press("b");
    rig.settle();
    rig.pass(u64::from(DAYS));
    assert!(!seen(&rig).contains("no backup"), "nothing came since: {}", seen(&rig));
    rig.press(TURN);
    rig.pass(0);
    assert!(seen(&rig).contains("no backup since 2 May 2026: b makes one"), "{}", seen(&rig));
    rig.press("b");
    rig.settle();
    assert!(!seen(&rig).contains("no backup"), "{}", seen(&rig));
}

#[test]
fn a_stick_that_is_not_there_is_said_and_keeps_nobody() {
    let home = tempfile::tempdir().expect("a folder");
    let stick = home.path().join("stick");
    let mut rig = rig(&stick);
    rig.press(TURN);
    rig.press("v");
    rig.settle();
    assert!(keeping(&rig).trouble.contains("is not there. Put the stick in"), "{}", keeping(&rig).trouble);
    assert!(seen(&rig).contains("no backup was made"), "{}", seen(&rig));
    rig.press("Enter 1 3 8 2 Enter");
    assert!(matches!(rig.mode(), Mode::Pad { .. }), "the next animal is in");
    std::fs::create_dir(&stick).expect("plugged in");
    rig.press("Esc v");
    rig.settle();
    assert_eq!(keeping(&rig).trouble, "");
    std::fs::remove_dir_all(&stick).expect("pulled out");
    rig.press("Enter 1 3 8 2 Enter Esc n H i Enter");
    assert_eq!(rig.press("q"), Flow::On);
    assert_eq!(rig.settle(), Flow::Leave, "and it is left all the same");
}

#[test]
fn whoever_leaves_waits_for_the_backup_or_presses_once_more() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut rig = rig(folder.path());
    rig.press("1 3 8 2 Enter");
    assert_eq!(rig.press("q"), Flow::On);
    assert!(seen(&rig).contains("backing up, then it ends"), "{}", seen(&rig));
    assert_eq!(rig.settle(), Flow::Leave);
    assert_eq!(counts(folder.path()).len(), 1);
    assert_eq!(rig.press("q"), Flow::Leave, "nothing came since");

    rig.pass(1);
    rig.press(TURN);
    assert_eq!(rig.press("q"), Flow::On);
    assert_eq!(rig.press("q"), Flow::Leave, "not waited for");

    rig.pass(1);
    rig.press(TURN);
    rig.press("q");
    rig.press("Enter");
    assert_eq!(rig.settle(), Flow::On, "whoever presses another key stays");
}

#[test]
fn without_a_folder_it_is_said_where_to_name_one_and_leaving_is_as_ever() {
    let mut rig = rig(Path::new(""));
    assert!(seen(&rig).contains("no backup of this book yet: name a folder in practice.toml"), "{}", seen(&rig));
    rig.press("b");
    assert!(matches!(rig.notice(), Some(Notice::Words(words)) if words.contains("crushbook folders says where")));
    rig.press(TURN);
    assert_eq!(rig.press("q"), Flow::Leave);
}

#[test]
fn a_new_book_and_one_that_is_thrown_away_say_nothing() {
    let mut rig = Rig::new(MAP);
    assert!(!seen(&rig).contains("backup"), "{}", seen(&rig));
    rig.press("b");
    assert!(matches!(rig.notice(), Some(Notice::Refused(Refusal::NoBackups))));
    let mut new = Rig::empty(MAP);
    new.practice.backups = Some(Backups::default());
    new.today = day(1);
    new.open();
    assert_eq!(keeping(&new).lag, None);
}
