//! One way in: any order of arrival, any cut into pages, any split over two books gives the same records and the same
//! lists; and the lists agree with a plain model, which is all records in one heap.

use super::tablet::{Tablet, day};
use super::{Bench, every, farm_of, raws, take};
use crushbook::domain::anatomy::{Foot, Place, Skin};
use crushbook::domain::event::Item;
use crushbook::domain::history::History;
use crushbook::domain::history::open::{Open, OpenItem};
use crushbook::domain::ids::RecordId;
use crushbook::domain::record::Record;
use crushbook::store::Store;
use crushbook::wire::rows::{DayRow, FarmRow, LabelRow};
use proptest::collection::vec;
use proptest::prelude::{Just, ProptestConfig, Strategy, any, prop_assert, prop_assert_eq, proptest};
use proptest::test_runner::RngSeed;

type Step = (bool, u8, u8, u8, u64);

/// Two tablets that begin alike and never meet: all they write, in the order of names.
fn story(steps: &[Step]) -> Vec<Record> {
    let mut one = farm_of(4);
    let farm = one.farm(day(0), "Lower Meadow");
    one.visit(day(0), farm);
    one.animal(day(0), farm, "11");
    let shared = one.known.records.len();
    let mut other: Tablet = one.other(9);
    for &(first, what, which, that, on) in steps {
        let tablet = if first { &mut one } else { &mut other };
        tablet.step(what, which, that, day(on));
    }
    let mut all = one.known.records;
    all.extend(other.known.records.drain(shared..));
    all
}

/// All that the lists say.
#[derive(Debug, PartialEq)]
pub struct Said {
    open: Vec<Open>,
    farms: Vec<FarmRow>,
    animals: Vec<Vec<LabelRow>>,
    days: Vec<Vec<DayRow>>,
}

pub fn said(store: &Store) -> Said {
    let (open, _) = store.open_items(None).expect("read");
    let (farms, _) = store.farms().expect("read");
    let animals = farms.iter().map(|row| store.animals(row.farm).expect("read").0).collect();
    let days = farms.iter().flat_map(|row| (0..8).map(|on| store.day(row.farm, day(on)).expect("read").0)).collect();
    Said { open, farms, animals, days }
}

fn steps() -> impl Strategy<Value = Vec<Step>> {
    vec((any::<bool>(), any::<u8>(), any::<u8>(), any::<u8>(), 0..8_u64), 0..24)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, rng_seed: RngSeed::Fixed(14), ..ProptestConfig::default() })]

    #[test]
    fn any_order_any_pages_any_split_give_the_same(
        (records, shuffled) in steps().prop_map(|steps| story(&steps)).prop_flat_map(|records| {
            (Just(records.clone()), Just(records).prop_shuffle())
        }),
        cuts in vec(1..9_usize, 1..20),
        sides in vec(any::<bool>(), 200),
        hand in 0..6_usize,
    ) {
        let straight = Bench::new();
        let mut straight = straight.opened(1);
        take(&mut straight, &records);
        let (expected, lists) = (every(&straight), said(&straight));
        let verdict = straight.verify().expect("checked");
        prop_assert!(verdict.is_sound(), "{:?}", verdict);

        // In pieces, in any order, some pieces twice.
        let pieces = Bench::new();
        let mut pieces = pieces.opened(2);
        let mut rest = shuffled.as_slice();
        for size in cuts.iter().cycle() {
            let (piece, after) = rest.split_at(rest.len().min(*size));
            take(&mut pieces, piece);
            if *size % 2 == 0 {
                prop_assert_eq!(take(&mut pieces, piece).new, 0);
            }
            rest = after;
            if rest.is_empty() {
                break;
            }
        }
        prop_assert_eq!(&every(&pieces), &expected);
        prop_assert_eq!(&said(&pieces), &lists);
        let verdict = pieces.verify().expect("checked");
        prop_assert!(verdict.is_sound(), "{:?}", verdict);

        // Split over two books, one joined into the other.
        let (left, right) = (Bench::new(), Bench::new());
        let (mut left, mut right) = (left.opened(3), right.opened(4));
        for (record, side) in shuffled.iter().zip(sides.iter().cycle()) {
            take(if *side { &mut left } else { &mut right }, std::slice::from_ref(record));
        }
        let from: Vec<_> = right.every().expect("read").collect();
        left.take(&mut from.into_iter()).expect("joined");
        prop_assert_eq!(&every(&left), &expected);
        prop_assert_eq!(&said(&left), &lists);

        // The last records of the first tablet still in the hand.
        let own: Vec<&Record> = records.iter().filter(|record| record.id.series == 7).collect();
        let begins = own.len().saturating_sub(hand);
        let (early, late): (Vec<Record>, Vec<Record>) =
            records.iter().cloned().partition(|record| record.id.series != 7 || record.id.seq <= begins as u64);
        let over = Bench::new();
        let mut over = over.opened(7);
        take(&mut over, &early);
        over.append(&late).expect("saved");
        prop_assert_eq!(&said(&over), &lists);
        over.pack().expect("packed");
        prop_assert_eq!(&said(&over), &lists);

        straight.rebuild().expect("rebuilt");
        prop_assert_eq!(&said(&straight), &lists);
    }

    #[test]
    fn open_items_are_those_of_a_plain_model(steps in steps()) {
        let records = story(&steps);
        let bench = Bench::new();
        let mut store = bench.opened(1);
        take(&mut store, &records);
        let mut animals: Vec<RecordId> = records.iter().map(|record| record.about).collect();
        animals.sort();
        animals.dedup();
        let mut model: Vec<(RecordId, Vec<OpenItem>)> = Vec::new();
        for id in animals {
            let history = History::of(records.clone(), crushbook::domain::ids::AnimalId(id));
            if history.animals[0].0 == id && !history.open.is_empty() {
                model.push((id, history.open));
            }
        }
        let mut open: Vec<(RecordId, Vec<OpenItem>)> =
            store.open_items(None).expect("read").0.into_iter().map(|open| (open.animal.0, open.items)).collect();
        open.sort_by_key(|(animal, _)| *animal);
        prop_assert_eq!(open, model);
    }
}

#[test]
fn a_removal_on_monday_never_closes_a_wrap_put_on_by_another_tablet_on_thursday() {
    let mut monday = farm_of(1);
    let (visit, animal) = (monday.known.visits[0], monday.known.animals[0]);
    let shared = monday.known.records.clone();
    let mut thursday = monday.other(9);
    // The tablet of Monday has pressed more keys, so its counter is far ahead.
    for _ in 0..20 {
        monday.turn(day(0), visit, animal);
    }
    monday.seen_bare(day(0), Item::Met(Place::Skin(Foot::LeftHind, Skin::Cleft)), animal);
    let turn = thursday.turn(day(3), visit, animal);
    thursday.wrap(day(3), turn, animal);
    let late = &thursday.known.records[shared.len()..];
    let bench = Bench::new();
    let mut store = bench.opened(1);
    take(&mut store, late);
    take(&mut store, &monday.known.records);
    let (open, _) = store.open_items(None).expect("read");
    assert_eq!(open.iter().map(|open| open.animal).collect::<Vec<_>>(), [animal]);
}

#[test]
fn a_book_joined_with_itself_writes_nothing() {
    let bench = Bench::new();
    let mut store = bench.opened(1);
    let records = farm_of(5).known.records;
    take(&mut store, &records);
    let before = bench.power.writes();
    let taken = store.take(&mut raws(&records).into_iter().map(Ok)).expect("joined");
    assert_eq!((taken.new, taken.held), (0, records.len() as u64));
    assert_eq!(bench.power.writes(), before);
}
