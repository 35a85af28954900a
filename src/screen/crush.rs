//! The crush: the map, what is on the feet first, last time's marks, today's, and the keys that count now.

use crate::claw_map::layout::{Layout, MapLayout};
use crate::claw_map::marks::Tone;
use crate::claw_map::picture::View as Turned;
use crate::domain::follow_up::{DueItem, Urgency, due};
use crate::domain::history::open::OpenItem;
use crate::domain::history::{History, Turn};
use crate::domain::sign_off;
use crate::domain::treatment::Put;
use crate::domain::vocabulary::Vocabulary;
use crate::report::{marks, words};
use crate::screen::claws::Claws;
use crate::screen::page::Page;
use crate::screen::theme::{Role, Theme};
use crate::screen::{View, pad};
use crate::session::Session;
use crate::session::mode::{Hand, Mode};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

/// Draws the animal in the crush.
pub fn draw(buffer: &mut Buffer, area: Rect, theme: Theme, session: &Session, view: &View<'_>) {
    let Some((crush, turn)) = session.turn() else {
        Page::new(buffer, area, theme).line("she is not in the crush any more: go back", Role::Strong);
        return;
    };
    let hand = session.mode.hand().unwrap_or(Hand::DOWN);
    let layout = Layout::for_screen(area.width, area.height, hand.foot, Turned::ToeDown);
    let Some(map) = layout.map() else { return };
    let mut marks = marks::under_way(&crush.history, turn, &session.rules, session.today, hand.foot);
    marks.cursor = hand.place();
    Claws { layout: map, marks: &marks, theme }.render(area, buffer);
    let text = text_area(area, map);
    if let Mode::SignOff { passed } = &session.mode {
        lines_to_settle(buffer, text, theme, session, passed);
        return;
    }
    // A question takes the rows it needs, over the small feet if it must; the keys of a hand leave room for the facts.
    let wanted = pad::rows(session, text.width);
    let rows = match &session.mode {
        Mode::Pad { .. } => wanted.min(text.bottom().saturating_sub(area.y + 1)),
        _ => wanted.min(text.height.saturating_sub(3)),
    };
    let facts = Rect { height: text.height.saturating_sub(rows), ..text };
    write_facts(&mut Page::new(buffer, facts, theme), session, &crush.history, turn, hand);
    let keys = Rect { y: text.bottom() - rows, height: rows, ..text };
    pad::draw(buffer, keys, theme, session, view.keymap);
}

/// Room for words beside the map.
fn text_area(area: Rect, map: &MapLayout) -> Rect {
    Rect { x: area.x + map.text.col, y: area.y + map.text.row, width: map.text.cols, height: map.text.rows }
        .intersection(area)
}

/// Loudness of an item.
pub fn tone(urgency: Urgency) -> Tone {
    match urgency {
        Urgency::Coming => Tone::Note,
        Urgency::Due => Tone::Warn,
        Urgency::Late | Urgency::Urgent => Tone::Alarm,
    }
}

fn write_facts(page: &mut Page<'_>, session: &Session, history: &History, turn: &Turn, hand: Hand) {
    let open = marks::facts(history);
    let on: Vec<DueItem<'_>> = open
        .items
        .iter()
        .filter(|item| matches!(item, OpenItem::On { .. } | OpenItem::Vet { .. } | OpenItem::LookSoon { .. }))
        .filter_map(|item| {
            due(&open, item, &session.rules, session.today).map(|due| DueItem { open: &open, item, due })
        })
        .collect();
    if !on.is_empty() {
        page.heading("ON THE FEET");
        for item in &on {
            page.label(&fitting(item, session, page.width()), Role::Label(tone(item.due.urgency)));
        }
    }
    let ghosts = sign_off::unanswered(history, turn);
    if !ghosts.is_empty() {
        page.heading("LAST TIME: ANSWER");
        for case in ghosts {
            let what = words::finding(case.what, case.degree, &case.words);
            page.line(&format!("{} {}", words::place(case.place), what.to_lowercase()), Role::Text);
        }
    }
    let here = |foot| hand.foot.is_none_or(|up| foot == Some(up));
    let found = turn.found.iter().filter(|found| here(found.place.foot()));
    let mut lines: Vec<String> = found
        .map(|found| {
            let infected = if found.infected { " infected" } else { "" };
            let deep = if found.deep { " deep" } else { "" };
            let what = words::finding(found.what, found.degree, &found.words);
            format!("{} {what}{deep}{infected}", words::place(found.place))
        })
        .collect();
    lines.extend(
        turn.answers
            .iter()
            .filter(|answer| here(answer.place.foot()))
            .map(|answer| format!("{} {}", words::place(answer.place), crate::report::turn::verdict(answer.verdict))),
    );
    lines.extend(
        turn.offs
            .iter()
            .filter(|off| here(off.place.foot()))
            .map(|off| format!("{} {} {}", words::place(off.place), words::off(off.outcome), words::skin(off.skin))),
    );
    lines.extend(
        turn.puts
            .iter()
            .filter(|view| !view.put.must_come_off() && here(view.put.foot()))
            .map(|view| format!("{} {}", words::place(view.put.place()), words::put(&view.put))),
    );
    lines.extend(turn.gaits.iter().map(|(_, gait)| format!("gait {}", words::gait(*gait))));
    lines.extend(turn.notes.iter().map(|(_, _, text)| format!("note: {text}")));
    if !lines.is_empty() {
        page.heading("TODAY");
    }
    for line in lines {
        page.line(&line, Role::Text);
    }
    if history.kicker {
        page.label("KICKS", Role::Label(Tone::Warn));
    }
    if let Some(since) = history.cull {
        page.line(&format!("cull said {}", words::weekday(since)), Role::Grey);
    }
    let blocked = on.iter().any(|item| matches!(item.item, OpenItem::On { what, .. } if what.place().side().is_some()));
    match (&turn.relief, blocked) {
        (Some((_, relief)), _) => page.line(words::relief(*relief), Role::Grey),
        (None, true) => page.line("pain relief: ask the vet", Role::Grey),
        (None, false) => {}
    }
}

/// An item with its age: `RH heel 10 blue wrap 6 days LATE !`.
pub fn on_line(item: &DueItem<'_>, session: &Session) -> String {
    let days = |since: chrono::NaiveDate| (session.today - since).num_days();
    match item.item {
        OpenItem::On { what, since, .. } => {
            let late = match item.due.urgency {
                Urgency::Coming | Urgency::Due => "",
                Urgency::Late => "LATE",
                Urgency::Urgent => "URGENT",
            };
            let claw = what.place().side().map_or("", Vocabulary::word);
            let foot = what.foot().map_or("", Vocabulary::word);
            let text = format!("{foot} {claw} {} {}d {late}", words::put(what), days(*since));
            text.split_whitespace().collect::<Vec<_>>().join(" ")
        }
        OpenItem::LookSoon { place, since, .. } => format!("{} look: {}d", words::place(*place), days(*since)),
        OpenItem::Vet { place, sign, .. } => format!("{} VET {}", words::place(*place), words::sign(*sign)),
        OpenItem::Recheck { place, what, degree, .. } => {
            format!("{} {}", words::place(*place), words::finding(*what, *degree, ""))
        }
        OpenItem::SetByHand { place, on, .. } => format!("{} look {}", words::place(*place), words::weekday(*on)),
    }
}

/// An item in the fullest words that fit: its colour and material go before its age does.
fn fitting(item: &DueItem<'_>, session: &Session, columns: u16) -> String {
    let full = on_line(item, session);
    let OpenItem::On { what, since, .. } = item.item else { return full };
    if full.chars().count() <= usize::from(columns) {
        return full;
    }
    let thing = match what {
        Put::Wrap { .. } => "WRAP",
        Put::Block { .. } => "BLOCK",
        Put::Dressing { .. } => "dressing",
    };
    let sign = match item.due.urgency {
        Urgency::Coming | Urgency::Due => "",
        Urgency::Late => "!",
        Urgency::Urgent => "!!",
    };
    let claw = what.place().side().map_or("", Vocabulary::word);
    let foot = what.foot().map_or("", Vocabulary::word);
    let days = (session.today - *since).num_days();
    format!("{foot} {claw} {thing} {days}d{sign}").split_whitespace().collect::<Vec<_>>().join(" ")
}

fn lines_to_settle(
    buffer: &mut Buffer,
    area: Rect,
    theme: Theme,
    session: &Session,
    passed: &[crate::domain::sign_off::Check],
) {
    let mut page = Page::new(buffer, area, theme);
    page.line("BEFORE SHE GOES", Role::Strong);
    for (number, check) in crate::session::crush::open_checks(session, passed).iter().enumerate() {
        let key = format!(" {} ", number + 1);
        let text = crate::screen::words::check(session, *check);
        for (row, part) in wrapped(&text, usize::from(page.width()).saturating_sub(4)).iter().enumerate() {
            let head = if row == 0 { key.as_str() } else { "   " };
            let role = if row == 0 { Role::Key } else { Role::Text };
            page.pieces(&[(head, role), (" ", Role::Text), (part, Role::Label(Tone::Alarm))]);
        }
    }
    for check in passed {
        page.line(&format!("left open: {}", crate::screen::words::check(session, *check)), Role::Grey);
    }
    if crate::session::crush::open_checks(session, passed).is_empty() {
        page.line("Enter lets her go", Role::Strong);
    } else {
        page.line("press a line's number", Role::Grey);
    }
    if let Some((crush, turn)) = session.turn() {
        let gaps = sign_off::gaps(&crush.history, turn);
        if !gaps.is_empty() {
            page.line("written as left open:", Role::Grey);
        }
        for gap in gaps {
            page.line(&format!("{} {}", words::place(gap.place), gap.gap.word().replace('-', " ")), Role::Grey);
        }
    }
}

/// Words broken into lines of so many columns.
pub fn wrapped(text: &str, columns: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ') {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= columns => {
                line.push(' ');
                line.push_str(word);
            }
            Some(_) | None => lines.push(word.to_owned()),
        }
    }
    lines
}
