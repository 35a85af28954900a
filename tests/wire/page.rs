//! Pages: whole envelopes in a row; damage costs no more than what it hits.

use super::arbitrary::{Any, any, config};
use super::examples::examples;
use crushbook::domain::record::Record;
use crushbook::wire::envelope::{Raw, encode};
use crushbook::wire::page::{page, read_page, scan};
use proptest::collection::vec;
use proptest::prelude::{prop_assert, prop_assert_eq, proptest};

fn raws() -> Vec<Raw> {
    examples().iter().map(|example| encode(example).expect("encodes")).collect()
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn a_page_comes_back_as_it_was(records in vec(Record::any(), 0..8)) {
        let raws: Vec<Raw> = records.iter().map(|record| encode(record).expect("encodes")).collect();
        prop_assert_eq!(read_page(&page(&raws)), (raws, Vec::new()));
    }

    #[test]
    fn one_flipped_bit_costs_at_most_one_record_and_is_told(records in vec(Record::any(), 1..6), at in any::<u64>()) {
        let raws: Vec<Raw> = records.iter().map(|record| encode(record).expect("encodes")).collect();
        let mut bytes = page(&raws);
        let bit = at as usize % (bytes.len() * 8);
        bytes[bit / 8] ^= 1 << (bit % 8);
        let (read, problems) = read_page(&bytes);
        prop_assert!(!problems.is_empty());
        prop_assert!(read.len() + 1 >= raws.len());
        prop_assert!(read.iter().all(|raw| raws.contains(raw)));
    }

    #[test]
    fn any_bytes_are_read_without_panic(bytes in vec(any::<u8>(), 0..300)) {
        read_page(&bytes);
        scan(&bytes);
    }
}

#[test]
fn the_header_is_as_its_table_says() {
    let raws = &raws()[..2];
    let bytes = page(raws);
    let lengths: Vec<u8> = raws.iter().flat_map(|raw| (raw.bytes.len() as u32).to_le_bytes()).collect();
    let header = [b"\xc7pag\x01\x02\0\0\0".as_slice(), &lengths].concat();
    assert_eq!(bytes[..17], header);
    assert_eq!(bytes[17..21], crc32fast::hash(&header).to_le_bytes());
    assert_eq!(bytes[21..], [&raws[0].bytes[..], &raws[1].bytes].concat());
}

#[test]
fn an_empty_page_is_a_page() {
    assert_eq!(read_page(&page(&[])), (Vec::new(), Vec::new()));
}

#[test]
fn every_cut_of_a_page_gives_the_records_before_it() {
    let raws = &raws()[..6];
    let bytes = page(raws);
    let mut whole = bytes.len();
    for kept in (0..raws.len()).rev() {
        let end = whole - raws[kept].bytes.len();
        for cut in end..whole {
            let (read, problems) = read_page(&bytes[..cut]);
            assert_eq!(read, raws[..kept], "cut at {cut}");
            assert!(!problems.is_empty(), "cut at {cut}");
        }
        whole = end;
    }
}

#[test]
fn problems_name_the_place() {
    let raws = &raws()[..3];
    let mut bytes = page(raws);
    let second = 9 + 12 + 4 + raws[0].bytes.len();
    bytes[second + 50] ^= 1;
    let (read, problems) = read_page(&bytes);
    assert_eq!(read, [raws[0].clone(), raws[2].clone()]);
    let [problem] = problems.as_slice() else { panic!("{problems:?}") };
    assert!(problem.to_string().starts_with(&format!("byte {second}: a record has checksum ")), "{problem}");
    bytes[0] = b'x';
    let (read, problems) = read_page(&bytes);
    assert_eq!(read, [raws[0].clone(), raws[2].clone()]);
    let [header, record] = problems.as_slice() else { panic!("{problems:?}") };
    assert!(header.to_string().starts_with("page header: no page begins with bytes "), "{header}");
    assert!(record.to_string().starts_with(&format!("byte {second}: ")), "{record}");
}

#[test]
fn a_scan_finds_records_anywhere() {
    let raws = &raws()[..3];
    let noise = b"\xc7la\xc7law and no more".as_slice();
    let bytes = [noise, &raws[0].bytes, &raws[1].bytes, noise, &raws[2].bytes[..60], &raws[2].bytes, noise].concat();
    let (found, problems) = scan(&bytes);
    assert_eq!(found, raws);
    assert_eq!(problems.len(), 4, "{problems:?}");
}

#[test]
fn a_page_after_which_more_stands_says_so() {
    let raws = &raws()[..2];
    let bytes = [&page(raws), b"more".as_slice()].concat();
    let (read, problems) = read_page(&bytes);
    assert_eq!(read, raws);
    assert_eq!(problems.len(), 1);
    assert!(problems[0].to_string().starts_with("4 bytes too many after a page"), "{problems:?}");
}
