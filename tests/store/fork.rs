//! Two different records under one name: both are kept, whichever came first, and it is said.

use super::tablet::{Tablet, day, newer};
use super::{Bench, every, farm_of, raws, take};
use crushbook::domain::anatomy::{Foot, Place};
use crushbook::domain::event::{Event, Item};
use crushbook::domain::herd::Leaving;
use crushbook::domain::history::open::OpenItem;
use crushbook::domain::history::{DoubtWhat, History};
use crushbook::domain::ids::{AnimalId, FarmId, PutId, RecordId};
use crushbook::domain::record::Record;
use crushbook::store::Store;
use crushbook::store::error::Problem;
use proptest::collection::vec;
use proptest::prelude::{ProptestConfig, any, prop_assert, prop_assert_eq, proptest};
use proptest::test_runner::RngSeed;
use std::collections::BTreeSet;

/// A story and its double: after the farm, each gives the next number to another fact.
fn forked() -> (Vec<Record>, Record, Record) {
    let mut one = farm_of(1);
    let mut other = one.clone();
    let shared = one.known.records.clone();
    let animal = one.known.animals[0];
    let mine = one.press(day(1), vec![(animal.0, Event::CullSaid { animal })]);
    let theirs = other.press(day(1), vec![(animal.0, Event::Kicker { animal, kicks: true })]);
    (shared, mine[0].clone(), theirs[0].clone())
}

#[test]
fn both_are_kept_and_the_history_does_not_depend_on_which_came_first() {
    let (shared, mine, theirs) = forked();
    let mut seen = Vec::new();
    for pair in [[&mine, &theirs], [&theirs, &mine]] {
        let bench = Bench::new();
        let mut store = bench.opened(1);
        take(&mut store, &shared);
        assert_eq!(take(&mut store, std::slice::from_ref(pair[0])).forks, []);
        let taken = take(&mut store, std::slice::from_ref(pair[1]));
        assert_eq!(taken.forks, [mine.id]);
        let again = take(&mut store, &[mine.clone(), theirs.clone()]);
        assert_eq!((again.new, again.held, again.forks), (0, 2, vec![]), "both are held");
        let all = every(&store);
        assert!(all.contains(&(mine.id, mine.clone())) && all.contains(&(theirs.id, theirs.clone())));
        let (records, problems) = store.records(mine.about).expect("read");
        assert_eq!(problems, [Problem::Fork(mine.id)]);
        let verdict = store.verify().expect("checked");
        assert_eq!(verdict.problems, [Problem::Fork(mine.id)]);
        assert!(verdict.is_sound(), "two under one name are told, and no damage");
        store.rebuild().expect("rebuilt");
        assert_eq!(store.records(mine.about).expect("read").0, records);
        seen.push(records);
    }
    assert_eq!(seen[0], seen[1]);
}

/// Two tablets whose files were copied, both of them, by something that copies whole disks: both go on under the same names.
fn copied(animals: u32) -> (Tablet, Tablet, usize) {
    let one = farm_of(animals);
    let (mut other, shared) = (one.clone(), one.known.records.len());
    other.remover = "other farm".to_owned();
    (one, other, shared)
}

/// A book that holds what both wrote.
fn joined(one: &Tablet, other: &Tablet) -> Store {
    let bench = Bench::new();
    let mut store = bench.opened(1);
    take(&mut store, &one.known.records);
    take(&mut store, &other.known.records);
    store
}

/// Everything that is on an animal: who takes it off, and the name it was written under.
fn on(items: &[OpenItem]) -> Vec<(String, RecordId)> {
    let on = items.iter().filter_map(|item| match item {
        OpenItem::On { put, remover, .. } => Some((remover.clone(), put.0.written_as().unwrap_or(put.0))),
        _ => None,
    });
    on.collect()
}

fn due(store: &Store) -> Vec<(String, RecordId)> {
    store.open_items(None).expect("read").0.iter().flat_map(|open| on(&open.items)).collect()
}

#[test]
fn a_wrap_in_either_record_of_a_name_is_on_the_due_list_until_it_is_seen_off_itself() {
    let (mut one, mut other, _) = copied(1);
    let (visit, animal) = (one.known.visits[0], one.known.animals[0]);
    for tablet in [&mut one, &mut other] {
        let turn = tablet.turn(day(1), visit, animal);
        tablet.wrap(day(1), turn, animal);
    }
    // One takes its own off again, by the name that both gave.
    let put = one.known.puts[0].0;
    one.seen_bare(day(1), Item::Known(put), animal);
    let mut store = joined(&one, &other);
    let mut names = due(&store);
    names.sort();
    assert_eq!(names, [("farm".to_owned(), put.0), ("other farm".to_owned(), put.0)], "nobody knows which was meant");
    let history = History::of(store.records(animal.0).expect("read").0, animal);
    assert!(history.doubts.iter().any(|doubt| doubt.what == DoubtWhat::TwoUnderOneName), "{:?}", history.doubts);
    // Seen off by the name that the list gives it, it is off.
    let open = store.open_items(None).expect("read").0;
    let items = open[0].items.iter().filter_map(|item| match item {
        OpenItem::On { put, remover, .. } if remover == "other farm" => Some(*put),
        _ => None,
    });
    let wraps: Vec<PutId> = items.collect();
    let mut third = one.other(20);
    third.seen_bare(day(2), Item::Known(wraps[0]), animal);
    take(&mut store, &third.known.records[one.known.records.len()..]);
    assert_eq!(due(&store), [("farm".to_owned(), put.0)]);
}

/// A foot seen bare closes what the same tablet put on it before, on the same day too. Numbers that two tablets gave do not
/// tell that it was the same.
#[test]
fn a_foot_seen_bare_by_the_other_tablet_on_that_day_closes_nothing() {
    for busy_with in [0, 1] {
        let (mut one, mut other, _) = copied(2);
        let (visit, animals) = (one.known.visits[0], one.known.animals.clone());
        let turn = one.turn(day(1), visit, animals[0]);
        one.wrap(day(1), turn, animals[0]);
        one.press(day(1), vec![(animals[1].0, Event::CullSaid { animal: animals[1] })]);
        other.turn(day(1), visit, animals[busy_with]);
        other.turn(day(1), visit, animals[busy_with]);
        other.seen_bare(day(1), Item::Met(Place::Foot(Foot::LeftHind)), animals[0]);
        assert_eq!(due(&joined(&one, &other)).len(), 1, "busy with animal {busy_with}");
    }
}

#[test]
fn an_undo_of_a_shared_name_takes_nothing_back() {
    let (mut one, mut other, _) = copied(1);
    let (visit, animal) = (one.known.visits[0], one.known.animals[0]);
    let turn = one.turn(day(1), visit, animal);
    one.wrap(day(1), turn, animal);
    let press = other.next();
    other.seen_bare(day(1), Item::Met(Place::Foot(Foot::LeftHind)), animal);
    other.press(day(1), vec![(animal.0, Event::Undone { press })]);
    assert_eq!(due(&joined(&one, &other)).len(), 1);
}

#[test]
fn two_animals_begun_under_one_name_are_called_by_both_numbers() {
    let (mut one, mut other, _) = copied(0);
    let (farm, visit) = (one.known.farms[0], one.known.visits[0]);
    for (tablet, number) in [(&mut one, "1400"), (&mut other, "1401")] {
        let animal = tablet.animal(day(1), farm, number);
        let turn = tablet.turn(day(1), visit, animal);
        tablet.wrap(day(1), turn, animal);
    }
    let animal = one.known.animals[0];
    let left = Event::Left { animal, why: Leaving::Sold, words: String::new() };
    other.press(day(1), vec![(animal.0, left)]);
    let store = joined(&one, &other);
    let open = store.open_items(None).expect("read").0;
    assert_eq!(open.len(), 1);
    assert_eq!((open[0].labels.number.as_str(), open[0].left), ("1400 or 1401", None));
    assert_eq!(due(&store).len(), 2);
    for number in ["1400", "1401"] {
        let found = store.find(farm, number).expect("read").0;
        assert_eq!(found.iter().map(|row| row.animal).collect::<Vec<_>>(), [animal], "{number}");
    }
}

#[test]
fn a_farm_and_an_animal_begun_under_one_name_both_show() {
    let (mut one, mut other, _) = copied(0);
    let (farm, visit) = (one.known.farms[0], one.known.visits[0]);
    one.farm(day(1), "Lower Meadow");
    let animal = other.animal(day(1), farm, "1400");
    let turn = other.turn(day(1), visit, animal);
    other.wrap(day(1), turn, animal);
    let store = joined(&one, &other);
    assert_eq!(due(&store).len(), 1);
    let farms = store.farms().expect("read").0;
    assert!(farms.iter().any(|row| row.farm == FarmId(animal.0) && row.name == "Lower Meadow"), "{farms:?}");
}

type Step = (bool, u8, u8, u8);

/// What both write after the copy, all on one day: on a later day a foot seen bare is bare, whoever saw it.
fn written(steps: &[Step], begins: (bool, bool)) -> (Tablet, Tablet, usize) {
    let mut one = farm_of(3);
    for animal in one.known.animals.clone() {
        let turn = one.turn(day(0), one.known.visits[0], animal);
        one.wrap(day(0), turn, animal);
    }
    let (mut other, shared) = (one.clone(), one.known.records.len());
    other.remover = "other farm".to_owned();
    let farm = one.known.farms[0];
    for (tablet, begins, number) in [(&mut one, begins.0, "1500"), (&mut other, begins.1, "1501")] {
        if begins {
            tablet.animal(day(0), farm, number);
        }
    }
    // A foot seen bare is bare also of what the other tablet joined with her, or moved to her: not both in one story.
    let kept_out: &[u8] =
        if steps.len().is_multiple_of(2) { &[Tablet::JOINS, Tablet::MOVES] } else { &[Tablet::MEETS] };
    for &(first, what, which, that) in steps.iter().filter(|step| !kept_out.contains(&(step.1 % Tablet::STEPS))) {
        let tablet = if first { &mut one } else { &mut other };
        tablet.step(what, which, that, day(0));
    }
    (one, other, shared)
}

/// What a tablet, by itself, knows to be on some animal.
fn on_by(tablet: &Tablet) -> BTreeSet<(String, RecordId)> {
    let records = &tablet.known.records;
    let animals: BTreeSet<RecordId> = records.iter().map(|record| record.about).collect();
    animals.iter().flat_map(|id| on(&History::of(records.clone(), AnimalId(*id)).open)).collect()
}

/// Whether a tablet ever saw this off by name. Where it also moved the turn, by a name that is not its own alone, whose wrap that
/// was may be told otherwise than by its records alone.
fn seen_off(tablet: &Tablet, put: RecordId) -> bool {
    let named = |event: &Event| matches!(event, Event::SeenOff { item: Item::Known(seen), .. } if seen.0 == put);
    tablet.known.records.iter().any(|record| record.event().is_some_and(named))
}

/// What must be on the due list of both: what either put on since the copy, and what was on before and is for both.
fn wanted(one: &Tablet, other: &Tablet, shared: usize) -> BTreeSet<(String, RecordId)> {
    let since = |put: &RecordId| put.seq > shared as u64;
    let by = |tablet| -> BTreeSet<(String, RecordId)> {
        on_by(tablet).into_iter().filter(|(_, put)| !seen_off(tablet, *put)).collect()
    };
    let (by_one, by_other) = (by(one), by(other));
    by_one.union(&by_other).filter(|on| since(&on.1) || by_one.contains(on) && by_other.contains(on)).cloned().collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, rng_seed: RngSeed::Fixed(21), ..ProptestConfig::default() })]

    #[test]
    fn whatever_either_put_on_is_on_the_due_list_and_order_cannot_matter(
        steps in vec((any::<bool>(), any::<u8>(), any::<u8>(), any::<u8>()), 0..24),
        begins in (any::<bool>(), any::<bool>()),
        cuts in vec(1..9_usize, 1..20),
        seed in any::<u64>(),
    ) {
        let (one, other, shared) = written(&steps, begins);
        let mut straight = joined(&one, &other);
        let told: BTreeSet<(String, RecordId)> = due(&straight).into_iter().collect();
        let wanted = wanted(&one, &other, shared);
        prop_assert!(wanted.is_subset(&told), "{:?} of {:?}", wanted, told);
        let verdict = straight.verify().expect("checked");
        prop_assert!(verdict.problems.iter().all(|problem| matches!(problem, Problem::Fork(_))), "{:?}", verdict);

        let mut records = one.known.records.clone();
        records.extend(other.known.records[shared..].iter().cloned());
        records.sort_by_key(|record| (record.id.seq.wrapping_mul(seed | 1).rotate_left(19), record.tick, record.on));
        let bench = Bench::new();
        let mut pieces = bench.opened(2);
        let mut rest = records.as_slice();
        for size in cuts.iter().cycle() {
            let (piece, after) = rest.split_at(rest.len().min(*size));
            take(&mut pieces, piece);
            rest = after;
            if rest.is_empty() {
                break;
            }
        }
        prop_assert_eq!(pieces.open_items(None).expect("read"), straight.open_items(None).expect("read"));
        prop_assert_eq!(pieces.farms().expect("read"), straight.farms().expect("read"));
        let animals = |store: &Store| store.animals(one.known.farms[0]).expect("read");
        prop_assert_eq!(animals(&pieces), animals(&straight));
        let names: BTreeSet<RecordId> = records.iter().map(|record| record.about).collect();
        for name in names {
            prop_assert_eq!(pieces.records(name).expect("read").0, straight.records(name).expect("read").0);
        }
    }
}

#[test]
fn both_in_one_taking_are_kept_too() {
    let (mut all, mine, theirs) = forked();
    all.extend([mine.clone(), theirs]);
    let bench = Bench::new();
    let mut store = bench.opened(1);
    assert_eq!(take(&mut store, &all).forks, [mine.id]);
    assert_eq!(every(&store).len(), all.len());
}

#[test]
fn a_record_of_a_newer_program_is_kept_counted_and_routed() {
    let mut tablet = farm_of(1);
    let animal = tablet.known.animals[0];
    let record = newer(tablet.press(day(1), vec![(animal.0, Event::CullSaid { animal })])[0].clone());
    let mut all = tablet.known.records.clone();
    all.pop();
    all.push(record.clone());
    let bench = Bench::new();
    let mut store = bench.opened(1);
    take(&mut store, &all);
    assert!(store.records(animal.0).expect("read").0.contains(&record));
    let verdict = store.verify().expect("checked");
    assert_eq!((verdict.records, verdict.newer, verdict.is_sound()), (4, 1, true), "{verdict:?}");
    let bytes = &raws(std::slice::from_ref(&record))[0].bytes;
    assert!(store.every().expect("read").any(|raw| raw.is_ok_and(|raw| raw.bytes == *bytes)), "byte for byte");
}

#[test]
fn numbers_that_have_not_come_show_as_gaps() {
    let tablet = farm_of(4);
    let bench = Bench::new();
    let mut store = bench.opened(1);
    let records = &tablet.known.records;
    take(&mut store, &[records[0].clone(), records[3].clone()]);
    assert_eq!(store.verify().expect("checked").gaps, [(7, 2, 3)]);
    take(&mut store, records);
    assert_eq!(store.verify().expect("checked").gaps, []);
    assert_eq!(every(&store).len(), records.len());
}
