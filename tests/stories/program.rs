//! The real program in a pseudo-terminal: open the sample herd, choose an animal, see last time's map, lift a foot, find,
//! put on block, wrap and dressing, sign off; and kill it in the middle of typing.
//!
//! Keys go one by one, each after the screen shows what the one before it did: nothing waits for time to pass but the
//! patience of a hang.

use crate::store::disk::Dice;
use crate::support::tablet::moment;
use chrono::NaiveDate;
use crushbook::domain::anatomy::{Foot, Horn, Place, Side};
use crushbook::domain::event::Event;
use crushbook::domain::finding::{Degree, Finding, Grade};
use crushbook::domain::herd::{Labels, VisitWhy};
use crushbook::domain::ids::{AnimalId, FarmId, RecordId, TurnId, VisitId};
use crushbook::domain::record::Stamp;
use crushbook::store::Store;
use crushbook::store::medium::{Medium, hand_beside};
use crushbook::wire::envelope::Raw;
use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use std::io::{Read, Write};
use std::num::NonZero;
use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::thread;
use std::time::{Duration, Instant};
use vt100::Parser;

/// Far beyond what any step takes; only a hang gets there.
const PATIENCE: Duration = Duration::from_secs(30);

/// What ends each picture: the cursor is hidden (DECTCEM).
const DRAWN: &[u8] = b"\x1b[?25l";

pub const TODAY: &str = "2026-05-14";

pub struct Terminal {
    child: Box<dyn Child + Send + Sync>,
    keys: Box<dyn Write + Send>,
    output: Receiver<Vec<u8>>,
    screen: Parser,
    raw: Vec<u8>,
    _master: Box<dyn MasterPty + Send>,
}

impl Terminal {
    pub fn open(home: &Path, arguments: &[&str]) -> Terminal {
        Terminal::open_as(home, arguments, "xterm-256color")
    }

    /// A terminal of that name.
    pub fn open_as(home: &Path, arguments: &[&str], name: &str) -> Terminal {
        let size = PtySize { rows: 24, cols: 80, pixel_width: 0, pixel_height: 0 };
        let pair = native_pty_system().openpty(size).expect("a pseudo-terminal");
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_crushbook"));
        command.args(arguments);
        command.env_clear();
        command.env("HOME", home);
        command.env("TERM", name);
        command.cwd(home);
        let (rows, cols) = (NonZero::new(24).expect("rows"), NonZero::new(80).expect("columns"));
        let child = pair.slave.spawn_command(command).expect("the program starts");
        drop(pair.slave);
        let mut reader = pair.master.try_clone_reader().expect("its output");
        let keys = pair.master.take_writer().expect("its input");
        let (to, output) = channel();
        thread::spawn(move || {
            let mut buffer = [0; 4096];
            while let Ok(count @ 1..) = reader.read(&mut buffer) {
                if to.send(buffer[..count].to_vec()).is_err() {
                    return;
                }
            }
        });
        Terminal { child, keys, output, screen: Parser::new(rows, cols, 0), raw: Vec::new(), _master: pair.master }
    }

    pub fn shown(&self) -> String {
        self.screen.screen().contents()
    }

    /// Waits until the screen shows all of these.
    pub fn until(&mut self, words: &[&str]) {
        self.until_it(words.join(" and ").as_str(), |screen| words.iter().all(|word| screen.contains(word)));
    }

    /// Waits until the screen is as wanted.
    fn until_it(&mut self, what: &str, wanted: impl Fn(&str) -> bool) {
        let end = Instant::now() + PATIENCE;
        while !wanted(&self.shown()) {
            let left = end.saturating_duration_since(Instant::now());
            match self.output.recv_timeout(left) {
                Ok(bytes) => self.hear(bytes),
                Err(_) => panic!("never shown: {what}\n{}", self.shown()),
            }
        }
    }

    fn hear(&mut self, bytes: Vec<u8>) {
        self.screen.process(&bytes);
        self.raw.extend(bytes);
    }

    /// Every byte that was waited for.
    pub fn raw(&self) -> &[u8] {
        &self.raw
    }

    /// Looks at what comes for a while.
    fn watch(&mut self, time: Duration) {
        let end = Instant::now() + time;
        while let Ok(bytes) = self.output.recv_timeout(end.saturating_duration_since(Instant::now())) {
            self.hear(bytes);
        }
    }

    /// SIGKILL: nothing can be caught, nothing is tidied up.
    pub fn kill(&mut self) {
        let id = self.child.process_id().expect("a process").to_string();
        assert!(Command::new("kill").args(["-KILL", &id]).status().expect("kill runs").success());
        self.child.wait().expect("gone");
    }

    /// Presses a key and waits for what it brings.
    pub fn press(&mut self, key: &str, then: &[&str]) {
        self.keys.write_all(key.as_bytes()).expect("the key arrives");
        self.keys.flush().expect("the key arrives");
        self.until(then);
    }

    /// Presses a key that may be taken for the last of a reading, until it is heard.
    pub fn press_until(&mut self, key: &str, then: impl Fn(&str) -> bool) {
        for _ in 0..10 {
            self.press(key, &[]);
            let end = Instant::now() + Duration::from_secs(2);
            while !then(&self.shown()) && Instant::now() < end {
                self.watch(Duration::from_millis(20));
            }
            if then(&self.shown()) {
                return;
            }
        }
        panic!("{key:?} was never heard\n{}", self.shown());
    }

    /// A tag reader types this and ends the line: in one piece, or each byte so long after the one before. Gives back the
    /// longest silence between two bytes.
    pub fn read_tag(&mut self, digits: &str, pace: Option<Duration>) -> Duration {
        let line = format!("{digits}\r");
        let Some(pace) = pace else {
            self.keys.write_all(line.as_bytes()).expect("the reading arrives");
            return Duration::ZERO;
        };
        let mut longest = Duration::ZERO;
        let mut last: Option<Instant> = None;
        for byte in line.bytes() {
            if let Some(last) = last {
                thread::sleep(pace);
                longest = longest.max(last.elapsed());
            }
            last = Some(Instant::now());
            self.keys.write_all(&[byte]).expect("the reading arrives");
            self.keys.flush().expect("the reading arrives");
        }
        longest
    }

    /// Types a number digit by digit; each is shown in figures before the next. A picture may come in pieces, and the rest of the one
    /// before would pass for the digit: it is awaited to its end.
    pub fn type_number(&mut self, number: &str) {
        self.until_drawn(None);
        for key in number.chars() {
            let before = self.shown();
            self.press(&key.to_string(), &[]);
            self.until_drawn(Some(before));
        }
    }

    /// Waits for the end of a picture, another one than that.
    fn until_drawn(&mut self, before: Option<String>) {
        let end = Instant::now() + PATIENCE;
        while before.as_ref() == Some(&self.shown()) || !self.raw.ends_with(DRAWN) {
            let left = end.saturating_duration_since(Instant::now());
            let bytes = self.output.recv_timeout(left).expect("the digit is shown");
            self.hear(bytes);
        }
    }

    /// Leaves; the terminal must be as it was found: main screen, cursor, no pastes in one piece, no taps.
    pub fn leave_clean(mut self, key: &str) -> u32 {
        self.keys.write_all(key.as_bytes()).expect("the key arrives");
        self.keys.flush().expect("the key arrives");
        let code = self.child.wait().expect("the program ends").exit_code();
        self.until_it("the terminal put back", |_| true);
        while let Ok(bytes) = self.output.recv_timeout(Duration::from_millis(500)) {
            self.screen.process(&bytes);
        }
        let screen = self.screen.screen();
        assert!(!screen.alternate_screen() && !screen.hide_cursor() && !screen.bracketed_paste());
        assert_eq!(screen.mouse_protocol_mode(), vt100::MouseProtocolMode::None);
        code
    }

    pub fn leave(mut self, key: &str) -> u32 {
        self.keys.write_all(key.as_bytes()).expect("the key arrives");
        self.keys.flush().expect("the key arrives");
        self.child.wait().expect("the program ends").exit_code()
    }
}

pub fn without_screen(home: &Path, arguments: &[&str]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_crushbook"))
        .args(arguments)
        .env_clear()
        .env("HOME", home)
        .current_dir(home)
        .stdin(Stdio::null())
        .output()
        .expect("the program runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("text")
}

pub const DEMO: [&str; 5] = ["demo", "--book", "herd.book", "--today", TODAY];

#[test]
fn a_turn_from_number_to_due_list() {
    let home = tempfile::tempdir().expect("a folder");
    let mut terminal = Terminal::open(home.path(), &DEMO);
    terminal.until(&["Quillbarrow", "NUMBER"]);
    terminal.type_number("1398");
    // Last time's map is there at once: her white line fissure waits for its answer.
    terminal.press("\r", &["1398", "wlf moderate", "not looked at"]);
    terminal.press("3", &["in hand"]);
    terminal.press("2", &["1 ", "healed"]);
    terminal.press("3", &["same"]);
    terminal.press("4", &["SU sole"]);
    terminal.press("1", &["severe"]);
    terminal.press("3", &["sole ulcer severe"]);
    terminal.press("b", &["wood"]);
    terminal.press("1", &["wood block", "saved"]);
    terminal.press(".", &["DD"]);
    terminal.press("1", &["M2"]);
    terminal.press("2", &["digital dermatitis M2"]);
    terminal.press("w", &["off by when"]);
    terminal.press("3", &["takes it off"]);
    terminal.press("0", &["who takes the wrap off"]);
    for (letter, typed) in [("T", "T_"), ("o", "To_"), ("m", "Tom_")] {
        terminal.press(letter, &[typed]);
    }
    terminal.press("\r", &["colour"]);
    terminal.press("2", &["blue"]);
    terminal.press("s", &["dressed with"]);
    terminal.press("0", &["dressed with"]);
    terminal.press("x", &["x_"]);
    terminal.press("\r", &["dressing x"]);
    // The same key twice faster than fingers is a wet contact, so look at last time in between.
    terminal.press("l", &["d ago", "CHANGED"]);
    terminal.press("\x7f", &["WRAP TODAY [>]"]);
    terminal.press("\r", &["RH trimmed, all looked at"]);
    terminal.press("l", &["d ago", "CHANGED"]);
    terminal.press("\x7f", &["sign off"]);
    // Sign-off: nothing hurts, but a mark of last time waits. Answered, she goes; what is on her is called out.
    terminal.press("\r", &["1 OLD MARK"]);
    terminal.press(" ", &["1 healed", "8 not", "9 something"]);
    terminal.press("8", &["lets her go"]);
    terminal.press("\r", &["BACK RIGHT", "NUMBER"]);
    assert_eq!(terminal.leave("q"), 0);
    let due = without_screen(home.path(), &["due", "--book", "herd.book", "--today", TODAY, "--as", "json"]);
    let rows: serde_json::Value = serde_json::from_str(&due).expect("JSON");
    let hers: Vec<(&str, &str)> = rows["items"]
        .as_array()
        .expect("a list")
        .iter()
        .filter(|row| row["animal"] == "1398")
        .filter_map(|row| Some((row["what"].as_str()?, row["foot"].as_str()?)))
        .collect();
    assert!(hers.contains(&("wrap-off", "RH")), "{hers:?}");
    assert!(hers.contains(&("block-look", "RH")), "{hers:?}");
}

/// The sample herd shows a herd list being taken too.
#[test]
fn beside_the_sample_herd_lies_a_list_to_try() {
    let home = tempfile::tempdir().expect("a folder");
    let mut terminal = Terminal::open(home.path(), &["demo", "--today", TODAY]);
    terminal.until(&["Quillbarrow", "NUMBER"]);
    terminal.press("f", &["its herd"]);
    terminal.press("9", &["HERD OF Quillbarrow"]);
    terminal.press("a", &["> new-list.csv"]);
    terminal.press("\r", &["new-list.csv against Quillbarrow", "1 new, 1 changed", "1404", "1396"]);
    // So soon after the other it may be taken for a contact that bounced.
    terminal.press_until("\r", |screen| screen.contains("take all of it"));
    terminal.press("1", &["does not name 1 animal"]);
    assert_eq!(terminal.leave("q"), 0);
}

#[test]
fn killed_in_the_middle_of_typing_every_key_that_was_shown_is_there() {
    let home = tempfile::tempdir().expect("a folder");
    let mut terminal = Terminal::open(home.path(), &DEMO);
    terminal.until(&["Quillbarrow", "NUMBER"]);
    terminal.type_number("1371");
    terminal.press("\r", &["1371"]);
    terminal.press("1", &["in hand"]);
    terminal.press("4", &["SU sole"]);
    terminal.press("1", &["saved", "severe"]);
    terminal.press("2", &["sole ulcer moderate"]);
    terminal.kill();
    let asked = ["animal", "1371", "--farm", "Quillbarrow", "--book", "herd.book", "--as", "json"];
    let animal = without_screen(home.path(), &asked);
    let animal: serde_json::Value = serde_json::from_str(&animal).expect("JSON");
    let finding = &animal["turns"][0]["findings"][0];
    assert_eq!((finding["code"].as_str(), finding["grade"].as_str()), (Some("SU"), Some("moderate")));
    // Opened again she is still in the crush.
    let mut terminal = Terminal::open(home.path(), &["--book", "herd.book", "--today", TODAY]);
    terminal.until(&["1371", "expected 14: 1 done "]);
    assert_eq!(terminal.leave("q"), 0);
}

/// A book with one animal in the crush, a finding on her, and its program killed.
fn one_in_the_crush(home: &Path) {
    let (mut store, _) = open(home);
    let press = |store: &mut Store, event: Event, about: Option<RecordId>| {
        let stamp = Stamp { next: store.next_id(), tick: store.tick(), by: None, now: moment(today()), on: today() };
        let press = stamp.press([(about.unwrap_or(stamp.next), event)]);
        store.append(&press).expect("saved");
        stamp.next
    };
    press(&mut store, Event::PersonBegun { name: "Ann".to_owned() }, Some(RecordId::PRACTICE));
    let farm = FarmId(press(&mut store, Event::FarmBegun { name: "Thistle Bank".to_owned() }, None));
    let labels = Labels { number: "1382".to_owned(), ..Labels::default() };
    let animal = AnimalId(press(&mut store, Event::AnimalBegun { farm, labels }, None));
    let visit = VisitId(press(&mut store, Event::VisitBegun { farm, why: VisitWhy::Routine }, Some(farm.0)));
    let turn = TurnId(press(&mut store, Event::TurnBegun { visit, animal }, Some(animal.0)));
    let place = Place::Horn(Foot::LeftHind, Side::Outer, Horn::SoleBulb);
    let (what, degree) = (Finding::SU, Degree::Grade(Grade::Severe));
    press(&mut store, Event::Found { turn, place, what, degree, words: String::new() }, Some(animal.0));
}

fn today() -> NaiveDate {
    TODAY.parse().expect("a day")
}

/// Opens the book as the program would; nothing may be wrong with it.
pub fn open(home: &Path) -> (Store, usize) {
    let book = home.join("herd.book");
    let opened = Store::open(Medium::File(hand_beside(&book)), Medium::File(book), &mut || Ok(7));
    let (store, problems) = opened.expect("the book opens");
    assert_eq!(problems, []);
    let about_presses = |raw: Raw| {
        let record = raw.decode().expect("every record can be decoded");
        usize::from(matches!(record.event(), Some(Event::Undone { .. } | Event::Redone { .. })))
    };
    let presses = store.every().expect("read").map(|raw| about_presses(raw.expect("every record can be read"))).sum();
    (store, presses)
}

/// Processes killed, one after the other: `CRUSHBOOK_KILLS=500` kills so many.
fn kills_wanted() -> usize {
    std::env::var("CRUSHBOOK_KILLS").map_or(50, |said| said.parse().expect("CRUSHBOOK_KILLS is a number of kills"))
}

/// Undo and redo by turns: each is one key, one record, and shows at once in words.
#[test]
fn killed_at_any_moment_every_press_that_was_shown_is_there_and_none_is_twice() {
    const KEYS: [(&str, &str); 2] = [("u", "taken back: LH"), ("r", "put back: LH")];
    let home = tempfile::tempdir().expect("a folder");
    one_in_the_crush(home.path());
    let mut dice = Dice::new(9);
    let mut pressed = 0;
    for kill in 0..kills_wanted() {
        let mut terminal = Terminal::open(home.path(), &["--book", "herd.book", "--today", TODAY]);
        terminal.until(&["1382", ": 0 done "]);
        for _ in 0..dice.roll(3) {
            let (key, then) = KEYS[pressed % 2];
            terminal.press(key, &["saved", then]);
            pressed += 1;
        }
        // One more, and the end while it is held back, written, or drawn. Nothing is asserted about the time.
        terminal.press(KEYS[pressed % 2].0, &[]);
        terminal.watch(Duration::from_micros(dice.roll(80_000) as u64));
        terminal.kill();
        let (_, there) = open(home.path());
        assert!(
            there == pressed || there == pressed + 1,
            "kill {kill}: {pressed} presses were shown, {there} are there"
        );
        pressed = there;
    }
    without_screen(home.path(), &["check", "--book", "herd.book"]);
}
