//! Farms to ring: one farm after the other, what is on there and how long, and the answers on their keys.

use crate::domain::follow_up::due;
use crate::domain::follow_up::list::DueItem;
use crate::domain::history::open::OpenItem;
use crate::domain::ids::FarmId;
use crate::keys::context::Context;
use crate::keys::intent::Intent;
use crate::report::safe::{column, safe};
use crate::report::words;
use crate::screen::View;
use crate::screen::facts::on_line;
use crate::screen::page::Page;
use crate::screen::theme::{Role, Theme};
use crate::screen::{crush, words as says};
use crate::session::Session;
use crate::session::ring::{Call, is_answered, told, who};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

/// What the keys are.
pub const KEYS: [&str; 5] = [
    "1 all off, bare and felt   2 off, they say",
    "3 still on   4 off tonight   5 no answer about it",
    "9 the rest here all off and felt   0 nobody answers",
    "6 sold: new keeper told   7 swollen, smells or lamer",
    "8 farm given up",
];

/// A row: a farm's head, or a line of it.
enum Row {
    Farm(FarmId),
    Line(usize),
}

/// Draws them.
pub fn draw(
    buffer: &mut Buffer,
    area: Rect,
    theme: Theme,
    session: &Session,
    view: &View<'_>,
    (lines, cursor): (&[Call], usize),
) {
    let mut page = Page::new(buffer, area, theme);
    let open = lines.iter().filter(|call| !is_answered(session, call)).count();
    page.line(&format!("FARMS TO RING: {open} of {} to ask about", lines.len()), Role::Strong);
    if lines.is_empty() {
        page.line("nothing is on that is due: nobody to ring", Role::Text);
        return;
    }
    let rows = rows(lines);
    let room = usize::from(page.left()).saturating_sub(KEYS.len() + 1).max(1);
    let at = rows.iter().position(|row| matches!(row, Row::Line(index) if *index == cursor)).unwrap_or(0);
    let top = (at + 1).saturating_sub(room);
    for row in rows.iter().skip(top).take(room) {
        match row {
            Row::Farm(farm) => head(&mut page, session, *farm),
            Row::Line(index) => line(&mut page, session, &lines[*index], *index == cursor),
        }
    }
    let shown = rows.len().min(room);
    page.skip(u16::try_from(room - shown).unwrap_or(0));
    for keys in KEYS {
        page.line(keys, Role::Grey);
    }
    let key = view.keymap.keys_for(Context::Ring, Intent::GoOn).into_iter().next().unwrap_or_default();
    page.line(&format!("{key} say who answers"), Role::Grey);
}

fn rows(lines: &[Call]) -> Vec<Row> {
    let mut rows = Vec::new();
    for (index, call) in lines.iter().enumerate() {
        if index == 0 || lines[index - 1].farm != call.farm {
            rows.push(Row::Farm(call.farm));
        }
        rows.push(Row::Line(index));
    }
    rows
}

fn head(page: &mut Page<'_>, session: &Session, farm: FarmId) {
    let Some(line) = session.farms.iter().find(|line| line.id == farm) else { return };
    let phone = if line.phone.is_empty() { "no telephone number known" } else { &line.phone };
    let who = who(session, farm);
    let who = if who.is_empty() { String::new() } else { format!("  {} answers", safe(&who)) };
    page.line(&format!("{}  {}{who}", safe(&line.name), safe(phone)), Role::Strong);
}

fn line(page: &mut Page<'_>, session: &Session, call: &Call, picked: bool) {
    let words = says::of(session);
    let role = if picked { Role::Picked } else { Role::Text };
    let mark = if picked { ">" } else { " " };
    let Some((open, item)) = session.open.iter().find(|open| open.animal == call.animal).zip(told(session, call))
    else {
        page.line(&format!("{mark} off the list"), role);
        return;
    };
    let number = if open.labels.number.is_empty() { "-" } else { &open.labels.number };
    let head = format!("{mark} {} ", column(number, 6));
    let Some(due) = due(open, item, &session.rules, session.today) else { return };
    let item = DueItem { open, item, due };
    let state = format!(" {} ", column(words::urgency(due.urgency), 9));
    let what =
        format!(" {}  {}", column(&on_line(&item, (&session.rules, session.today), words), 28), answer(item.item));
    page.pieces(&[(&head, role), (&state, Role::Label(crush::tone(due.urgency))), (&what, role)]);
}

/// What was said of it, and when.
pub fn answer(item: &OpenItem) -> String {
    let OpenItem::On { knowing, told, trouble, .. } = item else { return String::new() };
    if let Some(on) = trouble {
        return format!("farm says swollen or lamer, {}", words::weekday(*on));
    }
    let said = words::knowing(*knowing);
    match told {
        Some((by, on)) if by.is_empty() => format!("{said}, {}", words::weekday(*on)),
        Some((by, on)) => format!("{said}, {} {}", safe(by), words::weekday(*on)),
        None => said.to_owned(),
    }
}
