//! What cannot be asked for, what is printed for the asking, and a second window on one book.

use super::home::Home;
use crushbook::store::Store;
use crushbook::store::medium::{Medium, hand_beside};

#[test]
fn what_cannot_be_asked_for_ends_with_two() {
    let home = Home::new();
    let said = home.run(&["trim"]).complained(2);
    assert!(said.contains("trim"), "{said}");
    let said = home.run(&["due", "--today", "tomorrow"]).complained(2);
    assert!(said.contains("2026-05-14"), "how to write a day: {said}");
    let said = home.run(&["due", "--as", "sheet"]).complained(2);
    assert!(said.contains("json"), "{said}");
}

#[test]
fn help_and_version_are_answers() {
    let home = Home::new();
    let help = home.run(&["--help"]).well();
    for word in [
        "demo",
        "due",
        "day-list",
        "take-off-list",
        "animal",
        "enter",
        "keys",
        "rules",
        "backup",
        "restore",
        "export",
        "import",
        "join",
        "check",
        "folders",
        "--book",
        "--today",
        "--plain",
    ] {
        assert!(help.contains(word), "{word}: {help}");
    }
    assert!(!help.contains("check-here"), "{help}");
    assert_eq!(home.run(&["--version"]).well(), format!("crushbook {}\n", env!("CARGO_PKG_VERSION")));
}

#[test]
fn a_new_book_has_nothing_due() {
    let home = Home::new();
    let said = home.run(&["due", "--today", "2026-05-14"]).well();
    assert_eq!(said, "Nothing is open on THU 14 May 2026.\n");
    assert_eq!(home.json(&["due"])["items"].as_array().map(Vec::len), Some(0));
}

#[test]
fn the_folders_follow_the_base_directories() {
    let home = Home::new();
    let said = home.run(&["folders"]).well();
    let at = |name: &str| home.path(name).display().to_string();
    assert_eq!(
        said,
        format!(
            "book      {}\nkeys      {}\npractice  {}\nlog       {}\n",
            at(".local/share/crushbook/book.redb"),
            at(".config/crushbook/keys.toml"),
            at(".config/crushbook/practice.toml"),
            // XDG Base Directory Specification 0.8: what lasts between runs and is no data lies in ~/.local/state.
            at(".local/state/crushbook"),
        )
    );
}

#[test]
fn a_second_window_gets_a_plain_sentence() {
    let home = Home::with_herd();
    let book = home.path("herd.book");
    let held = Store::open(Medium::File(hand_beside(&book)), Medium::File(book), &mut || Ok(9)).expect("opens");
    for arguments in [&["due", "--book", "herd.book"] as &[&str], &["check", "--book", "herd.book"]] {
        let said = home.run(arguments).complained(1);
        assert!(said.contains("already open in another crushbook window"), "{said}");
    }
    drop(held);
}

#[test]
fn the_key_table_is_printed_and_a_keymap_is_looked_through() {
    let home = Home::new();
    let table = home.run(&["keys"]).well();
    assert!(table.contains("two-hands") && table.contains("keypad"), "{table}");
    home.write("keys.toml", "base = \"two-hands\"\n[foot]\nfindd = \"x\"\n[crsh]\n");
    let said = home.run(&["keys", "keys.toml"]).complained(1);
    assert!(said.contains("problems in keys.toml") && said.contains("keys.toml:"), "{said}");
    assert!(home.run(&["keys", "gone.toml"]).complained(1).contains("gone.toml cannot be read"));
}

#[test]
fn a_book_is_left_as_one_file_whatever_came_of_the_command() {
    let home = Home::with_herd();
    home.write("faulty.txt", "farm Quillbarrow\n");
    for arguments in [
        &["due", "--farm", "Nowhere", "--book", "herd.book"][..],
        &["animal", "13822", "--farm", "Quillbarrow", "--book", "herd.book"],
        &["enter", "faulty.txt", "--book", "herd.book"],
    ] {
        home.run(arguments).complained(1);
        assert!(!home.path("herd.book-hand").exists(), "{arguments:?}");
    }
}
