//! Herd lists: any order of columns, every bad cell told, good rows apart.

use crushbook::domain::herd::Status;
use crushbook::domain::herd_list::figures::Figures;
use crushbook::wire::herd_csv::HerdList;
use crushbook::wire::herd_fuzz::fuzz_herd;

fn read(bytes: &[u8], file: &str) -> HerdList {
    crushbook::wire::herd_csv::read(bytes, file, Figures::Unsaid)
}

#[test]
fn columns_come_in_any_order_with_comma_or_semicolon() {
    for text in [
        "\u{feff}Number,Status,dry from,Electronic number\r\n0042,dry,2 May 2026,964000000123456\r\n",
        "electronic-number;dry_from;STATUS;number\n964 000000123456;2026-05-02;dry;0042\n",
    ] {
        let list = read(text.as_bytes(), "herd.csv");
        assert!(list.problems.is_empty() && list.notices.is_empty(), "{list:?}");
        let row = &list.rows[0];
        assert_eq!((row.line, row.labels.number.as_str()), (2, "0042"), "a number is text");
        assert_eq!(row.labels.electronic, "964000000123456");
        assert_eq!(row.herd.status, Some(Status::Dry));
        assert_eq!(row.herd.dry_from.map(|day| day.to_string()), Some("2026-05-02".to_string()));
    }
}

#[test]
fn every_bad_cell_is_told_with_line_column_value_and_why() {
    let text = "number,born,lactation,status,electronic number,colour\n\
        1,2020-01-01,2,in milk,,red\n\
        2,01/02/2020,two,hungry,9.64E+14,red\n\
        3\n\
        ,,,,,brown\n\
        4,,,,,\n";
    let list = read(text.as_bytes(), "herd.csv");
    let good: Vec<&str> = list.rows.iter().map(|row| row.labels.number.as_str()).collect();
    assert_eq!(good, ["1", "4"]);
    let told: Vec<(u64, &str)> = list.problems.iter().map(|problem| (problem.line, problem.column.as_str())).collect();
    let wanted = [(3, "born"), (3, "lactation"), (3, "electronic number"), (4, "all"), (5, "all")];
    assert_eq!(list.unread.iter().map(|row| row.line).collect::<Vec<u64>>(), [3, 4, 5]);
    assert_eq!(told, wanted, "{:#?}", list.problems);
    assert_eq!(
        list.problems[0].to_string(),
        "herd.csv:3: column born, \"01/02/2020\": write the day as 2026-05-14 or 14 May 2026, or say which figure \
         comes first: with --days, on the screens by going on at the list"
    );
    assert!(list.notices[0].contains("colour") && list.notices[1].contains("\"hungry\""), "{:?}", list.notices);
}

#[test]
fn latin_1_is_noticed_and_empty_lists_are_refused() {
    let list = read(b"number,name\n1,Ren\xe9e\n", "herd.csv");
    assert_eq!(list.rows[0].labels.name, "Ren\u{e9}e");
    assert!(list.notices[0].contains("Latin-1"));
    let utf_16 = read(b"\xff\xfen\0u\0m\0", "herd.csv");
    assert!(utf_16.broken[0].to_string().contains("save it as CSV in UTF-8"), "{utf_16:?}");
    assert_eq!(read(b"", "herd.csv").broken.len(), 1);
    assert!(read(b"a,b\n1,2\n", "herd.csv").broken[0].to_string().contains("no column is known"));
}

#[test]
fn any_bytes_are_read_without_panic() {
    proptest::proptest!(|(bytes in proptest::collection::vec(proptest::prelude::any::<u8>(), 0..200))| {
        fuzz_herd(&bytes);
    });
}

#[test]
fn kept_seeds_are_read_without_a_panic() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/sheet/herd_seeds");
    let mut count = 0;
    for entry in std::fs::read_dir(folder).expect("the seeds") {
        let bytes = std::fs::read(entry.expect("a seed").path()).expect("its bytes");
        for end in 0..=bytes.len() {
            fuzz_herd(&bytes[..end]);
        }
        count += 1;
    }
    assert!(count >= 4, "{count} seeds");
}
