//! What answers a routine trim, and what does not: feet, not turns. Both hind feet do, since visits for hinds alone are ordinary and
//! 38 % of chronic cases were lame on the other side later (Thomas et al. 2016; trade.md 8); one foot of a call-out does not.

use super::home::{Home, TODAY, sheets};
use serde_json::Value;

/// A home in which these turns of those days were entered, each with the lines of its animal.
fn home(turns: &[(&str, &str, &str)], told: &[&str]) -> Home {
    let home = Home::new();
    let enter = |text: String| {
        home.write("day.txt", &text);
        home.run(&["enter", "day.txt", "--book", "b.book", "--today", TODAY]).done();
    };
    enter(sheets("farm Hollow", "1 Nov 2025", told));
    for (day, animal, lines) in turns {
        enter(format!("farm Hollow\nday {day}\nanimal {animal}\n{lines}\n  signed\n"));
    }
    home
}

/// Of everybody whom a routine asks for: why, in words.
fn routine(home: &Home) -> Vec<(String, String)> {
    let said = home.run(&["day-list", "--book", "b.book", "--today", TODAY, "--as", "json"]).well();
    let list: Value = serde_json::from_str(&said).expect("JSON");
    let text = |value: &Value| value.as_str().expect("text").to_owned();
    let whys = |row: &Value| row["why"].as_array().expect("a list").iter().map(text).collect::<Vec<_>>();
    let is_routine = |why: &&String| {
        ["days in milk", "dried off", "seen", "due to calve", "feet"].iter().any(|words| why.contains(words))
    };
    let rows = list["animals"].as_array().expect("a list").iter();
    let all = rows.flat_map(|row| {
        whys(row).iter().filter(is_routine).map(|why| (text(&row["animal"]), why.clone())).collect::<Vec<_>>()
    });
    let mut all: Vec<(String, String)> = all.collect();
    all.sort();
    all
}

fn pairs(all: &[(String, String)]) -> Vec<(&str, &str)> {
    all.iter().map(|(animal, why)| (animal.as_str(), why.as_str())).collect()
}

/// 74 days in milk on 14 May 2026, that is calved on 1 March. Each was in the crush on 20 April with what stands beside her.
#[test]
fn one_foot_of_a_call_out_leaves_her_in_milk_and_hinds_alone_do_not() {
    let ulcer = "  LH lifted trimmed all seen\n  LH outer 4 SU\n  LH inner block wood";
    let looks = [
        ("1", ulcer.to_owned(), true),
        ("2", "  hinds trimmed nothing found".to_owned(), false),
        ("3", "  all four trimmed nothing found".to_owned(), false),
        // Seen all round and nothing to trim: horn that needs no knife is left (common practice).
        ("4", "  hinds nothing found".to_owned(), false),
        // Up, and neither trimmed nor seen all round.
        ("5", "  hinds lifted".to_owned(), true),
        ("6", "  fronts trimmed nothing found".to_owned(), true),
        // Three feet are no emergency: the fourth would not come up (common practice).
        ("7", "  fronts trimmed nothing found\n  LH trimmed nothing found\n  RH not lifted".to_owned(), false),
        // A claw of either trimmed, told at the claw.
        ("8", "  LH outer trim\n  RH inner trim".to_owned(), false),
        // A claw lowered is treatment, and the other foot's trim is no trim of it.
        ("9", "  LH outer lowered\n  RH trimmed nothing found".to_owned(), true),
    ];
    let told: Vec<String> = looks.iter().map(|(number, _, _)| format!("told {number} calved 1 Mar 2026")).collect();
    let told: Vec<&str> = told.iter().map(String::as_str).collect();
    let turns: Vec<(&str, &str, &str)> =
        looks.iter().map(|(number, lines, _)| ("20 Apr 2026", *number, lines.as_str())).collect();
    let asked = routine(&home(&turns, &told));
    let asked = |number: &str| asked.iter().any(|(animal, why)| animal == number && why.contains("74 days in milk"));
    for (number, lines, still) in &looks {
        assert_eq!(asked(number), *still, "{number}: {lines}");
    }
}

/// One foot on one day and the other on another make both; and of both the earlier counts: trimmed before she calved it is no trim
/// since. The day she calved itself is one.
#[test]
fn each_hind_foot_counts_by_its_own_day() {
    let (left, right) = ("  LH trimmed nothing found", "  RH trimmed nothing found");
    let home = home(
        &[
            ("10 Apr 2026", "1", left),
            ("24 Apr 2026", "1", right),
            ("27 Feb 2026", "2", left),
            ("24 Apr 2026", "2", right),
            ("1 Mar 2026", "3", "  hinds trimmed nothing found"),
        ],
        &["told 1 calved 1 Mar 2026", "told 2 calved 1 Mar 2026", "told 3 calved 1 Mar 2026"],
    );
    assert_eq!(pairs(&routine(&home)), [("2", "74 days in milk, no trim since she calved")]);
}

/// A trim counts for 60 days (rule `routine.again`: common practice). Dried off on 2 May, due to calve in 30 days.
#[test]
fn one_foot_does_not_answer_drying_off_or_calving() {
    let one = "  RH lifted trimmed all seen\n  RH heel DD M2";
    let both = "  hinds trimmed nothing found";
    let home = home(
        &[("24 Apr 2026", "1", one), ("24 Apr 2026", "2", both), ("24 Apr 2026", "3", one), ("24 Apr 2026", "4", both)],
        &[
            "told 1 dry since 30 Oct 2025",
            "told 2 dry since 30 Oct 2025",
            "told 3 due to calve 13 Jun 2026",
            "told 4 due to calve 13 Jun 2026",
        ],
    );
    home.write("dry.txt", "farm Hollow\nday 13 May 2026\ntold 1 dry since 2 May 2026\ntold 2 dry since 2 May 2026\n");
    home.run(&["enter", "dry.txt", "--book", "b.book", "--today", TODAY]).well();
    assert_eq!(pairs(&routine(&home)), [("1", "dried off SAT 2 May"), ("3", "due to calve in 30 days")]);
}

/// Overdue after 180 days (twice a year: common practice): 15 November is 180 days before 14 May, the 14th 181.
#[test]
fn one_foot_up_does_not_make_her_seen() {
    let (both, one) = ("  hinds trimmed nothing found", "  LH lifted trimmed all seen\n  LH outer 4 SU");
    let turns = [
        ("14 Nov 2025", "1", both),
        ("1 May 2026", "1", one),
        ("15 Nov 2025", "2", both),
        ("1 May 2026", "2", one),
        // Both were up, whatever was done.
        ("14 Nov 2025", "3", both),
        ("1 May 2026", "3", "  hinds lifted"),
        // She has calved, and one foot is all that was ever up.
        ("1 May 2026", "4", one),
        // A heifer of whom the same is known, and not for long.
        ("1 May 2026", "5", one),
        // Nothing since: she was not seen at all.
        ("14 Nov 2025", "6", both),
    ];
    let home = home(&turns, &["told 4 calved 1 Jun 2025"]);
    let wanted =
        [("1", "both hind feet last up 14 Nov 2025"), ("4", "both hind feet never up"), ("6", "last seen 14 Nov 2025")];
    assert_eq!(pairs(&routine(&home)), wanted);
    let text = home.run(&["day-list", "--book", "b.book", "--today", TODAY, "--region", "north-america"]).well();
    assert!(text.contains("both rear feet last up 14 Nov 2025"), "{text}");
}

/// A foot that has lost both claws is not waited for, and neither, after three turns, one that never comes up (common practice): until
/// she is not seen at all for as long.
#[test]
fn a_foot_that_cannot_come_up_does_not_make_her_come_for_ever() {
    let left = "  LH trimmed nothing found";
    let mut turns = vec![("20 Apr 2026", "1", left)];
    // 2 came twice, 3 three times since she was overdue.
    turns.extend(["20 Apr 2026", "4 May 2026"].map(|day| (day, "2", left)));
    turns.extend(["6 Apr 2026", "20 Apr 2026", "4 May 2026"].map(|day| (day, "3", left)));
    turns.extend(["2 Nov 2025", "3 Nov 2025", "4 Nov 2025"].map(|day| (day, "4", left)));
    let lost = ["told 1 RH outer gone", "told 1 RH inner gone", "told 1 calved 1 Mar 2026"];
    let calved = ["told 2 calved 1 Jun 2025", "told 3 calved 1 Jun 2025", "told 4 calved 1 Jun 2025"];
    let home = home(&turns, &[&lost[..], &calved[..]].concat());
    assert_eq!(pairs(&routine(&home)), [("2", "both hind feet never up"), ("4", "last seen 4 Nov 2025")]);
}
