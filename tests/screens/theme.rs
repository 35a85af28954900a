//! Contrast of every pair of colours that carries text, by the WCAG 2 formula, and what is left without colour.

use crushbook::claw_map::marks::{FootState, Tone};
use crushbook::claw_map::sketch::Paint;
use crushbook::domain::anatomy::Zone;
use crushbook::screen::theme::{Colour, Role, Theme};
use crushbook::session::Light;
use ratatui::style::{Color, Modifier, Style};

/// Red, green and blue of one of the 256: the 6 x 6 x 6 cube and the greys as xterm defines them.
fn rgb(colour: Color) -> [u8; 3] {
    let Color::Indexed(index) = colour else { panic!("{colour:?} is not one of the 256") };
    let step = |n: u8| if n == 0 { 0 } else { 55 + 40 * n };
    match index {
        16..=231 => {
            let cube = index - 16;
            [step(cube / 36), step(cube / 6 % 6), step(cube % 6)]
        }
        232..=255 => [8 + 10 * (index - 232); 3],
        _ => panic!("{index} means something else in every terminal"),
    }
}

fn luminance(colour: Color) -> f64 {
    let linear = |value: u8| {
        let c = f64::from(value) / 255.0;
        if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
    };
    let [r, g, b] = rgb(colour).map(linear);
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

fn contrast(style: Style) -> f64 {
    let (a, b) = (luminance(style.fg.expect("text")), luminance(style.bg.expect("ground")));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

const TONES: [Tone; 3] = [Tone::Note, Tone::Warn, Tone::Alarm];

fn paints() -> Vec<Paint> {
    let mut paints: Vec<Paint> = Zone::all().map(Paint::Field).collect();
    paints.extend([Paint::Ground, Paint::Word, Paint::Chosen, Paint::Gone, Paint::Ghost, Paint::Cursor]);
    paints.push(Paint::Bracket);
    paints.extend(TONES.map(Paint::Fill));
    paints.extend(TONES.map(Paint::Hatch));
    let states = [
        FootState::NotLookedAt,
        FootState::NothingFound,
        FootState::LeftOpen(1),
        FootState::Done(1),
        FootState::InHand(1),
    ];
    paints.extend(states.map(Paint::Bar));
    paints
}

fn roles() -> Vec<Role> {
    let mut roles = vec![Role::Bar, Role::Text, Role::Strong, Role::Grey, Role::Picked, Role::Key];
    roles.extend(TONES.map(Role::Label));
    roles
}

#[test]
fn the_formula_gives_the_published_ratio_of_black_on_white() {
    // WCAG 2: 21:1.
    let style = Style::new().fg(Color::Indexed(16)).bg(Color::Indexed(231));
    assert!((contrast(style) - 21.0).abs() < 1e-9);
}

#[test]
fn every_text_can_be_read() {
    for light in [Light::Normal, Light::Sun, Light::Shed] {
        let theme = Theme { light, colour: Colour::Full };
        let styles = paints().into_iter().map(|paint| (format!("{paint:?}"), theme.paint(paint)));
        let roles = roles().into_iter().map(|role| (format!("{role:?}"), theme.role(role)));
        for (name, style) in styles.chain(roles) {
            // WCAG 2 enhanced: 7:1 for text. The nearest of the 256 to vermillion, bold black text on it, reaches 6.9:
            // large and bold text needs 4.5.
            let least = if name.contains("Alarm") { 6.8 } else { 7.0 };
            assert!(contrast(style) >= least, "{light:?} {name}: {:.2}", contrast(style));
        }
    }
}

#[test]
fn sun_is_pure_black_and_white_and_bold() {
    let theme = Theme { light: Light::Sun, colour: Colour::Full };
    for style in paints().into_iter().map(|paint| theme.paint(paint)).chain(roles().into_iter().map(|r| theme.role(r)))
    {
        for colour in [style.fg, style.bg] {
            assert!(matches!(colour, Some(Color::Indexed(16 | 231))), "{colour:?}");
        }
        assert!(style.add_modifier.contains(Modifier::BOLD));
    }
}

#[test]
fn no_text_is_dim_anywhere() {
    for light in [Light::Normal, Light::Sun, Light::Shed] {
        for colour in [Colour::Full, Colour::None] {
            let theme = Theme { light, colour };
            for paint in paints() {
                assert!(!theme.paint(paint).add_modifier.contains(Modifier::DIM));
            }
        }
    }
}

#[test]
fn without_colour_what_is_loud_is_reversed_and_nothing_has_a_colour() {
    let theme = Theme { light: Light::Normal, colour: Colour::None };
    for tone in TONES {
        for style in [theme.paint(Paint::Fill(tone)), theme.paint(Paint::Hatch(tone)), theme.role(Role::Label(tone))] {
            assert!(style.add_modifier.contains(Modifier::REVERSED));
        }
    }
    for style in paints().into_iter().map(|paint| theme.paint(paint)) {
        assert_eq!((style.fg, style.bg), (None, None));
    }
}
