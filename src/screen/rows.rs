//! Lines of what is known, each with what it is about: every line whole, the one picked always among them.

use crate::report::safe::column;
use crate::screen::View;
use crate::screen::page::{Page, wrapped};
use crate::screen::theme::Role;
use crate::session::touch::Target;

/// A line in rows of the screen.
pub struct Rows {
    about: String,
    parts: Vec<String>,
    role: Role,
}

impl Rows {
    /// A line, said in as many rows of so many columns as it takes.
    pub fn new(about: String, said: &str, role: Role, columns: usize) -> Rows {
        let mut parts = wrapped(said, columns);
        if parts.is_empty() {
            parts.push(String::new());
        }
        Rows { about, parts, role }
    }

    fn height(&self) -> usize {
        self.parts.len()
    }
}

/// Columns that are left for what is said, beside so many of what it is about.
pub fn beside(page: &Page<'_>, about: usize) -> usize {
    usize::from(page.width()).saturating_sub(head(about))
}

/// Columns of the mark of the line picked and of what a line is about.
fn head(about: usize) -> usize {
    if about == 0 { 2 } else { about + 3 }
}

/// Draws so many rows of the lines, with so many columns of what each is about, and leaves the rest of those rows free.
pub fn draw(page: &mut Page<'_>, view: &View<'_>, all: &[Rows], cursor: usize, (about, room): (usize, usize)) {
    let heights: Vec<usize> = all.iter().map(Rows::height).collect();
    let (top, end) = shown(&heights, cursor, room);
    // Where not all have room, a row says how many are left.
    let (top, end) = if end < all.len() && room > 1 { shown(&heights, cursor, room - 1) } else { (top, end) };
    let mut left = room;
    for (index, rows) in all.iter().enumerate().take(end).skip(top) {
        let shown = rows.height().min(left);
        view.note(page.ahead(0, usize::from(page.width()), shown), Target::Line(index));
        let picked = index == cursor;
        for (row, part) in rows.parts.iter().take(shown).enumerate() {
            let text = if row == 0 { rows.about.as_str() } else { "" };
            let mark = if picked && row == 0 { ">" } else { " " };
            let about = if about == 0 { String::new() } else { format!("{} ", column(text, about)) };
            let role = |role| if picked { Role::Picked } else { role };
            page.pieces(&[(&format!("{mark} {about}"), role(Role::Text)), (part, role(rows.role))]);
        }
        left -= shown;
    }
    if let (more @ 1.., 1..) = (all.len().saturating_sub(end), left) {
        let lines = if more == 1 { "line" } else { "lines" };
        page.line(&format!("... {more} more {lines}"), Role::Strong);
        left -= 1;
    }
    page.skip(u16::try_from(left).unwrap_or(0));
}

/// From which line to which so many rows show: the first is the nearest one before the line picked from which that one still has
/// room. A line is shown whole or not at all; only one longer than the screen is cut.
fn shown(heights: &[usize], cursor: usize, room: usize) -> (usize, usize) {
    let mut top = cursor.min(heights.len().saturating_sub(1));
    let mut used = heights.get(top).copied().unwrap_or(0);
    while top > 0 && used + heights[top - 1] <= room {
        top -= 1;
        used += heights[top];
    }
    let mut end = top + usize::from(!heights.is_empty());
    used = heights.get(top).copied().unwrap_or(0);
    while end < heights.len() && used + heights[end] <= room {
        used += heights[end];
        end += 1;
    }
    (top, end)
}
