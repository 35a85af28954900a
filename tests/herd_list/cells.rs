//! Heads and cells as farms write them in their regions.

use crushbook::domain::herd::Status;
use crushbook::domain::herd_list::column::Column;
use crushbook::domain::herd_list::figures::Figures;
use crushbook::domain::vocabulary::Vocabulary;
use crushbook::wire::herd_csv::{HerdList, read};

fn list(text: &str) -> HerdList {
    let list = read(text.as_bytes(), "list.csv", Figures::Unsaid);
    assert_eq!((&list.problems, &list.broken, &list.notices), (&vec![], &vec![], &vec![]), "{text}");
    list
}

#[test]
fn a_head_may_be_in_the_words_of_any_region() {
    // Terms of trade.md, section 9 (flag tag, collar, freeze brand, printed tag); the rest is common practice.
    let heads: [(Column, &[&str], &str); 12] = [
        (
            Column::Number,
            &[
                "Number",
                "COW",
                "Flag tag",
                "collar",
                "freeze-brand",
                "Working Number",
                "No.",
                "Cow no",
                "COW NO.",
                "Cow #",
                "animal no",
                "collar no.",
            ],
            "7",
        ),
        (Column::Tag, &["Tag", "ear tag", "Eartag", "printed tag", "tag number", "Tag No.", "ear tag no"], "UK 1"),
        (
            Column::Electronic,
            &["electronic number", "EID", "rfid", "transponder", "electronic id", "Electronic No."],
            "964000000123456",
        ),
        (Column::Name, &["Name", "cow_name"], "Fern"),
        (Column::Breed, &["Breed"], "Ayrshire"),
        (Column::Born, &["born", "Date of birth", "birth-date", "DOB"], "2024-03-01"),
        (Column::Lactation, &["lactation", "parity", "Lact.", "lactation number", "Lact no", "lact. no."], "3"),
        (
            Column::Calved,
            &["calved", "last calving", "fresh date", "calving date", "date calved", "last calving date"],
            "2024-03-01",
        ),
        (Column::DryFrom, &["dry from", "dried off", "dry date"], "2024-03-01"),
        (Column::DueToCalve, &["due to calve", "due date", "expected calving"], "2024-03-01"),
        (Column::Group, &["group", "pen", "mob"], "low"),
        (Column::Status, &["status", "state"], "dry"),
    ];
    assert_eq!(heads.map(|(column, _, _)| column).as_slice(), Column::ALL);
    for (column, names, cell) in heads {
        for name in names {
            let other = if column == Column::Number { "name" } else { "number" };
            let list = list(&format!("{other};{name}\n9;{cell}\n"));
            assert_eq!(column.of(&list.rows[0]), cell, "{name}");
        }
    }
}

#[test]
fn a_number_is_text_however_it_looks() {
    let list = list("number,tag,name\n007,0012,1e5\n 7 ,,x\n");
    let told: Vec<[String; 3]> =
        list.rows.iter().map(|row| [Column::Number, Column::Tag, Column::Name].map(|column| column.of(row))).collect();
    assert_eq!(told, [["007", "0012", "1e5"], ["7", "", "x"]]);
}

#[test]
fn an_electronic_number_is_read_as_printed_and_as_readers_type_it() {
    // trade.md, section 9.
    for (typed, kept) in [
        ("964000000123456", "964000000123456"),
        ("964 000000123456", "964000000123456"),
        ("A0000000964000000123456", "964000000123456"),
        ("LA 982 000001088420", "982000001088420"),
    ] {
        let list = list(&format!("number,eid\n1,{typed}\n"));
        assert_eq!(list.rows[0].labels.electronic, kept, "{typed}");
    }
    for typed in ["96400000012345", "9640000001234567", "9.64E+14", "LA", "A0000000", "96400000012345x"] {
        let list = read(format!("number,eid\n1,{typed}\n").as_bytes(), "list.csv", Figures::Unsaid);
        assert_eq!((list.rows.len(), list.problems.len()), (0, 1), "{typed}");
    }
}

#[test]
fn days_in_figures_are_read_only_where_somebody_said_which_way_round() {
    let day = |cell: &str, figures| {
        let list = read(format!("number,born\n1,{cell}\n").as_bytes(), "list.csv", figures);
        list.rows.first().and_then(|row| row.herd.born).map(|day| day.to_string())
    };
    let table = [
        ("03/04/2024", None, Some("2024-04-03"), Some("2024-03-04")),
        ("3.4.2024", None, Some("2024-04-03"), Some("2024-03-04")),
        ("14/05/2024", None, Some("2024-05-14"), None),
        ("05-14-2024", None, None, Some("2024-05-14")),
        ("2024-04-03", Some("2024-04-03"), Some("2024-04-03"), Some("2024-04-03")),
        ("3 April 2024", Some("2024-04-03"), Some("2024-04-03"), Some("2024-04-03")),
        ("03/04/24", None, None, None),
        ("31/02/2024", None, None, None),
        ("0024-04-03", None, None, None),
    ];
    for (cell, unsaid, first, month) in table {
        let read = [Figures::Unsaid, Figures::DayFirst, Figures::MonthFirst].map(|figures| day(cell, figures));
        assert_eq!(read, [unsaid, first, month].map(|day| day.map(str::to_owned)), "{cell}");
    }
}

#[test]
fn a_state_may_be_in_other_words() {
    let table = [
        ("in milk", Status::InMilk),
        ("MILKING", Status::InMilk),
        ("lactating", Status::InMilk),
        ("dry", Status::Dry),
        ("Dried off", Status::Dry),
        ("heifer", Status::Heifer),
        ("bull", Status::Male),
        ("male", Status::Male),
    ];
    for (cell, status) in table {
        assert_eq!(list(&format!("number,status\n1,{cell}\n")).rows[0].herd.status, Some(status), "{cell}");
        assert!(Status::from_word(status.word()).is_some());
    }
}

#[test]
fn marks_that_nobody_sees_are_no_part_of_a_label() {
    let list = list("number,name\n\u{200e}1371\u{202c},\u{feff}Fern\n");
    assert_eq!((list.rows[0].labels.number.as_str(), list.rows[0].labels.name.as_str()), ("1371", "Fern"));
}

#[test]
fn a_column_that_stands_twice_breaks_the_list_and_an_unknown_one_does_not() {
    let twice = read(b"number,tag,ear tag\n1,a,b\n", "list.csv", Figures::Unsaid);
    assert_eq!(
        twice.broken[0].to_string(),
        "list.csv:1: column all, \"ear tag\": this is a second column of the kind \"tag\": take one out"
    );
    let unknown = read(b"number,milk yield,\n1,31,\n", "list.csv", Figures::Unsaid);
    assert_eq!((unknown.rows.len(), unknown.broken.len(), unknown.notices.len()), (1, 0, 1));
    assert!(unknown.notices[0].contains("milk yield") && unknown.notices[0].contains("due to calve"));
}
