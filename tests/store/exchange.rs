//! Tablets that exchange what they recorded: in any order, as often as they like, by file and by book, whole, cut short and
//! interrupted. All end with the same bytes and the same lists.

use super::disk::Dice;
use super::join::said;
use super::tablet::{Tablet, day, newer};
use super::{Bench, farm_of, raws, take};
use crushbook::domain::ids::RecordId;
use crushbook::domain::record::Record;
use crushbook::store::Store;
use crushbook::store::error::{Problem, StoreError};
use crushbook::store::fuzz::fuzz_exchange;
use crushbook::store::other::Other;
use crushbook::store::take::{Step, Taken};
use crushbook::wire::envelope::{Raw, encode};
use crushbook::wire::exchange::{Reading, Writing};
use proptest::collection::vec;
use proptest::prelude::{Just, ProptestConfig, Strategy, any, prop_assert_eq, prop_oneof, proptest};
use proptest::test_runner::RngSeed;
use std::path::Path;

const TABLETS: usize = 4;

/// How one tablet gets what another has.
#[derive(Debug, Clone)]
enum How {
    /// The whole file.
    File,
    /// So many thousandths of the file.
    Part(usize),
    /// The whole file, but somebody says stop after so many steps.
    Stopped(usize),
    /// The other's book, as it lies on its disk while it is open.
    Book,
}

fn how() -> impl Strategy<Value = How> {
    prop_oneof![
        3 => Just(How::File),
        2 => (0..1000_usize).prop_map(How::Part),
        2 => (0..6_usize).prop_map(How::Stopped),
        1 => Just(How::Book),
    ]
}

/// Up to four tablets that begin alike; the last goes on in the series of the first where its book was copied behind its back.
fn story(steps: &[(usize, u8, u8, u8, u64)], copied: bool) -> Vec<Vec<Record>> {
    let mut first = farm_of(3);
    let farm = first.farm(day(0), "Lower Meadow");
    first.visit(day(0), farm);
    first.animal(day(0), farm, "11");
    let mut tablets: Vec<Tablet> = (0..TABLETS as u64).map(|number| first.other(20 + number)).collect();
    if copied {
        tablets[TABLETS - 1] = first.clone();
    }
    tablets[0] = first;
    for &(who, what, which, that, on) in steps {
        tablets[who % TABLETS].step(what, which, that, day(on));
    }
    let mut all: Vec<Vec<Record>> = tablets.into_iter().map(|tablet| tablet.known.records).collect();
    // What a newer program wrote travels too.
    if let Some(last) = all[1].pop() {
        all[1].push(newer(last));
    }
    all
}

/// The file that a store gives.
fn file(store: &Store) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut writing = Writing::begin(&mut bytes).expect("memory takes it");
    for raw in store.every().expect("the store reads") {
        writing.record(&raw.expect("it can be read")).expect("memory takes it").expect("it can be written");
    }
    writing.end().expect("memory takes it");
    bytes
}

fn read(bytes: &[u8]) -> impl Iterator<Item = Result<Raw, Problem>> {
    Reading::new(bytes)
        .map(|given| given.map_err(|why| Problem::Given { place: "their file".to_owned(), why: why.to_string() }))
}

fn take_file(store: &mut Store, bytes: &[u8]) -> Taken {
    store.take(&mut read(bytes)).expect("taken in")
}

/// Takes in a book as its file lies there; not a byte of it changes.
fn take_book(store: &mut Store, path: &Path, bytes: &[u8]) {
    std::fs::write(path, bytes).expect("written");
    let other = Other::open(path).expect("the other book opens");
    let taken = store.take(&mut other.every().expect("it reads")).expect("taken in");
    assert_eq!(taken.problems, []);
    drop(other);
    assert_eq!(std::fs::read(path).expect("there"), bytes, "nothing is written to the other");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 32, failure_persistence: None, rng_seed: RngSeed::Fixed(22), ..ProptestConfig::default() })]

    #[test]
    fn however_tablets_exchange_they_end_alike(
        steps in vec((any::<usize>(), any::<u8>(), any::<u8>(), any::<u8>(), 0..8_u64), 0..40),
        copied in any::<bool>(),
        meetings in vec((0..TABLETS, 0..TABLETS, how()), 0..16),
    ) {
        let records = story(&steps, copied);
        let folder = tempfile::tempdir().expect("a folder");
        let benches: Vec<Bench> = records.iter().map(|_| Bench::new()).collect();
        let mut stores: Vec<Store> = benches.iter().enumerate().map(|(index, bench)| bench.opened(50 + index as u64)).collect();
        for (store, records) in stores.iter_mut().zip(&records) {
            take(store, records);
        }
        for (from, to, how) in meetings {
            let bytes = file(&stores[from]);
            let before = file(&stores[to]);
            match how {
                How::File => {
                    take_file(&mut stores[to], &bytes);
                    let again = take_file(&mut stores[to], &bytes);
                    prop_assert_eq!((again.new, again.forks), (0, vec![]), "once more changes nothing");
                }
                How::Part(share) => {
                    let part = &bytes[..bytes.len() * share / 1000];
                    prop_assert_eq!(take_file(&mut stores[to], part).problems.len(), 1, "it is told");
                }
                How::Stopped(after) => {
                    let mut left = after;
                    let mut watch = |_: Step| {
                        left = left.saturating_sub(1);
                        left > 0
                    };
                    match stores[to].take_watched(&mut read(&bytes), &mut watch) {
                        Ok(_) => {}
                        Err(StoreError::Stopped) => prop_assert_eq!(&file(&stores[to]), &before, "all or nothing"),
                        Err(other) => panic!("{other}"),
                    }
                }
                How::Book => take_book(&mut stores[to], &folder.path().join("their.book"), &benches[from].book.image()),
            }
        }
        // At last everybody gives the first what they have, and gets back what all have.
        for from in 1..TABLETS {
            let bytes = file(&stores[from]);
            take_file(&mut stores[0], &bytes);
        }
        let all = file(&stores[0]);
        for store in &mut stores {
            take_file(store, &all);
        }
        let straight = Bench::new();
        let mut straight = straight.opened(90);
        take(&mut straight, &records.concat());
        prop_assert_eq!(&file(&straight), &all, "byte for byte what was recorded");
        let lists = said(&straight);
        for store in &mut stores {
            prop_assert_eq!(&file(store), &all);
            prop_assert_eq!(&said(store), &lists);
            let verdict = store.verify().expect("checked");
            prop_assert_eq!(verdict.problems.iter().filter(|problem| !matches!(problem, Problem::Fork(_))).count(), 0);
        }
    }
}

#[test]
fn records_of_a_name_come_out_in_one_order_whichever_came_first() {
    let mut one = farm_of(1);
    let mut other = one.clone();
    let (visit, animal) = (one.known.visits[0], one.known.animals[0]);
    one.turn(day(1), visit, animal);
    other.turn(day(2), visit, animal);
    let mut files = Vec::new();
    for pair in [[&one, &other], [&other, &one]] {
        let bench = Bench::new();
        let mut store = bench.opened(1);
        for tablet in pair {
            take(&mut store, &tablet.known.records);
        }
        files.push(file(&store));
    }
    assert_eq!(files[0], files[1]);
}

#[test]
fn what_waits_in_the_hand_is_exported_once_and_in_its_place() {
    let records = farm_of(6).known.records;
    let (early, late) = records.split_at(5);
    let (bench, whole) = (Bench::new(), Bench::new());
    let mut store = bench.opened(7);
    take(&mut store, early);
    store.append(late).expect("saved");
    let mut straight = whole.opened(7);
    take(&mut straight, &records);
    assert_eq!(file(&store), file(&straight));
}

#[test]
fn a_taking_in_that_is_stopped_at_any_step_leaves_the_book_as_it_was_and_may_be_done_again() {
    let records = farm_of(30).known.records;
    for step in 0.. {
        let bench = Bench::new();
        let mut store = bench.opened(1);
        take(&mut store, &records[..3]);
        let before = file(&store);
        let mut left = step;
        let mut watch = |_: Step| {
            left -= 1;
            left >= 0
        };
        match store.take_watched(&mut raws(&records).into_iter().map(Ok), &mut watch) {
            Err(StoreError::Stopped) => {}
            Err(other) => panic!("{other}"),
            Ok(taken) => {
                assert_eq!(step, 30, "one piece that was read, and 29 animals that were not here");
                assert_eq!(taken.new + taken.held, records.len() as u64);
                return;
            }
        }
        assert_eq!(file(&store), before, "stopped at step {step}");
        assert_eq!(take(&mut store, &records).new, records.len() as u64 - 3);
    }
}

#[test]
fn numbers_that_leave_no_room_for_the_next_are_refused() {
    let bench = Bench::new();
    let mut store = bench.opened(7);
    let good = farm_of(1).known.records;
    let far = |seq, tick| Record { id: RecordId { series: 7, seq }, tick, ..good[0].clone() };
    for bad in [far(0, 1), far(u64::MAX, 1), far(1 << 31, 1), far(1 << 63 | 4, 1), far(9, u64::MAX)] {
        let taken = take(&mut store, std::slice::from_ref(&bad));
        assert_eq!((taken.new, taken.problems.len()), (0, 1), "{bad:?}");
        assert!(taken.problems[0].to_string().contains("made up or damaged"), "{}", taken.problems[0]);
    }
    assert_eq!(take(&mut store, &good).new, good.len() as u64);
    assert_eq!((store.next_id().seq, store.tick()), (good.len() as u64 + 1, good.len() as u64 + 1));
}

#[test]
fn the_numbers_that_are_missing_are_told() {
    let bench = Bench::new();
    let mut store = bench.opened(1);
    let records = farm_of(8).known.records;
    let some: Vec<Record> = records.iter().filter(|record| ![3, 4, 7].contains(&record.id.seq)).cloned().collect();
    take(&mut store, &some);
    assert_eq!(store.gaps(), [(7, 3, 4), (7, 7, 7)]);
    take(&mut store, &records);
    assert_eq!(store.gaps(), []);
}

#[test]
fn seeds_of_exchange_files_hold() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/store/seeds/exchange");
    let mut seeds = 0;
    for entry in std::fs::read_dir(folder).expect("a folder of seeds") {
        fuzz_exchange(&std::fs::read(entry.expect("a seed").path()).expect("a seed can be read"));
        seeds += 1;
    }
    assert!(seeds >= 8, "{seeds} seeds");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, rng_seed: RngSeed::Fixed(23), ..ProptestConfig::default() })]

    #[test]
    fn spoiled_exchange_files_hold(
        steps in vec((any::<usize>(), any::<u8>(), any::<u8>(), any::<u8>(), 0..8_u64), 0..12),
        seed in any::<u64>(),
        changes in 0..6_usize,
        bytes in vec(any::<u8>(), 0..200),
    ) {
        let mut file = Vec::new();
        let mut writing = Writing::begin(&mut file).expect("memory takes it");
        for record in story(&steps, true).concat() {
            writing.record(&encode(&record).expect("encodes")).expect("memory takes it").expect("it can be written");
        }
        writing.end().expect("memory takes it");
        let mut dice = Dice::new(seed);
        for _ in 0..changes {
            let at = dice.roll(file.len());
            match dice.roll(3) {
                0 => file[at] = dice.roll(256) as u8,
                1 => drop(file.remove(at)),
                _ => file.truncate(at.max(1)),
            }
        }
        fuzz_exchange(&file);
        fuzz_exchange(&bytes);
    }
}
