//! The animal in the crush in sentences: what is on her first, marks of last time, what was recorded, the foot in the hand.

use super::lists;
use super::page::{Said, said};
use crate::domain::anatomy::{Foot, Place};
use crate::domain::case::{Case, Fate};
use crate::domain::finding::{Degree, Grade};
use crate::domain::flag::flags;
use crate::domain::follow_up::list::DueItem;
use crate::domain::history::open::{Open, OpenItem};
use crate::domain::history::{History, Turn};
use crate::domain::instruction::Instruction;
use crate::domain::vocabulary::Vocabulary;
use crate::report::due::reason;
use crate::report::farm::no_vet;
use crate::report::words::{self, Words};
use crate::report::{animal, disagreement, flag};
use crate::screen::words::{self as says, of};
use crate::screen::{always, facts, instructed};
use crate::session::mode::Hand;
use crate::session::{Session, ghost};

/// All that is to be known of her, what is on her first; of one foot only, where one is up.
pub fn whole(session: &Session, hand: Hand) -> Vec<Said> {
    let Some((crush, turn)) = session.turn() else {
        return vec![said("her", of(session).fill("she is not in the {crush} any more: go back"))];
    };
    let mut lines = if hand.foot.is_none() { vec![who(session, &crush.history)] } else { Vec::new() };
    lines.extend(lists::paper(session));
    lines.extend(says::later(session).map(|text| said("paper", text)));
    lines.extend(on_the_feet(session, &crush.history, hand));
    if hand.foot.is_none() {
        lines.extend(facts::moved_away(&crush.history).map(|text| said("moved", text)));
        lines.extend(disagreement::lines(&crush.history, of(session)).into_iter().map(|text| said("look again", text)));
    }
    lines.extend(flagged(session, &crush.history, hand));
    lines.extend(instructed(session, hand));
    lines.extend(old_marks(session, hand.foot));
    lines.extend(facts::told(turn, hand.foot, of(session)).into_iter().map(|text| said("today", text)));
    lines.extend(facts::pain_relief(&crush.history, turn).map(|text| said("relief", text)));
    if hand.foot.is_none() {
        lines.extend(words::doubts(&crush.history).into_iter().map(|text| said("doubtful", text)));
    }
    lines
}

fn who(session: &Session, history: &History) -> Said {
    let farm = session.farm.as_ref().map_or("", |farm| farm.name.as_str());
    let told = format!("{}, {}", animal::head(history, farm), words::weekday(session.today));
    said(of(session).fill("in the {crush}"), told)
}

/// What is on the feet; with a foot up only what is on that one.
fn on_the_feet(session: &Session, history: &History, hand: Hand) -> Vec<Said> {
    let open = Open::of(history);
    let here = |item: &DueItem<'_>| hand.foot.is_none() || item.item.place().foot() == hand.foot;
    facts::items(session, &open, hand).iter().filter(|item| here(item)).flat_map(|item| on(session, item)).collect()
}

/// Whether an animal is in the crush of whom something is to be heard first.
pub fn has_something_on(session: &Session) -> bool {
    let Some((crush, _)) = session.turn() else { return false };
    !facts::items(session, &Open::of(&crush.history), Hand::DOWN).is_empty()
}

/// One item: where, how urgent, what to do by when, and why.
fn on(session: &Session, item: &DueItem<'_>) -> Vec<Said> {
    let words = of(session);
    let about = format!("on her, {}", words.foot_of(item.item.place()));
    let about = if item.item.place().foot().is_some() { about } else { "on her".to_owned() };
    let why = reason(item.open, item.item, (&session.rules, session.today), words);
    let what = words.what(item.due.what);
    let mut lines =
        vec![said(about, format!("{why}; {what} by {}: {}", words::weekday(item.due.day), item.due.urgency.word()))];
    if let OpenItem::Vet { sign, .. } = item.item {
        lines.push(said("stop", words::stop(*sign, facts::vet_phone(session))));
    }
    lines
}

fn flagged(session: &Session, history: &History, hand: Hand) -> Vec<Said> {
    let flags = flags(history, session.rule_set(), session.today);
    let here = flags.iter().filter(|one| hand.foot.is_none() || one.place.foot() == hand.foot);
    here.map(|one| said("flag", flag::line(one, of(session)))).collect()
}

/// What is always done at what is in the hand, and how much more there is for the other claw, or for some of the feet while none is up.
pub fn instructed(session: &Session, hand: Hand) -> Vec<Said> {
    let here = instructed::here(session, hand).into_iter().map(|one| said("always", instructed::whole(session, one)));
    let whom = if hand.foot.is_some() { "for the other claw" } else { "for some of the feet" };
    let more = match instructed::beside(session, hand).len() {
        0 => None,
        more => Some(said("always", format!("{more} {whom}: say always"))),
    };
    here.chain(more).collect()
}

/// Every standing instruction, those for what is in the hand first.
pub fn every_instruction(session: &Session) -> Vec<Said> {
    let of = |(head, some): (&str, Vec<&Instruction>)| {
        let line = |one: &Instruction| {
            let vet = no_vet(one).map_or(String::new(), |none| format!("; {none}"));
            said(head.to_lowercase(), format!("{}{vet}", instructed::whole(session, one)))
        };
        some.into_iter().map(line).collect::<Vec<Said>>()
    };
    let all: Vec<Said> = always::grouped(session).into_iter().flat_map(of).collect();
    if all.is_empty() { vec![said("always", "no standing instruction holds on this farm")] } else { all }
}

/// Marks of last time that wait for an answer; of one foot where one is named.
fn old_marks(session: &Session, foot: Option<Foot>) -> Vec<Said> {
    let here = ghost::waiting(session).into_iter().filter(|course| foot.is_none() || course.place.foot() == foot);
    here.filter_map(|course| ghost::case(session, course.id))
        .map(|case| said("old mark", mark(session, &case)))
        .collect()
}

/// A mark of last time: `LH outer zone 4: sole ulcer, grade 2 moderate, 14 days ago, not answered`.
pub fn mark(session: &Session, case: &Case) -> String {
    let days = (session.today - case.last).num_days();
    let ago = match case.fate(session.rule_set().case.window, session.today) {
        Fate::Lost => format!("nobody looked for {days} days"),
        Fate::Open | Fate::Healed(_) if days == 1 => "1 day ago".to_owned(),
        Fate::Open | Fate::Healed(_) => format!("{days} days ago"),
    };
    let name = [words::finding_name(case.what), &case.words].join(" ");
    format!("{}: {}, {}, {ago}, not answered", place(of(session), case.place), name.trim(), degree(case.degree))
}

/// A place with the zone named as one: `LH outer zone 4`.
pub fn place(words: Words, place: Place) -> String {
    let text = words.place(place);
    match (place.zone(), text.rsplit_once(' ')) {
        (Some(_), Some((before, number))) => format!("{before} zone {number}"),
        (Some(_) | None, _) => text,
    }
}

/// A grade with its digit, a stage by its name.
fn degree(told: Degree) -> String {
    match told {
        Degree::NotGiven => "not graded".to_owned(),
        Degree::Grade(grade) => {
            let digit = Grade::ALL.iter().position(|one| *one == grade).map_or(0, |at| at + 1);
            format!("grade {digit} {}", grade.word())
        }
        Degree::Stage(stage) => format!("stage {}", stage.word()),
    }
}

/// Who is in the crush, and the foot and claw in the hand, in one line.
pub fn hand(session: &Session, hand: Hand) -> Option<Said> {
    let (_, turn) = session.turn()?;
    let number = crate::report::due::called(&session.her_labels());
    let Some(foot) = hand.foot else {
        return Some(said("hand", format!("{number}, no foot up, {}", done(turn, session))));
    };
    let found = turn.found.iter().filter(|found| found.place.foot() == Some(foot)).count();
    let waiting = ghost::waiting(session).iter().filter(|course| course.place.foot() == Some(foot)).count();
    let mut parts = vec![number, format!("{} up", of(session).foot(foot)), format!("{} claw", hand.side.word())];
    parts.push(format!("{found} found on it"));
    parts.extend((waiting > 0).then(|| counted(waiting, "old mark waits", "old marks wait")));
    Some(said("hand", parts.join(", ")))
}

/// How far her feet are.
fn done(turn: &Turn, session: &Session) -> String {
    let looked: Vec<&str> = Foot::ALL
        .iter()
        .zip(turn.looks)
        .filter(|(_, look)| look.is_some_and(|look| look.lifted))
        .map(|(foot, _)| of(session).foot(*foot))
        .collect();
    if looked.is_empty() { "no foot looked at".to_owned() } else { format!("looked at {}", looked.join(" ")) }
}

/// A count with its words.
pub fn counted(count: usize, one: &str, many: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {many}") }
}
