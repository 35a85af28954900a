//! The due list, most urgent first, with the map of the animal picked where there is room.

use crate::claw_map::layout::Layout;
use crate::claw_map::picture::View as Turned;
use crate::domain::follow_up::list::{DueItem, Unseen};
use crate::domain::follow_up::review::Review;
use crate::domain::ids::FarmId;
use crate::keys::context::Context;
use crate::keys::intent::Intent;
use crate::report::due as report;
use crate::report::marks;
use crate::report::safe::{column, cut, safe};
use crate::report::short::{short, within};
use crate::report::words;
use crate::screen::claws::Claws;
use crate::screen::crush::tone;
use crate::screen::pad::Plan;
use crate::screen::page::{Page, wrapped};
use crate::screen::theme::{Role, Theme};
use crate::screen::{View, instruct, words as says};
use crate::session::Session;
use crate::session::lists::{due, reviews};
use crate::session::mode::Only;
use crate::session::touch::Target;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;
use std::collections::BTreeSet;
use unicode_width::UnicodeWidthStr;

/// Rows kept for farms with looks that nobody saw to; further ones have to wait for room.
const FOLDED: usize = 4;
/// Columns of four feet at the size that stands beside a list.
const MAP: u16 = 41;
/// Columns from which the map stands beside the list.
const WITH_MAP: u16 = 118;

/// Draws the list.
pub fn draw(
    buffer: &mut Buffer,
    area: Rect,
    theme: Theme,
    session: &Session,
    view: &View<'_>,
    (cursor, only): (usize, Only),
) {
    let (list, again) = (due(session, only), reviews(session, only));
    let beside = area.width >= WITH_MAP;
    let body = if beside { Rect { width: area.width - MAP, ..area } } else { area };
    let mut page = Page::new(buffer, body, theme);
    let key = |intent| view.keymap.keys_for(Context::List, intent).into_iter().next().unwrap_or_default();
    let head = format!("DUE: {}, most urgent first", says::only(only, list.items.len() + again.len()));
    let keys = format!("  {} fewer or all", key(Intent::Only));
    view.note(page.ahead(head.width() + 2, keys.width() - 2, 1), Target::Wish(Intent::Only));
    page.pieces(&[(&head, Role::Strong), (&keys, Role::Grey)]);
    let farms = list.items.iter().map(|item| item.open.farm).chain(again.iter().map(|review| review.farm));
    let several = farms.collect::<BTreeSet<FarmId>>().len() > 1;
    let plan = Plan::of(session, view, body.width, page.left() / 2, 0);
    let below = again.len().min(FOLDED);
    let room = usize::from(page.left().saturating_sub(plan.height()));
    let room = room.saturating_sub(list.unseen.len().min(FOLDED) + below);
    let width = usize::from(page.width());
    let full = list.items.get(cursor).map_or(Vec::new(), |item| in_full(session, item, width, several));
    let room = room.saturating_sub(full.len()).max(1);
    let top = cursor.min(list.items.len().saturating_sub(1)).saturating_sub(room.saturating_sub(1));
    for (index, item) in list.items.iter().enumerate().skip(top).take(room) {
        view.note(page.ahead(0, width, 1), Target::Line(index));
        line(&mut page, session, item, (index == cursor, several));
        for part in full.iter().filter(|_| index == cursor) {
            page.line(&format!("    {part}"), Role::Picked);
        }
    }
    if list.items.is_empty() && again.is_empty() {
        page.line("nothing is due", Role::Text);
    }
    let picked = cursor.checked_sub(list.items.len());
    let first = picked.map_or(0, |at| (at + 1).saturating_sub(below));
    for (at, review) in again.iter().enumerate().skip(first).take(below) {
        view.note(page.ahead(0, usize::from(page.width()), 1), Target::Line(list.items.len() + at));
        review_line(&mut page, session, review, (picked == Some(at), several));
    }
    for (farm, unseen) in list.unseen.iter().take(usize::from(page.left().saturating_sub(plan.height()))) {
        let name = session.farms.iter().find(|line| line.id == *farm).map_or("", |line| &line.name);
        page.line(&folded(&safe(name), *unseen, width), Role::Grey);
    }
    page.skip(page.left().saturating_sub(plan.height()));
    plan.draw(&mut page, session, view);
    if let (true, Some(item)) = (beside, list.items.get(cursor)) {
        map(buffer, Rect { x: area.x + body.width, y: area.y.saturating_sub(1), ..area }, theme, session, item);
    }
}

/// Looks of a farm that nobody saw to, in as many words as have room. The name ends in dots before the day is cut.
fn folded(name: &str, unseen: Unseen, columns: usize) -> String {
    let forms = report::unseen_forms(unseen);
    let fits = forms.iter().map(|form| format!("{name}: {form}")).find(|line| line.width() <= columns);
    let [.., least] = &forms;
    fits.unwrap_or_else(|| {
        let name = cut(name, columns.saturating_sub(least.width() + 5));
        format!("{}...: {least}", name.trim_end())
    })
}

/// The item that is picked, in full, where its line has no room for that.
fn in_full(session: &Session, item: &DueItem<'_>, columns: usize, several: bool) -> Vec<String> {
    let (at, words) = ((&session.rules, session.today), says::of(session));
    let on = short(item.open, item.item, at, words);
    let (_, _, room) = columns_of(columns, several);
    if within(item.open, item.item, at, words, room).ends_with("...") {
        wrapped(&on, columns.saturating_sub(4))
    } else {
        Vec::new()
    }
}

/// Columns of the farm, of what is to be done and of what is on.
fn columns_of(all: usize, several: bool) -> (usize, usize, usize) {
    match (all, several) {
        (..76, true) => (5, 9, 26),
        // Beside the map: a day in full leaves a blank before it.
        (76..80, true) => (7, 15, 26),
        (_, _) => (9, 15, 26),
    }
}

/// One item. Where items of several farms stand in the list each says its own, since numbers are unique on a farm only.
fn line(page: &mut Page<'_>, session: &Session, item: &DueItem<'_>, (picked, several): (bool, bool)) {
    let words = says::of(session);
    let role = if picked { Role::Picked } else { Role::Text };
    let state = format!(" {}", column(words::urgency(item.due.urgency), 9));
    let number = &item.open.labels.number;
    let number = if number.is_empty() { "-" } else { number };
    let day = format!("{} {}", item.due.day.format("%-d %b"), words::milking(item.item.milking()));
    let farm = session.farms.iter().find(|farm| farm.id == item.open.farm).map_or("", |farm| &farm.name);
    let knowing = item.knowing().map_or("", words::knowing_short);
    let (farm_columns, what_columns, on_columns) = columns_of(usize::from(page.width()), several);
    let farm = if several { format!(" {}", column(farm, farm_columns)) } else { String::new() };
    let head = format!("{}{}{farm}", if picked { '>' } else { ' ' }, column(number, 6));
    let what = [words.what(item.due.what), words.what_short(item.due.what)];
    let what = what.iter().find(|form| form.width() <= what_columns).map_or("", String::as_str);
    let on = within(item.open, item.item, (&session.rules, session.today), words, on_columns);
    let tail = format!(" {} {}", column(what, what_columns), column(&on, on_columns));
    // Half a word about who was asked would only confuse.
    let used = head.width() + state.width() + tail.width() + 11;
    let fits = used + knowing.width() <= usize::from(page.width());
    let rest = format!(" {} {}", column(&day, 9), if fits { knowing } else { "" });
    page.pieces(&[(&head, role), (&state, Role::Label(tone(item.due.urgency))), (&tail, role), (&rest, role)]);
}

/// A standing instruction of a farm that is to be looked at again.
fn review_line(page: &mut Page<'_>, session: &Session, review: &Review<'_>, (picked, several): (bool, bool)) {
    let role = if picked { Role::Picked } else { Role::Text };
    let name = session.farms.iter().find(|farm| farm.id == review.farm).map_or("", |farm| &farm.name);
    let state = format!(" {}", column(words::urgency(review.due.urgency), 9));
    let farm =
        if several { format!(" {}", column(name, if page.width() < 76 { 5 } else { 9 })) } else { String::new() };
    let head = format!("{}farm  {farm}", if picked { '>' } else { ' ' });
    let narrow = page.width() < 76;
    let told = if narrow { instruct::due_short(session, review) } else { instruct::due_of(session, review) };
    let told = format!(" {told}");
    page.pieces(&[(&head, role), (&state, Role::Label(tone(review.due.urgency))), (&told, role)]);
}

/// What is open on the animal picked, on her feet.
fn map(buffer: &mut Buffer, area: Rect, theme: Theme, session: &Session, item: &DueItem<'_>) {
    let marks = marks::listed(item.open, &session.rules, session.today, says::of(session));
    // The layout of a screen too narrow for the larger map.
    let layout = Layout::for_screen(MAP * 2, area.height + 2, None, Turned::ToeDown);
    if let Some(map) = layout.map() {
        Claws { layout: map, marks: &marks, theme }.render(area, buffer);
    }
}
