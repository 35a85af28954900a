//! Questions that the lists answer: who has something open, which farms, which animals, whose number this is, which turns
//! on a day.
//!
//! Rows come from the book; whoever has records in the hand, or a row that cannot be read, is folded afresh over them. So
//! an answer is always what the records add up to, and nobody falls out of it.

use super::Store;
use super::error::{Problem, Told};
use super::rows::{Derived, Label, Row, list};
use super::shelf::subjects;
use super::tables::{id_bytes, label_text, last_id};
use crate::domain::history::open::Open;
use crate::domain::ids::{FarmId, RecordId, VisitId};
use crate::wire::rows::{DayRow, FarmRow, LabelRow};
use chrono::NaiveDate;
use std::collections::{BTreeMap, BTreeSet};

impl Store {
    /// Everybody with something open, of one farm or of all. When an item is due follows from it at reading.
    pub fn open_items(&self, farm: Option<FarmId>) -> Told<Open> {
        match farm {
            Some(farm) => self.of_farm(farm, &[]),
            None => {
                let (farms, mut problems) = self.farms()?;
                let (mut open, more) = self.list::<Open>(&[Vec::new()])?;
                problems.extend(more);
                gather(&mut open, &farms);
                Ok((open, problems))
            }
        }
    }

    /// Every farm, given up and joined ones too.
    pub fn farms(&self) -> Told<FarmRow> {
        self.list(&[Vec::new()])
    }

    /// Every animal of a farm with the labels she has now.
    pub fn animals(&self, farm: FarmId) -> Told<LabelRow> {
        let (labels, problems) = self.of_farm::<Label>(farm, &[])?;
        let mut animals = BTreeMap::new();
        for label in labels.into_iter().filter(|label| label.row.current) {
            animals.entry(label.row.animal).or_insert(label.row);
        }
        Ok((animals.into_values().collect(), problems))
    }

    /// All that anybody of a farm is or was called, a row each; an old label's row says that it is not current.
    pub fn labels(&self, farm: FarmId) -> Told<LabelRow> {
        let (labels, problems) = self.of_farm::<Label>(farm, &[])?;
        Ok((labels.into_iter().map(|label| label.row).collect(), problems))
    }

    /// Whoever is or was called this on a farm: by number, tag, electronic number or name, case and blanks around it
    /// aside. An old number still finds her, and its row says that it is not current.
    pub fn find(&self, farm: FarmId, called: &str) -> Told<LabelRow> {
        let text = [label_text(called).as_bytes(), &[0]].concat();
        let (labels, problems) = self.of_farm::<Label>(farm, &text)?;
        Ok((labels.into_iter().map(|label| label.row).collect(), problems))
    }

    /// The turns of one day on a farm.
    pub fn day(&self, farm: FarmId, on: NaiveDate) -> Told<DayRow> {
        self.of_farm(farm, &super::tables::day_bytes(on))
    }

    /// Every turn of a farm.
    pub fn days(&self, farm: FarmId) -> Told<DayRow> {
        self.of_farm(farm, &[])
    }

    /// The turns of one visit to a farm, whatever day they lie on.
    pub fn visit(&self, farm: FarmId, visit: VisitId) -> Told<DayRow> {
        let (mut rows, problems) = self.of_farm::<DayRow>(farm, &[])?;
        rows.retain(|row| row.visit == visit);
        Ok((rows, problems))
    }

    /// Rows of a farm, and of every farm joined with it; all of them stand under the one they were joined into.
    fn of_farm<R: Row>(&self, farm: FarmId, then: &[u8]) -> Told<R> {
        let (farms, mut problems) = self.farms()?;
        let into = first_of(&farms, farm);
        let first = |row: &FarmRow| row.joined_into.unwrap_or(row.farm);
        let mut names: BTreeSet<FarmId> = farms.iter().filter(|row| first(row) == into).map(|row| row.farm).collect();
        names.insert(farm);
        let prefixes: Vec<Vec<u8>> = names.iter().map(|farm| [&id_bytes(farm.0), then].concat()).collect();
        let (mut rows, more) = self.list(&prefixes)?;
        problems.extend(more);
        gather(&mut rows, &farms);
        Ok((rows, problems))
    }

    /// Rows of one list whose keys begin with one of these, in the order of keys.
    fn list<R: Row>(&self, prefixes: &[Vec<u8>]) -> Told<R> {
        self.book().run(|book| {
            let view = book.view()?;
            let table = view.transaction.open_table(R::TABLE)?;
            let mut rows: Vec<(Vec<u8>, R)> = Vec::new();
            let mut afresh: BTreeSet<RecordId> = self.hand().held().values().flat_map(subjects).collect();
            let mut problems = Vec::new();
            for prefix in prefixes {
                for row in table.range(prefix.as_slice()..)? {
                    let (key, value) = row?;
                    let (key, value) = (key.value(), value.value());
                    if !key.starts_with(prefix) {
                        break;
                    }
                    match R::decode(key, value) {
                        Ok(row) if row.key() == key => rows.push((key.to_vec(), row)),
                        Ok(_) | Err(_) => {
                            let Some(subject) = last_id(key) else { continue };
                            afresh.insert(subject);
                            if !value.is_empty() {
                                let table = list(R::LIST).map_or("", |list| list.0).to_owned();
                                problems.push(Problem::Stale { table, subject });
                            }
                        }
                    }
                }
            }
            let shelf = view.shelf(Some(self.hand().held()));
            let mut covered = BTreeSet::new();
            let mut derived = Derived::default();
            for subject in afresh {
                if !covered.contains(&subject) {
                    let group = shelf.group(subject)?;
                    derived.extend(Derived::of(&group));
                    problems.extend(group.problems);
                    covered.extend(group.subjects);
                }
            }
            rows.retain(|(_, row)| !covered.contains(&row.subject()));
            let fresh = R::pick(derived).into_iter().map(|row| (row.key(), row));
            rows.extend(fresh.filter(|(key, _)| prefixes.iter().any(|prefix| key.starts_with(prefix))));
            // No prefix begins another, so no row is here twice.
            rows.sort_by(|(one, _), (other, _)| one.cmp(other));
            Ok((rows.into_iter().map(|(_, row)| row).collect(), problems))
        })
    }
}

/// The farm that a farm was joined into; itself where it was not.
pub fn first_of(farms: &[FarmRow], farm: FarmId) -> FarmId {
    farms.iter().find(|row| row.farm == farm).and_then(|row| row.joined_into).unwrap_or(farm)
}

/// Puts every row under the farm that its own was joined into: what a list shows of joined farms is one farm.
fn gather<R: Row>(rows: &mut [R], farms: &[FarmRow]) {
    if farms.iter().any(|row| row.joined_into.is_some()) {
        rows.iter_mut().for_each(|row| row.move_to(|farm| first_of(farms, farm)));
    }
}
