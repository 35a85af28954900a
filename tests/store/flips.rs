//! Bad media, byte by byte: whatever byte of a book or a hand is flipped, a check says that something is wrong, or every
//! record is as it was. Never is a wrong record shown as right, and a rescue loses no record but those that were hit.
//!
//! By default every so many bytes; `CRUSHBOOK_FLIPS=1` flips every one, `CRUSHBOOK_FLIPS=100` every hundredth.
//!
//! redb may abort the process on a damaged file. So the checks are made by this test binary started once more, which notes
//! what it is about to read; where it ends before its time, one that goes on behind that byte is started.

use super::{every, farm_of};
use crate::support::meter::Meter;
use crate::support::tablet::Tablet;
use crushbook::domain::event::Event;
use crushbook::domain::herd::FarmFact;
use crushbook::domain::ids::{FarmId, RecordId};
use crushbook::store::Store;
use crushbook::store::rescue::{Records, Seen};
use crushbook::wire::envelope::{Raw, encode};
use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File, OpenOptions};
use std::io::{Cursor, Write};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::process::{Command, Stdio};

/// Set for the process that checks: where to begin.
const FROM: &str = "CRUSHBOOK_FLIP_FROM";
/// The folder with its files.
const FOLDER: &str = "CRUSHBOOK_FLIP_FOLDER";
const FLIPS: &str = "CRUSHBOOK_FLIPS";

/// Flips this far apart, where nothing is said. Both are prime, so that in time every place of a page has its turn.
const CHECKED_APART: usize = 1009;
const RESCUED_APART: usize = 211;

fn apart(default: usize) -> usize {
    std::env::var(FLIPS).map_or(default, |said| said.parse().expect("CRUSHBOOK_FLIPS is a number of bytes"))
}

/// A book that was packed several times, with its hand: bytes of both, and everything that was recorded.
struct Small {
    book: Vec<u8>,
    hand: Vec<u8>,
    raws: BTreeMap<RecordId, Raw>,
}

impl Small {
    fn new() -> Small {
        let (book, hand) = (Meter::default(), Meter::default());
        let open = || Store::open(hand.medium(), book.medium(), &mut || Ok(7)).expect("opens").0;
        let mut store = open();
        let mut tablet = Tablet::new(store.series());
        let records = farm_of(6).known.records;
        for (at, part) in records.chunks(3).enumerate() {
            store.append(part).expect("saved");
            if at % 2 == 0 {
                store.pack().expect("packed");
            }
        }
        store.close().expect("closed");
        let mut store = open();
        tablet.seq = store.next_id().seq;
        let farm = records[0].id;
        for words in ["the last", "words", "in the hand"] {
            let event = Event::FarmDescribed { farm: FarmId(farm), fact: FarmFact::Note, words: words.to_owned() };
            let mut stamp = tablet.stamp(records[0].on);
            (stamp.next, stamp.tick) = (store.next_id(), store.tick());
            store.append(&stamp.press([(farm, event)])).expect("saved");
        }
        let raws = every(&store).into_iter().map(|(id, record)| (id, encode(&record).expect("written"))).collect();
        let bytes = |meter: &Meter| meter.copy().bytes();
        Small { book: bytes(&book), hand: bytes(&hand), raws }
    }
}

impl Small {
    /// Where the last key lies in the hand.
    fn last_key(&self) -> std::ops::Range<usize> {
        let (_, last) = self.raws.last_key_value().expect("records");
        let at = self.hand.windows(last.bytes.len()).position(|bytes| *bytes == *last.bytes).expect("it lies there");
        at..at + last.bytes.len()
    }

    /// The four bytes by which it is found. After a dead battery nothing tells a key that lost them from one whose saving
    /// the battery cut short: redb goes back to the key before, and a rescue does not see it.
    fn mark_of_the_last_key(&self) -> std::ops::Range<usize> {
        let from = self.last_key().start;
        from..from + 4
    }
}

/// What came of one flip.
fn outcome(book: Vec<u8>, hand: Vec<u8>, raws: &BTreeMap<RecordId, Raw>) -> String {
    let read = || {
        let (lying, beside) = (rescued(book.clone()).1, rescued(hand.clone()).1);
        let (book, hand) = (Meter::of(book).medium(), Meter::of(hand).medium());
        let (mut store, problems) = match Store::open(hand, book, &mut || Ok(8)) {
            Ok(opened) => opened,
            Err(error) => return format!("refused {error}"),
        };
        let there: Vec<_> = store.every().map(Iterator::collect).unwrap_or_default();
        let there: BTreeMap<RecordId, Raw> = there.into_iter().flatten().map(|raw| (raw.id, raw)).collect();
        if let Some((id, _)) = there.iter().find(|(id, raw)| raws.get(id) != Some(raw)) {
            return format!("wrong {id} is not what was recorded");
        }
        match store.verify_against(&lying, &beside) {
            Err(error) => format!("told {error}"),
            Ok(verdict) if !verdict.is_sound() => format!("told {}", verdict.problems[0]),
            Ok(_) if !problems.is_empty() => format!("told {}", problems[0]),
            Ok(_) if there == *raws => "same".to_owned(),
            Ok(_) => format!("wrong {} of {} records are there and the book is called sound", there.len(), raws.len()),
        }
    };
    catch_unwind(AssertUnwindSafe(read)).unwrap_or_else(|_| "panicked".to_owned())
}

/// The process that checks.
fn check_from(from: usize, folder: &Path) {
    std::panic::set_hook(Box::new(|_| {}));
    let small = Small::new();
    let mut notes = OpenOptions::new().append(true).open(folder.join("notes")).expect("notes");
    for at in (from..small.book.len() + small.hand.len()).step_by(apart(CHECKED_APART)) {
        write!(notes, "{at} ").expect("noted");
        let (mut book, mut hand) = (small.book.clone(), small.hand.clone());
        match book.len() {
            length if at < length => book[at] ^= 0xff,
            length => hand[at - length] ^= 0xff,
        }
        let line = outcome(book, hand, &small.raws).replace('\n', " ");
        writeln!(notes, "{line}").expect("noted");
    }
}

#[test]
#[expect(clippy::print_stdout, reason = "the figures of a long run are worth keeping")]
fn whatever_byte_is_flipped_a_check_says_so_or_all_is_as_it_was() {
    if let (Ok(from), Some(folder)) = (std::env::var(FROM), std::env::var_os(FOLDER)) {
        return check_from(from.parse().expect("a number"), Path::new(&folder));
    }
    let folder = tempfile::tempdir().expect("a folder");
    let notes = folder.path().join("notes");
    File::create(&notes).expect("made");
    let small = Small::new();
    let (end, step) = (small.book.len() + small.hand.len(), apart(CHECKED_APART));
    let (mut from, mut aborts) = (0, Vec::new());
    while from < end {
        let name = format!("{}::whatever_byte_is_flipped_a_check_says_so_or_all_is_as_it_was", module_path!());
        let (_, name) = name.split_once("::").expect("the crate, then the rest");
        let mut reader = Command::new(std::env::current_exe().expect("this binary"));
        reader.args(["--exact", name, "--nocapture"]).env(FROM, from.to_string()).env(FOLDER, folder.path());
        let ended = reader.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).status().expect("started");
        let said = fs::read_to_string(&notes).expect("notes");
        let last = said.lines().last().expect("something was checked");
        let (at, rest) = last.split_once(' ').expect("a place");
        from = at.parse::<usize>().expect("a number") + step;
        match rest.is_empty() {
            true => aborts.push(at.to_owned()),
            false => assert!(ended.success() && from >= end, "it ended at {at}: {ended}"),
        }
        fs::write(&notes, format!("{said}{}", if rest.is_empty() { "aborted\n" } else { "" })).expect("written");
    }
    let said = fs::read_to_string(&notes).expect("notes");
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for line in said.lines() {
        let (_, rest) = line.split_once(' ').expect("a place");
        *counts.entry(rest.split(' ').next().unwrap_or(rest)).or_default() += 1;
    }
    println!("{end} bytes, every {step}: {counts:?}");
    assert_eq!(counts.values().sum::<usize>(), end.div_ceil(step));
    let at = |line: &str| line.split(' ').next().and_then(|at| at.parse::<usize>().ok()).expect("a place");
    let mark = small.mark_of_the_last_key();
    let excused = |line: &str| at(line).checked_sub(small.book.len()).is_some_and(|at| mark.contains(&at));
    let wrong = said.lines().filter(|line| line.contains(" wrong ") && !excused(line));
    let wrong: Vec<&str> = wrong.take(20).collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(counts.contains_key("told") && counts.contains_key("same"), "{counts:?}");
}

/// The one record that lies nowhere but in the last commit of a hand, at a dead battery: there redb takes damage for a commit
/// that broke off, and goes back to the one before.
#[test]
fn whatever_byte_of_the_last_key_is_flipped_a_check_says_so() {
    let small = Small::new();
    for at in small.last_key() {
        let mut hand = small.hand.clone();
        hand[at] ^= 0xff;
        let said = outcome(small.book.clone(), hand, &small.raws);
        let told = said.starts_with("told") || said.starts_with("refused");
        assert_eq!(told, !small.mark_of_the_last_key().contains(&at), "byte {at} of {:?}: {said}", small.last_key());
    }
}

/// What a file holds of records, and what was seen.
pub fn rescued(bytes: Vec<u8>) -> (Vec<Raw>, Seen) {
    let mut found = Records::of(Cursor::new(bytes));
    let raws = found.by_ref().filter_map(Result::ok).collect();
    (raws, found.seen())
}

/// Where copies of each record lie: found by their own bytes, not by the reader that is tested.
fn copies(bytes: &[u8], raws: &BTreeMap<RecordId, Raw>) -> BTreeMap<RecordId, Vec<usize>> {
    let places = |raw: &Raw| {
        bytes.windows(raw.bytes.len()).enumerate().filter(|(_, at)| *at == &*raw.bytes).map(|(at, _)| at).collect()
    };
    raws.iter().map(|(id, raw)| (*id, places(raw))).collect()
}

#[test]
fn whatever_byte_is_flipped_only_the_records_it_hit_are_not_rescued() {
    let small = Small::new();
    let bytes = [small.book, small.hand].concat();
    let copies = copies(&bytes, &small.raws);
    assert!(copies.values().all(|places| !places.is_empty()) && copies.values().any(|places| places.len() > 1));
    let mut hit_last = 0;
    for at in (0..bytes.len()).step_by(apart(RESCUED_APART)) {
        let mut bytes = bytes.clone();
        bytes[at] ^= 0xff;
        let covers = |id: &RecordId, from: usize| (from..from + small.raws[id].bytes.len()).contains(&at);
        let kept: BTreeSet<RecordId> = copies
            .iter()
            .filter(|(id, places)| places.iter().any(|from| !covers(id, *from)))
            .map(|(id, _)| *id)
            .collect();
        let (raws, seen) = rescued(bytes);
        assert!(raws.iter().all(|raw| small.raws.get(&raw.id) == Some(raw)), "byte {at}: a wrong record");
        assert_eq!(raws.iter().map(|raw| raw.id).collect::<BTreeSet<_>>(), kept, "byte {at}");
        hit_last += usize::from(kept.len() < small.raws.len());
        let gone = small.raws.keys().filter(|id| !kept.contains(id)).map(|id| (id.series, id.seq, id.seq));
        // What lay in the book is told by its tally; what lay in the hand, by what is left of it or by the numbers after it.
        for run in gone {
            let missing = [seen.lost(), seen.gaps()].concat();
            let last = small.raws.keys().all(|id| id.series != run.0 || id.seq <= run.1);
            assert!(last || missing.contains(&run), "byte {at}: {run:?} is not told: {missing:?}");
        }
    }
    assert!(hit_last > 0, "no flip hit the only copy of a record");
}
