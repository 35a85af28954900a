//! Standing instructions beside the map, whenever they apply: for all feet while none is up, for the claw in the hand once one is.
//! One that takes horn away says first whose it is and how much sole stays, so that no shorter form leaves that out before itself.

use crate::claw_map::marks::Tone;
use crate::domain::anatomy::Foot;
use crate::domain::follow_up::{Urgency, review};
use crate::domain::herd::Scope;
use crate::domain::instruction::Instruction;
use crate::keys::intent::Intent;
use crate::report::farm::{history, review as when, whose};
use crate::report::safe::{cut, safe};
use crate::screen::facts::{Line, broken};
use crate::screen::page::wrapped;
use crate::screen::theme::Role;
use crate::screen::{View, words as says};
use crate::session::Session;
use crate::session::mode::Hand;
use chrono::NaiveDate;
use unicode_width::UnicodeWidthStr;

/// Lines about her that an instruction leaves their room, however long it is: what is loudest, and how much more there is.
const LOUDEST: usize = 2;

/// How much of an instruction is told.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Form {
    /// What is done, by whose wish, why, since when, and the review.
    Whole,
    /// What is done, and the review.
    Dated,
    /// What is done, and a review that is due.
    Done,
    /// The same in so many rows, and never in fewer than whose it is takes.
    Short(usize),
}

/// Those that apply to what is in the hand.
pub fn here(session: &Session, hand: Hand) -> Vec<&Instruction> {
    let applies = |one: &&Instruction| match hand.foot {
        Some(foot) => one.applies(foot, hand.side),
        None => one.scope == Scope::All,
    };
    let mut here: Vec<&Instruction> = session.instructions.iter().filter(applies).collect();
    // Where there are too many, those that take horn away are not the ones that are left out.
    here.sort_by_key(|one| !one.takes_horn());
    here
}

/// Whether one is for that foot, be it for one of its claws: the map does not change from claw to claw.
pub fn covers(session: &Session, foot: Foot) -> bool {
    session.instructions.iter().any(|one| one.scope.covers(foot))
}

/// The fullest block that leaves the other lines their room, broken to the width; `others` is how many those are.
pub fn block(
    session: &Session,
    view: &View<'_>,
    hand: Hand,
    columns: usize,
    (room, others): (usize, usize),
) -> Vec<Line> {
    let here = here(session, hand);
    if hand.foot.is_none() {
        // Before a foot is lifted there is room to read all of them, where they have it: with a foot up they are told in short.
        let mut all: Vec<&Instruction> = session.instructions.iter().collect();
        all.sort_by_key(|one| !one.takes_horn());
        let whole = lines(session, view, &all, Form::Whole, columns);
        if whole.len() + others <= room {
            return whole;
        }
    }
    if here.is_empty() {
        return Vec::new();
    }
    let in_form = |form| lines(session, view, &here, form, columns);
    if hand.foot.is_none() {
        return cut_off(in_form(Form::Short(room / 2 / here.len())), session, view, room);
    }
    let fits = |form: Form, spared: usize| Some(in_form(form)).filter(|lines| lines.len() + spared <= room);
    // A third of the rows is left to what is on her, where there are rows to speak of.
    let spared = others.min((room / 3).max(1));
    let share = room.saturating_sub(spared) / here.len();
    let whole = fits(Form::Whole, others.min(LOUDEST)).or_else(|| fits(Form::Done, spared));
    whole.or_else(|| fits(Form::Short(share), 0)).unwrap_or_else(|| match here[0].takes_horn() {
        true => least(session, view, here[0], columns),
        false => cut_off(in_form(Form::Short(share)), session, view, room),
    })
}

/// What never gives way, where there are two rows: how much sole stays, and whose the instruction is.
fn least(session: &Session, view: &View<'_>, one: &Instruction, columns: usize) -> Vec<Line> {
    let is_due = review::due(session.rule_set(), one, session.today).urgency > Urgency::Coming;
    let (tone, sign) = if is_due { (Tone::Warn, "!") } else { (Tone::Note, "") };
    let more = format!(" ... {}", says::key(session, view, Intent::Last));
    let vet = format!("vet {}", safe(&one.vet));
    let vet = format!("{}{more}", cut(&vet, columns.saturating_sub(2 + more.width())).trim_end());
    let sole = format!("ALWAYS{sign} SOLE {} mm", session.rule_set().sole);
    [sole, vet].map(|text| (text, Role::Label(tone))).into()
}

/// As many lines as have room; the last of them says that there are more, and which key shows them.
fn cut_off(mut lines: Vec<Line>, session: &Session, view: &View<'_>, room: usize) -> Vec<Line> {
    if lines.len() > room {
        lines.truncate(room.saturating_sub(1));
        let key = says::key(session, view, Intent::Last);
        lines.push((format!("more ALWAYS: {key}"), Role::Label(Tone::Note)));
    }
    lines
}

/// What of the instructions stands under the map, and not beside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Told {
    /// Nothing.
    Nothing,
    /// What is done; by whose wish, why and the review have no room there.
    Done,
    /// What is done and the review; by whose wish and why have no room there.
    Dated,
    /// All.
    Whole,
}

/// The block, or as much of it as has room under the map.
pub fn below(session: &Session, view: &View<'_>, hand: Hand, columns: usize, room: usize) -> (Vec<Line>, Told) {
    let here = here(session, hand);
    let forms = [(Form::Whole, Told::Whole), (Form::Dated, Told::Dated), (Form::Done, Told::Done)];
    let told = |(form, told)| (lines(session, view, &here, form, columns), told);
    let fitting = forms.into_iter().map(told).find(|(lines, _)| lines.len() <= room);
    fitting.unwrap_or((Vec::new(), Told::Nothing))
}

/// What was not told under the map: by whose wish, why and since when, and the review; nothing where others need the room.
pub fn rest(session: &Session, hand: Hand, told: Told, columns: usize, (room, others): (usize, usize)) -> Vec<Line> {
    let of = |one| {
        let due = review::due(session.rule_set(), one, session.today);
        // One that is due stands with the words.
        let is_told = told == Told::Dated || due.urgency > Urgency::Coming;
        let review = if is_told { String::new() } else { format!(", {}", when(due, session.today)) };
        (format!("{}{review}", history(one)), Role::Grey)
    };
    let lines = broken(here(session, hand).into_iter().map(of).collect(), columns);
    if lines.len() + others.min(LOUDEST) <= room { lines } else { Vec::new() }
}

/// One in a sentence: for whom, what is done, whose it is where horn is taken away, since when and why, and the review.
pub fn whole(session: &Session, one: &Instruction) -> String {
    let review = when(review::due(session.rule_set(), one, session.today), session.today);
    format!("{}; {}, {review}", done(session, one), history(one))
}

fn lines(session: &Session, view: &View<'_>, here: &[&Instruction], form: Form, columns: usize) -> Vec<Line> {
    here.iter().flat_map(|one| of(session, view, one, form, columns)).collect()
}

fn of(session: &Session, view: &View<'_>, one: &Instruction, form: Form, columns: usize) -> Vec<Line> {
    let due = review::due(session.rule_set(), one, session.today);
    let is_due = due.urgency > Urgency::Coming;
    let tone = Role::Label(if is_due { Tone::Warn } else { Tone::Note });
    let whole = |text: String, role| broken(vec![(text, role)], columns);
    let words = || whole(format!("ALWAYS {}", done(session, one)), tone);
    let review = || whole(when(due, session.today), if is_due { tone } else { Role::Grey });
    match form {
        Form::Whole => [words(), whole(history(one), Role::Grey), review()].concat(),
        Form::Dated => [words(), review()].concat(),
        Form::Done if is_due => [words(), review()].concat(),
        Form::Done => words(),
        Form::Short(rows) => brief(session, view, one, (is_due, due.day), (columns, rows)),
    }
}

/// One in so many rows, and never in fewer than say whose it is, and something of what is done.
fn brief(
    session: &Session,
    view: &View<'_>,
    one: &Instruction,
    (is_due, day): (bool, NaiveDate),
    (columns, rows): (usize, usize),
) -> Vec<Line> {
    let room = columns.saturating_sub(2);
    let tone = Role::Label(if is_due { Tone::Warn } else { Tone::Note });
    let head = format!("ALWAYS {}:", whose(one, session.rule_set(), says::of(session)));
    let least = wrapped(&head, room).len() + 1;
    // The review has a row of its own where there is one more.
    let is_said = is_due && rows > least;
    // What differs in colour differs in a letter too.
    let sign = if is_due && !is_said { "!" } else { "" };
    let text = format!("ALWAYS{sign} {}", done(session, one));
    let rows = rows.saturating_sub(usize::from(is_said)).max(least);
    let key = says::key(session, view, Intent::Last);
    let mut lines: Vec<Line> = short(&text, room, rows, &key).into_iter().map(|row| (row, tone)).collect();
    let review = || format!("REVIEW DUE {}", day.format("%-d %b").to_string().to_uppercase());
    lines.extend(is_said.then(|| broken(vec![(review(), tone)], columns)).into_iter().flatten());
    lines
}

/// For whom, whose it is where horn is taken away, and what is done.
fn done(session: &Session, one: &Instruction) -> String {
    format!("{}: {}", whose(one, session.rule_set(), says::of(session)), safe(&one.text))
}

/// A text in so many rows at most; where it has more, its end is left out and the key named that shows all of it.
fn short(text: &str, columns: usize, rows: usize, key: &str) -> Vec<String> {
    let mut all = wrapped(text, columns);
    if all.len() <= rows {
        return all;
    }
    all.truncate(rows);
    if let Some(last) = all.last_mut() {
        let more = format!("... {key}");
        *last = format!("{}{more}", cut(last, columns.saturating_sub(more.width())).trim_end());
    }
    all
}
