//! When a number may be a slip of the pen for another (common practice: swapped figures, one figure wrong).

use crushbook::domain::slip::{Slip, is_letter_off, slip};

#[test]
fn two_numbers_are_one_slip_apart_or_they_are_not() {
    for (written, known, wanted) in [
        ("1328", "1382", Some(Slip::Swapped)),
        ("3182", "1382", Some(Slip::Swapped)),
        ("1283", "1382", Some(Slip::Swapped)),
        (" 1328", "1382 ", Some(Slip::Swapped)),
        ("1383", "1382", Some(Slip::Figure)),
        ("2382", "1382", Some(Slip::Figure)),
        ("0382", "1382", Some(Slip::Figure)),
        ("12", "21", Some(Slip::Swapped)),
        ("12", "13", Some(Slip::Figure)),
        ("1382", "1382", None),
        ("1322", "1383", None),
        ("1328", "1372", None),
        ("1391", "1382", None),
        ("3821", "1382", None),
        ("138", "1382", None),
        ("13822", "1382", None),
        // Names and tags are no figures; nor is nothing.
        ("Ada", "Ida", None),
        ("A12", "A21", None),
        ("", "", None),
        ("", "1", None),
        ("1\u{663}", "13", None),
    ] {
        assert_eq!(slip(written, known), wanted, "{written} {known}");
        assert_eq!(slip(known, written), wanted, "{known} {written}");
    }
}

#[test]
fn two_names_are_one_letter_apart_or_they_are_not() {
    for (one, other, wanted) in [
        ("Jorry", "Jory", true),
        ("Jary", "Jory", true),
        ("Jroy", "Jory", true),
        ("Jor", "Jory", true),
        ("ory", "Jory", true),
        ("JORRY", "jory", true),
        ("J\u{f6}ry", "Jory", true),
        // Not one letter: the same, two, or others altogether.
        ("Jory", "Jory", false),
        ("jory", "Jory", false),
        ("Yorj", "Jory", false),
        ("Jo", "Jory", false),
        ("Ann", "Jory", false),
        ("", "", false),
        ("", "Al", false),
    ] {
        assert_eq!(is_letter_off(one, other), wanted, "{one} {other}");
        assert_eq!(is_letter_off(other, one), wanted, "{other} {one}");
    }
}
