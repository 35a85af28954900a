//! A sealed home folder in which the real program is run.

use serde_json::Value;
use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::sync::OnceLock;
use tempfile::TempDir;

/// The day of the sample herd's last sheet.
pub const TODAY: &str = "2026-05-14";

/// What the program said.
#[derive(Debug)]
pub struct Said {
    pub code: Option<i32>,
    pub out: String,
    pub err: String,
}

impl Said {
    /// The output, where all went well.
    pub fn well(self) -> String {
        assert_eq!((self.code, self.err.as_str()), (Some(0), ""), "{}", self.out);
        self.out
    }

    /// The output, where it was done; what it warned of besides is left to the tests of that.
    pub fn done(self) -> String {
        assert_eq!(self.code, Some(0), "{}{}", self.out, self.err);
        self.out
    }

    /// What it complained of, with this exit code.
    pub fn complained(self, code: i32) -> String {
        assert_eq!(self.code, Some(code), "{}{}", self.out, self.err);
        assert!(!self.err.is_empty(), "a complaint is said");
        self.err
    }
}

/// A farm's sheet of that day, and one for each later day on which one of these is told to have calved: until then only her group is
/// known, since no sheet tells of a day to come.
pub fn sheets(farm: &str, day: &str, told: &[&str]) -> String {
    let date = |text: &str| chrono::NaiveDate::parse_from_str(text, "%d %b %Y").expect("a day");
    let (mut first, mut later) = (String::new(), String::new());
    for line in told {
        match line.split_once(" calved ") {
            Some((her, calved)) if date(calved) > date(day) => {
                first.push_str(&format!("{her} group \"herd\"\n"));
                later.push_str(&format!("{farm}\nday {calved}\n{line}\n"));
            }
            Some(_) | None => first.push_str(&format!("{line}\n")),
        }
    }
    format!("{farm}\nday {day}\n{first}{later}")
}

pub struct Home(pub TempDir);

impl Home {
    pub fn new() -> Home {
        Home(tempfile::tempdir().expect("a folder"))
    }

    /// A home in which the sample herd is kept as `herd.book`: entered by the program once, and at rest, so that its one
    /// file can be copied into every home.
    pub fn with_herd() -> Home {
        static BOOK: OnceLock<Vec<u8>> = OnceLock::new();
        let book = BOOK.get_or_init(|| {
            let home = Home::new();
            home.run(&["demo", "--today", TODAY, "--book", "herd.book"]).well();
            std::fs::read(home.path("herd.book")).expect("the book is at rest")
        });
        let home = Home::new();
        std::fs::write(home.path("herd.book"), book).expect("written");
        home
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    pub fn write(&self, name: &str, text: &str) {
        std::fs::write(self.path(name), text).expect("written");
    }

    pub fn run(&self, arguments: &[&str]) -> Said {
        self.run_with(arguments, "")
    }

    /// Runs the program in the home folder with that input.
    pub fn run_with(&self, arguments: &[&str], input: &str) -> Said {
        let mut child = Command::new(env!("CARGO_BIN_EXE_crushbook"))
            .args(arguments)
            .env_clear()
            .env("HOME", self.0.path())
            .current_dir(self.0.path())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program starts");
        let mut to = child.stdin.take().expect("an input");
        // A program that reads no input may be gone already.
        let _ = to.write_all(input.as_bytes());
        drop(to);
        let output = child.wait_with_output().expect("the program ends");
        let text = |bytes| String::from_utf8(bytes).expect("text");
        Said { code: output.status.code(), out: text(output.stdout), err: text(output.stderr) }
    }

    /// The answer as JSON.
    pub fn json(&self, arguments: &[&str]) -> Value {
        let mut all = arguments.to_vec();
        all.extend(["--as", "json", "--today", TODAY]);
        serde_json::from_str(&self.run(&all).well()).expect("JSON")
    }
}
