//! Golden bytes: every kind and revision as it was first written, kept in `golden/`. A changed byte is a changed
//! record in somebody's book. `UPDATE_GOLDEN=1` adds files for new kinds and lines for new examples, and refuses to
//! change a line that is there. Run it twice: the second run reads what the first wrote.

use super::examples::{examples, record, ulcer};
use chrono::NaiveDate;
use crushbook::domain::event::Event;
use crushbook::domain::record::{Body, Record};
use crushbook::wire::envelope::{Raw, encode};
use crushbook::wire::jsonl::{from_json, to_json};
use crushbook::wire::revisions::{ALL_KINDS, Kind, kind_of};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/wire/golden")
}

fn name(kind: &Kind) -> String {
    format!("{:02}-{}-{}.hex", kind.number, kind.revision, kind.word)
}

/// Widths of the fields of the header, so that a golden line can be read by eye; then payload and checksum.
const WIDTHS: [usize; 21] = [4, 1, 4, 8, 8, 8, 8, 8, 8, 1, 8, 8, 8, 2, 4, 2, 1, 4, 1, 8, 8];

fn spell(raw: &Raw) -> String {
    let (mut left, end) = raw.bytes.split_at(raw.bytes.len() - 4);
    let mut words = Vec::new();
    for width in WIDTHS {
        let (word, rest) = left.split_at(width);
        words.push(hex(word));
        left = rest;
    }
    [words.as_slice(), &[hex(left), hex(end)]].concat().join(" ")
}

pub fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

pub fn unhex(text: &str) -> Vec<u8> {
    let digits: Vec<u32> = text.chars().filter_map(|letter| letter.to_digit(16)).collect();
    digits.chunks(2).map(|pair| (pair[0] * 16 + pair[1]) as u8).collect()
}

fn event(record: &Record) -> &Event {
    record.event().expect("examples are of known kinds")
}

/// Compares with a kept file, or writes it where that was asked for.
fn compare(path: &Path, written: &str) {
    if std::env::var_os("UPDATE_GOLDEN").is_some() {
        let kept = std::fs::read_to_string(path).unwrap_or_default();
        let lost = kept.lines().find(|line| !written.lines().any(|other| other == *line));
        assert_eq!(lost, None, "{}: a kept line is never changed, only others added", path.display());
        std::fs::write(path, written).expect("golden file can be written");
    }
    let kept = std::fs::read_to_string(path).unwrap_or_else(|why| panic!("{}: {why}", path.display()));
    assert_eq!(kept, written, "{}: a record is written otherwise than it was", path.display());
}

#[test]
fn every_kind_is_written_as_it_always_was() {
    let mut files: BTreeMap<String, String> = BTreeMap::new();
    for example in examples() {
        let line = spell(&encode(&example).expect("an example encodes"));
        *files.entry(name(kind_of(event(&example)))).or_default() += &(line + "\n");
    }
    let wanted: BTreeSet<String> = ALL_KINDS.iter().map(name).collect();
    assert_eq!(files.keys().cloned().collect::<BTreeSet<_>>(), wanted, "every kind has an example");
    for (file, lines) in &files {
        compare(&folder().join(file), lines);
    }
    let there = std::fs::read_dir(folder()).expect("golden folder").map(|entry| entry.expect("entry").file_name());
    let there: BTreeSet<String> = there.map(|name| name.to_string_lossy().into_owned()).collect();
    assert_eq!(there, wanted.into_iter().chain(["lines.jsonl".to_owned()]).collect(), "no forgotten file");
}

#[test]
fn every_golden_file_decodes_to_its_examples() {
    let mut read = Vec::new();
    for kind in ALL_KINDS {
        let kept = std::fs::read_to_string(folder().join(name(kind))).expect("golden file");
        read.extend(kept.lines().map(|line| Raw::parse(&unhex(line)).expect("golden").decode().expect("golden")));
    }
    read.sort_by_key(|record| record.id);
    assert_eq!(read, examples());
}

#[test]
fn every_json_line_is_written_as_it_always_was() {
    let raws: Vec<Raw> = examples().iter().map(|record| encode(record).expect("an example encodes")).collect();
    let lines: Vec<String> = raws.iter().map(|raw| to_json(raw).expect("an example is JSON")).collect();
    compare(&folder().join("lines.jsonl"), &(lines.join("\n") + "\n"));
    let read: Vec<Raw> = lines.iter().map(|line| from_json(line).expect("a written line reads")).collect();
    assert_eq!(read, raws);
}

#[test]
fn the_table_of_kinds_gives_no_number_or_word_twice() {
    let numbers: Vec<(u16, u8)> = ALL_KINDS.iter().map(|kind| (kind.number, kind.revision)).collect();
    assert!(numbers.is_sorted_by(|one, next| one < next), "numbers ascend: {numbers:?}");
    let words: BTreeSet<&str> = ALL_KINDS.iter().map(|kind| kind.word).collect();
    assert_eq!(words.len(), ALL_KINDS.len(), "no word twice while every kind has one revision");
    assert!(words.iter().all(|word| word.chars().all(|letter| letter.is_ascii_lowercase() || letter == '-')));
    assert!(!words.contains("newer"), "this word stands for what is not known");
}

/// Written by hand from the table at the head of the envelope. The day: 14 May 2025 is day 739,385 of the proleptic
/// Gregorian calendar with 1 January of year 1 as day 1 (Julian day 2,460,809.5 - 1,721,424.5). The seconds: 06:30 UTC
/// of that day in POSIX time. Numbers of a payload: bincode 2 specification, chapter "Encoding": one byte below 251,
/// and `fd` before eight bytes.
#[test]
fn one_envelope_is_as_written_by_hand() {
    let by_hand = concat!(
        "c76c6177 01 9b000000",                 // magic, layout, length 155
        "efcdab8967452301 2f00000000000000",    // id: series, number 47
        "3400000000000000 2f00000000000000",    // tick 52, press 47
        "efcdab8967452301 1e00000000000000",    // about: number 30
        "01 efcdab8967452301 0100000000000000", // recorded by: number 1
        "6838246800000000 7800 39480b00",       // written 1,747,204,200 + 120 minutes; day 739,385
        "2f00 01 27000000 00",                  // kind 47, revision 1, payload of 39 bytes, also about nobody
        "0000000000000000 0000000000000000",
        "fd efcdab8967452301 28",            // turn: series, number 40
        "07 01 04 01 01 01 04 01 01",        // horn; right hind; outer; zone 4; map C
        "15 01 03 00",                       // SU; grade severe; no stage
        "0f 646565702061742074686520746f65"  // 15 bytes of words
    );
    let words = "deep at the toe".to_owned();
    let Event::Found { turn, place, what, degree, .. } = ulcer() else { unreachable!("the ulcer is found") };
    let record = record(47, Event::Found { turn, place, what, degree, words });
    let mut bytes = unhex(by_hand);
    bytes.extend(crc_by_hand(&bytes).to_le_bytes());
    assert_eq!(hex(&encode(&record).expect("encodes").bytes), hex(&bytes));
    assert_eq!(Raw::parse(&bytes).expect("parses").decode(), Ok(record));
}

/// CRC-32 bit by bit from its definition: polynomial 04c11db7 reflected, all ones before, complement after. Check value
/// cbf43926 for "123456789" (catalogue of parametrised CRC algorithms, CRC-32/ISO-HDLC).
fn crc_by_hand(bytes: &[u8]) -> u32 {
    !bytes
        .iter()
        .fold(!0_u32, |crc, byte| (0..8).fold(crc ^ u32::from(*byte), |crc, _| (crc >> 1) ^ (0xedb8_8320 * (crc & 1))))
}

#[test]
fn the_checksum_is_the_common_one() {
    assert_eq!(crc_by_hand(b"123456789"), 0xcbf4_3926);
}

#[test]
fn a_day_is_counted_from_year_one() {
    let mut first = record(1, ulcer());
    first.on = NaiveDate::from_ymd_opt(1, 1, 1).expect("a day");
    let raw = encode(&first).expect("encodes");
    assert_eq!(raw.bytes[84..88], [1, 0, 0, 0]);
    assert!(matches!(raw.decode().expect("decodes").body, Body::Known(_)));
}
