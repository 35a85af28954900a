//! Which numbers of each series a book holds: runs from first to last, so that a gap shows.

use crate::domain::ids::RecordId;
use std::collections::BTreeMap;

/// Runs of numbers, per series: sorted, apart from each other by at least one number.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Runs(BTreeMap<u64, Vec<(u64, u64)>>);

impl Runs {
    /// Whether this number is held.
    pub fn holds(&self, id: RecordId) -> bool {
        self.0.get(&id.series).is_some_and(|runs| runs.iter().any(|&(from, to)| from <= id.seq && id.seq <= to))
    }

    /// Adds the numbers `from` to `to` of a series, and joins what touches.
    pub fn add(&mut self, series: u64, from: u64, to: u64) {
        let runs = self.0.entry(series).or_default();
        runs.push((from, to));
        runs.sort_unstable();
        let mut joined: Vec<(u64, u64)> = Vec::with_capacity(runs.len());
        for &(from, to) in runs.iter() {
            match joined.last_mut() {
                Some(last) if from <= last.1.saturating_add(1) => last.1 = last.1.max(to),
                _ => joined.push((from, to)),
            }
        }
        *runs = joined;
    }

    /// Runs of these numbers: series, first, last.
    pub fn of(numbers: &[(u64, u64, u64)]) -> Runs {
        let mut runs = Runs::default();
        for &(series, from, to) in numbers {
            runs.add(series, from, to);
        }
        runs
    }

    /// These numbers and those.
    pub fn and(&self, others: &Runs) -> Runs {
        Runs::of(&self.each().chain(others.each()).collect::<Vec<_>>())
    }

    /// The highest number of a series; 0 where nothing of it is held.
    pub fn end(&self, series: u64) -> u64 {
        self.0.get(&series).and_then(|runs| runs.last()).map_or(0, |run| run.1)
    }

    /// Every run: series, first number, last number.
    pub fn each(&self) -> impl Iterator<Item = (u64, u64, u64)> + '_ {
        self.0.iter().flat_map(|(&series, runs)| runs.iter().map(move |&(from, to)| (series, from, to)))
    }

    /// How many numbers are held.
    pub fn count(&self) -> u64 {
        self.each().map(|(_, from, to)| (to - from).saturating_add(1)).fold(0, u64::saturating_add)
    }

    /// Numbers that are missing below the highest of each series: series, first, last. They may be on another tablet.
    pub fn gaps(&self) -> Vec<(u64, u64, u64)> {
        let mut gaps = Vec::new();
        for (&series, runs) in &self.0 {
            let mut due = 1;
            for &(from, to) in runs {
                if from > due {
                    gaps.push((series, due, from - 1));
                }
                due = to.saturating_add(1);
            }
        }
        gaps
    }

    /// Numbers held here and not there: series, first, last.
    pub fn without(&self, there: &Runs) -> Vec<(u64, u64, u64)> {
        let mut missing = Vec::new();
        for (series, from, to) in self.each() {
            let mut due = from;
            for &(first, last) in there.0.get(&series).into_iter().flatten().filter(|run| run.1 >= from && run.0 <= to)
            {
                if first > due {
                    missing.push((series, due, first - 1));
                }
                due = due.max(last.saturating_add(1));
            }
            if due <= to {
                missing.push((series, due, to));
            }
        }
        missing
    }

    /// Bytes of the runs: three little-endian numbers each.
    pub fn encode(&self) -> Vec<u8> {
        self.each().flat_map(|(series, from, to)| [series, from, to]).flat_map(u64::to_le_bytes).collect()
    }

    /// Runs of these bytes; none where the bytes are not runs.
    pub fn decode(bytes: &[u8]) -> Option<Runs> {
        let (rows, rest) = bytes.as_chunks::<24>();
        if !rest.is_empty() {
            return None;
        }
        let mut runs = Runs::default();
        for row in rows {
            let (numbers, _) = row.as_chunks::<8>();
            let [series, from, to] = [numbers[0], numbers[1], numbers[2]].map(u64::from_le_bytes);
            if from == 0 || from > to {
                return None;
            }
            runs.add(series, from, to);
        }
        Some(runs)
    }
}
