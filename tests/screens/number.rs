//! The animal's number in big figures.

use super::pads::SIZES;
use super::world::screen;
use crate::stories::rig::Rig;
use crushbook::keys::keymap::BuiltIn;
use crushbook::screen::figures::fitted;

/// A seven as it is drawn high and low, row by row.
const SEVEN: ([&str; 5], [&str; 3]) = (["###", "  #", "  #", "  #", "  #"], [" _ ", "  |", "  |"]);

#[test]
fn figures_are_as_high_as_there_is_room_for() {
    assert_eq!(fitted("7", 3, 5), Some(SEVEN.0.map(str::to_owned).to_vec()));
    assert_eq!(fitted("7", 3, 4), Some(SEVEN.1.map(str::to_owned).to_vec()));
    assert_eq!(fitted("7", 3, 2), None);
    assert_eq!(fitted("7", 2, 5), None);
    assert_eq!(fitted("", 40, 40), None);
}

#[test]
fn a_long_number_goes_on_in_a_second_line_and_is_never_cut() {
    let number = "964000000123456";
    for (columns, rows) in [(20, 18), (39, 6), (39, 11), (60, 5), (60, 3)] {
        let drawn = fitted(number, columns, rows).expect("there is room");
        assert!(drawn.len() <= usize::from(rows) && drawn.iter().all(|row| row.len() <= usize::from(columns)));
        // Each figure is three columns and a blank: as many are drawn as there are.
        let high = if drawn.len().is_multiple_of(3) && drawn.iter().any(|row| row.contains('_')) { 3 } else { 6 };
        let figures: usize = drawn.chunks(high).map(|line| line[0].len().div_ceil(4)).sum();
        assert_eq!(figures, number.len(), "{columns}x{rows}\n{}", drawn.join("\n"));
    }
    assert_eq!(fitted(number, 20, 8), None, "then it stands in the first row, in letters");
}

#[test]
fn letters_have_figures_where_they_are_high_enough_to_be_told_apart() {
    let all = "ABCDEFGHIJKLMNOPQRSTUVWXYZ-0123456789";
    let drawn: Vec<Vec<String>> =
        all.chars().map(|letter| fitted(&letter.to_string(), 3, 5).expect("a figure")).collect();
    for (at, one) in drawn.iter().enumerate() {
        assert!(!drawn[at + 1..].contains(one), "no two look alike: {}", &all[at..=at]);
    }
    assert_eq!(fitted("a12", 40, 5), fitted("A12", 40, 5));
    assert_eq!(fitted("A12", 40, 3), None, "three rows are too few for letters");
    assert_eq!(fitted("Å1", 40, 5), None);
}

#[test]
fn the_number_in_the_crush_stands_whole_at_every_size() {
    for number in ["7", "1382", "98765", "964000000123456"] {
        let mut rig = Rig::with(BuiltIn::TwoHands, &[number]);
        let digits: Vec<String> = number.chars().map(String::from).collect();
        rig.press(&format!("{} Enter", digits.join(" ")));
        for size in SIZES {
            let shown = screen(&rig, BuiltIn::TwoHands, size);
            let first = shown.lines().next().unwrap_or_default();
            assert!(first.contains(number), "{number} at {size:?}\n{shown}");
            let room = match size {
                (60, _) => (20, 4),
                (80, _) => (39, 5),
                _ => (39, 9),
            };
            if let Some(figures) = fitted(number, room.0, room.1) {
                for row in figures {
                    assert!(shown.contains(row.trim_end()), "{number} at {size:?}\n{shown}");
                }
            } else {
                assert!(number.len() > 5, "{number} has figures at {size:?}");
            }
        }
    }
}
