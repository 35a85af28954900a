//! The list of the day and animals with unusual histories: dry and then calved, here and then gone, done and then asked for again, two
//! that are one, several visits a day.

use super::home::{Home, TODAY, sheets};
use crate::support::tablet::{Tablet, day};
use crushbook::domain::anatomy::Foot;
use crushbook::domain::day_list::{DayList, Part, VisitDays, Why};
use crushbook::domain::event::Event;
use crushbook::domain::follow_up::rules::Rules;
use crushbook::domain::herd::Herd;
use serde_json::Value;

struct Odd(Home);

impl Odd {
    /// A farm on which these were told on a day long ago.
    fn new(told: &[&str]) -> Odd {
        let odd = Odd(Home::new());
        odd.enter("1 Nov 2025", told);
        odd
    }

    fn enter(&self, day: &str, lines: &[&str]) {
        self.0.write("day.txt", &sheets("farm Hollow", day, lines));
        self.0.run(&["enter", "day.txt", "--book", "b.book", "--today", TODAY]).done();
    }

    fn run(&self, arguments: &[&str]) -> String {
        self.0.run(&[arguments, &["--book", "b.book", "--today", TODAY]].concat()).well()
    }

    fn list(&self) -> Value {
        serde_json::from_str(&self.run(&["day-list", "--as", "json"])).expect("JSON")
    }

    /// Each that is expected: for what first, whether she came, and since when she is carried over.
    fn expected(&self) -> Vec<String> {
        rows(&self.list()["animals"])
    }
}

fn rows(rows: &Value) -> Vec<String> {
    let text = |row: &Value, field: &str| row[field].as_str().unwrap_or("-").to_owned();
    let row = |row: &Value| ["animal", "reason", "came", "missed"].map(|field| text(row, field)).join(" ");
    rows.as_array().expect("a list").iter().map(row).collect()
}

const SOUND: &str = "  hinds trimmed nothing found\n  signed";

/// The newer of two days says whether she is dry or in milk: routine trims go by it (trade.md 8).
#[test]
fn dry_and_then_calved_or_in_milk_and_then_dry() {
    let odd = Odd::new(&["told 1 calved 1 Jun 2025", "told 2 calved 1 Feb 2026", "told 3 calved 1 Feb 2026"]);
    // 1 calved 8 days after she was dried off, 2 was dried off 92 days after she had calved, 3 is dried off before she calved.
    odd.enter(
        "13 May 2026",
        &[
            "told 1 dry since 1 May 2026",
            "told 1 calved 9 May 2026",
            "told 2 dry since 4 May 2026",
            "told 3 dry since 1 Dec 2025",
        ],
    );
    let list = odd.list();
    let why = |at: usize| list["animals"][at]["why"].clone();
    assert_eq!(rows(&list["animals"]), ["2 dried-off - -", "3 in-milk - -", "1 unseen - -"], "{list:#}");
    assert_eq!(why(0), serde_json::json!(["dried off MON 4 May", "never seen"]));
    assert_eq!(why(1), serde_json::json!(["102 days in milk, no trim since she calved", "never seen"]));
    assert_eq!(why(2), serde_json::json!(["never seen"]));
}

/// A day due to calve that lies too near to the calving before is of that one (some 283 days: from memory).
#[test]
fn whoever_has_calved_early_is_not_before_calving() {
    let odd = Odd::new(&["told 1 due to calve 20 Jun 2026", "told 2 due to calve 20 Jun 2026"]);
    odd.enter("10 May 2026", &["told 1 calved 9 May 2026"]);
    assert_eq!(odd.expected(), ["1 unseen - -", "2 calving - -"]);
}

/// None is left for a calving that was told, nor for one of which nothing was told for as long after as before (28 days: trade.md 8;
/// the time after: common practice). Each has calved once and was never here, which is a reason.
#[test]
fn a_calving_that_was_told_or_is_long_over_leaves_nobody_out() {
    let calved = ["1", "2", "3", "4"].map(|number| format!("told {number} calved 1 Jun 2025"));
    let odd = Odd::new(&calved.each_ref().map(String::as_str));
    odd.enter("1 Apr 2026", &["told 1 due to calve 25 May 2026", "told 2 due to calve 25 May 2026"]);
    odd.enter("1 Apr 2026", &["told 3 due to calve 17 Apr 2026", "told 4 due to calve 16 Apr 2026"]);
    odd.enter("9 May 2026", &["told 1 calved 8 May 2026"]);
    let list = odd.list();
    let spared: Vec<&Value> = list["spared"].as_array().expect("a list").iter().map(|row| &row["animal"]).collect();
    assert_eq!(
        (rows(&list["animals"]), spared),
        (vec!["1 unseen - -".into(), "4 unseen - -".into()], vec![&"3".into(), &"2".into()])
    );
}

/// Two years in which nobody saw her or told anything of her (common practice): also where a look at a finding was owed. A score, or
/// that she came back, is a word of her.
#[test]
fn long_unheard_of_is_whoever_nothing_was_told_of() {
    let odd = Odd::new(&[]);
    let found = "  LH lifted trimmed all seen\n  LH outer 4 SU\n  signed";
    let turns = ["1", "2", "3"].map(|number| format!("animal {number}\n{found}"));
    odd.enter("1 Feb 2024", &turns.each_ref().map(String::as_str));
    odd.enter("1 Mar 2026", &["told 2 gait 0 of 0-3"]);
    odd.enter("1 Mar 2026", &["told 3 note \"with the heifers\""]);
    let list = odd.list();
    assert_eq!(rows(&list["animals"]), ["2 look-again - -", "3 look-again - -"], "{list:#}");
    assert_eq!(list["still_here"], serde_json::json!([{ "animal": "1", "last": "2024-02-01" }]));
}

/// What is told of a later day is not known yet.
#[test]
fn a_day_gone_by_is_listed_as_it_was_known_then() {
    let odd = Odd::new(&["told 1 calved 1 Mar 2026"]);
    odd.enter("10 May 2026", &["animal 1", SOUND]);
    odd.enter("9 May 2026", &["animal 2", SOUND]);
    odd.enter("11 May 2026", &["told 1 called \"slow\"", "told 1 gait 2 of 0-3", "told 2 called \"slow\""]);
    let then = odd.0.run(&["day-list", "--book", "b.book", "--today", "2026-05-09", "--as", "json"]).well();
    let then: Value = serde_json::from_str(&then).expect("JSON");
    assert_eq!(rows(&then["unasked"]), ["2 - done -"], "she was called about later: {then:#}");
    assert_eq!(
        then["animals"][0]["why"],
        serde_json::json!(["69 days in milk, no trim since she calved", "never seen"])
    );
}

/// Sold that evening, died under the hands: she came, and the day counts her.
#[test]
fn whoever_was_done_and_then_left_was_expected_and_done() {
    let odd = Odd::new(&["told 1 calved 1 Mar 2026", "told 2 calved 1 Mar 2026", "told 3 calved 1 Mar 2026"]);
    odd.enter("14 May 2026", &["animal 1", SOUND, "animal 2\n  got away"]);
    for number in ["1", "2", "3"] {
        odd.run(&["gone", number, "--how", "sold"]);
    }
    // 3 did not come, and does not any more.
    let list = odd.list();
    assert_eq!(rows(&list["animals"]), ["1 in-milk done -", "2 in-milk set-aside -"], "{list:#}");
    assert_eq!((&list["expected"], &list["done"], &list["unasked"]), (&2.into(), &1.into(), &serde_json::json!([])));
    // On the next day she is nobody's.
    let next = odd.0.run(&["day-list", "--book", "b.book", "--today", "2026-05-15"]).well();
    assert!(next.contains("0 expected, 0 done"), "{next}");
}

/// What is told after she was signed off is not answered by it.
#[test]
fn scored_lame_or_called_about_after_she_was_done_she_is_asked_for_again() {
    let odd = Odd::new(&[]);
    odd.enter("14 May 2026", &["animal 1", SOUND, "animal 2", SOUND, "animal 3", SOUND, "animal 4", SOUND]);
    assert_eq!(odd.list()["unasked"].as_array().map(Vec::len), Some(4));
    odd.enter("14 May 2026", &["told 1 gait 2 of 0-3", "told 2 gait 1 of 0-3", "told 3 called \"lame now\""]);
    let list = odd.list();
    assert_eq!(rows(&list["animals"]), ["3 called - -", "1 lame - -"], "{list:#}");
    assert_eq!(rows(&list["unasked"]), ["2 - done -", "4 - done -"], "{list:#}");
    // Scored before she came, and in the crush itself, she was looked at for it.
    let odd = Odd::new(&[]);
    let found = "  LH lifted trimmed all seen\n  LH outer 4 SU\n  signed";
    odd.enter("14 May 2026", &["told 1 gait 2 of 0-3"]);
    odd.enter("14 May 2026", &["animal 1", found, "animal 2\n  gait 2 of 0-3", found]);
    let list = odd.list();
    assert_eq!(
        (rows(&list["animals"]), rows(&list["unasked"])),
        (vec!["1 lame done -".into()], vec!["2 - done -".into()])
    );
}

/// Left because she is soon to calve, and in the crush all the same: she came unasked and stands nowhere else.
#[test]
fn whoever_is_left_for_now_and_comes_came_unasked() {
    let odd = Odd::new(&["told 1 calved 1 Jun 2025", "told 2 calved 1 Jun 2025"]);
    odd.enter("13 May 2026", &["told 1 due to calve 25 May 2026", "told 2 due to calve 25 May 2026"]);
    odd.enter("14 May 2026", &["animal 1", SOUND]);
    let list = odd.list();
    let spared: Vec<&Value> = list["spared"].as_array().expect("a list").iter().map(|row| &row["animal"]).collect();
    assert_eq!((rows(&list["unasked"]), spared), (vec!["1 - done -".into()], vec![&"2".into()]), "{list:#}");
}

/// 28 days before calving routine is left, and nothing else (trade.md 8): whatever is open, due or said keeps her on the list.
#[test]
fn close_to_calving_whatever_is_no_routine_stands() {
    let soon = |number: &str| format!("told {number} due to calve 25 May 2026");
    let told: Vec<String> = ["1", "2", "3", "4", "5"].iter().map(|number| soon(number)).collect();
    let odd = Odd::new(&told.iter().map(String::as_str).collect::<Vec<_>>());
    odd.enter("1 Apr 2026", &["animal 1\n  LH lifted trimmed all seen\n  LH outer 4 SU\n  signed"]);
    odd.enter(
        "10 May 2026",
        &["animal 2\n  LH lifted trimmed all seen\n  LH recheck 14 May \"the hole must be dry\"\n  signed"],
    );
    odd.enter(
        "10 May 2026",
        &["animal 3\n  LH lifted trimmed all seen\n  LH outer 4 SU\n  LH inner block wood\n  signed"],
    );
    odd.enter("13 May 2026", &["told 4 gait 2 of 0-3", "told 5 called \"swollen\" urgent"]);
    let who = ["5 urgent - -", "3 left-on - -", "1 look-again - 2026-05-10", "2 look-again - -", "4 lame - -"];
    assert_eq!(odd.expected(), who);
    assert_eq!(odd.list()["spared"], serde_json::json!([]));
}

/// Swollen, smells, lamer with something on (trade.md 6): every kind of word that says so, until that foot was seen.
#[test]
fn urgent_words_stay_urgent_until_the_thing_was_seen() {
    let odd = Odd::new(&[]);
    let wrapped =
        "  RH lifted trimmed all seen\n  RH heel DD M2\n  RH heel wrap blue off by 16 May by \"Tom\"\n  signed";
    let turns: Vec<String> = ["1", "2", "3", "4"].iter().map(|number| format!("animal {number}\n{wrapped}")).collect();
    odd.enter("13 May 2026", &turns.iter().map(String::as_str).collect::<Vec<_>>());
    // 5 has nothing on: what the farm calls urgent is no less so than what a day makes urgent, and stands behind what is on.
    odd.enter("1 Apr 2026", &["animal 5", SOUND]);
    odd.enter("14 May 2026", &["told 5 called \"will not stand\" urgent"]);
    // Said of the thing itself; called about her; called and not urgent; nothing.
    odd.enter(
        "14 May 2026",
        &["told 1 RH wrap trouble by \"Tom\" telephone", "told 2 called \"smells\" urgent", "told 3 called \"lamer\""],
    );
    let who = odd.expected();
    assert_eq!(who, ["1 urgent - -", "2 urgent - -", "5 urgent - -", "3 left-on - -", "4 left-on - -"]);
    // The other foot was up: the call was heard, and the wrap is as urgent as it was the next day.
    odd.enter(
        "14 May 2026",
        &["animal 2\n  LH trimmed nothing found\n  signed", "animal 1\n  RH wrap off bare skin sound\n  signed"],
    );
    let next = odd.0.run(&["day-list", "--book", "b.book", "--today", "2026-05-15", "--as", "json"]).well();
    let next: Value = serde_json::from_str(&next).expect("JSON");
    assert_eq!(
        rows(&next["animals"])[..3],
        ["2 urgent - -", "5 urgent - 2026-05-14", "3 left-on - 2026-05-14"],
        "{next:#}"
    );
    assert_eq!(next["animals"][1]["why"].as_array().map(Vec::len), Some(1), "the call was answered: {next:#}");
}

/// Carried over from the first visit of those, back without a gap, at which she was expected and did not come.
#[test]
fn carried_over_since_the_first_visit_after_she_was_last_here() {
    let odd = Odd::new(&[
        "told 1 calved 1 Feb 2026",
        "told 2 calved 1 Feb 2026",
        "told 3 calved 20 Feb 2026",
        "told 4 calved 1 Feb 2026",
    ]);
    // 60 days in milk on 2 April. 2 came and got away on 23 April, and was there with one foot on 7 May; 4 was sold, and came back.
    let visit = |day: &str, lines: &[&str]| odd.enter(day, &[&["animal 9", SOUND], lines].concat());
    odd.enter(
        "20 Mar 2026",
        &["animal 1", SOUND.replace("hinds trimmed nothing found", "hinds lifted").as_str(), "animal 3", SOUND],
    );
    visit("1 Apr 2026", &[]);
    visit("9 Apr 2026", &["told 4 sold"]);
    visit("23 Apr 2026", &["animal 2\n  got away"]);
    visit("7 May 2026", &["animal 2\n  LH trimmed nothing found\n  signed", "told 4 came back"]);
    visit("8 May 2026", &[]);
    let who = odd.expected();
    let wanted = ["1 in-milk - 2026-04-09", "2 in-milk - 2026-05-08", "4 in-milk - 2026-05-07"];
    assert_eq!(who, wanted, "3 was trimmed since she calved");
}

/// Two entered twice are one: what either had done was done to her, and parted again each is as she was.
#[test]
fn two_that_are_one_are_trimmed_as_either() {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    let (one, other) = (tablet.animal(day(1), farm, "11"), tablet.animal(day(1), farm, "12"));
    let calved = Some(day(9) - chrono::Days::new(74));
    tablet.write(day(1), one.0, Event::Described { animal: one, herd: Herd { calved, ..Herd::default() } });
    let visit = tablet.visit(day(2), farm);
    let turn = tablet.turn(day(2), visit, other);
    for foot in [Foot::LeftHind, Foot::RightHind] {
        tablet.write(day(2), other.0, Event::Looked { turn, foot, lifted: true, trimmed: true, all_seen: true });
    }
    tablet.write(day(2), other.0, Event::TurnSigned { turn, open: Vec::new() });
    let whys = |tablet: &Tablet, animal| {
        let visits = VisitDays::from([(day(2), [visit].into())]);
        let part = Part::of(animal, &tablet.seen, &visits, &Rules::default(), day(9));
        DayList::of([&part].into_iter()).expected.iter().flat_map(|line| line.why.clone()).collect::<Vec<_>>()
    };
    let apart = [vec![Why::InMilk(74), Why::Unseen(None)], Vec::new()];
    assert_eq!([whys(&tablet, one), whys(&tablet, other)], apart);
    let joined = tablet.write(day(3), one.0, Event::Joined { one: one.0, other: other.0 });
    assert_eq!(whys(&tablet, one), Vec::new());
    tablet.write(day(3), one.0, Event::Parted { joined });
    assert_eq!([whys(&tablet, one), whys(&tablet, other)], apart);
}

/// Two visits a day, and two turns: the newest says how she stands.
#[test]
fn two_turns_a_day_and_two_visits() {
    let odd = Odd::new(&["told 1 calved 1 Mar 2026", "told 2 calved 1 Mar 2026"]);
    odd.enter("14 May 2026", &["animal 1\n  got away", "animal 2", SOUND]);
    odd.run(&["visit", "--close-all-the-same"]);
    odd.enter("14 May 2026", &["visit call out", "animal 1", SOUND, "animal 2\n  got away"]);
    let list = odd.list();
    assert_eq!(rows(&list["animals"]), ["1 in-milk done -", "2 in-milk set-aside -"], "{list:#}");
    assert_eq!(list["done"], 1);
}

/// Signed off with no foot up she came, and nothing that she was asked for is done: neither a call nor a routine trim.
#[test]
fn signed_off_with_no_foot_up_is_not_done() {
    let odd = Odd::new(&["told 1 calved 1 Feb 2026", "told 2 calved 1 Feb 2026"]);
    odd.enter("14 May 2026", &["told 2 called \"slow\""]);
    odd.enter("14 May 2026", &["animal 1\n  signed", "animal 2\n  signed", "animal 3\n  signed"]);
    let list = odd.list();
    assert_eq!(rows(&list["animals"]), ["2 called no-foot-up -", "1 in-milk no-foot-up -"], "{list:#}");
    assert_eq!((&list["done"], rows(&list["unasked"])), (&0.into(), vec!["3 - no-foot-up -".to_owned()]), "{list:#}");
    let text = odd.run(&["day-list"]);
    assert!(text.contains("2 expected, 0 done") && text.contains("[-] 2") && text.contains("[-] 1"), "{text}");
    // Asked for again the next time, and no word that she did not come.
    let next: Value = serde_json::from_str(
        &odd.0.run(&["day-list", "--book", "b.book", "--today", "2026-05-21", "--as", "json"]).well(),
    )
    .expect("JSON");
    assert_eq!(rows(&next["animals"]), ["2 called - -", "1 in-milk - -"], "{next:#}");
}

/// Told dry with no day she was dried off after she calved.
#[test]
fn whoever_is_told_dry_is_not_asked_for_by_her_days_in_milk() {
    let odd = Odd::new(&["told 1 calved 1 Feb 2026", "told 2 calved 1 Feb 2026"]);
    odd.0.write("herd.csv", "number,status\n1,dry\n");
    odd.run(&["herd", "herd.csv", "--take", "all"]);
    assert_eq!(odd.expected(), ["2 in-milk - -", "1 unseen - -"]);
}

/// Of two that are lame with as many hours left the worse one comes first.
#[test]
fn of_two_that_are_lame_alike_long_the_worse_comes_first() {
    let odd = Odd::new(&["told 1 calved 1 Jan 2026", "told 2 calved 1 Jan 2026"]);
    odd.enter("13 May 2026", &["told 1 gait 2 of 0-3"]);
    odd.enter("14 May 2026", &["told 2 gait 3 of 0-3"]);
    assert_eq!(odd.expected(), ["2 lame - -", "1 lame - -"]);
}

/// Whoever got away or was set aside waits for the next visit, its own or another, until she is signed off (common practice); also in the
/// last 28 days before calving, since it is no routine.
#[test]
fn a_turn_that_was_broken_off_is_to_be_finished() {
    let odd = Odd::new(&["told 3 due to calve 20 May 2026"]);
    let away = "  LH lifted trimmed all seen\n  LH outer 6 HHE light\n";
    odd.enter(
        "7 May 2026",
        &[
            &format!("animal 1\n{away}  got away"),
            &format!("animal 2\n{away}  set aside"),
            &format!("animal 3\n{away}  got away"),
            &format!("animal 4\n{away}  signed"),
        ],
    );
    let half_done = |odd: &Odd| -> Vec<String> {
        let all = odd.list()["animals"].clone();
        let reasons = |row: &Value| row["why"].to_string().contains("not finished on");
        let them = all.as_array().expect("a list").iter().filter(|row| reasons(row));
        them.map(|row| row["animal"].as_str().unwrap_or_default().to_owned()).collect()
    };
    assert_eq!(half_done(&odd), ["1", "2", "3"], "{:#}", odd.list());
    odd.enter("12 May 2026", &[&format!("animal 1\n{SOUND}"), &format!("animal 3\n{away}  got away")]);
    assert_eq!(half_done(&odd), ["2", "3"], "{:#}", odd.list());
    // Whoever comes today is done as anybody else; with no foot up nothing is finished, today and later.
    odd.enter("14 May 2026", &[&format!("animal 2\n{SOUND}"), "animal 3\n  signed"]);
    assert_eq!(half_done(&odd), ["2", "3"]);
    let next = odd.0.run(&["day-list", "--book", "b.book", "--today", "2026-05-15"]).well();
    assert!(next.contains("  [ ] 3 not finished on TUE 12 May"), "{next}");
    assert!(next.contains("last time THU 14 May: no foot up\n"), "{next}");
    assert_eq!((&odd.list()["done"], odd.list()["animals"][0]["came"].as_str()), (&1.into(), Some("done")));
}
