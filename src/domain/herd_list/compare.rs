//! A whole list against a whole herd.

use super::clash::{Clash, Why};
use super::column::{Column, LABELS};
use super::index::{Index, clash, columns_of, folded};
use super::{Change, Changed, Known, Row};
use crate::domain::her_days::wrong;
use crate::domain::herd::Herd;
use crate::domain::ids::AnimalId;
use crate::domain::vocabulary::Vocabulary;
use chrono::NaiveDate;
use std::collections::{BTreeMap, BTreeSet};

/// What a list would change.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Preview {
    /// Animals that nobody knows yet.
    pub new: Vec<Row>,
    /// Animals of whom it says something new.
    pub changed: Vec<Changed>,
    /// How many are as it says already.
    pub same: usize,
    /// Animals that are here and not on it. Offered as gone, and kept.
    pub missing: Vec<AnimalId>,
    /// Animals that have no label by which a list could name them, and so are never missing.
    pub nameless: usize,
    /// Lines that cannot be meant so.
    pub clashes: Vec<Clash>,
}

impl Preview {
    /// Whether it changes nothing.
    pub fn is_empty(&self) -> bool {
        self.new.is_empty() && self.changed.is_empty()
    }
}

/// Compares a list of that day with the herd. `unread` are lines with a cell that cannot be read: nothing of them counts, but
/// whoever they name is not missing.
pub fn compare(rows: &[Row], unread: &[Row], herd: &[Known], on: NaiveDate) -> Preview {
    let index = Index::of(herd);
    let mut clashes = twice_in(rows, herd, &index);
    let mut meant: BTreeMap<usize, Vec<&Row>> = BTreeMap::new();
    let mut preview = Preview::default();
    for row in rows.iter().filter(|row| !clashes.contains_key(&row.line)).collect::<Vec<_>>() {
        match index.who(row) {
            Ok(Some(her)) => meant.entry(her).or_default().push(row),
            Ok(None) => match no_day(row, &Herd::default(), on) {
                None => preview.new.push(row.clone()),
                Some(clash) => drop(clashes.insert(row.line, clash)),
            },
            Err(clash) => drop(clashes.insert(row.line, clash)),
        }
    }
    for (her, rows) in &meant {
        match rows.as_slice() {
            [row] => match changed(row, &herd[*her], on, &index.called(*her)) {
                Ok(None) => preview.same += 1,
                Ok(Some(changed)) => preview.changed.push(changed),
                Err(clash) => drop(clashes.insert(row.line, clash)),
            },
            several => {
                for row in several {
                    let other = several.iter().find(|other| other.line != row.line).map_or(0, |other| other.line);
                    let why = Why::OneAnimal { line: other, who: index.called(*her) };
                    let column = columns_of(row).iter().find(|column| !column.of(row).is_empty());
                    clashes.insert(row.line, clash(row, column.copied().unwrap_or(Column::Number), why));
                }
            }
        }
    }
    preview.changed.sort_by_key(|changed| changed.row.line);
    let bad = rows.iter().filter(|row| clashes.contains_key(&row.line)).chain(unread);
    let mut there: BTreeSet<usize> = bad.flat_map(|row| index.touched(row)).collect();
    there.extend(meant.keys());
    let here = herd.iter().enumerate().filter(|(_, known)| known.left.is_none());
    for (_, known) in here.filter(|(at, _)| !there.contains(at)) {
        if LABELS.iter().any(|column| !folded(*column, &known.labels).is_empty()) {
            preview.missing.push(known.animal);
        } else {
            preview.nameless += 1;
        }
    }
    preview.clashes = clashes.into_values().collect();
    preview
}

/// Lines of which another has a number too. Several animals that have one number here already may stand with it on the list.
fn twice_in(rows: &[Row], herd: &[Known], index: &Index<'_>) -> BTreeMap<u64, Clash> {
    let mut lines: BTreeMap<String, Vec<(&Row, Column)>> = BTreeMap::new();
    for row in rows {
        let mut labels = BTreeSet::new();
        for column in columns_of(row) {
            let label = folded(*column, &row.labels);
            if !label.is_empty() && labels.insert(label.clone()) {
                lines.entry(label).or_default().push((row, *column));
            }
        }
    }
    let shares = |row: &Row| match index.who(row) {
        Ok(Some(her)) => Column::Number.of(row) == Column::Number.cell(&herd[her].labels, &herd[her].herd),
        Ok(None) | Err(_) => false,
    };
    let mut clashes = BTreeMap::new();
    for several in lines.values().filter(|several| several.len() > 1) {
        if several.iter().all(|(row, column)| *column == Column::Number && shares(row)) {
            continue;
        }
        for (row, column) in several {
            let other = several.iter().find(|(other, _)| other.line != row.line).map_or(0, |(other, _)| other.line);
            clashes.entry(row.line).or_insert_with(|| clash(row, *column, Why::Line(other)));
        }
    }
    clashes
}

/// What a line says new of her; none where she is as it says.
fn changed(row: &Row, known: &Known, on: NaiveDate, called: &str) -> Result<Option<Changed>, Clash> {
    let told = Column::ALL.iter().map(|column| Change {
        column: *column,
        was: column.cell(&known.labels, &known.herd),
        now: column.of(row),
    });
    // The same tag with other blanks or capitals is no news.
    let spelled = folded(Column::Tag, &row.labels) == folded(Column::Tag, &known.labels);
    let is_new = |one: &Change| !one.now.is_empty() && one.now != one.was && !(one.column == Column::Tag && spelled);
    let changes: Vec<Change> = told.filter(is_new).collect();
    let is_new = |clash: &Clash| changes.iter().any(|one| one.column == clash.column);
    if let Some(clash) = no_day(row, &known.herd, on).filter(is_new) {
        return Err(clash);
    }
    match (changes.first(), known.told) {
        (None, _) => Ok(None),
        (Some(first), Some(day)) if day > on => {
            Err(clash(row, first.column, Why::Later { who: called.to_owned(), day }))
        }
        (Some(_), _) => Ok(Some(Changed { animal: known.animal, row: row.clone(), changes })),
    }
}

/// The first of a line's days that cannot be hers.
fn no_day(row: &Row, known: &Herd, on: NaiveDate) -> Option<Clash> {
    wrong(&row.herd, known, on).into_iter().next().map(|(column, why)| clash(row, column, Why::NoDay(why)))
}
