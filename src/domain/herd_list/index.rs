//! Whose label is this: the animals of a farm by everything they are, or were, called.

use super::clash::{Clash, Why};
use super::column::{Column, LABELS, NUMBERS};
use super::{Known, Row};
use crate::domain::herd::{Herd, Labels};
use crate::domain::letters::seen;
use crate::domain::vocabulary::Vocabulary;
use std::collections::BTreeMap;

/// The labels of a herd.
pub(super) struct Index<'h> {
    herd: &'h [Known],
    /// Who is here, by label and kind.
    here: Labelled,
    /// Who is here and was called so before.
    before: Labelled,
    /// Who left, by the labels she had then.
    left: Labelled,
}

type Labelled = BTreeMap<String, Vec<(Column, usize)>>;

impl<'h> Index<'h> {
    pub(super) fn of(herd: &'h [Known]) -> Index<'h> {
        let (mut here, mut before, mut left) = (Labelled::new(), Labelled::new(), Labelled::new());
        for (at, known) in herd.iter().enumerate() {
            note(if known.left.is_none() { &mut here } else { &mut left }, &known.labels, at);
            if known.left.is_none() {
                known.earlier.iter().for_each(|labels| note(&mut before, labels, at));
            }
        }
        Index { herd, here, before, left }
    }

    /// Everybody here who has any number that a line says, or its name where it says nothing else.
    pub(super) fn touched(&self, row: &Row) -> Vec<usize> {
        let columns = columns_of(row).iter();
        let bearers = columns.filter_map(|column| self.here.get(&folded(*column, &row.labels))).flatten();
        bearers.map(|(_, at)| *at).collect()
    }

    /// The animal a line means; none for a new one.
    pub(super) fn who(&self, row: &Row) -> Result<Option<usize>, Clash> {
        let her = self.bearer(row)?;
        for column in NUMBERS {
            let mut others = self.here.get(&folded(column, &row.labels)).into_iter().flatten();
            if let Some((other, at)) = others.find(|(other, at)| *other != Column::Name && Some(*at) != her) {
                let shared = *other == column && her.is_some_and(|her| self.has(her, column, row));
                if !shared {
                    let who = self.called(*at);
                    let why = match her.map(|her| (her, self.by(row, her))) {
                        Some((her, by)) => Why::Torn { who, other: self.called(her), by },
                        None => Why::Anothers { who, column: *other },
                    };
                    return Err(clash(row, column, why));
                }
            }
        }
        match her {
            Some(her) => Ok(Some(her)),
            None => self.is_new(row).map(|()| None),
        }
    }

    /// The surest label by which a line is hers.
    fn by(&self, row: &Row, her: usize) -> Column {
        let told = |column: &Column| !column.of(row).is_empty() && self.has(her, *column, row);
        NUMBERS.into_iter().find(told).unwrap_or(Column::Name)
    }

    /// Whoever here bears what the line says: by tag or electronic number, else by number, else by name.
    fn bearer(&self, row: &Row) -> Result<Option<usize>, Clash> {
        let tag = self.only(Column::Tag, row)?;
        let electronic = self.only(Column::Electronic, row)?;
        match (tag, electronic) {
            (Some(one), Some(other)) if one != other => {
                let why = Why::Torn { who: self.called(other), other: self.called(one), by: Column::Tag };
                Err(clash(row, Column::Electronic, why))
            }
            (Some(her), _) | (None, Some(her)) => Ok(Some(her)),
            (None, None) if row.labels.number.is_empty() => {
                if columns_of(row) == [Column::Name] {
                    self.only(Column::Name, row)
                } else {
                    Ok(None)
                }
            }
            (None, None) => match self.only(Column::Number, row)? {
                Some(her) => self.by_number(row, her),
                None => Ok(None),
            },
        }
    }

    /// The number is hers, if no surer label of the line says otherwise.
    fn by_number(&self, row: &Row, her: usize) -> Result<Option<usize>, Clash> {
        let known = &self.herd[her];
        for column in [Column::Tag, Column::Electronic] {
            let (told, has) = (column.of(row), column.cell(&known.labels, &known.herd));
            if !told.is_empty() && !has.is_empty() {
                let has = format!("the {} {has}", column.word());
                return Err(clash(row, column, Why::Otherwise { who: self.called(her), has }));
            }
        }
        Ok(Some(her))
    }

    /// Whether nobody who was called so, or who left, may be meant.
    fn is_new(&self, row: &Row) -> Result<(), Clash> {
        for column in columns_of(row) {
            let label = folded(*column, &row.labels);
            let of = |from: &Labelled| {
                let bearers = from.get(&label).into_iter().flatten().filter(|(other, _)| other == column);
                bearers.map(|(_, at)| *at).find(|at| !self.is_another(row, *at, *column))
            };
            if let Some(her) = of(&self.before) {
                return Err(clash(row, *column, Why::Earlier(self.called(her))));
            }
            if let Some(her) = of(&self.left)
                && let Some((how, day)) = self.herd[her].left
            {
                return Err(clash(row, *column, Why::Left { who: self.called(her), how, day }));
            }
        }
        Ok(())
    }

    /// Whether a line that gives the number of another speaks surely of a new animal: it tells a tag, an electronic number or
    /// a day of birth, and not hers. A number is given again; a tag is not.
    fn is_another(&self, row: &Row, her: usize, by: Column) -> bool {
        let known = &self.herd[her];
        let told = |column: Column| !column.of(row).is_empty();
        let otherwise = |column: Column| told(column) && column.of(row) != column.cell(&known.labels, &known.herd);
        let born = row.herd.born.is_some() && known.herd.born.is_some() && row.herd.born != known.herd.born;
        by == Column::Number && (otherwise(Column::Tag) || otherwise(Column::Electronic) || born)
    }

    /// The one who is here and has it as this; none for what is not told.
    fn only(&self, column: Column, row: &Row) -> Result<Option<usize>, Clash> {
        let bearers = self.here.get(&folded(column, &row.labels)).into_iter().flatten();
        let bearers: Vec<usize> = bearers.filter(|(other, _)| *other == column).map(|(_, at)| *at).collect();
        match bearers.as_slice() {
            [] => Ok(None),
            [her] => Ok(Some(*her)),
            several => Err(clash(row, column, Why::Shared(several.len()))),
        }
    }

    /// Whether she has just that already.
    fn has(&self, her: usize, column: Column, row: &Row) -> bool {
        folded(column, &self.herd[her].labels) == folded(column, &row.labels)
    }

    /// What an animal is called in a sentence.
    pub(super) fn called(&self, at: usize) -> String {
        let labels = &self.herd[at].labels;
        let first = [&labels.number, &labels.tag, &labels.electronic, &labels.name];
        first.into_iter().map(|label| seen(label)).find(|label| !label.is_empty()).unwrap_or_default()
    }
}

/// The columns by which a line says whom it means: her numbers; her name, where it tells nothing else.
pub(super) fn columns_of(row: &Row) -> &'static [Column] {
    let named_only = NUMBERS.iter().all(|column| column.of(row).is_empty());
    if named_only { &[Column::Name] } else { &NUMBERS }
}

/// A label as it is compared: as it is seen, capitals and blanks aside. A tag is printed with blanks and typed without.
pub(super) fn folded(column: Column, labels: &Labels) -> String {
    let cell = column.cell(labels, &Herd::default()).to_lowercase();
    cell.chars().filter(|letter| !letter.is_whitespace()).collect()
}

pub(super) fn clash(row: &Row, column: Column, why: Why) -> Clash {
    Clash { line: row.line, column, value: column.of(row), why }
}

fn note(labelled: &mut Labelled, labels: &Labels, at: usize) {
    for column in LABELS {
        let label = folded(column, labels);
        if !label.is_empty() {
            labelled.entry(label).or_default().push((column, at));
        }
    }
}
