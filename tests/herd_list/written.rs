//! The herd written as a list: RFC 4180, nothing that a spreadsheet runs, and read again it is the herd.

use crushbook::domain::herd::{Herd, Labels, Status};
use crushbook::domain::herd_list::figures::Figures;
use crushbook::wire::herd_csv::{read, rows};
use crushbook::wire::table::{neutral, restored, write};

#[test]
fn a_cell_that_a_spreadsheet_would_run_is_neutral_and_comes_back_as_it_was() {
    // OWASP, "CSV Injection": cells that begin with = + - @, a tab or a line end (from memory; exchange.md).
    for (cell, written) in [
        ("=1+1", "'=1+1"),
        ("+44 1632", "'+44 1632"),
        ("-7", "'-7"),
        ("@sum", "'@sum"),
        ("\tx", "'\tx"),
        ("\rx", "'\rx"),
        ("'=1", "''=1"),
        ("''=1", "'''=1"),
        ("'tis", "'tis"),
        ("1371", "1371"),
        ("a=b", "a=b"),
        ("", ""),
    ] {
        assert_eq!(neutral(cell), written, "{cell:?}");
        assert_eq!(restored(written), cell, "{written:?}");
    }
}

#[test]
fn lines_end_in_cr_lf_and_cells_are_quoted_where_they_must_be() {
    // RFC 4180, section 2: items 1, 6 and 7.
    let text = write(&[vec!["number".into(), "name".into()], vec!["1".into(), "Fern, \"the old\"".into()]]);
    assert_eq!(text.as_deref(), Ok("number,name\r\n1,\"Fern, \"\"the old\"\"\"\r\n"));
}

#[test]
fn a_herd_written_out_and_read_again_is_the_herd() {
    let day = |text: &str| Some(text.parse().expect("a day"));
    let full = (
        Labels {
            number: "007".into(),
            tag: "UK 284205 700016".into(),
            electronic: "964000000123456".into(),
            name: "Fern; Moss".into(),
        },
        Herd {
            breed: "=Holstein".into(),
            group: "\"low\", far side".into(),
            born: day("2021-03-11"),
            lactation: Some(3),
            calved: day("2025-09-02"),
            dry_from: day("2026-05-02"),
            due_to_calve: day("2026-07-01"),
            status: Some(Status::Dry),
        },
    );
    let bare = (Labels { name: "-Gorse-".into(), ..Labels::default() }, Herd::default());
    let herd = [full, bare];
    let text = write(&rows(herd.iter().map(|(labels, herd)| (labels, herd)))).expect("a table");
    assert!(text.contains("'=Holstein") && text.contains(",'-Gorse-,"), "{text}");
    // And as a spreadsheet saves it where a comma stands in numbers.
    let semicolons =
        text.replace("Fern; Moss", "Fern Moss").replace(',', ";").replace("\"\"low\"\"; far", "\"\"low\"\", far");
    for (text, name) in [(&text, "Fern; Moss"), (&semicolons, "Fern Moss")] {
        let list = read(text.as_bytes(), "herd.csv", Figures::Unsaid);
        assert_eq!((&list.problems, &list.broken, &list.notices), (&vec![], &vec![], &vec![]), "{text}");
        let mut again: Vec<(Labels, Herd)> = list.rows.into_iter().map(|row| (row.labels, row.herd)).collect();
        assert_eq!(again[0].0.name, name);
        again[0].0.name = "Fern; Moss".into();
        assert_eq!(again, herd, "{text}");
    }
}
