//! Whatever stands where the book should be: every way to open it ends in a sentence that says what is wrong and what to do,
//! nothing is changed, and nothing hangs.

use super::home::{Home, TODAY};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// What is wrong with a file: how it is made out of a sound book, and what is said of it, the way on included.
struct Bad {
    name: &'static str,
    make: fn(&Path, &[u8]),
    due: &'static [&'static str],
    check: &'static [&'static str],
    /// Whether a rescue finds records in it.
    rescued: bool,
}

const WAY_ON: &str = "crushbook rescue";

const DAMAGED: &[&str] = &["damaged", WAY_ON];
const FOREIGN: &[&str] = &["is not a book of this program", "--book", WAY_ON];

fn write(path: &Path, bytes: &[u8]) {
    fs::write(path, bytes).expect("written");
}

/// Another program's database.
fn other_database(path: &Path) {
    let db = redb::Database::create(path).expect("made");
    let transaction = db.begin_write().expect("writes");
    let table = redb::TableDefinition::<u64, u64>::new("birds");
    transaction.open_table(table).expect("a table").insert(1, 2).expect("written");
    transaction.commit().expect("commits");
}

fn pipe(path: &Path) {
    assert!(Command::new("mkfifo").arg(path).status().expect("mkfifo runs").success());
}

/// Cut short at each kind of place: in redb's mark, its header, its first pages, its middle, and just before its end.
fn cut(path: &Path, book: &[u8]) {
    let length = match path.extension().and_then(|end| end.to_str()).expect("a length") {
        "half" => book.len() / 2,
        "page" => book.len() - 4096,
        "byte" => book.len() - 1,
        number => number.parse().expect("a number"),
    };
    write(path, &book[..length]);
}

/// The first bytes of a JPEG file as JFIF 1.02 describes them.
const JPEG: &[u8] = b"\xff\xd8\xff\xe0\x00\x10JFIF\x00\x01\x02\x00\x00\x01\x00\x01\x00\x00";

#[rustfmt::skip]
const FILES: &[Bad] = &[
    Bad { name: "cut.5", make: cut, due: FOREIGN, check: FOREIGN, rescued: false },
    Bad { name: "cut.100", make: cut, due: &[WAY_ON], check: &[WAY_ON], rescued: false },
    Bad { name: "cut.511", make: cut, due: &[WAY_ON], check: &[WAY_ON], rescued: false },
    Bad { name: "cut.4096", make: cut, due: DAMAGED, check: DAMAGED, rescued: false },
    Bad { name: "cut.4200", make: cut, due: DAMAGED, check: DAMAGED, rescued: false },
    Bad { name: "cut.half", make: cut, due: DAMAGED, check: DAMAGED, rescued: true },
    Bad { name: "cut.page", make: cut, due: DAMAGED, check: DAMAGED, rescued: true },
    Bad { name: "cut.byte", make: cut, due: DAMAGED, check: DAMAGED, rescued: true },
    Bad { name: "photo.jpg", make: |path, _| write(path, &[JPEG, &[7; 9000]].concat()), due: FOREIGN, check: FOREIGN, rescued: false },
    Bad { name: "letter.txt", make: |path, _| write(path, b"Dear farmer,\n"), due: FOREIGN, check: FOREIGN, rescued: false },
    Bad { name: "other.db", make: |path, _| other_database(path), due: FOREIGN, check: FOREIGN, rescued: false },
    Bad { name: "folder", make: |path, _| fs::create_dir(path).expect("made"), due: &["is a folder", "--book"], check: &["is a folder", "--book"], rescued: false },
    #[cfg(unix)]
    Bad { name: "loop", make: |path, _| std::os::unix::fs::symlink(path, path).expect("linked"), due: &["leads nowhere", "--book"], check: &["leads nowhere", "--book"], rescued: false },
    #[cfg(unix)]
    Bad { name: "dangling", make: |path, _| std::os::unix::fs::symlink("/nowhere/at/all.book", path).expect("linked"), due: &["leads nowhere", "Plug in"], check: &["leads nowhere", "Plug in"], rescued: false },
    #[cfg(unix)]
    Bad { name: "pipe", make: |path, _| pipe(path), due: &["is a pipe", "Name a file"], check: &["is a pipe", "Name a file"], rescued: false },
];

/// What is there, for comparing: the bytes of a file, nothing of anything else. Of a database what it holds: redb notes in
/// its header that it was opened.
fn held(path: &Path) -> Option<Vec<u8>> {
    if path.extension().is_none_or(|end| end != "db") {
        return path.is_file().then(|| fs::read(path).expect("read"));
    }
    let db = redb::Database::open(path).expect("opens");
    let table = redb::TableDefinition::<u64, u64>::new("birds");
    let rows = redb::ReadableDatabase::begin_read(&db).expect("reads").open_table(table).expect("a table");
    Some(rows.get(1).expect("reads").expect("a row").value().to_le_bytes().to_vec())
}

#[test]
fn each_is_told_with_a_way_on_and_left_as_it_is() {
    let home = Home::with_herd();
    let book = fs::read(home.path("herd.book")).expect("there");
    for Bad { name, make, due, check, rescued } in FILES {
        let path = home.path(name);
        make(&path, &book);
        let before = held(&path);
        for (command, words) in [("due", due), ("check", check)] {
            let said = home.run(&[command, "--book", name, "--today", TODAY]).complained(1);
            for word in *words {
                assert!(said.contains(word), "{command} {name}: no {word:?} in {said}");
            }
            assert!(said.contains(name) && !said.contains("panicked"), "{command} {name}: {said}");
        }
        let said = home.run(&["rescue", name, "--to", "rescued.book"]);
        assert_eq!(home.path("rescued.book").exists(), *rescued, "rescue {name}: {said:?}");
        assert_eq!(said.out.contains("can be read"), *rescued, "rescue {name}: {said:?}");
        assert!(*rescued || !said.complained(1).is_empty());
        if *rescued {
            home.run(&["check", "--book", "rescued.book"]).well();
            fs::remove_file(home.path("rescued.book")).expect("removed");
        }
        assert!(held(&path) == before, "{name} is left as it is");
        assert!(!home.path(&format!("{name}-hand")).exists(), "nothing is made beside {name}");
    }
}

/// An empty file may be all that a crash of the system left of a book.
#[test]
fn an_empty_file_is_no_sound_book_and_is_said_when_one_is_begun_in_it() {
    let home = Home::new();
    home.write("empty.book", "");
    let said = home.run(&["check", "--book", "empty.book"]).complained(1);
    assert!(said.contains("empty.book is empty") && said.contains("backup"), "{said}");
    assert_eq!(held(&home.path("empty.book")).as_deref(), Some(&[][..]), "a check begins no book");
    let said = home.run(&["due", "--book", "empty.book"]).complained(0);
    assert!(said.contains("was there and empty") && said.contains("look for a backup"), "{said}");
    home.run(&["due", "--book", "empty.book"]).well();
}

/// Root may write everywhere, so there the program is run as nobody.
#[cfg(unix)]
fn as_nobody(home: &Path, arguments: &[&str]) -> (Option<i32>, String) {
    use std::os::unix::fs::MetadataExt;
    use std::os::unix::process::CommandExt;
    const NOBODY: u32 = 65_534;
    let mut program = Command::new(env!("CARGO_BIN_EXE_crushbook"));
    program.args(arguments).env_clear().env("HOME", home).current_dir(home).stdin(Stdio::null());
    if fs::metadata(home).expect("there").uid() == 0 {
        program.uid(NOBODY).gid(NOBODY);
    }
    let said = program.output().expect("the program starts");
    (said.status.code(), String::from_utf8_lossy(&said.stderr).into_owned())
}

#[cfg(unix)]
fn set_mode(path: &Path, mode: u32) {
    use std::os::unix::fs::PermissionsExt;
    fs::set_permissions(path, fs::Permissions::from_mode(mode)).expect("set");
}

#[cfg(unix)]
#[test]
fn what_may_not_be_written_or_read_is_told_with_a_way_on() {
    let home = Home::with_herd();
    let shut: PathBuf = home.path("shut");
    fs::create_dir(&shut).expect("made");
    for (name, mode) in [("read-only.book", 0o444), ("hidden.book", 0o000)] {
        fs::copy(home.path("herd.book"), shut.join(name)).expect("copied");
        set_mode(&shut.join(name), mode);
    }
    set_mode(&shut, 0o555);
    set_mode(home.0.path(), 0o755);
    let ways = [
        ("due", "shut/read-only.book", "copy it to where you may"),
        ("check", "shut/read-only.book", "copy it to where you may"),
        ("due", "shut/hidden.book", "Ask its owner"),
        ("check", "shut/hidden.book", "Ask its owner"),
        ("due", "shut/new.book", "cannot be written"),
    ];
    for (command, book, way_on) in ways {
        let (code, said) = as_nobody(home.0.path(), &[command, "--book", book, "--today", TODAY]);
        assert_eq!(code, Some(1), "{command} {book}: {said}");
        assert!(said.contains(book) && said.contains(way_on), "{command} {book}: {said}");
    }
    let (_, said) = as_nobody(home.0.path(), &["rescue", "shut/read-only.book"]);
    assert!(said.contains("no new book can be made in shut") && said.contains("--to FILE"), "{said}");
    let (_, said) = as_nobody(home.0.path(), &["rescue", "shut/hidden.book", "--to", "/tmp/never.book"]);
    assert!(said.contains("may not be read"), "{said}");
    // So that the folder can be taken away again.
    set_mode(&shut, 0o755);
}
