//! The words beside the map: what is on the feet first, last time's marks that wait for an answer, then today.

use crate::claw_map::marks::Tone;
use crate::domain::anatomy::Foot;
use crate::domain::case::Fate;
use crate::domain::flag::{Flag, flags};
use crate::domain::follow_up::list::DueItem;
use crate::domain::follow_up::{Urgency, due};
use crate::domain::history::open::{Open, OpenItem};
use crate::domain::history::{History, Turn, Verdict};
use crate::domain::vocabulary::Vocabulary;
use crate::report::disagreement;
use crate::report::due::called;
use crate::report::flag;
use crate::report::herd;
use crate::report::short::short;
use crate::report::was;
use crate::report::words::{self, Words};
use crate::screen::crush::tone;
use crate::screen::instructed::Told;
use crate::screen::page::{Page, wrapped};
use crate::screen::theme::{Role, Theme};
use crate::screen::{View, instructed, saved, words as says};
use crate::session::mode::Hand;
use crate::session::{Session, ghost};
use chrono::NaiveDate;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

/// A line and how loud it is.
pub type Line = (String, Role);

/// Writes the facts; what has no room is counted.
pub fn draw(
    buffer: &mut Buffer,
    area: Rect,
    theme: Theme,
    session: &Session,
    view: &View<'_>,
    (hand, told): (Hand, Told),
) {
    let mut page = Page::new(buffer, area, theme);
    let Some((crush, turn)) = session.turn() else { return };
    let words = says::of(session);
    let mut lines: Vec<Line> = says::later(session).into_iter().map(|text| (text, Role::Label(Tone::Warn))).collect();
    lines.extend(on_the_feet(session, &crush.history, turn, hand));
    lines.extend(about_her(&crush.history));
    lines.extend(disagreement::lines(&crush.history, words).into_iter().map(|line| (line, Role::Text)));
    lines.extend(flagged(session, &crush.history, hand));
    lines.extend(ghosts(session, view, words));
    lines.extend(today(turn, hand, words));
    lines.extend(relief(&crush.history, turn));
    lines.extend(words::doubts(&crush.history).into_iter().map(|doubt| (format!("doubtful: {doubt}"), Role::Grey)));
    let columns = usize::from(page.width());
    let all = usize::from(page.left());
    // Never among what is left out.
    let others = broken(lines.clone(), columns).len();
    let pinned = match told {
        Told::Nothing => instructed::block(session, view, hand, columns, (all, others)),
        Told::Words | Told::Dated => instructed::rest(session, view, (hand, told), columns, (all, others)),
        Told::Whole => Vec::new(),
    };
    let room = all.saturating_sub(pinned.len());
    if lines.len() > room {
        // Headings go before facts do.
        lines.retain(|(_, role)| *role != Role::Strong);
    }
    let mut lines = broken(lines, columns);
    // Where she stands in her year helps, and displaces nothing.
    let year = broken(year(&crush.history, session.today), columns);
    if lines.len() + year.len() <= room {
        lines.extend(year);
    }
    // With one row only, the loudest fact has it.
    let counted = lines.len() > room && room > 1;
    let shown = if counted { room - 1 } else { room };
    let more = counted.then(|| (format!("... {} more lines", lines.len() - shown), Role::Strong));
    for (text, role) in lines.iter().take(shown).chain(&more).chain(&pinned) {
        match role {
            // A label is as wide as its words: what is loud is then also short.
            Role::Label(_) => page.label(&format!(" {text} "), *role),
            Role::Bar | Role::Text | Role::Strong | Role::Grey | Role::Picked | Role::Key => page.line(text, *role),
        }
    }
}

/// Lines broken to the width: nothing that matters is cut at the edge.
pub fn broken(lines: Vec<Line>, columns: usize) -> Vec<Line> {
    let break_one = |(text, role): Line| {
        let room = columns.saturating_sub(if matches!(role, Role::Label(_)) { 2 } else { 1 });
        let first = text.chars().take_while(|letter| *letter == ' ').count();
        wrapped(&text, room).into_iter().enumerate().map(move |(row, part)| {
            let indent = if row == 0 { first } else { 1 };
            (format!("{}{part}", " ".repeat(indent)), role)
        })
    };
    lines.into_iter().flat_map(break_one).collect()
}

/// The foot in the hand stands before the others.
fn here_first(hand: Hand, foot: Option<Foot>) -> bool {
    hand.foot.is_some() && foot != hand.foot
}

/// What is on the feet and what the vet is to know: wraps first, most urgent first.
fn on_the_feet(session: &Session, history: &History, turn: &Turn, hand: Hand) -> Vec<Line> {
    let open = Open::of(history);
    let items = items(session, &open, hand);
    if items.is_empty() {
        return Vec::new();
    }
    let mut lines = vec![("ON THE FEET".to_owned(), Role::Strong)];
    for item in &items {
        let new = matches!(item.item, OpenItem::On { put, .. } if turn.puts.iter().any(|view| view.id == *put));
        let role = if new { Role::Text } else { Role::Label(tone(item.due.urgency)) };
        let late = if item.due.urgency >= Urgency::Late { words::urgency(item.due.urgency) } else { "" };
        lines.push((
            format!("{} {late}", short(item.open, item.item, (&session.rules, session.today), says::of(session)))
                .trim_end()
                .to_owned(),
            role,
        ));
        if let OpenItem::Vet { sign, .. } = item.item {
            lines.push((words::stop(*sign, vet_phone(session)), Role::Strong));
        }
        if let OpenItem::On { off_by: Some(promise), remover, .. } = item.item {
            let who = if remover.is_empty() { String::new() } else { format!(", {remover}") };
            lines.push((format!(" off by {}{who}", words::off_by(*promise)), Role::Text));
        }
    }
    lines
}

/// What is on the feet and what the vet is to know: wraps first, most urgent first, the foot in the hand before the others.
pub fn items<'o>(session: &Session, open: &'o Open, hand: Hand) -> Vec<DueItem<'o>> {
    let mut items: Vec<DueItem<'_>> = open
        .items
        .iter()
        .filter(|item| {
            matches!(
                item,
                OpenItem::On { .. }
                    | OpenItem::Vet { .. }
                    | OpenItem::LookSoon { .. }
                    | OpenItem::Lame { .. }
                    | OpenItem::Withheld { .. }
            )
        })
        .filter_map(|item| due(open, item, &session.rules, session.today).map(|due| DueItem { open, item, due }))
        .collect();
    items.sort_by_key(|item| {
        (std::cmp::Reverse(item.due.urgency), item.due.what, here_first(hand, item.item.place().foot()))
    });
    items
}

/// The vet's telephone number on the farm in hand; empty where nobody knows it.
pub fn vet_phone(session: &Session) -> &str {
    session.farm.as_ref().map_or("", |farm| farm.vet_phone.as_str())
}

/// Lactation, days in milk, days to calving.
fn year(history: &History, today: NaiveDate) -> Vec<Line> {
    let year = herd::year(&history.herd, today);
    if year.is_empty() { Vec::new() } else { vec![(year, Role::Grey)] }
}

/// What everybody at the crush must know of her.
fn about_her(history: &History) -> Vec<Line> {
    let mut lines = Vec::new();
    if history.kicker {
        lines.push(("KICKS".to_owned(), Role::Label(Tone::Warn)));
    }
    if let Some((why, on)) = history.left {
        lines.push((format!("{} {}", why.word().to_uppercase(), words::weekday(on)), Role::Label(Tone::Warn)));
    }
    if let Some(since) = history.cull {
        lines.push((format!("farmer said cull {}", words::weekday(since)), Role::Text));
    }
    lines.extend(moved_away(history).map(|text| (text, Role::Grey)));
    lines
}

/// Turns of hers that were another's.
pub fn moved_away(history: &History) -> impl Iterator<Item = String> {
    let told = |on, labels| format!("turn of {} moved to {}", words::weekday(on), called(labels));
    history.moved_away.iter().map(move |moved| told(moved.on, &moved.labels))
}

/// Flags in short; of the foot in the hand where one is up. The whole reason stands on Last time.
fn flagged(session: &Session, history: &History, hand: Hand) -> Vec<Line> {
    let here = |one: &Flag| hand.foot.is_none() || one.place.foot() == hand.foot;
    let flags = flags(history, session.rule_set(), session.today).into_iter().filter(here);
    flags.map(|one| (flag::short(&one, says::of(session)), Role::Label(Tone::Warn))).collect()
}

fn ghosts(session: &Session, view: &View<'_>, words: Words) -> Vec<Line> {
    let ghosts = ghost::waiting(session);
    let heading = (!ghosts.is_empty()).then(|| (says::ghosts(session, view, ghosts.len()), Role::Label(Tone::Note)));
    let lines = ghosts.iter().filter_map(|course| ghost::case(session, course.id)).map(|case| {
        let what = words::finding(case.what, case.degree, &case.words).to_lowercase();
        let days = |day: NaiveDate| (session.today - day).num_days();
        // Longer than the rule says nobody has looked: found now, it is another case.
        let age = match case.fate(session.rule_set().case.window, session.today) {
            Fate::Lost => format!("unseen {}d", days(case.last)),
            Fate::Open | Fate::Healed(_) => format!("{}d", days(case.since)),
        };
        (format!("{} {what} {age}?", words.place(case.place)), Role::Text)
    });
    heading.into_iter().chain(lines).collect()
}

/// What this turn holds; of the foot in the hand only, while one is up.
fn today(turn: &Turn, hand: Hand, words: Words) -> Vec<Line> {
    let lines = told(turn, hand.foot, words);
    let heading = match hand.foot {
        Some(foot) => format!("TODAY {}", words.foot(foot)),
        None => "TODAY".to_owned(),
    };
    let heading = (!lines.is_empty()).then_some((heading, Role::Strong));
    heading.into_iter().chain(lines.into_iter().map(|text| (text, Role::Text))).collect()
}

/// A turn in lines, newest finding first; of one foot where one is named.
pub fn told(turn: &Turn, only: Option<Foot>, words: Words) -> Vec<String> {
    let here = |foot: Option<Foot>| only.is_none() || foot == only;
    let mut lines: Vec<String> = turn
        .found
        .iter()
        .rev()
        .filter(|found| here(found.place.foot()))
        .flat_map(|found| std::iter::once(saved::whole(found, words)).chain(was::found(found, words)))
        .collect();
    let mut say = |foot: Option<Foot>, text: String| {
        if here(foot) {
            lines.push(text.trim_end().to_owned());
        }
    };
    for answer in &turn.answers {
        let verdict = match answer.verdict {
            Verdict::Outcome(outcome) => words::outcome(outcome),
            Verdict::Stage(stage) => stage.word(),
        };
        let what = answer.what.word();
        say(answer.place.foot(), format!("{} {what}: {verdict}", words.place(answer.place)));
    }
    for off in &turn.offs {
        let text = format!("{} {} {}", words.place(off.place), words::off(off.outcome), words::skin(off.skin));
        say(off.place.foot(), text);
    }
    for view in &turn.puts {
        let off = view.off_by.map_or(String::new(), |promise| format!(", off by {}", words::off_by(promise)));
        say(view.put.foot(), format!("{} {}{off}", words.place(view.put.place()), words.put(&view.put)));
        was::put(view, words).into_iter().for_each(|was| say(view.put.foot(), was));
    }
    for (_, place, how) in &turn.trims {
        say(place.foot(), format!("{} {}", words.place(*place), words::trim(*how)));
    }
    for (_, place, what, mm) in &turn.measures {
        say(place.foot(), format!("{} {} {mm} mm", words.place(*place), words::measure(*what)));
    }
    for (_, place) in &turn.sore {
        say(place.foot(), format!("{} sore to testers", words.place(*place)));
    }
    for (_, place, sign, _) in &turn.vet {
        say(place.foot(), format!("{} VET: {}", words.place(*place), words.sign(*sign)));
    }
    for (_, place, on, _) in &turn.rechecks {
        say(place.foot(), format!("{} look again {}", words.place(*place), words::weekday(*on)));
    }
    for (_, place, text) in &turn.notes {
        say(place.foot(), format!("{} note: {text}", words.place(*place)));
    }
    for (_, gait) in &turn.gaits {
        say(None, words.gait(*gait));
    }
    if let Some(from) = &turn.came_from {
        say(None, format!("came from {}", called(from)));
    }
    lines
}

fn relief(history: &History, turn: &Turn) -> Vec<Line> {
    pain_relief(history, turn).map(|text| (text.to_owned(), Role::Grey)).into_iter().collect()
}

/// What is known about pain relief; asked for where she has a block.
pub fn pain_relief(history: &History, turn: &Turn) -> Option<&'static str> {
    let blocked =
        history.open.iter().any(|item| matches!(item, OpenItem::On { what, .. } if what.place().side().is_some()));
    match (&turn.relief, blocked) {
        (Some((_, relief)), _) => Some(words::relief(*relief)),
        (None, true) => Some("pain relief: ask the vet"),
        (None, false) => None,
    }
}
