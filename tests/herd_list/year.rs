//! Where an animal stands in her year, in one line. Days are counted by hand.

use crate::screens::world::screen;
use crate::stories::rig::Rig;
use crate::support::tablet::{Tablet, day};
use chrono::{Days, NaiveDate};
use crushbook::domain::anatomy::{Foot, Place};
use crushbook::domain::event::Event;
use crushbook::domain::herd::{Herd, Status};
use crushbook::domain::treatment::{Colour, Milking, OffBy, Put};
use crushbook::domain::vocabulary::Vocabulary;
use crushbook::keys::keymap::BuiltIn;
use crushbook::report::herd::year;

/// 14 May 2026 and so many days before it.
fn ago(days: u64) -> Option<NaiveDate> {
    Some(day(14) - Days::new(days))
}

fn ahead(days: u64) -> Option<NaiveDate> {
    Some(day(14) + Days::new(days))
}

#[test]
fn lactation_days_in_milk_and_days_to_calving_stand_in_one_line() {
    let herd = |status, calved, dry_from, due_to_calve| Herd {
        status,
        calved,
        dry_from,
        due_to_calve,
        lactation: Some(3),
        ..Herd::default()
    };
    use Status::{Dry, Heifer, InMilk, Male};
    let table = [
        (herd(Some(InMilk), ago(254), None, None), "lactation 3, 254 days in milk"),
        (herd(None, ago(1), None, None), "lactation 3, 1 day in milk"),
        (herd(Some(Dry), ago(330), ago(20), ahead(40)), "lactation 3, dry 20 days, calves in 40 days"),
        (herd(None, ago(330), ago(20), ahead(1)), "lactation 3, dry 20 days, calves in 1 day"),
        (herd(Some(Dry), ago(330), None, ahead(0)), "lactation 3, dry, due to calve today"),
        (herd(Some(Dry), ago(330), ago(60), ago(3)), "lactation 3, dry 60 days, was due to calve 3 days ago"),
        // She calved since: the dry time and the due day before it are over, though nobody took them out.
        (herd(Some(InMilk), ago(5), ago(60), ago(3)), "lactation 3, 5 days in milk"),
        // In milk again, and nobody said when she calved.
        (herd(Some(InMilk), ago(400), ago(60), None), "lactation 3"),
        // To be dried off.
        (herd(Some(InMilk), ago(300), ahead(6), ahead(66)), "lactation 3, 300 days in milk, calves in 66 days"),
        (herd(Some(Heifer), None, None, ahead(9)), "lactation 3, heifer, calves in 9 days"),
        (herd(Some(Male), None, None, None), "lactation 3"),
        // A list may tell a calving that is still to come.
        (herd(None, ahead(2), None, None), "lactation 3"),
    ];
    for (herd, line) in table {
        assert_eq!(year(&herd, day(14)), line, "{herd:?}");
    }
    assert_eq!(year(&Herd::default(), day(14)), "");
}

/// Cow 7, who was in the crush on the second of May, with a wrap on so many feet; it may be told that she calved on the first.
fn in_the_crush(wraps: usize, told: bool) -> Rig {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    let animal = tablet.animal(day(1), farm, "7");
    let herd = Herd { lactation: Some(3), calved: Some(day(1)), status: Some(Status::InMilk), ..Herd::default() };
    if told {
        tablet.write(day(1), animal.0, Event::Described { animal, herd });
    }
    let visit = tablet.visit(day(2), farm);
    let turn = tablet.turn(day(2), visit, animal);
    tablet.write(day(2), animal.0, Event::TurnSigned { turn, open: vec![] });
    for foot in Foot::ALL.iter().take(wraps) {
        let put = Put::Wrap { over: Place::Foot(*foot), colour: Some(Colour::Blue) };
        let off_by = Some(OffBy { day: day(9), milking: Milking::Evening });
        let on = Event::PutOn { turn: None, put, off_by, remover: "Tom".into(), by_others: "the vet".into() };
        tablet.write(day(8), animal.0, on);
    }
    let mut rig = Rig::over(BuiltIn::TwoHands, &tablet.seen, "Thistle Bank");
    rig.press("7 Enter");
    rig
}

#[test]
fn it_stands_beside_the_map_and_on_last_time() {
    let mut rig = in_the_crush(1, true);
    for size in [(60, 20), (80, 24), (120, 40)] {
        let drawn = screen(&rig, BuiltIn::TwoHands, size);
        assert!(drawn.contains("lactation 3, 8") && drawn.contains("LF blue WRAP"), "{size:?}\n{drawn}");
    }
    rig.press("l");
    let drawn = screen(&rig, BuiltIn::TwoHands, (120, 40));
    assert!(drawn.contains("now: lactation 3, 8 days in milk"), "{drawn}");
}

#[test]
fn it_takes_the_place_of_nothing_that_is_on_a_foot() {
    let [told, untold] = [true, false].map(|told| in_the_crush(4, told));
    let [with, without] = [&told, &untold].map(|rig| screen(rig, BuiltIn::TwoHands, (60, 20)));
    assert!(with.contains("blue WRAP") && with.contains("more lines"), "more than has room\n{with}");
    assert_eq!(with, without);
    assert!(screen(&told, BuiltIn::TwoHands, (80, 24)).contains("lactation 3, 8 days in milk"));
}
