//! Due, text and help.

use crate::domain::follow_up::list::list;
use crate::keys::context::Context;
use crate::keys::help;
use crate::keys::intent::Intent;
use crate::report::due as report;
use crate::report::safe::{column, safe};
use crate::report::words;
use crate::screen::View;
use crate::screen::crush::tone;
use crate::screen::facts::on_line;
use crate::screen::page::Page;
use crate::screen::theme::{Role, Theme};
use crate::screen::words as says;
use crate::session::Session;
use crate::session::mode::{Mode, TextFor};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

/// Rows kept for farms with looks that nobody saw to; further ones have to wait for room.
const FOLDED: usize = 4;

/// Draws the due list of every farm, most urgent first.
pub fn due(buffer: &mut Buffer, area: Rect, theme: Theme, session: &Session, cursor: usize) {
    let mut page = Page::new(buffer, area, theme);
    let words = says::of(session);
    let list = list(&session.open, &session.rules, session.today);
    let items = &list.items;
    page.line(&format!("DUE: {} items, most urgent first", items.len()), Role::Strong);
    let room = usize::from(page.left()).saturating_sub(list.unseen.len().min(FOLDED));
    let top = cursor.saturating_sub(room.saturating_sub(1));
    for (index, item) in items.iter().enumerate().skip(top).take(room) {
        let picked = index == cursor;
        let role = if picked { Role::Picked } else { Role::Text };
        let state = format!(" {}", column(words::urgency(item.due.urgency), 9));
        let number = &item.open.labels.number;
        let number = if number.is_empty() { "-" } else { number };
        let (on, what) = (on_line(item, session.today, words), words.what(item.due.what));
        let day = item.due.day.format("%-d %b").to_string();
        let farm = session.farms.iter().find(|farm| farm.id == item.open.farm).map_or("", |farm| &farm.name);
        let knowing = item.knowing().map_or("", words::knowing);
        let head = format!("{}{}", if picked { '>' } else { ' ' }, column(number, 6));
        let tail = format!(" {} {}", column(&what, 15), column(&on, 26));
        let rest = format!("  by {}  {}  {farm}", column(&day, 6), column(knowing, 17));
        page.pieces(&[(&head, role), (&state, Role::Label(tone(item.due.urgency))), (&tail, role), (&rest, role)]);
    }
    if items.is_empty() {
        page.line("nothing is due", Role::Text);
    }
    for (farm, unseen) in &list.unseen {
        let name = session.farms.iter().find(|line| line.id == *farm).map_or("", |line| &line.name);
        page.line(&format!("{}: {}", safe(name), report::unseen(*unseen)), Role::Grey);
    }
}

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
    let rows = help::rows(view.keymap, context);
    let room = usize::from(page.left());
    let top = top.min(rows.len().saturating_sub(room));
    for row in rows.iter().skip(top).take(room) {
        let keys = column(&row.keys.join("  "), 18);
        page.pieces(&[(&keys, Role::Key), (" ", Role::Text), (&says::of(session).fill(row.words), Role::Text)]);
    }
}
