//! The animal's number in big figures.

use super::pads::SIZES;
use super::world::{buffer, text};
use crate::stories::rig::Rig;
use crushbook::keys::keymap::BuiltIn;
use crushbook::screen::figures::fitted;
use crushbook::screen::theme::Colour;
use crushbook::session::mode::Mode;

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

/// Figures of a drawing: each is three columns, a blank apart or not.
fn figures(row: &str, apart: bool) -> usize {
    if apart { row.len().div_ceil(4) } else { row.len() / 3 }
}

#[test]
fn a_long_number_goes_on_in_a_second_line_where_there_is_room() {
    let number = "964000000123456";
    for (columns, rows) in [(20, 18), (39, 6), (39, 11), (60, 5), (60, 3)] {
        let drawn = fitted(number, columns, rows).expect("there is room");
        assert!(drawn.len() <= usize::from(rows) && drawn.iter().all(|row| row.len() <= usize::from(columns)));
        let high = if drawn.len().is_multiple_of(3) && drawn.iter().any(|row| row.contains('_')) { 3 } else { 6 };
        let count: usize = drawn.chunks(high).map(|line| figures(&line[0], true)).sum();
        assert_eq!(count, number.len(), "{columns}x{rows}\n{}", drawn.join("\n"));
    }
}

#[test]
fn of_one_that_is_too_long_the_end_stands_behind_dots() {
    let number = "964000000123456";
    // As many of the last six as have room, five rows high if they can be.
    let wanted =
        [(20, 8, "3456", 5), (20, 4, "3456", 3), (28, 3, "123456", 3), (39, 5, "123456", 5), (23, 5, "23456", 5)];
    for (columns, rows, end, high) in wanted {
        let drawn = fitted(number, columns, rows).expect("there is room");
        let same = fitted(end, columns, high).expect("there is room");
        assert_eq!(drawn.len(), usize::from(high));
        for (row, (one, other)) in drawn.iter().zip(&same).enumerate() {
            assert!(one.ends_with(other.as_str()), "{columns}x{rows}\n{}", drawn.join("\n"));
            let dots = one[..3].trim();
            let last = row + 1 == drawn.len();
            assert_eq!(dots.is_empty(), !last, "dots at the foot of the line\n{}", drawn.join("\n"));
        }
    }
    assert_eq!(fitted(number, 18, 3), None, "three figures would be another animal's as well");
}

#[test]
fn six_figures_stand_whole_in_a_narrow_column() {
    for (number, apart) in [("22397", true), ("123456", false), ("OF1234", false)] {
        let drawn = fitted(number, 20, 4).expect("there is room");
        assert_eq!((drawn.len(), figures(&drawn[0], apart)), (3, number.len()));
    }
    assert_eq!(fitted("123456", 20, 3), fitted("123456", 18, 3), "without a blank between them");
}

#[test]
fn no_two_letters_look_alike() {
    let all = "ABCDEFGHIJKLMNOPQRSTUVWXYZ-0123456789";
    for rows in [5, 3] {
        let drawn: Vec<Vec<String>> =
            all.chars().map(|letter| fitted(&letter.to_string(), 3, rows).expect("a figure")).collect();
        for (at, one) in drawn.iter().enumerate() {
            assert!(one.iter().all(|row| row.len() == 3), "{}", &all[at..=at]);
            assert!(!drawn[at + 1..].contains(one), "no two look alike: {}", &all[at..=at]);
        }
        assert_eq!(fitted("a12", 40, rows), fitted("A12", 40, rows));
    }
}

#[test]
fn a_sign_that_nobody_drew_stands_as_it_is_in_its_place() {
    assert_eq!(fitted("\u{c5}", 3, 3), Some(["   ", " \u{c5} ", "   "].map(str::to_owned).to_vec()));
    assert_eq!(fitted("\u{725b}", 3, 5).expect("a figure")[2], " \u{725b}");
    // What would move a cursor is none.
    assert_eq!(fitted("\u{1b}7\u{202e}", 3, 5), fitted("7", 3, 5));
}

/// An animal of that number in the crush: no foot up, one up, a question open, a finding of a zone, before she goes.
const WAYS: [&str; 6] = ["", "7", "7 4", "7 4 1", "e", "7 + 2 Enter Enter Enter Enter Enter"];

#[test]
fn the_number_stands_in_big_figures_wherever_she_is_in_the_crush() {
    for number in ["7", "1394", "22397", "123456", "OF12", "964000000123456"] {
        for way in WAYS {
            let mut rig = Rig::with(BuiltIn::TwoHands, &["7"]);
            rig.press(&format!("7 Enter {way}"));
            let mut session = rig.session().clone();
            session.crush.as_mut().expect("she is in the crush").history.labels.number = number.to_owned();
            let sign_off = matches!(rig.mode(), Mode::SignOff { .. });
            assert_eq!(sign_off, way == WAYS[5], "{:?}", rig.mode());
            let up = rig.mode().hand().is_some_and(|hand| hand.foot.is_some());
            for size in SIZES {
                let shown = text(&buffer(&session, BuiltIn::TwoHands, Colour::Full, size));
                let first = shown.lines().next().unwrap_or_default();
                assert!(first.contains(number), "{number} at {size:?}\n{shown}");
                // Columns right of the map, and rows.
                let room = match (size, up) {
                    ((60, _), _) => (20, 4),
                    ((80, _), false) => (39, 5),
                    ((80, _), true) => (28, 3),
                    (_, false) => (39, 9),
                    (_, true) => (43, 5),
                };
                let figures = fitted(number, room.0, room.1).expect("big figures");
                let from = size.0 - room.0;
                let right = |line: &str| line.chars().skip(usize::from(from)).collect::<String>();
                let column: Vec<String> = shown.lines().skip(1).map(|line| right(line).trim_end().to_owned()).collect();
                let wanted: Vec<&str> = figures.iter().map(|row| row.trim_end()).collect();
                assert!(
                    column.windows(wanted.len()).any(|rows| rows == wanted),
                    "{number} after {way:?} at {size:?}\n{shown}"
                );
            }
        }
    }
}
