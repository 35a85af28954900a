//! The lines of Today: who comes next and why, as many reasons in a row as there is room for; of whoever is picked all of them.

use crate::domain::day_list::Came;
use crate::domain::follow_up::Urgency;
use crate::domain::follow_up::list::{DueItem, worst};
use crate::domain::herd::Status;
use crate::domain::history::open::OpenItem;
use crate::domain::hours;
use crate::report::day_line::{self, Said};
use crate::report::safe::{column, safe, whole};
use crate::report::words;
use crate::screen::crush::tone;
use crate::screen::page::{Page, wrapped};
use crate::screen::theme::Role;
use crate::screen::{View, words as says};
use crate::session::day_list::Stands;
use crate::session::today::picked;
use crate::session::touch::Target;
use crate::session::{HerdLine, Session};
use chrono::NaiveDate;
use unicode_width::UnicodeWidthStr;

/// Columns from which the heads of the columns stand beside how the day stands.
const WIDE: u16 = 76;
/// Columns of a number and of a state, narrow and wide.
const COLUMNS: [usize; 2] = [8, 11];

/// Draws how the day stands and the lines, the picked one among them.
pub fn draw(page: &mut Page<'_>, session: &Session, view: &View<'_>, lines: &[&HerdLine], at: (&str, usize)) {
    let heads = if page.width() < WIDE { String::new() } else { format!("  {:11} {:11} ", "number", "state") };
    let counts = day_line::counts_within(session.day.list(), usize::from(page.width()).saturating_sub(heads.len()));
    page.line(&format!("{heads}{counts}"), Role::Grey);
    let room = usize::from(page.left());
    let here = picked(at.0, at.1);
    let more = here.and_then(|at| lines.get(at)).map_or(Vec::new(), |line| all_of_it(page, session, view, line));
    let more = &more[..more.len().min(room.saturating_sub(1))];
    let below = (here.map_or(0, |at| at + 1) + more.len()).saturating_sub(room);
    for (index, line) in lines.iter().enumerate().skip(below).take(room) {
        view.note(page.ahead(0, usize::from(page.width()), 1), Target::Line(index));
        row(page, session, view, line, here == Some(index));
        if here == Some(index) {
            more.iter().for_each(|line| page.line(&format!("    {line}"), Role::Text));
        }
    }
}

/// What is said of an animal, and whether it is said quietly: she is done, or left for now.
pub fn told(session: &Session, view: &View<'_>, line: &HerdLine) -> (Vec<Said>, bool) {
    let (by, words) = ((&session.rules, session.today), says::of(session));
    let open = session.open.iter().find(|open| open.animal == line.id);
    let item = || open.and_then(|open| worst(open, &session.rules, session.today));
    let item =
        || item().filter(|item| item.due.urgency > Urgency::Coming).map(|item| day_line::known(&item, by, words));
    let done = session.stands(line).is_done() && session.asked_for(line.id).is_none();
    let at = hours::read_at(view.now, session.today);
    let listed = session.day.line(line.id).map(|(_, listed)| day_line::reasons(listed, by, at, words));
    match listed {
        Some(reasons) if done => match item() {
            Some(item) => (vec![item], false),
            None => (reasons, true),
        },
        Some(reasons) if !reasons.is_empty() => {
            let beside = open.into_iter().flat_map(|open| &open.items).filter_map(|item| beside(session, line, item));
            (reasons.into_iter().chain(beside).collect(), false)
        }
        Some(_) | None => match (item(), session.day.spared(line.id)) {
            (Some(item), _) => (vec![item], false),
            (None, Some((_, spared))) => (vec![day_line::spared(spared)], true),
            (None, None) => match session.day.still_here(line.id) {
                Some((_, unseen)) => (vec![day_line::still_here(unseen)], true),
                None => (Vec::new(), false),
            },
        },
    }
}

/// What stands on no list of the day, since it needs no crush, and is to be known all the same.
fn beside(session: &Session, line: &HerdLine, item: &OpenItem) -> Option<Said> {
    let open = session.open.iter().find(|open| open.animal == line.id)?;
    match item {
        OpenItem::Withheld { .. } | OpenItem::Vet { .. } => {
            let due = crate::domain::follow_up::due(open, item, &session.rules, session.today)?;
            let known =
                day_line::known(&DueItem { open, item, due }, (&session.rules, session.today), says::of(session));
            known.urgency.is_some().then_some(known)
        }
        OpenItem::On { .. }
        | OpenItem::LookSoon { .. }
        | OpenItem::Recheck { .. }
        | OpenItem::SetByHand { .. }
        | OpenItem::Lame { .. } => None,
    }
}

/// Where her turn of the day stands; else what she is.
fn state(session: &Session, line: &HerdLine) -> String {
    match (session.stands(line), line.left, line.status) {
        (Stands::Came(Came::Done), _, _) => "done".to_owned(),
        (Stands::DoneOn(on), _, _) => done_on(on, session.today),
        (Stands::Came(Came::NoFootUp), _, _) => "none up".to_owned(),
        (Stands::Came(Came::SetAside), _, _) => "WAITS".to_owned(),
        (Stands::Came(Came::InTheCrush), _, _) => says::of(session).fill("in {crush}"),
        (Stands::Away, Some(_), _) => "gone".to_owned(),
        (Stands::Away, None, Some(Status::Dry)) => "dry".to_owned(),
        (Stands::Away, None, Some(Status::Heifer)) => "heifer".to_owned(),
        (Stands::Away, None, Some(Status::InMilk | Status::Male) | None) => String::new(),
    }
}

/// Within a week the name of a day tells which it was.
fn done_on(on: NaiveDate, today: NaiveDate) -> String {
    let day = words::weekday(on);
    let (weekday, date) = day.split_once(' ').unwrap_or((&day, ""));
    format!("done {}", if (today - on).num_days() < 7 { weekday } else { date })
}

/// What tells her from others of her number: name, tag, electronic number, an earlier one.
fn apart(session: &Session, line: &HerdLine) -> Option<String> {
    let number = &line.labels.number;
    let same: Vec<&HerdLine> =
        session.herd.iter().filter(|other| other.left.is_none() && other.labels.number == *number).collect();
    let at = same.iter().position(|other| other.id == line.id).filter(|_| same.len() > 1 && !number.is_empty())?;
    let labels = &line.labels;
    let told = [("", &labels.name), ("tag ", &labels.tag), ("no. ", &labels.electronic)];
    let was = line.earlier.first().map(|was| format!("was {was}"));
    let told = told.iter().find(|(_, text)| !text.is_empty()).map(|(head, text)| format!("{head}{text}")).or(was);
    // With nothing on her to tell them apart, who was entered first.
    Some(safe(&told.unwrap_or_else(|| format!("{} of {}", at + 1, same.len()))))
}

/// Her number and her state, and what tells her from others of her number.
fn head(page: &Page<'_>, session: &Session, line: &HerdLine, picked: bool) -> (String, String) {
    let columns = COLUMNS[usize::from(page.width() >= WIDE)];
    let number = if line.labels.number.is_empty() { "no number" } else { &line.labels.number };
    // A number is never cut: half a number is another animal's.
    let number = safe(number);
    let number = column(&number, columns.max(number.width()));
    let mark = if picked { ">" } else { " " };
    let state = state(session, line);
    let head = format!("{mark} {number} {} ", column(&state, columns.max(state.width())));
    (head, apart(session, line).map_or(String::new(), |text| format!("{text} ")))
}

fn row(page: &mut Page<'_>, session: &Session, view: &View<'_>, line: &HerdLine, picked: bool) {
    let (head, apart) = head(page, session, line, picked);
    let role = if picked { Role::Picked } else { Role::Text };
    let (said, quiet) = told(session, view, line);
    let room = usize::from(page.width()).saturating_sub(head.width() + apart.width());
    let (pieces, _) = fitted(&said, quiet, room);
    let head = [(head.as_str(), role), (apart.as_str(), role)];
    let all: Vec<(&str, Role)> =
        head.into_iter().chain(pieces.iter().map(|(text, role)| (text.as_str(), *role))).collect();
    page.pieces(&all);
}

/// All that is said of whoever is picked, where her row had no room for it.
fn all_of_it(page: &Page<'_>, session: &Session, view: &View<'_>, line: &HerdLine) -> Vec<String> {
    let (head, apart) = head(page, session, line, true);
    let (said, quiet) = told(session, view, line);
    let room = usize::from(page.width()).saturating_sub(head.width() + apart.width());
    if fitted(&said, quiet, room).1 {
        return Vec::new();
    }
    let lines = said.iter().filter_map(|one| one.forms.first().map(|form| signed(one, form, quiet)));
    lines.flat_map(|text| wrapped(&text, usize::from(page.width()).saturating_sub(5))).collect()
}

type Piece = (String, Role);

/// Reasons in one row, and whether all is said: in the longest form in which all have room, else those that have, and how many
/// more there are. No word is cut.
fn fitted(said: &[Said], quiet: bool, room: usize) -> (Vec<Piece>, bool) {
    let longest = said.iter().map(|one| one.forms.len()).max().unwrap_or(0);
    let width = |pieces: &[Piece]| pieces.iter().map(|(text, _)| text.width()).sum::<usize>();
    let all: Vec<&Said> = said.iter().collect();
    for form in 0..longest {
        let pieces = pieces(&all, form, quiet);
        if width(&pieces) <= room {
            return (pieces, form == 0);
        }
    }
    let Some(first) = said.first() else { return (Vec::new(), true) };
    let with_rest = |shown: &[&Said]| {
        let mut pieces = pieces(shown, longest, quiet);
        let rest = said.len() - shown.len();
        pieces.extend((rest > 0).then(|| (format!(" +{rest}"), Role::Text)));
        pieces
    };
    // The most pressing always, then whichever still have room.
    let mut shown = vec![first];
    for one in &said[1..] {
        shown.push(one);
        if width(&with_rest(&shown)) > room {
            shown.pop();
        }
    }
    let mut pieces = with_rest(&shown);
    if let (1, Some((text, _))) = (shown.len(), pieces.first_mut()) {
        let rest = if said.len() > 1 { format!(" +{}", said.len() - 1).width() } else { 0 };
        let sign = |form: &String| format!(" {} ", signed(first, form, quiet).trim());
        let least = first.least.iter().map(sign).find(|form| form.width() + rest <= room);
        if let Some(least) = least.filter(|_| text.width() + rest > room) {
            *text = least;
        } else if text.width() + rest > room {
            *text = format!("{}... ", whole(text, room.saturating_sub(rest + 4)));
        }
    }
    (pieces, false)
}

/// Each reason as it is drawn: what is due is a label with its sign, the rest is text with marks between.
fn pieces(said: &[&Said], form: usize, quiet: bool) -> Vec<Piece> {
    let plain = if quiet { Role::Grey } else { Role::Text };
    let mut pieces: Vec<Piece> = Vec::new();
    for one in said {
        let Some(text) = one.forms.get(form).or(one.forms.last()) else { continue };
        let text = signed(one, text, quiet);
        match (one.urgency.filter(|_| !quiet), pieces.last()) {
            (Some(urgency), before) => {
                // Two labels side by side would be one.
                let apart = before.is_some().then(|| (" ".to_owned(), plain));
                pieces.extend(apart);
                pieces.push((format!(" {text} "), Role::Label(tone(urgency))));
            }
            (None, None | Some((_, Role::Label(_)))) => pieces.push((format!(" {text}"), plain)),
            (None, Some(_)) => pieces.push((format!("; {text}"), plain)),
        }
    }
    pieces
}

fn signed(one: &Said, text: &str, quiet: bool) -> String {
    match one.urgency.filter(|_| !quiet) {
        Some(urgency) => format!("{}  {text}", words::urgency(urgency)),
        None => text.to_owned(),
    }
}
