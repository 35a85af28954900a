//! Bodies of fuzz targets of this room, kept here so that ordinary tests run them over kept seeds.

use super::Store;
use super::error::Problem;
use super::medium::Medium;
use crate::domain::record::LAST_TICK;
use crate::wire::envelope::Raw;
use crate::wire::exchange::{Reading, Writing};
use redb::backends::InMemoryBackend;

/// Any bytes as an exchange file, into an empty book and out again: what came in comes out byte for byte, what is said of it
/// can be shown, and the second file is as the first.
pub fn fuzz_exchange(bytes: &[u8]) {
    let read: Vec<Result<Raw, Problem>> = Reading::new(bytes).map(|given| given.map_err(given_problem)).collect();
    for problem in read.iter().filter_map(|given| given.as_ref().err()) {
        assert!(!problem.to_string().contains(char::is_control), "{problem:?}");
    }
    let can_be = |raw: &&Raw| raw.id.is_possible() && raw.tick <= LAST_TICK;
    let mut given: Vec<Raw> = read.iter().flatten().filter(can_be).cloned().collect();
    let (mut first, mut second) = (empty(), empty());
    let taken = first.take(&mut read.into_iter()).expect("a book in memory takes records");
    assert_eq!(taken.new + taken.forks.len() as u64 + taken.held, given.len() as u64, "each is accounted for");
    given.sort_by_key(|raw| (raw.id, raw.crc()));
    given.dedup();
    let written = written(&first);
    let again: Vec<Raw> = Reading::new(written.as_slice()).collect::<Result<_, _>>().expect("what was written is read");
    assert_eq!(again, given, "what came in comes out");
    second.take(&mut again.into_iter().map(Ok)).expect("a book in memory takes records");
    assert_eq!(self::written(&second), written, "the second file is as the first");
}

fn given_problem(wrong: crate::wire::exchange::Wrong) -> Problem {
    Problem::Given { place: "input".to_owned(), why: wrong.to_string() }
}

fn written(store: &Store) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut writing = Writing::begin(&mut bytes).expect("memory takes it");
    for raw in store.every().expect("a book in memory reads") {
        let raw = raw.expect("every record reads");
        writing.record(&raw).expect("memory takes it").expect("a record can be written");
    }
    writing.end().expect("memory takes it");
    bytes
}

fn empty() -> Store {
    let medium = || Medium::Backend(Box::new(|| Ok(Box::new(InMemoryBackend::new()))));
    Store::open(medium(), medium(), &mut || Ok(1)).expect("a new book in memory opens").0
}
