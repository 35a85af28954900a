//! Flags against their sources: each is raised at its number and not one short of it.

use crate::support::cow::{Cow, HEEL, SOLE, after, grade, stage};
use crushbook::domain::anatomy::{Foot, Horn, Place, Side};
use crushbook::domain::event::{Event, Item};
use crushbook::domain::finding::{Degree, Finding, Grade, Stage};
use crushbook::domain::flag::{FLAGS, Flag, Kind, flags};
use crushbook::domain::follow_up::rules::{RuleSet, named};
use crushbook::domain::herd::Leaving;
use crushbook::domain::practice::Region;
use crushbook::domain::treatment::{BlockKind, Off, Outcome, Put, SkinState};
use crushbook::domain::vocabulary::Vocabulary;
use crushbook::report::flag::{line, short};
use crushbook::report::words::Words;

const WORDS: Words = Words(Region::Plain);

fn on(cow: &Cow, days: u64) -> Vec<Flag> {
    flags(&cow.history(), &RuleSet::default(), after(days))
}

fn kinds(cow: &Cow, days: u64) -> Vec<Kind> {
    on(cow, days).iter().map(|flag| flag.kind).collect()
}

#[test]
fn every_kind_has_one_row_with_its_source() {
    let rows: Vec<Kind> = FLAGS.iter().map(|row| row.kind).collect();
    assert_eq!(rows, Kind::ALL);
    assert!(FLAGS.iter().all(|row| !row.source.is_empty()));
    // Rows that hang on a rule name one that there is.
    for row in &FLAGS {
        let rule = row.source.strip_prefix("rule ").and_then(|rest| rest.split(':').next());
        if let Some((section, name)) = rule.and_then(|rule| rule.split_once('.')) {
            assert!(named(section, name).is_some(), "{}", row.source);
        }
    }
}

#[test]
fn an_ulcer_open_longer_than_such_horn_takes_to_close() {
    // Horn closed in 25, 33 and 42 days, slight, moderate and severe (74 cows; trade.md 6). No grade counts as severe.
    for (told, limit) in
        [(grade(Grade::Light), 25), (grade(Grade::Moderate), 33), (grade(Grade::Severe), 42), (Degree::NotGiven, 42)]
    {
        for (days, late) in [(limit, false), (limit + 1, true)] {
            let mut cow = Cow::new();
            let case = cow.find(SOLE, Finding::SU, told);
            cow.again(days);
            cow.answer(case, Outcome::Better);
            assert_eq!(kinds(&cow, days).contains(&Kind::HealedLate), late, "{told:?} {days}");
        }
    }
    // Seen healed only late is not healed late: nobody had looked.
    let mut cow = Cow::new();
    let case = cow.ulcer();
    cow.again(90);
    cow.answer(case, Outcome::Healed);
    assert_eq!(kinds(&cow, 90), []);
    // A white line abscess has no such number in the source.
    let mut cow = Cow::new();
    let place = Place::Horn(Foot::LeftHind, Side::Outer, Horn::WhiteLine);
    let case = cow.find(place, Finding::WLA, grade(Grade::Severe));
    cow.again(90);
    cow.answer(case, Outcome::Same);
    assert_eq!(kinds(&cow, 90), []);
}

#[test]
fn worse_at_two_looks_running() {
    let mut cow = Cow::new();
    let case = cow.ulcer();
    cow.again(5);
    cow.answer(case, Outcome::Worse);
    assert_eq!(kinds(&cow, 5), []);
    cow.again(8);
    cow.answer(case, Outcome::NotLooked);
    assert_eq!(kinds(&cow, 8), [], "not looked at is no look");
    cow.again(10);
    cow.answer(case, Outcome::Worse);
    assert_eq!(kinds(&cow, 10), [Kind::WorseTwice]);
    cow.again(15);
    cow.answer(case, Outcome::Better);
    assert_eq!(kinds(&cow, 15), []);
}

/// Ulcers at one claw, each healed a week later.
fn ulcers(cow: &mut Cow, days: &[u64]) {
    for day in days {
        cow.again(*day);
        let case = cow.ulcer();
        cow.again(day + 7);
        cow.answer(case, Outcome::Healed);
    }
}

#[test]
fn the_third_case_at_a_claw_within_a_year() {
    let mut cow = Cow::new();
    ulcers(&mut cow, &[1, 100]);
    assert_eq!(kinds(&cow, 107), []);
    cow.again(366);
    cow.find(Place::Horn(Foot::LeftHind, Side::Outer, Horn::ToeWhiteLine), Finding::WLA, Degree::NotGiven);
    let raised = on(&cow, 366);
    assert_eq!(raised.len(), 1, "{raised:?}");
    let claw = Place::Claw(Foot::LeftHind, Side::Outer);
    assert_eq!((raised[0].kind, raised[0].place, raised[0].count), (Kind::Third, claw, 3));
    assert_eq!(raised[0].since, after(1));
    assert_eq!(kinds(&cow, 367), [], "the first is a year and a day old");
    // On the other claw it is another count.
    let mut cow = Cow::new();
    ulcers(&mut cow, &[1, 100]);
    cow.again(200);
    cow.find(SOLE.at_partner().expect("a claw"), Finding::SU, Degree::NotGiven);
    assert_eq!(kinds(&cow, 200), []);
}

#[test]
fn worn_heels_and_shapes_raise_nothing() {
    let mut cow = Cow::new();
    for day in [0, 60, 120, 170] {
        cow.again(day + 1);
        for foot in [Foot::LeftHind, Foot::RightHind] {
            cow.find(Place::Horn(foot, Side::Outer, Horn::Bulb), Finding::HHE, grade(Grade::Light));
            cow.find(Place::Claw(foot, Side::Inner), Finding::CC, Degree::NotGiven);
        }
    }
    assert_eq!(kinds(&cow, 171), []);
}

#[test]
fn dermatitis_back_soon_after_it_had_healed() {
    for (days, back) in [(60, true), (61, false)] {
        let mut cow = Cow::new();
        let case = cow.find(HEEL, Finding::DD, stage(Stage::M2));
        cow.again(10);
        cow.stage(case, Stage::M0);
        cow.again(10 + days);
        cow.find(HEEL, Finding::DD, stage(Stage::M1));
        let raised = on(&cow, 10 + days);
        assert_eq!(raised.iter().any(|flag| flag.kind == Kind::Back && flag.count == days as i64), back, "{raised:?}");
    }
    // Taken for healed and found again on the same day is a word corrected.
    let mut cow = Cow::new();
    let case = cow.find(HEEL, Finding::DD, stage(Stage::M2));
    cow.again(10);
    cow.stage(case, Stage::M0);
    cow.find(HEEL, Finding::DD, stage(Stage::M1));
    assert_eq!(kinds(&cow, 10), []);
}

#[test]
fn the_same_on_the_opposite_foot_is_told_once() {
    let across = SOLE.at_foot(Foot::RightHind);
    let mut cow = Cow::new();
    let first = cow.ulcer();
    cow.again(10);
    cow.find(across, Finding::SU, Degree::NotGiven);
    let raised = on(&cow, 10);
    assert_eq!(raised.iter().map(|flag| (flag.kind, flag.place)).collect::<Vec<_>>(), [(Kind::Opposite, across)]);
    cow.answer(first, Outcome::Healed);
    assert_eq!(kinds(&cow, 10), []);
    // An ulcer here and dermatitis there are two things.
    let mut cow = Cow::new();
    cow.ulcer();
    cow.find(HEEL, Finding::DD, stage(Stage::M2));
    assert_eq!(kinds(&cow, 0), []);
}

#[test]
fn a_blocked_claw_that_is_sore_itself() {
    let mut cow = Cow::new();
    cow.ulcer();
    let block = |side| Put::Block { foot: Foot::LeftHind, side, kind: BlockKind::Wood };
    let (animal, turn) = (cow.animal, cow.turn);
    cow.tablet.put(after(0), animal, turn, block(Side::Inner));
    assert_eq!(kinds(&cow, 0), [], "on the sound partner");
    let wrong = cow.tablet.put(after(0), animal, turn, block(Side::Outer));
    assert_eq!(kinds(&cow, 0), [Kind::BlockedSore]);
    let off =
        Event::SeenOff { turn: Some(turn), item: Item::Known(wrong), outcome: Off::TakenOff, skin: SkinState::NotTold };
    cow.write(off);
    assert_eq!(kinds(&cow, 0), []);
}

#[test]
fn overdue_for_a_trim_and_never_once_she_left() {
    let mut cow = Cow::new();
    assert_eq!(kinds(&cow, 999), [], "never trimmed here: nobody knows when she was");
    let looked = |turn| Event::Looked { turn, foot: Foot::LeftHind, lifted: true, trimmed: true, all_seen: true };
    let event = looked(cow.turn);
    cow.write(event);
    // Twice a year: common practice, 180 days by default.
    assert_eq!((kinds(&cow, 180), kinds(&cow, 181)), (vec![], vec![Kind::Overdue]));
    cow.again(181);
    let event = looked(cow.turn);
    cow.write(event);
    assert_eq!(kinds(&cow, 181), []);
    let animal = cow.animal;
    cow.write(Event::Left { animal, why: Leaving::Sold, words: String::new() });
    assert_eq!(kinds(&cow, 999), []);
}

/// Of the hind feet the one that waits longer: both are trimmed, since 38 % were lame on the other side later (Thomas et al. 2016).
#[test]
fn a_hind_foot_that_was_left_is_overdue_though_the_other_was_trimmed() {
    let trim = |cow: &mut Cow, feet: &[Foot], trimmed: bool| {
        for foot in feet {
            let event = Event::Looked { turn: cow.turn, foot: *foot, lifted: true, trimmed, all_seen: true };
            cow.write(event);
        }
    };
    let (left, right) = (Foot::LeftHind, Foot::RightHind);
    let mut cow = Cow::new();
    trim(&mut cow, &[left, right], true);
    cow.again(100);
    trim(&mut cow, &[left], true);
    assert_eq!(kinds(&cow, 180), []);
    let flags = on(&cow, 181);
    assert_eq!(
        flags.iter().map(|flag| (flag.kind, flag.place, flag.since)).collect::<Vec<_>>(),
        [(Kind::Overdue, Place::Foot(right), after(0))]
    );
    assert_eq!(line(&flags[0], WORDS), "RH not trimmed for 181 days (rule 180)");
    assert_eq!(short(&flags[0], WORDS), "RH no trim for 181 d");
    // Seen all round and not trimmed is no trim.
    cow.again(170);
    trim(&mut cow, &[left, right], false);
    assert_eq!(kinds(&cow, 181), [Kind::Overdue]);
    cow.again(175);
    trim(&mut cow, &[right], true);
    assert_eq!(kinds(&cow, 281)[..], [Kind::Overdue][..], "now the other one");
    assert_eq!(on(&cow, 281)[0].place, Place::Foot(left));
    // Both on one day: she, and no foot of hers. A foot that has lost both claws is not waited for.
    let mut both = Cow::new();
    trim(&mut both, &[left, right], true);
    assert_eq!(on(&both, 181)[0].place, Place::Animal);
    let animal = both.animal;
    for side in [Side::Outer, Side::Inner] {
        both.write(Event::ClawGone { animal, foot: right, side });
    }
    both.again(100);
    trim(&mut both, &[left], true);
    assert_eq!(kinds(&both, 181), []);
}

#[test]
fn every_flag_says_its_reason_and_is_short_enough_for_the_smallest_screen() {
    for kind in Kind::ALL {
        for region in Region::ALL {
            let words = Words(*region);
            let place = Place::Horn(Foot::LeftHind, Side::Outer, Horn::SoleBulb);
            let what = Some(Finding::SU);
            let flag = Flag { kind: *kind, place, what, since: after(3), count: 123, limit: 42 };
            let (long, short) = (line(&flag, words), short(&flag, words));
            assert!(long.len() > short.len() && !long.contains('{') && !short.contains('{'), "{long}");
            // Two lines of 19 columns at 60x20.
            assert!(short.len() <= 36, "{short}");
        }
    }
    let mut cow = Cow::new();
    let case = cow.find(SOLE, Finding::SU, grade(Grade::Light));
    cow.again(40);
    cow.answer(case, Outcome::Same);
    assert_eq!(
        line(&on(&cow, 40)[0], WORDS),
        "LH outer 4 sole ulcer: still there after 40 days, such horn closes in 25"
    );
}
