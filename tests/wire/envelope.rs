//! The envelope: what goes in comes out, what is damaged says so, what cannot be kept is refused before it is lost.

use super::arbitrary::{Any, any, config, corrections, newer, plain_events};
use super::examples::{examples, id, moment, record, ulcer};
use chrono::{Duration, FixedOffset, NaiveDate};
use crushbook::domain::anatomy::Place;
use crushbook::domain::event::{Event, Gap, OpenGap};
use crushbook::domain::herd::MedicineUse;
use crushbook::domain::ids::{RecordId, TurnId};
use crushbook::domain::record::Record;
use crushbook::wire::envelope::{LIMIT, Raw, encode};
use crushbook::wire::error::WireError;
use crushbook::wire::revisions::{ALL_KINDS, kind_of};
use proptest::collection::vec;
use proptest::prelude::{Strategy, prop_assert, prop_assert_eq, proptest};
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

proptest! {
    #![proptest_config(config())]

    #[test]
    fn a_record_comes_back_as_it_was(record in Record::any()) {
        let raw = encode(&record).expect("encodes");
        prop_assert_eq!(raw.decode(), Ok(record.clone()));
        prop_assert_eq!(Raw::parse(&raw.bytes), Ok(raw.clone()));
        prop_assert_eq!((raw.id, raw.about, raw.tick, raw.on), (record.id, record.about, record.tick, record.on));
        prop_assert_eq!(raw.also, record.event().and_then(Event::also_about));
    }

    #[test]
    fn a_newer_record_comes_back_as_it_was(record in newer()) {
        let raw = encode(&record).expect("encodes");
        prop_assert_eq!(raw.decode(), Ok(record));
    }

    #[test]
    fn one_flipped_bit_is_always_told(record in Record::any(), at in any::<u64>()) {
        let mut bytes = encode(&record).expect("encodes").bytes;
        let bit = at as usize % (bytes.len() * 8);
        bytes[bit / 8] ^= 1 << (bit % 8);
        prop_assert!(Raw::parse(&bytes).is_err());
    }

    #[test]
    fn an_envelope_is_found_before_other_bytes(record in Record::any(), tail in vec(any::<u8>(), 0..40)) {
        let raw = encode(&record).expect("encodes");
        let bytes = [&raw.bytes, tail.as_slice()].concat();
        prop_assert_eq!(Raw::first(&bytes), Ok((raw.clone(), raw.bytes.len())));
        prop_assert_eq!(Raw::parse(&bytes).is_ok(), tail.is_empty());
    }
}

#[test]
fn every_kind_has_a_strategy() {
    let mut runner = TestRunner::deterministic();
    let made = plain_events().into_iter().chain([corrections()]);
    let kinds: Vec<_> = made.map(|events| *kind_of(&events.new_tree(&mut runner).expect("made").current())).collect();
    assert_eq!(kinds, ALL_KINDS);
}

#[test]
fn every_flipped_bit_and_every_cut_of_the_examples_is_told() {
    for example in examples() {
        let whole = encode(&example).expect("encodes").bytes;
        for bit in 0..whole.len() * 8 {
            let mut bytes = whole.clone();
            bytes[bit / 8] ^= 1 << (bit % 8);
            assert!(Raw::parse(&bytes).is_err(), "bit {bit} of {}", example.id);
        }
        for end in 0..whole.len() {
            assert!(Raw::parse(&whole[..end]).is_err(), "cut at {end} of {}", example.id);
        }
    }
}

#[test]
fn errors_name_the_value_and_the_next_step() {
    let whole = encode(&record(7, ulcer())).expect("encodes").bytes;
    let with = |at: usize, byte: u8| {
        let mut bytes = whole.clone();
        bytes[at] = byte;
        Raw::parse(&bytes).expect_err("damaged").to_string()
    };
    assert_eq!(
        with(0, b'x'),
        "no record begins with bytes [78, 6c, 61, 77]: this is something else or damaged; restore it from a backup"
    );
    assert_eq!(
        with(4, 9),
        "a record is written in layout 9, which this program does not know: open it with a newer crushbook"
    );
    assert!(with(8, 9).starts_with("a record says it has 150995"), "{}", with(8, 9));
    assert!(with(30, 9).starts_with("a record has checksum "), "{}", with(30, 9));
    let cut = Raw::parse(&whole[..100]).expect_err("cut").to_string();
    let need = whole.len();
    assert_eq!(
        cut,
        format!("a record ends after 100 bytes where {need} are needed: it was cut short; restore it from a backup")
    );
}

fn refusal(record: &Record) -> String {
    encode(record).expect_err("cannot be kept").to_string()
}

#[test]
fn a_text_over_its_limit_is_refused_with_its_field() {
    let noted = |text: String| record(7, Event::Noted { turn: None, place: Place::Animal, text });
    assert!(encode(&noted("x".repeat(4000))).is_ok());
    assert_eq!(
        refusal(&noted("x".repeat(4001))),
        "record 0123456789abcdef-7: text: a text has 4001 bytes and may have 4000: shorten it, or write it in two parts"
    );
    // Bytes are counted, not letters.
    assert!(encode(&noted("ü".repeat(2000))).is_ok());
    assert!(encode(&noted("ü".repeat(2001))).is_err());
}

#[test]
fn the_longest_texts_of_the_longest_event_fit() {
    let long = || "x".repeat(4000);
    let medicine = MedicineUse {
        product: long(),
        registration: long(),
        batch: long(),
        quantity: long(),
        unit: long(),
        route: long(),
        reason: long(),
        given_by: long(),
        prescriber: long(),
        prescriber_contact: long(),
        supplier: long(),
        supplier_address: long(),
        document: long(),
        stated_by: long(),
        ..MedicineUse::default()
    };
    let given = Event::MedicineGiven { turn: None, medicine: Box::new(medicine) };
    let corrected = Event::Corrected { of: id(3), to: Box::new(given), why: long() };
    let record = record(7, corrected);
    assert_eq!(encode(&record).expect("fits").decode(), Ok(record));
}

#[test]
fn a_record_over_the_limit_is_refused() {
    let gap = OpenGap { gap: Gap::NoDay, place: Place::Animal };
    let signed = |count| record(7, Event::TurnSigned { turn: TurnId(id(4)), open: vec![gap; count] });
    let most = (0..20_000).step_by(500).filter(|count| encode(&signed(*count)).is_ok()).max().expect("some fit");
    let raw = encode(&signed(most)).expect("fits");
    assert!(raw.bytes.len() <= LIMIT && raw.decode() == Ok(signed(most)), "what is written is read back");
    assert!(refusal(&signed(20_000)).contains("and may have 65536"), "{}", refusal(&signed(20_000)));
}

#[test]
fn a_correction_of_a_correction_is_refused() {
    let inner = Event::Corrected { of: id(3), to: Box::new(ulcer()), why: String::new() };
    let outer = Event::Corrected { of: id(4), to: Box::new(inner), why: String::new() };
    assert_eq!(
        refusal(&record(7, outer)),
        "record 0123456789abcdef-7: to: a correction cannot correct into a correction: correct the first record directly"
    );
}

#[test]
fn a_day_or_moment_that_would_not_come_back_is_refused() {
    let plain = record(7, ulcer());
    for year in [-1, 0, 10_000] {
        let on = NaiveDate::from_ymd_opt(year, 6, 1).expect("a day");
        assert!(refusal(&Record { on, ..plain.clone() }).contains("is outside the years 1 to 9999"));
    }
    let finer = moment() + Duration::milliseconds(3);
    assert!(refusal(&Record { written: finer, ..plain.clone() }).contains("is finer than whole seconds"));
    let odd = moment().with_timezone(&FixedOffset::east_opt(3_601).expect("an offset"));
    assert!(refusal(&Record { written: odd, ..plain.clone() }).contains("is finer than whole seconds"));
    let late = moment() + Duration::days(366 * 8000);
    assert!(refusal(&Record { written: late, ..plain }).contains("is no moment of the years 1 to 9999"));
}

#[test]
fn a_raw_with_other_bytes_decodes_to_an_error() {
    let raw = encode(&record(7, ulcer())).expect("encodes");
    for length in 0..raw.bytes.len() {
        let cut = Raw { bytes: raw.bytes[..length].into(), ..raw.clone() };
        assert!(cut.decode().is_err(), "cut at {length}");
    }
}

#[test]
fn also_about_stands_in_the_header() {
    let other = RecordId { series: 7, seq: 300 };
    let joined = Event::Joined { one: id(30), other };
    let corrected = Event::Corrected { of: id(3), to: Box::new(joined.clone()), why: String::new() };
    for event in [joined, corrected] {
        let raw = encode(&record(7, event)).expect("encodes");
        assert_eq!((raw.also, raw.bytes[95]), (Some(other), 1));
    }
    assert_eq!(encode(&record(7, ulcer())).expect("encodes").also, None);
}

#[test]
fn a_newer_record_without_its_first_bytes_is_refused() {
    let mut short = record(7, ulcer());
    short.body = crushbook::domain::record::Body::Newer { kind: 999, revision: 1, bytes: [0; 16].into() };
    let why = encode(&short).expect_err("too short");
    assert!(matches!(why, WireError::At { .. }) && why.to_string().contains("a record of a newer crushbook"), "{why}");
}
