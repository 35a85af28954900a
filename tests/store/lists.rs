//! Lists: what is open, who is whom, and the hand over the book.

use super::tablet::{day, labels};
use super::{Bench, farm_of, raws, take};
use crushbook::domain::event::{Event, Item};
use crushbook::domain::ids::{AnimalId, FarmId};
use crushbook::store::Store;
use crushbook::wire::rows::FarmRow;

fn open_of(store: &Store, farm: Option<FarmId>) -> Vec<AnimalId> {
    let (open, problems) = store.open_items(farm).expect("read");
    assert_eq!(problems, []);
    open.into_iter().map(|open| open.animal).collect()
}

#[test]
fn a_wrap_is_open_from_the_press_until_it_is_seen_off_packed_or_not() {
    let bench = Bench::new();
    let mut store = bench.opened(7);
    let mut tablet = farm_of(3);
    let (farm, visit, animal) = (tablet.known.farms[0], tablet.known.visits[0], tablet.known.animals[1]);
    store.append(&tablet.known.records).expect("saved");
    assert_eq!(open_of(&store, None), []);
    let before = tablet.known.records.len();
    let turn = tablet.turn(day(1), visit, animal);
    let put = tablet.wrap(day(1), turn, animal);
    store.append(&tablet.known.records[before..]).expect("saved");
    assert_eq!(open_of(&store, None), [animal], "in the hand");
    store.pack().expect("packed");
    assert_eq!(open_of(&store, Some(farm)), [animal], "in the book");
    let (turns, _) = store.day(farm, day(1)).expect("read");
    assert_eq!(turns.iter().map(|row| row.turn).collect::<Vec<_>>(), [turn]);
    assert_eq!(store.visit(farm, visit).expect("read").0, turns);
    assert_eq!(store.day(farm, day(2)).expect("read").0, []);
    let before = tablet.known.records.len();
    tablet.seen_bare(day(4), Item::Known(put), animal);
    store.append(&tablet.known.records[before..]).expect("saved");
    assert_eq!(open_of(&store, Some(farm)), [], "the hand lies over the book");
    store.pack().expect("packed");
    assert_eq!(open_of(&store, None), []);
    assert!(store.verify().expect("checked").is_sound());
}

#[test]
fn an_old_number_still_finds_her_and_says_so() {
    let bench = Bench::new();
    let mut store = bench.opened(1);
    let mut tablet = farm_of(2);
    let (farm, animal) = (tablet.known.farms[0], tablet.known.animals[0]);
    tablet.press(day(2), vec![(animal.0, Event::Renumbered { animal, labels: labels("B 77") })]);
    take(&mut store, &tablet.known.records);
    let (old, _) = store.find(farm, "1380").expect("read");
    assert_eq!(old.iter().map(|row| (row.animal, row.current)).collect::<Vec<_>>(), [(animal, false)]);
    let (new, _) = store.find(farm, " b 77 ").expect("read");
    assert_eq!(new.iter().map(|row| (row.animal, row.current)).collect::<Vec<_>>(), [(animal, true)]);
    assert_eq!(store.find(farm, "138").expect("read").0, [], "a beginning is not a number");
    let (animals, _) = store.animals(farm).expect("read");
    let numbers: Vec<&str> = animals.iter().map(|row| row.labels.number.as_str()).collect();
    assert_eq!(numbers, ["B 77", "1381"]);
}

#[test]
fn joined_farms_answer_as_one_and_part_again() {
    let bench = Bench::new();
    let mut store = bench.opened(1);
    let mut tablet = farm_of(1);
    let first = tablet.known.farms[0];
    let second = tablet.farm(day(0), "Upper Meadow, again");
    tablet.animal(day(0), second, "9");
    let join = tablet.press(day(1), vec![(first.0, Event::Joined { one: first.0, other: second.0 })]);
    take(&mut store, &tablet.known.records);
    assert_eq!(store.animals(first).expect("read").0.len(), 2);
    assert_eq!(store.animals(second).expect("read").0.len(), 2);
    let (farms, _) = store.farms().expect("read");
    assert_eq!(farms.iter().map(|row| row.joined_into).collect::<Vec<_>>(), [None, Some(first)]);
    let part = tablet.press(day(2), vec![(first.0, Event::Parted { joined: join[0].id })]);
    take(&mut store, &part);
    assert_eq!(store.animals(first).expect("read").0.len(), 1);
    assert!(store.verify().expect("checked").is_sound());
}

#[test]
fn what_is_open_and_was_done_on_joined_farms_stands_under_one_packed_or_not() {
    let bench = Bench::new();
    let mut store = bench.opened(1);
    let mut tablet = farm_of(1);
    let (first, one, visit) = (tablet.known.farms[0], tablet.known.animals[0], tablet.known.visits[0]);
    let second = tablet.farm(day(0), "Upper-Meadow");
    let other = tablet.animal(day(0), second, "9");
    let visits = [(visit, one), (tablet.visit(day(0), second), other)];
    for (visit, animal) in visits {
        let turn = tablet.turn(day(1), visit, animal);
        tablet.wrap(day(1), turn, animal);
    }
    take(&mut store, &tablet.known.records);
    let apart = (store.open_items(None).expect("read"), store.farms().expect("read"));
    let join = tablet.press(day(2), vec![(first.0, Event::Joined { one: first.0, other: second.0 })]);
    store.take(&mut raws(&join).into_iter().map(Ok)).expect("taken");
    for _ in 0..2 {
        for asked in [None, Some(first), Some(second)] {
            let (open, _) = store.open_items(asked).expect("read");
            let under: Vec<_> = open.iter().map(|open| (open.animal, open.farm)).collect();
            assert_eq!(under, [(one, first), (other, first)], "{asked:?}");
        }
        let (turns, _) = store.day(second, day(1)).expect("read");
        assert!(turns.len() == 2 && turns.iter().all(|row| row.farm == first), "{turns:?}");
        let (labels, _) = store.labels(first).expect("read");
        assert!(labels.len() == 2 && labels.iter().all(|row| row.farm == first), "{labels:?}");
        // Each keeps its own name, since sheets may still come under it.
        let names: Vec<String> = store.farms().expect("read").0.into_iter().map(|row| row.name).collect();
        assert_eq!(names, ["Upper Meadow", "Upper-Meadow"]);
        store.rebuild().expect("rebuilt");
    }
    let part = tablet.press(day(3), vec![(first.0, Event::Parted { joined: join[0].id })]);
    store.take(&mut raws(&part).into_iter().map(Ok)).expect("taken");
    let counted =
        |farms: &[FarmRow]| -> Vec<FarmRow> { farms.iter().map(|row| FarmRow { count: 0, ..row.clone() }).collect() };
    let parted = (store.open_items(None).expect("read"), store.farms().expect("read"));
    assert_eq!(parted.0, apart.0, "joined then parted is as before");
    assert_eq!(counted(&parted.1.0), counted(&apart.1.0));
    assert!(store.verify().expect("checked").is_sound());
}

#[test]
fn facts_about_an_animal_whose_beginning_has_not_come_still_show() {
    let bench = Bench::new();
    let mut store = bench.opened(1);
    let mut tablet = farm_of(1);
    let (visit, animal) = (tablet.known.visits[0], tablet.known.animals[0]);
    let turn = tablet.turn(day(1), visit, animal);
    tablet.wrap(day(1), turn, animal);
    let without: Vec<_> = tablet.known.records.iter().filter(|record| record.id != animal.0).cloned().collect();
    take(&mut store, &without);
    assert_eq!(open_of(&store, None), [animal]);
    store.take(&mut raws(&tablet.known.records).into_iter().map(Ok)).expect("taken");
    assert_eq!(open_of(&store, Some(tablet.known.farms[0])), [animal]);
    assert!(store.verify().expect("checked").is_sound());
}
