//! Contrast of every pair of colours that carries text, by the WCAG 2 formula, and what is left without colour.

use super::vision::ratio;
use crushbook::claw_map::marks::{FootState, Tone};
use crushbook::claw_map::sketch::Paint;
use crushbook::domain::anatomy::Zone;
use crushbook::screen::theme::{Colour, Role, Says, Theme};
use crushbook::session::Light;
use ratatui::style::{Color, Modifier, Style};

/// Red, green and blue of one of the 256: the 6 x 6 x 6 cube and the greys as xterm defines them.
pub fn rgb(colour: Color) -> [u8; 3] {
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

fn contrast(style: Style) -> f64 {
    ratio(rgb(style.fg.expect("text")), rgb(style.bg.expect("ground")))
}

pub const TONES: [Tone; 3] = [Tone::Note, Tone::Warn, Tone::Alarm];

pub fn paints() -> Vec<Paint> {
    let mut paints: Vec<Paint> = Zone::all().map(Paint::Field).collect();
    paints.extend([Paint::Ground, Paint::Word, Paint::Chosen, Paint::Gone, Paint::Ghost, Paint::Cursor]);
    paints.push(Paint::Bracket);
    paints.extend(TONES.map(Paint::Fill));
    paints.extend(TONES.map(Paint::Hatch));
    let states = [
        FootState::NotLookedAt,
        FootState::NotTold,
        FootState::NothingFound,
        FootState::Begun(1),
        FootState::LeftOpen(1),
        FootState::Done(1),
        FootState::InHand(1),
    ];
    paints.extend(states.map(Paint::Bar));
    paints
}

pub fn roles() -> Vec<Role> {
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
            // WCAG 2 enhanced: 7:1 for text.
            assert!(contrast(style) >= 7.0, "{light:?} {name}: {:.2}", contrast(style));
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
        for colour in [Colour::Full, Colour::Sixteen, Colour::None] {
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

/// What terminals say of themselves, as measured on ten of them, and what TERM means to terminfo.
#[test]
fn a_terminal_is_given_the_colours_that_it_has() {
    let table = [
        ("xterm-256color", "", Colour::Full),
        ("xterm-256color", "truecolor", Colour::Full),
        ("xterm-kitty", "truecolor", Colour::Full),
        ("xterm-kitty", "", Colour::Full),
        ("foot", "", Colour::Full),
        ("alacritty", "24bit", Colour::Full),
        ("tmux-256color", "", Colour::Full),
        ("st-256color", "", Colour::Full),
        ("vte-256color", "", Colour::Full),
        ("xterm-direct", "", Colour::Full),
        ("xterm", "truecolor", Colour::Full),
        ("xterm", "", Colour::Sixteen),
        ("xterm-16color", "", Colour::Sixteen),
        ("xterm-color", "", Colour::Sixteen),
        ("screen", "", Colour::Sixteen),
        ("rxvt-unicode", "rxvt-xpm", Colour::Sixteen),
        ("mlterm", "", Colour::Sixteen),
        ("linux", "", Colour::Sixteen),
        ("vt100", "", Colour::None),
        ("vt220", "truecolor", Colour::None),
        ("linux-m", "", Colour::None),
        ("xterm-mono", "", Colour::None),
        ("dumb", "", Colour::None),
        ("", "", Colour::None),
    ];
    for (term, colorterm, colour) in table {
        assert_eq!(Colour::of(Says { no_color: "", term, colorterm }), colour, "{term} {colorterm}");
        let no_color = "1";
        assert_eq!(Colour::of(Says { no_color, term, colorterm }), Colour::None, "NO_COLOR {term}");
    }
}
