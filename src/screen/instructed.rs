//! Standing instructions beside the map, whenever they apply: for all feet while none is up, for the claw in the hand once one is.
//! One that takes horn away says first whose it is and how much sole stays, so that no shorter form leaves that out before itself.

use crate::claw_map::marks::Tone;
use crate::domain::anatomy::Foot;
use crate::domain::follow_up::{Urgency, review};
use crate::domain::herd::Scope;
use crate::domain::instruction::Instruction;
use crate::keys::intent::Intent;
use crate::report::farm::{asked, history, review as when, since, whose};
use crate::report::safe::safe;
use crate::screen::facts::{Line, broken};
use crate::screen::ranked::{Ranked, Room, Shown, dated, fitted, more, words};
use crate::screen::theme::Role;
use crate::screen::{View, words as says};
use crate::session::Session;
use crate::session::mode::Hand;

/// Lines about her that an instruction leaves their room, however long it is: what is loudest, and how much more there is.
const LOUDEST: usize = 2;

/// Those that apply to what is in the hand.
pub fn here(session: &Session, hand: Hand) -> Vec<&Instruction> {
    let applies = |one: &&Instruction| match hand.foot {
        Some(foot) => one.applies(foot, hand.side),
        None => one.scope == Scope::All,
    };
    in_order(session.instructions.iter().filter(applies))
}

/// Those that do not, and are for the other claw of the foot in hand; of other feet while none is up.
pub fn beside(session: &Session, hand: Hand) -> Vec<&Instruction> {
    let beside = |one: &&Instruction| match hand.foot {
        Some(foot) => one.scope.covers(foot) && !one.applies(foot, hand.side),
        None => one.scope != Scope::All,
    };
    in_order(session.instructions.iter().filter(beside))
}

/// Where there are too many, those that take horn away are not the ones that are left out.
fn in_order<'i>(some: impl Iterator<Item = &'i Instruction>) -> Vec<&'i Instruction> {
    let mut some: Vec<&Instruction> = some.collect();
    some.sort_by_key(|one| !one.takes_horn());
    some
}

/// Whether one is for that foot, be it for one of its claws: the map does not change from claw to claw.
pub fn covers(session: &Session, foot: Foot) -> bool {
    session.instructions.iter().any(|one| one.scope.covers(foot))
}

/// The key that shows all of them; none where letters are typed.
pub fn key(session: &Session, view: &View<'_>) -> Option<String> {
    view.keymap.keys_for(session.mode.context(), Intent::Always).into_iter().next()
}

/// The fullest block that leaves the other lines their room, broken to the width; `others` is how many those are.
pub fn block(
    session: &Session,
    view: &View<'_>,
    hand: Hand,
    columns: usize,
    (room, others): (usize, usize),
) -> Vec<Line> {
    let key = key(session, view);
    let unseen = beside(session, hand).len();
    let of = |some: Vec<&Instruction>| some.into_iter().map(|one| ranked(session, one)).collect::<Vec<_>>();
    let fit = |some: &[Ranked], rows, unseen| fitted(some, Room { columns, rows, key: key.as_deref(), unseen });
    if hand.foot.is_none() {
        // Before a foot is lifted there is room to read all of them, where they have it: with a foot up they are told in short.
        let all = of(in_order(session.instructions.iter()));
        let (lines, shown) = fit(&all, room.saturating_sub(others), 0);
        if shown == Shown::Whole {
            return lines;
        }
    }
    let here = of(here(session, hand));
    if here.is_empty() && unseen == 0 {
        return Vec::new();
    }
    let loudest = room.saturating_sub(others.min(LOUDEST));
    // A third of the rows is left to what is on her, where there are rows to speak of; half, where no foot is up.
    let spared = match hand.foot {
        Some(_) => room.saturating_sub(others.min((room / 3).max(1))),
        None => (room / 2).max(room.saturating_sub(others)),
    };
    let whole = if hand.foot.is_some() { loudest } else { spared };
    let wanted = [(whole, Shown::Whole), (spared, Shown::Words), (loudest, Shown::Words), (spared, Shown::Cut)];
    let tried = wanted.into_iter().map(|(rows, least)| (fit(&here, rows, unseen), least));
    let chosen = tried.filter(|((_, shown), least)| shown >= least).map(|((lines, _), _)| lines).next();
    // What is loudest about her keeps a row whatever is counted only: a wrap that is late is not displaced by words.
    let rest = if room > LOUDEST { room - others.min(1) } else { room };
    chosen.unwrap_or_else(|| fit(&here, if here.is_empty() { room.min(1) } else { rest }, unseen).0)
}

/// What of the instructions stands under the map, and not beside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Told {
    /// Nothing.
    Nothing,
    /// What is done, and a review that is due; the rest has no room there.
    Words,
    /// What is done and the review; by whose wish and why have no room there.
    Dated,
    /// All.
    Whole,
}

/// All of them, else what is done, where that has room under the map.
pub fn below(session: &Session, view: &View<'_>, hand: Hand, columns: usize, rows: usize) -> (Vec<Line>, Told) {
    let here: Vec<Ranked> = here(session, hand).into_iter().map(|one| ranked(session, one)).collect();
    let (key, unseen) = (key(session, view), beside(session, hand).len());
    let (lines, shown) = fitted(&here, Room { columns, rows, key: key.as_deref(), unseen });
    if shown == Shown::Whole {
        return (lines, Told::Whole);
    }
    let forms = [(dated as fn(&Ranked) -> Vec<Line>, Told::Dated), (words, Told::Words)];
    let laid = forms.map(|(of, told)| (broken(here.iter().flat_map(of).collect(), columns), told));
    let fits = laid.into_iter().find(|(lines, _)| !lines.is_empty() && lines.len() <= rows);
    fits.unwrap_or((Vec::new(), Told::Nothing))
}

/// Beside the map what was not told under it: since when, by whose wish and why, and the review; at least that there is more.
pub fn rest(
    session: &Session,
    view: &View<'_>,
    (hand, told): (Hand, Told),
    columns: usize,
    (room, others): (usize, usize),
) -> Vec<Line> {
    let here: Vec<Ranked> = here(session, hand).into_iter().map(|one| ranked(session, one)).collect();
    let (key, unseen) = (key(session, view), beside(session, hand).len());
    let more = more(&here, here.len(), Room { columns, rows: room, key: key.as_deref(), unseen });
    let asked = |one: &Ranked| (one.asked.clone(), Role::Grey);
    let all = |one: &Ranked| {
        // One that is due stands with the words.
        let review = if one.due.is_some() || told == Told::Dated { String::new() } else { format!(", {}", one.review) };
        (format!("{}, {}{review}", one.since, one.asked), Role::Grey)
    };
    let of = |told: &dyn Fn(&Ranked) -> Line, more: &[Line]| {
        broken(here.iter().map(told).chain(more.iter().cloned()).collect(), columns)
    };
    let all = of(&all, if unseen > 0 { std::slice::from_ref(&more) } else { &[] });
    let forms = [all, of(&asked, std::slice::from_ref(&more))];
    let fits = forms.into_iter().find(|lines| lines.len() + others.min(LOUDEST) <= room);
    fits.unwrap_or_else(|| vec![more])
}

/// One in a sentence: for whom, what is done, whose it is where horn is taken away, since when and why, and the review.
pub fn whole(session: &Session, one: &Instruction) -> String {
    let one = ranked_with(session, one, history(one));
    format!("{}: {}; {}, {}", one.whose, one.words, one.since, one.review)
}

/// One in its parts.
pub fn ranked(session: &Session, one: &Instruction) -> Ranked {
    ranked_with(session, one, since(one))
}

fn ranked_with(session: &Session, one: &Instruction, since: String) -> Ranked {
    let rules = session.rule_set();
    let due = review::due(rules, one, session.today);
    let is_due = due.urgency > Urgency::Coming;
    let sign = if is_due { "!" } else { "" };
    Ranked {
        whose: whose(one, rules, says::of(session)),
        words: safe(&one.text),
        asked: asked(one),
        since,
        review: when(due, session.today),
        due: is_due.then(|| format!("REVIEW DUE {}", due.day.format("%-d %b").to_string().to_uppercase())),
        least: one
            .takes_horn()
            .then(|| (format!("ALWAYS{sign} SOLE {} mm", rules.sole), format!("vet {}", safe(&one.vet)))),
        tone: Role::Label(if is_due { Tone::Warn } else { Tone::Note }),
    }
}
