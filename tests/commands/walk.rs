//! A scoring walk taken in from a list, all of it or nothing, and printed.

use super::home::{Home, TODAY};
use serde_json::Value;

const SHEET: &str = "\
farm Hollow
day 30 Apr 2026
by Ann

animal 44
  all four trimmed nothing found
  gait 1 of 0-3
  signed

animal 139
  all four trimmed nothing found
  signed

animal 1392
  all four trimmed nothing found
  signed

animal 7
  all four trimmed nothing found
  signed
";

fn home() -> Home {
    let home = Home::new();
    home.write("day.txt", SHEET);
    home.run(&["enter", "day.txt", "--new-farm", "--book", "b.book", "--today", TODAY]);
    home
}

fn walk(home: &Home, arguments: &[&str], input: &str) -> super::home::Said {
    let mut all = vec!["walk", "Hollow"];
    all.extend(arguments);
    all.extend(["--book", "b.book", "--today", TODAY]);
    home.run_with(&all, input)
}

fn scores(home: &Home) -> Vec<(String, Option<u64>)> {
    let value: Value = serde_json::from_str(&walk(home, &["--as", "json"], "").well()).expect("JSON");
    let animals = value["animals"].as_array().expect("animals").clone();
    animals.iter().map(|one| (one["animal"].as_str().unwrap_or_default().to_owned(), one["score"].as_u64())).collect()
}

#[test]
fn two_words_or_a_table_give_the_same_walk() {
    let lists = [
        "44 2\n139 0\n1392 1\n",
        "number,score\r\n44,2\r\n139,0\r\n1392,1\r\n",
        "\u{feff}Number;Mobility\n44;2\n\n139;0 # twice looked\n1392;1\n",
        "\"44\"\t2\n139\t0\n1392, 1\n",
    ];
    let mut seen = Vec::new();
    for list in lists {
        let home = home();
        let told = walk(&home, &["-"], list).well();
        assert!(told.starts_with("3 scored. crushbook undo --farm Hollow takes it back."), "{told}");
        seen.push(scores(&home));
    }
    let expected = [("44", Some(2)), ("139", Some(0)), ("1392", Some(1)), ("7", None)];
    let expected: Vec<(String, Option<u64>)> =
        expected.iter().map(|(who, score)| ((*who).to_owned(), *score)).collect();
    for one in seen {
        assert_eq!(one, expected, "lame first, then the others scored, then who was not");
    }
}

#[test]
fn every_mistake_is_told_and_nothing_is_written() {
    let home = home();
    let said = walk(&home, &["-"], "44 1\n99 0\n139 7\n1392\n7 two\n 2\n").complained(1);
    for told in [
        "5 lines of input cannot be taken, and nothing was written",
        "line 2, 99: no animal of Hollow is called 99",
        "line 3, 139: 7 is no score here: 0 to 3",
        "line 4, \"1392\": number and score are two words: 1394 2",
        "line 5, \"two\": the last word of a line is the score, a digit",
        "line 6, \"2\": number and score are two words: 1394 2",
    ] {
        assert!(said.contains(told), "{told}\n{said}");
    }
    assert!(scores(&home).iter().all(|(_, score)| score.is_none()));
}

#[test]
fn the_same_walk_again_writes_nothing_and_the_later_of_two_lines_counts() {
    let home = home();
    let said = walk(&home, &["-"], "44 2\n139 0\n44 3\n");
    assert_eq!(said.code, Some(0));
    assert!(said.err.contains("44 stands on lines 1 and 3: the later counts, score 3"), "{}", said.err);
    assert!(scores(&home).contains(&("44".to_owned(), Some(3))));
    let told = walk(&home, &["-"], "44 3\n139 0\n").well();
    assert_eq!(told, "2 scored so already. Nothing was written.\n");
    home.run(&["undo", "--farm", "Hollow", "--yes", "--book", "b.book", "--today", TODAY]).well();
    assert!(scores(&home).iter().all(|(_, score)| score.is_none()), "one undo takes the walk back");
}

#[test]
fn a_printed_walk_tells_shares_the_lame_and_who_is_missing() {
    let home = home();
    walk(&home, &["-"], "44 2\n139 0\n1392 3\n").well();
    let text = walk(&home, &[], "").well();
    let lines: Vec<&str> = text.lines().collect();
    // Lame is 2 or 3; 3 within 24 h, 2 within 48 h (DairyNZ 2023, trade.md section 3); counted by hand.
    assert_eq!(
        lines,
        [
            "Hollow, THU 14 May 2026: 3 of 4 scored",
            "  score 0    1   33 %",
            "  score 1    0    0 %",
            "  score 2    1   33 %",
            "  score 3    1   33 %",
            "  shares of those scored, not of the herd",
            "",
            "2 lame",
            "  3 VERY LAME  1392, first score, look by FRI 15 May",
            "  2 LAME  44, was 1, 30 Apr, look by SAT 16 May",
            "",
            "1 not scored",
            "  7",
        ]
    );
    let table = walk(&home, &["--as", "csv"], "").well();
    let rows: Vec<&str> = table.lines().collect();
    assert_eq!(rows[0], "animal,score,scale,lame,look_by,before,before_scale,before_date");
    assert_eq!(rows[2], "44,2,0-3,true,2026-05-16,1,0-3,2026-04-30");
    assert_eq!(rows[4], "7,,,,,,,");
    let due = home.run(&["due", "--book", "b.book", "--today", TODAY]).well();
    assert!(due.contains("1392") && due.contains("44"), "{due}");
}

#[test]
fn where_unknown_numbers_are_new_a_walk_begins_them_in_their_group() {
    let home = home();
    home.run(&["farm", "Hollow", "--new-animals", "heifers", "--book", "b.book", "--today", TODAY]).well();
    let told = walk(&home, &["-"], "501 0\n502 1\n44 0\n").well();
    assert!(told.starts_with("1 scored, 2 new and scored."), "{told}");
    let arguments = ["herd", "--farm", "Hollow", "--group", "Heifers", "--book", "b.book", "--today", TODAY];
    let herd = home.run(&arguments).well();
    let numbers: Vec<&str> = herd.lines().skip(1).filter_map(|line| line.split_whitespace().next()).collect();
    assert_eq!(numbers, ["501", "502"], "{herd}");
    let none = home.run(&["herd", "--farm", "Hollow", "--group", "bulls", "--book", "b.book", "--today", TODAY]);
    let said = none.complained(1);
    assert!(said.contains("nobody here is in group bulls") && said.contains("heifers"), "{said}");
}

#[test]
fn a_heifer_that_a_list_names_later_is_joined_and_not_doubled() {
    let home = home();
    home.run(&["farm", "Hollow", "--new-animals", "heifers", "--book", "b.book", "--today", "2026-05-13"]).well();
    walk(&home, &["-"], "501 2\n502 1\n").well();
    // 501 got her tag since then; of 502 the list knows the number she was scored under.
    let tag =
        ["renumber", "501", "--tag", "UK 284205 700016", "--farm", "Hollow", "--book", "b.book", "--today", TODAY];
    home.run(&tag).well();
    home.write("list.csv", "number,tag,status\n1601,UK284205700016,heifer\n502,UK284205700023,heifer\n");
    let list = ["herd", "list.csv", "--farm", "Hollow", "--take", "all", "--book", "b.book", "--today", "2026-05-20"];
    home.run(&list).well();
    let herd = home.run(&["herd", "--farm", "Hollow", "--group", "heifers", "--as", "csv", "--book", "b.book"]).well();
    let rows: Vec<&str> = herd.lines().skip(1).collect();
    assert_eq!(rows.len(), 2, "neither is there twice: {herd}");
    assert!(rows[0].starts_with("502,UK284205700023") && rows[1].starts_with("1601,UK"), "{herd}");
    let her = home.run(&["animal", "1601", "--farm", "Hollow", "--book", "b.book", "--today", "2026-05-20"]).well();
    assert!(her.contains("gait 2"), "her score went with her: {her}");
}

#[test]
fn a_walk_of_a_day_gone_by_is_taken_with_that_day_and_later_ones_stay() {
    let home = home();
    walk(&home, &["-"], "44 0\n").well();
    let early = ["walk", "Hollow", "-", "--book", "b.book", "--today", "2026-05-07"];
    home.run_with(&early, "44 3\n").well();
    let text = home.run(&["walk", "Hollow", "--book", "b.book", "--today", "2026-05-07"]).well();
    assert!(text.contains("3 VERY LAME  44, was 1, 30 Apr"), "{text}");
    let text = walk(&home, &[], "").well();
    assert!(text.contains("1 of 4 scored") && !text.contains("LAME"), "{text}");
}

#[test]
fn a_new_number_is_one_word_so_that_a_slip_of_the_pen_is_no_cow() {
    let home = home();
    home.run(&["farm", "Hollow", "--new-animals", "heifers", "--book", "b.book", "--today", TODAY]).well();
    let said = walk(&home, &["-"], "139 2 3\n").complained(1);
    assert!(said.contains("nobody here is called 139 2, and a new number is one word"), "{said}");
    walk(&home, &["-"], "801 3\n").well();
}
