//! Last time: an earlier turn's map beside today's where there is room, and what was said then.

use crate::claw_map::layout::Layout;
use crate::claw_map::marks::Marks;
use crate::claw_map::picture::View as Turned;
use crate::domain::anatomy::Foot;
use crate::domain::disagreement;
use crate::domain::history::Turn;
use crate::domain::vocabulary::Vocabulary;
use crate::keys::context::Context;
use crate::keys::intent::Intent;
use crate::report::words::{self, Words};
use crate::report::{self, marks};
use crate::screen::claws::Claws;
use crate::screen::page::{Page, wrapped};
use crate::screen::theme::{Role, Theme};
use crate::screen::{View, facts, words as says};
use crate::session::Session;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

/// Columns of four feet at the size that fits twice.
const MAP: u16 = 41;
/// Columns from which two maps and words fit side by side.
const TWO_MAPS: u16 = 108;

/// Draws it.
pub fn draw(buffer: &mut Buffer, area: Rect, theme: Theme, session: &Session, view: &View<'_>, back: usize) {
    let Some(crush) = &session.crush else { return };
    let earlier: Vec<&Turn> = crush.history.turns.iter().take_while(|turn| turn.id != crush.turn).collect();
    let Some(turn) = earlier.iter().rev().nth(back) else {
        let body = Rect { y: area.y + 1, height: area.height.saturating_sub(2), ..area };
        Page::new(buffer, body, theme).line("no earlier turn of hers is known", Role::Strong);
        return;
    };
    let words = says::of(session);
    let then = marks::as_it_was(turn, words);
    let two = area.width >= TWO_MAPS;
    // Two maps stand in the layout of a screen too narrow for the large one.
    let width = if two { MAP * 2 } else { area.width };
    let mut text = map(buffer, Rect { width, ..area }, theme, &then);
    if let (true, Some((crush, now))) = (two, session.turn()) {
        let today = marks::under_way(&crush.history, now, &session.rules, session.today, None, words);
        let right = Rect { x: area.x + MAP, width, ..area };
        text = map(buffer, right, theme, &today);
        text.width = area.right() - text.x;
    }
    let mut page = Page::new(buffer, text.intersection(area), theme);
    if two {
        page.line("LEFT: LAST TIME   RIGHT: TODAY", Role::Strong);
    } else {
        page.line("LAST TIME", Role::Strong);
    }
    let days = (session.today - turn.on).num_days();
    page.line(words::day(turn.on).as_str(), Role::Strong);
    page.line(&format!("{days} days ago, {} of {}", back + 1, earlier.len()), Role::Strong);
    for line in facts::told(turn, None, words).into_iter().chain(not_looked(turn, words)) {
        page.line(&line, Role::Text);
    }
    let differ = disagreement::of(&crush.history).into_iter().filter(|differ| differ.on == turn.on);
    for differ in differ {
        for part in wrapped(&report::disagreement::line(&differ, words), usize::from(page.width())) {
            page.line(&part, Role::Strong);
        }
    }
    page.skip(1);
    let key = |intent| view.keymap.keys_for(Context::List, intent).into_iter().next().unwrap_or_default();
    page.line(&format!("{} older  {} newer", key(Intent::Older), key(Intent::Newer)), Role::Grey);
}

/// Draws a map and gives back the room for words beside it.
fn map(buffer: &mut Buffer, area: Rect, theme: Theme, marks: &Marks) -> Rect {
    let layout = Layout::for_screen(area.width, area.height, None, Turned::ToeDown);
    let Some(map) = layout.map() else { return area };
    Claws { layout: map, marks, theme }.render(area, buffer);
    let room = map.text;
    Rect { x: area.x + room.col, y: area.y + room.row, width: room.cols, height: room.rows }
}

fn not_looked(turn: &Turn, words: Words) -> Option<String> {
    let feet: Vec<&str> = Foot::ALL
        .iter()
        .zip(turn.looks)
        .filter(|(_, look)| look.is_none_or(|look| !look.lifted))
        .map(|(foot, _)| words.foot(*foot))
        .collect();
    (!feet.is_empty()).then(|| format!("not looked at: {}", feet.join(" ")))
}
