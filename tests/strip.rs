//! The strip: one column a turn, one row a foot, never wider than the room, the newest turns kept and the rest told.

use crate::support::cow::{Cow, HEEL, SOLE, after, grade, stage};
use crushbook::domain::anatomy::{Foot, Side};
use crushbook::domain::event::Event;
use crushbook::domain::finding::{Degree, Finding, Grade, Stage};
use crushbook::domain::history::History;
use crushbook::domain::practice::Region;
use crushbook::domain::strip::strip;
use crushbook::domain::treatment::{BlockKind, Gait, GaitScale, Outcome, Put};
use crushbook::domain::vocabulary::Vocabulary;
use crushbook::report::strip::lines;
use crushbook::report::words::Words;

const PLAIN: Words = Words(Region::Plain);

fn drawn(history: &History, columns: usize) -> Vec<String> {
    lines(&strip(history), columns, PLAIN)
}

#[test]
fn each_cell_tells_what_was_there_then() {
    let mut cow = Cow::new();
    let ulcer = cow.find(SOLE, Finding::SU, grade(Grade::Severe));
    cow.find(SOLE.at_partner().expect("a claw"), Finding::HHE, grade(Grade::Light));
    cow.find(HEEL, Finding::DD, stage(Stage::M2));
    let (animal, turn) = (cow.animal, cow.turn);
    cow.tablet.put(
        after(0),
        animal,
        turn,
        Put::Block { foot: Foot::LeftHind, side: Side::Inner, kind: BlockKind::Wood },
    );
    cow.tablet.put(after(0), animal, turn, Put::Wrap { over: HEEL, colour: None });
    cow.write(Event::Walked { turn: Some(turn), gait: Gait { scale: GaitScale::ZeroToThree, score: 2 } });
    let turn = cow.again(21);
    cow.answer(ulcer, Outcome::Healed);
    cow.write(Event::Looked { turn, foot: Foot::LeftFront, lifted: true, trimmed: true, all_seen: true });
    // A column is as wide as its longest cell, and one blank.
    assert_eq!(
        drawn(&cow.history(), 80),
        [
            "2 turns, the newest last",
            "     1 May  22 May",
            "     2026",
            "LF   -      .",
            "RF   -      -",
            "LH   SU!+1# healed",
            "RH   M2/    -",
            "gait 2/3",
            "- not looked at  . nothing found  su? left open  +1 more  on: # block, / wrap",
        ]
    );
}

#[test]
fn at_no_width_is_it_wider_than_the_room_and_it_says_what_it_leaves_out() {
    let mut cow = Cow::new();
    for day in 1..40 {
        cow.again(day * 9);
        cow.find(SOLE, Finding::WLA, grade(Grade::Severe));
        cow.find(SOLE.at_partner().expect("a claw"), Finding::HFA, Degree::NotGiven);
    }
    for region in Region::ALL {
        for columns in [58, 60, 78, 80, 118] {
            let drawn = lines(&strip(&cow.history()), columns, Words(*region));
            assert!(drawn.iter().all(|line| line.len() <= columns), "{columns}: {drawn:#?}");
            let (shown, left) = (drawn[1].split_whitespace().count() / 2, "earlier left out");
            assert_eq!(drawn[0], format!("the newest {shown} of 40 turns, {} {left}", 40 - shown));
            assert!(drawn[1].ends_with(&after(39 * 9).format("%-d %b").to_string()), "the newest is kept: {drawn:#?}");
        }
    }
    // Seven turns and more at 80 columns.
    assert!(drawn(&cow.history(), 80)[1].split_whitespace().count() / 2 >= 7);
}

#[test]
fn a_mark_that_nobody_answered_is_not_nothing_found() {
    let mut cow = Cow::new();
    let ulcer = cow.find(SOLE, Finding::SU, grade(Grade::Severe));
    let looked = |cow: &mut Cow, turn| {
        cow.write(Event::Looked { turn, foot: Foot::LeftHind, lifted: true, trimmed: true, all_seen: true });
    };
    let turn = cow.again(14);
    looked(&mut cow, turn);
    let turn = cow.again(28);
    cow.answer(ulcer, Outcome::Healed);
    looked(&mut cow, turn);
    let turn = cow.again(42);
    looked(&mut cow, turn);
    // In small letters and with a question, as on the map; once it has healed, nothing was found there.
    assert_eq!(drawn(&cow.history(), 80)[5], "LH   SU!    su?    healed .");
}
