//! The field that is typed in, and help.

use crate::domain::totals::Totals;
use crate::domain::visit_sum::VisitSum;
use crate::keys::context::Context;
use crate::keys::help;
use crate::keys::intent::Intent;
use crate::report::day_line::close;
use crate::report::safe::{column, safe};
use crate::report::totals::lines;
use crate::report::visit::lines as of_visit;
use crate::screen::View;
use crate::screen::page::{Page, wrapped};
use crate::screen::theme::{Role, Theme};
use crate::screen::words as says;
use crate::session::Session;
use crate::session::mode::Mode;
use crate::session::touch::Target;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use unicode_width::UnicodeWidthStr;

/// Rows of the field that is typed in, below what it is for.
pub const TEXT_ROWS: usize = 4;

/// Draws the field that is typed in.
pub fn text(page: &mut Page<'_>, typed: &str, view: &View<'_>) {
    // The end of a long text is what is being typed.
    let room = usize::from(page.width()).saturating_sub(4);
    let skip = typed.chars().count().saturating_sub(room);
    let shown: String = typed.chars().skip(skip).collect();
    page.label(&format!(" {shown}_ "), Role::Picked);
    page.skip(1);
    for (intent, word) in [(Intent::GoOn, "keeps it"), (Intent::Back, "erases")] {
        let key = view.keymap.keys_for(Context::Text, intent).into_iter().next().unwrap_or_default();
        let text = format!("{key} {word}");
        view.note(page.ahead(0, text.len(), 1), Target::Wish(intent));
        page.line(&text, Role::Grey);
    }
}

/// Draws what the visit adds up to.
pub fn totals(page: &mut Page<'_>, session: &Session, (totals, visit): (&Totals, Option<&VisitSum>), view: &View<'_>) {
    let farm = session.farm.as_ref().map_or("", |farm| farm.name.as_str());
    page.line(&format!("TODAY AT {}", safe(farm)), Role::Strong);
    for line in lines(totals, says::of(session)) {
        page.line(&line, Role::Text);
    }
    for line in visit.map(of_visit).unwrap_or_default() {
        // Its columns stay where it has room.
        let whole = line.width() <= usize::from(page.width());
        let parts = if whole { vec![line] } else { wrapped(&line, usize::from(page.width())) };
        parts.iter().for_each(|part| page.line(part, Role::Text));
    }
    page.skip(1);
    let width = usize::from(page.width());
    let backup = says::backup_state(session, view).map_or(Vec::new(), |state| wrapped(&state, width));
    let below = if backup.is_empty() { 0 } else { backup.len() + 1 };
    let mut day: Vec<String> = close(session.day.list(), session.rule_set(), session.visits.now)
        .iter()
        .flat_map(|line| wrapped(line, width))
        .collect();
    let room = usize::from(page.left()).saturating_sub(below);
    if day.len() > room {
        day.truncate(room.saturating_sub(1));
        day.push("... Today has all of them".to_owned());
    }
    day.iter().for_each(|line| page.line(line, Role::Text));
    page.skip(u16::from(!backup.is_empty()));
    backup.iter().for_each(|line| page.line(line, Role::Grey));
}

/// Draws one page of the take-off list, and nothing beside it: it is photographed.
pub fn paper(page: &mut Page<'_>, session: &Session, view: &View<'_>, (pages, shown): (&[Vec<String>], usize)) {
    match pages.get(shown) {
        Some(lines) => {
            for line in lines {
                page.line(line, Role::Text);
            }
        }
        None => page.line("nothing is to come off", Role::Text),
    }
    if shown + 1 < pages.len() {
        let key = view.keymap.keys_for(session.mode.context(), Intent::Down).into_iter().next().unwrap_or_default();
        page.line(&format!("{key}: the next page"), Role::Grey);
    }
}

/// Draws help for where the hands were.
pub fn help(
    buffer: &mut Buffer,
    area: Rect,
    theme: Theme,
    session: &Session,
    view: &View<'_>,
    (under, top): (&Mode, usize),
) {
    let mut page = Page::new(buffer, area, theme);
    let context = under.context();
    page.line(&format!("KEYS: {}", says::of(session).fill(context.words())), Role::Strong);
    let rows: Vec<(Vec<String>, String)> = help::rows(view.keymap, context)
        .into_iter()
        .map(|row| (together(&row.keys), says::of(session).fill(row.words)))
        .collect();
    let (room, width) = (usize::from(page.left()), usize::from(page.width()));
    let whole = broken(&rows, width);
    // In two columns where one is too long and both have room.
    let (lines, columns) = match whole.len() > room && width >= TWO_COLUMNS {
        true => (broken(&rows, width / 2 - 1), 2),
        false => (whole, 1),
    };
    let top = top.min(lines.len().saturating_sub(room * columns));
    let shown = &lines[top..];
    for row in 0..room.min(shown.len()) {
        let mut pieces: Vec<(String, Role)> = Vec::new();
        for column_at in 0..columns {
            let Some((keys, words)) = shown.get(row + column_at * room) else { continue };
            pieces.push((column(keys, KEYS), if keys.is_empty() { Role::Text } else { Role::Key }));
            pieces.push((column(&format!(" {words}"), width / columns - KEYS), Role::Text));
        }
        page.pieces(&pieces.iter().map(|(text, role)| (text.as_str(), *role)).collect::<Vec<_>>());
    }
}

/// Columns of the keys.
const KEYS: usize = 18;
/// Columns from which help stands in two.
const TWO_COLUMNS: usize = 110;

/// Keys in lines of their column. None is left out, and no sequence torn.
fn together(keys: &[String]) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for key in keys {
        match lines.last_mut() {
            Some(line) if line.width() + 2 + key.width() <= KEYS => {
                line.push_str("  ");
                line.push_str(key);
            }
            Some(_) | None => lines.push(key.clone()),
        }
    }
    lines
}

/// Help in lines of that width: keys and words, both whole.
fn broken(rows: &[(Vec<String>, String)], width: usize) -> Vec<(String, String)> {
    let mut lines = Vec::new();
    for (keys, words) in rows {
        let words = wrapped(words, width.saturating_sub(KEYS + 2));
        for at in 0..keys.len().max(words.len()) {
            let of = |part: &[String]| part.get(at).cloned().unwrap_or_default();
            lines.push((of(keys), of(&words)));
        }
    }
    lines
}
