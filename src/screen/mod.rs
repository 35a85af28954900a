//! How it looks. Reads, never writes; what it needs is in the session.
//!
//! Row 0 says who and where, the last row what was saved; between them is one screen a mode.

pub mod claws;
pub mod crush;
pub mod lists;
pub mod pad;
mod page;
pub mod theme;
pub mod today;
pub mod words;

use crate::claw_map::layout::Layout;
use crate::claw_map::marks::Tone;
use crate::domain::follow_up::list;
use crate::domain::history::TurnState;
use crate::domain::record::Moment;
use crate::keys::keymap::Keymap;
use crate::report::words::Region;
use crate::session::mode::Mode;
use crate::session::{Notice, Session};
use page::Page;
use ratatui::Frame;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use theme::{Colour, Role, Theme};

/// What drawing needs besides the session.
#[derive(Debug, Clone, Copy)]
pub struct View<'a> {
    /// Keys, for pad and help.
    pub keymap: &'a Keymap,
    /// The clock.
    pub now: Moment,
    /// Whether colours are wanted.
    pub colour: Colour,
    /// Words of this region.
    pub region: Region,
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
    let _ = Page::new(buffer, area, theme);
    let (cols, rows) = Layout::LEAST;
    if area.width < cols || area.height < rows {
        let text = format!("needs {cols}x{rows}, is {}x{}; undo and leave still work", area.width, area.height);
        Page::new(buffer, area, theme).line(&text, Role::Strong);
        return;
    }
    // The map's layouts count from the header's row, so the body keeps it as a blank first row.
    let body = Rect { y: area.y + 1, height: area.height - 2, ..area };
    match &session.mode {
        Mode::Today { typed, cursor } => today::draw(buffer, body, theme, session, view, (typed, *cursor)),
        Mode::Farms { cursor } => today::farms(buffer, body, theme, session, *cursor),
        Mode::Crush(_) | Mode::SignOff { .. } => crush::draw(buffer, area, theme, session, view),
        Mode::Pad { .. } if session.crush.is_some() => crush::draw(buffer, area, theme, session, view),
        Mode::Pad { .. } => pad::draw(buffer, body, theme, session, view.keymap),
        Mode::Due { cursor, .. } => lists::due(buffer, body, theme, session, *cursor),
        Mode::Last { back, .. } => lists::last(buffer, area, theme, session, *back),
        Mode::Text { what, text, .. } => lists::text(buffer, body, theme, what, text),
        Mode::Help { top, under } => lists::help(buffer, body, theme, view, under, *top),
    }
    header(buffer, area, theme, session, view);
    footer(buffer, area, theme, session, view);
}

fn header(buffer: &mut Buffer, area: Rect, theme: Theme, session: &Session, view: &View<'_>) {
    let row = Rect { height: 1, ..area };
    let farm = session.farm.as_ref().map_or("no farm", |farm| farm.name.as_str());
    let day = session.today.format("%-d %b").to_string();
    let text = match &session.crush {
        Some(crush) => {
            let labels = &crush.history.labels;
            let number = if labels.number.is_empty() { "no number" } else { &labels.number };
            let done = session.herd.iter().filter(|line| matches!(line.turn, Some((_, TurnState::Signed)))).count();
            let listed = session.herd.iter().filter(|line| line.left.is_none()).count();
            format!(" {number} {}  {farm}  {day}  animal {} of {listed}", labels.name, done + 1)
        }
        None => format!(" {farm}  {day}"),
    };
    let loud = list(&session.open, &session.rules, session.today).iter().filter(|item| item.is_loud()).count();
    Page::new(buffer, row, theme).line(&text, Role::Bar);
    if loud > 0 {
        right(buffer, row, theme, &format!(" {loud} LATE "), Role::Label(Tone::Alarm));
    } else {
        right(buffer, row, theme, &format!(" {} ", view.now.format("%H:%M")), Role::Bar);
    }
}

fn footer(buffer: &mut Buffer, area: Rect, theme: Theme, session: &Session, view: &View<'_>) {
    let row = Rect { y: area.bottom() - 1, height: 1, ..area };
    let role = match &session.notice {
        Some(Notice::NotSaved(_)) => Role::Label(Tone::Alarm),
        Some(Notice::Spelled(_)) => Role::Label(Tone::Warn),
        Some(Notice::Refused(_) | Notice::Words(_)) => Role::Strong,
        Some(Notice::Saved { .. }) | None => Role::Bar,
    };
    let text = match &session.notice {
        Some(notice) => format!(" {}", words::notice(notice)),
        None if session.pending.is_empty() => hints(session, view),
        None => format!(" {} ...", session.pending.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ")),
    };
    Page::new(buffer, row, theme).line(&text, role);
}

/// The few keys that are always worth knowing, from the one table.
fn hints(session: &Session, view: &View<'_>) -> String {
    use crate::keys::intent::Intent;
    let context = session.mode.context();
    [Intent::GoOn, Intent::Back, Intent::Undo, Intent::Last, Intent::Due, Intent::Help, Intent::Leave]
        .into_iter()
        .filter_map(|intent| {
            let row = crate::keys::table::row_in(context, intent)?;
            let key = view.keymap.keys_for(context, intent).into_iter().next()?;
            Some(format!(" {key} {}", row.short))
        })
        .collect::<Vec<_>>()
        .join(" ")
}

fn right(buffer: &mut Buffer, row: Rect, theme: Theme, text: &str, role: Role) {
    let width = text.chars().count() as u16;
    let area = Rect { x: row.right().saturating_sub(width), width: width.min(row.width), ..row };
    Page::new(buffer, area, theme).line(text, role);
}
