//! The herd as it was on the day of paper: read whole once, and then only of whom more was written. How many records an animal has
//! stands in her row, and grows with each.

use super::herd;
use crate::domain::herd::{Leaving, Status};
use crate::domain::history::History;
use crate::domain::history::open::Open;
use crate::domain::ids::{AnimalId, FarmId};
use crate::domain::known::as_of;
use crate::session::HerdLine;
use crate::store::Store;
use crate::store::error::{Problem, StoreError};
use chrono::NaiveDate;
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

/// What was read of a farm's herd for a day gone by.
#[derive(Default)]
pub struct Then {
    /// Farm and day; none before anything was read.
    of: Option<(FarmId, NaiveDate)>,
    /// Each animal with the number of her records.
    known: BTreeMap<AnimalId, (u64, Was)>,
}

/// How one animal stood.
struct Was {
    left: Option<Leaving>,
    status: Option<Status>,
    open: Open,
}

impl Then {
    /// Reads what is not known yet, and puts it in the place of what is known now; what was open on whom. `counts` is the number of
    /// records of each; `also` hears of whoever is read.
    ///
    /// # Errors
    /// What the store says.
    pub fn read(
        &mut self,
        store: &Store,
        of: (FarmId, NaiveDate),
        (lines, counts): (&mut [HerdLine], &BTreeMap<AnimalId, u64>),
        also: &mut dyn FnMut(AnimalId),
    ) -> Result<(Vec<Open>, Vec<Problem>), StoreError> {
        if self.of != Some(of) {
            *self = Then { of: Some(of), ..Then::default() };
        }
        self.known.retain(|animal, (count, _)| counts.get(animal) == Some(&*count));
        let (mut open, mut problems) = (Vec::new(), Vec::new());
        for line in lines.iter_mut() {
            let (_, was) = match self.known.entry(line.id) {
                Entry::Occupied(known) => known.into_mut(),
                Entry::Vacant(place) => {
                    let (records, more) = herd::animal(store, line.id)?;
                    problems.extend(more);
                    also(line.id);
                    let then = History::of(as_of(&records, of.1), line.id);
                    let left = then.left.map(|(why, _)| why);
                    let was = Was { left, status: then.herd.status, open: Open::of(&then) };
                    place.insert((counts.get(&line.id).copied().unwrap_or(0), was))
                }
            };
            (line.left, line.status) = (was.left, was.status);
            open.extend(Some(was.open.clone()).filter(|open| !open.items.is_empty()));
        }
        lines.sort_by_key(|line| line.left.is_some());
        Ok((open, problems))
    }
}
