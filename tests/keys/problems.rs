//! Keymap files of one's own: single lines replaced, and every mistake told with its line.

use std::fs;
use std::path::Path;

use crushbook::keys::context::Context;
use crushbook::keys::fuzz_keymap;
use crushbook::keys::intent::{Intent, Role};
use crushbook::keys::key::Key;
use crushbook::keys::keymap::{BuiltIn, Keymap, Resolution};
use crushbook::keys::load::{load, load_or};
use crushbook::keys::table::TABLE;
use proptest::prelude::*;

fn told(text: &str) -> Vec<String> {
    load("my.toml", text.as_bytes()).1.iter().map(ToString::to_string).collect()
}

fn means(map: &Keymap, context: Context, c: char) -> Resolution {
    map.resolve(context, &[], Key::Char(c))
}

#[test]
fn single_lines_are_replaced_over_a_base() {
    let text = "base = \"two-hands\"\n[everywhere]\nundo = \"r\"\nredo = \"u\"\n[foot]\ntrim = [\";\", \"T\"]\n";
    let (map, problems) = load("my.toml", text.as_bytes());
    assert_eq!(problems, []);
    assert_eq!(means(&map, Context::Foot, 'r'), Resolution::Found(Intent::Undo));
    assert_eq!(means(&map, Context::Foot, 'u'), Resolution::Found(Intent::Redo));
    assert_eq!(means(&map, Context::Foot, '/'), Resolution::Unbound, "a line replaces all its keys");
    assert_eq!(means(&map, Context::Foot, ';'), Resolution::Found(Intent::Trim));
    assert_eq!(means(&map, Context::Foot, 't'), Resolution::Found(Intent::Trim));
    assert_eq!(means(&map, Context::Foot, '4'), Resolution::Found(Intent::Zone(4)));
}

#[test]
fn each_mistake_is_told_with_its_place_and_a_way_out() {
    let base = "base = \"two-hands\"\n";
    let table = [
        (
            "base = \"left\"\n",
            "my.toml:1: there is no built-in keymap \"left\"; write base = \"two-hands\" or base = \"keypad\" or base = \"left-hand\" or base = \"right-hand\"",
        ),
        ("[foto]\n", "my.toml:2: there is no state called \"foto\"; did you mean foot?"),
        ("[everywhere]\nundoo = \"x\"\n", "my.toml:3: nothing here is called \"undoo\"; did you mean undo?"),
        ("[everywhere]\nundo = \"Entr\"\n", "my.toml:3: no key is called \"Entr\"; did you mean Enter?"),
        (
            "[everywhere]\nundo = 3\n",
            "my.toml:3: the keys of undo must be a text or a list of texts; write undo = \"u\" or a list of such texts",
        ),
        (
            "[everywhere]\nundo = \"a b c d e\"\n",
            "my.toml:3: \"a b c d e\" is not one to 4 keys; put a space between the keys of a sequence",
        ),
        ("foot = 3\n", "my.toml:2: \"foot\" must be a table; write [foot] on a line of its own"),
        ("[today]\nzone-4 = \"z\"\n", "my.toml:3: zone-4 means nothing in [today]; it belongs in foot"),
        (
            "[text]\nback = \"b\"\n",
            "my.toml:3: \"b\" could no longer be written in a note; use a key that writes nothing, such as Enter or F2",
        ),
        ("[foot]\ntrim = \"v\"\n", "my.toml:3: \"v\" would mean both vet and trim; give vet or trim another key"),
        (
            "[foot]\ntrim = \"f\"\n",
            "my.toml:3: \"f\" is also the beginning of \"f b\"; use another key for one of them",
        ),
        ("[foot]\ntrim = []\n", "my.toml:3: no key reaches trim in [foot]; give trim a key in [foot]"),
    ];
    for (text, expected) in table {
        let text = if text.starts_with("base") { text.to_string() } else { format!("{base}{text}") };
        let told = told(&text);
        assert!(told.iter().any(|line| line == expected), "{text}\n{told:#?}\nexpected {expected}");
    }
}

#[test]
fn losing_undo_help_leave_or_back_is_told() {
    for name in ["undo", "help", "leave", "back", "go-on"] {
        let text = format!("base = \"keypad\"\n[everywhere]\n{name} = []\n");
        let told = told(&text);
        let wanted = format!("no key reaches {name} in [foot]");
        assert!(told.iter().any(|line| line.contains(&wanted)), "{told:#?}");
    }
}

#[test]
fn all_mistakes_are_told_at_once_and_nothing_is_half_rebound() {
    let text = "base = \"keypad\"\n[everywhere]\nundo = \"Bakspace\"\nredoo = \"r\"\n[fot]\n[foot]\ntrim = 1\n";
    let (map, problems) = load("my.toml", text.as_bytes());
    let lines: Vec<usize> = problems.iter().map(|problem| problem.line).collect();
    assert_eq!(lines, [3, 4, 5, 7], "{problems:#?}");
    assert_eq!(map, BuiltIn::Keypad.keymap());
}

#[test]
fn clashes_are_told_beside_names_that_nobody_knows() {
    let text = "base = \"two-hands\"\n[foot]\ntrim = \"v\"\nmeasur = \"Q\"\nnote = []\nwhole = \"Entr\"\n[sign-off]\npick-1 = \"2\"\n";
    let wanted = [
        "my.toml:3: \"v\" would mean both vet and trim; give vet or trim another key",
        "my.toml:4: nothing here is called \"measur\"; did you mean measure?",
        "my.toml:5: no key reaches note in [foot]; give note a key in [foot]",
        "my.toml:6: no key is called \"Entr\"; did you mean Enter?",
        "my.toml:8: \"2\" would mean both pick-2 and pick-1; give pick-2 or pick-1 another key",
    ];
    assert_eq!(told(text), wanted, "each once, and nothing that only repeats another");
}

#[test]
fn broken_syntax_still_names_its_lines() {
    let told = told("base = \"two-hands\"\n[everywhere]\nundo = u\nundo = \"x\"\nredo =\n");
    for line in [3, 4, 5] {
        let place = format!("my.toml:{line}: ");
        assert!(told.iter().any(|problem| problem.starts_with(&place)), "{line}: {told:#?}");
    }
}

#[test]
fn a_file_without_base_must_be_complete() {
    let whole = BuiltIn::LeftHand.text();
    assert_eq!(told(whole), Vec::<String>::new());
    for (line, lost) in
        [("zone-4  = [\"d\", \"4\"]\n", "zone-4 in [foot]"), ("leave = [\"Tab q\", \"Ctrl+c\"]\n", "leave in [text]")]
    {
        assert!(whole.contains(line), "{line}");
        let told = told(&whole.replace(line, ""));
        assert!(told.iter().any(|told| told.contains(&format!("no key reaches {lost}"))), "{told:#?}");
    }
}

#[test]
fn of_very_many_mistakes_the_first_are_told_and_the_rest_counted() {
    let told = told("[everywhere]\nundo = \"u\"\n");
    assert_eq!(told.len(), 21, "{told:#?}");
    // What lets nobody out comes first.
    assert!(told[0].starts_with("my.toml: no key reaches go-on in [today]"), "{told:#?}");
    let more = told[20]
        .strip_prefix("my.toml: ")
        .and_then(|rest| rest.strip_suffix(" more mistakes follow; mend these first"));
    // Every wish that is no shortcut, wherever it is meant, but undo.
    let rows = TABLE.iter().filter(|row| row.role != Role::Shortcut && row.intent != Intent::Undo);
    let all: usize = rows.map(|row| row.meant.len()).sum();
    assert_eq!(more.and_then(|more| more.parse().ok()), Some(all - 20), "{told:#?}");
}

#[test]
fn a_file_far_too_large_is_not_looked_through() {
    let text = "base = \"keypad\"\n".to_owned() + &"# a long story\n".repeat(1100);
    assert!(text.len() > 16384);
    let expected = format!(
        "my.toml:1: this file has {} bytes and may have 16384; it is hardly the file that was meant",
        text.len()
    );
    assert_eq!(told(&text), [expected]);
}

#[test]
fn any_built_in_map_can_be_the_base_and_the_one_to_fall_back_on() {
    for built_in in BuiltIn::ALL {
        let (map, problems) = load("my.toml", format!("base = \"{}\"\n", built_in.name()).as_bytes());
        assert_eq!(problems, []);
        for context in Context::ALL {
            assert!(map.bindings(context).eq(built_in.keymap().bindings(context)), "{built_in:?}");
        }
        let (map, problems) = load_or("my.toml", b"[fot]\n", built_in);
        assert_eq!((map, problems.len()), (built_in.keymap(), 1), "{built_in:?}");
    }
}

#[test]
fn a_file_that_is_no_text_is_told_with_its_line() {
    let (map, problems) = load("my.toml", b"base = \"keypad\"\n\xff\xfe\n");
    assert_eq!(problems.len(), 1);
    assert_eq!(problems[0].line, 2);
    assert_eq!(map, BuiltIn::TwoHands.keymap());
}

#[test]
fn foreign_text_reaches_the_screen_only_made_harmless() {
    let told = told("[everywhere]\n\"\\u001b[2J\\u202eundo\" = \"x\"\n");
    assert!(!told.is_empty());
    for line in told {
        assert!(!line.contains(['\u{1b}', '\u{202e}']), "{line:?}");
    }
}

#[test]
fn kept_seeds_never_panic() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/keys/seeds");
    let mut seen = 0;
    for entry in fs::read_dir(folder).expect("the seeds") {
        fuzz_keymap(&fs::read(entry.expect("a seed").path()).expect("a readable seed"));
        seen += 1;
    }
    assert!(seen >= 6, "the seeds are there");
    for map in BuiltIn::ALL {
        fuzz_keymap(map.text().as_bytes());
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn any_bytes_are_a_keymap_or_problems(data in prop::collection::vec(any::<u8>(), 0..200)) {
        fuzz_keymap(&data);
    }

    #[test]
    fn a_built_in_map_with_one_byte_changed_never_panics(at in 0usize..3000, byte in any::<u8>()) {
        let mut data = BuiltIn::TwoHands.text().as_bytes().to_vec();
        let place = at % data.len();
        data[place] = byte;
        fuzz_keymap(&data);
    }
}
