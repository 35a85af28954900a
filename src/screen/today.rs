//! Today and the farms: who comes next.

use crate::claw_map::marks::Tone;
use crate::domain::follow_up::list::loud;
use crate::keys::context::Context;
use crate::keys::intent::Intent;
use crate::report::day_line;
use crate::report::day_list::farm_call;
use crate::report::safe::{column, safe, whole};
use crate::report::twice as report;
use crate::screen::crush::tone;
use crate::screen::page::{Page, wrapped};
use crate::screen::theme::{Role, Theme};
use crate::screen::{View, day_list, figures, instruct, pad, visit, words as says};
use crate::session::Session;
use crate::session::amend::twice::offered;
use crate::session::lists::reviews;
use crate::session::mode::Only;
use crate::session::today::shown;
use crate::session::touch::Target;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use unicode_width::UnicodeWidthStr;

/// Rows of the number and the pad beside it.
const TOP: u16 = 6;
/// Rows of what the farm called.
const CALL_ROWS: usize = 2;
/// Columns of the pad, at least and at most.
const PAD: (u16, u16) = (20, 40);

/// Draws Today.
pub fn draw(
    buffer: &mut Buffer,
    area: Rect,
    theme: Theme,
    session: &Session,
    view: &View<'_>,
    (typed, cursor): (&str, usize),
) {
    let beside = (area.width / 3).clamp(PAD.0, PAD.1);
    let top = Rect { height: TOP.min(area.height), ..area };
    number(&mut Page::new(buffer, Rect { width: area.width - beside - 1, ..top }, theme), typed);
    let keys = Rect { x: top.right() - beside, width: beside, ..top };
    pad::draw(&mut Page::new(buffer, keys, theme), session, view);
    let mut page = Page::new(buffer, Rect { y: top.bottom(), height: area.height - top.height, ..area }, theme);
    let lines = shown(session, typed);
    faults(&mut page, session);
    backup(&mut page, session, view);
    if let Some(number) = moving(session) {
        page.label(&format!(" not {number}: type her real number "), Role::Label(Tone::Alarm));
        page.line("what is written goes with her", Role::Text);
    }
    let key = |intent| view.keymap.keys_for(Context::Today, intent).into_iter().next().unwrap_or_default();
    if !typed.is_empty() && lines.is_empty() {
        let (typed, how) = (safe(typed), key(if session.newcomers().is_some() { Intent::GoOn } else { Intent::Add }));
        page.label(&format!(" {typed} is not in this herd: {how} adds her "), Role::Label(Tone::Warn));
    }
    if let Some(line) = lines.iter().find(|line| line.earlier.iter().any(|number| number == typed) && !typed.is_empty())
    {
        let text = format!(" {} is now {} ", safe(typed), safe(&line.labels.number));
        page.label(&text, Role::Label(Tone::Note));
    }
    if typed.is_empty() {
        twice(&mut page, session, &key(Intent::Twice));
    }
    if typed.is_empty() {
        instructions(&mut page, session, &key(Intent::Farm));
    }
    if let Some(group) = session.newcomers() {
        let text = format!(" unknown numbers are new, group {}: {} ends it ", safe(group), key(Intent::Newcomers));
        page.label(&text, Role::Label(Tone::Note));
    }
    if let Some(note) = session.farm.as_ref().map(|farm| &farm.note).filter(|note| !note.is_empty()) {
        let note = wrapped(&format!("note: {}", safe(note)), usize::from(page.width()));
        note.iter().for_each(|row| page.line(row, Role::Grey));
    }
    if typed.is_empty() {
        farm_calls(&mut page, session);
    }
    if typed.is_empty() {
        still_here(&mut page, session, &key(Intent::Left));
    }
    day_list::draw(&mut page, session, view, &lines, (typed, cursor));
}

/// What the farm called about itself since the last visit, until this one is begun: the newest first.
fn farm_calls(page: &mut Page<'_>, session: &Session) {
    let Some(first) = session.calls().next() else { return };
    let room = usize::from(page.width()).saturating_sub(2);
    let mut lines = wrapped(&farm_call(first), room);
    if lines.len() > CALL_ROWS {
        lines.truncate(CALL_ROWS);
        let last = lines.pop().unwrap_or_default();
        lines.push(format!("{}...", whole(&last, room - 3)));
    }
    let role = Role::Label(if first.urgent { Tone::Alarm } else { Tone::Warn });
    lines.iter().for_each(|line| page.label(&format!(" {line} "), role));
    match session.calls().count() {
        0 | 1 => {}
        count => page.line(&format!("and {} earlier: the list of the day on paper has all", count - 1), Role::Grey),
    }
}

/// What is wrong with the user's files: the first in words, the rest as a number.
fn faults(page: &mut Page<'_>, session: &Session) {
    let Some(first) = session.faults.first() else { return };
    for part in wrapped(&safe(first), usize::from(page.width()).saturating_sub(2)) {
        page.label(&format!(" {part} "), Role::Label(Tone::Warn));
    }
    if session.faults.len() > 1 {
        page.line(&format!("and {} more problems", session.faults.len() - 1), Role::Grey);
    }
}

/// What is to be said about backups.
fn backup(page: &mut Page<'_>, session: &Session, view: &View<'_>) {
    let Some((text, tone)) = says::backup(session, view) else { return };
    for part in wrapped(&text, usize::from(page.width()).saturating_sub(2)) {
        page.label(&format!(" {part} "), Role::Label(tone));
    }
}

/// What may be in the book twice: the first in words, the rest as a number.
fn twice(page: &mut Page<'_>, session: &Session, key: &str) {
    let mut offered = offered(session);
    let Some(first) = offered.next() else { return };
    let more = match offered.count() {
        0 => String::new(),
        count => format!(", {count} more"),
    };
    page.label(&format!(" {}{more}: {key} shows them ", report::short(first)), Role::Label(Tone::Note));
}

/// Which instruction of this farm is to be looked at again: the first in words, the rest as a number.
fn instructions(page: &mut Page<'_>, session: &Session, key: &str) {
    let due = reviews(session, Only::Farm);
    let Some(first) = due.first() else { return };
    let more = match due.len() - 1 {
        0 => String::new(),
        count => format!(", {count} more"),
    };
    let text = format!(" {}{more}: {key} ", instruct::due_of(session, first));
    page.label(&text, Role::Label(tone(first.due.urgency)));
}

/// How many may have left without a word, and the key that says so of one.
fn still_here(page: &mut Page<'_>, session: &Session, key: &str) {
    if let Some(asked) = day_line::asked(session.day.list(), session.rule_set()) {
        page.line(&format!("{asked} {key} says gone"), Role::Grey);
    }
}

/// Whose turn is to be moved, where the number was wrong.
fn moving(session: &Session) -> Option<String> {
    session.crush.as_ref().filter(|_| session.is_moving())?;
    Some(safe(&session.her_labels().number))
}

/// What is typed: in big figures where there is room, else in one line.
fn number(page: &mut Page<'_>, typed: &str) {
    match figures::fitted(typed, page.width().saturating_sub(1), page.left()) {
        Some(rows) => {
            for row in rows {
                page.label(&format!(" {row}"), Role::Strong);
            }
        }
        None => page.pieces(&[("NUMBER ", Role::Strong), (&format!(" {typed}_ "), Role::Picked)]),
    }
}

const CAUTION: &str = "a record and a reminder, no diagnosis: treatment, medicines and anaesthesia belong to the animal's vet \
                       and to local law";

/// Draws the farms.
pub fn farms(buffer: &mut Buffer, area: Rect, theme: Theme, session: &Session, view: &View<'_>, cursor: usize) {
    let mut page = Page::new(buffer, area, theme);
    faults(&mut page, session);
    backup(&mut page, session, view);
    let key = view.keymap.keys_for(Context::List, Intent::Twice).into_iter().next().unwrap_or_default();
    twice(&mut page, session, &key);
    page.line("WHICH FARM?", Role::Strong);
    for (index, farm) in session.farms.iter().enumerate() {
        let loud = loud(&session.open, Some(farm.id), &session.rules, session.today);
        view.note(page.ahead(0, usize::from(page.width()), 1), Target::Line(index));
        let role = if index == cursor { Role::Picked } else { Role::Text };
        let loud = if loud > 0 { format!("{loud} late or urgent") } else { String::new() };
        let stands = visit::stands(farm, session.today).map_or(String::new(), |text| format!(" {text}"));
        // The name gives way: the beginning of it still tells the farms apart.
        let room = usize::from(page.width()).saturating_sub(loud.width() + stands.width() + 3);
        let text = format!("{} {} ", if index == cursor { ">" } else { " " }, column(&farm.name, room.min(30)));
        page.pieces(&[(&text, role), (&loud, Role::Label(Tone::Alarm)), (&stands, Role::Text)]);
    }
    let new = cursor >= session.farms.len();
    view.note(page.ahead(0, usize::from(page.width()), 1), Target::Line(session.farms.len()));
    page.line(if new { "> new farm" } else { "  new farm" }, if new { Role::Picked } else { Role::Text });
    page.skip(1);
    for part in wrapped(CAUTION, usize::from(page.width())) {
        page.line(&part, Role::Grey);
    }
}
