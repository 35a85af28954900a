//! The herd of the farm in hand: a row for each animal, and what is known of her.

use crate::domain::herd_list::column::Column;
use crate::domain::herd_list::her::Her;
use crate::domain::history::open::{Open, OpenItem};
use crate::domain::vocabulary::Vocabulary;
use crate::keys::context::Context;
use crate::keys::intent::Intent;
use crate::report::due::called;
use crate::report::herd::{fact, stage, year};
use crate::report::safe::{safe, whole};
use crate::report::short::{short, within};
use crate::report::words::day;
use crate::screen::pad::Plan;
use crate::screen::page::{Page, wrapped};
use crate::screen::rows::{self, Rows};
use crate::screen::theme::{Role, Theme};
use crate::screen::{View, herd_list, words as says};
use crate::session::Session;
use crate::session::herd::{self, Ask, Line, No, Text, Whom, gone, lines, of, shown};
use crate::session::touch::Target;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use unicode_width::UnicodeWidthStr;

/// Columns of what a line of her data is about.
const ABOUT: usize = 17;
/// Columns of number, name, group, lactation and stage on the smallest screen, on a larger one, and on the largest.
const COLUMNS: [(u16, [usize; 5]); 3] = [(60, [6, 8, 8, 4, 13]), (80, [8, 14, 12, 4, 13]), (118, [10, 24, 20, 4, 13])];

/// Draws a page of it.
pub fn draw(
    buffer: &mut Buffer,
    area: Rect,
    theme: Theme,
    session: &Session,
    view: &View<'_>,
    (page, cursor): (&herd::Page, usize),
) {
    let mut on = Page::new(buffer, area, theme);
    match page {
        herd::Page::Animals(whom) => animals(&mut on, session, view, (whom, cursor)),
        herd::Page::Her(animal) => {
            if let Some(her) = of(session, *animal) {
                data(&mut on, session, view, (her, cursor));
            }
        }
        herd::Page::Files => herd_list::files(&mut on, session, view, cursor),
        herd::Page::List => herd_list::list(&mut on, session, view, cursor),
    }
}

/// What the list is of, and how many there are.
pub fn head(session: &Session, whom: &Whom) -> String {
    let farm = session.farm.as_ref().map_or(String::new(), |farm| safe(&farm.name));
    let count = shown(session, whom).len();
    let animals = if count == 1 { "1 animal".to_owned() } else { format!("{count} animals") };
    let which = match whom {
        Whom::All => String::new(),
        Whom::Group(group) => format!(", group {}", safe(group)),
        Whom::NoGroup => ", no group told".to_owned(),
    };
    format!("HERD OF {farm}: {animals}{which}")
}

/// How many are not on the list because they left; none where nobody did.
pub fn left_out(session: &Session) -> Option<String> {
    match gone(session) {
        0 => None,
        1 => Some("1 has left and is not shown".to_owned()),
        more => Some(format!("{more} have left and are not shown")),
    }
}

fn animals(page: &mut Page<'_>, session: &Session, view: &View<'_>, (whom, cursor): (&Whom, usize)) {
    let key = view.keymap.keys_for(Context::List, Intent::Only).into_iter().next().unwrap_or_default();
    let width = usize::from(page.width());
    let (head, keys) = (head(session, whom), format!("{key} next group"));
    let beside = head.width() + 2 + keys.width() <= width;
    for line in wrapped(&head, width) {
        if beside {
            view.note(page.ahead(head.width() + 2, keys.width(), 1), Target::Wish(Intent::Only));
            page.pieces(&[(&line, Role::Strong), ("  ", Role::Text), (&keys, Role::Grey)]);
        } else {
            page.line(&line, Role::Strong);
        }
    }
    if !beside {
        view.note(page.ahead(0, keys.width(), 1), Target::Wish(Intent::Only));
        page.line(&keys, Role::Grey);
    }
    let columns =
        COLUMNS.iter().rfind(|(least, _)| page.width() >= *least).map_or(COLUMNS[0].1, |(_, columns)| *columns);
    let heads = ["number", "name", "group", "lact", "", "on her"].map(str::to_owned);
    page.line(&format!(" {}", cells(&heads, &columns)), Role::Grey);
    let plan = Plan::of(session, view, page.width(), page.left() / 2, 0);
    let left = left_out(session);
    let below = plan.height() + u16::from(left.is_some());
    let room = usize::from(page.left().saturating_sub(below)).max(1);
    let list = shown(session, whom);
    let top = cursor.min(list.len().saturating_sub(1)).saturating_sub(room - 1);
    for (index, her) in list.iter().enumerate().skip(top).take(room) {
        view.note(page.ahead(0, width, 1), Target::Line(index));
        let picked = index == cursor;
        let line = format!("{}{}", if picked { '>' } else { ' ' }, row(session, her, &columns, width));
        if picked { page.line(&line, Role::Picked) } else { page.line(&line, Role::Text) }
    }
    if list.is_empty() {
        page.line("no animal is known here", Role::Text);
    }
    if let Some(left) = left {
        page.line(&left, Role::Grey);
    }
    page.skip(page.left().saturating_sub(plan.height()));
    plan.draw(page, session, view);
}

/// An animal in a row: number, name, group, lactation, days in milk or dry, what is on her.
fn row(session: &Session, her: &Her, columns: &[usize; 5], width: usize) -> String {
    let (labels, herd) = (&her.known.labels, &her.known.herd);
    let first = [&labels.number, &labels.tag, &labels.electronic].into_iter().find(|label| !label.is_empty());
    let number = first.map_or("-", String::as_str);
    let lactation = herd.lactation.map_or(String::new(), |number| number.to_string());
    let used: usize = columns.iter().map(|column| column + 1).sum();
    let on = on(session, her, width.saturating_sub(used + 1));
    cells(
        &[number.to_owned(), labels.name.clone(), herd.group.clone(), lactation, stage(herd, session.today), on],
        columns,
    )
}

/// Cells in their columns. One that is too long ends in its last whole word and a dot, or in its first letters and a dot.
fn cells(all: &[String; 6], columns: &[usize; 5]) -> String {
    let mut line = String::new();
    for (cell, columns) in all.iter().zip(columns) {
        line.push_str(&crate::report::safe::column(&fitted(cell, *columns), *columns));
        line.push(' ');
    }
    line + &safe(&all[5])
}

fn fitted(cell: &str, columns: usize) -> String {
    let cell = safe(cell);
    if cell.width() <= columns {
        return cell;
    }
    let words = whole(&cell, columns.saturating_sub(1));
    if words.is_empty() {
        format!("{}.", crate::report::safe::cut(&cell, columns.saturating_sub(1)))
    } else {
        words + "."
    }
}

/// What was left on her, the first in as many letters as have room, and how many more.
fn on(session: &Session, her: &Her, columns: usize) -> String {
    let open = Open::of(&her.history);
    let items: Vec<&OpenItem> = open.items.iter().filter(|item| matches!(item, OpenItem::On { .. })).collect();
    let Some(first) = items.first() else { return String::new() };
    let more = if items.len() > 1 { format!(" +{}", items.len() - 1) } else { String::new() };
    let by = (&session.rules, session.today);
    within(&open, first, by, says::of(session), columns.saturating_sub(more.width())) + &more
}

/// What is known of her.
fn data(page: &mut Page<'_>, session: &Session, view: &View<'_>, (her, cursor): (&Her, usize)) {
    let width = usize::from(page.width());
    for line in wrapped(&title(session, her), width) {
        page.line(&line, Role::Strong);
    }
    let plan = Plan::of(session, view, page.width(), page.left() / 3, 0);
    let room = usize::from(page.left().saturating_sub(plan.height())).max(1);
    let columns = rows::beside(page, ABOUT);
    let all: Vec<Rows> = lines(her)
        .into_iter()
        .map(|one| {
            let (about, said) = line(session, her, one);
            let role = match one {
                Line::Told(_) => Role::Text,
                Line::On(_) | Line::Left => Role::Strong,
            };
            Rows::new(about, &said, role, columns)
        })
        .collect();
    rows::draw(page, view, &all, cursor, (ABOUT, room));
    plan.draw(page, session, view);
}

/// What she is called, and where she stands in the herd's year.
pub fn title(session: &Session, her: &Her) -> String {
    let name = called(&her.known.labels);
    let name = if name.is_empty() { "no number".to_owned() } else { name };
    let year = year(&her.known.herd, session.today);
    if year.is_empty() { format!("DATA OF {name}") } else { format!("DATA OF {name}: {year}") }
}

/// A line of her data: what it is about, and what is said.
pub fn line(session: &Session, her: &Her, one: Line) -> (String, String) {
    match one {
        Line::Told(column) => (column.word().to_owned(), fact(her, column, session.today)),
        Line::On(at) => {
            let open = Open::of(&her.history);
            let item = open.items.get(at);
            let said = item.map(|item| short(&open, item, (&session.rules, session.today), says::of(session)));
            ("on her".to_owned(), said.unwrap_or_default())
        }
        Line::Left => {
            let said = her.known.left.map(|(how, on)| format!("{}, {}", how.word(), day(on)));
            ("left".to_owned(), said.unwrap_or_default())
        }
    }
}

/// An animal of the list in a line.
pub fn in_words(session: &Session, her: &Her) -> String {
    let (labels, herd) = (&her.known.labels, &her.known.herd);
    let name = called(labels);
    let name = if name.is_empty() { "no number".to_owned() } else { name };
    let group = if herd.group.is_empty() { String::new() } else { format!("group {}", safe(&herd.group)) };
    let on = lines(her).into_iter().filter(|one| matches!(one, Line::On(_))).map(|one| line(session, her, one).1);
    let parts = [name, group, year(herd, session.today)].into_iter().chain(on);
    parts.filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", ")
}

/// The heading of a question.
pub fn asked(session: &Session, asked: &Ask) -> String {
    let animal = match asked {
        Ask::Status(animal) => animal,
        Ask::List(asked) => return herd_list::asked(session, *asked),
    };
    let who = of(session, *animal).map_or(String::new(), |her| called(&her.known.labels));
    format!("{who}: what is she now?")
}

/// What a text is typed for.
pub fn prompt(session: &Session, text: &Text) -> String {
    let Text::Told(animal, column) = text else { return "herd list: where does the file lie".to_owned() };
    let Some(her) = of(session, *animal) else { return column.word().to_owned() };
    let how = if column.is_label() {
        ", erased: she has none"
    } else if *column == Column::Born {
        ", day, month and year"
    } else if text.is_number() && *column != Column::Lactation {
        ", day and month"
    } else {
        ""
    };
    format!("{} of {}{how}; now {}", column.word(), called(&her.known.labels), fact(her, *column, session.today))
}

/// Why something was not done, and what to do next.
pub fn refused(why: &No) -> String {
    match why {
        No::Cell(Column::Electronic, typed) => format!("\"{}\": an electronic number has 15 digits", safe(typed)),
        No::Cell(Column::Lactation, typed) => format!("\"{}\" is no lactation: 0 to 30", safe(typed)),
        No::Cell(_, typed) => format!("\"{}\" is too long to be kept: say it in fewer letters", safe(typed)),
        No::Stays(column) => format!("{} stays as it was told: type what is so now", column.word()),
        No::ToldLater(column, on) => format!("{} was told on {}, which is after today", column.word(), day(*on)),
        No::Day(why) => why.to_string(),
    }
}
