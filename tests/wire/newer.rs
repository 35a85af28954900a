//! What a newer crushbook wrote: an unknown kind, revision, word or zone is kept whole, routed, and written again with
//! the same bytes.

use super::examples::{examples, id, record, ulcer};
use crushbook::domain::event::Event;
use crushbook::domain::ids::AnimalId;
use crushbook::domain::ids::TurnId;
use crushbook::domain::record::Body;
use crushbook::wire::envelope::{Raw, encode};

/// Offsets in the envelope: see the table there.
const KIND: usize = 88;
const REVISION: usize = 90;
const ALSO: usize = 95;
const PAYLOAD: usize = 112;

/// The envelope with some bytes changed and its checksum made to fit.
fn changed(raw: &Raw, changes: &[(usize, u8)]) -> Vec<u8> {
    let mut bytes = raw.bytes[..raw.bytes.len() - 4].to_vec();
    for (at, byte) in changes {
        bytes[*at] = *byte;
    }
    bytes.extend(crc32fast::hash(&bytes).to_le_bytes());
    bytes
}

/// Checks that the bytes are kept whole, and gives kind and revision.
fn kept(bytes: &[u8]) -> (u16, u8) {
    let raw = Raw::parse(bytes).expect("the envelope is sound");
    let record = raw.decode().expect("kept");
    let Body::Newer { kind, revision, bytes } = &record.body else { panic!("decoded to {:?}", record.body) };
    assert_eq!(bytes[..], raw.bytes[ALSO..raw.bytes.len() - 4], "all from also-about to the end of the payload");
    assert_eq!(encode(&record), Ok(raw.clone()), "encodes to the same bytes");
    (*kind, *revision)
}

fn found() -> Raw {
    encode(&record(7, ulcer())).expect("encodes")
}

#[test]
fn an_unknown_kind_or_revision_is_kept() {
    assert_eq!(kept(&changed(&found(), &[(KIND + 1, 1)])), (47 + 256, 1));
    assert_eq!(kept(&changed(&found(), &[(REVISION, 2)])), (47, 2));
    assert_eq!(kept(&changed(&found(), &[(REVISION, 0)])), (47, 0));
}

#[test]
fn an_unknown_code_or_zone_in_a_known_kind_is_kept() {
    // The payload: turn (10 bytes), then place, finding, degree, words, as one golden envelope is written by hand.
    let place = PAYLOAD + 10;
    let cases = [
        ("kind of place 8", place, 8),
        ("foot 5", place + 2, 5),
        ("claw 3", place + 4, 3),
        ("zone 13", place + 6, 13),
        ("a skin zone on a claw", place + 6, 9),
        ("map 2", place + 8, 2),
        ("a horn zone called a dewclaw", place, 6),
        ("finding 99", place + 9, 99),
        ("grade 7", place + 11, 7),
        ("mark 2 for a told value", place + 10, 2),
        ("a text longer than the payload", place + 13, 200),
        ("a text of a length that no memory holds", place + 13, 253),
    ];
    for (what, at, byte) in cases {
        assert_eq!(kept(&changed(&found(), &[(at, byte)])), (47, 1), "{what}");
    }
}

#[test]
fn a_number_written_the_long_way_is_kept_as_it_is() {
    // "fb" and two bytes say the same as one byte below 251: another writer's bytes, which ours would not give again.
    let short = encode(&record(7, Event::TurnResumed { turn: TurnId(id(9)) })).expect("encodes");
    let end = short.bytes.len() - 4;
    let long = [&short.bytes[..end - 1], &[0xfb, 9, 0], &[0; 4]].concat();
    let lengths = |bytes: &[u8]| Raw { bytes: bytes.into(), ..short.clone() };
    let (whole, payload) = (long.len() as u8, (long.len() - PAYLOAD - 4) as u8);
    assert_eq!(kept(&changed(&lengths(&long), &[(5, whole), (91, payload)])), (42, 1));
}

#[test]
fn a_header_that_says_otherwise_than_the_payload_is_kept() {
    let moved = Event::TurnMoved { turn: TurnId(id(9)), to: AnimalId(id(31)) };
    let raw = encode(&record(7, moved)).expect("encodes");
    let bytes = changed(&raw, &[(ALSO + 9, 32)]);
    assert_eq!(kept(&bytes), (45, 1));
    assert_eq!(Raw::parse(&bytes).expect("sound").also, Some(id(32)), "the header routes");
}

#[test]
fn a_correction_into_something_newer_is_kept() {
    let corrected = Event::Corrected { of: id(3), to: Box::new(ulcer()), why: String::new() };
    let raw = encode(&record(7, corrected)).expect("encodes");
    // The payload: the corrected record (10 bytes), then kind, revision, length, bytes.
    for (at, byte) in [(PAYLOAD + 10, 99), (PAYLOAD + 11, 2), (PAYLOAD + 10, 92), (PAYLOAD + 13 + 19, 99)] {
        assert_eq!(kept(&changed(&raw, &[(at, byte)])), (92, 1), "byte {at} made {byte}");
    }
}

#[test]
fn a_mark_that_means_nothing_is_an_error() {
    for (at, byte) in [(57, 2), (ALSO, 2), (ALSO, 1), (ALSO + 3, 1)] {
        let bytes = changed(&found(), &[(at, byte)]);
        let read = Raw::parse(&bytes);
        // A mark of 1 before zeros says "the practice", which is a subject like another.
        assert_eq!(read.is_ok(), (at, byte) == (ALSO, 1), "byte {at} made {byte}: {read:?}");
    }
}

#[test]
fn every_byte_of_every_example_may_be_another_under_a_sound_checksum() {
    for example in examples() {
        let raw = encode(&example).expect("encodes");
        for at in PAYLOAD..raw.bytes.len() - 4 {
            for byte in [0, 1, 127, 250, 251, 252, 253, 254, 255] {
                let changed = Raw::parse(&changed(&raw, &[(at, byte)])).expect("the envelope is sound");
                let record = changed.decode().expect("kept or known");
                assert_eq!(encode(&record), Ok(changed), "byte {at} of {} made {byte}", example.id);
            }
        }
    }
}
