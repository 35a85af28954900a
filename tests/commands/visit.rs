//! Of one visit: what is not said of three feet when one was lifted, and who did what where two record.

use super::home::{Home, TODAY};

/// A call-out: one foot is lifted, and nobody looks at the other three.
const EMERGENCY: &str = "\
farm Hollow
day 14 May 2026
by Ann
visit call out

animal 7
  LH lifted trimmed all seen
  LH outer 4 SU severe
  LH inner block wood
  signed
";

#[test]
fn an_emergency_with_one_foot_lifted_leaves_the_other_three_not_looked_at() {
    let home = Home::new();
    home.write("day.txt", EMERGENCY);
    home.run(&["enter", "day.txt", "--book", "b.book", "--today", TODAY]).well();
    let animal = home.json(&["animal", "7", "--book", "b.book"]);
    let turn = &animal["turns"][0];
    let feet: Vec<&str> =
        turn["feet"].as_array().expect("a list").iter().filter_map(|one| one["foot"].as_str()).collect();
    assert_eq!(feet, ["LH"], "of the others nothing is said: {turn:#}");
    let strip = animal["strip"][0]["feet"].as_array().expect("a list");
    let looked: Vec<_> = strip.iter().map(|one| (one["foot"].as_str(), one["looked"].as_bool())).collect();
    assert_eq!(looked.iter().filter(|(_, looked)| *looked == Some(true)).count(), 1, "{strip:#?}");
    assert!(looked.contains(&(Some("LH"), Some(true))), "{looked:?}");
    // Printed back the sheet says no more than was written.
    let sheet = home.run(&["animal", "7", "--book", "b.book", "--today", TODAY, "--as", "sheet"]).well();
    assert_eq!(sheet, EMERGENCY);
    let text = home.run(&["animal", "7", "--book", "b.book", "--today", TODAY]).well();
    let turn = text.rsplit("THU 14 May 2026\n").next().expect("her turn");
    assert!(!turn.contains("nothing found") && !turn.contains("RH"), "{turn}");
    let totals = home.json(&["totals", "--book", "b.book"]);
    assert_eq!((&totals["feet_lifted"], &totals["visits"][0]["why"]), (&1.into(), &"call-out".into()), "{totals:#}");
}

/// Anna begins her, Ben takes over with the foot up; one word hands over.
const TALK: &str = "\
Enter
Thistle
Anna
y
Ben
7
add
lh 4 1 3
who
3 6 1 1
w
1
1
";

#[test]
fn the_report_of_a_turn_says_who_did_what() {
    let home = Home::new();
    let told = home.run_with(&["--plain", "--book", "b.book", "--today", TODAY], TALK).out;
    assert!(told.contains("Anna records"), "{told}");
    let animal = home.json(&["animal", "7", "--book", "b.book"]);
    let recorded = animal["turns"][0]["recorded"].as_array().expect("a list").clone();
    let names: Vec<_> = recorded.iter().map(|part| part["by"].as_str().unwrap_or_default()).collect();
    assert_eq!(names, ["Ben", "Anna"], "{animal:#}\n{told}");
    assert!(recorded[0]["said"].to_string().contains("LH outer 4 sole ulcer"), "{recorded:#?}");
    assert!(!recorded[1]["said"].to_string().contains("sole ulcer"), "{recorded:#?}");
    let text = home.run(&["animal", "7", "--book", "b.book", "--today", TODAY]).well();
    assert!(text.contains("by Ben: ") && text.contains("by Anna: "), "{text}");
}

/// 80 % of the animals in milk make a visit one of the whole herd (Solano et al. 2016), and who was in milk then is counted, not who is now.
#[test]
fn an_old_visit_is_added_up_with_who_was_in_milk_then() {
    let home = Home::with_herd();
    let sum = |on: &str| home.run(&["visit", "Threlmarsh", "--book", "herd.book", "--today", on]).well();
    let percent = |told: &str| {
        let line = told.lines().find(|line| line.contains("in milk")).expect("a share").to_owned();
        let word = line.split("= ").nth(1).and_then(|rest| rest.split(' ').next()).expect("a number");
        word.parse::<u32>().expect("whole")
    };
    let (first, both) = (sum("2025-10-21"), sum("2025-10-22"));
    assert!(percent(&first) >= 80, "{first}");
    assert!(percent(&both) > percent(&first), "the visit went on the next morning: {both}");
}

/// Where no list says who is in milk her days do; whoever got away with no foot up did not come.
#[test]
fn the_share_of_the_herd_is_of_those_in_milk_by_their_days_that_had_a_foot_up() {
    let home = Home::new();
    let list = "number,calved,dry from\n1,2026-02-01,\n2,2026-02-01,\n3,2025-06-01,2026-05-01\n";
    home.write("herd.csv", list);
    home.write("day.txt", "farm Hollow\nday 14 May 2026\nby Ann\n\nanimal 1\n  got away\n\nanimal 2\n  LH trimmed nothing found\n  signed\n");
    home.run(&["enter", "day.txt", "--book", "b.book", "--today", TODAY]).well();
    home.run(&["herd", "herd.csv", "--take", "all", "--book", "b.book", "--today", TODAY]).well();
    let share = &home.json(&["totals", "--book", "b.book"])["visits"][0]["in_milk"];
    assert_eq!((&share["of"], &share["came"], &share["not_told"]), (&2.into(), &1.into(), &0.into()), "{share:#}");
}

#[test]
fn a_foot_that_was_only_lifted_before_she_got_away_is_not_looked_at() {
    let home = Home::new();
    let sheet =
        "farm Hollow\nday 14 May 2026\nby Ann\n\nanimal 7\n  LH lifted\n  RH trimmed nothing found\n  got away\n";
    home.run_with(&["enter", "-", "--book", "b.book", "--today", TODAY], sheet).well();
    let animal = home.json(&["animal", "7", "--book", "b.book"]);
    let strip = animal["strip"][0]["feet"].as_array().expect("a list");
    let looked: Vec<_> = strip.iter().filter(|one| one["looked"] == true).map(|one| one["foot"].as_str()).collect();
    assert_eq!(looked, [Some("RH")], "{strip:#?}");
    let map = home.run(&["animal", "7", "--book", "b.book", "--today", TODAY]).well();
    assert_eq!(map.matches("[=]").count(), 1, "{map}");
}

/// Of two days: on the second the one that got away comes again, it is told that it was the whole herd, and the visit is closed.
const TWO_DAYS: [&str; 2] = [
    "farm Hollow\nday 12 May 2026\nby Ann\nvisit set aside\n\nanimal 1\n  all four trimmed nothing found\n  signed\n\n\
     animal 2\n  LH lifted trimmed nothing found\n  got away\n",
    "farm Hollow\nday 13 May 2026\nby Ann\nvisit whole herd cleaned after gone on closed\n\n\
     animal 2\n  all four trimmed nothing found\n  RH inner block wood\n  signed\n",
];

#[test]
fn a_visit_of_two_days_looked_at_as_of_the_first_tells_nothing_of_the_second() {
    let home = Home::new();
    let told = |day: &str| {
        let [visit, totals] = ["visit", "totals"].map(|command| {
            let said = home.run(&[command, "--book", "b.book", "--today", day, "--as", "json"]).well();
            serde_json::from_str::<serde_json::Value>(&said).expect("JSON")
        });
        assert_eq!(visit, totals, "of a day with one visit");
        visit
    };
    home.write("first.txt", TWO_DAYS[0]);
    home.run(&["enter", "first.txt", "--book", "b.book", "--today", TODAY]).well();
    let first = told("2026-05-12");
    let count = |of: &serde_json::Value, what: &str| of[what].as_u64().expect("a count");
    let counts = |of: &serde_json::Value| ["animals", "feet_lifted", "blocks"].map(|what| count(of, what));
    // Four feet of the one, one of the other.
    assert_eq!(counts(&first), [2, 5, 0]);
    assert_eq!((&first["visits"][0]["state"], &first["visits"][0]["waits"][0]), (&"paused".into(), &"2".into()));
    home.write("second.txt", TWO_DAYS[1]);
    home.run(&["enter", "second.txt", "--book", "b.book", "--today", TODAY]).well();
    assert_eq!(told("2026-05-12"), first, "whatever was told since");
    let both = told("2026-05-13");
    assert_eq!(counts(&both), [2, 9, 1]);
    let visit = &both["visits"][0];
    assert_eq!((&visit["state"], &visit["herd"]), (&"closed".into(), &"whole".into()), "{visit:#}");
    assert_eq!(visit["dates"], serde_json::json!(["2026-05-12", "2026-05-13"]));
}
