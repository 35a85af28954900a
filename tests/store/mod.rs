//! The store: one press is one flush, nothing shown is lost, one way in, and lists that are what the records add up to.

mod backup;
mod broke_off;
mod cabinet;
pub mod disk;
mod exchange;
mod failing;
mod files;
mod flips;
mod fork;
mod golden;
mod hand;
mod join;
mod lists;
mod other;
mod power;
mod rescue;
mod restore;
mod series;
mod tablet;
mod vanish;
mod verify;
mod world;

use crushbook::domain::ids::RecordId;
use crushbook::domain::record::Record;
use crushbook::store::Store;
use crushbook::store::error::Problem;
use crushbook::wire::envelope::{Raw, encode};
use disk::{Disk, Power};
use tablet::Tablet;

/// A machine with a hand and a book on two disks and one power switch.
struct Bench {
    power: Power,
    hand: Disk,
    book: Disk,
}

impl Bench {
    fn new() -> Bench {
        let power = Power::default();
        Bench { hand: Disk::new(&power), book: Disk::new(&power), power }
    }

    /// Another machine with the same bytes on its disks.
    fn copy(&self) -> Bench {
        let power = Power::default();
        Bench { hand: self.hand.copy(&power), book: self.book.copy(&power), power }
    }

    /// Opens the store; a new series would be `series`.
    fn open(&self, series: u64) -> Result<(Store, Vec<Problem>), crushbook::store::error::StoreError> {
        let mut next = series;
        let mut source = || {
            next += 1;
            Ok(next - 1)
        };
        Store::open(self.hand.medium(), self.book.medium(), &mut source)
    }

    fn opened(&self, series: u64) -> Store {
        let (store, problems) = self.open(series).expect("the store opens");
        assert_eq!(problems, []);
        store
    }
}

/// A farm with a visit, and so many animals.
fn farm_of(animals: u32) -> Tablet {
    let mut tablet = Tablet::new(7);
    let on = tablet::day(0);
    let farm = tablet.farm(on, "Upper Meadow");
    tablet.visit(on, farm);
    for number in 0..animals {
        tablet.animal(on, farm, &(1380 + number).to_string());
    }
    tablet
}

fn raws(records: &[Record]) -> Vec<Raw> {
    records.iter().map(|record| encode(record).expect("a record of the story can be written")).collect()
}

fn take(store: &mut Store, records: &[Record]) -> crushbook::store::take::Taken {
    store.take(&mut raws(records).into_iter().map(Ok)).expect("the book takes records")
}

/// Every record of a store by name; none may be unreadable.
fn every(store: &Store) -> Vec<(RecordId, Record)> {
    let mut all: Vec<(RecordId, Record)> = store
        .every()
        .expect("the store reads")
        .map(|raw| raw.expect("every record can be read"))
        .map(|raw| (raw.id, raw.decode().expect("every record can be decoded")))
        .collect();
    all.sort_by_key(|(id, _)| *id);
    all
}
