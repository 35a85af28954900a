//! The log: what it says, what it never says, and that nothing that happens to it is anybody's trouble.

use super::home::{Home, TODAY};
use crate::support::tablet::{day, moment};
use crushbook::command::log::{Line, Log, number_of};
use crushbook::store::error::StoreError;
use std::fs;
use std::path::{Path, PathBuf};

const FOLDER: &str = ".local/state/crushbook";

fn log(home: &Home) -> PathBuf {
    home.path(FOLDER).join("log.txt")
}

#[test]
fn a_run_is_logged_without_a_name() {
    let home = Home::with_herd();
    home.run(&["due", "--book", "herd.book", "--farm", "Quillbarrow", "--today", TODAY]).well();
    home.run(&["animal", "1382", "--book", "herd.book", "--farm", "Nowhere"]).complained(1);
    let said = fs::read_to_string(log(&home)).expect("a log");
    let words: Vec<&str> = said.lines().filter_map(|line| line.splitn(4, ' ').nth(3)).collect();
    let version = env!("CARGO_PKG_VERSION");
    let began = |command: &str| format!("began {command}, crushbook {version}");
    assert_eq!(words, [began("due").as_str(), "ended 0", &began("animal"), "ended 1"]);
    for name in ["Quillbarrow", "Nowhere", "1382", "herd", &home.0.path().display().to_string()] {
        assert!(!said.contains(name), "{name} is in the log: {said}");
    }
}

/// Every kind of line, with what is likeliest to bring a name along.
#[test]
fn no_line_has_a_place_for_a_name() {
    let folder = tempfile::tempdir().expect("a folder");
    let log = Log::at(folder.path());
    let path = PathBuf::from("/home/hester/Quillbarrow.book");
    let why = "No space left on device (os error 28)".to_owned();
    let refused = StoreError::NotSaved { path: path.clone(), why };
    let opened = Line::Opened(number_of(&path), 4632);
    for line in [opened, Line::refused(&refused), Line::refused(&StoreError::Gone(path)), Line::SavedAgain, Line::Slow]
    {
        log.say(moment(day(14)), &line);
    }
    let said = fs::read_to_string(folder.path().join("log.txt")).expect("a log");
    assert!(said.starts_with("2026-05-14 09:30:00 +0100 opened book "), "{said}");
    assert!(said.contains("not saved: No space left on device (os error 28)\n") && said.contains("refused: gone\n"));
    assert!(!said.contains("hester") && !said.contains("Quillbarrow") && !said.contains('/'), "{said}");
}

#[test]
fn it_is_put_aside_by_size_and_three_files_are_kept() {
    let folder = tempfile::tempdir().expect("a folder");
    let log = Log::at(folder.path());
    for number in 0..12_000 {
        log.say(moment(day(14)), &Line::Opened(0, number));
    }
    let mut files: Vec<_> = fs::read_dir(folder.path()).expect("listed").map(|file| file.expect("a file")).collect();
    files.sort_by_key(|file| file.file_name());
    let names: Vec<String> = files.iter().map(|file| file.file_name().to_string_lossy().into_owned()).collect();
    assert_eq!(names, ["log-1.txt", "log-2.txt", "log.txt"]);
    assert!(files.iter().all(|file| file.metadata().expect("there").len() <= 64 << 10));
    let numbers = |name: &str| -> Vec<u64> {
        let text = fs::read_to_string(folder.path().join(name)).expect("a log");
        text.lines().filter_map(|line| line.split(' ').nth(6)?.parse().ok()).collect()
    };
    let all = [numbers("log-2.txt"), numbers("log-1.txt"), numbers("log.txt")].concat();
    assert_eq!(all.last(), Some(&11_999));
    assert!(all.len() > 2000 && all.windows(2).all(|pair| pair[1] == pair[0] + 1), "no line is lost between files");
}

/// What may stand where the log should be.
const IN_THE_WAY: &[fn(&Path)] = &[
    |file| fs::create_dir_all(file).expect("made"),
    |file| fs::write(file.parent().expect("a folder"), "no folder").expect("written"),
    #[cfg(unix)]
    |file| {
        fs::create_dir_all(file.parent().expect("a folder")).expect("made");
        assert!(std::process::Command::new("mkfifo").arg(file).status().expect("mkfifo runs").success());
    },
    #[cfg(unix)]
    |file| {
        fs::create_dir_all(file.parent().expect("a folder")).expect("made");
        // Every write is refused, as on a full disk (Linux, full(4)); a link is not followed at all.
        std::os::unix::fs::symlink("/dev/full", file).expect("linked");
    },
];

#[test]
fn whatever_happens_to_it_the_work_goes_on() {
    for put in IN_THE_WAY {
        let home = Home::with_herd();
        let file = log(&home);
        fs::create_dir_all(file.parent().and_then(Path::parent).expect("a folder")).expect("made");
        put(&file);
        let said = home.run(&["due", "--book", "herd.book", "--today", TODAY]).well();
        assert!(said.contains("URGENT"), "{said}");
    }
}
