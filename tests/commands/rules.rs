//! Rules as a file: printed, adopted for the practice and for a farm, and what is wrong with one.

use super::home::{Home, TODAY};

fn due(home: &Home) -> String {
    home.run(&["due", "--book", "herd.book", "--today", TODAY]).well()
}

fn rules(home: &Home, more: &[&str]) -> String {
    home.run(&[&["rules", "--book", "herd.book", "--today", TODAY, "--recorded-by", "Ann"], more].concat()).well()
}

#[test]
fn what_is_printed_is_a_file_that_changes_nothing() {
    let home = Home::with_herd();
    let printed = rules(&home, &[]);
    // trade.md section 5: off within 3 days, late after 5, urgent after 7.
    assert!(printed.contains("[wrap]\noff = 3 ") && printed.contains("late = 5 ") && printed.contains("urgent = 7 "));
    let before = due(&home);
    home.write("rules.toml", &printed);
    assert!(rules(&home, &["rules.toml"]).contains("adopted"));
    assert_eq!(rules(&home, &[]), printed);
    assert_eq!(due(&home), before);
}

#[test]
fn an_adopted_rule_changes_the_list_at_once_and_touches_no_record() {
    let home = Home::with_herd();
    let animal = ["animal", "1382", "--farm", "Quillbarrow", "--book", "herd.book", "--today", TODAY, "--as", "sheet"];
    let sheets = home.run(&animal).well();
    let before = due(&home);
    home.write("rules.toml", "[recheck]\nulcer = 1\ndermatitis = 1\nthin-sole = 1\n[look]\nunseen = 3650\n");
    rules(&home, &["rules.toml"]);
    let after = due(&home);
    assert_ne!(after, before);
    assert!(rules(&home, &[]).contains("ulcer = 1  # default 28; "), "and it is printed with the default beside it");
    assert_eq!(home.run(&animal).well(), sheets);
    // Back to the defaults: a file that says nothing.
    home.write("empty.toml", "");
    rules(&home, &["empty.toml"]);
    assert_eq!(due(&home), before);
}

#[test]
fn a_farm_may_have_its_own_over_the_practices() {
    let home = Home::with_herd();
    home.write("practice.toml", "[wrap]\noff = 2\n");
    home.write("farm.toml", "[wrap]\nlate = 4\n");
    rules(&home, &["practice.toml"]);
    rules(&home, &["farm.toml", "--farm", "Quillbarrow"]);
    let farm = rules(&home, &["--farm", "Quillbarrow"]);
    assert!(farm.contains("off = 2  #") && farm.contains("late = 4  #"), "{farm}");
    let practice = rules(&home, &[]);
    assert!(practice.contains("off = 2  #") && practice.contains("late = 5  #"), "{practice}");
}

#[test]
fn every_mistake_is_told_and_nothing_is_adopted() {
    let home = Home::with_herd();
    let before = rules(&home, &[]);
    home.write(
        "bad.toml",
        "off = 1\n[wrap]\noff = 9\nlate = -1\noof = 2\n[blok]\nlook = 3\n[block]\nlook = \"soon\"\nurgent = 99999\n",
    );
    let said = home.run(&["rules", "bad.toml", "--book", "herd.book"]).complained(1);
    for line in [
        "bad.toml was not adopted: the rules stay as they are",
        "bad.toml:1: \"off\" stands in no section; the sections are \"wrap\", \"block\", \"foam\", \"shoe\", \"recheck\", \"look\"",
        "bad.toml:3: wrap.off would come after wrap.late; make off the smaller of the two",
        "bad.toml:4: wrap.late cannot be -1; write whole days, 0 to 3650",
        "bad.toml:5: [wrap] has no rule \"oof\"; its rules are \"off\", \"late\", \"urgent\"",
        "bad.toml:7: there is no section [blok]; the sections are",
        "bad.toml:9: block.look cannot be \"soon\"; write whole days, 0 to 3650",
        "bad.toml:10: block.urgent cannot be 99999; write whole days, 0 to 3650",
    ] {
        assert!(said.contains(line), "{line}\n{said}");
    }
    assert_eq!(rules(&home, &[]), before);
    assert!(
        home.run(&["rules", "gone.toml", "--book", "herd.book"]).complained(1).contains("gone.toml cannot be read")
    );
}

#[test]
fn a_file_that_can_be_no_rules_is_refused_at_once_and_mistakes_are_counted() {
    let home = Home::with_herd();
    home.write("huge.toml", &"x=1\n".repeat(100_000));
    let said = home.run(&["rules", "huge.toml", "--book", "herd.book"]).complained(1);
    assert!(said.contains("huge.toml:1: this file has 400000 bytes and may have 16384"), "{said}");
    home.write("wrong.toml", &(0..500).map(|number| format!("x{number} = 1\n")).collect::<String>());
    let said = home.run(&["rules", "wrong.toml", "--book", "herd.book"]).complained(1);
    assert!(said.lines().count() < 30 && said.contains("480 more mistakes follow"), "{said}");
}
