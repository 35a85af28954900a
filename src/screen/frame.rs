//! First and last row, the same on every screen: who and where, what is late; what was saved, which keys help.

use crate::claw_map::marks::Tone;
use crate::domain::follow_up::list::loud;
use crate::keys::intent::Intent;
use crate::keys::table;
use crate::report::day_line;
use crate::report::safe::whole;
use crate::report::safe::{column, safe};
use crate::screen::View;
use crate::screen::page::Page;
use crate::screen::theme::{Role, Theme};
use crate::screen::words;
use crate::session::act::Ask;
use crate::session::mode::Mode;
use crate::session::touch::{Target, does};
use crate::session::{Notice, Session};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use unicode_width::UnicodeWidthStr;

/// Draws the first row.
pub fn header(buffer: &mut Buffer, area: Rect, theme: Theme, session: &Session, view: &View<'_>) {
    let row = Rect { height: 1, ..area };
    let loud = loud(&session.open, None, &session.rules, session.today);
    let (text, role) = match loud {
        // Nobody is to take it for today.
        _ if session.paper.is_some() => (format!(" {} ", words::paper(session)), Role::Label(Tone::Alarm)),
        0 => (format!(" {} ", view.now.format("%H:%M")), Role::Bar),
        _ => (format!(" {loud} LATE "), Role::Label(Tone::Alarm)),
    };
    let room = usize::from(row.width).saturating_sub(text.width());
    let mut facts = facts(session);
    let first = format!(" {} ", facts.remove(0)[0]);
    let rest = fitted(&facts, room.saturating_sub(first.width()));
    Page::new(buffer, row, theme).line("", Role::Bar);
    Page::new(buffer, row, theme).pieces(&[(&first, Role::Picked), (&column(&rest, room), Role::Bar)]);
    right(buffer, row, theme, &text, role);
}

/// What the first row says, the most needed first, each in full and then in fewer words.
fn facts(session: &Session) -> Vec<Vec<String>> {
    let only = |text: String| vec![text];
    let farm = session.farm.as_ref().map_or("no farm", |farm| farm.name.as_str()).to_owned();
    let day = session.today.format("%-d %b").to_string();
    if session.crush.is_none() {
        return [Some(safe(&farm)), recorder(session), Some(day)].into_iter().flatten().map(only).collect();
    }
    let labels = session.her_labels();
    let number = if labels.number.is_empty() { "no number" } else { &labels.number };
    let who = format!("{number} {}", labels.name).trim_end().to_owned();
    let stands = day_line::head(session.day.list(), whole_herd(session)).to_vec();
    let facts = [Some(only(safe(&who))), recorder(session).map(only), Some(stands)];
    facts.into_iter().flatten().chain([only(safe(&farm)), only(day)]).collect()
}

/// Where the whole herd is to come through: how many it is, and how many of them the visit is done with, on all its days.
fn whole_herd(session: &Session) -> Option<(usize, usize)> {
    session.visits.under_way().filter(|visit| visit.whole_herd == Some(true))?;
    let here = || session.herd.iter().filter(|line| line.left.is_none());
    Some((here().count(), here().filter(|line| session.stands(line).is_done()).count()))
}

/// Columns of the name of who records, with its word: room for it is left beside any number.
const RECORDER: usize = 16;

/// Who records, where more than one may: a name that is long ends in its first letters, so that it always stands there.
fn recorder(session: &Session) -> Option<String> {
    words::recorder(session).map(|name| whole(&format!("by {name}"), RECORDER))
}

/// As many facts as have room, each in the longest of its forms that has.
fn fitted(facts: &[Vec<String>], room: usize) -> String {
    facts.iter().fold(String::new(), |text, forms| {
        let longer = forms.iter().map(|form| format!("{text} {form} ")).find(|longer| longer.width() <= room);
        longer.unwrap_or(text)
    })
}

/// Draws the last row: keys of a sequence begun, a press that did not count, the last word, then the keys that help.
pub fn footer(buffer: &mut Buffer, area: Rect, theme: Theme, session: &Session, view: &View<'_>) {
    let row = Rect { y: area.bottom().saturating_sub(1), height: 1, ..area };
    let begun: String = session.pending.iter().map(|key| format!(" {key}")).collect();
    let begun = if begun.is_empty() { begun } else { format!("{begun} ...  ") };
    let said =
        session.notice.as_ref().map_or(String::new(), |notice| format!(" {} ", words::notice(session, view, notice)));
    let dropped = session.dropped.map_or(String::new(), |dropped| format!(" {} ", words::dropped(dropped)));
    Page::new(buffer, row, theme).line("", Role::Bar);
    let room = usize::from(row.width).saturating_sub(begun.width() + dropped.width() + said.width());
    let hints = hints(session, view, room);
    let wide: usize = hints.iter().map(|(text, _)| text.width()).sum();
    let mut left = usize::from(row.width).saturating_sub(wide);
    let role = session.notice.as_ref().map_or(Role::Bar, loudness);
    let blank = " ".repeat(room.saturating_sub(wide));
    let mut page = Page::new(buffer, row, theme);
    let mut pieces: Vec<(&str, Role)> =
        vec![(&begun, Role::Picked), (&dropped, Role::Label(Tone::Note)), (&said, role), (&blank, Role::Bar)];
    for (text, intent) in &hints {
        let target = Target::Wish(*intent);
        view.note(page.ahead(left, text.width(), 1), target);
        left += text.width();
        pieces.push((text, if session.selected == Some(target) { Role::Picked } else { Role::Bar }));
    }
    page.pieces(&pieces);
}

fn loudness(notice: &Notice) -> Role {
    match notice {
        Notice::NotSaved(_) => Role::Label(Tone::Alarm),
        Notice::Spelled(_) | Notice::Refused(_) | Notice::Saving => Role::Label(Tone::Warn),
        Notice::Words(_) | Notice::Saved { .. } => Role::Strong,
    }
}

/// Keys worth knowing here, from the one table, as many as have room. Where taps count, a list has to be walked by them too.
fn hints(session: &Session, view: &View<'_>, room: usize) -> Vec<(String, Intent)> {
    let context = session.mode.context();
    let walk: &[Intent] = if session.taps { &[Intent::Up, Intent::Down, Intent::Older, Intent::Newer] } else { &[] };
    let asked: &[Intent] = match &session.mode {
        Mode::Pad { ask: Ask::About(_), .. } => &[Intent::TakeOff],
        _ => &[],
    };
    let wanted = [
        Intent::Help,
        Intent::GoOn,
        Intent::Undo,
        Intent::Back,
        Intent::Add,
        Intent::Visit,
        Intent::Last,
        Intent::Due,
        Intent::Leave,
    ];
    let mut hints: Vec<(String, Intent)> = Vec::new();
    let mut used = 0;
    for intent in asked.iter().chain(walk).chain(&wanted) {
        let Some(row) = table::row_in(context, *intent).filter(|_| does(session, *intent, &view.stamp(session))) else {
            continue;
        };
        let Some(key) = view.keymap.keys_for(context, *intent).into_iter().next() else { continue };
        let text = format!(" {key} {} ", words::wish(session, *intent, row.short));
        if used + text.width() <= room {
            used += text.width();
            hints.push((text, *intent));
        }
    }
    hints
}

fn right(buffer: &mut Buffer, row: Rect, theme: Theme, text: &str, role: Role) {
    let width = u16::try_from(text.width()).unwrap_or(row.width).min(row.width);
    let area = Rect { x: row.right() - width, width, ..row };
    Page::new(buffer, area, theme).line(text, role);
}
