//! The pad: what each key does now, in the very geometry of the keys where whole words have room, else one choice a line.

use crate::claw_map::marks::Tone;
use crate::keys::context::Context;
use crate::keys::intent::Intent;
use crate::keys::key::Key;
use crate::keys::keymap::Resolution;
use crate::keys::table;
use crate::report::safe::column;
use crate::screen::View;
use crate::screen::amend as screen_amend;
use crate::screen::page::Page;
use crate::screen::theme::Role;
use crate::screen::words;
use crate::session::Session;
use crate::session::act::{Ask, Choice};
use crate::session::amend;
use crate::session::choices::{DOT, choices};
use crate::session::mode::Mode;
use unicode_width::UnicodeWidthStr;

/// Digits as they lie on a keypad.
const ROWS: [[char; 3]; 4] = [['7', '8', '9'], ['4', '5', '6'], ['1', '2', '3'], ['0', '.', '\n']];
/// The same keys two by two, feet first.
const PAIRS: [[char; 2]; 6] = [['7', '9'], ['1', '3'], ['8', '2'], ['5', '4'], ['6', '0'], ['\n', '.']];
/// Narrower cells would cut most choices.
const CELL: u16 = 12;

/// Rows the pad takes at this width.
pub fn rows(session: &Session, view: &View<'_>, width: u16) -> u16 {
    match &session.mode {
        // Two beside each other take all the room there is.
        Mode::Pad { ask: Ask::Amend(amend::Ask::Which(_, _) | amend::Ask::Twice(_)), .. } => u16::MAX,
        Mode::Pad { ask, .. } if has_cells(width) => {
            2 + rows_of_notes(session, ask, width) + 4 * tall(session, &choices(session, ask), width)
        }
        Mode::Pad { ask, .. } => {
            let count = u16::try_from(choices(session, ask).len()).unwrap_or(u16::MAX);
            count.saturating_add(2 + rows_of_notes(session, ask, width))
        }
        Mode::Text { .. } => 5,
        Mode::Today { .. }
        | Mode::Farms { .. }
        | Mode::Crush(_)
        | Mode::SignOff { .. }
        | Mode::Due { .. }
        | Mode::Ring { .. }
        | Mode::Paper { .. }
        | Mode::Totals { .. }
        | Mode::Last { .. }
        | Mode::Help { .. } => u16::try_from(key_rows(session, view, width).len()).unwrap_or(u16::MAX),
    }
}

fn has_cells(width: u16) -> bool {
    width >= CELL * 3 + 2
}

/// Draws the pad, or the field that is typed in.
pub fn draw(page: &mut Page<'_>, session: &Session, view: &View<'_>) {
    match &session.mode {
        Mode::Pad { ask: Ask::Amend(asked), .. } if screen_amend::draw(page, session, view, asked) => {}
        Mode::Pad { ask, .. } => {
            page.line(&words::title(session, ask), Role::Strong);
            for shout in words::shouts(ask) {
                page.label(&format!(" {shout} "), Role::Label(Tone::Alarm));
            }
            for note in notes(session, ask, page.width()) {
                page.line(&note, Role::Grey);
            }
            let list = choices(session, ask);
            if has_cells(page.width()) && page.left() > 4 * tall(session, &list, page.width()) {
                cells(page, session, &list)
            } else {
                lines(page, session, &list)
            }
            page.line(&after(session, view, ask), Role::Grey);
        }
        Mode::Text { what, text, .. } => crate::screen::lists::text(page, session, what, text, view),
        Mode::Today { .. }
        | Mode::Farms { .. }
        | Mode::Crush(_)
        | Mode::SignOff { .. }
        | Mode::Due { .. }
        | Mode::Ring { .. }
        | Mode::Paper { .. }
        | Mode::Totals { .. }
        | Mode::Last { .. }
        | Mode::Help { .. } => {
            for row in key_rows(session, view, page.width()) {
                pieces(page, &row);
            }
        }
    }
}

/// What is worth knowing beside the choices, broken to the width. A note, never a refusal.
fn notes(session: &Session, ask: &Ask, width: u16) -> Vec<String> {
    words::note(session, ask).map_or(Vec::new(), |note| crate::screen::page::wrapped(&note, usize::from(width)))
}

fn rows_of_notes(session: &Session, ask: &Ask, width: u16) -> u16 {
    u16::try_from(notes(session, ask, width).len()).unwrap_or(u16::MAX)
}

/// Rows of a cell: two where a choice needs them.
fn tall(session: &Session, list: &[Choice], width: u16) -> u16 {
    let room = usize::from((width - 2) / 3).saturating_sub(3);
    if list.iter().any(|choice| words::act(session, &choice.act).width() > room) { 2 } else { 1 }
}

/// Choices in the geometry of the keys.
fn cells(page: &mut Page<'_>, session: &Session, list: &[Choice]) {
    let cell = usize::from((page.width() - 2) / 3);
    let rows_of_cell = usize::from(tall(session, list, page.width()));
    for row in ROWS {
        let texts = row.map(|letter| {
            let choice = list.iter().find(|choice| letter_of(choice.key) == letter);
            let words = choice.map_or(String::new(), |choice| words::act(session, &choice.act));
            let mut parts = page_lines(&words, cell.saturating_sub(3));
            parts.resize(2, String::new());
            (choice.is_some(), letter, parts)
        });
        for line in 0..rows_of_cell {
            let mut row = Row::new();
            for (is, letter, parts) in &texts {
                let key = if line == 0 && *is { format!(" {letter} ") } else { "   ".to_owned() };
                let role = if line == 0 && *is { Role::Key } else { Role::Text };
                row.push((key, role));
                row.push((column(&parts[line], cell - 2), Role::Text));
            }
            pieces(page, &row);
        }
    }
}

/// Choices one a line; in two columns where the lines run out.
fn lines(page: &mut Page<'_>, session: &Session, list: &[Choice]) {
    let room = usize::from(page.left()).max(1);
    let columns = if list.len() > room { 2 } else { 1 };
    let width = usize::from(page.width()) / columns;
    for some in list.chunks(columns) {
        let mut row = Row::new();
        for choice in some {
            let words = format!(" {}", words::act(session, &choice.act));
            row.push((format!("{} ", letter_of(choice.key)), Role::Key));
            row.push((column(&words, width.saturating_sub(2)), Role::Text));
        }
        pieces(page, &row);
    }
}

fn letter_of(key: u8) -> char {
    if key == DOT { '.' } else { char::from(b'0' + key.min(9)) }
}

/// What going on and the other keys of a pad do.
fn after(session: &Session, view: &View<'_>, ask: &Ask) -> String {
    let context = session.mode.context();
    let key = |intent| view.keymap.keys_for(context, intent).into_iter().next().unwrap_or_default();
    let mut text = format!("{} {}", key(Intent::GoOn), go_on(ask));
    if let Ask::About(_) = ask {
        text.push_str(&format!("  {} off again", key(Intent::TakeOff)));
    }
    text
}

/// What going on means at a question.
pub fn go_on(ask: &Ask) -> &'static str {
    match ask {
        Ask::About(_) => "not given",
        Ask::WrapDay(_) | Ask::WrapWho(_) => "later",
        Ask::Finding(_)
        | Ask::Answer(_)
        | Ask::Seen(_)
        | Ask::Skin(_, _)
        | Ask::WholeFoot(_, _)
        | Ask::PutOn(_)
        | Ask::BlockClaw(_)
        | Ask::BlockKind(_)
        | Ask::WrapColour(_)
        | Ask::Product(_)
        | Ask::Stated(_)
        | Ask::TakeOff(_)
        | Ask::Trim(_, _)
        | Ask::Gait
        | Ask::Whole(_)
        | Ask::Vet(_, _)
        | Ask::Measure(_)
        | Ask::Left(_, _)
        | Ask::Told(_)
        | Ask::Doubt(_)
        | Ask::Again(_, _)
        | Ask::Reopen(_, _)
        | Ask::Settle(_)
        | Ask::Amend(_) => "back",
    }
}

/// Pieces of one row.
type Row = Vec<(String, Role)>;

/// The block of the present keymap in its geometry, or two keys a row where whole words have no room.
fn key_rows(session: &Session, view: &View<'_>, width: u16) -> Vec<Row> {
    let whole = usize::from(width.saturating_sub(2) / 3);
    // Zones have a word short enough for any cell.
    let zones = session.mode.context() == Context::Foot;
    let block: Vec<Vec<char>> = match whole >= usize::from(CELL) - 3 || zones {
        true => ROWS.iter().map(|row| row.to_vec()).collect(),
        false => PAIRS.iter().map(|row| row.to_vec()).collect(),
    };
    let columns = block[0].len();
    let even = ((usize::from(width) + 1) / columns - 1).min(16);
    let mut rows: Vec<Row> = Vec::new();
    for keys in block {
        let mut row = Row::new();
        for (at, letter) in keys.into_iter().enumerate() {
            // Of two columns the first holds the longer words.
            let cell = match (columns, at) {
                (2, 0) => even + 2,
                (2, _) => even.saturating_sub(2),
                _ => even,
            };
            if !row.is_empty() {
                row.push((" ".to_owned(), Role::Text));
            }
            let shown = if letter == '\n' { "En".to_owned() } else { letter.to_string() };
            let text = short(session, view, letter, cell.saturating_sub(shown.len() + 1));
            row.push((column(&format!("{shown} {text}"), cell), Role::Key));
        }
        rows.push(row);
    }
    rows.extend(flowed(&others(session, view), width).into_iter().map(|line| vec![(line, Role::Grey)]));
    rows
}

/// What a key means here after the keys that wait, in the words of the one table; "more" where it begins a sequence.
fn short(session: &Session, view: &View<'_>, letter: char, room: usize) -> String {
    let context = session.mode.context();
    let key = if letter == '\n' { Key::Enter } else { Key::Char(letter) };
    match view.keymap.resolve(context, &session.pending, key) {
        Resolution::Found(Intent::Zone(number)) => words::zone(number, room).to_owned(),
        Resolution::Found(intent) => {
            let row = table::row_in(context, intent);
            row.map_or(String::new(), |row| words::of(session).fill(row.short))
        }
        Resolution::Pending => "more".to_owned(),
        Resolution::Unbound | Resolution::Cancelled => String::new(),
    }
}

/// Keys outside the block, as `key word`.
fn others(session: &Session, view: &View<'_>) -> Vec<String> {
    let context = session.mode.context();
    let wanted = [
        Intent::PutOn,
        Intent::TakeOff,
        Intent::WholeFoot,
        Intent::SameOtherClaw,
        Intent::SameOtherHind,
        Intent::Trim,
        Intent::GotAway,
        Intent::Note,
    ];
    let mut list: Vec<String> = wanted
        .into_iter()
        .filter_map(|intent| {
            let row = table::row_in(context, intent)?;
            let key = view.keymap.keys_for(context, intent).into_iter().next()?;
            Some(format!("{key} {}", words::of(session).fill(row.short)))
        })
        .collect();
    if view.keymap.resolve(context, &[], Key::Char('*')) == Resolution::Pending {
        list.push("* more".to_owned());
    }
    list
}

/// Words side by side, two blanks between them, as many lines as that takes.
fn flowed(words: &[String], width: u16) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words {
        match lines.last_mut() {
            Some(line) if line.len() + 2 + word.len() <= usize::from(width) => {
                line.push_str("  ");
                line.push_str(word);
            }
            Some(_) | None => lines.push(word.clone()),
        }
    }
    lines.truncate(if width < 30 { 2 } else { 3 });
    lines
}

fn page_lines(text: &str, columns: usize) -> Vec<String> {
    let mut lines = crate::screen::page::wrapped(text, columns);
    lines.truncate(2);
    lines
}

fn pieces(page: &mut Page<'_>, row: &Row) {
    page.pieces(&row.iter().map(|(text, role)| (text.as_str(), *role)).collect::<Vec<_>>());
}
