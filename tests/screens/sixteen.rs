//! 16 colours: every pair can be read in every usual palette, on a bare console too.

use super::theme::{TONES, paints, roles};
use super::vision::{Rgb, ratio};
use crushbook::claw_map::sketch::Paint;
use crushbook::screen::theme::{Colour, Role, Theme};
use crushbook::session::Light;
use ratatui::style::{Color, Modifier, Style};

/// What the sixteen look like: black, red, green, yellow, blue, magenta, cyan, white, then the bright ones.
type Palette = [Rgb; 16];

/// xterm's own (XTerm-col.ad), from memory.
const XTERM: Palette = [
    [0, 0, 0],
    [205, 0, 0],
    [0, 205, 0],
    [205, 205, 0],
    [0, 0, 238],
    [205, 0, 205],
    [0, 205, 205],
    [229, 229, 229],
    [127, 127, 127],
    [255, 0, 0],
    [0, 255, 0],
    [255, 255, 0],
    [92, 92, 255],
    [255, 0, 255],
    [0, 255, 255],
    [255, 255, 255],
];

/// The text mode of VGA, which the Linux console keeps, from memory: yellow is brown there.
const VGA: Palette = [
    [0, 0, 0],
    [170, 0, 0],
    [0, 170, 0],
    [170, 85, 0],
    [0, 0, 170],
    [170, 0, 170],
    [0, 170, 170],
    [170, 170, 170],
    [85, 85, 85],
    [255, 85, 85],
    [85, 255, 85],
    [255, 255, 85],
    [85, 85, 255],
    [255, 85, 255],
    [85, 255, 255],
    [255, 255, 255],
];

/// The number of one of the sixteen.
fn index(colour: Color) -> usize {
    match colour {
        Color::Black => 0,
        Color::Cyan => 6,
        Color::Gray => 7,
        Color::LightYellow => 11,
        Color::White => 15,
        other => panic!("{other:?} is not among those that are known to be safe"),
    }
}

fn every_style() -> Vec<(String, Style)> {
    let mut styles = Vec::new();
    for light in [Light::Normal, Light::Sun, Light::Shed] {
        let theme = Theme { light, colour: Colour::Sixteen };
        styles.extend(paints().into_iter().map(|paint| (format!("{light:?} {paint:?}"), theme.paint(paint))));
        styles.extend(roles().into_iter().map(|role| (format!("{light:?} {role:?}"), theme.role(role))));
    }
    styles
}

#[test]
fn every_text_can_be_read_in_every_usual_palette() {
    for (name, style) in every_style() {
        let [text, ground] = [style.fg, style.bg].map(|colour| index(colour.expect("painted")));
        for (palette, colours) in [("xterm", XTERM), ("VGA", VGA)] {
            let contrast = ratio(colours[text], colours[ground]);
            assert!(contrast >= 7.0, "{palette}, {name}: {contrast:.2}");
        }
    }
}

#[test]
fn a_ground_is_one_of_the_first_eight_and_black_text_is_never_bold() {
    for (name, style) in every_style() {
        assert!(index(style.bg.expect("a ground")) < 8, "{name}");
        let is_black = style.fg == Some(Color::Black);
        assert!(!is_black || !style.add_modifier.contains(Modifier::BOLD), "{name}: bold black turns grey");
        assert!(!style.add_modifier.intersects(Modifier::DIM | Modifier::REVERSED), "{name}");
    }
}

#[test]
fn no_two_tones_look_the_same_and_none_looks_like_plain_text() {
    let theme = Theme { light: Light::Normal, colour: Colour::Sixteen };
    let mut looks: Vec<Style> = TONES.iter().map(|tone| theme.role(Role::Label(*tone))).collect();
    looks.push(theme.role(Role::Text));
    for (at, look) in looks.iter().enumerate() {
        assert!(!looks[..at].contains(look), "{look:?} twice");
    }
    assert_eq!(theme.role(Role::Text), theme.paint(Paint::Ground));
}
