//! The card of the farm in hand: every line whole, the one picked always among them.

use crate::domain::farm_card::Line;
use crate::domain::follow_up::{Urgency, review};
use crate::report::farm::{By, line};
use crate::report::safe::{column, safe};
use crate::screen::pad::Plan;
use crate::screen::page::{Page, wrapped};
use crate::screen::theme::{Role, Theme};
use crate::screen::{View, crush, words as says};
use crate::session::Session;
use crate::session::farm_card::lines;
use crate::session::touch::Target;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

/// Columns of what a line is about.
const ABOUT: usize = 13;

/// A line in rows of the screen.
struct Rows {
    about: String,
    parts: Vec<String>,
    role: Role,
}

/// Draws it.
pub fn draw(buffer: &mut Buffer, area: Rect, theme: Theme, session: &Session, view: &View<'_>, cursor: usize) {
    let mut page = Page::new(buffer, area, theme);
    let Some(card) = &session.card else { return };
    page.line(&format!("CARD OF {}", safe(&card.name)), Role::Strong);
    let plan = Plan::of(session, view, area.width, page.left() / 3, 0);
    let room = usize::from(page.left().saturating_sub(plan.height())).max(1);
    let columns = usize::from(page.width()).saturating_sub(ABOUT + 3);
    let by = (session.rules.of(card.farm), session.today, says::of(session));
    let all: Vec<Rows> = lines(session).into_iter().map(|one| rows(session, one, by, columns)).collect();
    let height = |rows: &Rows| rows.parts.len();
    let heights: Vec<usize> = all.iter().map(height).collect();
    let (top, end) = shown(&heights, cursor, room);
    // Where not all have room, a row says how many are left.
    let (top, end) = if end < all.len() && room > 1 { shown(&heights, cursor, room - 1) } else { (top, end) };
    let mut left = room;
    for (index, rows) in all.iter().enumerate().take(end).skip(top) {
        let shown = height(rows).min(left);
        view.note(page.ahead(0, usize::from(page.width()), shown), Target::Line(index));
        let picked = index == cursor;
        for (row, part) in rows.parts.iter().take(shown).enumerate() {
            let about = if row == 0 { rows.about.as_str() } else { "" };
            let mark = if picked && row == 0 { ">" } else { " " };
            let head = format!("{mark} {} ", column(about, ABOUT));
            let role = if picked { Role::Picked } else { Role::Text };
            page.pieces(&[(&head, role), (part, if picked { Role::Picked } else { rows.role })]);
        }
        left -= shown;
    }
    if let (more @ 1.., 1..) = (all.len().saturating_sub(end), left) {
        let lines = if more == 1 { "line" } else { "lines" };
        page.line(&format!("... {more} more {lines}"), Role::Strong);
        left -= 1;
    }
    page.skip(u16::try_from(left).unwrap_or(0));
    plan.draw(&mut page, session, view);
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

fn rows(session: &Session, one: Line, by: By<'_>, columns: usize) -> Rows {
    let Some(card) = &session.card else { return Rows { about: String::new(), parts: Vec::new(), role: Role::Text } };
    let (about, said) = line(card, one, by);
    let role = match one {
        Line::Standing(at) => match card.given.standing.get(at).map(|one| review::due(by.0, one, by.1).urgency) {
            None | Some(Urgency::Coming) => Role::Text,
            Some(urgency) => Role::Label(crush::tone(urgency)),
        },
        Line::Give => Role::Strong,
        Line::Was(_, _) | Line::Ended(_) | Line::Looked(_) => Role::Grey,
        Line::GivenUp | Line::Fact(_) | Line::Animals | Line::Rules | Line::Differs(_) | Line::Heard(_) => Role::Text,
    };
    let mut parts = wrapped(&said, columns);
    if parts.is_empty() {
        parts.push(String::new());
    }
    Rows { about, parts, role }
}
