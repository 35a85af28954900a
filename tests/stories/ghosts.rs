//! Before the knife: every mark of last time is answered with one key, and none is missed at the sign-off.

use super::rig::Rig;
use crate::screens::world::{buffer, six_days_later, text};
use crushbook::domain::anatomy::{Foot, Place, Side};
use crushbook::domain::event::{Gap, OpenGap};
use crushbook::domain::finding::{Degree, Finding, Stage};
use crushbook::domain::history::course::{Said, Step};
use crushbook::domain::history::{Turn, Verdict};
use crushbook::domain::sign_off::unanswered;
use crushbook::domain::treatment::Outcome;
use crushbook::keys::keymap::BuiltIn;
use crushbook::screen::theme::Colour;
use crushbook::session::act::Ask;
use crushbook::session::mode::Mode;
use crushbook::session::{Notice, Refusal};

const MAP: BuiltIn = BuiltIn::TwoHands;

fn turn(rig: &Rig) -> &Turn {
    rig.session().turn().expect("an animal is in the crush").1
}

fn waiting(rig: &Rig) -> Vec<Place> {
    unanswered(rig.history(), turn(rig)).iter().map(|ghost| ghost.place).collect()
}

fn asked(rig: &Rig) -> Option<Place> {
    match rig.mode() {
        Mode::Pad { ask: Ask::Answer(id), .. } => rig.history().course(*id).map(|course| course.place),
        _ => None,
    }
}

fn screen(rig: &Rig, size: (u16, u16)) -> String {
    text(&buffer(rig.session(), MAP, Colour::Full, size))
}

/// A sole ulcer, nothing put on, two weeks ago.
fn with_an_ulcer(map: BuiltIn) -> Rig {
    let mut rig = Rig::with(map, &["7"]);
    rig.press("7 Enter 1 4 1 3 Enter Enter");
    rig.pass(14);
    rig.press("7 Enter");
    rig
}

#[test]
fn each_answer_is_one_key_after_one_key() {
    for map in [BuiltIn::TwoHands, BuiltIn::Keypad] {
        let jump = if map == MAP { "Space" } else { "* * 5" };
        for (key, outcome) in [
            ("1", Outcome::Healed),
            ("2", Outcome::Better),
            ("3", Outcome::Same),
            ("4", Outcome::Worse),
            ("8", Outcome::NotLooked),
        ] {
            let mut rig = with_an_ulcer(map);
            let before = rig.records();
            rig.press(jump);
            assert!(asked(&rig).is_some(), "{:?}", rig.mode());
            assert_eq!(rig.records(), before, "going there writes nothing");
            rig.press(key);
            assert_eq!(rig.records(), before + 1);
            assert_eq!(turn(&rig).answers[0].verdict, Verdict::Outcome(outcome));
            assert_eq!(waiting(&rig), []);
            rig.press(jump);
            assert_eq!(rig.notice(), Some(&Notice::Refused(Refusal::NoGhost)));
            // Undo takes the answer back, and the mark waits again.
            rig.press(if map == MAP { "u" } else { "/" });
            assert_eq!(waiting(&rig).len(), 1);
            rig.press(if map == MAP { "r" } else { "* /" });
            assert_eq!(waiting(&rig), []);
        }
    }
}

#[test]
fn dermatitis_is_answered_by_todays_stage_and_only_so() {
    for (key, stage) in [("0", Stage::M0), ("1", Stage::M1), ("3", Stage::M3), ("5", Stage::M41)] {
        let mut rig = Rig::with(MAP, &["7"]);
        rig.press("7 Enter 1 . 1 2 Enter Enter");
        rig.pass(14);
        rig.press("7 Enter Space");
        rig.press(key);
        let course = &rig.history().courses[0];
        let last = |step: &Step| step.said == Said::Answered(Verdict::Stage(stage));
        assert!(course.steps.last().is_some_and(last), "{course:?}");
        assert_eq!(course.end().is_some(), stage == Stage::M0);
        assert_eq!(course.carried().degree.word, Degree::Stage(stage));
    }
}

#[test]
fn what_is_on_the_foot_comes_before_its_marks() {
    let mut rig = six_days_later(MAP);
    rig.press("1 3 8 2 Enter");
    assert_eq!(waiting(&rig).len(), 3);
    rig.press("Space");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Seen(_), .. }), "{:?}", rig.mode());
    // The block is left on; now the key goes on to the mark of this foot, and past it to the next foot's wrap.
    rig.press("3 Space");
    assert_eq!(asked(&rig).and_then(Place::foot), Some(Foot::LeftHind));
    rig.press("2 Space");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Seen(_), .. }), "{:?}", rig.mode());
    // Wrap off and bare, skin sound; the two marks of the right hind foot, one after the other.
    rig.press("1 1 Space");
    let first = asked(&rig);
    rig.press("Space");
    let second = asked(&rig);
    assert!(first.is_some() && second.is_some() && first != second, "{first:?} {second:?}");
    rig.press("Space");
    assert_eq!(asked(&rig), first, "round and round");
}

#[test]
fn a_mark_without_a_zone_can_be_answered_too() {
    let mut rig = Rig::with(MAP, &["7"]);
    // Corkscrew claw: of the whole claw.
    rig.press("7 Enter 1 e 5 Enter Enter Enter");
    rig.pass(14);
    rig.press("7 Enter Space");
    assert_eq!(asked(&rig), Some(Place::Claw(Foot::LeftHind, Side::Outer)));
    rig.press("3");
    assert_eq!((waiting(&rig), rig.history().courses[0].what()), (vec![], Finding::CC));
}

#[test]
fn the_sign_off_shows_what_waits_with_its_number_and_does_not_ask() {
    for size in [(60, 20), (80, 24), (120, 40)] {
        let mut rig = with_an_ulcer(MAP);
        rig.press("5 Enter");
        assert!(matches!(rig.mode(), Mode::SignOff { .. }), "{:?}", rig.mode());
        let shown = screen(&rig, size);
        assert!(shown.contains("1 OLD MARK: Space") && shown.contains("LH outer 4 SU"), "{shown}");
        assert!(shown.contains("ANSWERS") && shown.contains("severe"), "{shown}");
        // Enter alone lets her go, and it is written as left open.
        rig.press("Enter");
        assert!(matches!(rig.mode(), Mode::Today { .. }), "{:?}", rig.mode());
        rig.pass(1);
        rig.press("7 Enter");
        let gaps = &rig.session().crush.as_ref().expect("crush").before().expect("a turn before").gaps;
        let unanswered: Vec<&OpenGap> = gaps.iter().filter(|gap| gap.gap == Gap::Unanswered).collect();
        assert_eq!(unanswered.len(), 1, "{gaps:?}");
        assert_eq!(waiting(&rig).len(), 1, "and it waits for the next time");
    }
}

#[test]
fn answered_from_the_sign_off_one_comes_back_to_it() {
    let mut rig = with_an_ulcer(MAP);
    rig.press("5 Enter Space 2");
    assert!(matches!(rig.mode(), Mode::SignOff { .. }), "{:?}", rig.mode());
    assert!(!screen(&rig, (80, 24)).contains("OLD MARK"));
    rig.press("Enter");
    assert!(matches!(rig.mode(), Mode::Today { .. }));
    // Nothing waits and nothing hurts: she goes without being shown anything.
    let mut rig = Rig::with(MAP, &["7"]);
    rig.press("7 Enter 5 Enter");
    assert!(matches!(rig.mode(), Mode::Today { .. }));
}

#[test]
fn answered_it_stays_on_the_map_with_the_sign_of_the_answer() {
    for (key, sign) in [("2", "SU!v"), ("3", "SU!~"), ("4", "SU!^")] {
        let mut rig = with_an_ulcer(MAP);
        assert!(screen(&rig, (120, 40)).contains("su?"));
        rig.press("Space");
        rig.press(key);
        rig.press("Backspace");
        let shown = screen(&rig, (120, 40));
        assert!(shown.contains(sign) && shown.contains("[ ] 1 found"), "{key}\n{shown}");
    }
    let mut rig = with_an_ulcer(MAP);
    rig.press("Space 1 Backspace");
    let shown = screen(&rig, (120, 40));
    assert!(!shown.contains("su?") && !shown.contains("SU!") && shown.contains("SU: healed"), "{shown}");
}

#[test]
fn unseen_for_longer_than_the_rule_says_is_told_before_and_after() {
    let mut rig = Rig::with(MAP, &["7"]);
    rig.press("7 Enter 1 4 1 3 Enter Enter");
    rig.pass(40);
    rig.press("7 Enter");
    assert!(screen(&rig, (80, 24)).contains("su severe unseen 40d?"), "{}", screen(&rig, (80, 24)));
    // Found anew by its name, not answered: by the rule of 35 days it is another case.
    rig.press("1 f s 1 Enter l");
    let shown = screen(&rig, (120, 40));
    assert!(shown.contains("NEW LH outer 4 SU light, unseen 40") && shown.contains("CHANGED 1 new"), "{shown}");
    assert_eq!(rig.history().cases(35).len(), 2);
}

#[test]
fn last_time_steps_back_and_forth_and_says_what_changed() {
    let mut rig = with_an_ulcer(MAP);
    rig.press("Space 4 Backspace l");
    let shown = screen(&rig, (80, 24));
    assert!(shown.contains("WORSE LH outer 4 SU") && shown.contains("CHANGED 1 worse"), "{shown}");
    assert!(shown.contains("14 d ago") && shown.contains("turn 2 of 2"), "{shown}");
    rig.press("Left");
    assert!(screen(&rig, (80, 24)).contains("turn 1 of 2"));
    rig.press("Left Left");
    assert!(screen(&rig, (80, 24)).contains("turn 1 of 2"), "there is none before the first");
    rig.press("Right");
    assert!(screen(&rig, (80, 24)).contains("turn 2 of 2"));
    rig.press("Enter");
    assert!(matches!(rig.mode(), Mode::Crush(_)));
}

#[test]
fn lines_without_room_are_counted_and_reached() {
    let mut rig = six_days_later(MAP);
    rig.press("1 3 8 2 Enter l");
    let first = screen(&rig, (60, 20));
    assert!(first.contains("more lines, Down"), "{first}");
    let mut seen = first.clone();
    for _ in 0..30 {
        rig.press("Down");
        seen.push_str(&screen(&rig, (60, 20)));
    }
    for line in ["LH inner wood block", "blue wrap", "DONE THEN", "su? left open  +1 more"] {
        assert!(seen.contains(line), "{line}\n{seen}");
    }
    assert!(!screen(&rig, (60, 20)).contains("more lines"));
}

#[test]
fn all_four_trimmed_says_of_a_foot_with_an_old_mark_that_it_is_left_open() {
    let mut rig = with_an_ulcer(MAP);
    rig.press("Backspace 5");
    assert_eq!(waiting(&rig).len(), 1, "nothing was answered by it");
    for size in [(60, 20), (80, 24), (120, 40)] {
        let shown = screen(&rig, size);
        assert_eq!(shown.matches("[?] ").count(), 1, "one foot is not as if nothing had been there\n{shown}");
        assert_eq!(shown.matches("[=] nothing found").count(), 3, "{shown}");
        assert!(shown.contains("1 left open") || shown.contains("nothing new, 1 open"), "{shown}");
    }
}
