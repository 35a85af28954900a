//! Folders of what goes in and what came out: each holds lists and sheets, `commands.txt`, one command a line, and `output.txt`,
//! what the program said to them one after the other. `UPDATE_FOLDERS=1 cargo test in_out` writes it anew: read what changed.

use crate::commands::home::{Home, TODAY};
use std::path::{Path, PathBuf};

/// The folders; one that is not named here fails.
const FOLDERS: [&str; 8] = ["herd_list", "herd_clashes", "farm", "gone", "day_list", "called", "walk", "visits"];
const COMMANDS: &str = "commands.txt";
const OUTPUT: &str = "output.txt";

fn here() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/in_out")
}

/// Words of a command; a word in quotes may hold blanks, or nothing.
fn words(line: &str) -> Vec<String> {
    let (mut words, mut quoted, mut begun) = (vec![String::new()], false, false);
    for letter in line.chars() {
        match letter {
            '"' => (quoted, begun) = (!quoted, true),
            ' ' if !quoted => {
                if begun || words.last().is_some_and(|word| !word.is_empty()) {
                    words.push(String::new());
                }
                begun = false;
            }
            other => words.last_mut().expect("one is begun").push(other),
        }
    }
    words
}

/// Runs every command of a folder in a home that holds its files, and writes down what was said.
fn told(folder: &Path) -> String {
    let home = Home::new();
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        let name = path.file_name().expect("a name").to_owned();
        std::fs::copy(&path, home.0.path().join(name)).expect("copied");
    }
    let commands = std::fs::read_to_string(folder.join(COMMANDS)).expect("commands");
    let mut text = String::new();
    for line in commands.lines().filter(|line| !line.is_empty()) {
        if line.starts_with('#') {
            text.push_str(&format!("{line}\n"));
            continue;
        }
        text.push_str(&format!("$ crushbook {line}\n"));
        let mut arguments = words(line);
        arguments.extend(["--book", "book"].map(str::to_owned));
        if !line.contains("--today") {
            arguments.extend(["--today", TODAY].map(str::to_owned));
        }
        let said = home.run(&arguments.iter().map(String::as_str).collect::<Vec<_>>());
        text.push_str(&said.out.replace("\r\n", "\n"));
        said.err.lines().for_each(|line| text.push_str(&format!("! {line}\n")));
        if said.code != Some(0) {
            text.push_str(&format!("exit code {:?}\n", said.code));
        }
        text.push('\n');
    }
    text
}

#[test]
fn every_folder_says_what_was_kept() {
    let mut wrong = Vec::new();
    for name in FOLDERS {
        let folder = here().join(name);
        let (told, kept) = (told(&folder), std::fs::read_to_string(folder.join(OUTPUT)).unwrap_or_default());
        if told == kept {
            continue;
        }
        if std::env::var_os("UPDATE_FOLDERS").is_some() {
            std::fs::write(folder.join(OUTPUT), &told).expect("written");
        }
        let line = told.lines().zip(kept.lines().chain(std::iter::repeat(""))).find(|(told, kept)| told != kept);
        wrong.push(format!("{name}: {line:?}"));
    }
    assert!(wrong.is_empty(), "UPDATE_FOLDERS=1 cargo test in_out writes them anew: {wrong:#?}");
}

#[test]
fn every_folder_is_run() {
    let entries = std::fs::read_dir(here()).expect("the folders").map(|entry| entry.expect("an entry").path());
    let mut there: Vec<String> = entries
        .filter(|path| path.is_dir())
        .map(|path| path.file_name().expect("a name").to_string_lossy().into_owned())
        .collect();
    there.sort();
    let mut named = FOLDERS.map(str::to_owned).to_vec();
    named.sort();
    assert_eq!(there, named);
}
