//! The practice's file: its region's words in every text, and every mistake told without stopping work.

use super::home::{Home, TODAY};

const FILE: &str = ".config/crushbook/practice.toml";

fn home_with(text: &str) -> Home {
    let home = Home::with_herd();
    std::fs::create_dir_all(home.path(".config/crushbook")).expect("a folder");
    home.write(FILE, text);
    home
}

const DUE: [&str; 5] = ["due", "--book", "herd.book", "--today", TODAY];

#[test]
fn the_file_says_the_region_and_the_command_line_beats_it() {
    let home = home_with("region = \"uk\"\n");
    let due = home.run(&DUE).well();
    assert!(due.contains("bandage off") && !due.contains("wrap"), "{due}");
    let american = home.run(&[&DUE[..], &["--region", "north-america"]].concat()).well();
    assert!(american.contains("wrap off") && !american.contains("bandage"), "{american}");
    let keys = home.run(&["keys", "--region", "north-america"]).well();
    assert!(keys.contains("lift the left rear foot") && !keys.contains("hind foot"), "{keys}");
    let said = home.run(&["due", "--region", "mars"]).complained(2);
    assert!(said.contains("the regions are plain, uk, north-america, nz-australia"), "{said}");
}

#[test]
fn fields_of_json_are_the_same_everywhere() {
    let home = home_with("region = \"uk\"\n");
    let due = home.json(&["due", "--book", "herd.book"]).to_string();
    assert!(due.contains("\"wrap-off\"") && !due.contains("bandage"), "{due}");
}

#[test]
fn every_mistake_is_told_and_work_goes_on() {
    let home = home_with("region = \"texas\"\nregoin = 3\nregion\n");
    let said = home.run(&DUE);
    assert_eq!(said.code, Some(0), "{}", said.err);
    assert!(said.out.contains("wrap off"), "{}", said.out);
    let file = home.path(FILE).display().to_string();
    for line in [
        format!("crushbook: {file}:1: region cannot be \"texas\"; write one of \"plain\", \"uk\""),
        format!(
            "crushbook: {file}:2: nothing here is called \"regoin\"; what can be said is \"region\", \"keys\", \"backup\", \"backup-days\", \"same-key-crush\", \"same-key-typing\", \"reader-gap\", and [stated]"
        ),
        format!("crushbook: {file}:3: "),
    ] {
        assert!(said.err.contains(&line), "{line}\n{}", said.err);
    }
}

#[test]
fn a_file_that_is_no_text_is_told_with_its_line() {
    let home = Home::new();
    std::fs::create_dir_all(home.path(".config/crushbook")).expect("a folder");
    std::fs::write(home.path(FILE), b"region = \"uk\"\n\xff\n").expect("written");
    let said = home.run(&["keys"]);
    assert_eq!(said.code, Some(0));
    assert!(said.err.contains("practice.toml:2: this is not text; save it as UTF-8"), "{}", said.err);
}

#[test]
fn how_fast_the_keys_are_is_told_within_limits() {
    use crushbook::domain::practice::Pace;
    use crushbook::wire::practice::read;
    let (practice, problems) = read("p.toml", b"same-key-crush = 200\nsame-key-typing = 60\nreader-gap = 50\n");
    assert_eq!((practice.pace, problems), (Pace { crush: 200, typing: 60, reader: 50 }, Vec::new()));
    let file = "same-key-crush = 20\nsame-key-typing = 500\nreader-gap = \"fast\"\n";
    let (practice, problems) = read("p.toml", file.as_bytes());
    assert_eq!(practice.pace, Pace::default(), "120, 45 and 35 ms");
    let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
    let wanted = [
        "p.toml:1: same-key-crush cannot be 20; write milliseconds, 60 to 250",
        "p.toml:2: same-key-typing cannot be 500; write milliseconds, 20 to 100",
        "p.toml:3: reader-gap cannot be \"fast\"; write milliseconds, 20 to 60",
    ];
    assert_eq!(said, wanted);
    // Each default lies within its own limits.
    let pace = Pace::default();
    assert!(
        Pace::CRUSH.contains(&pace.crush) && Pace::TYPING.contains(&pace.typing) && Pace::READER.contains(&pace.reader)
    );
}
