//! The terminal is put back after every ending, in a real pseudo-terminal.
//!
//! This test binary starts itself once more as the program: [`program`] is that program
//! when the variable below is set, and does nothing in an ordinary run. Everything waits
//! for what the terminal shows; nothing waits for time to pass.

use std::io::{self, Read, Write};
use std::num::NonZero;
use std::process::Command;
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::thread;
use std::time::{Duration, Instant};

use crushbook::keys::key::Key;
use crushbook::run::crash;
use crushbook::store::Store;
use crushbook::store::error::StoreError;
use crushbook::store::medium::Medium;
use crushbook::terminal::clock::Watch;
use crushbook::terminal::event::Event;
use crushbook::terminal::guard::{Guard, Screen, afresh, suspend};
use crushbook::terminal::{input, signal};
use portable_pty::{Child, CommandBuilder, PtySize, native_pty_system};
use vt100::{MouseProtocolMode, Parser};

const AS_PROGRAM: &str = "CRUSHBOOK_TEST_TERMINAL";
/// Far beyond what any step takes; only a hang gets there.
const PATIENCE: Duration = Duration::from_secs(20);

fn show(screen: &mut Screen, word: &str) {
    afresh(screen).expect("a fresh screen");
    screen.draw(|frame| frame.render_widget(word, frame.area())).expect("a drawn screen");
}

#[test]
fn program() {
    if std::env::var_os(AS_PROGRAM).is_none() {
        return;
    }
    crash::install(None);
    let guard = Guard::enter(true).expect("a terminal");
    let mut screen = guard.screen().expect("a screen");
    let (to, from) = channel();
    let watch = Watch::start();
    signal::listen(watch, to.clone()).expect("signals");
    input::listen(watch, to).expect("keys");
    show(&mut screen, "ready");
    for stamped in from {
        match stamped.event {
            Event::Key(Key::Char('q')) => break,
            Event::Key(Key::Char('p')) => panic!("as asked"),
            Event::Key(Key::Char('c')) => {
                // What panics behind the shield of the store is no end.
                assert!(matches!(Store::open(rotten(), rotten(), &mut || Ok(7)), Err(StoreError::Damaged { .. })));
                screen.draw(|frame| frame.render_widget("caught", frame.area())).expect("a drawn screen");
            }
            Event::Key(Key::Ctrl('z')) => {
                suspend().expect("a stop");
                show(&mut screen, "again");
            }
            Event::Key(key) => show(&mut screen, &format!("key {key}")),
            Event::Paste(text) => show(&mut screen, &format!("paste {text}")),
            Event::Tap { column, row } => show(&mut screen, &format!("tap {column} {row}")),
            Event::Signal(signal) => {
                drop(guard);
                std::process::exit(signal.exit_code().map_or(1, i32::from));
            }
            Event::Resize { .. } | Event::Line(_) | Event::Gone(_) => {}
        }
    }
}

/// A medium at which whoever reads it panics, as redb may on a damaged file.
fn rotten() -> Medium {
    #[derive(Debug)]
    struct Rotten;
    impl redb::StorageBackend for Rotten {
        fn len(&self) -> io::Result<u64> {
            panic!("rotten")
        }
        fn read(&self, _: u64, _: &mut [u8]) -> io::Result<()> {
            panic!("rotten")
        }
        fn set_len(&self, _: u64) -> io::Result<()> {
            panic!("rotten")
        }
        fn sync_data(&self) -> io::Result<()> {
            panic!("rotten")
        }
        fn write(&self, _: u64, _: &[u8]) -> io::Result<()> {
            panic!("rotten")
        }
    }
    Medium::Backend(Box::new(|| Ok(Box::new(Rotten))))
}

/// The program in its pseudo-terminal, and what that terminal shows.
struct Running {
    child: Box<dyn Child + Send + Sync>,
    keys: Box<dyn Write + Send>,
    bytes: Receiver<Vec<u8>>,
    seen: Parser,
}

impl Running {
    fn start() -> Running {
        let size = PtySize { rows: 20, cols: 60, pixel_width: 0, pixel_height: 0 };
        let pair = native_pty_system().openpty(size).expect("a pseudo-terminal");
        let mut command = CommandBuilder::new(std::env::current_exe().expect("this binary"));
        command.args(["--exact", "keys::restored::program", "--nocapture"]);
        command.env(AS_PROGRAM, "1");
        command.env("TERM", "xterm-256color");
        let child = pair.slave.spawn_command(command).expect("the program");
        let mut output = pair.master.try_clone_reader().expect("its output");
        let keys = pair.master.take_writer().expect("its keys");
        let (to, bytes) = channel();
        thread::spawn(move || {
            let mut buffer = [0; 4096];
            // Held here: when the last handle goes, the terminal hangs up.
            let _master = pair.master;
            while let Ok(count) = output.read(&mut buffer) {
                if count == 0 || to.send(buffer[..count].to_vec()).is_err() {
                    return;
                }
            }
        });
        let cells = |count| NonZero::new(count).expect("some cells");
        let seen = Parser::new(cells(20), cells(60), 0);
        let mut running = Running { child, keys, bytes, seen };
        running.wait_for("ready");
        running
    }

    fn send(&mut self, keys: &str) {
        self.keys.write_all(keys.as_bytes()).expect("keys sent");
        self.keys.flush().expect("keys sent");
    }

    fn signal(&self, name: &str) {
        let pid = self.child.process_id().expect("a running program").to_string();
        let sent = Command::new("kill").args(["-s", name, &pid]).status().expect("kill");
        assert!(sent.success());
    }

    /// Reads until the terminal is as wanted; calls `meanwhile` whenever nothing comes.
    fn wait(&mut self, wanted: impl Fn(&vt100::Screen) -> bool, mut meanwhile: impl FnMut(&Running)) {
        let begun = Instant::now();
        while !wanted(self.seen.screen()) {
            let shown = self.seen.screen().contents();
            assert!(begun.elapsed() < PATIENCE, "still waiting; the terminal shows\n{shown}");
            match self.bytes.recv_timeout(Duration::from_millis(50)) {
                Ok(bytes) => self.seen.process(&bytes),
                Err(RecvTimeoutError::Timeout) => meanwhile(self),
                Err(RecvTimeoutError::Disconnected) => panic!("the program ended\n{shown}"),
            }
        }
    }

    fn wait_for(&mut self, text: &str) {
        self.wait(|screen| screen.contents().contains(text), |_| ());
    }

    /// Waits for the end, and returns the exit code once all output has been seen.
    fn end(mut self) -> u32 {
        let code = self.child.wait().expect("an exit code").exit_code();
        while let Ok(bytes) = self.bytes.recv_timeout(Duration::from_millis(200)) {
            self.seen.process(&bytes);
        }
        assert!(is_back(self.seen.screen()), "the terminal is not as it was");
        code
    }
}

fn is_back(screen: &vt100::Screen) -> bool {
    !screen.alternate_screen()
        && !screen.hide_cursor()
        && !screen.bracketed_paste()
        && screen.mouse_protocol_mode() == MouseProtocolMode::None
}

#[test]
fn it_is_set_up_while_the_program_runs() {
    let mut running = Running::start();
    let screen = running.seen.screen();
    assert!(screen.alternate_screen() && screen.hide_cursor() && screen.bracketed_paste());
    assert_eq!(screen.mouse_protocol_mode(), MouseProtocolMode::PressRelease);
    running.send("\n");
    running.wait_for("key Enter");
    running.send("\x1b[200~1382 4\x1b[201~");
    running.wait_for("paste 1382 4");
    running.send("\x1b[<0;4;5M");
    running.wait_for("tap 3 4");
    running.send("q");
    assert_eq!(running.end(), 0);
}

#[test]
fn it_is_back_after_a_panic() {
    let mut running = Running::start();
    running.send("p");
    running.wait_for("as asked");
    assert_eq!(running.end(), 101);
}

#[test]
fn it_stays_as_it_is_while_a_panic_is_caught() {
    let mut running = Running::start();
    running.send("c");
    running.wait_for("caught");
    let screen = running.seen.screen();
    assert!(screen.alternate_screen() && screen.hide_cursor() && screen.bracketed_paste());
    assert!(!screen.contents().contains("rotten"));
    running.send("q");
    assert_eq!(running.end(), 0);
}

#[test]
fn it_is_back_after_each_signal() {
    for (name, code) in [("TERM", 143), ("HUP", 129), ("INT", 130)] {
        let running = Running::start();
        running.signal(name);
        assert_eq!(running.end(), code, "{name}");
    }
}

#[test]
fn it_is_back_while_the_program_is_stopped_and_set_up_again_after() {
    let mut running = Running::start();
    running.send("\x1a");
    running.wait(is_back, |_| ());
    // The stop follows the restoring: a first "go on" may come too early to count.
    running.wait(|screen| screen.contents().contains("again"), |running| running.signal("CONT"));
    let screen = running.seen.screen();
    assert!(screen.alternate_screen() && screen.hide_cursor() && screen.bracketed_paste());
    running.send("q");
    assert_eq!(running.end(), 0);
}
