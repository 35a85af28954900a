//! Reading what is true: pages, other bytes of a name, and the hand over them; alone or inside a transaction that writes.

use super::error::Problem;
use super::tables::{id_bytes, last_id};
use crate::domain::ids::RecordId;
use crate::domain::record::Record;
use crate::wire::envelope::Raw;
use crate::wire::page::read_page;
use redb::ReadableTable;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Bound;

/// Key of a page: series and first number.
pub type PageKey = (u64, u64);

/// The tables of truth, and the hand where it counts.
pub struct Shelf<'a, P, F, I> {
    /// PAGE.
    pub page: &'a P,
    /// FORK.
    pub fork: &'a F,
    /// PAGE_OF.
    pub page_of: &'a I,
    /// Records not packed yet.
    pub hand: Option<&'a BTreeMap<RecordId, Raw>>,
}

/// All records of the subjects that records tie together: joined animals or farms, and animals a turn was moved between.
#[derive(Debug, Default)]
pub struct Group {
    /// Everybody in it.
    pub subjects: BTreeSet<RecordId>,
    /// Its records, by name and bytes.
    pub raws: BTreeMap<(RecordId, Box<[u8]>), Raw>,
    /// Names that the book holds several records of, here or elsewhere.
    pub doubled: BTreeSet<RecordId>,
    /// How many records in the book are about each subject.
    pub counts: BTreeMap<RecordId, u64>,
    /// What was wrong on the way.
    pub problems: Vec<Problem>,
}

impl Group {
    /// Decodes every record; one that cannot be read is a problem and stays where it is. Records that share a name with
    /// another are told apart by their bytes, so that it cannot matter which came first.
    pub fn records(&self) -> (Vec<Record>, Vec<Problem>) {
        let mut problems = self.problems.clone();
        let mut records = Vec::with_capacity(self.raws.len());
        for raw in self.raws.values() {
            match raw.decode() {
                Ok(record) if self.doubled.contains(&raw.id) => records.push(record.told_apart(raw.crc())),
                Ok(record) => records.push(record),
                Err(error) => {
                    problems.push(Problem::Unreadable { place: format!("record {}", raw.id), why: error.to_string() })
                }
            }
        }
        records.sort_by_key(Record::order);
        (records, problems)
    }

    fn put(&mut self, raw: Raw) {
        self.raws.insert((raw.id, raw.bytes.clone()), raw);
    }

    /// Says which of its names are shared.
    fn tell_doubled(&mut self) {
        self.doubled.extend(doubled(self.raws.values()));
        let forks = self.raws.keys().map(|(id, _)| *id).filter(|id| self.doubled.contains(id));
        let forks: BTreeSet<RecordId> = forks.collect();
        self.problems.extend(forks.into_iter().map(Problem::Fork));
    }
}

/// Names that several different records bear.
fn doubled<'r>(raws: impl Iterator<Item = &'r Raw> + Clone) -> BTreeSet<RecordId> {
    // Records of a page stand in the order of their names; only what is kept beside it can bear one of them again.
    if raws.clone().is_sorted_by(|before, after| before.id < after.id) {
        return BTreeSet::new();
    }
    let mut met: BTreeMap<RecordId, &Raw> = BTreeMap::new();
    raws.filter(|raw| *met.entry(raw.id).or_insert(raw) != *raw).map(|raw| raw.id).collect()
}

/// Whom a record is about.
pub fn subjects(raw: &Raw) -> impl Iterator<Item = RecordId> {
    [Some(raw.about), raw.also].into_iter().flatten()
}

fn touches(raw: &Raw, subject: RecordId) -> bool {
    subjects(raw).any(|about| about == subject)
}

impl<P, F, I> Shelf<'_, P, F, I>
where
    P: ReadableTable<PageKey, &'static [u8]>,
    F: ReadableTable<(u64, u64, u32), &'static [u8]>,
    I: ReadableTable<&'static [u8], &'static [u8]>,
{
    /// Every record tied to this subject, however far round.
    pub fn group(&self, seed: RecordId) -> Result<Group, redb::Error> {
        let mut group = Group::default();
        let mut pages = BTreeSet::new();
        let mut waiting = vec![seed];
        while let Some(subject) = waiting.pop() {
            if !group.subjects.insert(subject) {
                continue;
            }
            let mut names = BTreeSet::new();
            // Only what is about her is kept of a page: a farm's records lie in as many pages as it has visits.
            for key in self.pages_of(subject)? {
                let mut problems = Vec::new();
                let raws = self.read(key, &mut problems)?;
                group.doubled.extend(doubled(raws.iter()));
                for raw in raws.into_iter().filter(|raw| touches(raw, subject)) {
                    names.insert(raw.id);
                    waiting.extend(subjects(&raw));
                    group.put(raw);
                }
                if pages.insert(key) {
                    group.problems.extend(problems);
                }
            }
            group.counts.insert(subject, names.len() as u64);
            let hand = self.hand.into_iter().flat_map(BTreeMap::values);
            for raw in hand.filter(|raw| touches(raw, subject)) {
                waiting.extend(subjects(raw));
                group.put(raw.clone());
            }
        }
        group.tell_doubled();
        Ok(group)
    }

    fn pages_of(&self, subject: RecordId) -> Result<Vec<PageKey>, redb::Error> {
        let prefix = id_bytes(subject);
        let mut keys = Vec::new();
        for row in self.page_of.range(prefix.as_slice()..)? {
            let (key, _) = row?;
            if !key.value().starts_with(&prefix) {
                break;
            }
            keys.extend(last_id(key.value()).map(|page| (page.series, page.seq)));
        }
        Ok(keys)
    }

    /// The records of one page, and the other bytes of their names.
    pub fn read(&self, key: PageKey, problems: &mut Vec<Problem>) -> Result<Vec<Raw>, redb::Error> {
        let mut raws = match self.page.get(key)? {
            Some(bytes) => page(key, bytes.value(), problems),
            None => Vec::new(),
        };
        for row in self.fork.range((key.0, key.1, 0)..)? {
            let (name, bytes) = row?;
            let (series, seq, _) = name.value();
            if series != key.0 || self.cover((series, seq))?.is_some_and(|cover| cover > key) {
                break;
            }
            raws.extend(fork(RecordId { series, seq }, bytes.value(), problems));
        }
        Ok(raws)
    }

    /// The page that holds this number, if any page before it in its series does.
    pub fn cover(&self, key: PageKey) -> Result<Option<PageKey>, redb::Error> {
        let before = (Bound::Included((key.0, 0)), Bound::Included(key));
        Ok(self.page.range::<PageKey>(before)?.next_back().transpose()?.map(|(page, _)| page.value()))
    }
}

/// Reads a page: its records must be of its series, and begin at its number without a gap.
pub fn page(key: PageKey, bytes: &[u8], problems: &mut Vec<Problem>) -> Vec<Raw> {
    let first = RecordId { series: key.0, seq: key.1 };
    let place = || format!("page {first}");
    let (raws, errors) = read_page(bytes);
    let whole = errors.is_empty();
    problems.extend(errors.iter().map(|error| Problem::Unreadable { place: place(), why: error.to_string() }));
    let mut due = first;
    for raw in &raws {
        let apart = raw.id.series != first.series || raw.id.seq < due.seq || (whole && raw.id != due);
        if apart {
            problems.push(Problem::Misplaced { place: place(), found: format!("record {}", raw.id) });
        }
        due.seq = raw.id.seq.saturating_add(1);
    }
    raws
}

/// Reads one of the other bytes of a name.
pub fn fork(id: RecordId, bytes: &[u8], problems: &mut Vec<Problem>) -> Option<Raw> {
    let place = format!("the second record {id}");
    match Raw::parse(bytes) {
        Ok(raw) if raw.id == id => return Some(raw),
        Ok(raw) => problems.push(Problem::Misplaced { place, found: format!("record {}", raw.id) }),
        Err(error) => problems.push(Problem::Unreadable { place, why: error.to_string() }),
    }
    None
}
