//! The card of the farm in hand: every line whole, the one picked always among them.

use crate::domain::farm_card::Line;
use crate::domain::follow_up::{Urgency, review};
use crate::report::farm::{By, line};
use crate::report::safe::safe;
use crate::screen::pad::Plan;
use crate::screen::page::Page;
use crate::screen::rows::{self, Rows};
use crate::screen::theme::{Role, Theme};
use crate::screen::{View, crush, words as says};
use crate::session::Session;
use crate::session::farm_card::lines;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

/// Columns of what a line is about.
const ABOUT: usize = 13;

/// Draws it.
pub fn draw(buffer: &mut Buffer, area: Rect, theme: Theme, session: &Session, view: &View<'_>, cursor: usize) {
    let mut page = Page::new(buffer, area, theme);
    let Some(card) = &session.card else { return };
    page.line(&format!("CARD OF {}", safe(&card.name)), Role::Strong);
    let plan = Plan::of(session, view, area.width, page.left() / 3, 0);
    let room = usize::from(page.left().saturating_sub(plan.height())).max(1);
    let columns = rows::beside(&page, ABOUT);
    let by = (session.rules.of(card.farm), session.today, says::of(session));
    let all: Vec<Rows> = lines(session).into_iter().map(|one| row(session, one, by, columns)).collect();
    rows::draw(&mut page, view, &all, cursor, (ABOUT, room));
    plan.draw(&mut page, session, view);
}

fn row(session: &Session, one: Line, by: By<'_>, columns: usize) -> Rows {
    let Some(card) = &session.card else { return Rows::new(String::new(), "", Role::Text, columns) };
    let (about, said) = line(card, one, by);
    let role = match one {
        Line::Standing(at) => match card.given.standing.get(at).map(|one| review::due(by.0, one, by.1).urgency) {
            None | Some(Urgency::Coming) => Role::Text,
            Some(urgency) => Role::Label(crush::tone(urgency)),
        },
        Line::Contact(at) if card.contacts.get(at).is_some_and(|known| known.now.gone) => Role::Grey,
        Line::Give | Line::TellContact => Role::Strong,
        Line::Was(_, _) | Line::ContactWas(_, _) | Line::Ended(_) | Line::Looked(_) => Role::Grey,
        Line::GivenUp
        | Line::Fact(_)
        | Line::Contact(_)
        | Line::Animals
        | Line::Rules
        | Line::Differs(_)
        | Line::Heard(_) => Role::Text,
    };
    Rows::new(about, &said, role, columns)
}
