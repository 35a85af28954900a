//! Due, last time, text and help.

use crate::claw_map::layout::Layout;
use crate::claw_map::picture::View as Turned;
use crate::domain::follow_up::list;
use crate::domain::history::Turn;
use crate::keys::help;
use crate::report::safe::column;
use crate::report::{marks, words};
use crate::screen::View;
use crate::screen::claws::Claws;
use crate::screen::crush::{on_line, tone};
use crate::screen::page::Page;
use crate::screen::theme::{Role, Theme};
use crate::screen::words as says;
use crate::session::Session;
use crate::session::mode::{Mode, TextFor};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

/// Draws the due list of every farm, most urgent first.
pub fn due(buffer: &mut Buffer, area: Rect, theme: Theme, session: &Session, cursor: usize) {
    let mut page = Page::new(buffer, area, theme);
    let items = list(&session.open, &session.rules, session.today);
    page.line(&format!("DUE: {} items, most urgent first", items.len()), Role::Strong);
    let room = usize::from(page.left());
    let top = cursor.saturating_sub(room.saturating_sub(1));
    for (index, item) in items.iter().enumerate().skip(top).take(room) {
        let farm = session.farms.iter().find(|farm| farm.id == item.open.farm).map_or("", |farm| &farm.name);
        let mark = if index == cursor { ">" } else { " " };
        let knowing = item.knowing().map_or("", words::knowing);
        let head =
            format!("{mark} {} {} ", column(&item.open.labels.number, 7), column(words::what(item.due.what), 15));
        let state = format!(" {} ", column(words::urgency(item.due.urgency), 9));
        let tail = format!(" {} by {}  {knowing} {farm}", on_line(item, session), words::weekday(item.due.day));
        let role = if index == cursor { Role::Picked } else { Role::Text };
        page.pieces(&[(&head, role), (&state, Role::Label(tone(item.due.urgency))), (&tail, role)]);
    }
    if items.is_empty() {
        page.line("nothing is due", Role::Text);
    }
}

/// Draws an earlier turn: its map, and what was said then.
pub fn last(buffer: &mut Buffer, area: Rect, theme: Theme, session: &Session, back: usize) {
    let turn = session.crush.as_ref().and_then(|crush| {
        let earlier: Vec<&Turn> = crush.history.turns.iter().take_while(|turn| turn.id != crush.turn).collect();
        earlier.into_iter().rev().nth(back)
    });
    let Some(turn) = turn else {
        Page::new(buffer, area, theme).line("no earlier turn of hers is known", Role::Strong);
        return;
    };
    let layout = Layout::for_screen(area.width, area.height, None, Turned::ToeDown);
    let Some(map) = layout.map() else { return };
    Claws { layout: map, marks: &marks::as_it_was(turn), theme }.render(area, buffer);
    let text = Rect { x: area.x + map.text.col, y: area.y + map.text.row, width: map.text.cols, height: map.text.rows };
    let mut page = Page::new(buffer, text.intersection(area), theme);
    page.line("LAST TIME", Role::Strong);
    let days = (session.today - turn.on).num_days();
    page.line(&format!("{}, {days} days ago", words::day(turn.on)), Role::Strong);
    for line in crate::report::turn::lines(turn) {
        page.line(&line, Role::Text);
    }
    page.skip(1);
    page.line("older / newer, then back", Role::Grey);
}

/// Draws the field that is typed in.
pub fn text(buffer: &mut Buffer, area: Rect, theme: Theme, what: &TextFor, typed: &str) {
    let rows = Rect { height: 4.min(area.height), ..area };
    let mut page = Page::new(buffer, rows, theme);
    page.line(&says::prompt(what), Role::Strong);
    // The end of a long text is what is being typed.
    let room = usize::from(area.width).saturating_sub(4);
    let skip = typed.chars().count().saturating_sub(room);
    let shown: String = typed.chars().skip(skip).collect();
    page.label(&format!(" {shown}_ "), Role::Picked);
    page.line("Enter keeps it, back erases", Role::Grey);
}

/// Draws help for where the hands were.
pub fn help(buffer: &mut Buffer, area: Rect, theme: Theme, view: &View<'_>, under: &Mode, top: usize) {
    let mut page = Page::new(buffer, area, theme);
    let context = under.context();
    page.line(&format!("KEYS: {}", context.words()), Role::Strong);
    let rows = help::rows(view.keymap, context);
    let room = usize::from(page.left());
    let top = top.min(rows.len().saturating_sub(room));
    for row in rows.iter().skip(top).take(room) {
        let keys = column(&row.keys.join("  "), 18);
        page.pieces(&[(&keys, Role::Key), (" ", Role::Text), (row.words, Role::Text)]);
    }
}
