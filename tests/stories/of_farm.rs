//! The farm's own matters: a call, about her or about itself, and what changed there since a day.

use super::rig::Rig;
use chrono::{Days, NaiveDate};
use crushbook::domain::day::{NoDay, gone_by, to_come};
use crushbook::domain::event::Event;
use crushbook::domain::herd::Change;
use crushbook::domain::record::Record;
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::mode::Mode;
use crushbook::session::of_farm::Refused;
use crushbook::session::{Notice, Refusal};

#[test]
fn a_farm_is_not_begun_under_the_name_of_another() {
    let mut rig = Rig::new(BuiltIn::TwoHands);
    let held = rig.held();
    rig.press("Backspace Down Enter t h i s t l e Enter");
    let said = rig.notice();
    assert!(
        matches!(said, Some(Notice::Refused(Refusal::Farm(Refused::Named(name)))) if name == "thistle"),
        "{said:?}"
    );
    assert_eq!(rig.held(), held);
    rig.press("s Enter");
    assert_eq!(rig.held(), held + 1, "the thistles are another: {:?}", rig.mode());
}

/// Records that the last of these keys wrote.
fn wrote(rig: &mut Rig, keys: &str) -> Vec<Record> {
    rig.press(keys);
    if let Some(Notice::Saved { press, .. }) = rig.notice() { press.clone() } else { Vec::new() }
}

#[test]
fn a_call_about_her_is_written_on_her_with_its_words_and_whether_it_can_wait() {
    for map in BuiltIn::ALL {
        let mut rig = Rig::with(map, &["12", "34"]);
        let keys = match map {
            BuiltIn::TwoHands => "3 4 f 1 1 s m e l l s Enter",
            BuiltIn::Keypad => "3 4 * * 1 1 1 s m e l l s Enter",
            BuiltIn::LeftHand => "b d Tab Tab c c c s m e l l s Enter",
            BuiltIn::RightHand => "l u n n j j j s m e l l s Enter",
        };
        let records = wrote(&mut rig, keys);
        let her = rig.animal("34");
        let [record] = records.as_slice() else { panic!("one record of {map:?}: {records:?}") };
        assert_eq!(record.about, her.0);
        assert!(
            matches!(record.event(), Some(Event::FarmCalled { words, urgent: true, .. }) if words == "smells"),
            "{record:?}"
        );
        // Another number may be typed at once, or the same goes on.
        assert!(matches!(rig.mode(), Mode::Today { typed, .. } if typed == "34"), "{:?}", rig.mode());
        assert!(rig.every().iter().any(|kept| kept.id == record.id), "it is in the book");
    }
}

#[test]
fn with_nobody_picked_the_call_is_the_farms_and_is_taken_back_like_any_press() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12"]);
    let records = wrote(&mut rig, "f 1 2 n o t Space b e f o r e Space n o o n Enter");
    let farm = rig.session().farm.as_ref().expect("open").id;
    let [record] = records.as_slice() else { panic!("one record: {records:?}") };
    assert_eq!(record.about, farm.0);
    let Some(Event::FarmCalled { words, urgent: false, .. }) = record.event() else { panic!("{record:?}") };
    assert_eq!(words, "not before noon");
    let undone = wrote(&mut rig, "u");
    assert!(matches!(undone[0].event(), Some(Event::Undone { press }) if *press == record.press_id()), "{undone:?}");
}

#[test]
fn a_change_bears_the_day_it_was_made_and_words_where_there_are_any() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12"]);
    let today = rig.session().today;
    // Since today, nothing more said.
    let records = wrote(&mut rig, "f 2 1 1 Enter");
    assert!(
        matches!(records[0].event(), Some(Event::FarmChanged { change: Change::Footbath, words, .. }) if words.is_empty())
    );
    assert_eq!(records[0].on, today);
    // Two days ago, with words.
    let records = wrote(&mut rig, "f 2 2 3 s a n d Enter");
    assert!(
        matches!(records[0].event(), Some(Event::FarmChanged { change: Change::Mats, words, .. }) if words == "sand")
    );
    assert_eq!(records[0].on, today - Days::new(2));
    // Something else needs words: going on without writes nothing.
    assert_eq!(wrote(&mut rig, "f 2 6 1 Enter"), []);
}

#[test]
fn another_day_is_typed_and_one_to_come_is_refused() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12"]);
    let today = rig.session().today;
    let typed =
        |day: NaiveDate| day.format("%-d.%-m").to_string().chars().map(String::from).collect::<Vec<_>>().join(" ");
    let before = today - Days::new(40);
    let records = wrote(&mut rig, &format!("f 2 3 8 {} Enter Enter", typed(before)));
    assert!(matches!(records[0].event(), Some(Event::FarmChanged { change: Change::Housed, .. })), "{records:?}");
    assert_eq!(records[0].on, before);
    assert_eq!(wrote(&mut rig, "f 2 3 8 3 1 . 2 Enter"), []);
    assert!(
        matches!(rig.notice(), Some(Notice::Refused(Refusal::NoDay(typed, NoDay::NotThere))) if typed == "31.2"),
        "{:?}",
        rig.notice()
    );
}

#[test]
fn a_day_is_read_as_people_write_it() {
    let day = |text: &str| text.parse::<NaiveDate>().expect("a day");
    let today = day("2026-05-14");
    for (text, meant) in [
        ("14", "2026-05-14"),
        ("15", "2026-04-15"),
        ("31", "2026-03-31"),
        ("30 4", "2026-04-30"),
        ("30.4.", "2026-04-30"),
        ("30/4", "2026-04-30"),
        ("30 Apr", "2026-04-30"),
        ("30 april", "2026-04-30"),
        ("15 5", "2025-05-15"),
        ("29 2", "2024-02-29"),
        ("1 5 26", "2026-05-01"),
        ("1.5.2024", "2024-05-01"),
        ("2026-04-30", "2026-04-30"),
    ] {
        assert_eq!(gone_by(text, today), Ok(day(meant)), "{text}");
    }
    for (text, why) in [
        ("", NoDay::Unread),
        ("soon", NoDay::Unread),
        ("1 2 3 4", NoDay::Unread),
        ("0", NoDay::NotThere),
        ("32", NoDay::NotThere),
        ("31 2", NoDay::NotThere),
        ("1 13", NoDay::NotThere),
        ("15 5 2026", NoDay::ToCome),
        ("2026-05-15", NoDay::ToCome),
        ("1 1 99999999999", NoDay::Unread),
    ] {
        assert_eq!(gone_by(text, today), Err(why), "{text}");
    }
}

#[test]
fn a_day_to_come_is_the_next_one_that_is_meant() {
    let day = |text: &str| text.parse::<NaiveDate>().expect("a day");
    let today = day("2026-05-14");
    for (text, meant) in [
        ("15", "2026-05-15"),
        ("14", "2026-06-14"),
        ("31", "2026-05-31"),
        ("1 Aug", "2026-08-01"),
        ("12.8.", "2026-08-12"),
        ("13 5", "2027-05-13"),
        ("29 2", "2028-02-29"),
        ("1 1 27", "2027-01-01"),
        ("2026-05-15", "2026-05-15"),
    ] {
        assert_eq!(to_come(text, today), Ok(day(meant)), "{text}");
    }
    for (text, why) in [
        ("", NoDay::Unread),
        ("soon", NoDay::Unread),
        ("0", NoDay::NotThere),
        ("31 2", NoDay::NotThere),
        ("1 13", NoDay::NotThere),
        ("31 2 2027", NoDay::NotThere),
        ("14 5 2026", NoDay::GoneBy),
        ("2026-05-14", NoDay::GoneBy),
        ("1 1 99999999999", NoDay::Unread),
    ] {
        assert_eq!(to_come(text, today), Err(why), "{text}");
    }
}
