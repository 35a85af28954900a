//! Wraps and blocks: what closes them, and what never does.

use crate::support::tablet::{Tablet, day};
use crushbook::domain::anatomy::{Foot, Place, Side, Skin};
use crushbook::domain::event::{Event, Item};
use crushbook::domain::finding::{Degree, Finding};
use crushbook::domain::follow_up::Urgency;
use crushbook::domain::follow_up::list::list;
use crushbook::domain::follow_up::rules::Rules;
use crushbook::domain::herd::Leaving;
use crushbook::domain::history::open::{Knowing, Open, OpenItem};
use crushbook::domain::history::{DoubtWhat, History};
use crushbook::domain::ids::PutId;
use crushbook::domain::treatment::{BlockKind, Colour, Means, Off, Put, Sign, SkinState, Word};

const HEEL: Place = Place::Skin(Foot::LeftHind, Skin::Heel);

fn wrap() -> Put {
    Put::Wrap { over: HEEL, colour: Some(Colour::Blue) }
}

fn wraps_on(history: &History) -> Vec<PutId> {
    history
        .open
        .iter()
        .filter_map(|item| match item {
            OpenItem::On { put, .. } => Some(*put),
            _ => None,
        })
        .collect()
}

fn knowing(history: &History) -> Option<Knowing> {
    history.open.iter().find_map(|item| match item {
        OpenItem::On { knowing, .. } => Some(*knowing),
        _ => None,
    })
}

#[test]
fn a_removal_on_monday_never_closes_a_wrap_put_on_by_another_on_thursday() {
    let mut one = Tablet::new(1);
    let farm = one.farm(day(1));
    let cow = one.animal(day(1), farm, "1382");
    let mut two = Tablet::new(2);
    two.meet(&one);

    // Monday 4 May: tablet two takes off something nobody knew of. Its clock and counter run far ahead.
    two.tick = 900;
    let visit = two.visit(day(4), farm);
    let turn = two.turn(day(4), visit, cow);
    let off = Event::SeenOff { turn: Some(turn), item: Item::Met(HEEL), outcome: Off::Bare, skin: SkinState::Sound };
    two.write(day(4), cow.0, off);

    // Thursday 7 May: tablet one, which has not met the other, puts a wrap on.
    let visit = one.visit(day(7), farm);
    let turn = one.turn(day(7), visit, cow);
    let put = one.put(day(7), cow, turn, wrap());

    one.meet(&two);
    assert_eq!(wraps_on(&one.history(cow)), [put]);
}

#[test]
fn a_removal_by_place_closes_a_wrap_of_an_earlier_day() {
    let mut one = Tablet::new(1);
    let farm = one.farm(day(1));
    let cow = one.animal(day(1), farm, "1382");
    let mut two = Tablet::new(2);
    two.meet(&one);
    let visit = one.visit(day(4), farm);
    let turn = one.turn(day(4), visit, cow);
    one.put(day(4), cow, turn, wrap());
    let visit = two.visit(day(7), farm);
    let turn = two.turn(day(7), visit, cow);
    let met = Event::SeenOff {
        turn: Some(turn),
        item: Item::Met(Place::Foot(Foot::LeftHind)),
        outcome: Off::Bare,
        skin: SkinState::NotTold,
    };
    two.write(day(7), cow.0, met);
    one.meet(&two);
    assert!(wraps_on(&one.history(cow)).is_empty());
}

#[test]
fn told_off_stays_open_as_ring_look_and_only_seen_bare_closes() {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    let cow = tablet.animal(day(1), farm, "1382");
    let visit = tablet.visit(day(1), farm);
    let turn = tablet.turn(day(1), visit, cow);
    let put = tablet.put(day(1), cow, turn, wrap());
    for (word, expected) in [
        (Word::NoAnswer, Knowing::Asked),
        (Word::Off, Knowing::ToldOff),
        (Word::Felt, Knowing::ToldBare),
        (Word::StillOn, Knowing::StillOn),
    ] {
        let told = Event::ToldOff { item: put, by: "Tom".into(), means: Means::Telephone, word };
        tablet.write(day(4), cow.0, told);
        assert_eq!(knowing(&tablet.history(cow)), Some(expected), "{word:?}");
    }
    let not_found =
        Event::SeenOff { turn: None, item: Item::Known(put), outcome: Off::NotFound, skin: SkinState::NotTold };
    tablet.write(day(5), cow.0, not_found);
    assert_eq!(wraps_on(&tablet.history(cow)), [put], "not found is not known off");
    let ring = Event::SeenOff { turn: None, item: Item::Known(put), outcome: Off::Ring, skin: SkinState::CutIn };
    let press = tablet.write(day(6), cow.0, ring);
    let history = tablet.history(cow);
    assert!(wraps_on(&history).is_empty());
    let vet = history.open.iter().any(|item| matches!(item, OpenItem::Vet { sign: Sign::CutIn, .. }));
    assert!(vet, "skin cut in under a wrap: the vet today (trade.md section 5)");
    tablet.write(day(6), cow.0, Event::Undone { press });
    assert_eq!(wraps_on(&tablet.history(cow)), [put], "undo brings it back");
}

#[test]
fn swollen_smelling_or_lamer_with_something_on_is_urgent_until_seen_or_told_bare() {
    // trade.md section 6: the farm rings that an animal with something on is swollen, smells or is lamer: urgent now.
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    let cow = tablet.animal(day(1), farm, "1382");
    let visit = tablet.visit(day(1), farm);
    let turn = tablet.turn(day(1), visit, cow);
    let put = tablet.put(day(1), cow, turn, wrap());
    let worst = |tablet: &Tablet, on: u32| {
        let open = [Open::of(&tablet.history(cow))];
        let list = list(&open, &Rules::default(), day(on));
        let item = list.items.first().expect("it is on the list");
        (item.due.urgency, item.due.day, item.is_loud())
    };
    let quiet = (Urgency::Coming, day(4), false);
    let urgent = (Urgency::Urgent, day(2), true);
    let told = |word| Event::ToldOff { item: put, by: "Tom".into(), means: Means::Telephone, word };
    let call = |urgent| Event::FarmCalled { farm, words: "smells".into(), urgent, caller: "Tom".into() };
    tablet.write(day(2), cow.0, call(false));
    assert_eq!(worst(&tablet, 2), quiet);
    let call = tablet.write(day(2), cow.0, call(true));
    assert_eq!(worst(&tablet, 2), urgent);
    tablet.write(day(2), cow.0, Event::Undone { press: call });
    assert_eq!(worst(&tablet, 2), quiet);
    tablet.write(day(2), cow.0, told(Word::Felt));
    tablet.write(day(2), cow.0, told(Word::Trouble));
    assert_eq!(worst(&tablet, 3), urgent, "also where all was said to be off and felt before");
    for word in [Word::NoAnswer, Word::Tonight, Word::Off, Word::StillOn, Word::KeeperTold] {
        tablet.write(day(3), cow.0, told(word));
        assert_eq!(worst(&tablet, 3), urgent, "{word:?}");
    }
    let seen = Event::SeenOff { turn: None, item: Item::Known(put), outcome: Off::LeftOn, skin: SkinState::NotTold };
    let seen = tablet.write(day(3), cow.0, seen);
    assert_eq!(worst(&tablet, 3), quiet, "the trimmer looked at it");
    tablet.write(day(3), cow.0, Event::Undone { press: seen });
    tablet.write(day(3), cow.0, told(Word::Felt));
    assert!(!worst(&tablet, 30).2);
}

#[test]
fn a_block_lost_early_beside_a_sole_ulcer_is_looked_at_soon() {
    // Lost before day 14 with SU, TU or WLA: look again now (common practice).
    for (days_on, soon) in [(13, true), (14, false)] {
        let mut tablet = Tablet::new(1);
        let farm = tablet.farm(day(1));
        let cow = tablet.animal(day(1), farm, "1382");
        let visit = tablet.visit(day(1), farm);
        let turn = tablet.turn(day(1), visit, cow);
        let place = Place::Horn(Foot::LeftHind, Side::Outer, crushbook::domain::anatomy::Horn::SoleBulb);
        let found = Event::Found { turn, place, what: Finding::SU, degree: Degree::NotGiven, words: String::new() };
        tablet.write(day(1), cow.0, found);
        let block = Put::Block { foot: Foot::LeftHind, side: Side::Inner, kind: BlockKind::Wood };
        let put = tablet.put(day(1), cow, turn, block);
        let fell =
            Event::SeenOff { turn: None, item: Item::Known(put), outcome: Off::FellOff, skin: SkinState::NotTold };
        tablet.write(day(1 + days_on), cow.0, fell);
        let history = tablet.history(cow);
        let owed = history.open.iter().any(|item| matches!(item, OpenItem::LookSoon { .. }));
        assert_eq!(owed, soon, "after {days_on} days");
    }
}

#[test]
fn something_met_on_the_foot_and_left_on_is_open_from_then() {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    let cow = tablet.animal(day(1), farm, "1382");
    let visit = tablet.visit(day(2), farm);
    let turn = tablet.turn(day(2), visit, cow);
    let met =
        Event::SeenOff { turn: Some(turn), item: Item::Met(HEEL), outcome: Off::LeftOn, skin: SkinState::NotTold };
    let met = tablet.write(day(2), cow.0, met);
    assert_eq!(wraps_on(&tablet.history(cow)), [PutId(met)]);
}

#[test]
fn a_turn_taken_back_on_one_tablet_keeps_the_wrap_another_put_on_in_it() {
    let mut one = Tablet::new(1);
    let farm = one.farm(day(1));
    let cow = one.animal(day(1), farm, "1382");
    let visit = one.visit(day(1), farm);
    let turn = one.turn(day(1), visit, cow);
    let mut two = Tablet::new(2);
    two.meet(&one);
    let put = two.put(day(1), cow, turn, wrap());
    one.write(day(1), cow.0, Event::Undone { press: turn.0 });
    one.meet(&two);
    let history = one.history(cow);
    assert_eq!(wraps_on(&history), [put]);
    assert!(history.doubts.iter().any(|doubt| doubt.what == DoubtWhat::TurnTakenBack));
}

#[test]
fn a_removal_by_place_on_the_same_day_by_another_tablet_leaves_the_wrap_on_the_list() {
    // Nobody knows which came first: the safe side is that it is still on.
    let mut one = Tablet::new(1);
    let farm = one.farm(day(1));
    let cow = one.animal(day(1), farm, "1382");
    let visit = one.visit(day(4), farm);
    let turn = one.turn(day(4), visit, cow);
    let mut two = Tablet::new(2);
    two.meet(&one);
    let put = one.put(day(4), cow, turn, wrap());
    two.tick = 900;
    let met = |series: &mut Tablet| {
        let event = Event::SeenOff { turn: None, item: Item::Met(HEEL), outcome: Off::Bare, skin: SkinState::NotTold };
        series.write(day(4), cow.0, event);
    };
    met(&mut two);
    one.meet(&two);
    assert_eq!(wraps_on(&one.history(cow)), [put]);
    // The tablet that put it on knows the order.
    met(&mut one);
    assert!(wraps_on(&one.history(cow)).is_empty());
}

#[test]
fn gone_not_told_how_says_nothing_new_of_one_who_was_sold() {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    let cow = tablet.animal(day(1), farm, "7");
    let left = |why| Event::Left { animal: cow, why, words: String::new() };
    tablet.write(day(2), cow.0, left(Leaving::Sold));
    tablet.write(day(3), cow.0, left(Leaving::Gone));
    assert_eq!(tablet.history(cow).left, Some((Leaving::Sold, day(2))));
    tablet.write(day(4), cow.0, left(Leaving::Died));
    assert_eq!(tablet.history(cow).left, Some((Leaving::Died, day(4))), "a way that was told does");
}
