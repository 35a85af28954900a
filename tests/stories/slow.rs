//! A slow disk: the screen says that it saves, and no key is taken before the disk has answered.

use crate::screens::world::text;
use crate::store::disk::{Disk, Power};
use crate::support::tablet::{day, moment};
use crushbook::domain::practice::Practice;
use crushbook::keys::key::Key;
use crushbook::keys::keymap::{BuiltIn, Keymap};
use crushbook::run::Start;
use crushbook::run::desk::Desk;
use crushbook::screen::theme::Colour;
use crushbook::screen::{View, draw};
use crushbook::session::{Notice, Session};
use crushbook::store::Store;
use crushbook::store::medium::Medium;
use crushbook::terminal::event::Event;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use redb::StorageBackend;
use std::io;
use std::sync::{Arc, Condvar, Mutex};
use std::time::Duration;

/// A gate before the platter: while it is shut, a flush waits. Nobody opening it for this long fails the test.
#[derive(Debug, Clone, Default)]
struct Gate(Arc<(Mutex<bool>, Condvar)>);

const LONG: Duration = Duration::from_secs(20);

impl Gate {
    fn set(&self, shut: bool) {
        let (state, changed) = &*self.0;
        *state.lock().expect("no panic inside") = shut;
        changed.notify_all();
    }

    fn pass(&self) {
        let (state, changed) = &*self.0;
        let shut = state.lock().expect("no panic inside");
        let (_still, waited) = changed.wait_timeout_while(shut, LONG, |shut| *shut).expect("no panic inside");
        assert!(!waited.timed_out(), "somebody opens the gate");
    }
}

#[derive(Debug)]
struct SlowDisk(Disk, Gate);

impl StorageBackend for SlowDisk {
    fn len(&self) -> io::Result<u64> {
        self.0.len()
    }
    fn read(&self, offset: u64, out: &mut [u8]) -> io::Result<()> {
        self.0.read(offset, out)
    }
    fn set_len(&self, len: u64) -> io::Result<()> {
        self.0.set_len(len)
    }
    fn sync_data(&self) -> io::Result<()> {
        self.1.pass();
        self.0.sync_data()
    }
    fn write(&self, offset: u64, data: &[u8]) -> io::Result<()> {
        self.0.write(offset, data)
    }
}

fn picture(session: &Session, keymap: &Keymap) -> String {
    let mut terminal = Terminal::new(TestBackend::new(80, 24)).expect("a test screen");
    let view = View { keymap, now: moment(day(1)), colour: Colour::Full, targets: None };
    terminal.draw(|frame| draw(frame, session, &view)).expect("it draws");
    text(terminal.backend().buffer())
}

#[test]
fn a_slow_disk_is_said_and_waited_for() {
    let (power, gate) = (Power::default(), Gate::default());
    let slow =
        |disk: Disk, gate: Gate| Medium::Backend(Box::new(move || Ok(Box::new(SlowDisk(disk.clone(), gate.clone())))));
    let (hand, book) = (slow(Disk::new(&power), gate.clone()), slow(Disk::new(&power), gate.clone()));
    let (store, _) = Store::open(hand, book, &mut || Ok(7)).expect("opens");
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
    let mut clock = Duration::ZERO;
    let mut press = |desk: &mut Desk, keys: &str| {
        for key in keys.split(' ') {
            clock += Duration::from_secs(1);
            desk.take(clock, Event::Key(key.parse::<Key>().expect("a key")), moment(day(1)));
            clock += Duration::from_secs(1);
            desk.tick(clock, moment(day(1)));
        }
    };
    press(&mut desk, "Enter H o l l o w Enter A n n Enter 1 2 a");
    let (pictures, opens) = (Arc::new(Mutex::new(Vec::new())), gate.clone());
    let drawn = Arc::clone(&pictures);
    desk.when_slow(Box::new(move |session, keymap| {
        drawn.lock().expect("no panic inside").push(picture(session, keymap));
        opens.set(false);
    }));
    gate.set(true);
    press(&mut desk, "5");
    let pictures = pictures.lock().expect("no panic inside");
    let [said] = pictures.as_slice() else { panic!("drawn once: {pictures:?}") };
    assert!(said.contains("saving ... wait"), "{said}");
    assert!(!said.contains("nothing found"), "what is not on disk is not shown:\n{said}");
    assert!(matches!(desk.session().notice, Some(Notice::Saved { .. })), "{:?}", desk.session().notice);
    assert!(picture(desk.session(), desk.keymap()).contains("nothing found"));
}
