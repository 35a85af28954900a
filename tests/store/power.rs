//! Power cuts: at every write and every sync of a short story, on both disks together. Whatever was acknowledged is there
//! afterwards. A disk that lies about syncing shows that the harness can see a loss.

use super::{Bench, every, farm_of};
use crushbook::domain::ids::RecordId;
use crushbook::domain::record::Record;
use crushbook::store::Store;
use crushbook::store::error::StoreError;

/// The series the tests' tablets write in; the store is given the same, so that their records are its own.
const SERIES: u64 = 7;

/// Works through a farm's records, press by press, packing now and then, and notes what was acknowledged.
fn work(bench: &Bench, records: &[Record], acknowledged: &mut Vec<RecordId>) -> Result<(), StoreError> {
    let (mut store, _) = bench.open(SERIES)?;
    for (number, record) in records.iter().enumerate() {
        store.append(std::slice::from_ref(record))?;
        acknowledged.push(record.id);
        if number % 4 == 3 {
            store.pack()?;
        }
    }
    store.close().map(drop)
}

/// Cuts the power at one operation; hands back how many acknowledged records are lost, and the store if it opens.
fn cut(at: usize, seed: u64, lies: bool, records: &[Record]) -> (usize, Result<Store, StoreError>) {
    let bench = Bench::new();
    if lies {
        bench.power.lie();
    }
    bench.power.cut_at(at, seed);
    let mut acknowledged = Vec::new();
    let outcome = work(&bench, records, &mut acknowledged);
    assert!(outcome.is_err(), "the power goes before the story ends");
    bench.hand.lose_power();
    bench.book.lose_power();
    bench.power.restore();
    match bench.open(SERIES) {
        Ok((store, problems)) => {
            let held: Vec<RecordId> = store.every().expect("reads").filter_map(|raw| Some(raw.ok()?.id)).collect();
            let lost = acknowledged.iter().filter(|id| !held.contains(id)).count();
            assert!(lies || problems.is_empty(), "cut at {at}: {problems:?}");
            (lost, Ok(store))
        }
        Err(error) => (acknowledged.len(), Err(error)),
    }
}

fn operations(records: &[Record]) -> usize {
    let bench = Bench::new();
    work(&bench, records, &mut Vec::new()).expect("the story ends well with the power on");
    bench.power.operations()
}

#[test]
fn whatever_was_acknowledged_is_there_wherever_the_power_goes() {
    let records = farm_of(7).known.records;
    for at in 0..operations(&records) {
        for seed in [0x9e37_79b9_7f4a_7c15_u64, 0xd1b5_4a32_d192_ed03] {
            let (lost, store) = cut(at, seed.wrapping_mul(2 * at as u64 + 1), false, &records);
            let mut store = store.unwrap_or_else(|error| panic!("cut at {at}: {error}"));
            assert_eq!(lost, 0, "cut at {at}");
            let verdict = store.verify().expect("checked");
            assert!(verdict.is_sound(), "cut at {at}: {verdict:?}");
            // What follows is numbered on without a gap, whatever came through.
            assert_eq!(store.next_id().seq, every(&store).len() as u64 + 1);
            assert_eq!(verdict.gaps, []);
        }
    }
}

#[test]
fn a_disk_that_lies_about_syncing_is_seen_to_lose() {
    let records = farm_of(7).known.records;
    let losses =
        (0..operations(&records)).step_by(7).filter(|&at| cut(at, 77 + at as u64, true, &records).0 > 0).count();
    assert!(losses > 0, "the harness sees no loss where there must be some");
}

#[test]
fn opening_after_a_dead_battery_repairs_nothing_large() {
    let records = farm_of(3000).known.records;
    let bench = Bench::new();
    let mut store = bench.opened(SERIES + 1);
    super::take(&mut store, &records);
    let clean = bench.book.image().len();
    bench.power.cut_at(bench.power.operations(), 5);
    drop(store);
    bench.hand.lose_power();
    bench.book.lose_power();
    bench.power.restore();
    let before = bench.book.reads();
    let store = bench.opened(SERIES + 2);
    let read = bench.book.reads() - before;
    assert!(read < clean as u64 / 10, "{read} bytes read of {clean}");
    assert_eq!(every(&store).len(), records.len());
}
