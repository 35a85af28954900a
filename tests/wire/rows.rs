//! Derived rows come back as they were, and say so when they are of another layout or damaged.

use super::arbitrary::{Any, any, config};
use super::examples::{id, may};
use super::golden::hex;
use crushbook::domain::history::TurnState;
use crushbook::domain::history::open::Open;
use crushbook::domain::ids::{AnimalId, FarmId, TurnId, VisitId};
use crushbook::wire::error::WireError;
use crushbook::wire::rows::{
    DayRow, FarmRow, LabelRow, decode_day, decode_farm, decode_label, decode_open, encode_day, encode_farm,
    encode_label, encode_open,
};
use proptest::collection::vec;
use proptest::prelude::{prop_assert, prop_assert_eq, proptest};

proptest! {
    #![proptest_config(config())]

    #[test]
    fn rows_come_back_as_they_were(
        open in Open::any(), label in LabelRow::any(), farm in FarmRow::any(), day in DayRow::any()
    ) {
        prop_assert_eq!(decode_open(&encode_open(&open).expect("encodes")), Ok(open));
        prop_assert_eq!(decode_label(&encode_label(&label).expect("encodes")), Ok(label));
        prop_assert_eq!(decode_farm(&encode_farm(&farm).expect("encodes")), Ok(farm));
        prop_assert_eq!(decode_day(&encode_day(&day).expect("encodes")), Ok(day));
    }

    #[test]
    fn one_flipped_bit_of_a_row_is_told(open in Open::any(), at in any::<u64>()) {
        let mut bytes = encode_open(&open).expect("encodes");
        let bit = at as usize % (bytes.len() * 8);
        bytes[bit / 8] ^= 1 << (bit % 8);
        prop_assert!(decode_open(&bytes).is_err());
    }

    #[test]
    fn any_bytes_are_read_without_panic(bytes in vec(any::<u8>(), 0..120)) {
        let sealed = [bytes.as_slice(), &crc32fast::hash(&bytes).to_le_bytes()].concat();
        for bytes in [&bytes, &sealed] {
            let _ = (decode_open(bytes), decode_label(bytes), decode_farm(bytes), decode_day(bytes));
        }
    }
}

fn day() -> DayRow {
    DayRow {
        farm: FarmId(id(10)),
        visit: VisitId(id(20)),
        animal: AnimalId(id(30)),
        turn: TurnId(id(40)),
        on: may(14),
        state: TurnState::Signed,
        found: 2,
    }
}

/// By hand: layout 1; four ids of a series behind `fd` and a number; day 739,385 doubled (zigzag) behind `fc` and four
/// bytes; state 3; 2 findings (bincode 2 specification, chapter "Encoding").
#[test]
fn a_row_is_as_written_by_hand() {
    let bytes = encode_day(&day()).expect("encodes");
    let series = "fdefcdab8967452301";
    let by_hand = format!("01{series}0a{series}14{series}1e{series}28fc729016000302");
    assert_eq!(hex(&bytes[..bytes.len() - 4]), by_hand);
    assert_eq!(bytes[bytes.len() - 4..], crc32fast::hash(&bytes[..bytes.len() - 4]).to_le_bytes());
}

#[test]
fn a_row_of_another_layout_says_what_to_do() {
    let bytes = encode_day(&day()).expect("encodes");
    let mut other = bytes[..bytes.len() - 4].to_vec();
    other[0] = 7;
    other.extend(crc32fast::hash(&other).to_le_bytes());
    let why = decode_day(&other).expect_err("another layout");
    assert_eq!(why, WireError::OtherLayout { table: "days", said: 7, wanted: 1 });
    assert_eq!(why.to_string(), "days row is in layout 7, this program writes 1: rebuild the book's lists");
}
