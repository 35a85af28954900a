//! The crush: the map, the words beside it, and the keys that count now.

use crate::claw_map::layout::{Layout, MapLayout};
use crate::claw_map::marks::Tone;
use crate::claw_map::picture::View as Turned;
use crate::domain::follow_up::Urgency;
use crate::report::marks;
use crate::screen::claws::Claws;
use crate::screen::instructed::Told;
use crate::screen::pad::Plan;
use crate::screen::page::Page;
use crate::screen::theme::{Role, Theme};
use crate::screen::{View, facts, figures, instructed, sign_off, words as says};
use crate::session::Session;
use crate::session::mode::{Hand, Mode};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

/// Rows that the pad leaves to what is known of her, on a screen of any size to speak of.
const FACTS: u16 = 5;

/// Draws the animal in the crush.
pub fn draw(buffer: &mut Buffer, area: Rect, theme: Theme, session: &Session, view: &View<'_>) {
    let Some((crush, turn)) = session.turn() else {
        Page::new(buffer, area, theme)
            .line(&says::of(session).fill("she is not in the {crush} any more: go back"), Role::Strong);
        return;
    };
    let hand = session.mode.hand().unwrap_or(Hand::DOWN);
    let layout = Layout::for_screen(area.width, area.height, hand.foot, Turned::ToeDown);
    let Some(map) = layout.map() else { return };
    let mut marks = marks::under_way(&crush.history, turn, &session.rules, session.today, hand.foot, says::of(session));
    marks.cursor = hand.place();
    let claws = Claws { layout: map, marks: &marks, theme };
    claws.render(area, buffer);
    if view.targets.is_some() {
        claws.note(area, &|area, target| view.note(area, target));
    }
    let room = map.text;
    let mut text =
        Rect { x: area.x + room.col, y: area.y + room.row, width: room.cols, height: room.rows }.intersection(area);
    text = with_number(buffer, text, theme, &crush.history.labels.number);
    if let Mode::SignOff { passed } = &session.mode {
        sign_off::draw(buffer, text, theme, session, passed, view);
        return;
    }
    let plan = Plan::of(session, view, text.width, text.height, FACTS.min(text.height / 4));
    let keys = plan.height().min(text.height);
    let facts = Rect { height: text.height - keys, ..text };
    let told = below(buffer, area, theme, (session, view), (map, hand));
    facts::draw(buffer, facts, theme, session, view, (hand, told));
    let pad_area = Rect { y: text.y + facts.height, height: keys, ..text };
    plan.draw(&mut Page::new(buffer, pad_area, theme), session, view);
}

/// Draws the standing instructions of the foot in hand below it, where all of them have room there.
fn below(
    buffer: &mut Buffer,
    area: Rect,
    theme: Theme,
    (session, view): (&Session, &View<'_>),
    (map, hand): (&MapLayout, Hand),
) -> Told {
    let room = map.below;
    if hand.foot.is_none() {
        return Told::Nothing;
    }
    let (columns, rows) = (usize::from(room.cols), usize::from(room.rows));
    let (lines, told) = instructed::below(session, view, hand, columns, rows);
    let rect = Rect { x: area.x + room.col, y: area.y + room.row, width: room.cols, height: room.rows };
    let mut page = Page::new(buffer, rect, theme);
    for (text, role) in &lines {
        match role {
            Role::Label(_) => page.label(&format!(" {text} "), *role),
            Role::Bar | Role::Text | Role::Strong | Role::Grey | Role::Picked | Role::Key => {
                page.line(&format!(" {text}"), *role);
            }
        }
    }
    told
}

/// Draws the number in big figures and gives back the room below them. They take a quarter of it at most; else the number
/// stands in the first row only.
fn with_number(buffer: &mut Buffer, area: Rect, theme: Theme, number: &str) -> Rect {
    let Some(rows) = figures::fitted(number, area.width, area.height / 4) else { return area };
    let mut page = Page::new(buffer, area, theme);
    for row in &rows {
        page.label(row, Role::Strong);
    }
    let used = u16::try_from(rows.len()).unwrap_or(area.height).min(area.height);
    Rect { y: area.y + used, height: area.height - used, ..area }
}

/// Loudness of an item.
pub fn tone(urgency: Urgency) -> Tone {
    match urgency {
        Urgency::Coming => Tone::Note,
        Urgency::Due => Tone::Warn,
        Urgency::Late | Urgency::Urgent => Tone::Alarm,
    }
}
