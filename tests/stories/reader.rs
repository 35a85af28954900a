//! Tag readers: anywhere in the program, in every form, and never a key.

use super::rig::Rig;
use super::walk::{UNWORN, WORN, name, worlds};
use crate::screens::world::screen;
use crushbook::domain::label::Label;
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::mode::{Mode, TextFor};
use crushbook::session::walk::Walking;
use crushbook::session::{Notice, amend};
use proptest::prelude::{Just, ProptestConfig, Strategy, prop_oneof, proptest};
use std::time::Duration;

const MAP: BuiltIn = BuiltIn::TwoHands;

fn said(rig: &Rig) -> String {
    match rig.notice() {
        Some(Notice::Words(words)) => words.clone(),
        other => panic!("{other:?}"),
    }
}

/// What was written and where the hands are.
fn state(rig: &Rig) -> (u64, Mode) {
    (rig.held(), rig.mode().clone())
}

/// Whether this is the field that takes an electronic number.
fn is_its_field(mode: &Mode) -> bool {
    matches!(mode, Mode::Text { what: TextFor::Amend(amend::Text::Label(_, Label::Electronic)), .. })
}

/// A number in the four forms that readers type (common practice), and as a French keyboard turns them round.
fn forms(number: &str) -> Vec<String> {
    let (front, own) = number.split_at(3);
    let plain = [number.to_owned(), format!("{front} {own}"), format!("A0000000{number}"), format!("LA {front} {own}")];
    let french = |text: &String| {
        let row = "à&é\"'(-è_ç".chars().collect::<Vec<char>>();
        text.chars()
            .map(|c| c.to_digit(10).map_or(c, |digit| row[digit as usize]))
            .collect::<String>()
            .replace('A', "Q")
    };
    let french: Vec<String> = plain.iter().map(french).collect();
    plain.into_iter().chain(french).collect()
}

#[test]
fn a_reading_selects_her_wherever_the_hands_are_and_writes_nothing() {
    for world in worlds() {
        for (way, called) in world.ways() {
            for tag in forms(WORN) {
                let mut rig = world.at(way);
                let before = state(&rig);
                let worn = rig.session().herd.iter().any(|line| line.labels.electronic == WORN);
                let typed = matches!(rig.mode(), Mode::Text { text, .. } if !text.is_empty());
                rig.scan(&tag);
                assert_eq!(rig.held(), before.0, "{way}, {tag}: nothing is written");
                if !worn {
                    continue;
                }
                if rig.session().crush.is_some() {
                    assert_eq!((rig.mode(), said(&rig).as_str()), (&before.1, "next: 7"), "{way}, {tag}");
                } else if let Mode::Walk(walking) = &before.1 {
                    // On the walk she is picked, and her score comes next.
                    let picked = Some(rig.animal("7"));
                    let there = Walking { picked, top: walking.top, ..Walking::default() };
                    assert_eq!(rig.mode(), &Mode::Walk(there), "{way}, {tag}");
                    assert_eq!(said(&rig), "tag read: 7");
                } else if matches!(before.1.base(), Mode::Walk(_)) {
                    assert_eq!((rig.mode(), said(&rig).as_str()), (&before.1, "next: 7 (answer first)"), "{way}");
                } else if is_its_field(&before.1) {
                    assert!(matches!(rig.mode(), Mode::Text { text, .. } if text == WORN), "{way}, {tag}");
                } else if typed {
                    assert_eq!(rig.mode(), &before.1, "{way}: what is typed is kept");
                    assert_eq!(said(&rig), "next: 7 (keep what is typed first)");
                } else {
                    assert_eq!(rig.mode(), &Mode::Today { typed: "7".to_owned(), cursor: 0 }, "{way} {called}, {tag}");
                    assert_eq!(said(&rig), "tag read: 7");
                }
            }
        }
    }
}

#[test]
fn a_reading_of_nobody_writes_nothing_and_asks_only_with_free_hands() {
    for world in worlds() {
        for (way, _) in world.ways() {
            let mut rig = world.at(way);
            let before = state(&rig);
            let typed = matches!(rig.mode(), Mode::Text { text, .. } if !text.is_empty());
            rig.scan(UNWORN);
            assert_eq!(rig.held(), before.0, "{way}");
            let on_walk = matches!(before.1.base(), Mode::Walk(_));
            if rig.session().crush.is_some() || on_walk || typed && !is_its_field(&before.1) {
                assert_eq!(rig.mode(), &before.1, "{way}");
                assert_eq!(said(&rig), "nobody here wears 964 000000123456: read it again on Today");
            } else if !is_its_field(&before.1) {
                assert_eq!(name(rig.mode()), "wearer", "{way}");
            }
        }
    }
}

/// Anything that a machine types: a number in some form, or noise of at least eight characters.
fn burst() -> impl Strategy<Value = String> {
    prop_oneof![
        "[0-9]{15}",
        "[0-9]{3} [0-9]{12}",
        "A0000000[0-9]{15}",
        "LA [0-9]{3} [0-9]{12}",
        Just(WORN.to_owned()),
        "[0-9a-z+*./-]{9,30}",
    ]
}

/// Few cases, since each is a whole program; `PROPTEST_CASES` asks for more.
fn config() -> ProptestConfig {
    let given = ProptestConfig::default();
    let cases = if std::env::var_os("PROPTEST_CASES").is_some() { given.cases } else { 24 };
    ProptestConfig { cases, failure_persistence: None, ..given }
}

proptest! {
    #![proptest_config(config())]
    #[test]
    fn no_burst_is_ever_run_as_keys(place in 0..71_usize, text in burst(), gap in 0..=35_u64) {
        let distinct: std::collections::BTreeSet<char> = text.chars().collect();
        if distinct.len() > 1 {
            let [world, ..] = worlds();
            let mut rig = world.at(world.ways()[place].0);
            let before = state(&rig);
            rig.scan_at(&text, Duration::from_millis(gap));
            assert_eq!(rig.held(), before.0, "{text}");
            let in_text = matches!(before.1, Mode::Text { .. });
            let moved = rig.mode() != &before.1;
            let selected = matches!(rig.mode(), Mode::Today { .. } | Mode::Walk(_)) || name(rig.mode()) == "wearer";
            assert!(!moved || in_text || (selected && rig.session().crush.is_none()), "{text}: {:?}", rig.mode());
        }
    }
}

#[test]
fn who_wears_it_is_asked_once_and_another_key_says_yes() {
    let [world, ..] = worlds();
    let mut rig = world.at("@");
    assert!(screen(&rig, MAP, (60, 20)).contains("nobody here wears 964 000000123456: who does?"));
    rig.press("2 4 4 Enter");
    assert!(screen(&rig, MAP, (60, 20)).contains("44 wears 964 000000123456?"));
    let before = rig.held();
    // Neither Enter nor the key that named her.
    rig.press("Enter");
    assert_eq!(rig.held(), before);
    rig.scan(UNWORN);
    rig.press("2 4 4 Enter 1");
    assert_eq!(rig.held(), before + 1, "one fact");
    assert!(matches!(rig.mode(), Mode::Today { typed, .. } if typed == "44"));
    rig.scan(UNWORN);
    assert_eq!(said(&rig), "tag read: 44");
    // The number that is picked goes first, else undo would only erase it.
    rig.press("Backspace Backspace u");
    rig.scan(UNWORN);
    assert_eq!(name(rig.mode()), "wearer", "taken back");
}

#[test]
fn who_is_picked_on_today_is_offered() {
    let [world, ..] = worlds();
    let mut rig = world.at("1 3 8 2 @");
    assert!(screen(&rig, MAP, (80, 24)).contains("it is 1382"), "{}", screen(&rig, MAP, (80, 24)));
    rig.press("3 1");
    let worn = rig.session().herd.iter().find(|line| line.labels.number == "1382").expect("listed");
    assert_eq!(worn.labels.electronic, "964000000123456");
}

#[test]
fn another_tag_of_hers_is_said_and_the_old_one_still_finds_her() {
    let [world, ..] = worlds();
    let mut rig = world.at("@ 2 7 Enter");
    let shown = screen(&rig, MAP, (80, 24));
    assert!(shown.contains("7 wears 964 000000000007: now 964 000000123456?"), "{shown}");
    rig.press("1");
    for tag in [UNWORN, WORN] {
        rig.scan(tag);
        assert_eq!(said(&rig), "tag read: 7", "{tag}");
    }
}

#[test]
fn not_now_is_not_asked_again_in_this_visit() {
    for way_out in ["9", "Enter", "Backspace", "2 4 4 Enter 9", "4 9"] {
        let [world, ..] = worlds();
        let mut rig = world.at("@");
        let before = rig.held();
        rig.press(way_out);
        assert!(matches!(rig.mode(), Mode::Today { .. }), "{way_out}");
        rig.scan(UNWORN);
        assert_eq!(said(&rig), "nobody here wears 964 000000123456: put off until the next visit", "{way_out}");
        rig.scan("982000001088420");
        assert_eq!(name(rig.mode()), "wearer", "another number is asked about");
        assert_eq!(rig.held(), before);
        rig.pass(1);
        rig.scan(UNWORN);
        assert_eq!(name(rig.mode()), "wearer", "{way_out}: another day");
    }
}

#[test]
fn a_new_animal_wears_it_with_and_without_a_number() {
    for (keys, number) in [("4 1", ""), ("2 9 9 Enter 1", "99"), ("4 2 9 9 Enter 1", "99")] {
        let [world, ..] = worlds();
        let mut rig = world.at("@");
        rig.press(keys);
        let labels = &rig.history().labels;
        assert_eq!((labels.number.as_str(), labels.electronic.as_str()), (number, "964000000123456"), "{keys}");
        rig.press("u");
        assert!(rig.session().crush.is_none(), "taken back with her turn");
    }
}

#[test]
fn what_cannot_be_a_tag_is_said_and_may_be_written_all_the_same() {
    let table = [
        ("999000000000001", "DOUBTFUL: 999 is for tests"),
        ("982274877906944", "DOUBTFUL: higher than a tag can be"),
        ("96400000012345", "DOUBTFUL: 14 digits, a tag has 15"),
    ];
    for (tag, why) in table {
        let [world, ..] = worlds();
        let mut rig = world.at("");
        rig.scan(tag);
        assert!(screen(&rig, MAP, (60, 20)).contains(why), "{tag}");
        rig.press("2 4 4 Enter");
        assert!(screen(&rig, MAP, (60, 20)).contains(why), "{tag}: at the key that writes it too");
        rig.press("1");
        rig.scan(tag);
        assert_eq!(said(&rig), "tag read: 44");
    }
    let [world, ..] = worlds();
    assert!(!screen(&world.at("@"), MAP, (60, 20)).contains("DOUBTFUL"));
}

#[test]
fn of_another_farm_or_of_two_animals_is_said_in_words() {
    let [world, ..] = worlds();
    // Another farm: nobody there wears it, 7 of Thistle does.
    let mut rig = world.at("v Down Enter B e c k Enter");
    rig.scan(WORN);
    assert_eq!(said(&rig), "7 of Thistle wears that tag: another farm");
    // No farm is in hand.
    rig.pass(1);
    assert_eq!(name(rig.mode()), "farms");
    rig.scan(WORN);
    assert_eq!(said(&rig), "7 of Thistle wears that tag: choose that farm");
    rig.scan(UNWORN);
    assert_eq!(said(&rig), "nobody in this book wears 964 000000123456: choose a farm first");
    // Two of this farm.
    let mut rig = world.at("4 4 c 3");
    rig.scan(WORN);
    rig.press("Enter 2");
    rig.scan(WORN);
    assert_eq!(said(&rig), "2 wear that tag, 7 and 44: type the number", "{:?}", rig.mode());
    rig.press("7 Enter");
    assert_eq!(rig.history().labels.number, "7");
    // A turn is open: it is still only said.
    rig.scan(WORN);
    assert_eq!(said(&rig), "2 wear that tag, 7 and 44: type the number");
}

#[test]
fn what_is_no_tag_is_shown_and_not_run() {
    let [world, ..] = worlds();
    let mut rig = world.at("1 3 8 2 Enter 7");
    let before = state(&rig);
    rig.scan("u5a+11u/z*");
    assert_eq!(state(&rig), before);
    assert_eq!(said(&rig), "\"u5a+11u/z*\" is no tag: nothing was done");
    // In a field it is text: a paste on a terminal that says nothing of pastes.
    let mut rig = world.at("1 3 8 2 Enter n");
    rig.scan("sore on the left");
    assert!(matches!(rig.mode(), Mode::Text { text, .. } if text == "sore on the left"), "{:?}", rig.mode());
}

#[test]
fn what_did_not_count_is_shown_beside_what_was_saved() {
    let [world, ..] = worlds();
    let mut rig = world.at("1 3 8 2 Enter 7 2");
    rig.hold("1", 400, 25);
    let shown = screen(&rig, MAP, (80, 24));
    let last = shown.lines().last().expect("the last row");
    assert!(last.contains("2nd 1 ignored") && last.contains("saved 09:30:00 LF inner 2"), "{last}");
    rig.press("Backspace");
    assert!(!screen(&rig, MAP, (80, 24)).contains("ignored"));
}
