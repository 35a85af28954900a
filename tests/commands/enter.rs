//! Sheets going in: once, twice, faulty, for a farm nobody knows, several in one file.

use super::home::{Home, TODAY};

const FIRST: &str = "farm Lintel\nday 7 May 2026\nby Ann\n\nanimal 12\n  LH lifted trimmed all seen\n  LH outer 4 SU moderate\n  \
                     LH inner block wood\n  signed\n";
const SECOND: &str = "farm Lintel\nday 14 May 2026\nby Ann\n\nanimal 12\n  LH lifted all seen\n  LH outer 4 SU better\n  \
                      LH inner block left sound\n  signed\n";

/// What is to be done about an animal that is new by a slip of the pen.
const SLIP: &str = "If a new one is a slip of the pen: open the number on the screens, with paper of that day where it is not\n\
                    today, and \"turn of another\" gives it to the right number;\n\
                    crushbook gone NUMBER --farm Lintel then says that nobody has that one.\n";

fn enter(home: &Home, text: &str) -> super::home::Said {
    home.run_with(&["enter", "-", "--today", TODAY], text)
}

#[test]
fn a_sheet_goes_in_once() {
    let home = Home::new();
    let said = enter(&home, FIRST).well();
    assert_eq!(said, format!("Lintel, THU 7 May 2026: new farm; 1 in the crush\n  new animal 12 (input:5)\n{SLIP}"));
    assert!(home.path(".local/share/crushbook/book.redb").exists(), "the data folder of the XDG base directories");
    let before = home.json(&["animal", "12"]);
    assert_eq!(enter(&home, FIRST).well(), "Lintel, THU 7 May 2026: already entered\n");
    assert_eq!(home.json(&["animal", "12"]), before);
    assert_eq!(
        enter(&home, &format!("{FIRST}\n{SECOND}")).well().lines().collect::<Vec<_>>(),
        ["Lintel, THU 7 May 2026: already entered", "Lintel, THU 14 May 2026: 1 in the crush",]
    );
    let turns = home.json(&["animal", "12", "--farm", "Lintel"])["turns"].take();
    assert_eq!(turns[0]["date"], TODAY);
    assert_eq!(turns[0]["findings"][0]["outcome"], "better");
    assert_eq!(turns[1]["findings"][0]["grade"], "moderate");
    assert_eq!(turns.as_array().map(Vec::len), Some(2));
}

#[test]
fn a_faulty_sheet_leaves_nothing_and_every_mistake_is_told() {
    let home = Home::new();
    enter(&home, FIRST).well();
    let before = home.json(&["animal", "12"]);
    let faulty = "farm Lintel\nday 14 May 2026\n\nanimal 12\n  LH outer 4 SU bettr\n  RH lited\n  signed\n";
    let said = enter(&home, &format!("{SECOND}{faulty}")).complained(1);
    assert!(said.contains("2 mistakes; nothing was entered"), "{said}");
    assert!(said.contains("input:14:17: ") && said.contains("did you mean better?"), "{said}");
    assert!(said.contains("input:15:6: "), "{said}");
    assert_eq!(home.json(&["animal", "12"]), before, "nothing of either sheet");
}

#[test]
fn what_the_book_does_not_know_cannot_be_answered() {
    let home = Home::new();
    enter(&home, FIRST).well();
    let said = enter(&home, &SECOND.replace("LH outer 4 SU", "RH outer 4 SU")).complained(1);
    assert!(said.contains("input:7:1: no open SU at RH outer 4 to answer"), "{said}");
    let said = enter(&home, "farm Lintel\nday 14 May 2026\ntold 12 RF wrap off telephone\n").complained(1);
    assert!(said.contains("input:3:1: the book knows of no wrap at RF"), "{said}");
    assert_eq!(home.json(&["animal", "12"])["turns"].as_array().map(Vec::len), Some(1));
}

#[test]
fn a_farm_that_may_be_a_slip_is_asked_about() {
    let home = Home::new();
    enter(&home, FIRST).well();
    let other = FIRST.replace("Lintel", "Lintle");
    let said = enter(&home, &other).complained(1);
    assert!(said.contains("input:1:1: the book knows of no farm Lintle; did you mean Lintel?"), "{said}");
    let said = home.run_with(&["enter", "-", "--new-farm", "--today", TODAY], &other);
    assert!(said.out.contains("Lintle, THU 7 May 2026: new farm"), "{said:?}");
    let near = "crushbook: input:1: begins the farm Lintle; near it in the book: Lintel. A slip of the pen?\n";
    assert_eq!(said.err, near, "{said:?}");
    let said = home.run(&["animal", "12"]).complained(2);
    assert!(said.contains("--farm") && said.contains("Lintel, Lintle"), "{said}");
}

#[test]
fn a_late_sheet_lands_on_its_day_and_closes_nothing_put_on_since() {
    let home = Home::new();
    let put_on =
        "farm Lintel\nday 14 May 2026\nanimal 12\n  LH lifted\n  LH heel DD M2\n  LH heel wrap red\n  signed\n";
    enter(&home, put_on).well();
    // A red wrap of before, taken off on Monday; the one of Thursday stays on.
    let late = "farm Lintel\nday 11 May 2026\nanimal 12\n  LH lifted\n  LH wrap bare\n  signed\n";
    enter(&home, late).well();
    let animal = home.json(&["animal", "12"]);
    let open = animal["open"].as_array().expect("open");
    assert!(open.iter().any(|item| item["what"] == "wrap-off" && item["since"] == TODAY), "{animal:#}");
    assert_eq!(animal["turns"][1]["date"], "2026-05-11");
}

#[test]
fn marks_and_controls_in_names_never_reach_the_terminal() {
    let home = Home::new();
    let said = enter(&home, "farm \u{1b}[2JLin\u{202e}tel\nday 14 May 2026\ntold footbath\n");
    let text = format!("{}{}{}", said.out, said.err, home.run(&["due"]).out);
    assert!(!text.contains('\u{1b}') && !text.contains('\u{202e}'), "{text:?}");
}

#[test]
fn files_that_cannot_be_read_are_named() {
    let home = Home::new();
    let said = home.run(&["enter", "gone.txt"]).complained(1);
    assert!(said.contains("gone.txt cannot be read"), "{said}");
    std::fs::write(home.path("latin.txt"), b"farm Lintel\nday 14 May 2026\nby Ren\xe9\n").expect("written");
    let said = home.run(&["enter", "latin.txt"]).complained(1);
    assert!(said.contains("latin.txt:3: this is no UTF-8 text"), "{said}");
}

#[test]
fn an_instruction_and_a_vet_s_answer_go_in_once_and_only_where_there_was_something_before() {
    let home = Home::new();
    let lines = "told instruction inner front \"leave the wall\" by \"Marla\" why \"white line\" review 5 Aug takes no horn\ntold instruction inner front ended \"reviewed\"\n\n\
                 animal 12\n  LH vet tract\n  signed\n\ntold 12 LH vet answered \"seen at noon\"\n";
    let sheet = format!("farm Lintel\nday 7 May 2026\n\n{lines}");
    assert_eq!(
        enter(&home, &sheet).well(),
        format!("Lintel, THU 7 May 2026: new farm; 1 in the crush; 3 told\n  new animal 12 (input:7)\n{SLIP}")
    );
    assert_eq!(enter(&home, &sheet).well(), "Lintel, THU 7 May 2026: already entered\n");
    assert_eq!(home.json(&["animal", "12"])["open"], serde_json::json!([]), "the vet has answered");
    let out = home.run(&["animal", "12", "--as", "sheet"]).well();
    assert!(out.contains("told 12 LH vet answered \"seen at noon\"\n"), "{out}");
    let early = "farm Lintel\nday 6 May 2026\ntold instruction inner front ended\ntold 12 vet answered\n";
    let said = enter(&home, early).complained(1);
    assert!(said.contains("input:3:1: no instruction for inner front was given on this farm"), "{said}");
    assert!(said.contains("input:4:1: the vet was not advised about this animal"), "{said}");
}

#[test]
fn unknown_numbers_are_new_in_the_group_that_the_farm_says_from_then_until_it_says_no_longer() {
    let home = Home::new();
    let sheet = |day: &str, lines: &str| format!("farm Lintel\nday {day} May 2026\n\n{lines}\n");
    let first = sheet("6", "told 10 kicks\ntold new animals \"home heifers\"\nanimal 11\n  LH lifted\n  signed\n");
    enter(&home, &first).well();
    enter(&home, &sheet("7", "told 12 kicks\ntold 13 lactation 2\ntold new animals \"\"\ntold 14 kicks\n")).well();
    // Typed late: on its day the farm had not said so yet.
    enter(&home, &sheet("5", "told 15 kicks")).well();
    let herd = home.json(&["herd", "--farm", "Lintel"]);
    let groups: Vec<_> = herd["animals"]
        .as_array()
        .expect("animals")
        .iter()
        .map(|her| (her["number"].as_str().unwrap_or_default(), her["group"].as_str(), her["lactation"].as_u64()))
        .collect();
    let heifers = Some("home heifers");
    let expected = [
        ("10", None, None),
        ("11", heifers, None),
        ("12", heifers, None),
        ("13", heifers, Some(2)),
        ("14", None, None),
        ("15", None, None),
    ];
    assert_eq!(groups, expected);
    assert_eq!(enter(&home, &first).well(), "Lintel, WED 6 May 2026: already entered\n");
}

/// As on the screens: paper is of a day gone by, or of today.
#[test]
fn a_sheet_of_a_day_to_come_is_refused_with_all_that_is_given_with_it() {
    let home = Home::new();
    enter(&home, FIRST).well();
    let before = home.json(&["animal", "12"]);
    let late = SECOND.replace("14 May 2026", "15 May 2026");
    let said = enter(&home, &format!("{}\n{late}", SECOND.replace("animal 12", "animal 13"))).complained(1);
    let line = "input:12:1: 15 May 2026 is still to come: today is 14 May 2026; correct the day; where today is wrong, say it with --today";
    assert!(said.contains(line) && said.contains("nothing was entered"), "{said}");
    assert_eq!(home.json(&["animal", "12"]), before);
    let said = home.run(&["animal", "13", "--farm", "Lintel"]).complained(1);
    assert!(said.contains("13"), "nothing of the other sheet: {said}");
    // A slip of the year too, and the day that it is said to be counts.
    assert!(enter(&home, &FIRST.replace("2026", "2062")).complained(1).contains("7 May 2062 is still to come"));
    home.run_with(&["enter", "-", "--today", "2026-05-15"], &late).well();
    assert_eq!(home.json(&["animal", "12"])["turns"][0]["date"], "2026-05-15");
}

fn herd_sheet(lines: &str) -> String {
    format!("farm Quillbarrow\nday 14 May 2026\n\n{lines}")
}

/// Common practice: figures called out over the noise of a race are written down swapped, or one of them wrong.
#[test]
fn a_number_one_slip_from_one_of_the_herd_is_begun_new_and_warned_of() {
    let home = Home::with_herd();
    let enter = |lines: &str| {
        let arguments = ["enter", "-", "--book", "herd.book", "--today", TODAY, "--recorded-by", "Ann"];
        home.run_with(&arguments, &herd_sheet(lines))
    };
    let turn = |number: &str| format!("animal {number}\n  all four trimmed nothing found\n  signed\n");
    // 1378, 1382, 1388 and 1398 are of the herd (sample-herd/quillbarrow/herd.csv), 1328 and 1832 are not.
    let said = enter(&turn("1328"));
    assert_eq!(said.code, Some(0), "{said:?}");
    assert!(said.out.contains("1 in the crush\n  new animal 1328 (input:4)\n"), "{said:?}");
    assert!(said.out.contains("crushbook gone NUMBER --farm Quillbarrow"), "{said:?}");
    let near = "crushbook: input:4: 1328 is new; near it in the herd: 1382 (two figures swapped), 1378 (another figure), 1388 (another \
                figure) and 1 more. A slip of the pen?\n";
    assert!(said.err.contains(near), "{said:?}");
    // She who is on the sheet herself is not meant, and a number far from all is only said to be new.
    let said = enter(&format!("{}\n{}", turn("1382"), turn("1832")));
    assert!(said.out.contains("new animal 1832 (input:8)") && !said.err.contains("1382"), "{said:?}");
    let said = enter(&turn("77001")).well();
    assert!(said.contains("new animal 77001 (input:4)"), "{said}");
    // Said to be none, she is on no list of who is here.
    home.run(&[
        "gone",
        "1328",
        "--farm",
        "Quillbarrow",
        "--book",
        "herd.book",
        "--today",
        TODAY,
        "--recorded-by",
        "Ann",
    ])
    .well();
    let herd = home.run(&["herd", "--farm", "Quillbarrow", "--book", "herd.book", "--as", "csv"]).well();
    let is_there = |number: &str| herd.lines().any(|line| line.starts_with(&format!("{number},")));
    assert!(is_there("1382") && !is_there("1328"), "{herd}");
}

#[test]
fn where_nothing_is_known_of_a_herd_no_number_is_near_another() {
    let home = Home::new();
    enter(&home, FIRST).well();
    let said =
        enter(&home, "farm Lintel\nday 14 May 2026\nanimal 13\n  all four trimmed nothing found\n  signed\n").well();
    assert!(said.contains("  new animal 13 (input:3)\n"), "{said}");
    // With a list of the herd taken, its numbers are known, whatever else the list tells.
    home.write("list.csv", "number\n12\n13\n1402\n");
    home.run(&["herd", "list.csv", "--farm", "Lintel", "--take", "all", "--today", TODAY]).well();
    let said = enter(&home, "farm Lintel\nday 14 May 2026\nanimal 1403\n  hinds trimmed nothing found\n  signed\n");
    assert!(
        said.err.contains("input:3: 1403 is new; near it in the herd: 1402 (another figure). A slip of the pen?\n"),
        "{said:?}"
    );
}
