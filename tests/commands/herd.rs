//! A herd list on the command line: shown first, taken whole or not at all, taken once, taken back; who is gone is said apart.

use super::home::{Home, TODAY};
use crate::store::disk::Dice;
use std::process::{Command, Stdio};

const FARM: [&str; 8] = ["--farm", "Quillbarrow", "--book", "herd.book", "--today", TODAY, "--recorded-by", "Ann"];

/// One changed lactation, one newcomer, everybody else missing.
const LIST: &str = "number,lactation,group\n1371,4,\n1372,,\n1412,0,heifers\n";

fn run(home: &Home, arguments: &[&str]) -> super::home::Said {
    home.run(&[arguments, &FARM].concat())
}

fn records(home: &Home) -> usize {
    home.run(&["export", "--book", "herd.book"]).well().lines().count() - 2
}

fn herd(home: &Home) -> serde_json::Value {
    home.json(&["herd", "--farm", "Quillbarrow", "--book", "herd.book"])
}

fn list(home: &Home, text: &str) {
    home.write("list.csv", text);
}

#[test]
fn a_list_is_shown_first_then_taken_and_changes_nothing_the_second_time() {
    let home = Home::with_herd();
    list(&home, LIST);
    let before = records(&home);
    let shown = run(&home, &["herd", "list.csv"]).well();
    for line in [
        "1 new, 1 changed, 1 as the list says, 33 missing from it",
        "  line 4: 1412, lactation 0, group heifers",
        "  1371 Bramble (line 2)\n    lactation: 3 -> 4\n",
        "  1394 Hyssop HAS SOMETHING ON: RH heel 10 yellow wrap. She stays on the due list.\n",
        "Nothing was written yet: --take all takes it.",
    ] {
        assert!(shown.contains(line), "{line}\n{shown}");
    }
    assert_eq!(records(&home), before, "shown is not taken");
    let due = run(&home, &["due"]).well();

    assert!(
        run(&home, &["herd", "list.csv", "--take", "all"]).well().contains("Taken. crushbook undo --farm Quillbarrow")
    );
    // Her lactation; she who is new with what is told of her; that the list was taken.
    assert_eq!(records(&home), before + 4);
    let now = home.json(&["animal", "1371", "--farm", "Quillbarrow", "--book", "herd.book"]);
    assert_eq!(
        (&now["herd"]["lactation"], &now["herd"]["group"]),
        (&4.into(), &"milkers".into()),
        "empty says nothing"
    );
    assert_eq!(now["told"][0]["lactation"], 4);
    assert_eq!(now["told"][1]["lactation"], 3, "both are kept");
    assert_eq!(herd(&home)["animals"].as_array().map(Vec::len), Some(36), "nobody was taken away");
    assert_eq!(run(&home, &["due"]).well(), due, "and nothing on anybody's feet changed");

    let again = run(&home, &["herd", "list.csv", "--take", "all"]).well();
    assert!(again.contains("3 as the list says") && again.contains("nothing was written"), "{again}");
    assert_eq!(records(&home), before + 4, "not one record more");
    home.run(&["check", "--book", "herd.book"]).well();
}

#[test]
fn the_list_that_lies_with_the_sample_herd_says_what_its_story_says() {
    let home = Home::with_herd();
    list(&home, include_str!("../../sample-herd/quillbarrow/new-list.csv"));
    let told = home.json(&["herd", "list.csv", "--farm", "Quillbarrow", "--book", "herd.book"]);
    // sample-herd/README.md.
    let change = serde_json::json!([{ "column": "group", "was": "milkers", "now": "far field" }]);
    assert_eq!(told["changed"].as_array().map(Vec::len), Some(1));
    assert_eq!((&told["changed"][0]["animal"], &told["changed"][0]["changes"]), (&"1374 Mallow".into(), &change));
    assert_eq!((&told["new"][0]["number"], &told["new"][1]), (&"1404".into(), &().into()));
    assert_eq!(told["missing"], serde_json::json!([{ "animal": "1396 Jasmine", "on": [] }]));
    assert_eq!((&told["bad"], &told["taken"]), (&serde_json::json!([]), &false.into()));
    let [doubt] = told["doubtful"].as_array().map(Vec::as_slice).unwrap_or_default() else { panic!("{told:#}") };
    // The tag's digits 04 stand as 40: 1440 = 7 * 205 + 5, and the check is one more.
    let words = "column tag, \"UK 000000 501440\": the check digit of this GB tag should be 6";
    assert!(doubt.as_str().is_some_and(|doubt| doubt.contains(words)), "{doubt}");
}

#[test]
fn with_a_bad_row_all_takes_nothing_and_good_takes_the_rest() {
    let home = Home::with_herd();
    list(&home, &format!("{LIST}1373,many,\n1371,5,\n"));
    let before = records(&home);
    let said = run(&home, &["herd", "list.csv", "--take", "all"]).complained(1);
    for line in [
        "3 cells of list.csv cannot be taken, and nothing was written",
        "list.csv:5: column lactation, \"many\": a lactation is a whole number from 0 to 30",
        "list.csv:2: column number, \"1371\": line 6 is 1371 too: take one out",
        "list.csv:6: column number, \"1371\": line 2 is 1371 too: take one out",
        "--take good takes all other rows",
    ] {
        assert!(said.contains(line), "{line}\n{said}");
    }
    assert_eq!(records(&home), before);
    let said = run(&home, &["herd", "list.csv", "--take", "good"]);
    assert_eq!((said.code, said.err.as_str()), (Some(1), ""), "{}", said.out);
    assert!(said.out.contains("1 new, 1 as the list says, 32 missing from it, 3 bad cells"), "{}", said.out);
    assert_eq!(records(&home), before + 3);
    assert_eq!(herd(&home)["animals"][0]["lactation"], 3, "of two lines about her neither was taken");
}

#[test]
fn a_list_is_one_press_that_undo_takes_back_whole() {
    let home = Home::with_herd();
    list(&home, LIST);
    let before = herd(&home);
    let exported = || -> std::collections::BTreeSet<String> {
        home.run(&["export", "--book", "herd.book"]).well().lines().map(str::to_owned).collect()
    };
    let held = exported();
    run(&home, &["herd", "list.csv", "--take", "all"]).well();
    let record = |line: &String| serde_json::from_str::<serde_json::Value>(line).expect("a line");
    // The last line of a file counts its records.
    let new: Vec<_> = exported().difference(&held).map(record).filter(|line| line["press"].is_u64()).collect();
    assert_eq!(new.len(), 4, "{new:?}");
    assert!(new.iter().all(|line| line["press"] == new[0]["press"]), "one press: {new:?}");
    let shown = run(&home, &["undo"]).well();
    assert!(shown.contains("herd-list list.csv: 1 new, 1 changed") && shown.contains("--yes takes it back"), "{shown}");
    assert_ne!(herd(&home), before, "shown is not taken back");
    assert!(run(&home, &["undo", "--yes"]).well().ends_with("Taken back.\n"));
    assert_eq!(herd(&home), before);
    // Taken once more, it is new again.
    assert!(run(&home, &["herd", "list.csv", "--take", "all"]).well().contains("1 new, 1 changed"));
    home.run(&["check", "--book", "herd.book"]).well();
}

#[test]
fn what_a_list_began_is_not_taken_back_once_more_was_written_of_it() {
    let home = Home::with_herd();
    list(&home, LIST);
    run(&home, &["herd", "list.csv", "--take", "all"]).well();
    home.write(
        "day.txt",
        "farm Quillbarrow\nday 14 May 2026\n\nanimal 1412\n  LH wrap blue off by 16 May by \"Tom\"\n  signed\n",
    );
    run(&home, &["enter", "day.txt"]).code.expect("entered");
    home.run(&["enter", "day.txt", "--book", "herd.book", "--today", TODAY, "--recorded-by", "Ann"]).well();
    let before = records(&home);
    let said = run(&home, &["undo", "--yes"]).complained(1);
    assert!(said.contains("more was written since of 1412, whom this began"), "{said}");
    assert_eq!(records(&home), before);
}

#[test]
fn the_herd_written_out_and_taken_in_again_changes_nothing() {
    let home = Home::with_herd();
    for farm in ["Quillbarrow", "Threlmarsh", "Oddenfold"] {
        let book = ["--farm", farm, "--book", "herd.book", "--today", TODAY, "--recorded-by", "Ann"];
        let text = home.run(&[&["herd", "--as", "csv"][..], &book].concat()).well();
        assert!(text.starts_with("number,tag,electronic number,name,breed,born,lactation,calved,"), "{text}");
        assert_eq!(text.matches("\r\n").count(), text.matches('\n').count(), "CR LF ends every line");
        home.write("herd.csv", &text);
        let before = records(&home);
        let said = home.run(&[&["herd", "herd.csv", "--take", "all"][..], &book].concat()).well();
        let count = text.lines().count() - 1;
        assert!(said.contains(&format!("{count} as the list says\n")) && !said.contains("MISSING"), "{said}");
        assert_eq!(records(&home), before);
        // And into a book that knows nobody: the same herd.
        let other = ["--farm", farm, "--book", "other.book", "--today", TODAY];
        home.run(&[&["herd", "herd.csv", "--take", "all", "--new-farm"][..], &other].concat()).well();
        assert_eq!(home.run(&[&["herd", "--as", "csv"][..], &other].concat()).well(), text);
    }
    // And by an exchange file: loss-free.
    home.run(&["export", "--book", "herd.book", "--to", "all.jsonl"]).well();
    home.run(&["import", "all.jsonl", "--book", "third.book"]).well();
    for form in ["csv", "json"] {
        let written = |book: &str| home.run(&["herd", "--farm", "Threlmarsh", "--as", form, "--book", book]).well();
        assert_eq!(written("third.book"), written("herd.book"));
    }
}

#[test]
fn names_that_a_spreadsheet_would_run_go_out_neutral_and_come_back_as_they_were() {
    let home = Home::with_herd();
    list(&home, "number,name,group,breed\n1371,=1+1,@low,'=x\n");
    run(&home, &["herd", "list.csv", "--take", "all"]).well();
    // A person wrote `'=x`: a spreadsheet's own way to say that `=x` is text.
    let text = run(&home, &["herd", "--as", "csv"]).well();
    assert!(text.contains("\r\n1371,,999000000001371,'=1+1,'=x,") && text.contains(",'@low,"), "{text}");
    assert_eq!(herd(&home)["animals"][0]["name"], "=1+1");
    home.write("list.csv", &text);
    assert!(run(&home, &["herd", "list.csv", "--take", "all"]).well().contains("Nothing is new"));
}

#[test]
fn who_is_gone_is_said_apart_and_who_wears_something_by_name_only() {
    let home = Home::with_herd();
    list(&home, LIST);
    let due = run(&home, &["due"]).well();
    let said = run(&home, &["gone", "--missing-from", "list.csv", "--how", "sold"]).well();
    assert!(said.contains("1390 Dittany: sold\n"), "{said}");
    assert!(said.contains("1394 Hyssop HAS SOMETHING ON: RH heel 10 yellow wrap. She was left as she is"), "{said}");
    let left = herd(&home);
    let left: Vec<&str> =
        left["animals"].as_array().expect("animals").iter().filter_map(|her| her["number"].as_str()).collect();
    assert_eq!(left, ["1371", "1372", "1379", "1381", "1387", "1391", "1394", "1400"]);
    for on in ["yellow wrap", "green wrap", "white wrap", "pink wrap"] {
        assert_eq!(run(&home, &["due"]).well().matches(on).count(), due.matches(on).count(), "{on}");
    }
    let said = run(&home, &["gone", "1394", "1391"]).well();
    assert!(said.contains("1394 Hyssop: gone, not told how. SHE HAS SOMETHING ON: RH heel 10 yellow wrap"), "{said}");
    assert!(run(&home, &["due"]).well().contains("yellow wrap"), "she stays on the list");
    let said = run(&home, &["gone", "1394", "1371"]).complained(1);
    assert!(said.contains("1394 left already: gone 14 May 2026"), "{said}");
    assert!(
        run(&home, &["animal", "1371"]).well().starts_with("1371 Bramble, Quillbarrow, in milk\n"),
        "and nothing was written"
    );
    run(&home, &["undo", "--yes"]).well();
    assert!(run(&home, &["animal", "1394"]).well().starts_with("1394 Hyssop, Quillbarrow, dry\n"), "she is back");
    run(&home, &["undo", "--yes"]).well();
    assert_eq!(herd(&home)["animals"].as_array().map(Vec::len), Some(35));
    assert_eq!(run(&home, &["due"]).well(), due);
}

#[test]
fn who_is_back_is_said_so_and_a_list_that_names_who_left_says_how() {
    let home = Home::with_herd();
    let said = run(&home, &["gone", "1371", "--back"]).complained(1);
    assert!(said.contains("1371 has not left") && said.contains("Nothing was written"), "{said}");
    run(&home, &["gone", "1371", "--how", "sold"]).well();
    let said = run(&home, &["gone", "1371"]).complained(1);
    assert!(said.contains("say with --back that she is back"), "{said}");
    // Her number alone begins nobody anew.
    list(&home, "number,lactation\n1371,4\n");
    let said = run(&home, &["herd", "list.csv", "--take", "all"]).complained(1);
    assert!(said.contains("left on 14 May 2026 (sold)") && said.contains("crushbook gone --back"), "{said}");
    let said = run(&home, &["gone", "1371", "--back", "--words", "not sold after all"]).well();
    assert!(said.contains("1371 Bramble: back in the herd\n") && said.contains("crushbook undo"), "{said}");
    run(&home, &["herd", "list.csv", "--take", "all"]).well();
    assert!(run(&home, &["animal", "1371"]).well().contains("came back \"not sold after all\""));
    // Taken back: the list first, then that she is back.
    run(&home, &["undo", "--yes"]).well();
    run(&home, &["undo", "--yes"]).well();
    assert!(run(&home, &["gone", "1371"]).complained(1).contains("left already: sold"));
    // Both at once say nothing.
    run(&home, &["gone", "1371", "--back", "--how", "died"]).complained(2);
}

#[test]
fn a_list_that_does_not_say_surely_whom_it_names_takes_nobody_away() {
    let home = Home::with_herd();
    let before = records(&home);
    for text in ["number\n1371\n1371\n", "number\n", "colour\nred\n", "", "number,electronic number\n1371,9.64E+14\n"] {
        list(&home, text);
        let said = run(&home, &["gone", "--missing-from", "list.csv"]).complained(1);
        assert!(said.contains("does not say surely whom it names, and nothing was written"), "{text:?}: {said}");
    }
    assert_eq!(records(&home), before);
    // A cell that says nothing of whom it names does no harm.
    list(&home, "number,lactation\n1371,many\n");
    assert!(run(&home, &["gone", "--missing-from", "list.csv"]).well().contains("1390 Dittany: gone, not told how"));
}

#[test]
fn what_is_no_list_and_what_cannot_be_asked_for_says_what_to_do() {
    let home = Home::with_herd();
    list(&home, "colour\nred\n");
    let said = run(&home, &["herd", "list.csv"]).complained(1);
    assert!(
        said.contains("list.csv is no herd list")
            && said.contains("no column is known")
            && said.contains("Correct the first line"),
        "{said}"
    );
    assert!(run(&home, &["herd", "nowhere.csv"]).complained(1).contains("nowhere.csv cannot be read"));
    assert!(run(&home, &["herd", "--take", "all"]).complained(2).contains("no list was named"));
    assert!(run(&home, &["herd", "list.csv", "--as", "csv"]).complained(2).contains("csv is a form of the herd"));
    list(&home, LIST);
    let said = home.run(&["herd", "list.csv", "--farm", "Quilbarrow", "--book", "herd.book"]).complained(1);
    assert!(said.contains("Did you mean Quillbarrow? --new-farm begins it."), "{said}");
    let said = home.run(&["herd", "list.csv", "--book", "herd.book"]).complained(2);
    assert!(said.contains("several farms, and none was named"), "{said}");
    let said = home.run_with(&[&["herd", "-"][..], &FARM].concat(), LIST).well();
    assert!(said.starts_with("input against Quillbarrow on 14 May 2026:\n"), "{said}");
    home.write("latin.csv", "number,name\n1371,Bramble\n");
    std::fs::write(home.path("latin.csv"), b"number,name\n1371,Ren\xe9e\n").expect("written");
    let said = run(&home, &["herd", "latin.csv"]);
    assert!(
        said.err.contains("not UTF-8 and was read as Windows-1252") && said.out.contains("name: Bramble -> Ren\u{e9}e"),
        "{said:?}"
    );
}

#[test]
fn joined_entries_take_a_list_and_it_changes_nothing_the_second_time() {
    let home = Home::new();
    home.write("a.csv", "number,tag\n11,UK A\n12,UK B\n");
    let book = ["--book", "b", "--today", TODAY, "--farm", "Brackenhope"];
    home.run(&[&["herd", "a.csv", "--new-farm", "--take", "all"][..], &book].concat()).well();
    home.run(&[&["twice", "join", "11", "12"][..], &book].concat()).well();
    // One animal with two entries: she is called by the newest words of both, and is told by either's tag.
    for (text, number) in
        [("number,tag\n11,UK B\n", "11"), ("number,tag\n21,UK B\n", "21"), ("number,tag\n12,UK B\n", "12")]
    {
        home.write("a.csv", text);
        home.run(&[&["herd", "a.csv", "--take", "all"][..], &book].concat()).well();
        let herd = home.json(&["herd", "--book", "b", "--farm", "Brackenhope"]);
        assert_eq!(herd["animals"][0]["number"], number, "{herd}");
        let again = home.run(&[&["herd", "a.csv", "--take", "all"][..], &book].concat()).well();
        assert!(again.contains("nothing was written"), "{again}");
    }
}

#[test]
fn a_list_is_in_the_book_whole_or_not_at_all_whenever_the_program_is_killed() {
    let home = Home::new();
    let rows: String = (1..=500).map(|number| format!("{number},Holstein\n")).collect();
    home.write("list.csv", &format!("number,breed\n{rows}"));
    home.write("a.txt", "farm Brackenhope\nday 12 May 2026\n\nanimal 1\n  all four trimmed nothing found\n  signed\n");
    home.run(&["enter", "a.txt", "--book", "start", "--today", TODAY]).well();
    // How many looks at it a whole taking lasts, so that the end comes while it reads, writes or is through. Nothing is asserted
    // about the time.
    let whole = killed_after(&home, usize::MAX);
    let mut dice = Dice::new(5);
    let mut found = Vec::new();
    for kill in 0..8 {
        killed_after(&home, whole / 8 * kill + dice.roll(whole / 4));
        let said = home.run(&["herd", "--book", "b", "--farm", "Brackenhope", "--as", "json"]);
        let herd: serde_json::Value = serde_json::from_str(&said.out).expect("JSON");
        let count = herd["animals"].as_array().expect("animals").len();
        // What broke off in the middle is said, and only that.
        let broke_off = "broke off: nothing of it is in the book";
        assert!(said.err.is_empty() || count == 1 && said.err.contains(broke_off), "{count}: {}", said.err);
        found.push(count);
        assert_eq!(home.run(&["check", "--book", "b"]).code, Some(0));
    }
    assert!(found.iter().all(|count| [1, 500].contains(count)), "{found:?}");
}

/// Takes the list in a copy of the book and kills the program after so many looks at it; gives how many there were.
fn killed_after(home: &Home, looks: usize) -> usize {
    std::fs::copy(home.path("start"), home.path("b")).expect("copied");
    let mut child = Command::new(env!("CARGO_BIN_EXE_crushbook"))
        .args(["herd", "list.csv", "--take", "all", "--book", "b", "--farm", "Brackenhope", "--today", TODAY])
        .env_clear()
        .env("HOME", home.path(""))
        .current_dir(home.path(""))
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("the program starts");
    let ended = (0..looks).find(|_| child.try_wait().expect("it can be asked").is_some());
    // It may be through.
    let _ = child.kill();
    child.wait().expect("it ends");
    ended.unwrap_or(looks)
}

#[test]
fn the_folder_in_which_the_screens_look_for_lists_is_told() {
    let home = Home::new();
    let told = home.run(&["folders", "--book", "work/book.redb"]).well();
    assert!(told.lines().any(|line| line.split_whitespace().eq(["lists", "work/herd-lists"])), "{told}");
}
