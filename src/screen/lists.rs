//! The field that is typed in, and help.

use crate::domain::totals::Totals;
use crate::keys::context::Context;
use crate::keys::help::{self, HelpRow};
use crate::keys::intent::Intent;
use crate::report::safe::{column, safe};
use crate::report::totals::lines;
use crate::screen::View;
use crate::screen::page::{Page, wrapped};
use crate::screen::theme::{Role, Theme};
use crate::screen::words as says;
use crate::session::Session;
use crate::session::mode::{Mode, TextFor};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use unicode_width::UnicodeWidthStr;

/// Draws the field that is typed in.
pub fn text(page: &mut Page<'_>, session: &Session, what: &TextFor, typed: &str, view: &View<'_>) {
    page.line(&says::prompt(session, what), Role::Strong);
    // The end of a long text is what is being typed.
    let room = usize::from(page.width()).saturating_sub(4);
    let skip = typed.chars().count().saturating_sub(room);
    let shown: String = typed.chars().skip(skip).collect();
    page.label(&format!(" {shown}_ "), Role::Picked);
    page.skip(1);
    let key = |intent| view.keymap.keys_for(Context::Text, intent).into_iter().next().unwrap_or_default();
    page.line(&format!("{} keeps it", key(Intent::GoOn)), Role::Grey);
    page.line(&format!("{} erases", key(Intent::Back)), Role::Grey);
}

/// Draws what the visit adds up to.
pub fn totals(page: &mut Page<'_>, session: &Session, totals: &Totals, view: &View<'_>) {
    let farm = session.farm.as_ref().map_or("", |farm| farm.name.as_str());
    page.line(&format!("TODAY AT {}", safe(farm)), Role::Strong);
    for line in lines(totals, says::of(session)) {
        page.line(&line, Role::Text);
    }
    if let Some(state) = says::backup_state(session, view) {
        page.skip(1);
        for part in wrapped(&state, usize::from(page.width())) {
            page.line(&part, Role::Grey);
        }
    }
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
    let lines: Vec<(String, String)> =
        help::rows(view.keymap, context).iter().flat_map(|row| help_lines(row, session)).collect();
    let room = usize::from(page.left());
    let top = top.min(lines.len().saturating_sub(room));
    for (keys, words) in lines.iter().skip(top).take(room) {
        page.pieces(&[(&column(keys, HELP_KEYS), Role::Key), (" ", Role::Text), (words, Role::Text)]);
    }
}

/// Columns of the keys in help.
const HELP_KEYS: usize = 18;

/// A row of help: its words beside the first line of its keys. No key is left out, and no sequence torn.
fn help_lines(row: &HelpRow, session: &Session) -> Vec<(String, String)> {
    let mut lines: Vec<String> = Vec::new();
    for key in &row.keys {
        match lines.last_mut() {
            Some(line) if line.width() + 2 + key.width() <= HELP_KEYS => {
                line.push_str("  ");
                line.push_str(key);
            }
            Some(_) | None => lines.push(key.clone()),
        }
    }
    let words = std::iter::once(says::of(session).fill(row.words)).chain(std::iter::repeat(String::new()));
    lines.into_iter().zip(words).collect()
}
