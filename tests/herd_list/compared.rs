//! Whom a line means, what it changes, who is missing, and which lines cannot be meant so.

use crate::support::tablet::day;
use crushbook::domain::herd::{Herd, Labels, Leaving};
use crushbook::domain::herd_list::column::Column;
use crushbook::domain::herd_list::compare::{Preview, compare};
use crushbook::domain::herd_list::{Known, Row};
use crushbook::domain::ids::{AnimalId, RecordId};

fn labels([number, tag, electronic, name]: [&str; 4]) -> Labels {
    Labels { number: number.into(), tag: tag.into(), electronic: electronic.into(), name: name.into() }
}

fn known(seq: u64, cells: [&str; 4]) -> Known {
    let animal = AnimalId(RecordId { series: 1, seq });
    Known { animal, labels: labels(cells), earlier: vec![], herd: Herd::default(), left: None, told: Some(day(1)) }
}

/// The herd of these tests: by number and tag; by number, tag and electronic number; by number alone; by name alone; one who
/// had another number; two of one number; one who was sold; one who is called nothing.
fn herd() -> Vec<Known> {
    let mut herd = vec![
        known(1, ["11", "UK A", "", "Fern"]),
        known(2, ["12", "UK B", "964000000000012", ""]),
        known(3, ["13", "", "", "Moss"]),
        known(4, ["", "", "", "Old Badger"]),
        known(5, ["2015", "", "", ""]),
        known(6, ["16", "UK C", "", ""]),
        known(7, ["16", "UK D", "", ""]),
        known(8, ["18", "UK E", "964000000000018", ""]),
        known(9, ["", "", "", ""]),
    ];
    herd[4].earlier.push(labels(["15", "", "", ""]));
    herd[7].left = Some((Leaving::Sold, day(2)));
    herd[7].herd.born = Some(day(3));
    herd
}

/// Two lines.
type Two = [[&'static str; 4]; 2];

fn rows(lines: &[[&str; 4]]) -> Vec<Row> {
    let row = |(line, cells): (u64, &[&str; 4])| Row { line, labels: labels(*cells), herd: Herd::default() };
    (2..).zip(lines).map(row).collect()
}

fn against(lines: &[[&str; 4]]) -> Preview {
    compare(&rows(lines), &[], &herd(), day(14))
}

/// What a single line comes to: an animal with what changes, `new`, or the clash's column and words.
fn told(cells: [&str; 4]) -> String {
    let preview = against(&[cells]);
    let changed = preview.changed.first().map(|one| {
        let changes =
            one.changes.iter().map(|change| format!(" {:?} {:?} -> {:?}", change.column, change.was, change.now));
        format!("{}{}", one.animal.0.seq, changes.collect::<String>())
    });
    let clash = preview.clashes.first().map(|clash| format!("{:?} {:?}: {}", clash.column, clash.value, clash.why));
    let new = preview.new.first().map(|_| "new".to_owned());
    let same = (preview.same == 1).then(|| "same".to_owned());
    let all: Vec<String> = [changed, clash, new, same].into_iter().flatten().collect();
    assert_eq!(all.len(), 1, "a line is one thing: {preview:?}");
    all[0].clone()
}

#[test]
fn a_line_means_whoever_has_its_surest_label() {
    let table: [([&str; 4], &str); 15] = [
        (["11", "UK A", "", ""], "same"),
        // A tag is printed with blanks and typed without; that is no news.
        (["11", "uka", "", "Fern"], "same"),
        (["11", "", "", ""], "same"),
        // A cell left empty says nothing.
        (["12", "", "", ""], "same"),
        // By tag: she has another number, and nobody else has it.
        (["111", "UK A", "", ""], "1 Number \"11\" -> \"111\""),
        // By electronic number: she was tagged anew.
        (["12", "UK Z", "964000000000012", ""], "2 Tag \"UK B\" -> \"UK Z\""),
        // By number, and the book knew no tag of hers.
        (["13", "UK Y", "964000000000013", ""], "3 Tag \"\" -> \"UK Y\" Electronic \"\" -> \"964000000000013\""),
        // By name, where nothing else is told.
        (["", "", "", "old badger"], "4 Name \"Old Badger\" -> \"old badger\""),
        (["", "", "", "Moss"], "same"),
        (["", "", "", "Heath"], "new"),
        (["99", "UK Q", "964000000000099", ""], "new"),
        // Several bear one number; the tag tells which.
        (["16", "UK C", "", ""], "same"),
        // A number is given again: another tag, another electronic number, another day of birth.
        (["18", "UK Q", "", ""], "new"),
        (["18", "", "964000000000077", ""], "new"),
        (["15", "UK Q", "", ""], "new"),
    ];
    for (cells, wanted) in table {
        assert_eq!(told(cells), wanted, "{cells:?}");
    }
}

#[test]
fn a_line_that_fits_nobody_or_two_is_told_with_column_value_why_and_what_to_do() {
    let table: [([&str; 4], &str, &str); 12] = [
        // The number is now another animal's tag.
        (
            ["UK A", "", "", ""],
            "Number \"UK A\"",
            "11 has it here as her tag: correct the list; or say what 11 is called now",
        ),
        (["11", "UK B", "", ""], "Number \"11\"", "it is 11's here, and the tag of this line is 12's"),
        (["12", "UK A", "", ""], "Number \"12\"", "it is 12's here, and the tag of this line is 11's"),
        (
            ["", "UK A", "964000000000012", ""],
            "Electronic \"964000000000012\"",
            "it is 12's here, and the tag of this line is 11's",
        ),
        (
            ["11", "", "964000000000012", ""],
            "Number \"11\"",
            "it is 11's here, and the electronic number of this line is 12's",
        ),
        (
            ["11", "UK Q", "", ""],
            "Tag \"UK Q\"",
            "11 has the tag UK A here: if she was given another, say so with crushbook renumber",
        ),
        (["12", "", "964000000000099", ""], "Electronic", "12 has the electronic number 964000000000012 here"),
        (["16", "", "", ""], "Number \"16\"", "2 animals have it here: write her tag or electronic number"),
        (["15", "", "", ""], "Number \"15\"", "2015 had it before: write what she has now"),
        (["18", "", "", ""], "Number \"18\"", "18 had it and left on 2 May 2026 (sold): take the line out"),
        (["", "UK E", "", ""], "Tag \"UK E\"", "18 had it and left on 2 May 2026 (sold)"),
        (["77", "", "964000000000018", ""], "Electronic", "18 had it and left on 2 May 2026 (sold)"),
    ];
    for (cells, begins, holds) in table {
        let said = told(cells);
        assert!(said.starts_with(begins) && said.contains(holds), "{cells:?}: {said}");
    }
}

#[test]
fn of_two_lines_that_cannot_both_be_meant_neither_is_taken() {
    let table: [(&str, Two, [Column; 2], &str); 6] = [
        ("a number twice", [["41", "", "", ""], ["41", "", "", ""]], [Column::Number; 2], "line 3 has it too"),
        ("a tag twice", [["41", "UK T", "", ""], ["42", "UK T", "", ""]], [Column::Tag; 2], "line 3 has it too"),
        (
            "an electronic number twice",
            [["41", "", "964000000000041", ""], ["42", "", "964000000000041", ""]],
            [Column::Electronic; 2],
            "line 3 has it too",
        ),
        (
            "one as number and tag",
            [["41", "", "", ""], ["42", "41", "", ""]],
            [Column::Number, Column::Tag],
            "line 3 has it too",
        ),
        (
            "a name twice, and nothing else",
            [["", "", "", "Ox"], ["", "", "", "ox"]],
            [Column::Name; 2],
            "line 3 has it too",
        ),
        (
            "one animal by two labels",
            [["", "UK B", "", ""], ["", "", "964000000000012", ""]],
            [Column::Tag, Column::Electronic],
            "line 3 is 12 too: take one out",
        ),
    ];
    for (what, lines, columns, why) in table {
        let preview = against(&lines);
        assert!(preview.is_empty(), "{what}: {preview:?}");
        assert_eq!(preview.clashes.iter().map(|clash| clash.line).collect::<Vec<u64>>(), [2, 3], "{what}");
        assert_eq!([preview.clashes[0].column, preview.clashes[1].column], columns, "{what}");
        assert!(preview.clashes[0].why.to_string().starts_with(why), "{what}: {}", preview.clashes[0].why);
    }
    // Two who share a number here already may share it on the list.
    let preview = against(&[["16", "UK C", "", ""], ["16", "UK D", "", ""]]);
    assert_eq!((preview.same, preview.clashes.len()), (2, 0), "{preview:?}");
}

#[test]
fn nobody_is_gone_because_a_list_does_not_name_her() {
    let animals = |preview: &Preview| preview.missing.iter().map(|animal| animal.0.seq).collect::<Vec<u64>>();
    let preview = against(&[["11", "", "", ""], ["12", "", "", ""]]);
    assert_eq!(animals(&preview), [3, 4, 5, 6, 7]);
    assert_eq!(preview.nameless, 1, "she whom no list can name is never missing");
    // Whoever a bad line may mean is not missing either.
    let preview = against(&[["11", "UK B", "", ""], ["16", "", "", ""], ["15", "", "", ""]]);
    assert_eq!((animals(&preview), preview.clashes.len()), (vec![3, 4, 5], 3));
    let preview = compare(&[], &rows(&[["13", "", "", ""], ["", "", "", "Old Badger"]]), &herd(), day(14));
    assert_eq!(animals(&preview), [1, 2, 5, 6, 7]);
    assert_eq!(compare(&[], &[], &[], day(14)), Preview::default());
}

#[test]
fn only_what_is_told_and_differs_changes_and_a_later_word_is_not_overwritten() {
    let mut herd = herd();
    herd[0].herd = Herd { lactation: Some(3), group: "low".into(), calved: Some(day(3)), ..Herd::default() };
    let told = Herd { lactation: Some(4), group: "low".into(), breed: "Ayrshire".into(), ..Herd::default() };
    let line = |number: &str| Row { line: 2, labels: labels([number, "", "", ""]), herd: told.clone() };
    let preview = compare(&[line("11")], &[], &herd, day(14));
    let changes = &preview.changed[0].changes;
    let changes: Vec<(Column, &str, &str)> =
        changes.iter().map(|one| (one.column, one.was.as_str(), one.now.as_str())).collect();
    assert_eq!(changes, [(Column::Breed, "", "Ayrshire"), (Column::Lactation, "3", "4")]);
    // The newest word holds, whatever is typed afterwards: an old list would change nothing, again and again.
    herd[0].told = Some(day(15));
    let preview = compare(&[line("11")], &[], &herd, day(14));
    assert_eq!(preview.clashes[0].column, Column::Breed);
    let why = preview.clashes[0].why.to_string();
    assert_eq!(
        why,
        "11 was told of on 15 May 2026, which is after the day of this list: take it with --today of that day or later"
    );
    assert!(preview.is_empty());
    assert_eq!(compare(&rows(&[["11", "", "", ""]]), &[], &herd, day(14)).same, 1, "what changes nothing may be old");
}
