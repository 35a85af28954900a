//! Restoring: at any moment the old book is whole or the new one is, the backup is as it was, nothing that was recorded goes
//! without being asked for, and even then it is only set aside.

use super::cabinet::Cabinet;
use super::disk::Power;
use super::tablet::{Tablet, day};
use super::{every, farm_of};
use crushbook::domain::ids::RecordId;
use crushbook::domain::record::Record;
use crushbook::store::Store;
use crushbook::store::backup::make;
use crushbook::store::error::{Problem, StoreError};
use crushbook::store::folder::Folder;
use crushbook::store::restore::{Over, RestoreError, Restored, restore};

const BOOK: &str = "my.book";
const HAND: &str = "my.book-hand";
const STICK: &str = "stick";

type All = Vec<(RecordId, Record)>;

fn open(cabinet: &Cabinet, book: &str) -> Result<(Store, Vec<Problem>), StoreError> {
    let hand = cabinet.file(&format!("{book}-hand"));
    let mut series = 900;
    let mut source = || {
        series += 1;
        Ok(series)
    };
    Store::open(hand, cabinet.file(book), &mut source)
}

fn records(cabinet: &Cabinet, book: &str) -> All {
    let (mut store, _) = open(cabinet, book).unwrap_or_else(|why| panic!("{book}: {why}"));
    let verdict = store.verify().expect("read");
    assert!(verdict.is_sound(), "{book}: {verdict:?}");
    every(&store)
}

/// A folder with a book and a backup of it; then so many animals more in the book, and so many presses in its hand.
struct Desk {
    power: Power,
    cabinet: Cabinet,
    backup: Vec<u8>,
    in_backup: All,
    in_book: All,
}

impl Desk {
    fn new(packed: u32, in_hand: u32) -> Desk {
        let power = Power::default();
        let cabinet = Cabinet::new(&power);
        let (mut store, _) = Store::open(cabinet.file(HAND), cabinet.file(BOOK), &mut || Ok(7)).expect("opens");
        let mut tablet = farm_of(3);
        store.append(&tablet.known.records).expect("saved");
        store.pack().expect("packed");
        let in_backup = every(&store);
        let made = make(store.snapshot().expect("a moment"), &cabinet, day(2)).expect("a backup");
        let name = made.file.file_name().and_then(|name| name.to_str()).expect("a name").to_owned();
        cabinet.rename(&name, STICK).expect("renamed");
        for number in 0..packed + in_hand {
            append(&mut store, &mut tablet);
            if number + 1 == packed {
                store.pack().expect("packed");
            }
        }
        let in_book = every(&store);
        drop(store);
        cabinet.sync().expect("synced");
        let backup = cabinet.image(STICK).expect("there");
        Desk { power, cabinet, backup, in_backup, in_book }
    }

    fn copy(&self) -> Desk {
        let power = Power::default();
        let cabinet = self.cabinet.copy(&power);
        let (backup, in_backup, in_book) = (self.backup.clone(), self.in_backup.clone(), self.in_book.clone());
        Desk { power, cabinet, backup, in_backup, in_book }
    }

    fn restore(&self, over: Over) -> Result<Restored, RestoreError> {
        let mut series = 500;
        let mut source = || {
            series += 1;
            Ok(series)
        };
        restore(&self.cabinet.file(STICK), &self.cabinet, BOOK, over, &mut source)
    }

    /// What a fresh look at it finds: the book's records, with its own.
    fn judge(&self, when: &str) -> All {
        assert_eq!(self.cabinet.image(STICK).as_ref(), Some(&self.backup), "{when}: the backup is as it was");
        records(&self.cabinet, BOOK)
    }
}

fn append(store: &mut Store, tablet: &mut Tablet) {
    let from = tablet.known.records.len();
    tablet.farm(day(1), "Lower Meadow");
    store.append(&tablet.known.records[from..]).expect("saved");
}

#[test]
fn a_backup_comes_back_with_all_its_records_in_a_new_series() {
    let desk = Desk::new(0, 0);
    desk.cabinet.remove(BOOK).expect("lost");
    desk.cabinet.remove(HAND).expect("lost");
    let done = desk.restore(Over::Older).expect("restored");
    assert_eq!(done, Restored { records: desk.in_backup.len() as u64, aside: None });
    assert_eq!(desk.judge("after"), desk.in_backup);
    let (store, problems) = open(&desk.cabinet, BOOK).expect("opens");
    assert_eq!((store.series(), problems), (501, vec![]), "not the series of the book that was lost");
    let mut listed = desk.cabinet.listed();
    listed.retain(|name| name != HAND);
    assert_eq!(listed, [BOOK, STICK], "nothing else is left there");
}

#[test]
fn a_book_with_records_that_the_backup_lacks_is_not_replaced_unless_that_is_said() {
    for (packed, in_hand) in [(2, 0), (0, 2), (1, 1)] {
        let desk = Desk::new(packed, in_hand);
        match desk.restore(Over::Older) {
            Err(RestoreError::Lacks { records: 2, .. }) => {}
            other => panic!("{packed} packed, {in_hand} in the hand: {other:?}"),
        }
        assert_eq!(desk.judge("refused"), desk.in_book);
        assert!(desk.cabinet.listed().iter().all(|name| !name.contains("restoring") && !name.contains("aside")));
        let done = desk.restore(Over::Anything).expect("restored");
        let aside = done.aside.expect("the old book is there");
        assert!(aside.ends_with("my.book-set-aside"), "{}", aside.display());
        // The refusal took the hand into the book that is set aside now.
        assert_eq!(desk.judge("after"), desk.in_backup);
        assert_eq!(records(&desk.cabinet, "my.book-set-aside"), desk.in_book);
        assert_eq!(
            desk.restore(Over::Older).expect("again").aside.map(|aside| aside.ends_with("my.book-set-aside-2")),
            Some(true)
        );
    }
}

#[test]
fn presses_in_the_hand_of_a_book_that_is_not_read_come_into_the_new_one() {
    let desk = Desk::new(1, 2);
    desk.restore(Over::Anything).expect("restored");
    let (store, problems) = open(&desk.cabinet, BOOK).expect("opens");
    assert!(matches!(problems.as_slice(), [Problem::Apart { .. }]), "{problems:?}");
    let both: Vec<_> = desk.in_backup.iter().chain(&desk.in_book[desk.in_book.len() - 2..]).cloned().collect();
    assert_eq!(every(&store), both);
}

#[test]
fn a_book_that_cannot_be_read_is_set_aside_only_when_that_is_said_and_its_hand_with_it() {
    let desk = Desk::new(1, 1);
    let torn = |name: &str| {
        let image = desk.cabinet.image(name).expect("there");
        desk.cabinet.put(name, image[..image.len() / 2].to_vec());
    };
    torn(BOOK);
    torn(HAND);
    let said = desk.restore(Over::Older).expect_err("refused").to_string();
    assert!(said.contains("cannot be read through, so it may hold records that the backup lacks"), "{said}");
    let old = desk.cabinet.image(BOOK);
    desk.restore(Over::Anything).expect("restored");
    assert_eq!(desk.judge("after"), desk.in_backup);
    assert_eq!(desk.cabinet.image("my.book-set-aside"), old);
    assert!(desk.cabinet.listed().contains(&"my.book-set-aside-hand".to_owned()), "{:?}", desk.cabinet.listed());
}

#[test]
fn what_is_no_whole_backup_is_refused_and_the_book_is_as_it_was() {
    let desk = Desk::new(1, 0);
    let refuse = |image: Option<Vec<u8>>| {
        let tried = desk.copy();
        match image {
            Some(image) => tried.cabinet.put(STICK, image),
            None => tried.cabinet.remove(STICK).expect("gone"),
        }
        let said = tried.restore(Over::Anything).expect_err("refused").to_string();
        assert_eq!(records(&tried.cabinet, BOOK), desk.in_book, "{said}");
        assert!(!tried.cabinet.listed().iter().any(|name| name.contains("restoring")), "{said}");
        said
    };
    let whole = desk.backup.clone();
    assert!(refuse(None).contains("there is no backup at"));
    assert!(refuse(Some(b"Dear farmer,\n".to_vec())).contains("is no backup"));
    for length in [4096, whole.len() / 2, whole.len() - 4096] {
        let said = refuse(Some(whole[..length].to_vec()));
        assert!(said.contains("is no whole backup") || said.contains("is no backup"), "{length}: {said}");
    }
    let mut flipped = whole.clone();
    let at = (0..flipped.len()).find(|at| flipped[*at..].starts_with(b"Upper Meadow")).expect("the farm's name");
    flipped[at] ^= 1;
    assert!(refuse(Some(flipped)).contains("is no whole backup"));
    let blank = {
        let new = Cabinet::new(&Power::default());
        drop(redb::Builder::new().create_with_backend(redb_of(&new)));
        new.image("new").expect("made")
    };
    assert!(refuse(Some(blank)).contains("is no backup"), "an empty database is no backup of anything");
    let out = desk.cabinet.image(BOOK).expect("there");
    assert!(refuse(Some(out)).contains("its last presses lie in the file beside it"));
}

/// A disk of redb's own in a cabinet.
fn redb_of(cabinet: &Cabinet) -> super::disk::Disk {
    cabinet.put("new", Vec::new());
    cabinet.disk("new").expect("just put there")
}

#[test]
fn the_battery_may_go_at_every_operation_of_a_restore() {
    for (packed, in_hand, over) in [(0, 0, Over::Older), (2, 1, Over::Anything)] {
        let desk = Desk::new(packed, in_hand);
        let easy = desk.copy();
        easy.restore(over).expect("restored");
        let operations = easy.power.operations();
        let (mut old, mut new) = (0, 0);
        // With the hand's presses, which are beside whichever of the two is there.
        let presses = &desk.in_book[desk.in_book.len() - in_hand as usize..];
        let restored: All = desk.in_backup.iter().chain(presses).cloned().collect();
        for at in 0..=operations {
            for toss in 0..3 {
                let tried = desk.copy();
                let when = format!("cut at {at} of {operations}, toss {toss}");
                tried.power.cut_at(at, (at * 3 + toss) as u64);
                let said = tried.restore(over);
                tried.cabinet.lose_power();
                tried.power.restore();
                let aside = tried.cabinet.listed().into_iter().find(|name| name.ends_with("set-aside"));
                let found = tried.judge(&when);
                let is_old = found == desk.in_book && (said.is_err() || desk.in_book == restored);
                assert!(is_old || found == restored, "{when}: {} records", found.len());
                if found == restored && desk.in_book != restored {
                    let aside = aside.unwrap_or_else(|| panic!("{when}: the old book is gone"));
                    assert_eq!(records(&tried.cabinet, &aside).len(), desk.in_book.len() - in_hand as usize, "{when}");
                }
                (old, new) = (old + usize::from(said.is_err()), new + usize::from(said.is_ok()));
                // It is not worse off than before: the same again goes well.
                let again = tried.restore(Over::Anything).unwrap_or_else(|why| panic!("{when}: {why}"));
                assert_eq!(again.records as usize, desk.in_backup.len(), "{when}");
                assert!(!tried.cabinet.listed().iter().any(|name| name.contains("restoring")), "{when}");
            }
        }
        assert!(old > 50 && new > 0, "{old} cut, {new} done");
    }
}
