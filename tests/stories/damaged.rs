//! A medium that goes bad, or goes, while the screens are open: every key ends in a picture and in words, never in a panic.

use super::rig::Rig;
use crate::support::meter::Meter;
use crate::support::tablet::{day, moment};
use crushbook::domain::practice::Practice;
use crushbook::keys::key::Key;
use crushbook::keys::keymap::BuiltIn;
use crushbook::run::Start;
use crushbook::run::desk::Desk;
use crushbook::session::Notice;
use crushbook::store::Store;
use crushbook::store::medium::{Medium, hand_beside};
use crushbook::terminal::event::Event;
use redb::StorageBackend;
use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;

/// A disk that gives other bytes than were written from one of its reads on.
#[derive(Debug, Clone)]
struct Rotten {
    disk: Meter,
    /// Reads that are still right.
    good: Arc<AtomicUsize>,
    /// What is done to every byte of the others.
    flip: u8,
}

impl StorageBackend for Rotten {
    fn len(&self) -> io::Result<u64> {
        self.disk.len()
    }
    fn read(&self, offset: u64, out: &mut [u8]) -> io::Result<()> {
        self.disk.read(offset, out)?;
        if self.good.fetch_update(Ordering::SeqCst, Ordering::SeqCst, |good| good.checked_sub(1)).is_err() {
            out.iter_mut().for_each(|byte| *byte ^= self.flip);
        }
        Ok(())
    }
    fn set_len(&self, len: u64) -> io::Result<()> {
        self.disk.set_len(len)
    }
    fn sync_data(&self) -> io::Result<()> {
        self.disk.sync_data()
    }
    fn write(&self, offset: u64, data: &[u8]) -> io::Result<()> {
        self.disk.write(offset, data)
    }
}

fn desk(store: Store) -> Desk {
    let start = Start {
        today: Some(day(1)),
        farm: None,
        keymap: BuiltIn::TwoHands.keymap(),
        problems: Vec::new(),
        practice: Practice::default(),
        lists: None,
    };
    let mut desk = Desk::new(store, start, moment(day(1)));
    desk.begin(moment(day(1)));
    desk
}

fn press(desk: &mut Desk, clock: &mut Duration, keys: &str) {
    for key in keys.split_whitespace() {
        *clock += Duration::from_secs(1);
        desk.take(*clock, Event::Key(key.parse::<Key>().expect("a key")), moment(day(1)));
        *clock += Duration::from_secs(1);
        desk.tick(*clock, moment(day(1)));
    }
}

/// A book with a farm and three animals, of which one was treated.
fn treated() -> Meter {
    let (hand, book) = (Meter::default(), Meter::default());
    let mut desk = desk(Store::open(hand.medium(), book.medium(), &mut || Ok(7)).expect("opens").0);
    let mut clock = Duration::ZERO;
    press(&mut desk, &mut clock, "Enter H o l l o w Enter A n n Enter 1 3 8 2 a 1 4 1 Backspace Backspace q");
    desk.close().expect("closed");
    book
}

#[test]
fn a_book_that_rots_while_it_is_open_is_told_of_in_words() {
    let book = treated();
    let mut told = 0;
    for flip in [0xff, 0x01, 0x80] {
        for good in 0..60 {
            let rotten = Rotten { disk: book.copy(), good: Arc::new(AtomicUsize::new(good)), flip };
            let medium = Medium::Backend(Box::new(move || Ok(Box::new(rotten.clone()))));
            let Ok((store, _)) = Store::open(Meter::default().medium(), medium, &mut || Ok(8)) else {
                told += 1;
                continue;
            };
            let mut desk = desk(store);
            let mut clock = Duration::ZERO;
            for key in "d Backspace 1 3 8 2 Enter 1 4 1 Backspace l Backspace v Backspace q".split(' ') {
                press(&mut desk, &mut clock, key);
                told += usize::from(matches!(&desk.session().notice, Some(Notice::NotSaved(_) | Notice::Words(_))));
            }
            told += usize::from(desk.close().is_err());
        }
    }
    assert!(told > 0, "nothing was ever wrong");
}

#[test]
fn a_stick_that_is_pulled_out_holds_the_press_until_it_is_back() {
    let home = tempfile::tempdir().expect("a folder");
    let stick = home.path().join("stick");
    let book = stick.join("my.book");
    let opened = Store::open(Medium::File(hand_beside(&book)), Medium::File(book.clone()), &mut || Ok(7));
    let mut desk = desk(opened.expect("opens").0);
    let mut clock = Duration::ZERO;
    press(&mut desk, &mut clock, "Enter H o l l o w Enter A n n Enter 1 2 a");
    let away = home.path().join("pulled");
    std::fs::rename(&stick, &away).expect("pulled");
    press(&mut desk, &mut clock, "5");
    let Some(Notice::NotSaved(words)) = &desk.session().notice else { panic!("{:?}", desk.session().notice) };
    assert!(words.contains("my.book is gone") && words.contains("Put it back"), "{words}");
    std::fs::rename(&away, &stick).expect("put back");
    clock += Duration::from_secs(5);
    desk.tick(clock, moment(day(1)));
    assert!(matches!(desk.session().notice, Some(Notice::Saved { .. })), "{:?}", desk.session().notice);
    desk.close().expect("closed");
}

/// The rig's own disks: the battery is fine, the disk is not.
#[test]
fn a_disk_that_does_not_answer_says_so_and_loses_nothing() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["1382"]);
    rig.press("1 3 8 2 Enter 1");
    rig.power.fail(rig.power.calls(), usize::MAX / 2);
    rig.press("4 1");
    let Some(Notice::NotSaved(words)) = rig.notice() else { panic!("{:?}", rig.notice()) };
    assert!(words.contains("the disk does not answer"), "{words}");
    rig.power.fail(0, 0);
    rig.press("Enter");
    assert!(matches!(rig.notice(), Some(Notice::Saved { .. })), "{:?}", rig.notice());
}
