//! Bodies of the fuzz targets for the whole program: any keys, taps, pastes and sizes, at any pace, or any typed lines, in a book
//! in memory. They panic where something is shown that must not reach a terminal, or where it is not what the book adds up to.

use super::Start;
use super::desk::{Desk, Flow};
use super::plain::Talk;
use crate::domain::history::History;
use crate::domain::practice::Practice;
use crate::domain::record::Moment;
use crate::keys::key::Key;
use crate::keys::keymap::BuiltIn;
use crate::plain::page::COLUMNS;
use crate::report::safe::{cut, safe};
use crate::screen::theme::Colour;
use crate::screen::{View, draw};
use crate::store::Store;
use crate::store::medium::{Medium, Memory};
use crate::terminal::event::Event;
use chrono::{Days, NaiveDate};
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use std::time::Duration;

/// Most events of one run: a longer one finds nothing that two shorter ones do not.
const MOST: usize = 400;
/// What a paste holds: what must never be run or shown raw.
const PASTED: &str = "12\u{1b}[2J\u{202e}q\r\nu";
/// What every run begins with: farm, who records, two animals, of one a sole ulcer, a block on the partner claw and a wrap.
const BEGINNING: &str = "\nThistle\nAnn\n34aa12a3413+11w30Tom\n1\n\n";
/// Keys that are no letters.
const NAMED: [Key; 12] = [
    Key::Enter,
    Key::Backspace,
    Key::Tab,
    Key::Esc,
    Key::Left,
    Key::Right,
    Key::Up,
    Key::Down,
    Key::Delete,
    Key::Ctrl('c'),
    Key::PageUp,
    Key::PageDown,
];

/// Any bytes as events, two bytes each: what happens, and how long after the one before.
///
/// # Panics
/// Where a promise does not hold.
pub fn fuzz_keys(bytes: &[u8]) {
    let Some((first, rest)) = bytes.split_first() else { return };
    let mut world = World::new();
    let mut desk = world.begun();
    let map = BuiltIn::ALL[usize::from(*first) % BuiltIn::ALL.len()];
    if map != world.map {
        world.map = map;
        desk = world.again(desk, 0);
    }
    for pair in rest.chunks_exact(2).take(MOST) {
        let [what, pace] = [pair[0], pair[1]];
        world.at += Duration::from_millis(4 * u64::from(pace));
        match what {
            250.. => {
                let days = u64::from(what - 250);
                desk = world.again(desk, days);
            }
            240..=249 => world.size = (u16::from(pace), u16::from(what - 240) * 6 + 1),
            _ => {
                let flow = desk.take(world.at, event(what, pace, world.size), world.now());
                if flow == Flow::Leave {
                    desk = world.again(desk, 0);
                }
            }
        }
        if desk.wakes_at().is_some_and(|at| at <= world.at) && desk.tick(world.at, world.now()) == Flow::Leave {
            desk = world.again(desk, 0);
        }
        world.look(&desk);
    }
    world.again(desk, 0);
}

/// The event a byte stands for.
fn event(what: u8, more: u8, (columns, rows): (u16, u16)) -> Event {
    match what {
        0..=127 => Event::Key(Key::Char(char::from(b' ' + what % 95))),
        // Digits, the commonest by far.
        128..=199 => Event::Key(Key::Char(char::from(b'0' + what % 10))),
        200..=229 => Event::Key(NAMED[usize::from(what) % NAMED.len()]),
        230..=236 => {
            Event::Tap { column: u16::from(more) % columns.max(1), row: u16::from(what - 230) * 4 % rows.max(1) }
        }
        _ => Event::Paste(PASTED.to_owned()),
    }
}

/// Any bytes as typed lines, over the same book: every line of an answer is numbered, narrow and harmless, and what the book
/// adds up to is what was told. A byte that is no letter ends a line; 255 leaves the program and opens it a day later.
///
/// # Panics
/// Where a promise does not hold.
pub fn fuzz_lines(bytes: &[u8]) {
    /// Lines of one run.
    const LINES: usize = 150;
    /// What a byte may stand for besides a letter: words that lead somewhere.
    const WORDS: [&str; 16] = [
        "1382", "12 Enter", "lh 4 1 3", "rh", "Enter", "back", "undo", "redo", "last", "due", "ring", "#1", "more",
        "?", "say", "w 3",
    ];
    let mut world = World::new();
    let mut desk = world.begun();
    let (mut talk, text) = Talk::begin(&mut desk, world.now());
    let mut number = numbered(&text, 0);
    let mut line = String::new();
    for byte in bytes.iter().take(LINES * 8) {
        match *byte {
            32..=126 => {
                line.push(char::from(*byte));
                continue;
            }
            127..=142 => line.push_str(WORDS[usize::from(byte - 127)]),
            143..=160 => line.push_str("\u{1b}[2J\u{202e}\u{6f22}\t"),
            255 => {
                desk = world.again(desk, 1);
                let text;
                (talk, text) = Talk::begin(&mut desk, world.now());
                number = numbered(&text, 0);
                continue;
            }
            _ => {}
        }
        world.at += Duration::from_secs(1);
        let (flow, text) = talk.take(&mut desk, &std::mem::take(&mut line), world.at, world.now());
        number = numbered(&text, number);
        if flow == Flow::Leave {
            desk = world.again(desk, 0);
            let text;
            (talk, text) = Talk::begin(&mut desk, world.now());
            number = numbered(&text, 0);
        }
    }
    world.again(desk, 0);
}

/// Looks at the form of an answer; gives the number of its last line.
fn numbered(text: &str, mut number: usize) -> usize {
    for line in text.lines() {
        number += 1;
        assert!(
            line.starts_with(&format!("{number} ")) && line.contains(": "),
            "numbered, and about something: {line:?}"
        );
        assert_eq!(safe(line), line, "nothing raw is told");
        assert_eq!(cut(line, COLUMNS), line, "no line is too wide");
    }
    number
}

/// All that stays when the program is left.
struct World {
    hand: Memory,
    book: Memory,
    map: BuiltIn,
    today: NaiveDate,
    series: u64,
    at: Duration,
    size: (u16, u16),
}

impl World {
    fn new() -> World {
        World {
            hand: Memory::default(),
            book: Memory::default(),
            map: BuiltIn::TwoHands,
            today: NaiveDate::from_ymd_opt(2026, 5, 1).unwrap_or_default(),
            series: 0,
            at: Duration::ZERO,
            size: (80, 24),
        }
    }

    fn now(&self) -> Moment {
        self.today.and_hms_opt(12, 0, 0).unwrap_or_default().and_utc().fixed_offset()
    }

    fn store(&mut self) -> Store {
        let series = &mut self.series;
        let mut source = || {
            *series += 1;
            Ok(*series)
        };
        let opened = Store::open(Medium::memory(&self.hand), Medium::memory(&self.book), &mut source);
        let (store, problems) = opened.expect("a book in memory opens");
        assert_eq!(problems, [], "nothing is wrong with it");
        store
    }

    fn open(&mut self) -> Desk {
        let start = Start {
            today: Some(self.today),
            farm: None,
            keymap: self.map.keymap(),
            problems: Vec::new(),
            practice: Practice::default(),
            lists: None,
        };
        let mut desk = Desk::new(self.store(), start, self.now());
        desk.begin(self.now());
        desk
    }

    /// A farm with two animals, one of them with a wrap and a block since yesterday.
    fn begun(&mut self) -> Desk {
        let mut desk = self.open();
        for letter in BEGINNING.chars() {
            let key = match letter {
                '\n' => Key::Enter,
                letter => Key::Char(letter),
            };
            self.at += Duration::from_secs(1);
            desk.take(self.at, Event::Key(key), self.now());
            // Filters wait in turn: a run of keys first, then a repeat of the same one.
            for _ in 0..2 {
                self.at += Duration::from_secs(1);
                desk.tick(self.at, self.now());
            }
        }
        assert_eq!(desk.session().herd.len(), 2, "both are there");
        self.again(desk, 1)
    }

    /// The program is left and opened again, days later or at once.
    fn again(&mut self, desk: Desk, days: u64) -> Desk {
        let before = desk.session().crush.clone();
        desk.close().expect("it closes");
        let mut store = self.store();
        let verdict = store.verify().expect("it is checked");
        assert!(verdict.is_sound(), "{verdict:?}");
        if let Some(crush) = before {
            let (records, problems) = store.records(crush.animal.0).expect("hers are read");
            assert_eq!(problems, [], "all of hers can be read");
            assert_eq!(History::of(records, crush.animal), crush.history, "what was shown is what is kept");
        }
        store.close().expect("it closes");
        self.today = self.today.checked_add_days(Days::new(days)).unwrap_or(self.today);
        self.open()
    }

    /// Draws, and reads what was drawn.
    fn look(&self, desk: &Desk) {
        let (columns, rows) = self.size;
        let Ok(mut terminal) = Terminal::new(TestBackend::new(columns.max(1), rows.max(1)));
        let view = View { keymap: desk.keymap(), now: self.now(), colour: Colour::Full, targets: None };
        let Ok(drawn) = terminal.draw(|frame| draw(frame, desk.session(), &view));
        for cell in drawn.buffer.content() {
            assert_eq!(safe(cell.symbol()), cell.symbol(), "nothing raw is drawn");
        }
    }
}
