//! Lists in lines: Today, farms, what is due, farms to ring, the visit's totals, the take-off list, an earlier turn.

use super::her::counted;
use super::page::{Said, said};
use crate::domain::day_list::Came;
use crate::domain::disagreement;
use crate::domain::flag::flags;
use crate::domain::follow_up::due;
use crate::domain::follow_up::list::DueList;
use crate::domain::follow_up::list::{DueItem, loud};
use crate::domain::follow_up::review::Review;
use crate::domain::history::Turn;
use crate::domain::ids::FarmId;
use crate::domain::vocabulary::Vocabulary;
use crate::report::day_line::{Said as Reason, asked, counts};
use crate::report::day_list::farm_call;
use crate::report::due as report;
use crate::report::last::{Section, sections};
use crate::report::safe::safe;
use crate::report::words;
use crate::report::{disagreement as differing, farm, flag, short, turn, twice};
use crate::screen::View;
use crate::screen::day_list::told as told_of;
use crate::screen::words as says;
use crate::screen::{brief, herd, herd_list, instruct, last, ring, visit};
use crate::session;
use crate::session::amend::twice::offered;
use crate::session::day_list::Stands;
use crate::session::herd::Page;
use crate::session::mode::{Hand, Mode, Only};
use crate::session::ring::{Call, told, who};
use crate::session::today::shown;
use crate::session::{HerdLine, Session, farm_card, lists};

/// How the day stands, and what is to be said on Today without being asked.
pub fn today(session: &Session, view: &View<'_>) -> Vec<Said> {
    let farm = session.farm.as_ref();
    let name = farm.map_or("no farm", |farm| farm.name.as_str());
    let listed = session.herd.iter().filter(|line| line.left.is_none()).count();
    let day = words::weekday(session.today);
    let mut lines = vec![
        said("today", format!("{}, {day}: {}", safe(name), counted(listed, "animal", "animals"))),
        said("today", counts(session.day.list())),
    ];
    lines.extend(asked(session.day.list(), session.rule_set()).map(|asked| said("still here", asked)));
    lines.extend(says::recorder(session).map(|name| said("who", format!("{name} records"))));
    lines.extend(session.calls().map(|call| said("farm", farm_call(call))));
    lines.extend(paper(session));
    lines.extend(everywhere(session, view));
    if let Some(group) = session.newcomers() {
        lines.push(said("newcomers", format!("unknown numbers are new, group {}", safe(group))));
    }
    let again = lists::reviews(session, Only::Farm).into_iter();
    lines.extend(again.map(|review| said("review", format!("{}: say farm", instruct::due(session, &review)))));
    lines.extend(farm.filter(|farm| !farm.note.is_empty()).map(|farm| said("note", safe(&farm.note))));
    lines
}

/// That paper is typed up, and of which day.
pub fn paper(session: &Session) -> Option<Said> {
    session.paper.map(|_| said("paper", says::paper(session)))
}

/// Problems, backups, what is late, and what may be in the book twice.
fn everywhere(session: &Session, view: &View<'_>) -> Vec<Said> {
    let mut lines: Vec<Said> = session.faults.iter().map(|fault| said("problem", safe(fault))).collect();
    lines.extend(says::backup(session, view).map(|(text, _)| said("backup", text)));
    let late = loud(&session.open, None, &session.rules, session.today);
    lines.extend((late > 0).then(|| said("late", format!("{late} late or urgent on all farms: say due"))));
    let pairs: Vec<_> = offered(session).collect();
    lines.extend(pairs.first().map(|pair| {
        let more = if pairs.len() > 1 { format!(", {} more", pairs.len() - 1) } else { String::new() };
        said("twice", format!("{}{more}: say twice", twice::short(pair)))
    }));
    lines
}

/// The animals of Today: who waits, who has something open, the rest; with digits typed those that begin so.
pub fn herd(session: &Session, view: &View<'_>, typed: &str) -> Vec<Said> {
    let lines = shown(session, typed);
    lines.iter().enumerate().map(|(at, line)| said(format!("#{}", at + 1), animal(session, view, line))).collect()
}

/// One animal of Today: number, state, what is due on her.
fn animal(session: &Session, view: &View<'_>, line: &HerdLine) -> String {
    let name = report::called(&line.labels);
    let name = if name.is_empty() { "no number".to_owned() } else { name };
    let mut parts = vec![name];
    parts.extend(match session.stands(line) {
        Stands::Came(Came::Done) => Some("done".to_owned()),
        Stands::DoneOn(day) => Some(format!("done on {}", words::weekday(day))),
        Stands::Came(Came::NoFootUp) => Some("signed off with no foot up".to_owned()),
        Stands::Came(Came::SetAside) => Some("waits".to_owned()),
        Stands::Came(Came::InTheCrush) => Some(says::of(session).fill("in the {crush}")),
        Stands::Away => None,
    });
    parts.extend(line.left.map(|left| left.word().to_owned()));
    parts.extend(line.status.map(|status| status.word().replace('-', " ")));
    let (said, quiet) = told_of(session, view, line);
    let told: Vec<String> = said.iter().filter_map(|one| in_words(one, quiet)).collect();
    parts.extend((!told.is_empty()).then(|| told.join("; ")));
    parts.join(", ")
}

/// One reason: how urgent, then what.
fn in_words(one: &Reason, quiet: bool) -> Option<String> {
    let text = one.forms.first()?;
    Some(match one.urgency.filter(|_| !quiet) {
        Some(urgency) => format!("{}, {text}", urgency.word()),
        None => text.clone(),
    })
}

/// A number that is being typed: whom it means.
pub fn number(session: &Session, view: &View<'_>, typed: &str) -> Said {
    let lines = shown(session, typed);
    let about = format!("number {typed}");
    let earlier = lines.iter().find(|line| line.earlier.iter().any(|number| number == typed));
    said(
        about,
        match (lines.as_slice(), earlier) {
            ([], _) if session.newcomers().is_some() => "not in this herd: an empty line adds her".to_owned(),
            ([], _) => "not in this herd: say add to add her, or type another number".to_owned(),
            (_, Some(line)) => format!("she is now {}", safe(&line.labels.number)),
            ([one], None) => animal(session, view, one),
            ([first, ..], None) if first.labels.number == typed => animal(session, view, first),
            (several, None) => format!("{} begin so; #1 picks the first", counted(several.len(), "animal", "animals")),
        },
    )
}

/// What is above the farms.
pub fn above_farms(session: &Session, view: &View<'_>) -> Vec<Said> {
    let mut lines = vec![said("farms", format!("which farm? {}", words::weekday(session.today)))];
    lines.extend(everywhere(session, view));
    lines.push(said("caution", "a record and a reminder, no diagnosis: treatment and medicines belong to the vet"));
    lines
}

/// Farms to choose from, and a new one after the last.
pub fn farms(session: &Session) -> Vec<Said> {
    let told = |(at, farm): (usize, &crate::session::FarmLine)| {
        let late = loud(&session.open, Some(farm.id), &session.rules, session.today);
        let late = if late > 0 { format!(", {late} late or urgent") } else { String::new() };
        let stands = visit::stands(farm, session.today).map_or(String::new(), |text| format!(", {text}"));
        said(format!("#{}", at + 1), format!("{}{late}{stands}", safe(&farm.name)))
    };
    let new = said(format!("#{}", session.farms.len() + 1), "a new farm");
    session.farms.iter().enumerate().map(told).chain([new]).collect()
}

fn name_of(session: &Session, farm: FarmId) -> String {
    session.farms.iter().find(|line| line.id == farm).map_or(String::new(), |line| safe(&line.name))
}

/// The due list, most urgent first.
pub fn due_list(session: &Session, only: Only) -> Vec<Said> {
    let list: DueList<'_> = lists::due(session, only);
    let mut lines: Vec<Said> = list.items.iter().enumerate().map(|(at, item)| due_line(session, at, item)).collect();
    let again = lists::reviews(session, only);
    let first = list.items.len();
    lines.extend(again.iter().enumerate().map(|(at, review)| review_line(session, first + at, review)));
    if lines.is_empty() {
        lines.push(said("due", "nothing is due"));
    }
    let unseen = list.unseen.iter();
    lines.extend(unseen.map(|(farm, unseen)| said(name_of(session, *farm), report::unseen(*unseen))));
    lines
}

/// A standing instruction that is to be looked at again.
fn review_line(session: &Session, at: usize, review: &Review<'_>) -> Said {
    let (farm, state) = (name_of(session, review.farm), review.due.urgency.word());
    said(format!("#{}", at + 1), format!("farm {farm}, {state}: {}", instruct::due(session, review)))
}

/// The card of the farm in hand, line by line.
pub fn card(session: &Session) -> Vec<Said> {
    let Some(card) = &session.card else { return Vec::new() };
    let by = (session.rules.of(card.farm), session.today, says::of(session));
    let all = farm_card::lines(session).into_iter().enumerate();
    let told = |(at, one)| {
        let (about, text) = farm::line(card, one, by);
        said(format!("#{}", at + 1), format!("{}: {text}", about.trim()))
    };
    all.map(told).collect()
}

/// A page of the herd, line by line.
pub fn of_herd(session: &Session, page: &Page) -> Vec<Said> {
    let lines: Vec<String> = match page {
        Page::Animals(whom) => {
            session::herd::shown(session, whom).into_iter().map(|her| herd::in_words(session, her)).collect()
        }
        Page::Her(animal) => {
            let Some(her) = session::herd::of(session, *animal) else { return Vec::new() };
            let said = |one| herd::line(session, her, one);
            session::herd::lines(her).into_iter().map(said).map(|(about, text)| format!("{about}: {text}")).collect()
        }
        Page::Files => herd_list::named(session),
        Page::List => herd_list::said(session),
    };
    lines.into_iter().enumerate().map(|(at, line)| said(format!("#{}", at + 1), line)).collect()
}

fn due_line(session: &Session, at: usize, item: &DueItem<'_>) -> Said {
    let [_, animal, place, what, _, day, why] = report::row(item, (&session.rules, session.today), says::of(session));
    let urgency = item.due.urgency.word();
    let farm = name_of(session, item.open.farm);
    said(format!("#{}", at + 1), format!("{animal} at {farm}, {urgency}: {place}, {what} by {day}; {why}"))
}

/// Farms to ring: each farm with its number, then what is on there.
pub fn to_ring(session: &Session, calls: &[Call]) -> Vec<Said> {
    let mut lines = Vec::new();
    for (at, call) in calls.iter().enumerate() {
        if at == 0 || calls[at - 1].farm != call.farm {
            lines.extend(session.farms.iter().find(|line| line.id == call.farm).map(|line| {
                let phone = if line.phone.is_empty() { "no telephone number known" } else { &line.phone };
                let who = who(session, call.farm);
                let who = if who.is_empty() { String::new() } else { format!(", {} answers", safe(&who)) };
                said("ring", format!("{}, {}{who}", safe(&line.name), safe(phone)))
            }));
            lines.extend(ring::removers(session, calls, call.farm).into_iter().map(|[full, ..]| said("ring", full)));
        }
        lines.push(call_line(session, at, call));
    }
    let again = lists::reviews(session, Only::All).into_iter();
    lines.extend(again.map(|review| {
        said("review", format!("{}: {}", name_of(session, review.farm), instruct::due(session, &review)))
    }));
    if lines.is_empty() {
        lines.push(said("ring", "nothing is on that is due: nobody to ring"));
    }
    lines
}

fn call_line(session: &Session, at: usize, call: &Call) -> Said {
    let about = format!("#{}", at + 1);
    let open = session.open.iter().find(|open| open.animal == call.animal).zip(told(session, call));
    let Some((open, item)) = open else { return said(about, "off the list") };
    let Some(due) = due(open, item, &session.rules, session.today) else { return said(about, "off the list") };
    let item = DueItem { open, item, due };
    let on = short::short(item.open, item.item, (&session.rules, session.today), says::of(session));
    let animal = report::called(&open.labels);
    said(about, format!("{animal}, {}: {on}; {}", item.due.urgency.word(), ring::answer(item.item)))
}

/// What the keys are while farms are rung.
pub fn answers() -> Vec<Said> {
    let each = (1..=9).chain([0]).map(|key| (key, brief::answer(key)));
    each.filter_map(|(key, forms)| Some(said(format!("key {key}"), forms.first()?.clone()))).collect()
}

/// An earlier turn: whose day it was, what was found then, what changed, what was left on her.
pub fn earlier(session: &Session, view: &View<'_>, back: usize) -> (Vec<Said>, Vec<Said>) {
    let Some((crush, now)) = session.turn() else { return (Vec::new(), Vec::new()) };
    let turns: Vec<&Turn> = crush.earlier().collect();
    let Some(then) = turns.iter().rev().nth(back) else {
        return (vec![said("last time", "no earlier turn of hers is known")], Vec::new());
    };
    let days = (session.today - then.on).num_days();
    let by = last::by(session, then.by);
    let mut head = vec![
        said("last time", format!("{}, {days} days ago", words::day(then.on))),
        said("last time", last::place_in_line(view, (back, turns.len()))),
    ];
    head.extend(super::her::instructed(session, session.mode.hand().unwrap_or(Hand::DOWN)));
    let words = says::of(session);
    let found = turn::lines(then, words).into_iter().map(|text| said("then", safe(&text)));
    let flags = flags(&crush.history, session.rule_set(), session.today);
    let flags = flags.iter().map(|one| said("flag", flag::line(one, words)));
    let differ = disagreement::of(&crush.history).into_iter().filter(|differ| differ.on == then.on);
    let differ = differ.map(|differ| said("look again", differing::line(&differ, words)));
    let changes = crush.history.changes(then.id, session.rule_set().case.window);
    let since =
        sections(&crush.history, (then, by), (Some(now), session.today), &changes, words).into_iter().flat_map(section);
    (head, flags.chain(differ).chain(found).chain(since).collect())
}

/// A heading in capitals is what its lines are about; what follows the capitals is a line of its own.
fn section(section: Section) -> Vec<Said> {
    let is_loud = |word: &&str| !word.chars().any(|letter| letter.is_lowercase() || letter.is_ascii_digit());
    let about: Vec<&str> = section.head.split(' ').take_while(is_loud).collect();
    let about = about.join(" ");
    let rest = section.head[about.len()..].trim().to_owned();
    let about = about.to_lowercase();
    let first = (!rest.is_empty()).then(|| said(about.clone(), rest));
    first.into_iter().chain(section.lines.into_iter().map(|text| said(about.clone(), text))).collect()
}

/// The line of a list that is picked, where it has a cursor.
pub fn picked(session: &Session, view: &View<'_>) -> Option<Said> {
    let nth = |lines: Vec<Said>, at: usize| lines.into_iter().nth(at);
    match &session.mode {
        Mode::Today { typed, cursor } => {
            let at = crate::session::today::picked(typed, *cursor)?;
            let line = shown(session, typed).get(at).map(|line| animal(session, view, line))?;
            Some(said(format!("picked #{}", at + 1), line))
        }
        Mode::Farms { cursor } => nth(farms(session), *cursor).map(|line| line.picked()),
        Mode::Due { cursor, only, .. } => {
            let list = lists::due(session, *only);
            let again = lists::reviews(session, *only);
            let item = list.items.get(*cursor).map(|item| due_line(session, *cursor, item));
            let at = cursor.checked_sub(list.items.len());
            let review = at.and_then(|at| again.get(at)).map(|review| review_line(session, *cursor, review));
            item.or(review).map(Said::picked)
        }
        Mode::Card { cursor, .. } => nth(card(session), *cursor).map(Said::picked),
        Mode::Herd { page, cursor, .. } => nth(of_herd(session, page), *cursor).map(Said::picked),
        Mode::Ring { lines, cursor, .. } => lines.get(*cursor).map(|call| call_line(session, *cursor, call).picked()),
        Mode::Walk(_)
        | Mode::Crush(_)
        | Mode::Pad { .. }
        | Mode::SignOff { .. }
        | Mode::Last { .. }
        | Mode::Always { .. }
        | Mode::Text { .. }
        | Mode::Paper { .. }
        | Mode::Totals { .. }
        | Mode::Help { .. } => None,
    }
}
