//! Farms to ring: one farm after the other, what is on there and how long, and the answers on their keys.

use crate::claw_map::marks::Tone;
use crate::domain::contact::{Contact, is_called};
use crate::domain::follow_up::due;
use crate::domain::follow_up::list::DueItem;
use crate::domain::history::open::OpenItem;
use crate::domain::ids::FarmId;
use crate::domain::sheet::of::called as label;
use crate::report;
use crate::report::safe::{column, safe, whole};
use crate::report::short::within;
use crate::report::words;
use crate::screen::View;
use crate::screen::pad::Plan;
use crate::screen::page::Page;
use crate::screen::theme::{Role, Theme};
use crate::screen::{crush, instruct, words as says};
use crate::session::lists::reviews;
use crate::session::mode::Only;
use crate::session::ring::{Call, is_answered, told, who};
use crate::session::touch::Target;
use crate::session::{Session, contact};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use unicode_width::UnicodeWidthStr;

/// Columns of what is on and for how long.
const ON: usize = 26;

/// A row: a farm's head, or a line of it.
enum Row {
    Farm(FarmId),
    Line(usize),
    /// Who is to take something off there, with their number.
    Remover([String; 3]),
    /// A standing instruction that is to be looked at again.
    Review(String),
}

/// Draws them.
pub fn draw(
    buffer: &mut Buffer,
    area: Rect,
    theme: Theme,
    session: &Session,
    view: &View<'_>,
    (lines, cursor): (&[Call], usize),
) {
    let mut page = Page::new(buffer, area, theme);
    let open = lines.iter().filter(|call| !is_answered(session, call)).count();
    page.line(&format!("FARMS TO RING: {open} of {} to ask about", lines.len()), Role::Strong);
    let rows = rows(session, lines);
    if rows.is_empty() {
        page.line("nothing is on that is due: nobody to ring", Role::Text);
        return;
    }
    let plan = Plan::of(session, view, area.width, page.left() * 2 / 3, 0);
    let room = usize::from(page.left().saturating_sub(plan.height())).max(1);
    let at = rows.iter().position(|row| matches!(row, Row::Line(index) if *index == cursor)).unwrap_or(0);
    let top = (at + 1).saturating_sub(room);
    for row in rows.iter().skip(top).take(room) {
        match row {
            Row::Farm(farm) => head(&mut page, session, *farm),
            Row::Remover(forms) => {
                let room = usize::from(page.width()).saturating_sub(2);
                let text = forms.iter().find(|form| form.width() <= room).map_or("", String::as_str);
                page.line(&format!("  {text}"), Role::Text);
            }
            Row::Review(text) => {
                let room = usize::from(page.width()).saturating_sub(3);
                let cut = || format!("{} ...", whole(text, room.saturating_sub(4)));
                let text = if text.width() <= room { text.clone() } else { cut() };
                page.label(&format!("  {text} "), Role::Label(Tone::Warn));
            }
            Row::Line(index) => {
                view.note(page.ahead(0, usize::from(page.width()), 1), Target::Line(*index));
                line(&mut page, session, &lines[*index], *index == cursor);
            }
        }
    }
    let shown = rows.len().min(room);
    page.skip(u16::try_from(room - shown).unwrap_or(0));
    plan.draw(&mut page, session, view);
}

/// Each farm with its telephone number, what it is to be asked about its instructions, and what is on there; then the farms
/// that are rung for their instructions only.
fn rows(session: &Session, lines: &[Call]) -> Vec<Row> {
    let mut rows = Vec::new();
    let again = reviews(session, Only::All);
    let of = |farm: FarmId| {
        let here = again.iter().filter(move |review| review.farm == farm);
        here.map(|review| Row::Review(instruct::due(session, review)))
    };
    for (index, call) in lines.iter().enumerate() {
        if index == 0 || lines[index - 1].farm != call.farm {
            rows.push(Row::Farm(call.farm));
            rows.extend(removers(session, lines, call.farm).into_iter().map(Row::Remover));
            rows.extend(of(call.farm));
        }
        rows.push(Row::Line(index));
    }
    let mut farms: Vec<FarmId> = lines.iter().map(|call| call.farm).collect();
    for review in &again {
        if !farms.contains(&review.farm) {
            rows.push(Row::Farm(review.farm));
            rows.extend(of(review.farm));
            farms.push(review.farm);
        }
    }
    rows
}

/// Each of the farm's people with a number who is to take something off there, and of whom: `Tom 01632 960123 takes off 1391, 1394`;
/// the same in fewer letters.
pub fn removers(session: &Session, lines: &[Call], farm: FarmId) -> Vec<[String; 3]> {
    let here = contact::of_a_farm(session, farm).iter().filter(|one| !one.phone.is_empty());
    let told = |one: &Contact| {
        let meant =
            |call: &&Call| call.farm == farm && remover(session, call).is_some_and(|name| is_called(name, &one.name));
        let mut animals: Vec<String> = Vec::new();
        // With something on several feet she is named once.
        for animal in lines.iter().filter(meant).filter_map(|call| number(session, call)) {
            if !animals.contains(&animal) {
                animals.push(animal);
            }
        }
        let (who, count) = (report::contact::number(one), animals.len());
        let full = format!("{who} takes off {}", animals.join(", "));
        (count > 0)
            .then(|| [full, format!("{who} takes off {count}"), format!("takes off {count}: {}", safe(&one.phone))])
    };
    here.filter_map(told).collect()
}

/// Who is to take it off; none where it is on no list any more, or nobody was named.
fn remover<'s>(session: &'s Session, call: &Call) -> Option<&'s str> {
    match told(session, call)? {
        OpenItem::On { remover, .. } => Some(remover.as_str()),
        OpenItem::LookSoon { .. }
        | OpenItem::Vet { .. }
        | OpenItem::Recheck { .. }
        | OpenItem::Lame { .. }
        | OpenItem::Withheld { .. }
        | OpenItem::SetByHand { .. } => None,
    }
}

/// What she is called.
fn number(session: &Session, call: &Call) -> Option<String> {
    let open = session.open.iter().find(|open| open.animal == call.animal)?;
    Some(safe(&label(&open.labels)))
}

fn head(page: &mut Page<'_>, session: &Session, farm: FarmId) {
    let Some(line) = session.farms.iter().find(|line| line.id == farm) else { return };
    let phone = if line.phone.is_empty() { "no telephone number known" } else { &line.phone };
    let who = who(session, farm);
    let who = if who.is_empty() { String::new() } else { format!("  {} answers", safe(&who)) };
    page.line(&format!("{}  {}{who}", safe(&line.name), safe(phone)), Role::Strong);
}

fn line(page: &mut Page<'_>, session: &Session, call: &Call, picked: bool) {
    let words = says::of(session);
    let role = if picked { Role::Picked } else { Role::Text };
    let mark = if picked { ">" } else { " " };
    let Some((open, item)) = session.open.iter().find(|open| open.animal == call.animal).zip(told(session, call))
    else {
        page.line(&format!("{mark} off the list"), role);
        return;
    };
    let number = if open.labels.number.is_empty() { "-" } else { &open.labels.number };
    let head = format!("{mark} {} ", column(number, 6));
    let Some(due) = due(open, item, &session.rules, session.today) else { return };
    let item = DueItem { open, item, due };
    let state = format!(" {} ", column(words::urgency(due.urgency), 9));
    let room = usize::from(page.width()).saturating_sub(head.width() + state.width());
    let on = within(item.open, item.item, (&session.rules, session.today), words, ON);
    let answers = [answer(item.item), answer_short(item.item)];
    let answer = answers.iter().find(|form| ON + 3 + form.width() <= room).map_or("", String::as_str);
    let what = format!(" {}  {answer}", column(&on, ON));
    page.pieces(&[(&head, role), (&state, Role::Label(crush::tone(due.urgency))), (&what, role)]);
}

/// The same in the columns that the smallest screen has for it.
fn answer_short(item: &OpenItem) -> String {
    match item {
        // That it swells stands with what is on.
        OpenItem::On { trouble: Some(_), .. } => "they say".to_owned(),
        OpenItem::On { knowing, .. } => words::knowing_short(*knowing).to_owned(),
        OpenItem::LookSoon { .. }
        | OpenItem::Vet { .. }
        | OpenItem::Recheck { .. }
        | OpenItem::Lame { .. }
        | OpenItem::Withheld { .. }
        | OpenItem::SetByHand { .. } => String::new(),
    }
}

/// What was said of it, and when.
pub fn answer(item: &OpenItem) -> String {
    let OpenItem::On { knowing, told, trouble, .. } = item else { return String::new() };
    if let Some(on) = trouble {
        return format!("farm says swollen or lamer, {}", words::weekday(*on));
    }
    let said = words::knowing(*knowing);
    match told {
        Some((by, on)) if by.is_empty() => format!("{said}, {}", words::weekday(*on)),
        Some((by, on)) => format!("{said}, {} {}", safe(by), words::weekday(*on)),
        None => said.to_owned(),
    }
}
