//! Check digits and ranges: warned of, never refused. The values are those of the sources, not of the program.

use crate::support::tablet::day;
use crushbook::domain::herd::{Herd, Labels};
use crushbook::domain::herd_list::Row;
use crushbook::domain::herd_list::doubt::{What, doubts, electronic, tag};

#[test]
fn the_check_digit_of_a_gb_tag_is_herd_and_animal_modulo_7_plus_1() {
    // trade.md, section 9, with its worked example: herd 284205, animal 00016 gives 7.
    assert_eq!(tag("UK284205700016"), None);
    assert_eq!(tag("uk 284205 700016"), None, "as it is printed, with blanks");
    for check in (1..=6).chain([0, 8, 9]) {
        assert_eq!(tag(&format!("UK284205{check}00016")), Some(What::TagCheck(7)), "{check}");
    }
    // Worked by hand: 100000 00001 = 7 * 1428571428 + 5, so 6; 123456 00007 = 7 * 1763657143 + 6, so 7.
    assert_eq!(tag("UK100000600001"), None);
    assert_eq!(tag("UK123456700007"), None);
    // 5 more than that is animal 00012: 4 is left, so 5; and 9 more again is 00021: 6 is left, so 7.
    assert_eq!(tag("UK123456500012"), None);
    assert_eq!(tag("UK123456500021"), Some(What::TagCheck(7)), "digits that changed places");
}

#[test]
fn of_other_tags_nothing_is_known() {
    // Northern Ireland: UK and 9 (trade.md, section 9); other countries and short working tags.
    for other in ["UK 9 123456 1234 5", "UK912345612345", "IE 123456789012", "DE 0812345678", "1371", "", "UKELELE 7"] {
        assert_eq!(tag(other), None, "{other}");
    }
    assert_eq!(tag("UK28420570001"), Some(What::TagDigits(11)));
    assert_eq!(tag("UK2842057000160"), Some(What::TagDigits(13)));
}

#[test]
fn an_electronic_number_has_at_most_38_bits_after_its_code_and_999_is_a_test() {
    // trade.md, section 9: last 12 <= 274877906943; 999 = test.
    assert_eq!(electronic("964274877906943"), None);
    assert_eq!(electronic("964274877906944"), Some(What::ElectronicRange));
    assert_eq!(electronic("826999999999999"), Some(What::ElectronicRange));
    assert_eq!(electronic("999000000000001"), Some(What::ElectronicTest));
    assert_eq!((electronic(""), electronic("x"), electronic("\u{e9}\u{e9}")), (None, None, None));
}

#[test]
fn a_line_is_doubted_with_line_column_and_value() {
    let labels = Labels { tag: "UK284205300016".into(), ..Labels::default() };
    let herd = Herd { born: Some(day(20)), calved: Some(day(16)), ..Herd::default() };
    let row = Row { line: 7, labels, herd };
    let told: Vec<String> = doubts(&row, day(14))
        .iter()
        .map(|doubt| format!("{} {:?} {}: {}", doubt.line, doubt.column, doubt.value, doubt.what))
        .collect();
    assert_eq!(
        told,
        [
            "7 Tag UK284205300016: the check digit of this GB tag should be 7: look at the tag, two digits may be swapped",
            "7 Born 2026-05-20: that day is still to come: look at the year",
            "7 Born 2026-05-20: she calved on 16 May 2026, before that: look at both days",
            "7 Calved 2026-05-16: that day is still to come: look at the year",
            "7 Calved 2026-05-16: she was born on 20 May 2026: look at both days",
        ]
    );
    assert_eq!(doubts(&row, day(20)).len(), 3, "on that day it is not to come any more");
}
