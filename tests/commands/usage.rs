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
        "herd",
        "gone",
        "farm",
        "instruct",
        "undo",
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
            "book      {}\nlists     {}\nkeys      {}\npractice  {}\nlog       {}\n",
            at(".local/share/crushbook/book.redb"),
            at(".local/share/crushbook/herd-lists"),
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

#[test]
fn the_hand_that_is_free_is_said_by_option_by_the_practice_or_by_a_file_of_ones_own() {
    let home = Home::new();
    // What the keys mean tells which are in force.
    let undo = |arguments: &[&str]| -> String {
        let mut all = vec!["keys", "--try"];
        all.extend(arguments);
        let said = home.run_with(&all, "a\nm\n/\n");
        assert_eq!(said.code, Some(0), "{}", said.err);
        let mut blocks = said.out.split("  foot ").map(|block| block.lines().next().unwrap_or_default().trim());
        let means: Vec<&str> = blocks.by_ref().skip(1).collect();
        let at = means.iter().position(|means| *means == "undo the last press").expect("one of them is undo");
        ["left", "right", "both or keypad"][at].to_owned()
    };
    assert_eq!(undo(&[]), "both or keypad");
    assert_eq!(undo(&["--keys", "left-hand"]), "left");
    std::fs::create_dir_all(home.path(".config/crushbook")).expect("a folder");
    home.write(".config/crushbook/practice.toml", "keys = \"right-hand\"\n");
    assert_eq!(undo(&[]), "right");
    assert_eq!(undo(&["--keys", "left-hand"]), "left");
    home.write(".config/crushbook/keys.toml", "base = \"left-hand\"\n[everywhere]\nredo = \"Tab Tab z\"\n");
    assert_eq!(undo(&[]), "left");
    let said = home.run_with(&["keys", "--try", "--keys", "right-hand"], "a\n");
    assert!(said.err.contains("keys.toml comes before --keys"), "{}", said.err);
    assert!(said.out.contains("undo the last press"), "{}", said.out);
    // A bad file: the hand of the practice, and every mistake told.
    home.write(".config/crushbook/keys.toml", "[fot]\n");
    let said = home.run_with(&["keys", "--try"], "m\n");
    assert!(said.err.contains("keys.toml:1: there is no state called \"fot\"; did you mean foot?"), "{}", said.err);
    assert!(said.out.contains("undo the last press"), "{}", said.out);
    assert!(home.run(&["due", "--keys", "third-hand"]).complained(2).contains("the keymaps are two-hands, keypad"));
}

#[test]
fn names_of_keys_are_told_line_by_line() {
    let home = Home::new();
    let said = home.run_with(&["keys", "--try", "--keys", "keypad"], "* 7\n\nEnter\n").well();
    let expected = [
        "* 7",
        "  today     she is gone, sold, dead, back, dried off, or in milk again",
        "  animal    nothing",
        "  foot      zone 11, cleft wall",
        "  pad       nothing",
        "  sign-off  nothing",
        "  list      she is gone, sold, dead, back, dried off, or in milk again",
        "  ring      nothing",
        "  text      a letter",
        "  help      nothing",
        "Enter",
        "  today     open the animal; on the walk keep her score",
    ];
    assert_eq!(said.lines().take(expected.len()).collect::<Vec<_>>(), expected);
    let said = home.run_with(&["keys", "--try"], "u\nEntr\n\u{1b}[2J\nq\n");
    assert!(said.out.contains("leave; the animal in the crush is paused"), "the rest is told: {}", said.out);
    let said = said.complained(1);
    assert!(said.contains("line 2: no key is called \"Entr\"; did you mean Enter?"), "{said}");
    assert!(said.contains("line 3: no key is called") && !said.contains('\u{1b}'), "{said:?}");
    let many = "nonsense\n".repeat(1000);
    let said = home.run_with(&["keys", "--try"], &many).complained(1);
    assert!(said.lines().count() < 30 && said.contains("980 more such lines follow"), "{said}");
}
