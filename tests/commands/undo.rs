//! Undo of the command, again and again: what was taken back keeps nobody from taking back what was before it.

use super::home::{Home, TODAY};

const BOOK: [&str; 6] = ["--book", "herd.book", "--today", TODAY, "--recorded-by", "Ann"];

fn run(home: &Home, arguments: &[&str]) -> super::home::Said {
    home.run(&[arguments, &["--farm", "Quillbarrow"], &BOOK].concat())
}

fn records(home: &Home) -> Vec<String> {
    let all = home.run(&["export", "--book", "herd.book"]).well();
    let mut all: Vec<String> = all.lines().map(str::to_owned).collect();
    // The last line counts them.
    all.pop();
    all
}

fn herd(home: &Home) -> String {
    run(home, &["herd", "--as", "csv"]).well()
}

#[test]
fn what_a_list_began_is_taken_back_after_each_word_about_her_was() {
    // 1404 is new on that list.
    let words: [&[&str]; 5] = [
        &["called", "x", "--about", "1404"],
        &["gone", "1404"],
        &["renumber", "1404", "--number", "1405B"],
        &["renumber", "1404", "--tag", "UK 000000 401404"],
        &["called", "y", "--about", "1404", "--urgent"],
    ];
    let home = Home::with_herd();
    home.write("list.csv", include_str!("../../sample-herd/quillbarrow/new-list.csv"));
    let before = herd(&home);
    for word in words {
        run(&home, &["herd", "list.csv", "--take", "all"]);
        let taken = herd(&home);
        assert_ne!(taken, before);
        assert_eq!(run(&home, word).code, Some(0), "{word:?}");
        let held = records(&home);
        assert!(run(&home, &["undo", "--yes"]).well().ends_with("Taken back.\n"), "{word:?}");
        assert_eq!(herd(&home), taken, "{word:?}: the word alone is taken back");
        let said = run(&home, &["undo", "--yes"]).well();
        assert!(said.contains("herd-list list.csv: 1 new, 1 changed") && said.ends_with("Taken back.\n"), "{said}");
        assert_eq!(herd(&home), before, "{word:?}");
        let now = records(&home);
        assert!(held.iter().all(|record| now.contains(record)), "{word:?}: nothing recorded is lost");
    }
    home.run(&["check", "--book", "herd.book"]).well();
}

#[test]
fn what_a_walk_began_is_taken_back_after_her_new_number_was() {
    let home = Home::with_herd();
    run_farm(&home, &["--new-animals", "heifers"]);
    let before = herd(&home);
    home.write("walk.txt", "9001 2\n1371 1\n");
    home.run(&[&["walk", "Quillbarrow", "walk.txt"][..], &BOOK].concat()).well();
    run(&home, &["renumber", "9001", "--number", "9002"]).well();
    let more = run(&home, &["herd", "--as", "csv"]).well();
    assert!(more.contains("9002,"), "{more}");
    run(&home, &["undo", "--yes"]).well();
    run(&home, &["undo", "--yes"]).well();
    assert_eq!(herd(&home), before);
    home.run(&["check", "--book", "herd.book"]).well();
}

fn run_farm(home: &Home, told: &[&str]) {
    home.run(&[&["farm", "Quillbarrow"], told, &BOOK].concat()).well();
}

#[test]
fn who_is_still_spoken_of_is_not_taken_back() {
    let home = Home::with_herd();
    home.write("list.csv", include_str!("../../sample-herd/quillbarrow/new-list.csv"));
    run(&home, &["herd", "list.csv", "--take", "all"]);
    home.write(
        "day.txt",
        "farm Quillbarrow\nday 14 May 2026\n\nanimal 1404\n  LH wrap blue off by 16 May by \"Tom\"\n  signed\n",
    );
    home.run(&[&["enter", "day.txt"][..], &BOOK].concat());
    run(&home, &["called", "x", "--about", "1404"]).well();
    run(&home, &["undo", "--yes"]).well();
    // The call is taken back; her turn is not.
    let said = run(&home, &["undo", "--yes"]).complained(1);
    assert!(said.contains("more was written since of 1404, whom this began"), "{said}");
}
