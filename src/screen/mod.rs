//! How it looks. Reads, never writes; what it needs is in the session.
//!
//! Row 0 says who and where, the last row what was saved; between them is one screen a mode.

pub mod always;
mod amend;
pub mod brief;
mod cells;
pub mod claws;
pub mod contact;
mod crush;
pub mod day_list;
mod due;
pub mod facts;
mod farm_card;
pub mod figures;
mod frame;
pub mod herd;
pub mod herd_list;
pub mod instruct;
pub mod instructed;
pub mod last;
pub mod lists;
pub mod of_farm;
pub mod pad;
mod page;
pub mod ranked;
pub mod ring;
mod rows;
pub mod saved;
pub mod sign_off;
pub mod sixteen;
pub mod theme;
pub mod today;
pub mod touch;
pub mod trial;
pub mod visit;
pub mod walk;
pub mod words;

use crate::claw_map::layout::Layout;
use crate::claw_map::marks::Tone;
use crate::domain::ids::RecordId;
use crate::domain::record::{Moment, Stamp};
use crate::keys::keymap::Keymap;
use crate::session::mode::Mode;
use crate::session::touch::Target;
use crate::session::{Notice, Session};
use page::Page;
use ratatui::Frame;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use theme::{Colour, Role, Theme};
use touch::Targets;

/// What drawing needs besides the session.
#[derive(Debug, Clone, Copy)]
pub struct View<'a> {
    /// Keys, for pad and help.
    pub keymap: &'a Keymap,
    /// The clock.
    pub now: Moment,
    /// Which colours the terminal is given.
    pub colour: Colour,
    /// Where taps count is noted here while it is drawn.
    pub targets: Option<&'a Targets>,
}

impl View<'_> {
    /// Notes where a tap means something.
    fn note(&self, area: Rect, target: Target) {
        if let Some(targets) = self.targets {
            targets.note(area, target);
        }
    }

    /// A stamp to ask with what would be decided: what is drawn says what keys do now. Nothing is written with it.
    fn stamp(&self, session: &Session) -> Stamp {
        Stamp { next: RecordId { series: 0, seq: 0 }, tick: 0, by: None, now: self.now, on: session.today }
    }
}

/// Draws the session.
pub fn draw(frame: &mut Frame<'_>, session: &Session, view: &View<'_>) {
    let area = frame.area();
    paint(frame.buffer_mut(), area, session, view);
}

/// Paints every cell of the area.
pub fn paint(buffer: &mut Buffer, area: Rect, session: &Session, view: &View<'_>) {
    let theme = Theme { light: session.light, colour: view.colour };
    // An empty page paints its whole area.
    let mut page = Page::new(buffer, area, theme);
    let (cols, rows) = Layout::LEAST;
    if area.width < cols || area.height < rows {
        too_small(&mut page, area, session, view);
        return;
    }
    // The map's layouts count from the header's row, so the body begins one row below it.
    let body = Rect { y: area.y + 1, height: area.height - 2, ..area };
    match &session.mode {
        Mode::Today { typed, cursor } => today::draw(buffer, body, theme, session, view, (typed, *cursor)),
        Mode::Walk(walking) => walk::draw(buffer, body, theme, session, view, walking),
        Mode::Farms { cursor } => today::farms(buffer, body, theme, session, view, *cursor),
        Mode::Crush(_) | Mode::SignOff { .. } => crush::draw(buffer, area, theme, session, view),
        Mode::Pad { .. } | Mode::Text { .. } if session.crush.is_some() => {
            crush::draw(buffer, area, theme, session, view);
        }
        Mode::Pad { .. } | Mode::Text { .. } => pad::draw(&mut Page::new(buffer, body, theme), session, view),
        Mode::Card { cursor, .. } => farm_card::draw(buffer, body, theme, session, view, *cursor),
        Mode::Herd { page, cursor, .. } => herd::draw(buffer, body, theme, session, view, (page, *cursor)),
        Mode::Due { cursor, only, .. } => due::draw(buffer, body, theme, session, view, (*cursor, *only)),
        Mode::Ring { lines, cursor, .. } => ring::draw(buffer, body, theme, session, view, (lines, *cursor)),
        Mode::Last { back, top, .. } => last::draw(buffer, area, theme, session, view, (*back, *top)),
        Mode::Always { top, .. } => always::draw(&mut Page::new(buffer, body, theme), session, view, *top),
        Mode::Paper { pages, page, .. } => {
            lists::paper(&mut Page::new(buffer, body, theme), session, view, (pages, *page))
        }
        Mode::Totals { totals, visit, .. } => {
            lists::totals(&mut Page::new(buffer, body, theme), session, (totals, visit.as_deref()), view);
        }
        Mode::Help { top, under } => lists::help(buffer, body, theme, session, view, (under, *top)),
    }
    frame::header(buffer, area, theme, session, view);
    frame::footer(buffer, area, theme, session, view);
}

/// No room for any screen: the size it takes, and an unsaved press all the same.
fn too_small(page: &mut Page<'_>, area: Rect, session: &Session, view: &View<'_>) {
    let (cols, rows) = Layout::LEAST;
    if let Some(notice @ Notice::NotSaved(_)) = &session.notice {
        page.line(&words::notice(session, view, notice), Role::Label(Tone::Alarm));
    }
    let text = format!("needs {cols}x{rows}, is {}x{}; undo and leave still work", area.width, area.height);
    page.line(&text, Role::Strong);
}
