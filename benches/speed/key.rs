//! One key at the desk: decide, commit, apply and draw, without a terminal. And what opening the screens costs.

use crate::books::{SERIES, open, settled};
use crate::floor::Floor;
use crate::meter::{Count, Meter};
use crate::rounds::{Outcome, Racer, Times, race, timed};
use chrono::{DateTime, FixedOffset, NaiveDate, NaiveTime};
use crushbook::domain::practice::Practice;
use crushbook::keys::key::Key;
use crushbook::keys::keymap::BuiltIn;
use crushbook::run::Start;
use crushbook::run::desk::Desk;
use crushbook::screen::theme::Colour;
use crushbook::screen::{View, draw};
use crushbook::store::Store;
use crushbook::terminal::event::Event;
use ratatui::backend::CrosstermBackend;
use ratatui::layout::Rect;
use ratatui::{Terminal, TerminalOptions, Viewport};
use std::cell::Cell;
use std::io::{self, Write};
use std::path::Path;
use std::rc::Rc;
use std::time::Duration;

/// Columns and rows of the picture.
const SIZE: (u16, u16) = (100, 35);
/// Time between two keys, long enough for every filter.
const PACE: Duration = Duration::from_millis(400);

/// Counts what a terminal would be sent.
#[derive(Clone, Default)]
struct Sent(Rc<Cell<usize>>);

impl Write for Sent {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.set(self.0.get() + bytes.len());
        Ok(bytes.len())
    }
    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// A desk with a terminal that is none.
struct Bench {
    desk: Desk,
    terminal: Terminal<CrosstermBackend<Sent>>,
    sent: Sent,
    clock: Duration,
    now: DateTime<FixedOffset>,
}

impl Bench {
    fn open(book: &Path, today: NaiveDate) -> Outcome<Bench> {
        Bench::at(open(book)?, today)
    }

    fn at(store: Store, today: NaiveDate) -> Outcome<Bench> {
        let now = today.and_time(NaiveTime::MIN).and_utc().fixed_offset();
        let start = Start {
            today: Some(today),
            farm: None,
            keymap: BuiltIn::TwoHands.keymap(),
            problems: Vec::new(),
            practice: Practice::default(),
            lists: None,
        };
        let mut desk = Desk::new(store, start, now);
        desk.set_size(SIZE.0, SIZE.1);
        desk.begin(now);
        let sent = Sent::default();
        let viewport = Viewport::Fixed(Rect::new(0, 0, SIZE.0, SIZE.1));
        let terminal = Terminal::with_options(CrosstermBackend::new(sent.clone()), TerminalOptions { viewport })?;
        Ok(Bench { desk, terminal, sent, clock: Duration::ZERO, now })
    }

    /// Takes keys and draws after each; gives the bytes that the last picture sent.
    fn press(&mut self, keys: &str) -> Outcome<usize> {
        for word in keys.split_whitespace() {
            let key: Key = word.parse().map_err(|_| format!("{word} is no key"))?;
            self.clock += PACE;
            self.desk.take(self.clock, Event::Key(key), self.now);
            self.clock += PACE;
            while self.desk.wakes_at().is_some_and(|at| at <= self.clock) {
                self.desk.tick(self.clock, self.now);
            }
            self.sent.0.set(0);
            let view = View { keymap: self.desk.keymap(), now: self.now, colour: Colour::Full, targets: None };
            let session = self.desk.session();
            self.terminal.draw(|frame| draw(frame, session, &view))?;
        }
        Ok(self.sent.0.get())
    }
}

/// What opening the screens asks of the book.
pub fn count(book: &Path, today: NaiveDate) -> Outcome<Count> {
    let (hand, book) = (Meter::default(), settled(book)?);
    let (store, _) = Store::open(hand.medium(), book.medium(), &mut || Ok(SERIES))?;
    Bench::at(store, today)?;
    Ok(book.count())
}

/// Keys that are timed: few enough that her records stay a few turns' worth.
const KEYS: usize = 60;
/// Times the screens are opened.
const OPENINGS: usize = 9;

/// What the key that records sent, and the median of a key that writes nothing.
pub struct Sends {
    /// Bytes of the picture.
    pub bytes: usize,
    /// Decide and draw alone.
    pub shows: Duration,
}

/// Times the key that records a finding, and opening the screens; with what the key sent.
pub fn run(folder: &Path, book: &Path, today: NaiveDate) -> Outcome<(Times, Sends)> {
    let begin = race(
        OPENINGS,
        vec![Racer::new("screens", || {
            let (bench, time) = timed(|| Bench::open(book, today))?;
            bench.desk.close()?;
            Ok(time)
        })],
    )?;
    let mut bench = Bench::open(book, today)?;
    // The first farm, its animal 101 (or whoever is new), the right hind foot; then a zone opens its pad.
    bench.press("Enter 1 0 1 Enter 3")?;
    let mut bytes = 0;
    let mut shows: Vec<Duration> = Vec::new();
    let mut floor = Floor::new(folder)?;
    let key = race(
        KEYS,
        vec![
            Racer::new("F of keys", || floor.write(&[0; 140])),
            Racer::new("key", || {
                // A zone opens its pad and writes nothing.
                shows.push(timed(|| bench.press("4"))?.1);
                let (sent, time) = timed(|| bench.press("1"))?;
                bytes = sent;
                bench.press("Esc u")?;
                Ok(time)
            }),
        ],
    )?;
    bench.desk.set_aside(bench.now);
    bench.desk.close()?;
    shows.sort();
    let shows = shows.get(shows.len() / 2).copied().unwrap_or_default();
    Ok((begin.and(key), Sends { bytes, shows }))
}
