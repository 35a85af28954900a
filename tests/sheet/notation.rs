//! The notation as people read it in the README: one sheet with everything a turn can hold, in its printed form.

use super::arbitrary::today;
use crushbook::domain::sheet::Fact;
use crushbook::wire::sheet::{parse, print};

/// A sheet in its printed form: it must print back letter for letter.
const PRINTED: &str = include_str!("seeds/everything.txt");

#[test]
fn a_sheet_in_the_printed_form_prints_unchanged() {
    let sheet = parse(PRINTED, "everything").unwrap_or_else(|mistakes| panic!("{mistakes:#?}"));
    assert_eq!(print(&sheet), PRINTED);
}

/// What may be written besides the printed form, and the line it becomes.
const ALSO: &[(&str, &str)] = &[
    ("LR outer 4 su SEVERE", "LH outer 4 SU severe"),
    ("left hind outer zone 4 sole ulcer", "LH outer 4 SU"),
    ("BACK LEFT outer U in", "mistake"),
    ("lh outer 4 u", "LH outer 4 SU"),
    ("LH outer 6 U", "LH outer 6 BU"),
    ("LH outer SU", "LH outer 4 SU"),
    ("LH outer heel horn erosion", "LH outer 6 HHE"),
    ("LH IH", "LH cleft IH"),
    ("RR foul 0", "mistake"),
    ("RR cleft foul", "RH cleft IP"),
    ("LH 10 DD M2", "LH heel DD M2"),
    ("LH heel DD not looked at", "LH heel DD not looked"),
    ("LH outer 4 SU now better", "LH outer 4 SU better"),
    (
        "LH wrap blue over heel off by Sunday evening milking by Tom",
        "LH heel wrap blue off by 17 May evening by \"Tom\"",
    ),
    ("LH wrap red off by \"Tom\"", "LH wrap red by \"Tom\""),
    ("LH wrap off by tomorrow AM", "LH wrap off by 15 May morning"),
    ("LH wrap ring skin cut-in", "LH wrap off ring skin cut in"),
    ("LH outer claw trim", "LH outer trim"),
    ("LH outer wall 78", "LH outer wall 78 mm"),
    ("LH trimmed, all seen", "LH trimmed nothing found"),
    ("both hinds nothing found", "hinds nothing found"),
    ("recheck in 4 weeks", "recheck 11 Jun"),
    ("recheck 2027-01-02", "recheck 2 Jan"),
    ("recheck 14 May 2027", "recheck 14 May 2027"),
    ("relief not-known", "pain relief not known"),
    ("got-away", "got away"),
];

#[test]
fn other_ways_to_write_a_line_become_the_printed_form() {
    for (written, wanted) in ALSO {
        let text = format!("farm A\nday 14 May 2026\n\nanimal 1\n  {written}\n");
        let got = match parse(&text, "x") {
            Ok(sheet) => print(&sheet).lines().skip(4).map(str::trim).collect::<Vec<_>>().join("|"),
            Err(_) => "mistake".to_string(),
        };
        assert_eq!(got, *wanted, "{written}");
    }
}

#[test]
fn line_ends_comments_indentation_and_a_byte_mark_do_not_matter() {
    let rough = "\u{feff}farm Brackenhope # by the river\r\n\r\n\t day 14 May 2026\r\nanimal 1\r\n LH heel DD M1 # small\r\nsigned";
    let sheet = parse(rough, "rough").expect("a sheet");
    assert_eq!(sheet.on, today());
    assert_eq!(print(&sheet), "farm Brackenhope\nday 14 May 2026\n\nanimal 1\n  LH heel DD M1\n  signed\n");
}

#[test]
fn rest_means_the_feet_not_spoken_of_yet() {
    let text =
        "farm A\nday 14 May 2026\nanimal 1\nLH lifted trimmed all seen\nLH heel DD M2\nrest trimmed nothing found";
    let sheet = parse(text, "x").expect("a sheet");
    let turn = sheet.turns().next().expect("a turn");
    let looks = turn.facts.iter().filter(|fact| matches!(fact, Fact::Look { .. })).count();
    assert_eq!(looks, 4);
    let printed = print(&sheet);
    assert!(printed.contains("fronts trimmed nothing found\n  RH trimmed nothing found"), "{printed}");
}

#[test]
fn the_sheet_of_the_readme_is_free_of_mistakes() {
    let sheet = parse(include_str!("seeds/readme.txt"), "readme").unwrap_or_else(|mistakes| panic!("{mistakes:#?}"));
    assert_eq!(sheet.turns().count(), 2);
}

#[test]
fn the_words_of_a_visit_come_in_any_order_and_print_in_one() {
    for (written, wanted) in [
        ("visit call-out", "visit call out"),
        ("visit routine", "visit routine"),
        ("visit closed, routine", "visit routine closed"),
        ("visit cleaned after, whole herd, call out", "visit call out whole herd cleaned after"),
        ("visit gone-on selected", "visit selected gone on"),
        ("visit set-aside, gone on", "visit gone on set aside"),
        ("visit SET ASIDE", "visit set aside"),
        ("visit closed whole-herd", "visit whole herd closed"),
        ("visit Gone On, CLOSED", "visit gone on closed"),
    ] {
        let text = format!("farm A\nday 14 May 2026\n{written}\n");
        let sheet = parse(&text, "x").unwrap_or_else(|mistakes| panic!("{written}: {mistakes:#?}"));
        assert_eq!(print(&sheet).lines().nth(2).unwrap_or_default(), wanted, "{written}");
    }
}

#[test]
fn an_instruction_that_goes_on_is_written_with_its_words_and_its_day_where_they_are_told() {
    for (written, wanted) in [
        ("inner-front goes-on", "inner front goes on"),
        ("hinds goes on \"as it is\"", "hinds goes on \"as it is\""),
        ("all goes on review in 4 weeks", "all goes on review 11 Jun"),
        // In quotes it is an instruction and not a word about one.
        ("all \"goes on\" by Bo why x takes no horn", "all \"goes on\" by \"Bo\" why \"x\" takes no horn"),
        ("all trim by Bo why x takes-no-horn", "all \"trim\" by \"Bo\" why \"x\" takes no horn"),
        (
            "all \"trim\" BY Bo why x review 1 Jun VET Orla",
            "all \"trim\" by \"Bo\" why \"x\" review 1 Jun vet \"Orla\"",
        ),
        // What a book of before does not know.
        (
            "all trim by nobody-named Why-not-told review 1 Jun NO VET NAMED",
            "all \"trim\" by nobody named why not told review 1 Jun no vet named",
        ),
        // In quotes it is a name and a reason.
        (
            "all trim by \"nobody named\" why \"not told\" takes no horn",
            "all \"trim\" by \"nobody named\" why \"not told\" takes no horn",
        ),
        // Which of several: by its words, by its day, by both.
        ("all \"trim\" goes on", "all \"trim\" goes on"),
        ("all since 2 May goes on \"why\"", "all since 2 May 2026 goes on \"why\""),
        ("all trim since 2026-05-02 ended \"why\"", "all \"trim\" since 2 May 2026 ended \"why\""),
    ] {
        let text = format!("farm A\nday 14 May 2026\ntold instruction {written}\n");
        let sheet = parse(&text, "x").unwrap_or_else(|mistakes| panic!("{written}: {mistakes:#?}"));
        let printed = print(&sheet);
        assert_eq!(printed.lines().nth(3), Some(format!("told instruction {wanted}").as_str()), "{written}");
    }
}
