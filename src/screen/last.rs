//! Last time: an earlier turn's map beside today's, what changed in between on the map and in words, and the strip of all
//! her turns.

use crate::claw_map::layout::Pair;
use crate::claw_map::marks::{Tone, change_sign};
use crate::claw_map::picture::View as Turned;
use crate::domain::case::{Change, Changed};
use crate::domain::disagreement;
use crate::domain::flag::{Flag, flags};
use crate::domain::history::Turn;
use crate::domain::ids::PersonId;
use crate::domain::strip::strip;
use crate::domain::vocabulary::Vocabulary;
use crate::keys::context::Context;
use crate::keys::intent::Intent;
use crate::report::case::change_word;
use crate::report::last::sections;
use crate::report::words::{self, Words};
use crate::report::{disagreement as differing, flag, herd, marks, strip as report};
use crate::screen::claws::Claws;
use crate::screen::page::{Page, wrapped};
use crate::screen::theme::{Role, Theme};
use crate::screen::{View, instructed, words as says};
use crate::session::mode::Hand;
use crate::session::{Crush, Session};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

/// Columns from which words beside the maps can be read; narrower, only the signs are told there.
const READABLE: u16 = 24;
/// Rows that the strip takes at most: a heading, day, year, four feet, gait, signs.
const STRIP: u16 = 9;

/// A line and how loud it is.
type Line = (String, Role);

/// Draws it.
pub fn draw(
    buffer: &mut Buffer,
    area: Rect,
    theme: Theme,
    session: &Session,
    view: &View<'_>,
    (back, top): (usize, usize),
) {
    let Some((crush, now)) = session.turn() else { return };
    let earlier: Vec<&Turn> = crush.earlier().collect();
    let Some(then) = earlier.iter().rev().nth(back) else {
        let body = Rect { y: area.y + 1, height: area.height.saturating_sub(2), ..area };
        let mut page = Page::new(buffer, body, theme);
        page.line("no earlier turn of hers is known", Role::Strong);
        for (text, role) in broken(always(session), body.width) {
            page.line(&text, role);
        }
        return;
    };
    let Some(pair) = Pair::for_screen(area.width, area.height, Turned::ToeDown) else { return };
    let words = says::of(session);
    let window = session.rule_set().case.window;
    let changes = crush.history.changes(then.id, window);
    let by = (&session.rules, session.today);
    let maps = [
        marks::as_it_was(&crush.history, then, window, words),
        marks::changed(&crush.history, now, &changes, by, words),
    ];
    for (layout, marks) in pair.maps.iter().zip(&maps) {
        Claws { layout, marks, theme }.render(area, buffer);
    }
    titles(buffer, area, theme, session, (then, &pair));
    let inside = |room: crate::claw_map::area::Area| {
        Rect { x: area.x + room.col, y: area.y + room.row, width: room.cols, height: room.rows }.intersection(area)
    };
    let (side, below) = (inside(pair.side), inside(pair.below));
    let narrow = side.width < READABLE;
    // Where there is hardly room, the reason of a flag is the trimmer's to look up.
    let flagged = if narrow { flag::short } else { flag::line };
    let mut lines = always(session);
    lines.extend(said(session, crush, (then, now), &changes, flagged));
    let foot = place_in_line(view, (back, earlier.len()));
    let down = key(view, Intent::Down);
    let strip = |width: u16| report::lines(&strip(&crush.history), usize::from(width), words);
    if narrow {
        signs(buffer, side, theme);
        let rows = strip(below.width).into_iter().map(|line| (line, Role::Text));
        let all: Vec<Line> = broken(lines, below.width).into_iter().chain(rows).collect();
        scrolled(&mut Page::new(buffer, below, theme), &all, top, (&foot, &down));
        return;
    }
    let drawn = Rect { height: below.height.min(STRIP), ..below };
    let mut page = Page::new(buffer, below, theme);
    for line in strip(drawn.width) {
        page.line(&line, Role::Text);
    }
    let lines = broken(lines.into_iter().chain(legend()).collect(), side.width);
    scrolled(&mut Page::new(buffer, side, theme), &lines, top, (&foot, &down));
}

/// Standing instructions that apply to what was in the hand, each whole.
fn always(session: &Session) -> Vec<Line> {
    let hand = session.mode.hand().unwrap_or(Hand::DOWN);
    let here = instructed::here(session, hand).into_iter();
    here.map(|one| (format!("ALWAYS {}", instructed::whole(session, one)), Role::Text)).collect()
}

/// Over each map whose day it is, how long ago and by whom.
fn titles(buffer: &mut Buffer, area: Rect, theme: Theme, session: &Session, (then, pair): (&Turn, &Pair)) {
    let days = (session.today - then.on).num_days();
    let long = format!("{}, {days} d ago", words::day(then.on));
    for (title, at, end) in [
        (long, pair.titles[0], pair.titles[1]),
        (format!("TODAY, since {}", then.on.format("%-d %b")), pair.titles[1], pair.side.col),
    ] {
        let row = Rect { x: area.x + at, y: area.y + 1, width: end.saturating_sub(at + 1), height: 1 };
        Page::new(buffer, row, theme).line(&title, Role::Strong);
    }
}

/// Who did it; empty where nobody was named.
pub fn by(session: &Session, who: Option<PersonId>) -> &str {
    session.people.iter().find(|(id, _)| Some(*id) == who).map_or("", |(_, name)| name.as_str())
}

/// The words: flags first, then what changed, then what that turn did and left.
fn said(
    session: &Session,
    crush: &Crush,
    (then, now): (&Turn, &Turn),
    changes: &[Changed],
    flagged: fn(&Flag, Words) -> String,
) -> Vec<Line> {
    let words = says::of(session);
    let flags = flags(&crush.history, session.rule_set(), session.today);
    let flagged = flags.iter().map(|one| (flagged(one, words), Role::Label(Tone::Warn)));
    let told = sections(&crush.history, (then, by(session, then.by)), (Some(now), session.today), changes, words)
        .into_iter()
        .flat_map(|section| {
            let lines = section.lines.into_iter().map(|line| (line, Role::Text));
            std::iter::once((section.head, Role::Strong)).chain(lines).collect::<Vec<Line>>()
        });
    let differ = disagreement::of(&crush.history).into_iter().filter(|differ| differ.on == then.on);
    let differ = differ.map(|differ| (differing::line(&differ, words), Role::Strong));
    let year = herd::year(&crush.history.herd, session.today);
    let year = (!year.is_empty()).then(|| (format!("now: {year}"), Role::Grey));
    flagged.chain(differ).chain(told).chain(year).collect()
}

/// Which turn it is, and the keys that step.
pub fn place_in_line(view: &View<'_>, (back, count): (usize, usize)) -> String {
    let keys: Vec<String> =
        [(Intent::Older, "older"), (Intent::Newer, "newer"), (Intent::Correct, "correct"), (Intent::Whose, "whose")]
            .into_iter()
            .map(|(intent, word)| format!("{} {word}", key(view, intent)))
            .collect();
    format!("turn {} of {count}: {}", count - back, keys.join(", "))
}

fn key(view: &View<'_>, intent: Intent) -> String {
    view.keymap.keys_for(Context::List, intent).into_iter().next().unwrap_or_default()
}

/// What the signs on today's map mean, three a line.
fn legend() -> Vec<Line> {
    let told: Vec<String> =
        Change::ALL.iter().map(|one| format!("{} {}", change_sign(*one), change_word(*one))).collect();
    told.chunks(3).map(|three| (three.join(" "), Role::Grey)).collect()
}

/// The same, one a line.
fn signs(buffer: &mut Buffer, area: Rect, theme: Theme) {
    let mut page = Page::new(buffer, area, theme);
    page.skip(1);
    for change in Change::ALL {
        page.line(&format!("{} {}", change_sign(*change), change_word(*change)), Role::Grey);
    }
}

/// Lines broken to a width.
fn broken(lines: Vec<Line>, width: u16) -> Vec<Line> {
    let room = usize::from(width).saturating_sub(2);
    let break_one = |(text, role): Line| {
        wrapped(&text, room).into_iter().enumerate().map(move |(row, part)| {
            let indent = if row == 0 { "" } else { " " };
            (format!("{indent}{part}"), role)
        })
    };
    lines.into_iter().flat_map(break_one).collect()
}

/// Lines from `top` on; the last rows say how many are left, which turn it is, and what steps.
fn scrolled(page: &mut Page<'_>, lines: &[Line], top: usize, (foot, down): (&str, &str)) {
    let width = usize::from(page.width()).saturating_sub(2);
    let foot = wrapped(foot, width);
    let all = usize::from(page.left()).saturating_sub(foot.len());
    // Where not all have room, a line says how many are left.
    let room = if lines.len() > all { all.saturating_sub(1) } else { all };
    let top = top.min(lines.len().saturating_sub(room));
    for (text, role) in lines.iter().skip(top).take(room) {
        match role {
            Role::Label(_) => page.label(&format!(" {text} "), *role),
            Role::Bar | Role::Text | Role::Strong | Role::Grey | Role::Picked | Role::Key => page.line(text, *role),
        }
    }
    page.skip(u16::try_from(room.saturating_sub(lines.len())).unwrap_or(0));
    if lines.len() > all {
        let more = match lines.len() - top - room {
            0 => String::new(),
            1 => format!("... 1 more line, {down}"),
            left => format!("... {left} more lines, {down}"),
        };
        page.line(&more, Role::Strong);
    }
    for line in foot {
        page.line(&line, Role::Grey);
    }
}
