//! A farm opened with its list of the day: every animal's records read and folded. Beside it the same records read from
//! SQLite and folded once each, which is the least that such a list can cost there.

use crate::books::{Pair, make, open};
use crate::rounds::{Outcome, Racer, Times, race, timed};
use crate::twin::Twin;
use crate::years::{Plan, TEN_YEARS};
use chrono::{Days, NaiveDate};
use crushbook::command::day_parts::Parts;
use crushbook::domain::follow_up::rules::Rules;
use crushbook::domain::ids::{AnimalId, FarmId};
use crushbook::store::Store;
use std::collections::BTreeMap;
use std::hint::black_box;
use std::path::Path;

/// Rounds of it.
const ROUNDS: usize = 20;

/// What was measured of one farm.
pub struct Listed {
    /// Animals it ever had.
    pub animals: usize,
    /// Of them expected.
    pub expected: usize,
    /// Records of all of them.
    pub records: usize,
    /// Times.
    pub times: Times,
}

/// The farm with most animals, and of each the number of her records.
fn largest(store: &Store) -> Outcome<(FarmId, BTreeMap<AnimalId, u64>)> {
    let mut farms = Vec::new();
    for farm in store.farms()?.0 {
        let herd = store.animals(farm.farm)?.0.iter().map(|row| (row.animal, row.count)).collect::<BTreeMap<_, _>>();
        farms.push((farm.farm, herd));
    }
    farms.into_iter().max_by_key(|(_, herd)| herd.len()).ok_or_else(|| "a farm".into())
}

fn listed(store: &Store, of: (FarmId, NaiveDate), herd: &BTreeMap<AnimalId, u64>) -> Outcome<usize> {
    let mut parts = Parts::default();
    parts.read(store, of, herd, &Rules::default(), &mut |_, _| {})?;
    Ok(black_box(parts.list()).expected.len())
}

/// One farm of so many animals at any time, over ten years.
pub fn invented(folder: &Path, herd: u32, name: &str) -> Outcome<Listed> {
    let plan = Plan { farms: 1, herd, ..TEN_YEARS };
    let pair = make(folder, name, Some(plan))?;
    of(&pair, plan.begin() + Days::new(plan.days()))
}

/// The largest farm of the sample herd, entered into that book, on its last day: how many animals, and the time in milliseconds.
pub fn sample(book: &Path) -> Outcome<(usize, f64)> {
    let store = open(book)?;
    let (farm, herd) = largest(&store)?;
    let today = NaiveDate::from_ymd_opt(2026, 5, 14).ok_or("a day")?;
    let name = "sample";
    let times = race(ROUNDS, vec![Racer::new(name, || Ok(timed(|| listed(&store, (farm, today), &herd))?.1))])?;
    store.close()?;
    Ok((herd.len(), times.median(name) / 1e3))
}

/// The largest farm of a book on a day.
fn of(pair: &Pair, today: NaiveDate) -> Outcome<Listed> {
    let (store, twin) = (open(&pair.book)?, Twin::open(&pair.twin)?);
    let (farm, herd) = largest(&store)?;
    let expected = listed(&store, (farm, today), &herd)?;
    let times = race(
        ROUNDS,
        vec![
            Racer::new("list of a day", || Ok(timed(|| listed(&store, (farm, today), &herd))?.1)),
            Racer::new("herd alone", || Ok(timed(|| Ok(black_box(store.labels(farm)?)))?.1)),
            Racer::new("list of a day, SQLite", || {
                let (_, time) = timed(|| {
                    for animal in herd.keys() {
                        black_box(twin.history(*animal)?);
                    }
                    Ok(())
                })?;
                Ok(time)
            }),
        ],
    )?;
    store.close()?;
    let records = herd.values().sum::<u64>() as usize;
    Ok(Listed { animals: herd.len(), expected, records, times })
}
