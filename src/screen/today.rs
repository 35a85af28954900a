//! Today and the farms: who comes next.

use crate::claw_map::marks::Tone;
use crate::domain::follow_up::Urgency;
use crate::domain::follow_up::list::{loud, worst};
use crate::domain::herd::Status;
use crate::domain::history::TurnState;
use crate::domain::history::open::OpenItem;
use crate::keys::context::Context;
use crate::keys::intent::Intent;
use crate::report::safe::{column, safe};
use crate::report::twice as report;
use crate::report::words;
use crate::screen::crush::tone;
use crate::screen::facts::on_line;
use crate::screen::page::{Page, whole, wrapped};
use crate::screen::theme::{Role, Theme};
use crate::screen::{View, figures, instruct, pad, words as says};
use crate::session::amend::twice::offered;
use crate::session::lists::reviews;
use crate::session::mode::Only;
use crate::session::today::{picked, shown};
use crate::session::touch::Target;
use crate::session::{HerdLine, Session};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use unicode_width::UnicodeWidthStr;

/// Rows of the number and the pad beside it.
const TOP: u16 = 6;
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
        page.line(&format!("note: {}", safe(note)), Role::Grey);
    }
    let heads =
        if page.width() < 76 { "  number   state    why          " } else { "  number      state       why          " };
    page.line(&format!("{heads}{}", counts(session)), Role::Grey);
    let room = usize::from(page.left());
    let top = cursor.saturating_sub(room.saturating_sub(1));
    for (index, line) in lines.iter().enumerate().skip(top).take(room) {
        view.note(page.ahead(0, usize::from(page.width()), 1), Target::Line(index));
        herd_line(&mut page, session, line, picked(typed, cursor) == Some(index));
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

/// Whose turn is to be moved, where the number was wrong.
fn moving(session: &Session) -> Option<String> {
    let crush = session.crush.as_ref().filter(|_| session.is_moving())?;
    Some(safe(&crush.history.labels.number))
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

/// What tells her from others of her number: name, tag, electronic number, an earlier one.
fn apart(session: &Session, line: &HerdLine) -> Option<String> {
    let number = &line.labels.number;
    let same: Vec<&HerdLine> =
        session.herd.iter().filter(|other| other.left.is_none() && other.labels.number == *number).collect();
    let at = same.iter().position(|other| other.id == line.id).filter(|_| same.len() > 1 && !number.is_empty())?;
    let labels = &line.labels;
    let told = [("", &labels.name), ("tag ", &labels.tag), ("no. ", &labels.electronic)];
    let was = line.earlier.first().map(|was| format!("was {was}"));
    let told = told.iter().find(|(_, text)| !text.is_empty()).map(|(head, text)| format!("{head}{text}")).or(was);
    // With nothing on her to tell them apart, who was entered first.
    Some(safe(&told.unwrap_or_else(|| format!("{} of {}", at + 1, same.len()))))
}

fn herd_line(page: &mut Page<'_>, session: &Session, line: &HerdLine, picked: bool) {
    let in_crush = says::of(session).fill("in {crush}");
    let state = match (line.turn.map(|(_, state)| state), line.left, line.status) {
        (Some(TurnState::Signed), _, _) => "done",
        (Some(TurnState::Paused), _, _) => "WAITS",
        (Some(TurnState::Open), _, _) => in_crush.as_str(),
        (None, Some(_), _) => "gone",
        (None, None, Some(Status::Dry)) => "dry",
        (None, None, Some(Status::Heifer)) => "heifer",
        (None, None, Some(Status::InMilk | Status::Male) | None) => "",
    };
    let number = if line.labels.number.is_empty() { "no number" } else { &line.labels.number };
    let role = if picked { Role::Picked } else { Role::Text };
    let open = session.open.iter().find(|open| open.animal == line.id);
    let due = open
        .and_then(|open| worst(open, &session.rules, session.today))
        .filter(|item| item.due.urgency > Urgency::Coming);
    let narrow = page.width() < 76;
    let (of_number, of_state) = if narrow { (8, 8) } else { (11, 11) };
    // A number is never cut: half a number is another animal's.
    let number = safe(number);
    let number = column(&number, of_number.max(number.width()));
    let head = format!("{} {number} {} ", if picked { ">" } else { " " }, column(state, of_state));
    let apart = apart(session, line).map_or(String::new(), |text| format!("{text} "));
    match due {
        Some(item) => {
            let state = words::urgency(item.due.urgency);
            let words = says::of(session);
            let line = on_line(&item, (&session.rules, session.today), words);
            // A sign for the vet says so itself.
            let what = if matches!(item.item, OpenItem::Vet { .. }) {
                String::new()
            } else {
                format!("{}: ", words.what(item.due.what))
            };
            let room = usize::from(page.width()).saturating_sub(head.width() + apart.width() + 2);
            let full = format!("{state}  {what}{line}");
            let why = if full.width() <= room { full } else { whole(&format!("{state}  {line}"), room) };
            let why = format!(" {why} ");
            page.pieces(&[(&head, role), (&apart, role), (&why, Role::Label(tone(item.due.urgency)))]);
        }
        None => page.pieces(&[(&head, role), (&apart, role)]),
    }
}

/// How far the day is.
fn counts(session: &Session) -> String {
    let of = |wanted| session.herd.iter().filter(|line| line.turn.map(|(_, state)| state) == Some(wanted)).count();
    format!("{} done, {} waiting", of(TurnState::Signed), of(TurnState::Paused))
}

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
        let text = format!("{} {} ", if index == cursor { ">" } else { " " }, column(&farm.name, 30));
        if loud > 0 {
            page.pieces(&[(&text, role), (&format!("{loud} late or urgent"), Role::Label(Tone::Alarm))]);
        } else {
            page.pieces(&[(&text, role)]);
        }
    }
    let new = cursor >= session.farms.len();
    view.note(page.ahead(0, usize::from(page.width()), 1), Target::Line(session.farms.len()));
    page.line(if new { "> new farm" } else { "  new farm" }, if new { Role::Picked } else { Role::Text });
    page.skip(1);
    page.line("a record and a reminder, no diagnosis: treatment, medicines and", Role::Grey);
    page.line("anaesthesia belong to the animal's vet and to local law", Role::Grey);
}
