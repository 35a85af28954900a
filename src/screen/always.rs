//! The standing instructions over the map, each whole: those for what is in the hand first.

use crate::domain::instruction::Instruction;
use crate::keys::intent::Intent;
use crate::report::farm::no_vet;
use crate::screen::facts::{Line, broken};
use crate::screen::page::Page;
use crate::screen::theme::Role;
use crate::screen::{View, instructed, words as says};
use crate::session::Session;
use crate::session::mode::Hand;

/// Draws them from a line on; the last row says how many lines are left.
pub fn draw(page: &mut Page<'_>, session: &Session, view: &View<'_>, top: usize) {
    let lines = broken(lines(session), usize::from(page.width()));
    let all = usize::from(page.left());
    let room = if lines.len() > all { all.saturating_sub(1) } else { all };
    let top = top.min(lines.len().saturating_sub(room));
    for (text, role) in lines.iter().skip(top).take(room) {
        match role {
            Role::Label(_) => page.label(&format!(" {text} "), *role),
            Role::Bar | Role::Text | Role::Strong | Role::Grey | Role::Picked | Role::Key => page.line(text, *role),
        }
    }
    let left = lines.len().saturating_sub(top + room);
    if lines.len() > all {
        let key = says::key(session, view, if left > 0 { Intent::Down } else { Intent::Up });
        let more = if left > 0 { format!("... {left} more lines, {key}") } else { format!("that is all; up {key}") };
        page.line(&more, Role::Strong);
    }
}

/// A heading, then each with its parts on lines of their own.
fn lines(session: &Session) -> Vec<Line> {
    let groups = grouped(session);
    if groups.is_empty() {
        return vec![("no standing instruction holds on this farm".to_owned(), Role::Strong)];
    }
    let group = |(head, some): (&str, Vec<&Instruction>)| {
        let each = some.into_iter().flat_map(|one| of(session, one)).collect::<Vec<Line>>();
        std::iter::once((head.to_owned(), Role::Strong)).chain(each).collect::<Vec<Line>>()
    };
    groups.into_iter().flat_map(group).collect()
}

/// Those for what is in the hand, for the other claw of that foot, for other feet; each with its heading.
pub fn grouped(session: &Session) -> Vec<(&'static str, Vec<&Instruction>)> {
    let hand = session.mode.hand().unwrap_or(Hand::DOWN);
    let (here, beside) = (instructed::here(session, hand), instructed::beside(session, hand));
    let told = |one: &&Instruction| here.iter().chain(&beside).all(|other| other.id != one.id);
    let others = session.instructions.iter().filter(told).collect();
    let heads = match hand.foot {
        Some(_) => ["ALWAYS AT THIS CLAW", "AT THE OTHER CLAW", "AT OTHER FEET"],
        None => ["ALWAYS AT ALL FEET", "ALWAYS AT SOME FEET", ""],
    };
    heads.into_iter().zip([here, beside, others]).filter(|(_, some)| !some.is_empty()).collect()
}

fn of(session: &Session, one: &Instruction) -> Vec<Line> {
    let parts = instructed::ranked(session, one);
    let none = no_vet(one).map_or(String::new(), |none| format!(", {none}"));
    let said = [(format!("{}: {}", parts.whose, parts.words), parts.tone), (parts.asked, Role::Text)];
    let when = match parts.due {
        // One that is due has a row of its own, in its tone.
        Some(_) => vec![(format!("{}{none}", parts.since), Role::Text), (parts.review, parts.tone)],
        None => vec![(format!("{}, {}{none}", parts.since, parts.review), Role::Text)],
    };
    said.into_iter().chain(when).collect()
}
