//! Herd lists: the files there are, and what one of them would change.

use crate::domain::herd_list::figures::Figures;
use crate::domain::herd_list::her::Her;
use crate::report::due::called;
use crate::report::safe::safe;
use crate::screen::View;
use crate::screen::pad::Plan;
use crate::screen::page::{Page, wrapped};
use crate::screen::rows::{self, Rows};
use crate::screen::theme::Role;
use crate::session::Session;
use crate::session::herd_list::{Act, Ask, missing};

/// Most animals that are named beside a question.
const NAMED: usize = 8;

/// Draws the files there are.
pub fn files(page: &mut Page<'_>, session: &Session, view: &View<'_>, cursor: usize) {
    let width = usize::from(page.width());
    for line in above(session).iter().flat_map(|line| wrapped(line, width)) {
        page.line(&line, Role::Strong);
    }
    lines(page, session, view, (named(session), cursor));
}

/// Where lists are looked for, and why one cannot be read.
pub fn above(session: &Session) -> Vec<String> {
    let files = &session.lists;
    let head = match (files.folder.is_empty(), files.names.is_empty()) {
        (true, _) => "HERD LISTS: no folder is looked in".to_owned(),
        (false, true) => format!("HERD LISTS: none lies in {} as .csv", safe(&files.folder)),
        (false, false) => format!("HERD LISTS in {}", safe(&files.folder)),
    };
    [Some(head), files.trouble.as_ref().map(|why| safe(why))].into_iter().flatten().collect()
}

/// The lines of the files: each by its name, then another one.
pub fn named(session: &Session) -> Vec<String> {
    let names = session.lists.names.iter().map(|name| safe(name));
    names.chain(["another file: type where it lies".to_owned()]).collect()
}

/// Draws what a list would change.
pub fn list(page: &mut Page<'_>, session: &Session, view: &View<'_>, cursor: usize) {
    lines(page, session, view, (said(session), cursor));
}

/// What a list would change, line by line.
pub fn said(session: &Session) -> Vec<String> {
    session.offered.as_ref().map_or(Vec::new(), |offered| offered.lines.iter().map(|line| safe(line)).collect())
}

fn lines(page: &mut Page<'_>, session: &Session, view: &View<'_>, (all, cursor): (Vec<String>, usize)) {
    let plan = Plan::of(session, view, page.width(), page.left() / 3, 0);
    let room = usize::from(page.left().saturating_sub(plan.height())).max(1);
    let columns = rows::beside(page, 0);
    let rows: Vec<Rows> = all.iter().map(|line| Rows::new(String::new(), line, role(line), columns)).collect();
    rows::draw(page, view, &rows, cursor, (0, room));
    plan.draw(page, session, view);
}

/// Headings stand in capitals.
fn role(line: &str) -> Role {
    let is_heading = !line.starts_with(' ') && !line.chars().any(char::is_lowercase);
    if is_heading { Role::Strong } else { Role::Text }
}

/// What a choice says.
pub fn act(session: &Session, act: Act) -> String {
    match act {
        Act::TakeAll => "take all of it".to_owned(),
        Act::TakeGood => "take the good rows".to_owned(),
        Act::Nothing => "take nothing".to_owned(),
        Act::AskMissing => format!("{} missing: gone?", missing(session).0.len()),
        Act::Days(Figures::MonthFirst) => "days: month first".to_owned(),
        Act::Days(Figures::DayFirst | Figures::Unsaid) => "days: day first".to_owned(),
        Act::Gone => match missing(session).0.len() {
            1 => "she is gone".to_owned(),
            more => format!("all {more} are gone"),
        },
    }
}

/// The same in fewer letters.
pub fn brief(act: Act) -> Vec<String> {
    let forms: &[&str] = match act {
        Act::TakeAll => &["take all", "all"],
        Act::TakeGood => &["good rows", "good"],
        Act::Nothing => &["nothing"],
        Act::AskMissing => &["missing"],
        Act::Days(Figures::MonthFirst) => &["month first", "m/d"],
        Act::Days(Figures::DayFirst | Figures::Unsaid) => &["day first", "d/m"],
        Act::Gone => &["gone"],
    };
    forms.iter().map(|form| (*form).to_owned()).collect()
}

/// The heading of a question.
pub fn asked(session: &Session, asked: Ask) -> String {
    let (name, counts) = session.offered.as_ref().map_or((String::new(), String::new()), |offered| {
        let bad = if offered.bad == 1 { "1 bad cell".to_owned() } else { format!("{} bad cells", offered.bad) };
        let (new, changed) = (offered.preview.new.len(), offered.preview.changed.len());
        (safe(&offered.name), format!("{new} new, {changed} changed, {bad}"))
    });
    match asked {
        Ask::Take => format!("{name}: {counts}"),
        Ask::Missing => format!("{name} does not name {}: gone?", several(missing(session).0.len())),
    }
}

fn several(count: usize) -> String {
    if count == 1 { "1 animal".to_owned() } else { format!("{count} animals") }
}

/// Who is missing, and who stays because something is on her.
pub fn note(session: &Session, asked: Ask) -> Option<String> {
    let (bare, on) = missing(session);
    match asked {
        Ask::Take => session
            .offered
            .as_ref()
            .filter(|offered| offered.preview.is_empty())
            .map(|_| "it says nothing new".to_owned()),
        Ask::Missing if on.is_empty() => Some(names(&bare)),
        Ask::Missing => Some(format!("{}; kept, since something is on: {}", names(&bare), names(&on))),
    }
}

fn names(those: &[&Her]) -> String {
    let named: Vec<String> = those.iter().take(NAMED).map(|her| called(&her.known.labels)).collect();
    let more = those.len().saturating_sub(NAMED);
    if more > 0 { format!("{}, and {more} more", named.join(", ")) } else { named.join(", ") }
}
