//! The real program without a screen: a whole visit through pipes, and the ways in which it ends.

use super::program::Terminal;
use crate::commands::home::{Home, TODAY};
use crate::plain::form::check;
use crushbook::domain::event::Event;
use crushbook::domain::record::Record;
use crushbook::store::Store;
use crushbook::store::medium::{Medium, hand_beside};
use std::io::{BufRead, BufReader, Write};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::thread;
use std::time::Duration;

const ON_HERD: [&str; 5] = ["--plain", "--book", "herd.book", "--today", TODAY];

/// A visit, a line each, with a piece of what is told after it.
#[rustfmt::skip]
const VISIT: &[(&str, &str)] = &[
    ("say", "today: expected 14: 1 done, 0 waiting, 13 to come; 2 unasked"),
    // Her wrap is four weeks old, says the story of the herd.
    ("1394", "number 1394: 1394 Hyssop, dry, urgent"),
    ("", "on her, RH: yellow wrap on for 28 days"),
    ("rh", "question: RH heel 10 yellow wrap?"),
    ("1", "question: skin under it?"),
    ("1", "RH heel 10 yellow wrap: all off, seen bare skin sound"),
    ("10", "what became of RH heel zone 10: digital dermatitis, stage M2, 28"),
    ("3", "RH heel 10 digital dermatitis: now M3"),
    ("", "RH trimmed, all looked at"),
    ("lh 4 1 3", "LH outer 4 sole ulcer severe"),
    ("b 1", "LH inner wood block"),
    ("w 3", "question: DRY: who fetches her?"),
    ("", "hand: 1394 Hyssop, LH up"),
    ("s", "question: dressed with?"),
    ("0", "write: dressed with"),
    ("clean water", "dressing clean water"),
    ("", "LH trimmed, all looked at"),
    ("lf 5 1", "LF inner 5 sole haemorrhage"),
    ("undo", "taken back: LF inner 5 sole haemorrhage"),
    ("Backspace", "hand: 1394 Hyssop, no foot up"),
    ("", "before she goes: 1 line to settle"),
    ("", "not done: one line is not settled"),
    ("1", "LH wrap: nobody takes it off"),
    ("1", "who fetches her?"),
    ("0", "write: who takes the wrap off"),
    ("Tom", "question: wrap colour?"),
    ("2", "before she goes: 0 lines to settle"),
    ("", "call out: 1394 BACK LEFT blue wrap, off by SUN 17 May evening milking"),
    ("1398", "number 1398: 1398 Lavender"),
    ("", "old mark: RH outer zone 2: white line fissure, grade 2 moderate, 14 days"),
    ("a", "got away, her turn waits"),
    ("1399 Enter", "in the crush: 1399 Madder"),
    ("all-four", "trimmed, all looked at"),
    ("", "before she goes"),
    ("", "signed off"),
    ("due", "most urgent first"),
    ("more", "more lines: say more"),
    ("back", "today: Quillbarrow"),
    ("totals", "totals: "),
    ("back", "today: expected 14: 3 done, 1 waiting, 10 to come; 2 unasked"),
    ("visit", "farms: which farm?"),
    ("q", ""),
];

/// Far beyond what any line takes; only a hang gets there.
const PATIENCE: Duration = Duration::from_secs(30);

/// A talk with the program, line by line.
struct Talk {
    child: Child,
    to: Option<ChildStdin>,
    from: Receiver<String>,
    number: usize,
}

impl Talk {
    fn open(home: &Home, arguments: &[&str]) -> Talk {
        let mut child = command(home, arguments).spawn().expect("the program starts");
        let (to, output) = (child.stdin.take(), BufReader::new(child.stdout.take().expect("an output")));
        let (tell, from) = channel();
        thread::spawn(move || {
            // Once nobody listens any more the output is closed too.
            for line in output.lines() {
                if tell.send(line.expect("text") + "\n").is_err() {
                    return;
                }
            }
        });
        Talk { child, to, from, number: 0 }
    }

    /// Reads until a line holds that.
    fn until(&mut self, words: &str) -> String {
        let mut all = String::new();
        loop {
            let line = self.from.recv_timeout(PATIENCE).unwrap_or_else(|_| panic!("never told: {words}\n{all}"));
            self.number = check(&line, self.number);
            all.push_str(&line);
            if line.contains(words) {
                return all;
            }
        }
    }

    fn line(&mut self, line: &str, then: &str) -> String {
        let to = self.to.as_mut().expect("an input");
        writeln!(to, "{line}").expect("the line arrives");
        to.flush().expect("the line arrives");
        if then.is_empty() { String::new() } else { self.until(then) }
    }

    fn code(mut self) -> Option<i32> {
        drop(self.to.take());
        self.child.wait().expect("it ends").code()
    }
}

fn command(home: &Home, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_crushbook"));
    command.args(arguments).env_clear().env("HOME", home.0.path()).current_dir(home.0.path());
    command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    command
}

/// Every record of the newest series: what this tablet wrote since the herd was entered.
fn written(home: &Home, before: &[Record]) -> Vec<Event> {
    let all = records(home);
    let new = all.into_iter().filter(|record| !before.iter().any(|known| known.id == record.id));
    let mut new: Vec<Record> = new.collect();
    new.sort_by_key(|record| record.id.seq);
    new.iter().filter_map(|record| record.event().cloned()).collect()
}

fn records(home: &Home) -> Vec<Record> {
    let book = home.path("herd.book");
    let opened = Store::open(Medium::File(hand_beside(&book)), Medium::File(book), &mut || Ok(7));
    let (store, problems) = opened.expect("the book opens");
    assert_eq!(problems, []);
    let every = store.every().expect("read").map(|raw| raw.expect("read").decode().expect("decoded")).collect();
    store.close().expect("closes");
    every
}

/// What an event is, in a word.
fn word(event: &Event) -> String {
    let words = format!("{event:?}");
    words.split([' ', '{', '(']).next().unwrap_or_default().to_owned()
}

#[test]
fn a_whole_visit_without_a_screen() {
    let home = Home::with_herd();
    let before = records(&home);
    let mut talk = Talk::open(&home, &ON_HERD);
    talk.until("Quillbarrow");
    for (line, then) in VISIT {
        talk.line(line, then);
    }
    assert_eq!(talk.code(), Some(0));
    let words: Vec<String> = written(&home, &before).iter().map(word).collect();
    // Once through the story above, and nothing besides.
    let expected = "TurnBegun SeenOff SeenOff Staged Looked \
        Found Detailed PutOn PutDetailed PutOn PutDetailed PutOn PutDetailed Looked Found Undone PutDetailed PutDetailed TurnSigned \
        TurnBegun TurnPaused TurnBegun Looked Looked Looked Looked TurnSigned";
    assert_eq!(words.join(" "), expected.split_whitespace().collect::<Vec<_>>().join(" "));
    let due = home.json(&["due", "--book", "herd.book", "--farm", "Quillbarrow"]);
    let hers = |what: &str| {
        let rows = due["items"].as_array().expect("a list");
        rows.iter().find(|row| row["animal"] == "1394" && row["what"] == what).map(|row| row["due"].clone())
    };
    // 14 May and three days; on a dry animal a block is looked at every week (trade table, section 5).
    assert_eq!(hers("wrap-off"), Some("2026-05-17".into()));
    assert_eq!(hers("block-look"), Some("2026-05-21".into()));
    assert!(home.run(&["check", "--book", "herd.book"]).code == Some(0));
}

#[test]
fn one_input_told_in_one_piece_does_the_same() {
    let home = Home::with_herd();
    let lines: String = VISIT.iter().map(|(line, _)| format!("{line}\n")).collect();
    let said = home.run_with(&ON_HERD, &lines);
    let out = said.well();
    check(&out, 0);
    for (_, then) in VISIT {
        assert!(out.contains(then), "{then}: {out}");
    }
}

#[test]
fn the_end_of_the_input_leaves_as_the_key_does() {
    let home = Home::with_herd();
    let before = records(&home);
    // The last line has no end: it may be half of what was meant.
    let out = home.run_with(&ON_HERD, "1394 Enter\nlh 4 1\n3").well();
    check(&out, 0);
    assert!(out.contains("not done: the input ended in the middle of a line"), "{out}");
    assert!(out.contains("input: the input ended\n"), "{out}");
    assert!(out.lines().last().is_some_and(|line| line.ends_with(" set aside")), "{out}");
    let words: Vec<String> = written(&home, &before).iter().map(word).collect();
    assert_eq!(words, ["TurnBegun", "Found", "TurnPaused"]);
    // A text that was asked for is no text of its own.
    let out = home.run_with(&ON_HERD, "1394 Enter\nnote\n").well();
    assert!(!out.contains("note: leave"), "{out}");
    assert!(!home.path("herd.book-hand").exists(), "the book is at rest");
}

#[test]
fn whoever_listens_goes_and_nothing_is_lost() {
    let home = Home::with_herd();
    let before = records(&home);
    let mut child = command(&home, &ON_HERD).spawn().expect("the program starts");
    let (to, mut from) = (child.stdin.take(), BufReader::new(child.stdout.take().expect("an output")));
    let mut line = String::new();
    while !line.contains("next: ") {
        line.clear();
        assert!(from.read_line(&mut line).expect("text") > 0, "it ended early");
    }
    drop(from);
    let mut to = to.expect("an input");
    // Nobody hears the answer to this one; what comes after it is not done.
    writeln!(to, "1394 Enter\nlh 4 1 3").expect("the lines arrive");
    let ended = child.wait_with_output_of(to);
    assert_eq!(ended, (Some(0), String::new()));
    let words: Vec<String> = written(&home, &before).iter().map(word).collect();
    assert_eq!(words, ["TurnBegun", "TurnPaused"]);
}

trait Ended {
    fn wait_with_output_of(&mut self, to: ChildStdin) -> (Option<i32>, String);
}

impl Ended for Child {
    /// The exit code and the complaints, with the input held open until then.
    fn wait_with_output_of(&mut self, to: ChildStdin) -> (Option<i32>, String) {
        let code = self.wait().expect("it ends").code();
        drop(to);
        let mut err = String::new();
        std::io::Read::read_to_string(&mut self.stderr.take().expect("an output"), &mut err).expect("text");
        (code, err)
    }
}

#[test]
fn signals_end_it_as_they_end_the_screens() {
    // POSIX: SIGINT 2, SIGTERM 15; 128 is added.
    for (signal, code) in [("-INT", 130), ("-TERM", 143)] {
        let home = Home::with_herd();
        let before = records(&home);
        let mut talk = Talk::open(&home, &ON_HERD);
        talk.line("1394 Enter", "hand: 1394");
        let id = talk.child.id().to_string();
        assert!(Command::new("kill").args([signal, &id]).status().expect("kill runs").success());
        let Talk { mut child, to, from, .. } = talk;
        assert_eq!(child.wait().expect("it ends").code(), Some(code));
        drop(to);
        let last = from.iter().last().expect("a last word");
        assert!(last.ends_with(" set aside\n"), "{last}");
        let words: Vec<String> = written(&home, &before).iter().map(word).collect();
        assert_eq!(words, ["TurnBegun", "TurnPaused"], "{signal}");
    }
}

#[test]
fn killed_at_any_moment_what_was_told_as_saved_is_there() {
    let home = Home::with_herd();
    let before = records(&home);
    let mut talk = Talk::open(&home, &ON_HERD);
    talk.line("1394 Enter", "hand: 1394");
    talk.line("lh 4 1 3", "sole ulcer severe");
    talk.child.kill().expect("killed");
    talk.child.wait().expect("gone");
    let words: Vec<String> = written(&home, &before).iter().map(word).collect();
    assert_eq!(words, ["TurnBegun", "Found", "Detailed"]);
    // Opened again she is still in the crush, with what was written.
    let out = home.run_with(&ON_HERD, "").well();
    assert!(out.contains("today: LH outer 4 sole ulcer severe"), "{out}");
}

#[test]
fn a_terminal_that_can_do_no_more_gets_lines_and_nothing_else() {
    let home = Home::with_herd();
    for (name, arguments) in [("dumb", &ON_HERD[1..]), ("xterm-256color", &ON_HERD[..])] {
        let mut terminal = Terminal::open_as(home.0.path(), arguments, name);
        terminal.until(&["Quillbarrow"]);
        terminal.press("?\n", &["say more"]);
        terminal.press("udno\n", &["did you mean undo?"]);
        assert!(!terminal.raw().contains(&0x1b), "no cursor is moved, no colour is set");
        // Ctrl+C and Ctrl+D, as the terminal keeps them while lines are typed.
        let (key, code) = if name == "dumb" { ("\u{3}", 130) } else { ("\u{4}", 0) };
        assert_eq!(terminal.leave(key), code);
    }
}

#[test]
fn the_demo_talks_where_it_is_asked_to_and_prints_its_list_where_not() {
    let home = Home::new();
    let out = home.run_with(&["demo", "--plain", "--today", TODAY], "q\n").well();
    check(&out, 0);
    assert!(out.starts_with("1 today: Quillbarrow, THU 14 May: 35 animals"), "{out}");
    assert!(!home.path(".local").exists(), "nothing is kept");
    let out = home.run(&["demo", "--today", TODAY]).well();
    assert!(out.starts_with("Due on THU 14 May 2026: "), "{out}");
    // The screens asked for where there is no terminal: lines, and a new book with no farm in it.
    let out = home.run_with(&[], "\nThistle\nAnn\n12\nadd\nall-sound\n\nq\n").well();
    check(&out, 0);
    for told in [
        "farms: which farm?",
        "write: name of the new farm",
        "write: who records",
        "farm Thistle",
        "new animal 12",
        "signed off",
    ] {
        assert!(out.contains(told), "{told}: {out}");
    }
}

#[test]
fn a_line_that_is_no_text_or_too_long_does_nothing() {
    let home = Home::with_herd();
    let before = records(&home);
    let mut child = command(&home, &ON_HERD).spawn().expect("the program starts");
    let mut bytes = b"\xff\xfe\n".to_vec();
    bytes.extend(vec![b'5'; 100_000]);
    bytes.extend(b"\n\x1b[2J\n#1\x00\nq\n");
    let mut to = child.stdin.take().expect("an input");
    to.write_all(&bytes).expect("the bytes arrive");
    drop(to);
    let output = child.wait_with_output().expect("it ends");
    let out = String::from_utf8(output.stdout).expect("text");
    assert_eq!(output.status.code(), Some(0), "{out}");
    check(&out, 0);
    assert!(out.contains("not in UTF-8") && out.contains("too long") && out.contains("\"[2J\" is no key"), "{out}");
    assert_eq!(written(&home, &before), []);
}
