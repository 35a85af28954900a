//! Standing instructions in few rows, in ranks: what is done before who asked and why, and that before since when and the review. What
//! is left out is counted, or ends in dots, and the key stands there that shows all of it.

use crate::claw_map::marks::Tone;
use crate::report::safe::cut;
use crate::screen::facts::{Line, broken};
use crate::screen::page::wrapped;
use crate::screen::theme::Role;
use unicode_width::UnicodeWidthStr;

/// One instruction in its parts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ranked {
    /// For whom it is, and whose, where it takes horn away: stands before its words in any form.
    pub whose: String,
    /// What is done.
    pub words: String,
    /// Who asked for it, and why.
    pub asked: String,
    /// Since when.
    pub since: String,
    /// When it is looked at again.
    pub review: String,
    /// The same in short where that day has come: it then stands with the words.
    pub due: Option<String>,
    /// Of one that takes horn away, the sole that stays and the vet, where nothing else has room.
    pub least: Option<(String, String)>,
    /// How loud its words are.
    pub tone: Role,
}

/// How much of them was shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Shown {
    /// Not all of them, and how many more there are.
    Counted,
    /// Of each at least the first words.
    Cut,
    /// All their words.
    Words,
    /// All their words, who asked and why.
    Asked,
    /// All of them, whole.
    Whole,
}

/// Room for them, and the key that shows all; none where letters are typed.
#[derive(Debug, Clone, Copy)]
pub struct Room<'k> {
    /// Columns.
    pub columns: usize,
    /// Rows.
    pub rows: usize,
    /// The key.
    pub key: Option<&'k str>,
    /// Further instructions that are not among them, and are counted only.
    pub unseen: usize,
}

/// As much of them as has room, the first before the others.
pub fn fitted(all: &[Ranked], room: Room<'_>) -> (Vec<Line>, Shown) {
    let ranks = [(Shown::Whole, whole as fn(&Ranked) -> Vec<Line>), (Shown::Asked, asked), (Shown::Words, words)];
    for (shown, of) in ranks {
        let mut lines = broken(all.iter().flat_map(of).collect(), room.columns);
        if shown != Shown::Whole || room.unseen > 0 {
            lines.push(more(all, all.len(), room));
        }
        if lines.len() <= room.rows && !all.is_empty() {
            return (lines, shown);
        }
    }
    cut_short(all, room)
}

/// The row that says how many more there are, or that there is more of these.
pub fn more(all: &[Ranked], shown: usize, room: Room<'_>) -> Line {
    let tone = all.iter().skip(shown).chain(all).next().map_or(QUIET, |one| one.tone);
    let key = room.key.map_or(String::new(), |key| format!(": {key}"));
    let count = match (all.len() - shown + room.unseen, shown) {
        (0, _) => "more".to_owned(),
        (left, 0) => format!("{left}"),
        (left, _) => format!("+{left} more"),
    };
    let forms = [format!("{count} ALWAYS{key}"), format!("{count}{key}")];
    let fits = forms.iter().find(|form| form.width() <= room.columns.saturating_sub(LABEL));
    (fits.unwrap_or(&forms[1]).clone(), tone)
}

/// Columns that a label takes besides its words.
const LABEL: usize = 2;
/// How loud it is that there is more, where none of it is here.
const QUIET: Role = Role::Label(Tone::Note);

fn whole(one: &Ranked) -> Vec<Line> {
    let [said, review] = [said(one), review(one)];
    vec![said, (format!("{}, {}", one.since, one.asked), Role::Grey), review]
}

/// What is done, and the review.
pub fn dated(one: &Ranked) -> Vec<Line> {
    [said(one), review(one)].into()
}

fn review(one: &Ranked) -> Line {
    (one.review.clone(), if one.due.is_some() { one.tone } else { Role::Grey })
}

fn asked(one: &Ranked) -> Vec<Line> {
    [words(one), vec![(one.asked.clone(), Role::Grey)]].concat()
}

/// What is done, and a review that is due.
pub fn words(one: &Ranked) -> Vec<Line> {
    std::iter::once(said(one)).chain(one.due.as_ref().map(|_| review(one))).collect()
}

fn said(one: &Ranked) -> Line {
    (format!("ALWAYS {}: {}", one.whose, one.words), one.tone)
}

/// The first words of as many as have room, each in at least so many rows as say whose it is and something of what is done.
fn cut_short(all: &[Ranked], room: Room<'_>) -> (Vec<Line>, Shown) {
    let alone = all.len() == 1 && room.unseen == 0;
    // Where one is alone, its dots say the key: no row is spent on it.
    let rows = if alone { room.rows } else { room.rows.saturating_sub(1) };
    let least: Vec<usize> = all.iter().map(|one| least(one, room.columns)).collect();
    let fitting = |count: &usize| least[..*count].iter().sum::<usize>() <= rows;
    let count = (1..=all.len()).rev().find(fitting).unwrap_or(0);
    let Some(shown) = all.get(..count).filter(|shown| !shown.is_empty()) else {
        return (nearly_none(all, room), Shown::Counted);
    };
    let wanted: Vec<usize> = shown.iter().map(|one| broken(words(one), room.columns).len()).collect();
    let shares = shared(&least[..count], &wanted, rows);
    let key = room.key.filter(|_| alone);
    let mut lines: Vec<Line> =
        shown.iter().zip(shares).flat_map(|(one, share)| brief(one, (room.columns, share), alone, key)).collect();
    lines.extend((!alone).then(|| more(all, count, room)));
    (lines, if count == all.len() { Shown::Cut } else { Shown::Counted })
}

/// Rows of each: the least first, then one more after the other as long as it is wanted.
fn shared(least: &[usize], wanted: &[usize], rows: usize) -> Vec<usize> {
    let mut shares = least.to_vec();
    let mut left = rows.saturating_sub(shares.iter().sum());
    while left > 0 {
        let Some(at) = (0..shares.len()).filter(|at| shares[*at] < wanted[*at]).min_by_key(|at| shares[*at]) else {
            break;
        };
        shares[at] += 1;
        left -= 1;
    }
    shares
}

fn least(one: &Ranked, columns: usize) -> usize {
    wrapped(&format!("ALWAYS! {}:", one.whose), columns.saturating_sub(LABEL)).len() + 1
}

/// One in so many rows. `alone`: nothing behind it says that there is more of it.
fn brief(one: &Ranked, (columns, rows): (usize, usize), alone: bool, key: Option<&str>) -> Vec<Line> {
    let whole = broken(words(one), columns);
    if whole.len() <= rows && !alone {
        return whole;
    }
    // The review has a row of its own where there is one more; what differs in colour differs in a letter too.
    let due = one.due.as_ref().filter(|_| rows > least(one, columns));
    let sign = if one.due.is_some() && due.is_none() { "!" } else { "" };
    let text = format!("ALWAYS{sign} {}: {}", one.whose, one.words);
    let rows = rows - usize::from(due.is_some());
    let lines = dotted(&text, columns.saturating_sub(LABEL), rows, key);
    lines.into_iter().map(|line| (line, one.tone)).chain(due.map(|due| (due.clone(), one.tone))).collect()
}

/// A text in so many rows at most, ending in dots and the key that shows the rest.
fn dotted(text: &str, columns: usize, rows: usize, key: Option<&str>) -> Vec<String> {
    let mut all = wrapped(text, columns);
    all.truncate(rows.max(1));
    let more = key.map_or("...".to_owned(), |key| format!("... {key}"));
    if let Some(last) = all.last_mut() {
        *last = format!("{}{more}", cut(last, columns.saturating_sub(more.width())).trim_end());
    }
    all
}

/// In one row how many there are; in two, of one that takes horn away, what never gives way.
fn nearly_none(all: &[Ranked], room: Room<'_>) -> Vec<Line> {
    let least = all.first().and_then(|one| Some((one, one.least.as_ref()?))).filter(|_| room.rows >= 2);
    let Some((one, (sole, vet))) = least else {
        let any = room.rows > 0 && all.len() + room.unseen > 0;
        return any.then(|| more(all, 0, room)).into_iter().collect();
    };
    let left = all.len() - 1 + room.unseen;
    let count = if left > 0 { format!(" +{left}") } else { String::new() };
    let key = room.key.map_or(String::new(), |key| format!(" {key}"));
    let more = format!("{count} ...{key}");
    let vet = format!("{}{more}", cut(vet, room.columns.saturating_sub(LABEL + more.width())).trim_end());
    [sole.clone(), vet].map(|text| (text, one.tone)).into()
}
