//! The scoring walk: what is typed in big figures with the score apart, what was written last, how far the herd is.

use crate::claw_map::marks::Tone;
use crate::domain::walk::{Walk, Walker};
use crate::keys::context::Context;
use crate::keys::intent::Intent;
use crate::report::due::called;
use crate::report::safe::{column, safe};
use crate::report::walk as report;
use crate::screen::page::{Page, wrapped};
use crate::screen::theme::{Role, Theme};
use crate::screen::{View, figures, pad};
use crate::session::Session;
use crate::session::walk::{Told, Walking, bearers, line, scale, split};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use unicode_width::UnicodeWidthStr;

/// Rows of what is typed, and the pad beside it.
const TOP: u16 = 6;
/// Rows of the figures.
const FIGURES: u16 = 5;
/// Columns of the pad, at least and at most.
const PAD: (u16, u16) = (20, 40);

/// Draws the walk.
pub fn draw(buffer: &mut Buffer, area: Rect, theme: Theme, session: &Session, view: &View<'_>, walking: &Walking) {
    let beside = (area.width / 3).clamp(PAD.0, PAD.1);
    let top = Rect { height: TOP.min(area.height), ..area };
    typed(&mut Page::new(buffer, Rect { width: area.width - beside - 1, ..top }, theme), session, walking);
    let keys = Rect { x: top.right() - beside, width: beside, ..top };
    pad::draw(&mut Page::new(buffer, keys, theme), session, view);
    let rest = Rect { y: top.bottom(), height: area.height - top.height, ..area };
    let mut page = Page::new(buffer, rest, theme);
    page.label(&format!(" {} ", her(session, walking)), Role::Strong);
    newcomers(&mut page, session, view);
    let used = rest.height - page.left();
    let rest = Rect { y: rest.y + used, height: rest.height - used, ..rest };
    let half = rest.width / 2;
    far(&mut Page::new(buffer, Rect { width: half - 1, ..rest }, theme), session);
    let right = Rect { x: rest.x + half, width: rest.width - half, ..rest };
    missing(&mut Page::new(buffer, right, theme), &session.walk, walking.top);
}

/// The number and, apart from it, the score; with nothing typed what was written last.
fn typed(page: &mut Page<'_>, session: &Session, walking: &Walking) {
    let (number, score) = parts(session, walking);
    if number.is_empty() {
        return told(page, session, walking);
    }
    let score = score.map_or("-".to_owned(), |score| score.to_string());
    // The score and the blanks before it are seven columns.
    let room = page.width().saturating_sub(9);
    match (figures::fitted(&number, room, FIGURES), figures::fitted(&score, 3, FIGURES)) {
        (Some(number), Some(score)) if number.len() == score.len() => {
            for (number, score) in number.iter().zip(&score) {
                page.pieces(&[
                    (&format!(" {number}"), Role::Strong),
                    ("  ", Role::Text),
                    (&format!(" {score} "), Role::Picked),
                ]);
            }
        }
        _ => page.pieces(&[
            ("NUMBER ", Role::Strong),
            (&format!(" {} ", safe(&number)), Role::Picked),
            ("  SCORE ", Role::Strong),
            (&format!(" {score} "), Role::Picked),
        ]),
    }
}

/// The number that is meant, and the score where one is typed.
fn parts(session: &Session, walking: &Walking) -> (String, Option<u8>) {
    match walking.picked.and_then(|animal| line(session, animal)) {
        Some(line) => (report_number(&line.labels.number), walking.typed.parse().ok()),
        None => {
            let (number, score) = split(session, &walking.typed);
            // Digits that are somebody's whole number are no score yet.
            let whole = bearers(session, &number).is_empty() && !bearers(session, &walking.typed).is_empty();
            if whole { (walking.typed.clone(), None) } else { (number, score) }
        }
    }
}

fn report_number(number: &str) -> String {
    if number.is_empty() { report::NO_NUMBER.to_owned() } else { number.to_owned() }
}

/// Who that is, with her last score; with nothing typed how the walk is done.
fn her(session: &Session, walking: &Walking) -> String {
    let (number, score) = parts(session, walking);
    if number.is_empty() {
        return format!("{}; number, score, then go on", scale_of(session));
    }
    let those = match walking.picked.and_then(|animal| line(session, animal)) {
        Some(line) => vec![line],
        None => bearers(session, &number),
    };
    match (those.as_slice(), score) {
        ([her], score) => {
            let walker = session.walk.of(her.id);
            let was = report::was(walker.and_then(|walker| walker.before), scale(session), session.today);
            let today =
                walker.and_then(|walker| walker.score).map_or(String::new(), |gait| format!("today {}; ", gait.score));
            let score = score.map_or("no score yet".to_owned(), |score| format!("score {score}"));
            format!("{}   {score} ({today}{was})", called(&her.labels))
        }
        ([], _) => format!("{} is not in this herd", safe(&number)),
        ([_, ..], _) => format!("{} are {}", those.len(), safe(&number)),
    }
}

fn scale_of(session: &Session) -> String {
    let range = scale(session).range();
    format!("scores {} to {}", range.start(), range.end())
}

/// What was written last.
fn told(page: &mut Page<'_>, session: &Session, walking: &Walking) {
    page.line("SCORING WALK", Role::Strong);
    let Some(told) = walking.told else { return };
    let room = usize::from(page.width()).saturating_sub(2);
    for (text, role) in written(session, &told) {
        for part in wrapped(&text, room) {
            page.label(&format!(" {part} "), role);
        }
    }
}

/// What was written, how lame that is, and what it followed.
pub fn written(session: &Session, told: &Told) -> Vec<(String, Role)> {
    let walker = session.walk.of(told.animal);
    let name = walker.map_or(String::new(), report::name);
    let was = report::was(told.before, told.gait.scale, session.today);
    let mut lines = vec![(format!("{name}   score {} ({was})", told.gait.score), Role::Picked)];
    let look = walker.and_then(|walker| walker.look_by);
    lines.extend(report::lame(told.gait).map(|how| {
        let by = look.map_or(String::new(), |by| format!(": look by {}", crate::report::words::weekday(by)));
        (format!("{how}{by}"), Role::Label(tone(told.gait)))
    }));
    lines.extend(told.again.map(|again| match again == told.gait {
        true => ("she has that score already: nothing new".to_owned(), Role::Label(Tone::Note)),
        false => (format!("scored {} before on this walk: the newer counts", again.score), Role::Label(Tone::Warn)),
    }));
    lines
}

fn tone(gait: crate::domain::treatment::Gait) -> Tone {
    if gait.scale.is_severe(gait.score) { Tone::Alarm } else { Tone::Warn }
}

/// Unknown numbers are new, where that is so.
fn newcomers(page: &mut Page<'_>, session: &Session, view: &View<'_>) {
    let Some(group) = session.newcomers() else { return };
    let key = view.keymap.keys_for(Context::Today, Intent::Newcomers).into_iter().next().unwrap_or_default();
    page.label(&format!(" unknown numbers are new, group {}: {key} ends it ", safe(group)), Role::Label(Tone::Note));
}

/// How many were scored, how many per score, who is lame.
fn far(page: &mut Page<'_>, session: &Session) {
    let walk = &session.walk;
    page.line(&report::head(walk), Role::Strong);
    for line in report::counts(walk, scale(session)) {
        page.line(&line, Role::Text);
    }
    let part = report::part(walk).map_or(Vec::new(), |text| wrapped(text, usize::from(page.width())));
    let lame = walk.lame();
    // Who is lame needs the room more.
    if usize::from(page.left()) > part.len() + lame.len() + 1 {
        part.iter().for_each(|text| page.line(text, Role::Grey));
    }
    if lame.is_empty() {
        return;
    }
    page.line(&format!("LAME {}", lame.len()), Role::Strong);
    let room = usize::from(page.left());
    let shown = if lame.len() > room { room.saturating_sub(1) } else { lame.len() };
    for walker in lame.iter().take(shown) {
        lame_line(page, session, walker);
    }
    if lame.len() > shown {
        page.line(&format!("and {} more", lame.len() - shown), Role::Grey);
    }
}

/// A lame one in one line: her score, her number, since when as far as there is room.
fn lame_line(page: &mut Page<'_>, session: &Session, walker: &Walker) {
    let Some(gait) = walker.score else { return };
    let head = format!(" {} ", gait.score);
    let room = usize::from(page.width()).saturating_sub(head.width() + 1);
    let was = report::was(walker.before, gait.scale, session.today);
    let name = report::name(walker);
    let full = format!("{name}  {was}");
    let text = if full.width() <= room { full } else { column(&name, room) };
    page.pieces(&[(&head, Role::Label(tone(gait))), (" ", Role::Text), (&text, Role::Text)]);
}

/// Who was not scored yet, from this one on.
fn missing(page: &mut Page<'_>, walk: &Walk, top: usize) {
    let left = walk.unscored();
    let first = left.iter().position(|walker| !walker.milked);
    let dry = first.map_or(String::new(), |at| format!(", {} dry or young", left.len() - at));
    page.line(&format!("NOT SCORED {}{dry}", left.len()), Role::Strong);
    let columns = usize::from(page.width());
    // Whoever was scored since then is not among them any more.
    let top = top.min(left.len().saturating_sub(1));
    let lines = report::flowed(left.iter().skip(top).map(|walker| report::short(walker)), columns);
    let room = usize::from(page.left());
    let shown = if lines.len() > room { room.saturating_sub(1) } else { lines.len() };
    lines.iter().take(shown).for_each(|line| page.line(line, Role::Text));
    if lines.len() > shown {
        page.line("more below", Role::Grey);
    }
}
