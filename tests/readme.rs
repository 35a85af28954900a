//! The README says what is so: its key table is the one that the keymaps give. `UPDATE_README=1` writes it.

use crushbook::domain::practice::Region;
use crushbook::keys::help::markdown;
use crushbook::keys::keymap::BuiltIn;
use crushbook::report::words::Words;
use std::path::{Path, PathBuf};

const START: &str = "<!-- keys:start -->\n";
const END: &str = "<!-- keys:end -->";

fn readme() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")
}

/// The text before the table, the table, and the text after it.
fn cut(text: &str) -> Option<[&str; 3]> {
    let (before, rest) = text.split_once(START)?;
    let (table, after) = rest.split_once(END)?;
    Some([before, table, after])
}

#[test]
fn the_key_table_of_the_readme_is_that_of_the_keymaps() {
    let text = std::fs::read_to_string(readme()).expect("a README");
    let [before, kept, after] = cut(&text).expect("two marks round the key table");
    let table = markdown(&BuiltIn::ALL.map(BuiltIn::keymap), &|text| Words(Region::Plain).fill(text));
    if std::env::var_os("UPDATE_README").is_some() {
        std::fs::write(readme(), [before, START, &table, END, after].concat()).expect("the README can be written");
        return;
    }
    assert_eq!(kept, table, "README.md: UPDATE_README=1 cargo test readme writes the table");
}
