//! The crush: the map, the words beside it, and the keys that count now.

use crate::claw_map::area::Area;
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
    let layout = match hand.foot.filter(|foot| instructed::covers(session, *foot)) {
        Some(foot) => Layout::to_read(area.width, area.height, foot, Turned::ToeDown),
        None => Layout::for_screen(area.width, area.height, hand.foot, Turned::ToeDown),
    };
    let Some(map) = layout.map() else { return };
    let (room, plan) = Room::fitted(map, area, session, view);
    if room.beside {
        let mut marks =
            marks::under_way(&crush.history, turn, &session.rules, session.today, hand.foot, says::of(session));
        marks.cursor = hand.place();
        let claws = Claws { layout: map, marks: &marks, theme };
        claws.render(area, buffer);
        if view.targets.is_some() {
            claws.note(area, &|area, target| view.note(area, target));
        }
    }
    let mut number = Page::new(buffer, room.number, theme);
    room.figures.iter().for_each(|row| number.label(row, Role::Strong));
    if let Mode::SignOff { passed } = &session.mode {
        sign_off::draw(buffer, room.text, theme, session, passed, view);
        return;
    }
    let told = match room.beside {
        true => below(buffer, area, theme, (session, view), (map, hand)),
        false => Told::Nothing,
    };
    facts::draw(buffer, room.facts, theme, session, view, (hand, told));
    plan.draw(&mut Page::new(buffer, room.pad, theme), session, view);
}

/// Where the number, the words and the pad stand.
struct Room {
    /// The number in big figures, row by row.
    figures: Vec<String>,
    number: Rect,
    /// Everything below it.
    text: Rect,
    facts: Rect,
    pad: Rect,
    /// Beside the map, or in its place.
    beside: bool,
}

impl Room {
    /// Beside the map; with a column more where only so the pad stands as the keys lie; else over the whole screen.
    fn fitted(map: &MapLayout, area: Rect, session: &Session, view: &View<'_>) -> (Room, Plan) {
        let (columns, from) = map.spare;
        let (room, plan) = Room::with(on_screen(map.text, area), on_screen(map.number, area), 0, session, view);
        if !plan.is_listed() {
            return (room, plan);
        }
        let (wider, as_keys) = Room::with(room.text, room.number, columns, session, view);
        if !as_keys.is_listed() && wider.pad.y >= area.y + from {
            return (wider, as_keys);
        }
        let body = Rect { y: area.y + 1, height: area.height.saturating_sub(2), ..area };
        let number = Rect { height: map.number.rows.min(body.height), ..body };
        let (mut whole, as_keys) = Room::with(body, number, 0, session, view);
        whole.beside = false;
        if as_keys.is_listed() { (room, plan) } else { (whole, as_keys) }
    }

    fn with(text: Rect, number: Rect, spare: u16, session: &Session, view: &View<'_>) -> (Room, Plan) {
        let figures = figures::fitted(&session.her_number(), number.width, number.height).unwrap_or_default();
        let used = u16::try_from(figures.len()).unwrap_or(number.height);
        let number = Rect { height: used, ..number };
        // Where the number stands above the small feet, the words keep their room.
        let used = if number.y == text.y { used } else { 0 };
        let text = Rect { y: text.y + used, height: text.height - used, ..text };
        let plan = Plan::of(session, view, text.width + spare, text.height, FACTS.min(text.height / 4));
        let keys = plan.height().min(text.height);
        let facts = Rect { height: text.height - keys, ..text };
        let pad = Rect { x: text.x - spare, y: facts.bottom(), width: text.width + spare, height: keys };
        (Room { figures, number, text, facts, pad, beside: true }, plan)
    }
}

/// An area of the map as a rectangle of the screen.
fn on_screen(room: Area, area: Rect) -> Rect {
    Rect { x: area.x + room.col, y: area.y + room.row, width: room.cols, height: room.rows }.intersection(area)
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
    let mut page = Page::new(buffer, on_screen(room, area), theme);
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

/// Loudness of an item.
pub fn tone(urgency: Urgency) -> Tone {
    match urgency {
        Urgency::Coming => Tone::Note,
        Urgency::Due => Tone::Warn,
        Urgency::Late | Urgency::Urgent => Tone::Alarm,
    }
}
