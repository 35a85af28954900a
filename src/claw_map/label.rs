//! Fits a finding's code into its zone: the whole code if it can, then less and less, never outside its box.
//!
//! Order: code and sign on one line; wrapped in the box; code in the box and sign in the spare cell; the same with the
//! group's code; the group alone; the sign alone. Whatever is left out stands in words beside the map.

use crate::claw_map::marks::{Time, Weight, ZoneMark, change_sign};
use crate::claw_map::mask::LabelBox;
use crate::domain::case::Change;

/// A piece of text on one row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Run {
    /// Row of its cells.
    pub row: u16,
    /// Column of its first cell.
    pub col: u16,
    /// ASCII text, one cell a character.
    pub text: String,
}

impl Run {
    /// Width in cells.
    pub fn cols(&self) -> u16 {
        cells(&self.text)
    }
}

/// The code of a finding, fitted into the box; `numbered` is false where a zone has room for one sign only.
pub fn fit(mark: &ZoneMark, into: LabelBox, numbered: bool) -> Vec<Run> {
    if !numbered {
        return lines(&lone_sign(mark), into).unwrap_or_default();
    }
    let names = [cased(&mark.code, mark), cased(&mark.group, mark)];
    let tails = tails(mark);
    let whole = names.iter().flat_map(|name| tails.iter().map(move |tail| (name, tail)));
    let fitted = whole.map(|(name, tail)| with_tail(name, tail, into)).find_map(|runs| runs);
    let less = || names.iter().rev().find_map(|name| lines(name, into));
    fitted.or_else(less).or_else(|| lines(&lone_sign(mark), into)).unwrap_or_default()
}

/// A finding in one line of at most `cols` cells, for corners and bars: `CC=`, `CC` or nothing.
pub fn in_line(mark: &ZoneMark, cols: u16) -> Option<String> {
    let name = cased(&mark.code, mark);
    let with_tails = tails(mark).into_iter().map(|tail| format!("{name}{tail}"));
    with_tails.chain([name.clone()]).find(|text| cells(text) <= cols)
}

/// A zone number in the middle of its box.
pub fn number(number: u8, into: LabelBox) -> Vec<Run> {
    lines(&number.to_string(), into).unwrap_or_default()
}

/// Text centred in the box, each line as it is; none where it does not fit.
pub fn block(texts: &[&str], into: LabelBox) -> Option<Vec<Run>> {
    let count = u16::try_from(texts.len()).ok().filter(|count| *count <= into.text.rows)?;
    let top = into.text.row + (into.text.rows - count) / 2;
    let run = |(row, text): (u16, &&str)| {
        let spare = into.text.cols.checked_sub(cells(text))?;
        Some(Run { row, col: into.text.col + spare / 2, text: (*text).to_owned() })
    };
    (top..).zip(texts).map(run).collect()
}

/// What is not there today stands in small letters: last time's findings that wait, and what has healed.
fn cased(code: &str, mark: &ZoneMark) -> String {
    match mark.time {
        Time::Today | Time::Both if mark.change != Some(Change::Healed) => code.to_owned(),
        Time::Today | Time::Both | Time::LastTime => code.to_lowercase(),
    }
}

/// What follows the code, richest first.
fn tails(mark: &ZoneMark) -> Vec<String> {
    let sign = if mark.staged { "" } else { mark.weight.sign() };
    let mut tails = match (mark.change, mark.time) {
        // What healed had a grade once; it is not there to be graded.
        (Some(change @ Change::Healed), _) => vec![change_sign(change).to_owned()],
        (Some(change), _) => vec![format!("{sign}{}", change_sign(change)), change_sign(change).to_owned()],
        (None, Time::Today) => vec![sign.to_owned()],
        (None, Time::LastTime) => vec!["?".to_owned()],
        // Of the two the grade is what the colour says too, and nothing is said by colour alone.
        (None, Time::Both) if !sign.is_empty() => vec![format!("{sign}?"), sign.to_owned()],
        (None, Time::Both) => vec!["?".to_owned()],
    };
    if mark.more > 0 {
        tails.insert(0, format!("{}+{}", tails[0], mark.more));
    }
    tails
}

/// One sign for a zone too small for letters; `*` is a finding without grade.
fn lone_sign(mark: &ZoneMark) -> String {
    if let Some(change) = mark.change {
        return change_sign(change).to_owned();
    }
    match (mark.time, mark.weight) {
        (Time::LastTime, _) => "?".to_owned(),
        (Time::Today | Time::Both, Weight::Untold) => "*".to_owned(),
        (Time::Today | Time::Both, weight) => weight.sign().to_owned(),
    }
}

fn with_tail(name: &str, tail: &str, into: LabelBox) -> Option<Vec<Run>> {
    lines(&format!("{name}{tail}"), into).or_else(|| {
        let spare = into.spare.filter(|_| cells(tail) == 1)?;
        let mut runs = lines(name, into)?;
        runs.push(Run { row: spare.row, col: spare.col, text: tail.to_owned() });
        Some(runs)
    })
}

/// The text on as many lines of the box as it needs.
fn lines(text: &str, into: LabelBox) -> Option<Vec<Run>> {
    let wrapped = wrap(text, usize::from(into.text.cols));
    block(&wrapped, into)
}

/// Breaks before the point of `M4.1` or the count of `SU!+1` if that helps, otherwise where the line is full.
fn wrap(text: &str, cols: usize) -> Vec<&str> {
    let mut rest = text;
    let mut lines = Vec::new();
    while rest.len() > cols && cols > 0 {
        let joint = rest.find(['.', '+']).filter(|at| (1..=cols).contains(at));
        let Some((line, after)) = rest.split_at_checked(joint.unwrap_or(cols)) else { break };
        lines.push(line);
        rest = after;
    }
    lines.push(rest);
    lines
}

fn cells(text: &str) -> u16 {
    u16::try_from(text.chars().count()).unwrap_or(u16::MAX)
}
