//! The README says what is so: its key table is the one that the keymaps give, and its talk in lines is what the program tells.
//! `UPDATE_README=1` writes both; the talk is read before it is kept.

use crate::stories::rig::Rig;
use crushbook::domain::practice::Region;
use crushbook::keys::help::markdown;
use crushbook::keys::keymap::BuiltIn;
use crushbook::report::words::Words;
use std::path::{Path, PathBuf};

const START: &str = "<!-- keys:start -->\n";
const END: &str = "<!-- keys:end -->";
const LINES: &str = "<!-- lines:start -->\n";
const LINES_END: &str = "<!-- lines:end -->";

fn readme() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")
}

/// The text before the marks, that between them, and the text after.
fn cut<'t>(text: &'t str, (start, end): (&str, &str)) -> Option<[&'t str; 3]> {
    let (before, rest) = text.split_once(start)?;
    let (table, after) = rest.split_once(end)?;
    Some([before, table, after])
}

/// Holds what stands between two marks to what is so.
fn hold(marks: (&str, &str), so: &str) {
    let text = std::fs::read_to_string(readme()).expect("a README");
    let [before, kept, after] = cut(&text, marks).expect("two marks");
    if std::env::var_os("UPDATE_README").is_some() {
        std::fs::write(readme(), [before, marks.0, so, marks.1, after].concat()).expect("the README can be written");
        return;
    }
    assert_eq!(kept, so, "README.md: UPDATE_README=1 cargo test readme writes it");
}

#[test]
fn the_key_table_and_the_talk_of_the_readme_are_what_is_so() {
    let table = markdown(&BuiltIn::ALL.map(BuiltIn::keymap), &|text| Words(Region::Plain).fill(text));
    hold((START, END), &table);
    hold((LINES, LINES_END), &talk());
}

/// What is typed in the talk of the README, on the sample herd.
const TYPED: [&str; 9] = ["1394", "", "rh", "1", "1", "", "lh 4 1 3", "udno", "undo"];

/// The talk, what is typed behind a mark.
fn talk() -> String {
    let mut rig = Rig::at(BuiltIn::TwoHands, "Quillbarrow");
    let mut talk = String::from("```text\n");
    for line in TYPED {
        let told = rig.line(line);
        talk.push_str(&format!("{}\n{told}", format!("> {line}").trim_end()));
    }
    talk + "```\n"
}
