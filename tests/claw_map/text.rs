//! The map on paper: every meaning in plain ASCII.

use super::animals::busy;
use crushbook::claw_map::marks::Marks;
use crushbook::claw_map::mask::Size;
use crushbook::claw_map::picture::View;
use crushbook::report::map_text::map_text;

#[test]
fn a_busy_animal_on_eighty_columns() {
    insta::assert_snapshot!(map_text(&busy(), View::ToeDown, Size::L));
}

#[test]
fn a_busy_animal_on_forty_columns() {
    insta::assert_snapshot!(map_text(&busy(), View::ToeDown, Size::S80));
}

#[test]
fn an_animal_not_looked_at_toe_up() {
    insta::assert_snapshot!(map_text(&Marks::default(), View::ToeUp, Size::L));
}

#[test]
fn everything_is_said_without_colour() {
    let text = map_text(&busy(), View::ToeDown, Size::L);
    let said = ["SU!", "WLA=", "HFV-", "HHE-", "IH-", "wlf?", "shc?", "su?", "m2?", "M4.1", "SU=?", "+1", "CC-", ">5<"];
    let words = ["BLOCK", "29 d", "WRAP 6 DAYS!", "[=] nothing found", "[x] done, 5 found", "[>] in hand, 5"];
    for wanted in said.iter().chain(&words).chain(&["LF", "RF", "LH", "RH", "outer", "inner"]) {
        assert!(text.contains(wanted), "{wanted:?} is missing from\n{text}");
    }
}

#[test]
fn paper_is_ascii_and_narrow() {
    for (size, width) in [(Size::S60, 40), (Size::S80, 40), (Size::L, 80)] {
        let text = map_text(&busy(), View::ToeDown, size);
        assert!(text.is_ascii() && text.lines().all(|line| line.len() <= width && line == line.trim_end()), "{size:?}");
    }
}
