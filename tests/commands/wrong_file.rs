//! A file that was not meant: one sentence says so, and what is wanted, however much of it is wrong.

use super::home::{Home, Said, TODAY};

const BOOK: [&str; 6] = ["--book", "herd.book", "--today", TODAY, "--recorded-by", "Ann"];

/// Every reader of text, with what it wants.
const READERS: [(&[&str], &str); 6] = [
    (&["herd", "FILE", "--farm", "Quillbarrow"], "a herd list"),
    (&["gone", "--missing-from", "FILE", "--farm", "Quillbarrow"], "a herd list"),
    (&["walk", "Quillbarrow", "FILE"], "the list of a walk"),
    (&["enter", "FILE"], "a sheet"),
    (&["rules", "FILE"], "a file of rules"),
    (&["keys", "FILE"], "a keymap"),
];

fn read(home: &Home, reader: &[&str], file: &str) -> Said {
    let words: Vec<&str> = reader.iter().map(|word| if *word == "FILE" { file } else { word }).collect();
    home.run(&[&words, &BOOK[..]].concat())
}

#[test]
fn a_folder_is_said_to_be_one_and_what_is_wanted() {
    let home = Home::with_herd();
    std::fs::create_dir(home.path("folder")).expect("made");
    for (reader, wanted) in READERS {
        let said = read(&home, reader, "folder").complained(1);
        let told = format!("crushbook: folder is a folder, and {wanted} is wanted\nName a file in it.\n");
        assert_eq!(said, told, "{reader:?}");
    }
}

#[test]
fn a_picture_is_one_complaint() {
    let home = Home::with_herd();
    let picture: Vec<u8> = (0..=255).cycle().take(200_000).collect();
    std::fs::write(home.path("picture"), picture).expect("written");
    let before = home.run(&["export", "--book", "herd.book"]).well();
    for (reader, _) in READERS {
        let said = read(&home, reader, "picture").complained(1);
        assert!(said.lines().count() <= 3, "{reader:?}: {said}");
        assert!(said.contains("no text") || said.contains("not text") || said.contains("hardly the file"), "{said}");
    }
    assert_eq!(home.run(&["export", "--book", "herd.book"]).well(), before);
}

#[test]
fn of_very_many_mistakes_the_first_two_dozen_are_told_and_the_rest_counted() {
    let home = Home::with_herd();
    let lines = |head: &str, line: &dyn Fn(usize) -> String| {
        let rows: Vec<String> = (0..2000).map(line).collect();
        format!("{head}{}", rows.concat())
    };
    home.write("list.csv", &lines("number,lactation\n", &|row| format!("{row},zz\n")));
    home.write("walk.txt", &lines("", &|row| format!("{row} zz\n")));
    home.write("day.txt", &lines("farm Quillbarrow\nday 14 May 2026\n\n", &|_| "nonsense here\n".to_owned()));
    for (reader, file) in [
        (&["herd", "FILE", "--farm", "Quillbarrow", "--take", "all"][..], "list.csv"),
        (&["walk", "Quillbarrow", "FILE"], "walk.txt"),
        (&["enter", "FILE"], "day.txt"),
    ] {
        let said = read(&home, reader, file).complained(1);
        // What is wrong, two dozen lines, how many more, and what to do.
        assert_eq!(said.lines().count(), 27, "{said}");
        assert!(said.contains("\n  and 1976 more\n"), "{said}");
    }
    let shown = read(&home, &["herd", "FILE", "--farm", "Quillbarrow"], "list.csv");
    assert_eq!(shown.code, Some(1), "{}", shown.err);
    assert!(shown.out.contains("2000 bad cells") && shown.out.contains("\n  and 1976 more\n"), "{}", shown.out);
    // As JSON all of them are there.
    let json = read(&home, &["herd", "FILE", "--farm", "Quillbarrow", "--as", "json"], "list.csv").out;
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!(json["bad"].as_array().map(Vec::len), Some(2000));
}

#[test]
fn a_list_without_a_column_of_numbers_says_so_before_all_else() {
    let home = Home::with_herd();
    let first = |text: &str| {
        home.write("list.csv", text);
        let said = read(&home, &["herd", "FILE", "--farm", "Quillbarrow"], "list.csv");
        said.out.lines().next().unwrap_or_default().to_owned()
    };
    let said = first("beast,name,yield\n1371,Bramble,31\n");
    assert_eq!(
        said,
        "NO COLUMN OF NUMBERS IS KNOWN; left out: \"beast\", \"yield\". Call the one that holds them number."
    );
    let said = first("tag,lactation\nUK 000000 101371,3\n");
    assert_eq!(said, "NO COLUMN OF NUMBERS IS KNOWN; whoever is new on it has none.");
    assert_eq!(first("Cow no.,lactation\n1371,3\n"), "list.csv against Quillbarrow on 14 May 2026:");
    let json = home.json(&["herd", "list.csv", "--farm", "Quillbarrow", "--book", "herd.book"]);
    assert_eq!(
        (&json["columns"], &json["left_out"]),
        (&serde_json::json!(["number", "lactation"]), &serde_json::json!([]))
    );
}

#[test]
fn a_list_that_may_hide_rows_in_a_cell_takes_nobody_away() {
    let home = Home::with_herd();
    home.write("list.csv", "number,remark\n1371,\"lame\n1372,\n1373,lame\"\n");
    let said = read(&home, &["gone", "--missing-from", "FILE", "--farm", "Quillbarrow"], "list.csv").complained(1);
    assert!(said.contains("list.csv: lines 2 to 4 are one row by their quotes"), "{said}");
    assert!(said.contains("does not say surely whom it names, and nothing was written"), "{said}");
}
