//! What goes into the calendar, how often it was touched, and when it is taken back.

use super::world::{World, wrap};
use crate::support::tablet::{Tablet, day};
use crushbook::domain::anatomy::{Foot, Place, Side};
use crushbook::domain::event::{Event, Item, PutDetail};
use crushbook::domain::herd::{Labels, Leaving, Status};
use crushbook::domain::ids::{PutId, RecordId};
use crushbook::domain::treatment::{Milking, Off, OffBy, Put, SkinState, Word};
use crushbook::report::take_off::Animal;

/// Whether the only entry is cancelled, and how often it was touched.
fn only(world: &World, of_may: u32) -> (bool, usize) {
    let entries = world.entries(day(of_may));
    assert_eq!(entries.len(), 1, "{entries:#?}");
    (entries[0].cancelled, entries[0].sequence)
}

#[test]
fn the_same_book_gives_the_same_bytes_on_any_day() {
    let mut world = World::new();
    world.wrapped(day(1), "1394");
    world.blocked(day(1), "1387");
    let (animal, _, put) = world.wrapped(day(1), "1391");
    world.told(day(3), animal, put, Word::Off, "Tom");
    let first = world.ics(day(2));
    assert_eq!(first.matches("BEGIN:VEVENT").count(), 3);
    for days in [2, 3, 9, 30, 70, 400] {
        assert_eq!(world.ics(day(1) + chrono::Days::new(days)), first, "{days} days on");
    }
    world.animals.reverse();
    world.tablet.seen.reverse();
    assert_eq!(world.ics(day(2)), first, "in whatever order they are read");
}

#[test]
fn it_is_cancelled_when_it_was_seen_bare() {
    let mut world = World::new();
    let (animal, _, put) = world.wrapped(day(1), "1394");
    let (cancelled, before) = only(&world, 2);
    assert!(!cancelled);
    world.seen(day(4), animal, put, Off::LeftOn);
    let (cancelled, left_on) = only(&world, 4);
    assert!(!cancelled && left_on > before);
    world.seen(day(5), animal, put, Off::Bare);
    let (cancelled, after) = only(&world, 5);
    assert!(cancelled && after > left_on);
    // For sixty days, and then no more.
    let on = |days: u64| world.entries(day(5) + chrono::Days::new(days)).len();
    assert_eq!([59, 60, 61].map(on), [1, 1, 0]);
    // A new number, a herd list or a new vet does not bring it back.
    let later = day(5) + chrono::Days::new(100);
    world.status(later, animal, Status::Dry, "far field");
    world.vet_phone(later, "01632 960188");
    assert_eq!(world.entries(later), []);
}

/// Everything after which an animal with a wrap needs nobody any more, or needs somebody again.
#[test]
fn whatever_takes_it_off_the_list_cancels_it() {
    type Change = fn(&mut World, crushbook::domain::ids::AnimalId, PutId);
    let changes: [(&str, Change); 7] = [
        ("felt", |world, animal, put| {
            world.told(day(3), animal, put, Word::Felt, "Tom");
        }),
        ("met bare", |world, animal, _| {
            let turn = world.tablet.turn(day(3), world.visit, animal);
            let item = Item::Met(Place::Foot(Foot::LeftHind));
            let event = Event::SeenOff { turn: Some(turn), item, outcome: Off::AlreadyOff, skin: SkinState::Sound };
            world.tablet.write(day(3), animal.0, event);
        }),
        ("sold, and the keeper told", |world, animal, put| {
            world.tablet.write(day(3), animal.0, Event::Left { animal, why: Leaving::Sold, words: String::new() });
            world.told(day(3), animal, put, Word::KeeperTold, "Tom");
        }),
        ("dead", |world, animal, _| {
            world.tablet.write(day(3), animal.0, Event::Left { animal, why: Leaving::Died, words: String::new() });
        }),
        ("undone", |world, animal, put| {
            world.tablet.write(day(3), animal.0, Event::Undone { press: put.0 });
        }),
        ("corrected into a dressing", |world, animal, put| {
            let dressing = Put::Dressing { place: Place::Foot(Foot::LeftHind), product: "paste".into() };
            let to = Event::PutOn { turn: None, put: dressing, off_by: None, remover: "".into(), by_others: "".into() };
            let event = Event::Corrected { of: put.0, to: Box::new(to), why: "no wrap".into() };
            world.tablet.write(day(3), animal.0, event);
        }),
        ("turn moved away", |world, animal, _| {
            let turn = world.tablet.history(animal).turns[0].id;
            let stranger = world.tablet.animal(day(3), world.farm, "9");
            world.tablet.write(day(3), animal.0, Event::TurnMoved { turn, to: stranger });
        }),
    ];
    for (name, change) in changes {
        let mut world = World::new();
        let (animal, _, put) = world.wrapped(day(1), "1394");
        let (_, before) = only(&world, 2);
        change(&mut world, animal, put);
        let (cancelled, after) = only(&world, 4);
        assert!(cancelled && after > before, "{name}: {before} {after}");
        let entry = world.entries(day(4)).remove(0);
        assert_eq!(entry.summary, "Not needed: 1394 BACK LEFT: BLUE WRAP", "{name}");
        assert_eq!((entry.id, entry.off_by.day), (put.0, day(4)), "{name}");
    }
}

#[test]
fn an_undo_taken_back_stands_again() {
    let mut world = World::new();
    let (animal, _, put) = world.wrapped(day(1), "1394");
    let (_, first) = only(&world, 2);
    let undo = world.tablet.write(day(2), animal.0, Event::Undone { press: put.0 });
    let (cancelled, second) = only(&world, 2);
    assert!(cancelled && second > first);
    world.tablet.write(day(2), animal.0, Event::Redone { undo });
    let (cancelled, third) = only(&world, 2);
    assert!(!cancelled && third > second);
}

#[test]
fn a_turn_moved_to_another_animal_of_the_farm_takes_its_entry_along() {
    let mut world = World::new();
    let (wrong, turn, put) = world.wrapped(day(1), "1394");
    let right = world.tablet.animal(day(1), world.farm, "1349");
    world.animals.push(right);
    let before = world.entries(day(2))[0].sequence;
    world.tablet.write(day(2), wrong.0, Event::TurnMoved { turn, to: right });
    let entries = world.entries(day(2));
    assert_eq!(entries.len(), 1, "{entries:#?}");
    assert_eq!((entries[0].id, entries[0].cancelled), (put.0, false));
    assert!(entries[0].summary.starts_with("1349 ") && entries[0].sequence > before, "{entries:#?}");
}

#[test]
fn whatever_changes_a_word_of_it_counts() {
    type Change = fn(&mut World, crushbook::domain::ids::AnimalId, PutId);
    let changes: [(&str, Change); 5] = [
        ("the day", |world, animal, put| {
            let detail = PutDetail::OffBy(OffBy { day: day(8), milking: Milking::Morning });
            world.tablet.write(day(2), animal.0, Event::PutDetailed { put, detail });
        }),
        ("who", |world, animal, put| {
            let detail = PutDetail::Remover("Hester".into());
            world.tablet.write(day(2), animal.0, Event::PutDetailed { put, detail });
        }),
        ("her number", |world, animal, _| {
            let labels = Labels { number: "2394".into(), ..Labels::default() };
            world.tablet.write(day(2), animal.0, Event::Renumbered { animal, labels });
        }),
        ("the vet's number", |world, _, _| {
            world.vet_phone(day(2), "01632 960188");
            world.named.vet_phone = "01632 960188".into();
        }),
        ("said to be off", |world, animal, put| {
            world.told(day(2), animal, put, Word::Off, "Tom");
        }),
    ];
    for (name, change) in changes {
        let mut world = World::new();
        let (animal, _, put) = world.wrapped(day(1), "1394");
        let before = world.entries(day(2)).remove(0);
        change(&mut world, animal, put);
        let after = world.entries(day(2)).remove(0);
        let said = |entry: &crushbook::report::take_off::calendar::Entry| {
            (entry.off_by, entry.summary.clone(), entry.description.clone())
        };
        assert_ne!(said(&before), said(&after), "{name}");
        assert_eq!((after.sequence, after.id), (before.sequence + 1, before.id), "{name}");
        assert!(after.stamp > before.stamp, "{name}");
    }
    // A rule that was adopted may move every day that nobody promised.
    let mut world = World::new();
    world.blocked(day(1), "1387");
    let before = world.entries(day(2)).remove(0);
    let text = String::from("[block]\noff = 35\n");
    let rules = Event::RulesAdopted { farm: Some(world.farm), text };
    world.tablet.write(day(2), RecordId::PRACTICE, rules);
    assert_eq!(world.entries(day(2))[0].sequence, before.sequence + 1);
    // What is another thing's does not.
    let mut world = World::new();
    let (animal, turn, _) = world.wrapped(day(1), "1394");
    let before = world.entries(day(2)).remove(0);
    world.tablet.write(day(2), animal.0, Event::Noted { turn: Some(turn), place: Place::Animal, text: "calm".into() });
    world.blocked(day(2), "1387");
    assert_eq!(world.entries(day(2))[0], before);
}

#[test]
fn a_wrap_that_was_met_has_an_entry_of_its_own() {
    let mut world = World::new();
    let (animal, turn) = world.cow(day(1), "1394");
    let met = |outcome| Event::SeenOff {
        turn: Some(turn),
        item: Item::Met(Place::Foot(Foot::LeftFront)),
        outcome,
        skin: SkinState::NotTold,
    };
    let first = world.tablet.write(day(1), animal.0, met(Off::LeftOn));
    assert_eq!(world.entries(day(2))[0].id, first);
    // Seen again it is the same one, which the second word only touches: that one never stood on a list.
    world.tablet.write(day(1), animal.0, met(Off::LeftOn));
    assert_eq!(world.entries(day(2)).len(), 1);
    world.tablet.write(day(3), animal.0, met(Off::Bare));
    let entries = world.entries(day(3));
    assert_eq!(entries.len(), 1, "{entries:#?}");
    assert_eq!((entries[0].id, entries[0].cancelled), (first, true));
}

#[test]
fn a_block_is_in_it_for_the_day_it_comes_off() {
    let mut world = World::new();
    world.blocked(day(1), "1387");
    let entry = world.entries(day(2)).remove(0);
    assert_eq!(entry.summary, "1387 BACK RIGHT inner claw: WOOD BLOCK off");
    // 42 days: Univ. Minnesota 4 to 6 weeks; a New Zealand school after 6.
    assert_eq!(entry.off_by.day, day(1) + chrono::Days::new(42));
    assert!(entry.description.contains(&"Whoever trims takes the block off.".to_owned()), "{entry:#?}");
    let dressing = Put::Dressing { place: Place::Claw(Foot::LeftFront, Side::Outer), product: "paste".into() };
    let (animal, turn) = world.cow(day(1), "1388");
    world.tablet.put(day(1), animal, turn, dressing);
    assert_eq!(world.entries(day(2)).len(), 1, "a dressing need not be taken off");
}

#[test]
fn two_animals_that_are_one_have_one_entry_and_two_tablets_agree() {
    let mut world = World::new();
    let (one, _, put) = world.wrapped(day(1), "1394");
    let before = only(&world, 2).1;
    let mut other = Tablet::new(9);
    other.meet(&world.tablet);
    let twin = other.animal(day(2), world.farm, "1394");
    other.write(day(2), one.0, Event::Joined { one: one.0, other: twin.0 });
    let turn = other.turn(day(2), world.visit, twin);
    let event = Event::SeenOff { turn: Some(turn), item: Item::Known(put), outcome: Off::Bare, skin: SkinState::Sound };
    world.tablet.write(day(2), one.0, Event::Noted { turn: None, place: Place::Animal, text: "calm".into() });
    other.write(day(3), twin.0, event);
    world.tablet.meet(&other);
    world.animals.push(twin);
    let (cancelled, after) = only(&world, 3);
    assert!(cancelled && after > before);
    assert_eq!(Animal::of(world.tablet.seen.clone(), twin).history.animals, [one, twin]);
}

#[test]
fn one_put_on_twice_are_two() {
    let mut world = World::new();
    let (animal, turn, first) = world.wrapped(day(1), "1394");
    world.seen(day(3), animal, first, Off::Replaced);
    let second = world.tablet.put(day(3), animal, turn, wrap());
    let entries = world.entries(day(3));
    let ids: Vec<_> = entries.iter().map(|entry| (entry.id, entry.cancelled)).collect();
    assert_eq!(ids, [(first.0, true), (second.0, false)], "{entries:#?}");
}
