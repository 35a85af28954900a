//! A rescue reads raw bytes: pages no longer in use, the hand beside, files cut anywhere, disks that do not answer, and
//! anything that is no book at all.

use super::flips::rescued;
use super::{every, farm_of, raws, take};
use crate::support::meter::Meter;
use crushbook::domain::ids::RecordId;
use crushbook::domain::record::Record;
use crushbook::store::Store;
use crushbook::store::error::Problem;
use crushbook::store::rescue::{Records, Seen};
use crushbook::wire::envelope::{LIMIT, Raw, encode};
use crushbook::wire::tally::tally;
use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, Cursor, Read, Seek, SeekFrom};

fn open(hand: &Meter, book: &Meter, series: u64) -> Store {
    Store::open(hand.medium(), book.medium(), &mut || Ok(series)).expect("opens").0
}

fn ids(raws: &[Raw]) -> BTreeSet<RecordId> {
    raws.iter().map(|raw| raw.id).collect()
}

/// A book at rest that was packed after every second record, what was recorded, and the bytes of its earlier states.
fn often_packed() -> (Vec<u8>, Vec<Record>, Vec<u8>) {
    let (hand, book) = (Meter::default(), Meter::default());
    let mut store = open(&hand, &book, 7);
    let records = farm_of(20).known.records;
    let mut before = Vec::new();
    for part in records.chunks(2) {
        store.append(part).expect("saved");
        store.pack().expect("packed");
        before.extend(book.bytes());
    }
    store.close().expect("closed");
    (book.bytes(), records, before)
}

/// A new book of what was found.
fn into_new(found: Vec<Raw>) -> Store {
    let (hand, book) = (Meter::default(), Meter::default());
    let mut store = open(&hand, &book, 99);
    store.take(&mut found.into_iter().map(Ok)).expect("taken in");
    store
}

/// redb leaves pages lying, and a disk image holds older states of a file beside the newest.
#[test]
fn older_states_hold_records_and_tallies_again_and_that_is_harmless() {
    let (bytes, records, before) = often_packed();
    let (found, seen) = rescued([before, bytes].concat());
    assert!(found.len() > 5 * records.len(), "each lies there many times: {} of {}", found.len(), records.len());
    assert_eq!((seen.lost(), seen.gaps()), (vec![], vec![]));
    let mut store = into_new(found);
    let expected: Vec<(RecordId, Record)> = records.into_iter().map(|record| (record.id, record)).collect();
    assert_eq!(every(&store), expected);
    let verdict = store.verify().expect("checked");
    assert!(verdict.is_sound(), "{verdict:?}");
    assert_eq!((store.series(), store.next_id().seq), (99, 1), "a series of its own");
}

#[test]
fn rows_of_an_older_hand_are_harmless_too() {
    let (hand, book) = (Meter::default(), Meter::default());
    let mut store = open(&hand, &book, 7);
    let records = farm_of(8).known.records;
    let (packed, held) = records.split_at(6);
    store.append(packed).expect("saved");
    let older = hand.bytes();
    store.pack().expect("packed");
    store.append(held).expect("saved");
    // The battery goes: the hand holds the last keys, and beside it lies what it was before.
    let mut found = rescued(book.bytes()).0;
    assert_eq!(ids(&found), packed.iter().map(|record| record.id).collect());
    found.extend(rescued([older, hand.bytes()].concat()).0);
    assert!(found.len() >= records.len() + packed.len());
    let mut store = into_new(found);
    assert_eq!(every(&store).into_iter().map(|(_, record)| record).collect::<Vec<_>>(), records);
    assert!(store.verify().expect("checked").is_sound());
}

#[test]
fn two_records_of_one_name_are_both_found_and_told() {
    let mut records = farm_of(3).known.records;
    let mut other = records[4].clone();
    other.tick += 1000;
    let both = [raws(&records), vec![encode(&other).expect("written")]].concat();
    let (found, _) = rescued(both.iter().flat_map(|raw| raw.bytes.to_vec()).collect());
    assert_eq!(found, both);
    let mut store = into_new(found);
    records.push(other);
    assert_eq!(every(&store).len(), records.len());
    assert!(store.verify().expect("checked").problems.contains(&Problem::Fork(records[4].id)));
}

#[test]
fn a_file_cut_at_any_length_gives_what_lies_whole_before_the_cut() {
    let (bytes, records, _) = often_packed();
    let raws: BTreeMap<RecordId, Raw> = raws(&records).into_iter().map(|raw| (raw.id, raw)).collect();
    for length in [0, 1, 100, 511, 512, 513, 4095, 4096, 4097].into_iter().chain((0..=bytes.len()).step_by(1777)) {
        let cut = &bytes[..length.min(bytes.len())];
        // Found by their own bytes, not by the reader that is tested.
        let whole = raws.values().filter(|raw| cut.windows(raw.bytes.len()).any(|at| *at == *raw.bytes));
        let whole: BTreeSet<RecordId> = whole.map(|raw| raw.id).collect();
        let (found, seen) = rescued(cut.to_vec());
        assert_eq!(ids(&found), whole, "{length}");
        assert!(found.iter().all(|raw| raws[&raw.id] == *raw), "{length}");
        assert_eq!(seen.bytes, cut.len() as u64);
    }
}

#[test]
fn a_missing_page_is_told_also_at_the_end_of_a_series() {
    let (bytes, records, _) = often_packed();
    let last = records.last().expect("records").id;
    let mut hurt = bytes.clone();
    // Every copy of the last three records is overwritten, first bytes and all, as a lost page would be.
    for raw in raws(&records[records.len() - 3..]) {
        for at in 0..bytes.len() - raw.bytes.len() {
            if bytes[at..].starts_with(&raw.bytes) {
                hurt[at..at + raw.bytes.len()].fill(0);
            }
        }
    }
    let (found, seen) = rescued(hurt);
    assert_eq!(ids(&found).len(), records.len() - 3);
    assert_eq!(seen.lost(), [(last.series, last.seq - 2, last.seq)]);
    assert_eq!(seen.gaps(), []);
}

#[test]
fn numbers_that_no_tally_speaks_of_are_told_as_gaps() {
    let raws = raws(&farm_of(6).known.records);
    let kept = raws.iter().filter(|raw| !(3..=4).contains(&raw.id.seq)).flat_map(|raw| raw.bytes.to_vec());
    let (_, seen) = rescued(kept.collect());
    assert_eq!((seen.lost(), seen.gaps()), (vec![], vec![(7, 3, 4)]));
    assert!(!seen.is_counted());
}

#[test]
fn what_is_left_of_a_record_names_it() {
    let raws = raws(&farm_of(6).known.records);
    let mut bytes: Vec<u8> = raws.iter().flat_map(|raw| raw.bytes.to_vec()).collect();
    let last = raws.last().expect("records");
    let end = bytes.len();
    bytes[end - 10] ^= 1;
    let (_, seen) = rescued(bytes);
    assert_eq!(seen.lost(), [(7, last.id.seq, last.id.seq)]);
    assert_eq!(seen.remains, 1);
}

#[test]
fn a_layout_nobody_knows_yet_is_counted() {
    let raws = raws(&farm_of(2).known.records);
    let mut bytes: Vec<u8> = raws.iter().flat_map(|raw| raw.bytes.to_vec()).collect();
    bytes[4] = 2;
    let (found, seen) = rescued(bytes);
    assert_eq!((found.len(), seen.newer), (raws.len() - 1, 1));
}

/// Records at every distance from where one piece read ends and the next begins, between bytes that begin like records.
#[test]
fn a_disk_image_is_searched_to_its_end() {
    const PIECE: usize = 1 << 20;
    let records = raws(&farm_of(40).known.records);
    let mut bytes = Vec::new();
    let mut round = 0;
    while bytes.len() < 3 * PIECE {
        let raw = &records[round % records.len()];
        bytes.extend(&*raw.bytes);
        bytes.extend(tally([(7, 1, 1 + round as u64)].into_iter()));
        // Noise of no regular length, and now and then the first bytes of what never comes.
        bytes.extend((0..round % 97).map(|at| (at * 7 + round) as u8));
        bytes.extend(&raw.bytes[..round % 9]);
        round += 1;
    }
    let (found, seen) = rescued(bytes.clone());
    assert_eq!(found.len(), round, "each was found once");
    assert_eq!(seen.bytes, bytes.len() as u64);
    assert_eq!(seen.lost(), [(7, records.len() as u64 + 1, round as u64)], "the last tally was read");
    const { assert!(PIECE > 2 * LIMIT) };
}

/// A disk with places that cannot be read.
struct BadDisk {
    bytes: Cursor<Vec<u8>>,
    bad: std::ops::Range<u64>,
}

impl Read for BadDisk {
    fn read(&mut self, out: &mut [u8]) -> io::Result<usize> {
        let at = self.bytes.position();
        if self.bad.contains(&at) {
            return Err(io::Error::other("the sector does not answer"));
        }
        // As systems do: what lies before the bad place is given first.
        let most = if at < self.bad.start { (self.bad.start - at) as usize } else { out.len() };
        let most = most.min(out.len());
        self.bytes.read(&mut out[..most])
    }
}

impl Seek for BadDisk {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        self.bytes.seek(to)
    }
}

fn rescued_from(disk: BadDisk) -> (Vec<Raw>, Seen) {
    let mut found = Records::of(disk);
    let raws = found.by_ref().filter_map(Result::ok).collect();
    (raws, found.seen())
}

#[test]
fn sectors_that_cannot_be_read_cost_the_records_in_them() {
    let records = raws(&farm_of(400).known.records);
    let bytes: Vec<u8> = records.iter().flat_map(|raw| raw.bytes.to_vec()).collect();
    let bad = 8192..16_384;
    let mut kept = BTreeSet::new();
    let mut at = 0;
    for raw in &records {
        let end = at + raw.bytes.len() as u64;
        if end <= bad.start || at >= bad.end {
            kept.insert(raw.id);
        }
        at = end;
    }
    let length = bytes.len() as u64;
    let (found, seen) = rescued_from(BadDisk { bytes: Cursor::new(bytes), bad });
    assert_eq!(ids(&found), kept);
    assert_eq!((seen.unreadable, seen.bytes, seen.broke_off.clone()), (8192, length, None));
    let missing: u64 = seen.gaps().iter().chain(&seen.lost()).map(|(_, from, to)| to - from + 1).sum();
    assert_eq!(missing as usize, records.len() - kept.len());
}

#[test]
fn a_disk_that_is_pulled_out_ends_the_reading_with_what_was_found() {
    let records = raws(&farm_of(40).known.records);
    let mut bytes: Vec<u8> = records.iter().flat_map(|raw| raw.bytes.to_vec()).collect();
    let whole = bytes.len() as u64;
    bytes.resize(40 << 20, 0);
    let bad = whole..u64::MAX;
    let (found, seen) = rescued_from(BadDisk { bytes: Cursor::new(bytes), bad });
    assert_eq!(found, records);
    assert_eq!(seen.broke_off.as_deref(), Some("the sector does not answer"));
    assert!(seen.bytes < 30 << 20, "it does not ask for ever");
}

#[test]
fn a_check_holds_what_redb_finds_against_what_lies_there() {
    let (hand, book) = (Meter::default(), Meter::default());
    let mut store = open(&hand, &book, 7);
    let records = farm_of(4).known.records;
    take(&mut store, &records[..4]);
    let lying = rescued(raws(&records).iter().flat_map(|raw| raw.bytes.to_vec()).collect()).1;
    let verdict = store.verify_against(&lying, &Seen::default()).expect("checked");
    let (from, to) = (records[4].id.seq, records.last().expect("records").id.seq);
    assert_eq!(verdict.problems, [Problem::Unreached { series: 7, from, to }]);
    take(&mut store, &records);
    assert!(store.verify_against(&lying, &Seen::default()).expect("checked").is_sound());
}
