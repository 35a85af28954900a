//! The pad: what each key does now, in the very geometry of the keys where there is room, else one choice a line.

use crate::keys::context::Context;
use crate::keys::key::Key;
use crate::keys::keymap::{Keymap, Resolution};
use crate::keys::table;
use crate::report::safe::column;
use crate::screen::page::Page;
use crate::screen::theme::{Role, Theme};
use crate::screen::words;
use crate::session::Session;
use crate::session::choices::{DOT, choices};
use crate::session::mode::Mode;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

/// Digits as they lie on a keypad.
const ROWS: [[char; 3]; 4] = [['7', '8', '9'], ['4', '5', '6'], ['1', '2', '3'], ['0', '.', '\n']];

/// Narrower than this the geometry of the keys has no room.
const NARROW: u16 = 26;

/// Rows that the pad asks for at most, with its heading.
pub fn rows(session: &Session, width: u16) -> u16 {
    match &session.mode {
        Mode::Pad { ask, .. } => choices(session, ask).len() as u16 + 2,
        Mode::Today { .. }
        | Mode::Farms { .. }
        | Mode::Crush(_)
        | Mode::SignOff { .. }
        | Mode::Due { .. }
        | Mode::Last { .. }
        | Mode::Text { .. }
        | Mode::Help { .. } => {
            // Narrow: two meanings a line.
            if width < NARROW { 8 } else { 5 }
        }
    }
}

/// Draws the pad.
pub fn draw(buffer: &mut Buffer, area: Rect, theme: Theme, session: &Session, keymap: &Keymap) {
    let mut page = Page::new(buffer, area, theme);
    match &session.mode {
        Mode::Pad { ask, .. } => {
            page.line(&words::title(session, ask), Role::Strong);
            for choice in choices(session, ask) {
                let key = if choice.key == DOT { ".".to_owned() } else { choice.key.to_string() };
                let text = words::act(session, &choice.act);
                page.pieces(&[(&format!(" {key} "), Role::Key), (" ", Role::Text), (&text, Role::Text)]);
            }
            page.line("Enter: go on", Role::Grey);
        }
        mode => keys(&mut page, mode.context(), keymap),
    }
}

/// The 3 by 4 block, then plus, minus and the rest.
fn keys(page: &mut Page<'_>, context: Context, keymap: &Keymap) {
    if page.width() < NARROW {
        return narrow_keys(page, context, keymap);
    }
    let cell = usize::from((page.width() / 3).saturating_sub(1)).min(13);
    for row in ROWS {
        let texts = row.map(|letter| column(&format!("{} {}", shown(letter), short(context, letter, keymap)), cell));
        let [one, two, three] = &texts;
        page.pieces(&[(one, Role::Key), (" ", Role::Text), (two, Role::Key), (" ", Role::Text), (three, Role::Key)]);
    }
    let others = ['+', '-', '/', '*'].map(|letter| (letter, short(context, letter, keymap)));
    let line: Vec<String> =
        others.iter().filter(|(_, text)| !text.is_empty()).map(|(key, text)| format!("{key} {text}")).collect();
    page.line(&line.join("  "), Role::Grey);
}

/// Two keys a line. With a foot up the map itself says what the digits are.
fn narrow_keys(page: &mut Page<'_>, context: Context, keymap: &Keymap) {
    let digits = if context == Context::Foot { "" } else { "7 8 9 4 5 6 1 2 3 0 ." };
    let letters = digits.chars().chain("+ - * /\n".chars()).filter(|letter| *letter != ' ');
    let texts: Vec<String> = letters
        .map(|letter| (shown(letter), short(context, letter, keymap)))
        .filter(|(_, text)| !text.is_empty())
        .map(|(key, text)| format!("{key} {text}"))
        .collect();
    let half = usize::from(page.width() / 2);
    for pair in texts.chunks(2) {
        let line: String = pair.iter().map(|text| column(text, half)).collect();
        page.line(&line, Role::Text);
    }
}

fn shown(letter: char) -> String {
    if letter == '\n' { "En".to_owned() } else { letter.to_string() }
}

/// What a key means here, in the words of the one table; "more" where it begins a sequence.
fn short(context: Context, letter: char, keymap: &Keymap) -> &'static str {
    let key = if letter == '\n' { Key::Enter } else { Key::Char(letter) };
    match keymap.resolve(context, &[], key) {
        Resolution::Found(intent) => table::row_in(context, intent).map_or("", |row| row.short),
        Resolution::Pending => "more",
        Resolution::Unbound | Resolution::Cancelled => "",
    }
}
