//! A list against a herd with all that is said of it, for the command and the screens alike. Reads and writes nothing.

use super::known;
use crate::domain::herd_list::Known;
use crate::domain::herd_list::clash::Clash;
use crate::domain::herd_list::column::Column;
use crate::domain::herd_list::compare::{Preview, compare};
use crate::domain::herd_list::doubt::{Doubt, What, doubts};
use crate::domain::herd_list::written::{Meant, write_out};
use crate::domain::ids::AnimalId;
use crate::domain::record::{Record, Stamp};
use crate::domain::vocabulary::Vocabulary;
use crate::report::due::called;
use crate::report::herd_list::Told;
use crate::report::words::Words;
use crate::wire::error::plain;
use crate::wire::herd_csv::{HerdList, RowProblem};
use chrono::NaiveDate;
use std::collections::BTreeMap;
use std::mem::discriminant;

/// Doubts of one kind that are written out; the rest is counted.
const LISTED: usize = 3;

/// What a list would change, and what is wrong with it.
pub struct Against {
    /// Columns of the list, and names of columns that are not known.
    pub columns: (Vec<Column>, Vec<String>),
    /// What would change.
    pub preview: Preview,
    /// The same as records, one press; none where it changes nothing.
    pub written: Vec<Record>,
    /// Bad cells and clashes, by line.
    pub bad: Vec<RowProblem>,
    /// The same in words.
    pub bad_lines: Vec<String>,
    /// Doubtful cells in words.
    pub doubts: Vec<String>,
    /// What each animal of the herd is called.
    pub called: BTreeMap<AnimalId, String>,
    /// What is on those that the list does not name.
    pub on: BTreeMap<AnimalId, Vec<String>>,
}

impl Against {
    /// Compares a list of the stamp's day with a herd.
    pub fn of(stamp: &Stamp, (name, list): (&str, &HerdList), meant: Meant<'_>, words: Words) -> Against {
        let known: Vec<Known> = meant.herd.iter().map(|her| her.known.clone()).collect();
        let mut preview = compare(&list.rows, &list.unread, &known, stamp.on);
        let written = write_out(stamp, name, meant, &mut preview);
        let mut bad: Vec<RowProblem> = list.problems.clone();
        bad.extend(preview.clashes.iter().map(|clash| as_problem(name, clash)));
        bad.sort_by_key(|problem| problem.line);
        let missing = meant.herd.iter().filter(|her| preview.missing.contains(&her.known.animal));
        let on = missing.map(|her| (her.known.animal, known::on(&her.history, words)));
        Against {
            on: on.filter(|(_, on)| !on.is_empty()).collect(),
            called: meant.herd.iter().map(|her| (her.known.animal, called(&her.history.labels))).collect(),
            doubts: doubtful(name, list, &preview.clashes, stamp.on),
            columns: (list.columns.clone(), list.left_out.clone()),
            bad_lines: bad.iter().map(ToString::to_string).collect(),
            preview,
            written,
            bad,
        }
    }

    /// The same for people.
    pub fn told<'t>(&'t self, list: &'t str, farm: &'t str, today: NaiveDate) -> Told<'t> {
        let Against { preview, bad_lines: bad, doubts, called, on, columns: (columns, left_out), .. } = self;
        Told { list, farm, today, columns: (columns, left_out), preview, called, on, bad, doubts }
    }
}

/// Why a list does not say surely whom it names, so that nobody is missing by it.
pub fn unsure(file: &str, list: &HerdList, preview: &Preview) -> Vec<String> {
    let mut causes: Vec<String> = list.broken.iter().map(ToString::to_string).collect();
    // A row of which not even the numbers can be read may be anybody's.
    let unread = list.problems.iter().filter(|problem| problem.column == "all" || is_number(&problem.column));
    causes.extend(unread.map(ToString::to_string));
    causes.extend(preview.clashes.iter().map(|clash| format!("{file}:{}: {}", clash.line, clash.why)));
    causes.extend(list.tall.iter().map(|tall| format!("{file}: {tall}")));
    if list.broken.is_empty() && list.rows.is_empty() && list.unread.is_empty() {
        causes.push(format!("{file} names no animal"));
    }
    causes
}

/// Whether days stand in it that may be meant either way round.
pub fn has_days(list: &HerdList) -> bool {
    let figures = |value: &str| value.chars().all(|letter| letter.is_ascii_digit() || "/.-".contains(letter));
    let days = [Column::Born, Column::Calved, Column::DryFrom, Column::DueToCalve].map(Column::word);
    list.problems.iter().any(|problem| days.contains(&problem.column.as_str()) && figures(&problem.value))
}

fn is_number(column: &str) -> bool {
    Column::from_word(column).is_some_and(Column::is_label)
}

fn as_problem(file: &str, clash: &Clash) -> RowProblem {
    RowProblem {
        file: file.to_owned(),
        line: clash.line,
        column: clash.column.word().to_owned(),
        value: clash.value.clone(),
        why: clash.why.to_string(),
    }
}

/// Doubtful cells that are not refused, a line each; of one kind the first few, then how many more.
fn doubtful(file: &str, list: &HerdList, clashes: &[Clash], today: NaiveDate) -> Vec<String> {
    let is_said = |doubt: &Doubt| clashes.iter().any(|one| (one.line, one.column) == (doubt.line, doubt.column));
    let all: Vec<Doubt> = list.rows.iter().flat_map(|row| doubts(row, today)).filter(|doubt| !is_said(doubt)).collect();
    let mut lines = Vec::new();
    let mut kinds: Vec<What> = Vec::new();
    for doubt in &all {
        if kinds.iter().any(|kind| discriminant(kind) == discriminant(&doubt.what)) {
            continue;
        }
        kinds.push(doubt.what);
        let alike: Vec<&Doubt> =
            all.iter().filter(|other| discriminant(&other.what) == discriminant(&doubt.what)).collect();
        for one in alike.iter().take(LISTED) {
            let (line, column, value) = (one.line, one.column.word(), plain(&one.value));
            lines.push(format!("{file}:{line}: column {column}, \"{value}\": {}", one.what));
        }
        if let more @ 1.. = alike.len().saturating_sub(LISTED) {
            lines.push(format!("and {more} more like it"));
        }
    }
    lines
}
