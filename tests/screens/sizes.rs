//! No size and no mode makes it fail, and every cell is painted.

use super::world::{buffer, six_days_later, text};
use crate::stories::amend::twice_twelve;
use crate::stories::rig::Rig;
use crushbook::keys::keymap::BuiltIn;
use crushbook::screen::theme::Colour;
use crushbook::session::{Light, Notice};
use ratatui::style::Color;

const MAP: BuiltIn = BuiltIn::TwoHands;

/// Keys that lead from Today into every mode.
pub const MODES: [&str; 32] = [
    "",
    "1 3",
    "9 9",
    "v",
    "d",
    "f 6",
    "f 9",
    "f 9 Enter",
    "f 9 Enter Enter",
    "f 9 a",
    "f 9 a Enter",
    "f 9 a Down Enter PageDown",
    "h",
    "1 3 8 2 Enter",
    "1 3 8 2 Enter 1 5 4 1",
    "1 3 8 2 Enter 3",
    "1 3 8 2 Enter 7 0",
    "1 3 8 2 Enter 7 + 2",
    "1 3 8 2 Enter v",
    "1 3 8 2 Enter l",
    "1 3 8 2 Enter 7 Tab",
    "1 3 8 2 Enter n x",
    "1 3 8 2 Enter Enter",
    "1 3 8 2 Enter 7 h",
    "1 3 8 2 c",
    "1 3 8 2 Enter l c",
    "1 3 8 2 Enter l c 1",
    "1 3 8 2 Enter l m 4",
    "f 4",
    "f 5",
    "f 5 5 Enter 1 3 8 2 Enter",
    "f 4 4 4 3 Enter 1 3 8",
];

pub fn rigs() -> Vec<Rig> {
    let modes = MODES.iter().map(|keys| {
        let mut rig = six_days_later(MAP);
        rig.press(keys);
        rig
    });
    modes.collect()
}

/// Two beside each other, and which of two.
pub fn twins() -> Vec<Rig> {
    let modes = ["w", "w 2 1 2 Enter"].map(|keys| {
        let mut rig = twice_twelve();
        rig.press(keys);
        rig
    });
    modes.into()
}

#[test]
fn no_size_makes_any_mode_fail() {
    for rig in rigs().into_iter().chain(twins()) {
        for cols in (1..=130).step_by(7) {
            for rows in (1..=45).step_by(4) {
                buffer(rig.session(), MAP, Colour::Full, (cols, rows));
            }
        }
        for edge in [(59, 20), (60, 19), (60, 20), (79, 24), (80, 24), (100, 38), (118, 36), (108, 24)] {
            buffer(rig.session(), MAP, Colour::Full, edge);
        }
    }
}

#[test]
fn every_cell_is_painted() {
    for rig in rigs().into_iter().chain(twins()) {
        for size in [(60, 20), (80, 24), (120, 40), (30, 10)] {
            for colour in [Colour::Full, Colour::Sixteen] {
                let buffer = buffer(rig.session(), MAP, colour, size);
                let bare =
                    buffer.content().iter().filter(|cell| cell.bg == Color::Reset || cell.fg == Color::Reset).count();
                assert_eq!(bare, 0, "{:?} at {size:?}\n{}", rig.mode(), text(&buffer));
            }
        }
    }
}

#[test]
fn without_colour_no_cell_has_one() {
    for rig in rigs() {
        let buffer = buffer(rig.session(), MAP, Colour::None, (80, 24));
        assert!(buffer.content().iter().all(|cell| cell.bg == Color::Reset && cell.fg == Color::Reset));
    }
}

#[test]
fn the_characters_are_the_same_in_every_light() {
    for rig in rigs() {
        let shown = [Light::Normal, Light::Shed].map(|light| {
            let mut session = rig.session().clone();
            session.light = light;
            text(&buffer(&session, MAP, Colour::Full, (80, 24)))
        });
        assert_eq!(shown[0], shown[1]);
    }
}

#[test]
fn too_small_a_screen_says_the_size_it_takes() {
    let rig = six_days_later(MAP);
    let shown = text(&buffer(rig.session(), MAP, Colour::Full, (59, 20)));
    assert!(shown.contains("needs 60x20, is 59x20; undo and leave still work"), "{shown}");
}

#[test]
fn what_is_not_saved_is_said_at_every_size() {
    let mut session = six_days_later(MAP).session().clone();
    session.notice = Some(Notice::NotSaved("the disk is full".to_owned()));
    for size in [(40, 12), (60, 20), (80, 24), (120, 40)] {
        let shown = text(&buffer(&session, MAP, Colour::Full, size));
        assert!(shown.contains("NOT SAVED"), "{size:?}\n{shown}");
    }
}

#[test]
fn what_is_late_is_counted_on_every_screen() {
    for rig in rigs() {
        let shown = text(&buffer(rig.session(), MAP, Colour::Full, (60, 20)));
        let head = shown.lines().next().expect("a first row");
        // On paper it is said which day that is of; what is late today is not.
        let wanted = if rig.session().paper.is_some() { "PAPER of TUE 5 May" } else { "1 LATE" };
        assert!(head.trim_end().ends_with(wanted), "{:?}: {head}", rig.mode());
    }
}

#[test]
fn names_from_outside_move_no_cursor() {
    let mut session = six_days_later(MAP).session().clone();
    session.farm.as_mut().expect("a farm").name = "Bad\u{1b}[2J\u{202e}Farm\r\n".to_owned();
    for farm in &mut session.farms {
        farm.name = "Bad\u{1b}[2J\u{202e}Farm\r\n".to_owned();
    }
    session.herd[0].labels.number = "\u{7}9\u{9b}1m".to_owned();
    let buffer = buffer(&session, MAP, Colour::Full, (80, 24));
    let bad = |symbol: &str| symbol.chars().any(|c| c.is_control() || matches!(c, '\u{202a}'..='\u{202e}'));
    assert!(buffer.content().iter().all(|cell| !bad(cell.symbol())), "{}", text(&buffer));
}

#[test]
fn the_saved_line_names_place_and_finding_also_for_a_grade() {
    let mut rig = six_days_later(MAP);
    rig.press("1 3 8 2 Enter 7 4 1 3");
    let shown = text(&buffer(rig.session(), MAP, Colour::Full, (80, 24)));
    assert!(shown.contains("saved 09:30:00 LF inner 4 sole ulcer severe"), "{shown}");
    rig.press("u");
    let shown = text(&buffer(rig.session(), MAP, Colour::Full, (80, 24)));
    assert!(shown.contains("taken back"), "{shown}");
}
