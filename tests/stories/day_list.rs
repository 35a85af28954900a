//! The list of the day at the desk: who is expected stands first and says why, whoever comes goes down, and who stayed away is named
//! at the end.

use super::rig::Rig;
use crate::screens::world::screen;
use crate::support::tablet::{Tablet, day};
use chrono::{Days, NaiveDate};
use crushbook::domain::anatomy::{Foot, Place, Skin};
use crushbook::domain::day_list::{DayList, Part, VisitDays};
use crushbook::domain::event::{Event, PauseWhy};
use crushbook::domain::follow_up::rules::Rules;
use crushbook::domain::herd::{Herd, Labels, Status};
use crushbook::domain::ids::{AnimalId, FarmId, VisitId};
use crushbook::domain::treatment::{Colour, Gait, GaitScale, Put};
use crushbook::domain::vocabulary::Vocabulary;
use crushbook::keys::keymap::BuiltIn;
use crushbook::report::day_line::close;
use crushbook::session::mode::Mode;
use crushbook::session::today::shown;

const SIZES: [(u16, u16); 3] = [(60, 20), (80, 24), (120, 40)];
const FARM: &str = "Thistle Bank";

/// One animal with a front foot up, signed off.
fn looked_at(tablet: &mut Tablet, on: NaiveDate, visit: VisitId, animal: AnimalId) {
    let turn = tablet.turn(on, visit, animal);
    let foot = Foot::LeftFront;
    tablet.write(on, animal.0, Event::Looked { turn, foot, lifted: true, trimmed: false, all_seen: false });
    tablet.write(on, animal.0, Event::TurnSigned { turn, open: Vec::new() });
}

/// Eight animals that were all in the crush on 2 May, a front foot up and none trimmed.
struct Seen {
    tablet: Tablet,
    farm: FarmId,
    herd: Vec<AnimalId>,
}

impl Seen {
    fn new() -> Seen {
        let mut tablet = Tablet::new(1);
        let farm = tablet.farm(day(1));
        let herd: Vec<AnimalId> = (1..=8).map(|number| tablet.animal(day(1), farm, &number.to_string())).collect();
        let visit = tablet.visit(day(2), farm);
        for animal in &herd {
            looked_at(&mut tablet, day(2), visit, *animal);
        }
        Seen { tablet, farm, herd }
    }

    fn tell(&mut self, on: NaiveDate, number: usize, event: impl Fn(AnimalId) -> Event) {
        let animal = self.herd[number - 1];
        self.tablet.write(on, animal.0, event(animal));
    }

    fn describe(&mut self, number: usize, herd: Herd) {
        self.tell(day(5), number, |animal| Event::Described { animal, herd: herd.clone() });
    }

    fn called(&self, words: &str, urgent: bool) -> Event {
        Event::FarmCalled { farm: self.farm, words: words.to_owned(), urgent, caller: String::new() }
    }

    /// The desk on 9 May.
    fn rig(&self, map: BuiltIn) -> Rig {
        Rig::over(map, &self.tablet.seen, FARM)
    }
}

/// 1 wears a wrap since the 2nd, 2 is lame since yesterday, the farm called about 3, 4 was dried off, 5 is 60 days in milk, 6 would
/// have had a routine trim and calves on the 20th; of 7 and 8 nothing is known.
fn morning() -> Seen {
    let mut seen = Seen::new();
    let put = Put::Wrap { over: Place::Skin(Foot::RightHind, Skin::Heel), colour: Some(Colour::Blue) };
    let by_others = "Vet".to_owned();
    let wrap = Event::PutOn { turn: None, put, off_by: None, remover: String::new(), by_others };
    seen.tell(day(2), 1, |_| wrap.clone());
    let gait = Gait { scale: GaitScale::ZeroToThree, score: 2 };
    seen.tell(day(8), 2, |_| Event::Walked { turn: None, gait });
    let call = seen.called("slow behind the others", false);
    seen.tell(day(8), 3, |_| call.clone());
    let dry = Herd { dry_from: Some(day(5)), status: Some(Status::Dry), ..Herd::default() };
    seen.describe(4, dry.clone());
    let calved = Some(day(9) - Days::new(60));
    seen.describe(5, Herd { calved, status: Some(Status::InMilk), ..Herd::default() });
    seen.describe(6, Herd { due_to_calve: Some(day(20)), ..dry });
    seen
}

fn numbers(rig: &Rig) -> Vec<&str> {
    shown(rig.session(), "").into_iter().map(|line| line.labels.number.as_str()).collect()
}

fn all_of(rig: &Rig, wanted: &[&str]) {
    for size in SIZES {
        let seen = screen(rig, BuiltIn::TwoHands, size);
        for words in wanted {
            assert!(seen.contains(words), "{size:?}: no {words:?} in\n{seen}");
        }
    }
}

/// What is told, without what each line is about, in one.
fn heard(told: &str) -> String {
    told.lines().filter_map(|line| line.split_once(": ")).map(|(_, words)| words).collect::<Vec<_>>().join(" ")
}

/// In the order of trade.md 8: what is on, who was called about, lame by score, dried off, 60 days in milk; nobody close to
/// calving for a routine trim. A wrap is to be off by the third day (trade.md 6). Score 2 of 0-3 is looked at within 48 h (DairyNZ
/// 2023, trade.md 3): one day of them is gone.
#[test]
fn who_is_expected_stands_first_and_says_why() {
    let mut rig = morning().rig(BuiltIn::TwoHands);
    assert_eq!(numbers(&rig), ["1", "3", "2", "4", "5", "6", "7", "8"]);
    let wanted = [
        "expected 5: 0 done, 0 waiting, 5 to come",
        "LATE !  wrap off: RH blue WRAP 7 days",
        "due  called",
        "slow behind the others",
        "24 h left",
        "dried off TUE 5 May",
        "60 days in milk",
        "no routine trim now: calves WED 20 May",
    ];
    all_of(&rig, &wanted);
    let plain = heard(&rig.line("say"));
    for words in
        ["1, late, wrap off: RH blue WRAP 7 days", "24 h left", "no routine trim now: calves WED 20 May", wanted[0]]
    {
        assert!(plain.contains(words), "no {words:?} in\n{plain}");
    }
}

#[test]
fn whoever_comes_goes_down_and_who_waits_stands_on_top() {
    let mut rig = morning().rig(BuiltIn::TwoHands);
    // 8 was not expected, 3 was and gets away.
    rig.press("8 Enter 5 Enter 3 Enter a");
    assert_eq!(numbers(&rig), ["3", "1", "2", "4", "5", "8", "6", "7"]);
    all_of(&rig, &["expected 5: 0 done, 1 waiting, 4 to come; 1 unasked"]);
    rig.press("3 Enter 5 Enter");
    assert_eq!(numbers(&rig), ["1", "2", "4", "5", "3", "8", "6", "7"]);
    all_of(&rig, &["expected 5: 1 done, 0 waiting, 4 to come; 1 unasked"]);
    // Taken back, she waits again: go back to her, then her sign-off.
    rig.press("u 1 Backspace");
    assert!(matches!(rig.mode(), Mode::Crush(_)), "{:?}", rig.mode());
    rig.press("q");
    rig.open();
    assert_eq!(numbers(&rig)[0], "3");
}

#[test]
fn who_did_not_come_is_named_at_the_end_and_carried_over() {
    let mut rig = morning().rig(BuiltIn::TwoHands);
    rig.press("7 Enter 5 Enter 5 Enter 5 Enter s");
    assert!(matches!(rig.mode(), Mode::Totals { .. }), "{:?}", rig.mode());
    let wanted =
        ["expected 5: 1 done, 0 waiting, 4 to come; 1 unasked", "4 did not come: 1, 3, 2, 4;", "1 came unasked: 7"];
    all_of(&rig, &wanted);
    let plain = heard(&rig.line("say"));
    assert!(wanted.iter().all(|words| plain.contains(words)) && plain.contains("carried over"), "{plain}");
    rig.press("Enter");
    rig.pass(5);
    // Whoever stayed away that day says so, each of them; who came does not.
    let list = rig.session().day.list();
    let missed = |number: &str| list.expected.iter().find(|line| line.labels.number == number).map(|line| line.missed);
    for number in ["1", "3", "2", "4"] {
        assert_eq!(missed(number), Some(Some(day(9))), "{number}");
    }
    assert_eq!(missed("7"), None);
    all_of(&rig, &["not here"]);
    let plain = heard(&rig.line("say"));
    assert!(plain.contains("not here on SAT 9 May"), "{plain}");
}

#[test]
fn what_the_farm_says_during_the_day_counts_at_once() {
    let mut seen = morning();
    let mut rig = seen.rig(BuiltIn::TwoHands);
    rig.press("8 Enter 5 Enter");
    // About 7, who had no reason: it cannot wait.
    rig.press("7 f 1 1 w i l l Space n o t Space g e t Space u p Enter Backspace");
    assert_eq!(numbers(&rig)[..2], ["7", "1"], "urgent stands before late");
    all_of(&rig, &["will not get up", "expected 6: 0 done, 0 waiting, 6 to come; 1 unasked"]);
    // About 6, who is left for now: she is not any more. Another tablet heard it.
    let call = seen.called("lamer", false);
    let told = seen.tablet.seen.len();
    seen.tablet.series = 2;
    seen.tell(day(9), 6, |_| call.clone());
    rig.take(&seen.tablet.seen[told..]);
    assert_eq!(numbers(&rig)[..4], ["7", "1", "3", "6"]);
    assert!(rig.session().day.list().spared.is_empty());
}

/// Routine trims are left in the last 28 days (trade.md 8), and nothing else is.
#[test]
fn nobody_lame_or_with_something_on_is_left_for_calving() {
    let mut seen = morning();
    let soon =
        Herd { due_to_calve: Some(day(20)), dry_from: Some(day(5)), status: Some(Status::Dry), ..Herd::default() };
    for number in [1, 2, 3, 7] {
        seen.describe(number, soon.clone());
    }
    // 7 was lame and her feet were lifted since: nothing is asked for today, and she is lame all the same.
    let gait = Gait { scale: GaitScale::ZeroToThree, score: 2 };
    let visit = seen.tablet.visit(day(6), seen.farm);
    let turn = seen.tablet.turn(day(6), visit, seen.herd[6]);
    seen.tell(day(6), 7, |_| Event::Walked { turn: Some(turn), gait });
    for foot in Foot::ALL.iter().copied() {
        seen.tell(day(6), 7, |_| Event::Looked { turn, foot, lifted: true, trimmed: false, all_seen: false });
    }
    seen.tell(day(6), 7, |_| Event::TurnSigned { turn, open: Vec::new() });
    let rig = seen.rig(BuiltIn::TwoHands);
    let list = rig.session().day.list();
    let left: Vec<&str> = list.spared.iter().map(|spared| spared.labels.number.as_str()).collect();
    assert_eq!(left, ["6"]);
    assert_eq!(numbers(&rig)[..3], ["1", "3", "2"]);
}

/// An evening call about one who was done that morning, and one who got away: neither call was answered.
#[test]
fn a_call_stands_until_she_is_looked_at_after_it() {
    let mut seen = Seen::new();
    let visit = seen.tablet.visit(day(8), seen.farm);
    let signed = |seen: &mut Seen, number: usize| looked_at(&mut seen.tablet, day(8), visit, seen.herd[number - 1]);
    // 1: called about, then done. 2: done, then called about. 3: called about, and got away. 4: got away, unasked. 5: called about, and
    // signed off with no foot up.
    for number in [1, 3, 5] {
        let call = seen.called("lamer", false);
        seen.tell(day(8), number, |_| call.clone());
    }
    signed(&mut seen, 1);
    signed(&mut seen, 2);
    let turn = seen.tablet.turn(day(8), visit, seen.herd[4]);
    seen.tell(day(8), 5, |_| Event::TurnSigned { turn, open: Vec::new() });
    let call = seen.called("swollen", true);
    seen.tell(day(8), 2, |_| call.clone());
    for number in [3, 4] {
        let turn = seen.tablet.turn(day(8), visit, seen.herd[number - 1]);
        seen.tell(day(8), number, |_| Event::TurnPaused { turn, why: PauseWhy::GotAway });
    }
    let about_itself = seen.called("ring before you come", false);
    seen.tablet.write(day(8), seen.farm.0, about_itself);
    let rig = seen.rig(BuiltIn::TwoHands);
    let list = rig.session().day.list();
    let expected: Vec<(&str, Option<NaiveDate>)> =
        list.expected.iter().map(|line| (line.labels.number.as_str(), line.missed)).collect();
    // Whoever got away did not come for what she was called about, and is to be finished; 5 came, and is asked for all the same.
    assert_eq!(expected, [("2", None), ("3", Some(day(8))), ("5", None), ("4", None)]);
    assert_eq!(rig.session().calls().count(), 1, "it was said after that visit began");
    // The same evening: she is asked for once more, though she is done.
    let seen_by = |on| Part::of(seen.herd[1], &seen.tablet.seen, &VisitDays::new(), &Rules::default(), on);
    let that_day = DayList::of([&seen_by(day(8))].into_iter());
    assert_eq!(that_day.expected.iter().map(|line| line.came).collect::<Vec<_>>(), [None]);
}

/// A visit of two days: whoever was done on the first and has something on is expected on the second, and did not stay away from it.
#[test]
fn whoever_was_done_on_an_earlier_day_of_the_visit_did_not_stay_away() {
    let mut seen = Seen::new();
    let visit = seen.tablet.visit(day(8), seen.farm);
    let other = seen.tablet.visit(day(8), seen.farm);
    for (number, visit) in [(1, visit), (2, other)] {
        let animal = seen.herd[number - 1];
        let put = Put::Wrap { over: Place::Skin(Foot::RightHind, Skin::Heel), colour: Some(Colour::Blue) };
        let turn = seen.tablet.turn(day(8), visit, animal);
        seen.tablet.put(day(8), animal, turn, put);
        let looked = Event::Looked { turn, foot: Foot::RightHind, lifted: true, trimmed: true, all_seen: true };
        seen.tell(day(8), number, |_| looked.clone());
        seen.tell(day(8), number, |_| Event::TurnSigned { turn, open: Vec::new() });
    }
    // The day between: 1 was done in that visit, 2 in another.
    let visits = VisitDays::from([(day(8), [visit, other].into()), (day(9), [visit].into())]);
    let part = |number: usize, on: NaiveDate| {
        Part::of(seen.herd[number - 1], &seen.tablet.seen, &visits, &Rules::default(), on)
    };
    let list = |on: NaiveDate| DayList::of([&part(1, on), &part(2, on)].into_iter());
    let missed: Vec<_> = list(day(10)).expected.iter().map(|line| line.missed).collect();
    assert_eq!(missed, [None, Some(day(9))]);
    let rules = Rules::default();
    let said = close(&list(day(9)), rules.of(seen.farm), Some(visit)).join("\n");
    assert!(said.contains("1 did not come: 2;") && said.contains("1 done on an earlier day of the visit: 1"), "{said}");
    let said = close(&list(day(9)), rules.of(seen.farm), None).join("\n");
    assert!(said.contains("2 did not come: 1, 2;"), "{said}");
}

#[test]
fn what_the_farm_called_about_itself_stands_there_until_the_visit_is_begun() {
    let mut seen = morning();
    let farm = seen.farm;
    for (on, words) in [(day(1), "before the last visit"), (day(7), "bring the mats"), (day(8), "gate is locked")] {
        let call = seen.called(words, false);
        seen.tablet.write(on, farm.0, call);
    }
    let mut rig = seen.rig(BuiltIn::TwoHands);
    let plain = heard(&rig.line("say"));
    assert!(plain.contains("the farm called FRI 8 May: gate is locked"), "{plain}");
    assert!(plain.contains("bring the mats") && !plain.contains("before the last visit"), "{plain}");
    all_of(&rig, &["the farm called FRI 8 May: gate is locked", "and 1 earlier"]);
    rig.press("8 Enter 5 Enter");
    for size in SIZES {
        let seen = screen(&rig, BuiltIn::TwoHands, size);
        assert!(!seen.contains("gate is locked"), "{size:?}\n{seen}");
    }
}

/// How the day stands is a row of its own and no word of it is cut: what is none goes first.
#[test]
fn how_the_day_stands_is_whole_at_every_size() {
    let mut rig = morning().rig(BuiltIn::TwoHands);
    rig.press("8 Enter a 7 Enter a 6 Enter 5 Enter 3 Enter 5 Enter");
    // 6, 7 and 8 were not expected, and two of them got away.
    let counts = "expected 5: 1 done, 0 waiting, 4 to come; 3 unasked, 2 waiting";
    for (size, row) in [((60, 20), "expected 5: 1 done, 4 to come; 3 unasked, 2 waiting"), ((120, 40), counts)] {
        let seen = screen(&rig, BuiltIn::TwoHands, size);
        assert!(seen.lines().any(|line| line.trim_end().ends_with(row)), "{size:?}: no {row:?} in\n{seen}");
    }
    all_of(&rig, &["3 unasked, 2 waiting"]);
    assert!(heard(&rig.line("say")).contains(counts));
}

/// Who is expected and who of them is done, not how large the herd is; that only where all of it is to come through.
#[test]
fn beside_an_animal_in_the_crush_stands_how_many_of_those_expected_are_done() {
    let mut seen = morning();
    let labels =
        Labels { number: "964000000000123".to_owned(), name: "Buttercup the Old".to_owned(), ..Labels::default() };
    seen.tell(day(5), 8, |animal| Event::Renumbered { animal, labels: labels.clone() });
    let mut rig = seen.rig(BuiltIn::TwoHands);
    rig.press("7 Enter");
    all_of(&rig, &["expected 5: 0 done"]);
    // 7 came unasked; 3 is one of those expected.
    rig.press("5 Enter 3 Enter 5 Enter 1 Enter");
    all_of(&rig, &["expected 5: 1 done"]);
    rig.press("a 9 6 4 Enter");
    let narrow = screen(&rig, BuiltIn::TwoHands, (60, 20));
    assert!(narrow.lines().next().is_some_and(|head| head.contains(" 1 of 5 done ")), "{narrow}");
    rig.press("a f 3 3 4 Enter");
    all_of(&rig, &["herd 8: 2 done"]);
}

/// Nobody is expected: who came is done all the same.
#[test]
fn where_nobody_is_expected_the_head_says_so() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["1", "2"]);
    rig.press("1 Enter 5 Enter 2 Enter");
    all_of(&rig, &["nobody expected: 1 done"]);
}

/// Two years in which nobody saw her or told anything of her: common practice.
#[test]
fn whoever_nobody_saw_for_two_years_is_asked_about_in_one_line() {
    let mut tablet = Tablet::new(1);
    let long_ago = NaiveDate::from_ymd_opt(2023, 5, 2).expect("a day");
    let farm = tablet.farm(long_ago);
    let visit = tablet.visit(long_ago, farm);
    let mut herd = Vec::new();
    for number in ["1", "2", "3"] {
        let animal = tablet.animal(long_ago, farm, number);
        looked_at(&mut tablet, long_ago, visit, animal);
        herd.push(animal);
    }
    // Of 3 the farm told that she is dry.
    let dry = Herd { status: Some(Status::Dry), ..Herd::default() };
    tablet.write(day(5), herd[2].0, Event::Described { animal: herd[2], herd: dry });
    let mut rig = Rig::over(BuiltIn::TwoHands, &tablet.seen, FARM);
    assert_eq!(numbers(&rig), ["3", "1", "2"]);
    all_of(
        &rig,
        &[
            "expected 1: 0 done",
            "2 not seen for over 2 years: still here? x says gone",
            "last seen 2 May 2023: still here?",
        ],
    );
    let plain = heard(&rig.line("say"));
    assert!(plain.contains("2 not seen for over 2 years: still here?"), "{plain}");
    // One is gone, the other comes in.
    rig.press("1 x 1 s");
    all_of(&rig, &["1 not seen for over 2 years: still here?"]);
    rig.press("Enter 2 Enter 5 Enter");
    let seen = screen(&rig, BuiltIn::TwoHands, (80, 24));
    assert!(!seen.contains("still here?"), "{seen}");
}

/// The row of whoever is picked has more below it, down to words longer than any row; no word of it is cut.
#[test]
fn of_whoever_is_picked_all_is_said_whole() {
    let mut seen = morning();
    let words: Vec<String> = (1..=40).map(|at| format!("word{at}")).collect();
    let call = seen.called(&words.join(" "), false);
    seen.tell(day(8), 1, |_| call.clone());
    let mut rig = seen.rig(BuiltIn::TwoHands);
    let unpicked = screen(&rig, BuiltIn::TwoHands, (60, 20));
    assert!(!unpicked.contains("word40") && unpicked.contains("+1"), "{unpicked}");
    for keys in ["Down", "1"] {
        rig.press(keys);
        for size in SIZES {
            let seen = screen(&rig, BuiltIn::TwoHands, size);
            let said: Vec<&str> = seen.split_whitespace().collect();
            for word in &words {
                assert!(said.contains(&word.as_str()), "{keys} at {size:?}: no {word} in\n{seen}");
            }
        }
    }
}

#[test]
fn a_typed_number_shows_whom_it_means_first() {
    let mut rig = morning().rig(BuiltIn::TwoHands);
    rig.press("7");
    let lines = shown(rig.session(), "7");
    assert_eq!(lines.iter().map(|line| line.labels.number.as_str()).collect::<Vec<_>>(), ["7"]);
    rig.press("Enter");
    assert_eq!(rig.history().labels.number, "7");
}

/// The page, the screen and the lines say the same of the sample herd.
#[test]
fn screen_and_lines_rank_by_the_list_that_is_printed() {
    for farm in ["Quillbarrow", "Threlmarsh", "Oddenfold"] {
        let mut rig = Rig::at(BuiltIn::TwoHands, farm);
        let list = rig.session().day.list().clone();
        let to_come: Vec<&str> = list.who(None).map(|line| line.labels.number.as_str()).collect();
        assert!(!to_come.is_empty(), "{farm}");
        assert_eq!(numbers(&rig)[..to_come.len()], to_come, "{farm}");
        let mut plain = heard(&rig.line("say"));
        while plain.contains("more") && !plain.ends_with("no more") {
            plain += &heard(&rig.line("more"));
        }
        for line in list.who(None) {
            let (number, name) = (&line.labels.number, &line.labels.name);
            let hers = format!("{number} {name}").trim_end().to_owned();
            assert!(plain.contains(&format!("{hers}, ")), "{farm}: {hers}\n{plain}");
        }
    }
}
