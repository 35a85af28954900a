//! The pad: what each key does now, three by four in the very geometry of the keys; where no form of the words has room, one
//! choice a line.

use crate::claw_map::marks::Tone;
use crate::keys::context::Context;
use crate::keys::intent::Intent;
use crate::keys::key::Key;
use crate::keys::keymap::Resolution;
use crate::keys::table;
use crate::report::safe::column;
use crate::screen::cells::{Block, Cell, KEYS};
use crate::screen::page::{Page, wrapped};
use crate::screen::theme::Role;
use crate::screen::{View, amend as screen_amend, brief, lists, words};
use crate::session::Session;
use crate::session::act::{Ask, Choice};
use crate::session::amend;
use crate::session::choices::{DOT, choices};
use crate::session::mode::Mode;
use crate::session::today::shown;
use crate::session::touch::{Target, does};
use crate::session::walk::{bearers, scale};
use unicode_width::UnicodeWidthStr;

/// What stands on the pad, laid out for a room.
pub struct Plan {
    /// Question, what is said aloud, what is worth knowing.
    head: Vec<(String, Role)>,
    body: Body,
    /// Keys outside the block, side by side.
    tail: Vec<Vec<Word>>,
}

/// A key outside the block: its words and what a tap on them means.
type Word = (String, Option<Target>);
/// The cells of the block, as the keys lie.
type Cells = [[Option<Cell>; 3]; 4];

enum Body {
    Cells(Block),
    /// One choice a line, or two.
    Lines(Vec<Vec<Listed>>),
    /// Two beside each other take all the room there is.
    Beside,
    /// A text is typed.
    Text,
}

/// A choice in a line: its key, its words padded to their column, what a tap means.
struct Listed {
    key: String,
    words: String,
    target: Target,
}

impl Plan {
    /// Lays the pad out in so many columns and at most so many rows; some of them are left free where they can be.
    pub fn of(session: &Session, view: &View<'_>, width: u16, height: u16, free: u16) -> Plan {
        let (columns, rows, free) = (usize::from(width), usize::from(height), usize::from(free));
        match &session.mode {
            Mode::Pad { ask: Ask::Amend(amend::Ask::Which(_, _) | amend::Ask::Twice(_)), .. } => {
                Plan { head: Vec::new(), body: Body::Beside, tail: Vec::new() }
            }
            Mode::Pad { ask, .. } => asked(session, view, ask, columns, (rows, free)),
            Mode::Text { what, .. } => {
                let head = wrapped(&words::prompt(session, what), columns).into_iter();
                Plan { head: head.map(|line| (line, Role::Strong)).collect(), body: Body::Text, tail: Vec::new() }
            }
            Mode::Today { .. }
            | Mode::Walk(_)
            | Mode::Farms { .. }
            | Mode::Crush(_)
            | Mode::SignOff { .. }
            | Mode::Card { .. }
            | Mode::Herd { .. }
            | Mode::Due { .. }
            | Mode::Ring { .. }
            | Mode::Paper { .. }
            | Mode::Totals { .. }
            | Mode::Last { .. }
            | Mode::Always { .. }
            | Mode::Help { .. } => keys(session, view, (columns, rows), free),
        }
    }

    /// Rows it takes.
    pub fn height(&self) -> u16 {
        let body = match &self.body {
            Body::Cells(block) => block.height(),
            Body::Lines(lines) => lines.len(),
            Body::Beside => return u16::MAX,
            Body::Text => lists::TEXT_ROWS,
        };
        u16::try_from(self.head.len() + body + self.tail.len()).unwrap_or(u16::MAX)
    }

    /// Whether choices stand one a line, for want of room in the geometry of the keys.
    pub fn is_listed(&self) -> bool {
        matches!(&self.body, Body::Lines(lines) if !lines.is_empty())
    }

    /// Draws it.
    pub fn draw(&self, page: &mut Page<'_>, session: &Session, view: &View<'_>) {
        for (text, role) in &self.head {
            match role {
                Role::Label(_) => page.label(text, *role),
                Role::Bar | Role::Text | Role::Strong | Role::Grey | Role::Picked | Role::Key => page.line(text, *role),
            }
        }
        match (&self.body, &session.mode) {
            (Body::Cells(block), _) => block.draw(page, session.selected, &|area, target| view.note(area, target)),
            (Body::Lines(lines), _) => lines.iter().for_each(|line| listed(page, session, view, line)),
            (Body::Beside, Mode::Pad { ask: Ask::Amend(asked), .. }) => {
                screen_amend::draw(page, session, view, asked);
            }
            (Body::Text, Mode::Text { text, .. }) => lists::text(page, text, view),
            (Body::Beside | Body::Text, _) => {}
        }
        for line in &self.tail {
            tail(page, session, view, line);
        }
    }
}

/// Draws the pad over a page of its own.
pub fn draw(page: &mut Page<'_>, session: &Session, view: &View<'_>) {
    Plan::of(session, view, page.width(), page.left(), 0).draw(page, session, view);
}

/// A question with its choices.
fn asked(session: &Session, view: &View<'_>, ask: &Ask, columns: usize, (rows, free): (usize, usize)) -> Plan {
    let mut head: Vec<(String, Role)> =
        wrapped(&words::title(session, ask), columns).into_iter().map(|line| (line, Role::Strong)).collect();
    for shout in words::shouts(ask) {
        let parts = wrapped(&shout, columns.saturating_sub(2));
        head.extend(parts.into_iter().map(|part| (format!(" {part} "), Role::Label(Tone::Alarm))));
    }
    // A note, never a refusal.
    let note = words::note(session, ask).map_or(Vec::new(), |note| wrapped(&note, columns));
    head.extend(note.into_iter().map(|line| (line, Role::Grey)));
    let list = choices(session, ask);
    let room = rows.saturating_sub(head.len());
    let cells = of_choices(session, view, ask, &list);
    let fitted = |room| Block::fitted(&cells, columns, room);
    let body = match fitted(room.saturating_sub(free)).or_else(|| fitted(room)) {
        Some(block) => Body::Cells(block),
        None => Body::Lines(in_lines(session, view, ask, &list, (columns, room))),
    };
    Plan { head, body, tail: Vec::new() }
}

/// The choices on their keys, and what going on does on Enter.
fn of_choices(session: &Session, view: &View<'_>, ask: &Ask, list: &[Choice]) -> Cells {
    KEYS.map(|row| {
        row.map(|letter| match letter {
            '\n' => Some(Cell {
                key: label(view, letter),
                forms: brief::go_on(ask).iter().map(|text| (*text).to_owned()).collect(),
                target: Some(Target::Wish(Intent::GoOn)),
            }),
            _ => list.iter().find(|choice| letter_of(choice.key) == letter).map(|choice| Cell {
                key: label(view, letter),
                forms: brief::forms(session, &choice.act),
                target: Some(target_of(choice.key)),
            }),
        })
    })
}

fn target_of(key: u8) -> Target {
    Target::Wish(if key == DOT { Intent::PickDot } else { Intent::Pick(key) })
}

/// Choices one a line in full, else in brief, else two a line.
fn in_lines(
    session: &Session,
    view: &View<'_>,
    ask: &Ask,
    list: &[Choice],
    (columns, rows): (usize, usize),
) -> Vec<Vec<Listed>> {
    let go_on = view.keymap.keys_for(Context::Pad, Intent::GoOn).into_iter().next().unwrap_or_default();
    let back = || Listed {
        key: go_on.clone(),
        words: format!(" {}", brief::go_on(ask).first().unwrap_or(&"back")),
        target: Target::Wish(Intent::GoOn),
    };
    let one = |choice: &Choice, words: &str, wide: usize| Listed {
        key: label(view, letter_of(choice.key)),
        words: column(&format!(" {words}"), wide.saturating_sub(1)),
        target: target_of(choice.key),
    };
    let mut full: Vec<Vec<Listed>> = Vec::new();
    for choice in list {
        let parts = wrapped(&words::act(session, &choice.act), columns.saturating_sub(2));
        for (row, part) in parts.iter().enumerate() {
            let mut line = one(choice, part, columns);
            if row > 0 {
                line.key = " ".to_owned();
            }
            full.push(vec![line]);
        }
    }
    let mut lines = match full.len() < rows {
        true => full,
        false => {
            let side = if list.len() < rows { 1 } else { 2 };
            let wide = columns / side;
            let fitting = |choice: &Choice| {
                let forms = brief::forms(session, &choice.act);
                let fits = forms.iter().find(|form| form.width() + 2 <= wide).or(forms.last());
                fits.cloned().unwrap_or_default()
            };
            list.chunks(side)
                .map(|some| some.iter().map(|choice| one(choice, &fitting(choice), wide)).collect())
                .collect()
        }
    };
    lines.push(vec![back()]);
    lines
}

fn listed(page: &mut Page<'_>, session: &Session, view: &View<'_>, line: &[Listed]) {
    let mut left = 0;
    let mut pieces: Vec<(&str, Role)> = Vec::new();
    for one in line {
        let wide = one.key.width() + one.words.width();
        view.note(page.ahead(left, wide, 1), one.target);
        left += wide;
        let picked = session.selected == Some(one.target);
        let role = |role| if picked { Role::Picked } else { role };
        pieces.push((&one.key, role(if one.key == " " { Role::Text } else { Role::Key })));
        pieces.push((&one.words, role(Role::Text)));
    }
    page.pieces(&pieces);
}

/// What stands on a key of the block: the letter of the hand that is free where digits lie on letters, else the key of a keypad.
fn label(view: &View<'_>, letter: char) -> String {
    let (context, intent) = match letter.to_digit(10).and_then(|digit| u8::try_from(digit).ok()) {
        Some(digit) => (Context::Today, Intent::Digit(digit)),
        None if letter == '.' => (Context::Pad, Intent::PickDot),
        None => (Context::Pad, Intent::GoOn),
    };
    let key = view.keymap.keys_for(context, intent).into_iter().next().unwrap_or_default();
    match key.as_str() {
        "Enter" => "En".to_owned(),
        "Space" => "Sp".to_owned(),
        one if one.chars().count() == 1 => key,
        _ => letter.to_string(),
    }
}

fn letter_of(key: u8) -> char {
    if key == DOT { '.' } else { char::from(b'0' + key.min(9)) }
}

/// The block of the present keymap, and the keys outside it.
fn keys(session: &Session, view: &View<'_>, (columns, all): (usize, usize), free: usize) -> Plan {
    let rows = all.saturating_sub(free);
    let cells = KEYS.map(|row| row.map(|letter| now(session, view, letter)));
    // While keys wait, only what comes after them counts.
    let others = if session.pending.is_empty() { others(session, view) } else { Vec::new() };
    let mut tail = flowed(others, columns);
    tail.truncate(if columns < 30 { 1 } else { 3 });
    while !tail.is_empty() && rows < tail.len() + 5 {
        tail.pop();
    }
    // Where the room is narrow what is known of her needs it more than longer words do.
    // As high as a question there, or as low as can be.
    let narrow = if rows >= 12 { 7 } else { 4 };
    let most = if columns < 30 { narrow } else { rows };
    let most = most.min(rows.saturating_sub(tail.len()));
    let fitted = |rows| Block::fitted(&cells, columns, rows);
    // What is known of her gives way before the pad does.
    let in_turn = [most, rows.saturating_sub(tail.len()), all.saturating_sub(tail.len())];
    let body = match in_turn.into_iter().find_map(fitted) {
        Some(block) => Body::Cells(block),
        None => Body::Lines(Vec::new()),
    };
    Plan { head: Vec::new(), body, tail }
}

/// What a key of the block does here and now, after the keys that wait; none where it does nothing.
fn now(session: &Session, view: &View<'_>, letter: char) -> Option<Cell> {
    let context = session.mode.context();
    let label = label(view, letter);
    let key = match (label.as_str(), label.chars().next()) {
        ("Sp", _) => Key::Char(' '),
        ("En", _) | (_, None) => Key::Enter,
        (_, Some(letter)) => Key::Char(letter),
    };
    let (forms, target) = match view.keymap.resolve(context, &session.pending, key) {
        Resolution::Found(Intent::Digit(digit)) => (leads_to(session, digit), Target::Wish(Intent::Digit(digit))),
        Resolution::Found(intent) => {
            let row = table::row_in(context, intent)?;
            if !does(session, intent, &view.stamp(session)) {
                return None;
            }
            let forms = match (context, intent) {
                (Context::Ring, Intent::Pick(key)) => brief::answer(key),
                _ => brief::wish(session, context, intent, row.short),
            };
            (forms, Target::Wish(intent))
        }
        Resolution::Pending => (vec!["more".to_owned()], Target::Begin(key)),
        Resolution::Unbound | Resolution::Cancelled => return None,
    };
    Some(Cell { key: label, forms, target: Some(target) })
}

/// Whom one digit more leads to: her number where she is the only one, else how many there are.
fn leads_to(session: &Session, digit: u8) -> Vec<String> {
    let typed = match &session.mode {
        Mode::Today { typed, .. } => typed,
        // Behind a whole number comes its score.
        Mode::Walk(walking) if walking.picked.is_some() || !bearers(session, &walking.typed).is_empty() => {
            return if scale(session).range().contains(&digit) {
                vec!["score".to_owned()]
            } else {
                vec![String::new()]
            };
        }
        Mode::Walk(walking) => &walking.typed,
        _ => return vec![String::new()],
    };
    let longer = format!("{typed}{digit}");
    match shown(session, &longer).as_slice() {
        [] => vec![String::new()],
        [only] => vec![crate::report::safe::safe(&only.labels.number), "one".to_owned()],
        several => vec![format!("{} begin so", several.len()), format!("({})", several.len())],
    }
}

/// Keys outside the block, the most needed first.
fn others(session: &Session, view: &View<'_>) -> Vec<Word> {
    let context = session.mode.context();
    let wanted: &[Intent] = match context {
        Context::Today => &[Intent::Add, Intent::Visit, Intent::Totals, Intent::Left, Intent::NewNumber, Intent::Ring],
        Context::List => &[Intent::Add, Intent::TakeOff, Intent::Left, Intent::Only, Intent::Ring, Intent::Paper],
        Context::Animal
        | Context::Foot
        | Context::Pad
        | Context::SignOff
        | Context::Ring
        | Context::Text
        | Context::Help => &[
            Intent::PutOn,
            Intent::TakeOff,
            Intent::WholeFoot,
            Intent::SameOtherClaw,
            Intent::SameOtherHind,
            Intent::Trim,
            Intent::GotAway,
            Intent::Note,
        ],
    };
    let block: Vec<String> = KEYS.as_flattened().iter().map(|letter| label(view, *letter)).collect();
    let mut list: Vec<Word> = wanted
        .iter()
        .filter_map(|intent| {
            let row = table::row_in(context, *intent).filter(|_| does(session, *intent, &view.stamp(session)))?;
            let word = key_word(view, context, *intent, &words::of(session).fill(row.short))?;
            // What stands in the block is not said twice.
            let in_block = word.0.split_once(' ').is_some_and(|(key, _)| block.iter().any(|known| known == key));
            (!in_block).then_some(word)
        })
        .collect();
    // The star of a keypad, and the keys of one hand that stand for it.
    let stars = [Key::Char('*'), Key::Tab, Key::Char('n')];
    let star = stars.into_iter().find(|star| view.keymap.resolve(context, &[], *star) == Resolution::Pending);
    list.extend(star.map(|star| (format!("{star} more"), Some(Target::Begin(star)))));
    list
}

/// A key and its word.
fn key_word(view: &View<'_>, context: Context, intent: Intent, word: &str) -> Option<Word> {
    let key = view.keymap.keys_for(context, intent).into_iter().next()?;
    Some((format!("{key} {word}"), Some(Target::Wish(intent))))
}

/// Words side by side, two blanks between them, as many lines as that takes.
fn flowed(all: Vec<Word>, columns: usize) -> Vec<Vec<Word>> {
    let mut lines: Vec<Vec<Word>> = Vec::new();
    let mut used = usize::MAX;
    for word in all {
        let wide = word.0.width();
        match lines.last_mut() {
            Some(line) if used + 2 + wide <= columns => {
                used += 2 + wide;
                line.push(word);
            }
            Some(_) | None => {
                used = wide;
                lines.push(vec![word]);
            }
        }
    }
    lines
}

fn tail(page: &mut Page<'_>, session: &Session, view: &View<'_>, line: &[Word]) {
    let mut left = 0;
    let mut pieces: Vec<(&str, Role)> = Vec::new();
    for (text, target) in line {
        if left > 0 {
            pieces.push(("  ", Role::Grey));
            left += 2;
        }
        if let Some(target) = target {
            view.note(page.ahead(left, text.width(), 1), *target);
        }
        let picked = target.is_some() && session.selected == *target;
        pieces.push((text, if picked { Role::Picked } else { Role::Grey }));
        left += text.width();
    }
    page.pieces(&pieces);
}
