//! A talk in lines: what is told, what a line may not do unheard, and what becomes of tags, numbers and a disk that fails.

use super::rig::Rig;
use crate::screens::world::six_days_later;
use crushbook::domain::anatomy::{Foot, Horn, Place, Side};
use crushbook::domain::finding::{Degree, Finding, Grade};
use crushbook::domain::treatment::Off;
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::act::Ask;
use crushbook::session::mode::{Mode, TextFor};

/// 1382 in the crush, six days after a block at the left hind and a blue wrap at the right hind.
fn with_her() -> (Rig, String) {
    let mut rig = six_days_later(BuiltIn::TwoHands);
    rig.line("1382");
    let told = rig.line("");
    (rig, told)
}

/// The words of the lines about something, joined again.
fn about(told: &str, what: &str) -> String {
    let lines = told.lines().filter_map(|line| line.split_once(' ').and_then(|(_, rest)| rest.split_once(": ")));
    lines.filter(|(about, _)| *about == what).map(|(_, words)| words).collect::<Vec<_>>().join(" ")
}

#[test]
fn what_is_on_her_is_told_first_then_the_marks_of_last_time() {
    let (rig, told) = with_her();
    let order = [
        "saved",
        "in the crush: 1382",
        "on her, RH: blue wrap on for 6 days",
        "on her, LH inner: wood block on for 6 days",
        "old mark: LH outer zone 4",
        "hand: 1382, no foot up",
    ];
    let places: Vec<usize> =
        order.iter().map(|part| told.find(part).unwrap_or_else(|| panic!("{part}: {told}"))).collect();
    assert!(places.is_sorted(), "{told}");
    // Put on six days ago, off by the third day after.
    let wrap = about(&told, "on her, RH");
    assert!(
        wrap.contains("promised off by") && wrap.contains("taken off by Helen") && wrap.contains("wrap off by"),
        "{wrap}"
    );
    assert_eq!(
        about(&told, "old mark").split(", not answered").next(),
        Some("LH outer zone 4: sole ulcer, grade 3 severe, 6 days ago"),
    );
    assert!(rig.session().crush.is_some());
}

#[test]
fn a_digit_never_answers_a_question_that_was_not_heard() {
    let (mut rig, _) = with_her();
    let before = rig.records();
    // Meant as zone 4, choice 1, grade 3; but a wrap is on that foot.
    let told = rig.line("rh 4 1 3");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Seen(_), .. }), "{told}");
    assert!(
        told.contains("question: RH heel 10 blue wrap?") && told.contains("3 words after it were left out"),
        "{told}"
    );
    // An old mark in the zone asks too.
    rig.line("back");
    let told = rig.line("lh 4 1 3");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Seen(_), .. }), "a block is on that one: {told}");
    rig.line("3");
    let told = rig.line("4 1 3");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Answer(_), .. }), "{told}");
    assert!(told.contains("2 words after it were left out"), "{told}");
    assert_eq!(rig.records(), before + 1, "the block is all that was answered");
}

#[test]
fn a_line_ends_where_something_was_refused() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["7", "44"]);
    rig.line("44 Enter");
    // Zone 4 has no choice 9: the 3 must not become one.
    let told = rig.line("lh 4 9 3");
    assert!(
        told.contains("not done: no choice on that key") && told.contains("1 word after it was left out"),
        "{told}"
    );
    assert_eq!(rig.history().turns.last().map(|turn| turn.found.len()), Some(0));
    let told = rig.line("2 3");
    assert!(told.contains("SH") || told.contains("saved"), "the same pad is still open: {told}");
    // A word that means nothing here stops it too, and one that nothing answers to lets nothing be done.
    let told = rig.line("rf digit-3 5");
    assert!(told.contains("digit-3 means nothing here"), "{told}");
    let records = rig.records();
    let told = rig.line("4 1 gaat");
    assert!(told.contains("\"gaat\" is no key and no word: did you mean gait?"), "{told}");
    assert_eq!(rig.records(), records, "nothing of that line");
}

#[test]
fn her_marks_are_written_by_one_line_and_said_with_the_time() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["7", "44"]);
    let told = rig.line("44 Enter lh 4 1 3");
    assert!(told.contains("saved 09:30:00: LH outer 4 sole ulcer severe"), "{told}");
    assert!(about(&told, "hand").starts_with("44, LH up, outer claw, 1 found on it"), "{told}");
    let turn = rig.history().turns.last().expect("hers");
    let place = Place::Horn(Foot::LeftHind, Side::Outer, Horn::SoleBulb);
    let found: Vec<_> = turn.found.iter().map(|found| (found.place, found.what, found.degree)).collect();
    assert_eq!(found, [(place, Finding::SU, Degree::Grade(Grade::Severe))]);
    // Ten to twelve are zones with a foot up.
    let told = rig.line("10");
    assert!(told.contains("question: LH heel zone 10: what is found?"), "{told}");
}

#[test]
fn a_number_in_the_crush_is_no_row_of_keys() {
    let (mut rig, _) = with_her();
    let before = rig.records();
    for number in ["44", "138", "1382", "9999999"] {
        let told = rig.line(number);
        assert!(about(&told, "not done").starts_with(&format!("{number} is a number")), "{told}");
    }
    assert_eq!(rig.records(), before);
    // The keys themselves, if they are meant.
    let told = rig.line("lf");
    assert!(told.contains("LF up"), "{told}");
    let told = rig.line("5 2");
    assert!(told.contains("saved"), "{told}");
}

#[test]
fn a_tag_picks_on_today_and_only_says_who_is_next_in_the_crush() {
    let mut rig = Rig::at(BuiltIn::TwoHands, "Quillbarrow");
    let tagged = rig.session().herd.iter().find(|line| !line.labels.electronic.is_empty()).expect("one wears a tag");
    let (number, tag) = (tagged.labels.number.clone(), tagged.labels.electronic.clone());
    let told = rig.line(&tag);
    assert!(told.contains(&format!("number {number}: {number}")), "{told}");
    assert!(matches!(rig.mode(), Mode::Today { typed, .. } if *typed == number));
    rig.line("");
    assert!(rig.session().crush.is_some(), "an empty line opens her");
    let before = rig.records();
    let told = rig.line(&tag);
    assert!(told.contains(&format!("next: {number}")), "{told}");
    // A reader may end its line twice: that must not sign her off.
    let told = rig.line("");
    assert!(told.contains("right after a tag: left out"), "{told}");
    assert_eq!(rig.records(), before, "fifteen digits wrote nothing");
    let told = rig.line("964000000999999");
    assert!(told.contains("nobody here wears 964"), "{told}");
    assert_eq!(rig.records(), before);
}

#[test]
fn a_number_typed_anew_on_today_takes_the_place_of_the_last() {
    let mut rig = six_days_later(BuiltIn::TwoHands);
    let told = rig.line("999");
    assert!(told.contains("number 999: not in this herd: say add"), "{told}");
    let told = rig.line("13");
    assert!(told.contains("number 13: 2 animals begin so"), "{told}");
    let told = rig.line("#2");
    assert!(told.contains("picked #2: 1382"), "{told}");
    let told = rig.line("#3");
    assert!(told.contains("the list has 2 lines: there is no #3"), "{told}");
    rig.line("Enter");
    assert_eq!(rig.history().labels.number, "1382");
}

#[test]
fn a_text_is_a_line_and_an_empty_one_keeps_nothing() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["7"]);
    rig.line("7 Enter note");
    assert!(matches!(rig.mode(), Mode::Text { what: TextFor::Note(_), .. }));
    // Whatever would be keys, names or a tag elsewhere is a text here.
    let told = rig.line("undo 276000000000123\tq");
    assert!(told.contains("note: undo 276000000000123 q"), "{told}");
    let records = rig.records();
    rig.line("note");
    rig.line("");
    assert!(matches!(rig.mode(), Mode::Crush(_)));
    // Too long: none of it, rather than half of it.
    rig.line("note");
    let told = rig.line(&"x".repeat(501));
    assert!(told.contains("more than 500 letters: nothing of it was kept"), "{told}");
    assert_eq!(rig.records(), records);
    let told = rig.line(&"y".repeat(500));
    assert!(told.contains("saved"), "{told}");
}

#[test]
fn what_does_not_fit_is_not_left_for_the_next_line() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["7"]);
    rig.line("7 Enter lh measure 1");
    let told = rig.line("999");
    assert!(told.contains("\"999\" does not fit: 1 to 200 mm"), "{told}");
    let told = rig.line("78");
    assert!(told.contains("front wall 78 mm"), "{told}");
}

#[test]
fn the_sign_off_is_heard_line_by_line_and_an_empty_line_passes_none() {
    let (mut rig, _) = with_her();
    let told = rig.line("Enter 1 9");
    assert!(matches!(rig.mode(), Mode::SignOff { passed } if passed.is_empty()), "{told}");
    assert!(
        told.contains("before she goes: 2 lines to settle") && told.contains("2 words after it were left out"),
        "{told}"
    );
    let told = rig.line("");
    assert!(told.contains("2 lines are not settled"), "{told}");
    let told = rig.line("1");
    assert!(told.contains("question: LH inner wood block was not looked at"), "{told}");
    // Lifted from there, the foot asks what is on it.
    rig.line("1");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Seen(_), .. }));
    // The key that lifted the foot does not close what is on it by itself.
    rig.line("1");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Twice(_), .. }));
    rig.line("0");
    rig.line("");
    rig.line("rh");
    rig.line("1");
    rig.line("1");
    assert_eq!(
        rig.history().turns.last().map(|turn| turn.offs.iter().map(|off| off.outcome).collect()),
        Some(vec![Off::TakenOff, Off::Bare])
    );
    for line in ["w 3", "0", "Helen", "2", "Enter"] {
        rig.line(line);
    }
    let told = rig.line("Enter");
    assert!(told.contains("before she goes: 0 lines to settle") && told.contains("old mark"), "{told}");
    let told = rig.line("");
    let called = about(&told, "call out");
    assert!(called.starts_with("1382 BACK RIGHT blue wrap, off by"), "{told}");
    assert!(told.contains("signed off"), "what was saved is told too: {told}");
}

#[test]
fn last_time_is_told_with_what_changed() {
    let (mut rig, _) = with_her();
    let told = rig.line("last");
    assert!(about(&told, "last time").contains("6 days ago"), "{told}");
    assert!(about(&told, "then").contains("LH outer 4 SU severe"), "{told}");
    assert!(about(&told, "changed").contains("NOT SEEN LH outer 4 SU severe"), "{told}");
    assert!(about(&told, "left on then").contains("RH heel 10 blue wrap, off by"), "{told}");
    let told = rig.line("");
    assert!(told.contains("hand: 1382"), "{told}");
}

#[test]
fn help_is_told_and_closes_nothing() {
    let (mut rig, _) = with_her();
    let mut told = rig.line("?");
    while told.contains("say more") {
        let more = rig.line("more");
        told = told.replace("say more", "").clone() + &more;
    }
    for words in
        ["key 1: lift the left hind foot, or lift-lh", "key u /: undo the last press, or undo", "key Enter: sign off"]
    {
        assert!(told.contains(words), "{words}: {told}");
    }
    assert!(matches!(rig.mode(), Mode::Crush(_)));
    assert_eq!(rig.line("h").lines().count(), rig.line("help").lines().count());
}

#[test]
fn the_due_list_and_the_farms_to_ring_are_walked_by_number() {
    let mut rig = six_days_later(BuiltIn::TwoHands);
    let told = rig.line("due");
    assert!(told.contains("#1: 1382 at Thistle, ") && told.contains("picked #1: 1382"), "{told}");
    let told = rig.line("#2");
    assert!(told.contains("picked #2: 1382") && told.lines().count() < 4, "only what is picked: {told}");
    rig.line("back");
    let told = rig.line("ring");
    assert!(about(&told, "ring").starts_with("Thistle, no telephone number known"), "{told}");
    assert!(told.contains("key 2: off, they say"), "{told}");
    let told = rig.line("2");
    assert!(told.contains("saved") && told.contains("told off"), "{told}");
    let told = rig.line("undo");
    assert!(told.contains("taken back"), "{told}");
}

#[test]
fn light_and_taps_are_of_the_picture() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["7"]);
    for line in ["i", "light", "touch"] {
        let told = rig.line(line);
        assert!(told.contains("not done: there is no picture here"), "{told}");
    }
    assert!(!rig.session().taps);
}

#[test]
fn what_is_saved_later_is_told_once_and_without_a_line() {
    let (mut rig, _) = with_her();
    rig.power.cut_at(rig.power.operations() + 1, 3);
    let told = rig.line("lf 5 1");
    assert!(told.contains("NOT SAVED"), "{told}");
    let told = rig.tick();
    assert!(told.contains("NOT SAVED") && !told.contains("question"), "another reason: {told}");
    assert_eq!(rig.tick(), "", "the same again is not told again");
    let told = rig.line("1");
    assert!(told.contains("NOT SAVED") && told.contains("type it again"), "whoever types is told: {told}");
    rig.power.restore();
    let told = rig.tick();
    assert!(told.contains("saved 09:30:00: LF inner 5 sole haemorrhage"), "{told}");
    assert!(told.contains("question: LF inner 5 SH"), "and what it asks next: {told}");
    assert_eq!(rig.tick(), "");
}

#[test]
fn with_a_disk_that_fails_nothing_is_told_as_saved_and_no_line_runs_on() {
    let (mut rig, _) = with_her();
    rig.line("lf");
    rig.power.cut_at(rig.power.operations() + 1, 3);
    let told = rig.line("5 1 2");
    assert!(told.contains("NOT SAVED"), "{told}");
    assert!(!about(&told, "saved 09:30:00").contains("sole"), "{told}");
    assert!(told.contains("1 word after it was left out"), "{told}");
    rig.power.restore();
    let told = rig.line("5 2");
    assert!(told.contains("saved 09:30:00: LF") && told.contains("type it again"), "{told}");
    let found = |rig: &Rig| rig.history().turns.last().map(|turn| turn.found.len());
    assert_eq!(found(&rig), Some(1), "the held press, and not the line typed meanwhile");
}
