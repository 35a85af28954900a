//! The real program in a pseudo-terminal: open the sample herd, choose an animal, see last time's map, lift a foot, find,
//! put on block, wrap and dressing, sign off; and kill it in the middle of typing.
//!
//! Keys go one by one, each after the screen shows what the one before it did: nothing waits for time to pass but the
//! patience of a hang.

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
const TODAY: &str = "2026-05-14";

struct Terminal {
    child: Box<dyn Child + Send + Sync>,
    keys: Box<dyn Write + Send>,
    output: Receiver<Vec<u8>>,
    screen: Parser,
    _master: Box<dyn MasterPty + Send>,
}

impl Terminal {
    fn open(home: &Path, arguments: &[&str]) -> Terminal {
        let size = PtySize { rows: 24, cols: 80, pixel_width: 0, pixel_height: 0 };
        let pair = native_pty_system().openpty(size).expect("a pseudo-terminal");
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_crushbook"));
        command.args(arguments);
        command.env_clear();
        command.env("HOME", home);
        command.env("TERM", "xterm-256color");
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
        Terminal { child, keys, output, screen: Parser::new(rows, cols, 0), _master: pair.master }
    }

    fn shown(&self) -> String {
        self.screen.screen().contents()
    }

    /// Waits until the screen shows all of these.
    fn until(&mut self, words: &[&str]) {
        let end = Instant::now() + PATIENCE;
        while !words.iter().all(|word| self.shown().contains(word)) {
            let left = end.saturating_duration_since(Instant::now());
            match self.output.recv_timeout(left) {
                Ok(bytes) => self.screen.process(&bytes),
                Err(_) => panic!("never shown: {words:?}\n{}", self.shown()),
            }
        }
    }

    /// Presses a key and waits for what it brings.
    fn press(&mut self, key: &str, then: &[&str]) {
        self.keys.write_all(key.as_bytes()).expect("the key arrives");
        self.keys.flush().expect("the key arrives");
        self.until(then);
    }

    /// Types a number digit by digit; each is shown in figures before the next.
    fn type_number(&mut self, number: &str) {
        for key in number.chars() {
            let before = self.shown();
            self.press(&key.to_string(), &[]);
            let end = Instant::now() + PATIENCE;
            while self.shown() == before {
                let left = end.saturating_duration_since(Instant::now());
                let bytes = self.output.recv_timeout(left).expect("the digit is shown");
                self.screen.process(&bytes);
            }
        }
    }

    fn leave(mut self, key: &str) -> u32 {
        self.keys.write_all(key.as_bytes()).expect("the key arrives");
        self.keys.flush().expect("the key arrives");
        self.child.wait().expect("the program ends").exit_code()
    }
}

fn without_screen(home: &Path, arguments: &[&str]) -> String {
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

const DEMO: [&str; 5] = ["demo", "--book", "herd.book", "--today", TODAY];

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
    terminal.press("4", &["SU sole ulcer"]);
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
    terminal.press("l", &["days ago"]);
    terminal.press("\x7f", &["WRAP TODAY [>]"]);
    terminal.press("\r", &["RH trimmed, all looked at"]);
    terminal.press("l", &["days ago"]);
    terminal.press("\x7f", &["sign off"]);
    // Sign-off: nothing hurts, so she goes; what is on her is called out.
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

#[test]
fn killed_in_the_middle_of_typing_every_key_that_was_shown_is_there() {
    let home = tempfile::tempdir().expect("a folder");
    let mut terminal = Terminal::open(home.path(), &DEMO);
    terminal.until(&["Quillbarrow", "NUMBER"]);
    terminal.type_number("1371");
    terminal.press("\r", &["1371"]);
    terminal.press("1", &["in hand"]);
    terminal.press("4", &["SU sole ulcer"]);
    terminal.press("1", &["saved", "severe"]);
    terminal.press("2", &["sole ulcer moderate"]);
    // SIGKILL: nothing can be caught, nothing is tidied up.
    let id = terminal.child.process_id().expect("a process").to_string();
    assert!(Command::new("kill").args(["-KILL", &id]).status().expect("kill runs").success());
    terminal.child.wait().expect("gone");
    let asked = ["animal", "1371", "--farm", "Quillbarrow", "--book", "herd.book", "--as", "json"];
    let animal = without_screen(home.path(), &asked);
    let animal: serde_json::Value = serde_json::from_str(&animal).expect("JSON");
    let finding = &animal["turns"][0]["findings"][0];
    assert_eq!((finding["code"].as_str(), finding["grade"].as_str()), (Some("SU"), Some("moderate")));
    // Opened again she is still in the crush.
    let mut terminal = Terminal::open(home.path(), &["--book", "herd.book", "--today", TODAY]);
    terminal.until(&["1371", "animal 4"]);
    assert_eq!(terminal.leave("q"), 0);
}
