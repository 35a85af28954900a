//! What is so, in lines: all of it where the hands came to another place, else only what is new.

use super::page::{Answer, Said, said};
use super::{her, lists, question, walk};
use crate::domain::ids::{AnimalId, FarmId, TurnId};
use crate::report::safe::safe;
use crate::report::{day_line, totals, visit};
use crate::screen::words::of;
use crate::screen::{View, herd, herd_list, saved, words};
use crate::session::decide::below;
use crate::session::herd::{Page, of as of_herd};
use crate::session::lists::{due, reviews};
use crate::session::mode::{Hand, Mode};
use crate::session::{Notice, Session};

/// Where the hands were before a line, to tell afterwards what is new.
#[derive(Debug, Clone, PartialEq)]
pub struct Before {
    mode: Mode,
    turn: Option<(AnimalId, TurnId)>,
    farm: Option<FarmId>,
}

impl Before {
    /// Where the hands are.
    pub fn of(session: &Session) -> Before {
        Before {
            mode: session.mode.clone(),
            turn: session.crush.as_ref().map(|crush| (crush.animal, crush.turn)),
            farm: session.farm.as_ref().map(|farm| farm.id),
        }
    }

    /// Whether an animal was in the crush.
    pub fn is_with_her(&self) -> bool {
        self.turn.is_some()
    }

    /// Whether a question is open now that was not, and that no line may answer before it was heard: it is about what is on
    /// her or was found on her before, about whose number it is, or about what hurts. Likewise what is on an animal that came
    /// in.
    pub fn is_to_be_heard_first(&self, session: &Session) -> bool {
        self.turn.is_none() && her::has_something_on(session)
            || session.mode != self.mode
                && match &session.mode {
                    Mode::Pad { ask, .. } => question::is_heard_first(ask),
                    Mode::SignOff { .. } => true,
                    Mode::Today { .. }
                    | Mode::Walk(_)
                    | Mode::Farms { .. }
                    | Mode::Crush(_)
                    | Mode::Card { .. }
                    | Mode::Herd { .. }
                    | Mode::Due { .. }
                    | Mode::Ring { .. }
                    | Mode::Last { .. }
                    | Mode::Always { .. }
                    | Mode::Text { .. }
                    | Mode::Paper { .. }
                    | Mode::Totals { .. }
                    | Mode::Help { .. } => false,
                }
    }
}

/// The last word: what was saved and when, why something was not done, what is called out to the farm.
pub fn notice(session: &Session, view: &View<'_>, went: bool) -> Vec<Said> {
    match &session.notice {
        None => Vec::new(),
        Some(Notice::Saved { .. }) => saved(session).into_iter().collect(),
        // What was left on her, when she goes.
        Some(Notice::Words(text)) if went => text.split("  +  ").map(|line| said("call out", line)).collect(),
        Some(Notice::Words(text)) => vec![said("note", text)],
        Some(notice @ Notice::Refused(_)) => vec![said("not done", words::notice(session, view, notice))],
        Some(notice @ (Notice::Spelled(_) | Notice::Saving | Notice::NotSaved(_))) => {
            vec![said("look", words::notice(session, view, notice))]
        }
    }
}

/// What was just saved, and when.
pub fn saved(session: &Session) -> Option<Said> {
    let Some(Notice::Saved { press, at }) = &session.notice else { return None };
    Some(said(format!("saved {}", at.format("%H:%M:%S")), saved::press(session, press)))
}

/// All that is so here.
pub fn whole(session: &Session, view: &View<'_>) -> Answer {
    let mut answer = here(session, view, None);
    if session.turn().is_some() && !matches!(session.mode, Mode::Crush(_)) {
        answer.now.splice(0..0, her::hand(session, session.mode.hand().unwrap_or(Hand::DOWN)));
    }
    answer
}

/// What is new since before the line; `wrote` where something was saved.
pub fn since(before: &Before, session: &Session, view: &View<'_>, wrote: bool) -> Answer {
    let now = Before::of(session);
    if *before == now && !wrote {
        return Answer::default();
    }
    let other = now.turn.is_some() && before.turn != now.turn;
    if other || before.farm != now.farm {
        return whole(session, view);
    }
    here(session, view, Some(before))
}

fn here(session: &Session, view: &View<'_>, before: Option<&Before>) -> Answer {
    let was = before.map(|before| &before.mode);
    let next = || super::help::next(session);
    let now = |now: Vec<Said>| Answer { now, ..Answer::default() };
    let closes = || [said("next", "an empty line: back; ? says what else counts")];
    // Of a list that was said already only the line picked is, also where a question over it is answered.
    let is_here = |mode: &Mode| match (mode, &session.mode) {
        (Mode::Due { only, .. }, Mode::Due { only: shown, .. }) => only == shown,
        (Mode::Herd { page, .. }, Mode::Herd { page: shown, .. }) => page == shown,
        (mode, shown) => std::mem::discriminant(mode) == std::mem::discriminant(shown),
    };
    let walked = was.is_some_and(|was| is_here(was) || is_here(&below(was)));
    match &session.mode {
        Mode::Today { typed, cursor } => today(session, view, was, (typed, *cursor)),
        Mode::Walk(walking) => walk::told(session, was, walking),
        Mode::Farms { .. } | Mode::Card { .. } | Mode::Herd { .. } | Mode::Due { .. } | Mode::Ring { .. } if walked => {
            now(lists::picked(session, view).into_iter().collect())
        }
        Mode::Farms { .. } => Answer {
            now: lists::above_farms(session, view),
            list: lists::farms(session),
            then: lists::picked(session, view).into_iter().chain(next()).collect(),
        },
        Mode::Card { .. } => {
            let name = session.farm.as_ref().map_or("", |farm| farm.name.as_str());
            let then = lists::picked(session, view).into_iter().chain(next()).collect();
            Answer { now: vec![said("card", safe(name))], list: lists::card(session), then }
        }
        Mode::Herd { page, .. } => Answer {
            now: herd_head(session, page),
            list: lists::of_herd(session, page),
            then: lists::picked(session, view).into_iter().chain(next()).collect(),
        },
        Mode::Crush(hand) => now(crush(session, was, *hand)),
        Mode::Pad { ask, .. } => now(question::asked(session, view, ask)),
        Mode::SignOff { passed } => now(question::before_she_goes(session, view, passed)),
        Mode::Due { only, .. } => {
            let list = lists::due_list(session, *only);
            let count = due(session, *only).items.len() + reviews(session, *only).len();
            let head = words::only(*only, count);
            let then = lists::picked(session, view).into_iter().chain(next()).collect();
            Answer { now: vec![said("due", format!("{head}, most urgent first"))], list, then }
        }
        Mode::Ring { lines, .. } => Answer {
            now: Vec::new(),
            list: lists::to_ring(session, lines),
            then: lists::answers().into_iter().chain(lists::picked(session, view)).chain(next()).collect(),
        },
        Mode::Last { back, .. } => {
            let (head, list) = lists::earlier(session, view, *back);
            Answer { now: head, list, then: closes().into() }
        }
        Mode::Always { .. } => Answer { now: Vec::new(), list: her::every_instruction(session), then: closes().into() },
        Mode::Text { what, .. } => now(question::text(session, what)),
        Mode::Paper { pages, .. } => {
            // A rule across the page is for the eye.
            let is_told = |line: &&String| line.chars().any(char::is_alphanumeric);
            let list: Vec<Said> = pages.iter().flatten().filter(is_told).map(|line| said("take off", line)).collect();
            let none = list.is_empty().then(|| said("take off", "nothing is to come off"));
            Answer { now: none.into_iter().collect(), list, then: closes().into() }
        }
        Mode::Totals { totals, visit, .. } => {
            let visit = visit.as_deref().map(visit::lines).unwrap_or_default();
            let lines = totals::lines(totals, of(session)).into_iter().chain(visit).map(|line| said("totals", line));
            let day = day_line::close(session.day.list(), session.rule_set(), session.visits.now)
                .into_iter()
                .map(|line| said("day", line));
            let backup = words::backup_state(session, view).map(|state| said("backup", state));
            now(lines.chain(day).chain(backup).chain(closes()).collect())
        }
        Mode::Help { .. } => now(next().into_iter().collect()),
    }
}

/// What a page of the herd is of.
fn herd_head(session: &Session, page: &Page) -> Vec<Said> {
    match page {
        Page::Animals(whom) => {
            let left = herd::left_out(session).map(|left| said("herd", left));
            [said("herd", herd::head(session, whom))].into_iter().chain(left).collect()
        }
        Page::Her(animal) => {
            of_herd(session, *animal).map(|her| said("data", herd::title(session, her))).into_iter().collect()
        }
        Page::Files => herd_list::above(session).into_iter().map(|line| said("lists", line)).collect(),
        Page::List => Vec::new(),
    }
}

/// Today: what is typed and whom it means, or how the day stands and who is due.
fn today(session: &Session, view: &View<'_>, was: Option<&Mode>, (typed, cursor): (&str, usize)) -> Answer {
    let picked = || lists::picked(session, view).filter(|_| typed.is_empty() || cursor > 0);
    let next = || super::help::next(session);
    let mut answer = Answer::default();
    if session.is_moving() && session.crush.is_some() {
        let number = crate::report::due::called(&session.her_labels());
        answer.now.push(said("number", format!("not {number}: type her real number; what is written goes with her")));
    }
    if !typed.is_empty() {
        answer.now.push(lists::number(session, view, typed));
        answer.now.extend(picked());
        answer.now.extend(next());
    } else if let Some(Mode::Today { typed: before, .. }) = was {
        let erased = (!before.is_empty()).then(|| said("number", "nothing typed"));
        answer.now.extend(picked().or(erased));
    } else {
        answer.now.extend(lists::today(session, view));
        // After each animal nobody wants the whole list again.
        if was.is_none() {
            answer.list = lists::herd(session, view, "");
        }
        answer
            .then
            .push(said("next", "type a number, and an empty line opens her; say lists all; ? says what else counts"));
    }
    answer
}

/// Her, where she came or a foot was lifted; then always who is there and what is in the hand.
fn crush(session: &Session, was: Option<&Mode>, hand: Hand) -> Vec<Said> {
    let before = was.and_then(|was| match was {
        Mode::Crush(hand) => Some(*hand),
        other => other.hand(),
    });
    let lifted = hand.foot.is_some() && before.is_none_or(|before| before.foot != hand.foot);
    let mut lines = if was.is_none() || lifted { her::whole(session, hand) } else { Vec::new() };
    let other_claw = before.is_some_and(|before| before.foot == hand.foot && before.side != hand.side);
    if other_claw {
        lines.extend(her::instructed(session, hand));
    }
    lines.extend(her::hand(session, hand));
    if was.is_none() || before.is_none_or(|before| before.foot != hand.foot) {
        lines.extend(super::help::next(session));
    }
    lines
}
