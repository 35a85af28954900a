//! Power cuts: at every write and every sync of a short story, on both disks together. Whatever was acknowledged is there
//! afterwards. A disk that lies about syncing shows that the harness can see a loss.

use super::{Bench, every, farm_of};
use crushbook::domain::ids::RecordId;
use crushbook::domain::record::Record;
use crushbook::store::Store;
use crushbook::store::error::StoreError;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

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
    let operations = operations(&records);
    let seeds = [0x9e37_79b9_7f4a_7c15_u64, 0xd1b5_4a32_d192_ed03, 0x2545_f491_4f6c_dd1d, 0x9fb2_1c65_1e98_df25];
    assert!(operations * seeds.len() >= 600, "{operations} operations are too few for 600 cuts");
    for at in 0..operations {
        for seed in seeds {
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

/// How often redb asks while it repairs a whole file; 0 where it need not.
fn repairs(disk: &super::Disk) -> usize {
    let repairs = Arc::new(AtomicUsize::new(0));
    let counter = Arc::clone(&repairs);
    let mut builder = redb::Builder::new();
    builder.set_repair_callback(move |_| _ = counter.fetch_add(1, Ordering::Relaxed));
    drop(builder.create_with_backend(disk.clone()).expect("opens"));
    repairs.load(Ordering::Relaxed)
}

#[test]
fn after_a_dead_battery_only_the_small_hand_is_repaired_never_the_book() {
    let mut tablet = farm_of(3000);
    let records = tablet.known.records.clone();
    let bench = Bench::new();
    let mut store = bench.opened(SERIES);
    super::take(&mut store, &records);
    tablet.farm(super::tablet::day(1), "Lower Meadow");
    store.append(&tablet.known.records[records.len()..]).expect("saved");
    bench.power.cut_at(bench.power.operations(), 5);
    drop(store);
    bench.hand.lose_power();
    bench.book.lose_power();
    bench.power.restore();
    assert_eq!(repairs(&bench.book), 0);
    assert!(repairs(&bench.hand) > 0, "the count counts");
    assert_eq!(every(&bench.opened(SERIES)).len(), records.len() + 1);
}
