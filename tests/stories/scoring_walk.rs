//! The herd walks by: number, score, go on. Nothing is guessed, nothing is lost, and whoever is lame is due.

use super::rig::Rig;
use crate::screens::world::screen;
use crate::support::tablet::day;
use crushbook::domain::event::Event;
use crushbook::domain::herd::Leaving;
use crushbook::domain::history::open::OpenItem;
use crushbook::domain::record::Record;
use crushbook::domain::treatment::{Gait, GaitScale};
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::mode::Mode;
use crushbook::session::walk::Walking;
use crushbook::session::{Notice, Refusal};

const MAP: BuiltIn = BuiltIn::TwoHands;
const HERD: [&str; 5] = ["7", "44", "139", "1392", "1394"];

/// A farm on whose walk it is.
fn rig() -> Rig {
    let mut rig = Rig::with(MAP, &HERD);
    rig.press("f 4");
    rig
}

fn walking(rig: &Rig) -> &Walking {
    match rig.mode() {
        Mode::Walk(walking) => walking,
        other => panic!("on the walk: {other:?}"),
    }
}

/// Records that the last of these keys wrote.
fn wrote(rig: &mut Rig, keys: &str) -> Vec<Record> {
    let before = rig.held();
    rig.press(keys);
    match rig.notice() {
        Some(Notice::Saved { press, .. }) if rig.held() > before => press.clone(),
        _ => Vec::new(),
    }
}

fn score(score: u8) -> Gait {
    Gait { scale: GaitScale::ZeroToThree, score }
}

/// What she was scored on the walk of the day.
fn scored(rig: &Rig, number: &str) -> Option<Gait> {
    rig.session().walk.of(rig.animal(number)).and_then(|walker| walker.score)
}

fn refused(rig: &Rig) -> Option<&Refusal> {
    if let Some(Notice::Refused(why)) = rig.notice() { Some(why) } else { None }
}

#[test]
fn number_score_and_go_on_write_one_score_about_her_in_every_keymap() {
    for map in BuiltIn::ALL {
        let mut rig = Rig::with(map, &["12", "34"]);
        let keys = match map {
            BuiltIn::TwoHands => "f 4 3 4 2 Enter",
            BuiltIn::Keypad => "* * 1 4 3 4 2 Enter",
            BuiltIn::LeftHand => "Tab Tab c d b d v Space",
            BuiltIn::RightHand => "n n j u l u k Enter",
        };
        let press = wrote(&mut rig, keys);
        let [record] = press.as_slice() else { panic!("one record of {map:?}: {press:?}, {:?}", rig.mode()) };
        assert_eq!(record.about, rig.animal("34").0, "{map:?}");
        assert_eq!(record.event(), Some(&Event::Walked { turn: None, gait: score(2) }));
        assert_eq!(walking(&rig).typed, "", "the next number may be typed at once");
    }
}

#[test]
fn the_last_digit_is_the_score_and_stands_apart_with_her_last_one_beside_it() {
    let mut rig = rig();
    rig.press("4 4 1 Enter Backspace");
    rig.pass(14);
    rig.press("f 4 4 4 2");
    let picture = screen(&rig, MAP, (80, 24));
    assert!(picture.contains("44   score 2 (was 1, 2 May)"), "{picture}");
    rig.press("Enter");
    let picture = screen(&rig, MAP, (80, 24));
    // Lame is 2 of 0 to 3, to be looked at within two days: DairyNZ 2023, trade.md section 3.
    assert!(picture.contains("LAME: look by MON 18 May"), "{picture}");
    assert!(picture.contains("1 of 5 scored"), "{picture}");
}

#[test]
fn digits_that_can_be_read_two_ways_are_asked_about_and_either_answer_is_kept() {
    let mut first = rig();
    // 139 and a score of 2, or 1392 with her score still to come.
    assert_eq!(wrote(&mut first, "1 3 9 2 Enter"), []);
    assert!(matches!(first.mode(), Mode::Pad { .. }), "{:?}", first.mode());
    let press = wrote(&mut first, "1");
    assert_eq!(press[0].about, first.animal("139").0);
    assert_eq!(press[0].event(), Some(&Event::Walked { turn: None, gait: score(2) }));

    let mut other = rig();
    assert_eq!(wrote(&mut other, "1 3 9 2 Enter 2"), []);
    assert_eq!(walking(&other).picked, Some(other.animal("1392")));
    let press = wrote(&mut other, "0 Enter");
    assert_eq!(press[0].about, other.animal("1392").0);
    assert_eq!(press[0].event(), Some(&Event::Walked { turn: None, gait: score(0) }));
    // 4 is no score of 0 to 3: 1394 can be read one way only, and her score is asked for.
    assert_eq!(wrote(&mut other, "1 3 9 4 Enter"), []);
    assert_eq!(refused(&other), Some(&Refusal::NoScore("1394".to_owned())));
    assert_eq!(wrote(&mut other, "3 Enter")[0].about, other.animal("1394").0);
}

#[test]
fn on_a_scale_to_five_other_digits_are_scores() {
    let mut rig = Rig::with(MAP, &HERD);
    rig.practice.region = crushbook::domain::practice::Region::NorthAmerica;
    rig.pass(0);
    // Sprecher et al. 1997: 1 to 5, lame from 3 on (trade.md section 3).
    let press = wrote(&mut rig, "f 4 4 4 3 Enter");
    let gait = Gait { scale: GaitScale::OneToFive, score: 3 };
    assert_eq!(press[0].event(), Some(&Event::Walked { turn: None, gait }));
    assert_eq!(rig.session().walk.lame().len(), 1);
    assert_eq!(wrote(&mut rig, "4 4 0 Enter"), []);
    assert_eq!(refused(&rig), Some(&Refusal::NotOnScale("0".to_owned())));
    rig.press("Backspace Backspace Backspace");
    // Here 1394 is two things.
    rig.press("1 3 9 4 Enter");
    assert!(matches!(rig.mode(), Mode::Pad { .. }), "{:?}", rig.mode());
}

#[test]
fn the_same_animal_twice_the_newer_word_counts_and_it_is_said() {
    let mut rig = rig();
    rig.press("4 4 1 Enter");
    let press = wrote(&mut rig, "4 4 3 Enter");
    assert_eq!(press.len(), 1, "the older word stays in the book, and the newer beside it");
    assert_eq!(scored(&rig, "44"), Some(score(3)));
    let picture = screen(&rig, MAP, (60, 20));
    assert!(picture.contains("scored 1 before on this walk"), "{picture}");
    assert!(picture.contains("1 of 5 scored"), "{picture}");
    assert_eq!(wrote(&mut rig, "4 4 3 Enter"), [], "the same again is nothing new");
    assert!(screen(&rig, MAP, (60, 20)).contains("she has that score already"));
}

#[test]
fn go_on_alone_does_nothing_and_back_erases_before_it_leaves() {
    let mut rig = rig();
    let before = rig.held();
    rig.press("Enter Enter");
    assert_eq!((rig.held(), walking(&rig)), (before, &Walking::default()));
    rig.press("4 Backspace");
    assert_eq!(walking(&rig).typed, "");
    rig.press("Backspace");
    assert!(matches!(rig.mode(), Mode::Today { .. }), "{:?}", rig.mode());
}

#[test]
fn a_number_that_is_not_of_the_herd_is_refused_and_added_by_another_key() {
    let mut rig = rig();
    assert_eq!(wrote(&mut rig, "9 9 1 Enter"), []);
    assert_eq!(refused(&rig), Some(&Refusal::Unknown("99".to_owned())));
    let press = wrote(&mut rig, "a");
    assert_eq!(press.len(), 2, "{press:?}");
    assert!(matches!(press[0].event(), Some(Event::AnimalBegun { labels, .. }) if labels.number == "99"));
    assert_eq!(press[1].event(), Some(&Event::Walked { turn: None, gait: score(1) }));
    assert_eq!(scored(&rig, "99"), Some(score(1)));
    // One key takes both back: she was never there.
    rig.press("u");
    assert!(!rig.session().herd.iter().any(|line| line.labels.number == "99"));
    assert_eq!(rig.session().walk.walkers.len(), 5);
}

#[test]
fn with_newcomers_switched_on_an_unknown_number_is_new_in_that_group() {
    let mut rig = Rig::with(MAP, &HERD);
    rig.press("g h e i f e r s Enter f 4");
    let press = wrote(&mut rig, "2 1 0 Enter");
    assert_eq!(press.len(), 3, "{press:?}");
    assert!(matches!(press[1].event(), Some(Event::Described { herd, .. }) if herd.group == "heifers"), "{press:?}");
    assert_eq!(scored(&rig, "21"), Some(score(0)));
    // 13 may be new, and 139 without a score is known: it is asked.
    assert_eq!(wrote(&mut rig, "1 3 9 Enter"), []);
    assert_eq!(refused(&rig), Some(&Refusal::NoScore("139".to_owned())), "9 is no score");
    rig.press("u u u");
    assert_eq!(wrote(&mut rig, "1 3 9 2 Enter"), []);
    assert!(matches!(rig.mode(), Mode::Pad { .. }), "139 and 2, or 1392: {:?}", rig.mode());
}

#[test]
fn whoever_left_is_not_scored_and_her_number_begins_nobody() {
    let mut rig = Rig::with(MAP, &HERD);
    // Sold, the second of what became of her.
    rig.press("4 4 x 2");
    assert_eq!(
        rig.session().herd.iter().find(|line| line.labels.number == "44").and_then(|line| line.left),
        Some(Leaving::Sold)
    );
    rig.press("f 4");
    assert_eq!(wrote(&mut rig, "4 4 1 Enter"), []);
    assert_eq!(refused(&rig), Some(&Refusal::HasLeft("44".to_owned())));
    assert_eq!(rig.session().walk.walkers.len(), 4, "she is not waited for");
}

#[test]
fn undo_takes_the_last_score_back_and_only_scores() {
    let mut rig = rig();
    rig.press("4 4 2 Enter 7 1 Enter");
    rig.press("u");
    assert_eq!((scored(&rig, "7"), scored(&rig, "44")), (None, Some(score(2))));
    rig.press("r");
    assert_eq!(scored(&rig, "7"), Some(score(1)));
    rig.press("u u");
    assert_eq!((scored(&rig, "7"), scored(&rig, "44")), (None, None));
    assert!(matches!(rig.mode(), Mode::Walk(_)));
    // A typed digit goes first.
    rig.press("4 4 u");
    assert_eq!(walking(&rig).typed, "4");
}

#[test]
fn undo_on_the_walk_never_reaches_into_a_turn() {
    let mut rig = Rig::with(MAP, &HERD);
    rig.press("4 4 Enter 5 Enter f 4");
    let before = rig.held();
    rig.press("u");
    assert_eq!((rig.held(), refused(&rig)), (before, Some(&Refusal::NothingToUndo)));
}

#[test]
fn the_battery_is_pulled_and_the_walk_goes_on_where_it_was() {
    let mut rig = rig();
    rig.press("4 4 2 Enter 1 3");
    rig.pull_battery();
    assert_eq!(walking(&rig).typed, "13");
    assert_eq!(scored(&rig, "44"), Some(score(2)));
    // What undo can reach is the last score.
    rig.press("u u u");
    assert_eq!(scored(&rig, "44"), None);
    // With nothing typed too.
    rig.press("7 0 Enter");
    rig.pull_battery();
    assert_eq!(scored(&rig, "7"), Some(score(0)));
    assert_eq!(walking(&rig).typed, "");
    // Whoever leaves the program begins on Today again.
    rig.pass(0);
    assert!(matches!(rig.mode(), Mode::Today { .. } | Mode::Farms { .. }), "{:?}", rig.mode());
}

#[test]
fn who_recorded_before_the_battery_was_pulled_records_on() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["44", "7"]);
    rig.press("f 3 9 A n n Enter");
    let ann = rig.session().by;
    assert!(ann.is_some());
    rig.press("f 4 4 4 2 Enter");
    assert_eq!(scored(&rig, "44"), Some(score(2)), "{:?} {:?}", rig.mode(), rig.notice());
    rig.pull_battery();
    assert_eq!(walking(&rig).typed, "");
    assert_eq!(rig.session().by, ann, "of a walk nobody has a turn");
    rig.press("7 1 Enter");
    let walked = |record: &&Record| matches!(record.event(), Some(Event::Walked { .. }));
    let by: Vec<_> = rig.every().iter().filter(walked).map(|record| record.by).collect();
    assert_eq!(by, [ann, ann]);
}

#[test]
fn a_half_typed_walk_outlives_the_program_too() {
    let mut rig = rig();
    rig.press("1 3 9");
    rig.pass(0);
    assert_eq!(walking(&rig).typed, "139");
}

#[test]
fn a_tag_picks_her_then_score_and_go_on() {
    let mut rig = Rig::with(MAP, &HERD);
    rig.press("7 c 3 9 6 4 0 0 0 0 0 0 0 0 0 0 0 7 Enter f 4");
    let before = rig.held();
    rig.scan("964 000000000007");
    assert_eq!((rig.held(), walking(&rig).picked), (before, Some(rig.animal("7"))));
    // Enter before her score does nothing; a score that was wrong is typed over.
    assert_eq!(wrote(&mut rig, "Enter"), []);
    let press = wrote(&mut rig, "1 3 Enter");
    assert_eq!((press[0].about, scored(&rig, "7")), (rig.animal("7").0, Some(score(3))));
    // A tag that nobody wears asks nothing here.
    rig.scan("964 000000123456");
    assert!(matches!(rig.mode(), Mode::Walk(_)), "{:?}", rig.mode());
}

#[test]
fn two_of_one_number_are_told_apart_by_a_question() {
    let mut rig = crate::stories::amend::twice_twelve();
    rig.press("f 4 1 2 1 Enter");
    assert!(matches!(rig.mode(), Mode::Pad { .. }), "{:?}", rig.mode());
    let press = wrote(&mut rig, "2");
    assert_eq!(press.len(), 1);
    assert!(matches!(press[0].event(), Some(Event::Walked { .. })));
}

#[test]
fn whoever_is_lame_is_on_the_due_list_and_ranked_the_worst_first() {
    let mut rig = rig();
    rig.press("4 4 2 Enter 7 0 Enter 1 3 9 4 3 Enter");
    let numbers = |rig: &Rig| -> Vec<String> {
        rig.session().walk.lame().iter().map(|walker| walker.labels.number.clone()).collect()
    };
    assert_eq!(numbers(&rig), ["1394", "44"]);
    rig.press("Backspace");
    let lame = |number: &str| {
        let open = rig.session().open.iter().find(|open| open.animal == rig.animal(number));
        open.is_some_and(|open| open.items.iter().any(|item| matches!(item, OpenItem::Lame { looked: false, .. })))
    };
    assert_eq!((lame("44"), lame("1394"), lame("7")), (true, true, false));
    assert!(
        matches!(rig.notice(), Some(Notice::Words(words)) if words == "3 of 5 scored, 2 lame"),
        "{:?}",
        rig.notice()
    );
    let day_list = crushbook::domain::day_list::whys;
    let records: Vec<Record> = rig.every().into_iter().filter(|record| record.about == rig.animal("44").0).collect();
    let history = crushbook::domain::history::History::of(records, rig.animal("44"));
    let why = day_list(&history, &rig.session().rules, day(2));
    assert!(why.iter().any(|why| why.reason() == crushbook::domain::day_list::Reason::Lame), "{why:?}");
}

#[test]
fn a_whole_herd_is_scored_and_packed_on_the_way_and_nothing_is_lost() {
    let numbers: Vec<String> = (100..180).map(|number| number.to_string()).collect();
    let mut rig = Rig::with(MAP, &numbers.iter().map(String::as_str).collect::<Vec<_>>());
    rig.press("f 4");
    for (at, number) in numbers.iter().enumerate() {
        let digits: Vec<String> = number.chars().map(String::from).collect();
        rig.press(&format!("{} {} Enter", digits.join(" "), at % 4));
    }
    let counts: Vec<usize> = rig.session().walk.counts(GaitScale::ZeroToThree).iter().map(|one| one.animals).collect();
    assert_eq!(counts, [20, 20, 20, 20]);
    assert!(rig.session().walk.unscored().is_empty());
    rig.pull_battery();
    assert_eq!(rig.session().walk.scored().count(), 80);
}

#[test]
fn who_is_missing_is_walked_through_and_never_out_of_sight() {
    let numbers: Vec<String> = (100..112).map(|number| number.to_string()).collect();
    let mut rig = Rig::with(MAP, &numbers.iter().map(String::as_str).collect::<Vec<_>>());
    rig.press("f 4 Down Down Down");
    assert_eq!(walking(&rig).top, 10, "the last page begins at the eleventh");
    let picture = screen(&rig, MAP, (60, 20));
    assert!(picture.contains("110  111") && !picture.contains("100"), "{picture}");
    rig.press("1 1 0 0 Enter 1 1 1 0 Enter 1 0 9 0 Enter");
    assert!(screen(&rig, MAP, (60, 20)).contains("108"), "{}", screen(&rig, MAP, (60, 20)));
    rig.press("Up Up");
    assert!(screen(&rig, MAP, (60, 20)).contains("100  101"));
}

#[test]
fn in_lines_a_walk_is_typed_and_told() {
    let mut rig = Rig::with(MAP, &HERD);
    let told = rig.line("farm 4");
    assert!(told.contains("0 of 5 scored"), "{told}");
    let told = rig.line("442");
    assert!(told.contains("442"), "{told}");
    // The next number does not take her score away.
    let told = rig.line("1393");
    assert!(told.contains("442 is not kept yet: an empty line keeps it"), "{told}");
    let told = rig.line("");
    assert!(told.contains("44 score 2 (first score)"), "{told}");
    assert!(told.contains("1 of 5 scored"), "{told}");
    // A question of two readings is heard before it is answered.
    let told = rig.line("1392 Enter 1");
    assert!(told.contains("139, score 2") && told.contains("left out"), "{told}");
    let told = rig.line("1");
    assert!(told.contains("139 score 2"), "{told}");
    assert_eq!(scored(&rig, "139"), Some(score(2)));
}
