//! The bodies of the fuzz targets over kept seeds and over random bytes.

use super::arbitrary::{Any, any, config};
use crushbook::domain::record::Record;
use crushbook::wire::envelope::encode;
use crushbook::wire::fuzz::{
    fuzz_backup, fuzz_envelope, fuzz_find, fuzz_json, fuzz_page, fuzz_practice, fuzz_rules, fuzz_stated,
};
use crushbook::wire::jsonl::to_json;
use crushbook::wire::page::page;
use crushbook::wire::walk_list::fuzz_walk;
use proptest::collection::vec;
use proptest::prelude::proptest;
use std::path::Path;

fn over_seeds(target: &str, body: fn(&[u8])) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/wire/seeds").join(target);
    let mut seeds = 0;
    for entry in std::fs::read_dir(folder).expect("a folder of seeds") {
        body(&std::fs::read(entry.expect("a seed").path()).expect("a seed can be read"));
        seeds += 1;
    }
    assert!(seeds >= 4, "{target} has {seeds} seeds");
}

#[test]
fn seeds_of_envelopes_hold() {
    over_seeds("envelope", fuzz_envelope);
}

#[test]
fn seeds_of_walks_hold() {
    over_seeds("walk", fuzz_walk);
}

#[test]
fn seeds_of_pages_hold() {
    over_seeds("page", fuzz_page);
}

#[test]
fn seeds_of_files_to_be_rescued_hold() {
    over_seeds("find", fuzz_find);
}

#[test]
fn seeds_of_json_hold() {
    over_seeds("json", fuzz_json);
}

#[test]
fn seeds_of_practice_files_hold() {
    over_seeds("practice", fuzz_practice);
}

#[test]
fn seeds_of_statements_hold() {
    over_seeds("stated", fuzz_stated);
}

#[test]
fn seeds_of_names_of_backups_hold() {
    over_seeds("backup", fuzz_backup);
}

#[test]
fn seeds_of_rules_hold() {
    over_seeds("rules", fuzz_rules);
}

/// Puts some bytes over others, and makes the checksum fit, so that the reading goes deep.
fn spoiled(whole: &[u8], from: usize, changes: &[(u64, u8)]) -> Vec<u8> {
    let mut bytes = whole[..whole.len() - 4].to_vec();
    for (at, byte) in changes {
        let at = from + *at as usize % (bytes.len() - from);
        bytes[at] = *byte;
    }
    bytes.extend(crc32fast::hash(&bytes).to_le_bytes());
    bytes
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn random_bytes_hold(bytes in vec(any::<u8>(), 0..400)) {
        fuzz_envelope(&bytes);
        fuzz_page(&bytes);
        fuzz_find(&bytes);
        fuzz_json(&bytes);
        fuzz_practice(&bytes);
        fuzz_backup(&bytes);
        fuzz_rules(&bytes);
        fuzz_walk(&bytes);
    }

    #[test]
    fn spoiled_envelopes_hold(record in Record::any(), changes in vec(any::<(u64, u8)>(), 1..6)) {
        let raw = encode(&record).expect("encodes");
        fuzz_envelope(&spoiled(&raw.bytes, 9, &changes));
        fuzz_envelope(&spoiled(&raw.bytes, 88, &changes));
        fuzz_find(&spoiled(&[&*raw.bytes, &*raw.bytes].concat(), 0, &changes));
        fuzz_page(&spoiled(&page(&[raw.clone(), raw]), 0, &changes));
    }

    #[test]
    fn spoiled_lines_hold(record in Record::any(), changes in vec(any::<(u64, u8)>(), 1..4)) {
        let raw = encode(&record).expect("encodes");
        let mut line = to_json(&raw).expect("writes").into_bytes();
        for (at, byte) in changes {
            let at = at as usize % line.len();
            line[at] = byte % 128;
        }
        fuzz_json(&line);
    }
}
