//! What 16 colours can say. Which red or blue is shown is the terminal's own affair, so only pairs are used that can be read
//! in every usual palette: `tests/screens/sixteen.rs` computes them.
//!
//! Palettes of one's own make hues pale, so none lies under light text. Grounds are of the first eight only: the bright eight
//! are no grounds on a bare console. Black text is never bold: bold black is grey where bold means bright. No red can be read
//! under black or white text in all palettes, so what is loudest is black on white, as in the sun.

use crate::claw_map::marks::{FootState, Tone};
use crate::claw_map::sketch::Paint;
use crate::screen::theme::Role;
use crate::session::Light;
use ratatui::style::{Color, Modifier, Style};

const BLACK: Color = Color::Black;
/// The seventh of the first eight, which ratatui calls gray.
const WHITE: Color = Color::Gray;
const BRIGHT: Color = Color::White;
const SKY: Color = Color::Cyan;
const YELLOW: Color = Color::LightYellow;

/// The look of a cell of the map.
pub fn paint(paint: Paint, light: Light) -> Style {
    let Looks { quiet, strong, loud } = Looks::of(light);
    match paint {
        Paint::Ground | Paint::Word | Paint::Field(_) | Paint::Gone => quiet,
        Paint::Chosen | Paint::Cursor | Paint::Bracket | Paint::Bar(FootState::InHand(_)) => loud,
        Paint::Fill(tone) | Paint::Hatch(tone) => label(tone, light),
        Paint::Ghost => strong.add_modifier(Modifier::UNDERLINED),
        Paint::Bar(FootState::Done(_) | FootState::Begun(_)) => strong,
        Paint::Bar(FootState::NotLookedAt | FootState::NotTold | FootState::NothingFound | FootState::LeftOpen(_)) => {
            quiet
        }
    }
}

/// The look of text around the map.
pub fn role(role: Role, light: Light) -> Style {
    let Looks { quiet, strong, loud } = Looks::of(light);
    match role {
        Role::Bar | Role::Text | Role::Grey => quiet,
        Role::Strong => strong,
        Role::Picked | Role::Key => loud,
        Role::Label(tone) => label(tone, light),
    }
}

/// Three looks that need no hue.
struct Looks {
    quiet: Style,
    strong: Style,
    loud: Style,
}

impl Looks {
    fn of(light: Light) -> Looks {
        let bright = on(BLACK, BRIGHT).add_modifier(Modifier::BOLD);
        match light {
            Light::Normal | Light::Shed => Looks { quiet: on(BLACK, WHITE), strong: bright, loud: on(WHITE, BLACK) },
            Light::Sun => Looks { quiet: on(WHITE, BLACK), strong: on(WHITE, BLACK), loud: bright },
        }
    }
}

fn label(tone: Tone, light: Light) -> Style {
    match (light, tone) {
        (Light::Sun, Tone::Note | Tone::Warn | Tone::Alarm) => Looks::of(light).loud,
        (Light::Normal | Light::Shed, Tone::Note) => on(SKY, BLACK),
        (Light::Normal | Light::Shed, Tone::Warn) => {
            on(BLACK, YELLOW).add_modifier(Modifier::BOLD | Modifier::UNDERLINED)
        }
        (Light::Normal | Light::Shed, Tone::Alarm) => on(WHITE, BLACK),
    }
}

fn on(background: Color, text: Color) -> Style {
    Style::new().bg(background).fg(text)
}
