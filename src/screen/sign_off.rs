//! The lines to settle before she goes: only what hurts, each on its own key; the rest in grey words.

use crate::claw_map::marks::Tone;
use crate::domain::event::Gap;
use crate::domain::sign_off::gaps;
use crate::keys::context::Context;
use crate::keys::intent::Intent;
use crate::report::words;
use crate::screen::View;
use crate::screen::page::{Page, wrapped};
use crate::screen::theme::{Role, Theme};
use crate::screen::words as says;
use crate::session::sign_off::{Line, open_lines};
use crate::session::touch::Target;
use crate::session::{Session, ghost};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

/// Draws them.
pub fn draw(buffer: &mut Buffer, area: Rect, theme: Theme, session: &Session, passed: &[Line], view: &View<'_>) {
    let mut page = Page::new(buffer, area, theme);
    page.line("BEFORE SHE GOES", Role::Strong);
    let open = open_lines(session, passed);
    for (index, line) in open.iter().enumerate() {
        let text = says::check(session, *line);
        for (row, part) in wrapped(&text, usize::from(page.width()).saturating_sub(5)).iter().enumerate() {
            let (head, role) =
                if row == 0 { (format!(" {} ", index + 1), Role::Key) } else { ("   ".to_owned(), Role::Text) };
            if let Ok(key) = u8::try_from(index + 1) {
                view.note(page.ahead(0, usize::from(page.width()), 1), Target::Wish(Intent::Pick(key)));
            }
            page.pieces(&[(&head, role), (&format!(" {part} "), Role::Label(Tone::Alarm))]);
        }
    }
    let left = left_open(session, passed);
    // What has no room is counted; the key that goes on always stands there.
    let below = 1 + u16::from(!left.is_empty());
    waiting(&mut page, session, view, below);
    let keys = view.keymap.keys_for(Context::SignOff, Intent::GoOn);
    let go_on = keys.first().map_or("", String::as_str);
    if open.is_empty() {
        page.line(&format!("{go_on} lets her go"), Role::Strong);
    } else {
        page.line("press its number", Role::Text);
    }
    if !left.is_empty() && page.left() < 3 {
        page.line(&format!("{} left open", left.len()), Role::Grey);
        return;
    }
    if !left.is_empty() {
        page.skip(1);
        page.line("left open:", Role::Grey);
    }
    counted(&mut page, &left, Role::Grey);
}

/// Last time's marks that wait, in all rows but so many.
fn waiting(page: &mut Page<'_>, session: &Session, view: &View<'_>, below: u16) {
    let ghosts = ghost::waiting(session);
    if ghosts.is_empty() {
        return;
    }
    let room = usize::from(page.width()).saturating_sub(2);
    for part in wrapped(&says::ghosts(session, view, ghosts.len()), room) {
        page.label(&format!(" {part} "), Role::Label(Tone::Note));
    }
    let cases = ghosts.iter().filter_map(|course| ghost::case(session, course.id));
    let lines: Vec<String> = cases
        .flat_map(|case| {
            let what = words::finding(case.what, case.degree, &case.words);
            wrapped(&format!("{} {what}", says::of(session).place(case.place)), room)
        })
        .map(|part| format!(" {part}"))
        .collect();
    let rows = usize::from(page.left().saturating_sub(below));
    let shown = if lines.len() > rows { rows.saturating_sub(1) } else { lines.len() };
    lines[..shown].iter().for_each(|line| page.line(line, Role::Text));
    if shown < lines.len() && rows > 0 {
        page.line(&format!(" ... {} more lines", lines.len() - shown), Role::Text);
    }
}

/// As many lines as have room, and how many more there are.
fn counted(page: &mut Page<'_>, lines: &[String], role: Role) {
    let room = usize::from(page.left());
    let shown = if lines.len() > room { room.saturating_sub(1) } else { lines.len() };
    lines[..shown].iter().for_each(|line| page.line(line, role));
    if shown < lines.len() {
        page.line(&format!("... {} more", lines.len() - shown), role);
    }
}

/// What is written as left open when she goes: lines passed knowingly, and what asks nothing. Old marks are told apart.
pub fn left_open(session: &Session, passed: &[Line]) -> Vec<String> {
    let mut left: Vec<String> = passed.iter().map(|line| says::check(session, *line)).collect();
    if let Some((crush, turn)) = session.turn() {
        let silent = gaps(&crush.history, turn).into_iter().filter(|gap| gap.gap != Gap::Unanswered);
        left.extend(
            silent.map(|gap| format!("{} {}", says::of(session).place(gap.place), says::gap(session, gap.gap))),
        );
    }
    left
}
