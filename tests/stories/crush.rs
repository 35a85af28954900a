//! The crush: feet, zones, findings, blocks, wraps, dressings, sign-off.

use super::rig::Rig;
use crushbook::domain::anatomy::{Foot, Horn, Place, Side, Skin};
use crushbook::domain::event::Event;
use crushbook::domain::finding::{Degree, Finding, Grade, Stage};
use crushbook::domain::history::TurnState;
use crushbook::domain::practice::Practice;
use crushbook::domain::treatment::{BlockKind, Colour, Put};
use crushbook::domain::withdrawal::Stated;
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::act::{Act, Ask, Choice};
use crushbook::session::choices::choices;
use crushbook::session::mode::Mode;
use crushbook::session::{Notice, Refusal};

const BOTH: [BuiltIn; 2] = [BuiltIn::TwoHands, BuiltIn::Keypad];

#[test]
fn one_finding_with_its_grade_is_four_keys() {
    for map in BOTH {
        let mut rig = Rig::with(map, &["1382"]);
        rig.press("1 3 8 2 Enter");
        // Left hind, zone 4, first of the list, severe.
        rig.press("1 4 1 3");
        let case = &rig.history().courses[0];
        assert_eq!(case.place, Place::Horn(Foot::LeftHind, Side::Outer, Horn::SoleBulb), "{map:?}");
        assert_eq!((case.what(), case.carried().degree.word), (Finding::SU, Degree::Grade(Grade::Severe)));
        assert!(matches!(rig.notice(), Some(Notice::Saved { .. })));
    }
}

#[test]
fn skin_belongs_to_the_foot_and_dermatitis_takes_its_stage_by_its_own_digit() {
    let mut rig = Rig::with(BuiltIn::Keypad, &["1382"]);
    rig.press("1 3 8 2 Enter 3 . 1 2");
    let case = &rig.history().courses[0];
    assert_eq!(case.place, Place::Skin(Foot::RightHind, Skin::Heel));
    assert_eq!((case.what(), case.carried().degree.word), (Finding::DD, Degree::Stage(Stage::M2)));
}

#[test]
fn the_same_finding_again_is_selected_and_nothing_new_is_written() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["1382"]);
    rig.press("1 3 8 2 Enter 1 4 1 2");
    let before = rig.records();
    rig.press("4 1");
    assert_eq!(rig.records(), before);
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::About(_), .. }));
    // The same grade again writes nothing either, another one does.
    rig.press("2");
    assert_eq!(rig.records(), before);
    rig.press("4 1 1");
    assert_eq!(rig.records(), before + 1);
    assert_eq!(rig.history().courses[0].carried().degree.word, Degree::Grade(Grade::Light));
}

#[test]
fn a_block_goes_on_the_sound_partner() {
    for map in BOTH {
        let mut rig = Rig::with(map, &["7"]);
        rig.press("7 Enter 1 4 1 3 + 1 1");
        let puts = &rig.history().turns.last().expect("a turn").puts;
        assert_eq!(puts.len(), 1);
        assert_eq!(puts[0].put, Put::Block { foot: Foot::LeftHind, side: Side::Inner, kind: BlockKind::Wood });
    }
}

#[test]
fn sore_on_both_claws_the_block_asks_which() {
    let mut rig = Rig::with(BuiltIn::Keypad, &["7"]);
    rig.press("7 Enter 1 4 1 3 * 6 4 1 3 + 1");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::BlockClaw(Foot::LeftHind), .. }));
    assert!(rig.history().turns.last().expect("a turn").puts.is_empty(), "nothing is written before the answer");
}

#[test]
fn a_wrap_is_asked_for_day_and_person_and_sign_off_insists() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["7"]);
    // Wrap put on, both questions gone past.
    rig.press("7 Enter 1 . 1 2 + 2 Enter");
    rig.press("Enter Enter");
    assert!(matches!(rig.mode(), Mode::SignOff { .. }), "{:?}", rig.mode());
    rig.press("Enter");
    assert!(matches!(rig.notice(), Some(Notice::Refused(Refusal::NotSettled(2)))), "{:?}", rig.notice());
    // Line 1: by which day? 3 days. Then the person is asked, and typed.
    rig.press("1 1 3 0 T o m Enter 2");
    rig.press("Enter");
    assert!(matches!(rig.mode(), Mode::Today { .. }), "{:?}", rig.mode());
    assert_eq!(rig.on("7").len(), 1);
    assert!(matches!(rig.notice(), Some(Notice::Words(words)) if words.contains("BACK LEFT")), "{:?}", rig.notice());
}

#[test]
fn lifting_a_foot_with_something_on_it_asks_that_first() {
    let mut rig = Rig::with(BuiltIn::Keypad, &["7"]);
    rig.press("7 Enter 1 . 1 2 + 2 3 0 T o m Enter 2");
    rig.press("Enter Enter");
    assert_eq!(rig.on("7").len(), 1);
    rig.pass(4);
    rig.press("7 Enter 5");
    let turn = rig.history().turns.last().expect("a turn");
    let looked: Vec<bool> = turn.looks.iter().map(Option::is_some).collect();
    assert_eq!(looked, [true, true, false, true], "the foot with the wrap is left out");
    rig.press("1");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Seen(_), .. }), "{:?}", rig.mode());
    // Going on without an answer does not let the foot be done.
    rig.press("Enter Enter");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Seen(_), .. }), "{:?}", rig.mode());
    // A ring was left; the skin is raw.
    rig.press("2 2");
    let off = &rig.history().turns.last().expect("a turn").offs;
    assert_eq!(off.len(), 1, "outcome and skin are one fact");
    // The old mark is answered by today's stage, the foot is done, she goes.
    rig.press(". 3 Enter Enter");
    assert!(matches!(rig.mode(), Mode::Today { .. }), "{:?} {:?}", rig.mode(), rig.notice());
    assert!(rig.on("7").is_empty());
}

#[test]
fn routine_is_three_keys_after_the_number() {
    for map in BOTH {
        let mut rig = Rig::with(map, &["1382"]);
        rig.press("1 3 8 2");
        rig.press("Enter 5 Enter");
        assert!(matches!(rig.mode(), Mode::Today { .. }), "{:?}", rig.mode());
        rig.pass(1);
        rig.press("1 3 8 2 Enter");
        let before = rig.session().crush.as_ref().expect("crush").before().expect("a turn before");
        assert_eq!(before.state, TurnState::Signed);
        assert!(before.looks.iter().all(|look| look.is_some_and(|look| look.lifted && look.trimmed && look.all_seen)));
    }
}

#[test]
fn erosion_on_both_hinds_is_seven_keys_at_most() {
    let mut rig = Rig::with(BuiltIn::Keypad, &["1382"]);
    rig.press("1 3 8 2 Enter");
    // Lift, heel, erosion, light, the same on the other hind.
    rig.press("1 6 1 1 * 3");
    let places: Vec<Place> = rig.history().courses.iter().map(|case| case.place).collect();
    assert_eq!(
        places,
        [Place::Horn(Foot::LeftHind, Side::Outer, Horn::Bulb), Place::Horn(Foot::RightHind, Side::Outer, Horn::Bulb)]
    );
}

#[test]
fn she_got_away_and_her_turn_waits() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["1382", "9"]);
    rig.press("1 3 8 2 Enter 1 4 1 3 a");
    assert!(matches!(rig.mode(), Mode::Today { .. }));
    rig.press("9 Enter 5 Enter");
    rig.press("1 3 8 2 Enter");
    assert_eq!(rig.history().turns.last().expect("a turn").found.len(), 1, "the same turn goes on");
}

#[test]
fn an_answer_is_one_key_and_ends_the_ghost() {
    let mut rig = Rig::with(BuiltIn::Keypad, &["1382"]);
    rig.press("1 3 8 2 Enter 1 4 1 3 Enter Enter Enter");
    rig.pass(14);
    rig.press("1 3 8 2 Enter 1 4");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Answer(_), .. }));
    rig.press("1");
    assert!(rig.history().courses[0].end().is_some());
}

#[test]
fn a_measure_out_of_reason_is_refused_with_what_was_typed() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["1382"]);
    rig.press("1 3 8 2 Enter 1 m 1 9 9 9 Enter");
    assert!(matches!(rig.notice(), Some(Notice::Refused(Refusal::NotANumber(typed))) if typed == "999"));
    rig.press("Backspace Backspace Backspace 7 6 Enter");
    assert_eq!(rig.history().turns.last().expect("a turn").measures.len(), 1);
}

#[test]
fn a_tap_lifts_a_foot_then_asks_about_a_zone_and_writes_nothing() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["1382"]);
    rig.press("1 3 8 2 Enter");
    let before = rig.records();
    // Taps count only once they are switched on.
    rig.tap(5, 15);
    assert!(matches!(rig.mode(), Mode::Crush(hand) if hand.foot.is_none()));
    rig.press("k");
    // The left hind foot stands at rows 12 to 22, columns 0 to 18 (README of the drawings: 80x24, four feet).
    rig.tap(5, 15);
    assert!(matches!(rig.mode(), Mode::Crush(hand) if hand.foot == Some(Foot::LeftHind)), "{:?}", rig.mode());
    // Enlarged, its outer claw's zone 4 is around column 14, row 8.
    rig.tap(14, 8);
    let expected = Place::Horn(Foot::LeftHind, Side::Outer, Horn::SoleBulb);
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Finding(place), .. } if *place == expected), "{:?}", rig.mode());
    rig.tap(79, 0);
    assert_eq!(rig.records(), before);
}

#[test]
fn a_wrap_over_the_product_of_the_day_is_one_press() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12", "34"]);
    rig.press("1 2 Enter 1 . 1 2 p 8");
    assert_eq!(rig.notice(), Some(&Notice::Refused(Refusal::NoSuchChoice)), "no product was used today");
    rig.press("Enter s 0 g e l Enter w 3 0 T o m Enter 2 Enter Enter");
    rig.press("3 4 Enter 3 . 1 2");
    let before = rig.records();
    rig.press("p 8");
    assert_eq!(rig.records(), before + 2);
    let heel = Place::Skin(Foot::RightHind, Skin::Heel);
    let puts = |rig: &Rig| -> Vec<Put> {
        rig.history().turns.last().expect("a turn").puts.iter().map(|view| view.put.clone()).collect()
    };
    let dressing = Put::Dressing { place: heel, product: "gel".to_owned() };
    assert_eq!(puts(&rig), [dressing, Put::Wrap { over: heel, colour: Some(Colour::Blue) }]);
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::WrapDay(_), .. }), "what can hurt is asked: {:?}", rig.mode());
    rig.press("Enter p 8");
    assert_eq!(rig.notice(), Some(&Notice::Refused(Refusal::NoSuchChoice)), "both are on already");
    rig.press("Enter u");
    assert_eq!(puts(&rig), [], "one press, taken back by one");
    // A medicine is put on by itself: its days would be lost under the wrap.
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12", "34"]);
    let stated = Stated::read("gel", "milk 2 meat 10 label").expect("days");
    rig.practice = Practice { medicines: vec![stated], ..Practice::default() };
    rig.pass(1);
    rig.press("1 2 Enter 1 . 1 2 s 0 g e l Enter Enter Enter Enter 3 4 Enter 3 . 1 2 p 8");
    assert_eq!(rig.notice(), Some(&Notice::Refused(Refusal::NoSuchChoice)));
}

#[test]
fn what_she_goes_home_with_is_called_out_and_foul_is_told_today() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12"]);
    // Saturday 2 May. Left hind: a blue wrap, off tomorrow, by Helen. Right hind: foul in the cleft.
    rig.press("1 2 Enter 1 w 1 0 H e l e n Enter 2 Enter 3 0 2 Enter Enter Enter");
    assert!(matches!(rig.mode(), Mode::Today { .. }), "{:?}", rig.mode());
    let Some(Notice::Words(said)) = rig.notice() else { panic!("{:?}", rig.notice()) };
    assert!(said.contains("12 BACK LEFT") && said.contains("wrap, off by SUN 3 May evening milking"), "{said}");
    assert!(said.contains("12 BACK RIGHT foul: tell the farm today, the vet's plan"), "{said}");
}

#[test]
fn a_claw_that_is_gone_is_neither_offered_nor_written_on() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12"]);
    rig.press("1 2 Enter 9");
    let hand = rig.mode().hand().expect("a foot is up");
    assert_eq!(hand.side, Side::Inner, "in front the inner claw first");
    rig.press("j 6");
    let Mode::Pad { ask, .. } = rig.mode().clone() else { panic!("{:?}", rig.mode()) };
    let gone = |choice: &Choice| matches!(choice.act, Act::ClawGone(Foot::RightFront, Side::Inner));
    let key = choices(rig.session(), &ask).into_iter().find(gone).expect("it can be said").key;
    rig.press(&format!("{key} Backspace 9"));
    assert_eq!(rig.mode().hand().map(|hand| hand.side), Some(Side::Outer), "{:?}", rig.mode());
    rig.press("Left 1 1");
    assert_eq!(rig.notice(), Some(&Notice::Refused(Refusal::ClawGone)));
    assert!(rig.history().turns.last().expect("her turn").found.is_empty());
}

#[test]
fn one_hand_writes_numbers_with_its_own_keys_and_words_with_all() {
    for (map, measure, digits, note) in [
        (BuiltIn::LeftHand, "1382 Enter c Tab Tab v c", "e g", "Tab s"),
        (BuiltIn::RightHand, "1382 Enter j n n k j", "7 o", "n ."),
        (BuiltIn::TwoHands, "1382 Enter 1 m 1", "è 6", "n"),
    ] {
        let mut rig = Rig::with(map, &["1382"]);
        rig.press(&measure.replace("1382", "1 3 8 2"));
        rig.press(digits);
        assert!(matches!(rig.mode(), Mode::Text { text, .. } if text == "76"), "{map:?}: {:?}", rig.mode());
        rig.press("Enter");
        assert_eq!(rig.history().turns.last().expect("a turn").measures.len(), 1, "{map:?}");
        rig.press(note);
        rig.press("e g o");
        assert!(matches!(rig.mode(), Mode::Text { text, .. } if text == "ego"), "{map:?}: {:?}", rig.mode());
    }
}

#[test]
fn one_hand_gives_an_animal_her_new_number() {
    for (map, renumber, digits) in [
        (BuiltIn::LeftHand, "Tab r c", "v x g"),
        (BuiltIn::RightHand, "n 8 j", "k 0 o"),
        (BuiltIn::TwoHands, "c 1", "2 0 6"),
    ] {
        let mut rig = Rig::with(map, &["1382"]);
        rig.press("1 3 8 2");
        rig.press(renumber);
        rig.press(digits);
        assert!(matches!(rig.mode(), Mode::Text { text, .. } if text == "206"), "{map:?}: {:?}", rig.mode());
    }
}

#[test]
fn no_letter_of_a_note_is_lost_to_a_sequence_that_leads_nowhere() {
    for (map, note) in [(BuiltIn::Keypad, "* ."), (BuiltIn::RightHand, "n ."), (BuiltIn::LeftHand, "Tab s")] {
        let mut rig = Rig::with(map, &["1382"]);
        rig.press("1 3 8 2 Enter 1");
        rig.press(note);
        rig.press("a * b . n o , n n . Enter");
        let said = match rig.notice() {
            Some(Notice::Saved { press, .. }) => press.last().and_then(|record| record.event()),
            other => panic!("{map:?}: {other:?}"),
        };
        assert!(matches!(said, Some(Event::Noted { text, .. }) if text == "a*b.no,nn."), "{map:?}: {said:?}");
    }
}
