//! Lists as spreadsheets and editors leave them: their lines, letters, separators and quotes.

use crushbook::domain::herd::Status;
use crushbook::domain::herd_list::column::Column;
use crushbook::domain::herd_list::figures::Figures;
use crushbook::wire::herd_csv::{HerdList, RowProblem, read};

fn list(bytes: &[u8]) -> HerdList {
    read(bytes, "list.csv", Figures::Unsaid)
}

/// The rows by line, number and name.
fn rows(list: &HerdList) -> Vec<(u64, &str, &str)> {
    list.rows.iter().map(|row| (row.line, row.labels.number.as_str(), row.labels.name.as_str())).collect()
}

fn told(problems: &[RowProblem]) -> Vec<(u64, &str, &str)> {
    problems.iter().map(|one| (one.line, one.column.as_str(), one.why.as_str())).collect()
}

#[test]
fn a_row_is_told_with_the_line_on_which_an_editor_shows_it() {
    // A line ends in LF, CR LF or, from old spreadsheets, CR alone; a blank line is one too.
    for end in ["\n", "\r\n", "\r"] {
        let lines = ["", "number,lactation", "1371,3", "", "", "1376,zz", ",", "1377,yy", "1378,4"];
        let list = list(lines.join(end).as_bytes());
        let bad: Vec<u64> = list.problems.iter().map(|problem| problem.line).collect();
        assert_eq!(bad, [6, 8], "{end:?}");
        assert_eq!(rows(&list), [(3, "1371", ""), (9, "1378", "")], "{end:?}");
    }
    let second = list(b"\n\nnumber,cow\n1,2\n");
    assert_eq!(second.broken[0].line, 3, "the head has its line too");
}

#[test]
fn what_spreadsheets_write_in_windows_letters_is_read_so_and_said() {
    // WHATWG Encoding Standard, index windows-1252, in the order of the bytes from 0x80; five have no letter.
    const LETTERS: &str = "\u{20ac}\u{201a}\u{192}\u{201e}\u{2026}\u{2020}\u{2021}\u{2c6}\u{2030}\u{160}\u{2039}\u{152}\u{17d}\
        \u{2018}\u{2019}\u{201c}\u{201d}\u{2022}\u{2013}\u{2014}\u{2dc}\u{2122}\u{161}\u{203a}\u{153}\u{17e}\u{178}";
    const NONE: [u8; 5] = [0x81, 0x8d, 0x8f, 0x90, 0x9d];
    let high = (0x80..=0x9f).filter(|byte| !NONE.contains(byte));
    let bytes: Vec<u8> = b"number,name\n1,".iter().copied().chain(high).collect();
    let read = list(&bytes);
    assert_eq!(rows(&read), [(2, "1", LETTERS)]);
    assert!(read.notices[0].contains("not UTF-8 and was read as Windows-1252"), "{:?}", read.notices);
    assert_eq!(
        rows(&list(b"number,name\n1,Bess\x92s\n2,Ren\xe9e\n")),
        [(2, "1", "Bess\u{2019}s"), (3, "2", "Ren\u{e9}e")]
    );
    for byte in NONE {
        let list = list(&[b"number,name\n1,x", [byte].as_slice(), b"\n"].concat());
        assert_eq!(told(&list.problems), [(2, "name", "a control character stands in it: take it out")], "{byte:x}");
    }
    let utf_8 = list("number,name\n1,Ren\u{e9}e \u{2019}\n".as_bytes());
    assert_eq!((rows(&utf_8), utf_8.notices.len()), (vec![(2, "1", "Ren\u{e9}e \u{2019}")], 0));
}

#[test]
fn a_first_line_may_name_the_separator() {
    for (text, line) in [
        ("sep=;\nnumber;name\n1;Fern, the red\n", 3),
        ("\u{feff}SEP=;\r\n\r\nnumber;name\r\n1;Fern, the red\r\n", 4),
        ("\"sep=;\"\nnumber;name\n1;Fern, the red\n", 3),
        ("sep=;;\nnumber;name\n1;Fern, the red\n", 3),
        ("sep=|\nnumber|name\n1|Fern, the red\n", 3),
        ("sep=\t\nnumber\tname\n1\tFern, the red\n", 3),
        ("number\tname\n1\tFern, the red\n", 2),
    ] {
        let list = list(text.as_bytes());
        assert_eq!(rows(&list), [(line, "1", "Fern, the red")], "{text:?}: {list:?}");
        assert!(list.problems.is_empty() && list.notices.is_empty(), "{text:?}: {list:?}");
    }
    for text in ["sep=\nnumber,name\n1,x\n", "sep=ab\nnumber,name\n1,x\n"] {
        let list = list(text.as_bytes());
        assert!(list.rows.is_empty() && list.broken[0].to_string().contains("or take it out"), "{text:?}: {list:?}");
    }
}

#[test]
fn a_number_that_a_spreadsheet_was_told_to_keep_as_text_is_that_number() {
    // Common practice: a formula whose value is a text keeps its zeros.
    let list = list(b"number,name,tag\n=\"01376\",Rue,\"=\"\"UK 1\"\"\"\n'=\"2\",Ann,\n=\"3,x,\n");
    assert_eq!(rows(&list), [(2, "01376", "Rue"), (3, "=\"2\"", "Ann"), (4, "=\"3", "x")]);
    assert_eq!(list.rows[0].labels.tag, "UK 1");
}

#[test]
fn a_quote_that_is_never_closed_costs_its_own_row_and_no_other() {
    let open = |line: u64| format!("a quote is opened on line {line} and never closed: close it or take it out");
    // At the end of the file; before another quoted cell; twice.
    for (text, bad, good) in [
        ("number,name\n1,\"Rue\n2,Ann\n3,Bea\n", vec![2], vec![(3, "2", "Ann"), (4, "3", "Bea")]),
        ("number,name\n1,\"Rue\n2,\"Ann\"\n3,Bea\n", vec![2], vec![(3, "2", "Ann"), (4, "3", "Bea")]),
        ("number,name\n1,Rue\n2,\"Ann\n\n3,\"Bea\n4,\"Cis\"\"\"", vec![3, 5], vec![(2, "1", "Rue"), (6, "4", "Cis\"")]),
        ("number,name\n1,Rue\n2,\"Ann", vec![3], vec![(2, "1", "Rue")]),
    ] {
        let list = list(text.as_bytes());
        let wanted: Vec<String> = bad.iter().map(|line| open(*line)).collect();
        let wanted: Vec<(u64, &str, &str)> =
            bad.iter().zip(&wanted).map(|(line, why)| (*line, "all", &**why)).collect();
        assert_eq!(told(&list.problems), wanted, "{text}");
        assert_eq!(rows(&list), good, "{text}");
    }
    let head = list(b"number,\"name\n1,Rue\n");
    assert_eq!((head.rows.len(), told(&head.broken)), (0, vec![(1, "all", &*open(1))]));
    // A quote within one line is read as it is meant.
    let lenient = list(b"number,name\n1,\"Bess\" the red\n2,Ann \"the old\"\n3,\"a \"\"b\"\" c\"\n");
    assert_eq!(rows(&lenient), [(2, "1", "Bess the red"), (3, "2", "Ann \"the old\""), (4, "3", "a \"b\" c")]);
}

#[test]
fn a_cell_of_several_lines_is_bad_where_it_counts_and_said_where_it_does_not() {
    let known = list(b"number,group,name\n1,\"low\n2,high\n3,low\",Fern\n4,high,Bea\n");
    let why = "a quote is opened on line 2 and closed on line 4 only: is one missing?";
    assert_eq!(told(&known.problems), [(2, "all", why)]);
    assert_eq!(rows(&known), [(5, "4", "Bea")]);
    let remark = list(b"number,remark\n1,\"lame\nin spring\"\n2,\n");
    assert_eq!(rows(&remark), [(2, "1", ""), (4, "2", "")]);
    let tall = remark.tall.expect("it is noticed");
    assert_eq!(tall, "lines 2 to 3 are one row by their quotes: look whether a quote is missing");
    assert!(remark.notices.contains(&tall));
}

#[test]
fn a_state_that_is_not_known_is_left_out_and_one_that_says_she_is_gone_is_bad() {
    let list = list(b"number,status\n1,cow\n2,fresh\n3,cow\n4,dry\n5,sold\n");
    let states: Vec<(u64, Option<Status>)> = list.rows.iter().map(|row| (row.line, row.herd.status)).collect();
    assert_eq!(states, [(2, None), (3, None), (4, None), (5, Some(Status::Dry))]);
    assert_eq!(
        list.notices,
        [
            "status \"cow\" is not known and was left out on line 2 and 1 more; known are: in-milk, dry, heifer, male",
            "status \"fresh\" is not known and was left out on line 3; known are: in-milk, dry, heifer, male",
        ]
    );
    assert_eq!(list.problems.len(), 1);
    assert!(
        list.problems[0].to_string().starts_with("list.csv:6: column status, \"sold\": she is here no more by that")
    );
}

#[test]
fn what_may_be_the_number_is_taken_where_nothing_surer_is_there() {
    for head in ["id", "Animal ID", "cow id", "management number", "Mgmt,management no."] {
        let cell = if head.contains(',') { "x,7" } else { "7" };
        let list = list(format!("{head},name\n{cell},Fern\n").as_bytes());
        assert_eq!(rows(&list), [(2, "7", "Fern")], "{head}");
        assert!(list.columns.contains(&Column::Number), "{head}");
    }
    let both = list(b"id,cow no,animal id\n900,7,901\n");
    assert_eq!(rows(&both), [(2, "7", "")]);
    assert_eq!((both.broken.len(), both.left_out.len(), both.notices.len()), (0, 0, 2));
    assert_eq!(both.notices[0], "column \"id\" was left out: another one is surer to be the number");
}

#[test]
fn what_is_plainly_no_text_is_one_complaint() {
    let picture: Vec<u8> = (0..=255).cycle().take(40_000).collect();
    let list = list(&picture);
    assert_eq!((list.problems.len(), list.broken.len(), list.rows.len()), (0, 1, 0));
    assert!(list.broken[0].to_string().contains("this is no text"), "{}", list.broken[0]);
    let (scored, mistakes) = crushbook::wire::walk_list::read(&picture);
    assert_eq!((scored.len(), mistakes.len()), (0, 1), "{mistakes:?}");
    // One odd letter is a mistake of its line, and the other lines are read.
    let odd = read(b"number,name\n1,a\x07b\n2,Fern\n", "list.csv", Figures::Unsaid);
    assert_eq!((odd.problems.len(), rows(&odd)), (1, vec![(3, "2", "Fern")]));
}
