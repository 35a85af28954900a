//! JSON lines: loss-free both ways, words a person can read, and errors that say where without raw outside text.

use super::arbitrary::{Any, config, newer};
use super::examples::{id, may, moment, record, ulcer};
use crushbook::domain::record::{Body, Record};
use crushbook::wire::envelope::encode;
use crushbook::wire::jsonl::{from_json, to_json};
use proptest::prelude::{prop_assert, prop_assert_eq, proptest};

proptest! {
    #![proptest_config(config())]

    #[test]
    fn a_record_comes_back_as_it_was(record in Record::any()) {
        let raw = encode(&record).expect("encodes");
        let line = to_json(&raw).expect("writes");
        prop_assert!(!line.chars().any(char::is_control), "one line and nothing that moves a cursor: {}", line);
        prop_assert_eq!(from_json(&line), Ok(raw));
    }

    #[test]
    fn a_newer_record_comes_back_as_it_was(record in newer()) {
        let raw = encode(&record).expect("encodes");
        prop_assert_eq!(from_json(&to_json(&raw).expect("writes")), Ok(raw));
    }

    #[test]
    fn any_text_is_read_without_panic(text in ".{0,80}") {
        let why = from_json(&text).expect_err("no record").to_string();
        prop_assert!(!why.chars().any(char::is_control), "{:?}", why);
    }
}

/// Written by hand from the words of the lists; the checksum is zlib's `crc32` over the envelope, laid out by another program
/// from the table in the guide.
const ULCER: &str = concat!(
    r#"{"id":"0123456789abcdef-7","tick":12,"press":7,"about":"0123456789abcdef-30","by":"0123456789abcdef-1","#,
    r#""written":"2025-05-14T08:30:00+02:00","on":"2025-05-14","kind":"found","revision":1,"fact":{"#,
    r#""degree":{"grade":"severe","stage":null},"#,
    r#""place":{"foot":"RH","kind":"horn","map":"C","side":"outer","zone":4},"#,
    r#""turn":"0123456789abcdef-40","what":"SU","words":""},"crc":"3a79b420"}"#
);

#[test]
fn a_line_is_as_written_by_hand() {
    let raw = encode(&record(7, ulcer())).expect("encodes");
    assert_eq!(to_json(&raw).as_deref(), Ok(ULCER));
    assert_eq!(from_json(ULCER), Ok(raw));
}

#[test]
fn a_newer_line_is_as_written_by_hand() {
    let bytes = [0_u8; 17].into_iter().chain([0xab, 0x01]).collect();
    let body = Body::Newer { kind: 200, revision: 3, bytes };
    let newer = Record { id: id(7), tick: 1, press: 7, about: id(2), by: None, written: moment(), on: may(14), body };
    let by_hand = concat!(
        r#"{"id":"0123456789abcdef-7","tick":1,"press":7,"about":"0123456789abcdef-2","by":null,"#,
        r#""written":"2025-05-14T08:30:00+02:00","on":"2025-05-14","kind":"newer","revision":3,"#,
        r#""fact":{"bytes":"0000000000000000000000000000000000ab01","number":200},"crc":"4d4fe39e"}"#
    );
    let raw = encode(&newer).expect("encodes");
    assert_eq!(to_json(&raw).as_deref(), Ok(by_hand));
    assert_eq!(from_json(by_hand), Ok(raw));
}

#[test]
fn errors_say_where_and_what_to_do() {
    let error = |from: &str, to: &str| {
        assert!(ULCER.contains(from), "{from}");
        from_json(&ULCER.replace(from, to)).expect_err("wrong").to_string()
    };
    let cases = [
        (r#""SU""#, r#""SV""#, "no finding is called SV"),
        (r#""RH""#, r#""XX""#, "no foot is called XX"),
        (r#""zone":4"#, r#""zone":13"#, "place: no horn is made of foot RH, claw outer, zone 13: correct the place"),
        (r#""map":"C""#, r#""map":null"#, "zone 4: correct the place"),
        (r#""kind":"found""#, r#""kind":"lost""#, "no record is of kind lost, revision 1: correct the word"),
        (r#""revision":1"#, r#""revision":2"#, "no record is of kind found, revision 2"),
        (r#""stage":null"#, r#""stage":"M2""#, "2 of the possible parts of Degree are told"),
        (r#""2025-05-14""#, r#""2025-05-34""#, "2025-05-34 is no day as in 2025-05-14"),
        (r#"08:30:00+02:00"#, "half past", "is no moment as in 2025-05-14T08:30:00+02:00"),
        (r#"08:30:00+02:00"#, "08:30:00.5+02:00", "written: 2025-05-14 06:30:00.500 is finer than whole seconds"),
        (r#"cdef-40""#, r#"cdef""#, "0123456789abcdef is no record name"),
        (r#""words":"""#, r#""word":"""#, "unknown field `word`"),
        (r#""SU""#, r#""BU""#, "its words give checksum"),
        (r#""tick":12"#, r#""tick":13"#, "was changed after it was written"),
        (r#"crc":"3a79b420""#, r#"crc":"xyz""#, "crc: xyz is no run of bytes"),
        (r#""tick":12"#, r#""tick":-1"#, "column 36: invalid value: integer `-1`, expected u64: correct the line"),
    ];
    for (from, to, wanted) in cases {
        let why = error(from, to);
        assert!(why.contains(wanted), "{why}\nshould contain {wanted}");
    }
}

#[test]
fn outside_text_never_reaches_an_error_raw() {
    let nasty = "\\u001b[2J\\u202e";
    for (from, to) in [
        (r#""SU""#.to_owned(), format!(r#""{nasty}""#)),
        (r#""kind":"found""#.to_owned(), format!(r#""kind":"{nasty}""#)),
        (r#""words":"""#.to_owned(), format!(r#""{nasty}":"""#)),
        (r#"cdef-40""#.to_owned(), format!(r#"{nasty}""#)),
        (r#""2025-05-14""#.to_owned(), format!(r#""{nasty}""#)),
        ("2025-05-14T".to_owned(), nasty.to_owned()),
    ] {
        let why = from_json(&ULCER.replace(&from, &to)).expect_err("wrong").to_string();
        assert!(why.contains("\\u{1b}") && !why.contains(['\u{1b}', '\u{202e}']), "{why:?}");
    }
}

#[test]
fn a_correction_of_a_correction_is_refused() {
    let fact = |inner: &str| {
        format!(r#"{{"of":"0000000000000001-1","to":{{"kind":"corrected","revision":1,"fact":{inner}}},"why":""}}"#)
    };
    let mut deep = "{}".to_owned();
    for _ in 0..60 {
        deep = fact(&deep);
    }
    let line = ULCER.replace(r#""kind":"found""#, r#""kind":"corrected""#);
    let (head, _) = line.split_once(r#""fact":"#).expect("a fact");
    let why = from_json(&format!(r#"{head}"fact":{deep},"crc":"00000000"}}"#)).expect_err("nested").to_string();
    assert!(why.contains("a correction cannot correct into a correction"), "{why}");
}
