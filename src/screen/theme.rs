//! How meaning looks: one table a light, and nothing about colour anywhere else.
//!
//! Colour is never alone: codes, signs and words stand in the cells already. Three loud colours (sky blue, yellow,
//! vermillion of Okabe and Ito, as one of the 256 near them), always as a filled label with black text, so that light and
//! dark terminals read the same. Black is index 16: bold ANSI black turns grey in many terminals. What 16 colours can do
//! stands in [`sixteen`]: their shades are each terminal's own.

use crate::claw_map::marks::{FootState, Tone};
use crate::claw_map::sketch::Paint;
use crate::domain::anatomy::{Horn, Skin, Zone};
use crate::screen::sixteen;
use crate::session::Light;
use ratatui::style::{Color, Modifier, Style};

/// Which colours the terminal is to be given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Colour {
    /// The 256 of the cube and the greys.
    Full,
    /// The 16 whose shades are the terminal's own.
    Sixteen,
    /// None: reverse, bold and underline only.
    None,
}

/// What the environment says about the terminal; empty where it says nothing.
#[derive(Debug, Clone, Copy, Default)]
pub struct Says<'a> {
    /// NO_COLOR: not empty means none.
    pub no_color: &'a str,
    /// TERM: the kind of terminal.
    pub term: &'a str,
    /// COLORTERM: `truecolor` or `24bit`, where it says so itself.
    pub colorterm: &'a str,
}

/// Endings of TERM that stand for a terminal without colours, by the customs of terminfo.
const MONO: [&str; 3] = ["-mono", "-m", "-nc"];
/// Terminals of at least 256 colours whose TERM does not say a number.
const RICH: [&str; 8] = ["direct", "kitty", "foot", "alacritty", "wezterm", "ghostty", "rio", "st-"];

impl Colour {
    /// By the NO_COLOR convention, then TERM, then COLORTERM.
    pub fn of(says: Says<'_>) -> Colour {
        let term = says.term;
        // The DEC terminals have a number behind their vt.
        let is_dec = term.strip_prefix("vt").is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()));
        let mono = term.is_empty() || term == "dumb" || is_dec || MONO.iter().any(|mono| term.ends_with(mono));
        let rich = matches!(says.colorterm, "truecolor" | "24bit")
            || term.contains("256color")
            || RICH.iter().any(|rich| term.contains(rich));
        match (says.no_color.is_empty() && !mono, rich) {
            (false, _) => Colour::None,
            (true, true) => Colour::Full,
            (true, false) => Colour::Sixteen,
        }
    }
}

/// What a piece of text around the map is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// First and last row.
    Bar,
    /// Ordinary text.
    Text,
    /// Headings and what counts.
    Strong,
    /// What is only said by the way.
    Grey,
    /// The line or cell that is picked.
    Picked,
    /// A key on the pad.
    Key,
    /// A label as loud as its tone.
    Label(Tone),
}

/// A light, with or without colours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Theme {
    /// Light.
    pub light: Light,
    /// Colours.
    pub colour: Colour,
}

const BLACK: Color = Color::Indexed(16);
const WHITE: Color = Color::Indexed(231);
const PALE: Color = Color::Indexed(252);
const SKY: Color = Color::Indexed(74);
const YELLOW: Color = Color::Indexed(221);
/// Not the very nearest, 202: black text on that reaches 6.9 to 1, and 7 is what text needs.
const VERMILLION: Color = Color::Indexed(203);

/// Ground greys of one light, by what a zone is.
struct Greys {
    white_line: u8,
    white_line_side: u8,
    sole: u8,
    apex: u8,
    horn: u8,
    horn_heel: u8,
    bar: u8,
    done: u8,
    text: Color,
}

const NORMAL: Greys = Greys {
    white_line: 254,
    white_line_side: 249,
    sole: 233,
    apex: 235,
    horn: 238,
    horn_heel: 240,
    bar: 235,
    done: 240,
    text: WHITE,
};

const SHED: Greys = Greys {
    white_line: 250,
    white_line_side: 247,
    sole: 232,
    apex: 233,
    horn: 235,
    horn_heel: 237,
    bar: 233,
    done: 237,
    text: PALE,
};

impl Theme {
    /// Whether fields have colours of their own; else their outline is drawn.
    pub fn has_fields(self) -> bool {
        self.colour == Colour::Full && self.light != Light::Sun
    }

    /// The look of a cell of the map.
    pub fn paint(self, paint: Paint) -> Style {
        match (self.colour, self.light) {
            (Colour::None, _) => plain(paint),
            (Colour::Sixteen, light) => sixteen::paint(paint, light),
            (Colour::Full, Light::Sun) => sun(paint),
            (Colour::Full, Light::Normal) => grey(paint, &NORMAL),
            (Colour::Full, Light::Shed) => grey(paint, &SHED),
        }
    }

    /// The look of text around the map.
    pub fn role(self, role: Role) -> Style {
        match (self.colour, self.light) {
            (Colour::None, _) => plain_role(role),
            (Colour::Sixteen, light) => sixteen::role(role, light),
            (Colour::Full, Light::Sun) => sun_role(role),
            (Colour::Full, Light::Normal) => grey_role(role, &NORMAL),
            (Colour::Full, Light::Shed) => grey_role(role, &SHED),
        }
    }
}

fn on(background: Color, text: Color) -> Style {
    Style::new().bg(background).fg(text)
}

fn label(tone: Tone) -> Style {
    let background = match tone {
        Tone::Note => SKY,
        Tone::Warn => YELLOW,
        Tone::Alarm => VERMILLION,
    };
    on(background, BLACK).add_modifier(Modifier::BOLD)
}

fn grey(paint: Paint, greys: &Greys) -> Style {
    let field = |index: u8| {
        // A light field takes black text, a dark one light text.
        if index >= 245 { on(Color::Indexed(index), BLACK) } else { on(Color::Indexed(index), greys.text) }
    };
    match paint {
        Paint::Ground | Paint::Word => on(BLACK, PALE),
        Paint::Chosen | Paint::Cursor | Paint::Bracket => on(WHITE, BLACK).add_modifier(Modifier::BOLD),
        Paint::Field(Zone::Skin(Skin::Cleft | Skin::Front | Skin::Heel)) => on(BLACK, greys.text),
        Paint::Field(Zone::Horn(horn)) => field(match horn {
            Horn::ToeWhiteLine | Horn::WallBulb => greys.white_line,
            Horn::WhiteLine => greys.white_line_side,
            Horn::SoleBulb => greys.sole,
            Horn::SoleApex => greys.apex,
            Horn::Bulb | Horn::WallToe | Horn::CleftWallToe => greys.horn,
            Horn::WallHeel | Horn::CleftWallHeel => greys.horn_heel,
        }),
        Paint::Gone => on(BLACK, PALE),
        Paint::Fill(tone) | Paint::Hatch(tone) => label(tone),
        Paint::Ghost => on(BLACK, WHITE).add_modifier(Modifier::UNDERLINED | Modifier::BOLD),
        Paint::Bar(FootState::InHand(_)) => on(WHITE, BLACK).add_modifier(Modifier::BOLD),
        Paint::Bar(FootState::Done(_) | FootState::Begun(_)) => {
            on(Color::Indexed(greys.done), greys.text).add_modifier(Modifier::BOLD)
        }
        Paint::Bar(FootState::NotLookedAt | FootState::NotTold | FootState::NothingFound | FootState::LeftOpen(_)) => {
            on(Color::Indexed(greys.bar), PALE)
        }
    }
}

/// Sun on the glass: black and white, bold, and nothing between.
fn sun(paint: Paint) -> Style {
    let quiet = on(WHITE, BLACK).add_modifier(Modifier::BOLD);
    let loud = on(BLACK, WHITE).add_modifier(Modifier::BOLD);
    match paint {
        Paint::Ground | Paint::Word | Paint::Field(_) | Paint::Gone | Paint::Cursor => quiet,
        Paint::Chosen | Paint::Bracket | Paint::Fill(_) | Paint::Hatch(_) => loud,
        Paint::Ghost => quiet.add_modifier(Modifier::UNDERLINED),
        Paint::Bar(FootState::InHand(_)) => loud,
        Paint::Bar(
            FootState::NotLookedAt
            | FootState::NotTold
            | FootState::NothingFound
            | FootState::LeftOpen(_)
            | FootState::Done(_)
            | FootState::Begun(_),
        ) => quiet,
    }
}

/// No colours asked for: the terminal's own, with reverse, bold and underline.
fn plain(paint: Paint) -> Style {
    match paint {
        Paint::Ground | Paint::Word | Paint::Field(_) | Paint::Gone | Paint::Cursor => Style::new(),
        Paint::Chosen | Paint::Bracket | Paint::Fill(_) | Paint::Hatch(_) => {
            Style::new().add_modifier(Modifier::REVERSED | Modifier::BOLD)
        }
        Paint::Ghost => Style::new().add_modifier(Modifier::UNDERLINED | Modifier::BOLD),
        Paint::Bar(FootState::InHand(_)) => Style::new().add_modifier(Modifier::REVERSED | Modifier::BOLD),
        Paint::Bar(FootState::Done(_) | FootState::Begun(_)) => Style::new().add_modifier(Modifier::BOLD),
        Paint::Bar(FootState::NotLookedAt | FootState::NotTold | FootState::NothingFound | FootState::LeftOpen(_)) => {
            Style::new()
        }
    }
}

fn grey_role(role: Role, greys: &Greys) -> Style {
    match role {
        Role::Bar => on(Color::Indexed(greys.bar), PALE),
        Role::Text | Role::Grey => on(BLACK, PALE),
        Role::Strong => on(BLACK, WHITE).add_modifier(Modifier::BOLD),
        Role::Picked => on(WHITE, BLACK).add_modifier(Modifier::BOLD),
        Role::Key => on(Color::Indexed(greys.done), greys.text).add_modifier(Modifier::BOLD),
        Role::Label(tone) => label(tone),
    }
}

fn sun_role(role: Role) -> Style {
    match role {
        Role::Bar | Role::Text | Role::Grey | Role::Strong => on(WHITE, BLACK).add_modifier(Modifier::BOLD),
        Role::Picked | Role::Key | Role::Label(_) => on(BLACK, WHITE).add_modifier(Modifier::BOLD),
    }
}

fn plain_role(role: Role) -> Style {
    match role {
        Role::Bar | Role::Text | Role::Grey => Style::new(),
        Role::Strong => Style::new().add_modifier(Modifier::BOLD),
        Role::Picked | Role::Key | Role::Label(_) => Style::new().add_modifier(Modifier::REVERSED | Modifier::BOLD),
    }
}
