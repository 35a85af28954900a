//! Checking a book: every checksum, every number that should be there, and that the lists are what the records add up to.

use super::Store;
use super::book::View;
use super::error::{Problem, StoreError};
use super::refold::Note;
use super::rescue::Seen;
use super::rows::{Derived, list};
use super::runs::Runs;
use super::shelf::subjects;
use super::tables::{LISTS, ROWS_OF, Taking, id_bytes};
use crate::domain::ids::RecordId;
use crate::domain::record::Body;
use redb::ReadableTableMetadata;
use std::collections::{BTreeMap, BTreeSet};

/// What a check found.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Verdict {
    /// Records that can be read, the hand's too.
    pub records: u64,
    /// Of them, records that a newer program wrote.
    pub newer: u64,
    /// Animals, farms and the practice that have records.
    pub subjects: u64,
    /// Numbers missing below the highest of their series: series, first, last. They may be on another tablet.
    pub gaps: Vec<(u64, u64, u64)>,
    /// Numbers that lie in the bytes of the file because a taking-in broke off, and were never part of the book: series,
    /// first, last.
    pub never_saved: Vec<(u64, u64, u64)>,
    /// What is wrong.
    pub problems: Vec<Problem>,
}

impl Verdict {
    /// Whether nothing is damaged.
    pub fn is_sound(&self) -> bool {
        self.damage().next().is_none()
    }

    /// What is damaged. Two records under one name are kept and told, but no byte of them is wrong.
    pub fn damage(&self) -> impl Iterator<Item = &Problem> {
        self.problems.iter().filter(|problem| !matches!(problem, Problem::Fork(_)))
    }
}

impl Store {
    /// Reads everything and compares the lists with a replay, then has redb check every page of the file: that comes last,
    /// because a file that fails it may be brought back to an earlier state, or not be read any more.
    pub fn verify(&mut self) -> Result<Verdict, StoreError> {
        let mut verdict = Verdict::default();
        let everybody = self.read_all(&mut verdict)?;
        verdict.subjects = everybody.len() as u64;
        // Lists of another layout are made again by whoever opens the book; only a copy before an upgrade has any.
        if !self.book.facts.old_lists {
            let replayed = self.book.run(|book| replay(&book.view()?, everybody, &mut verdict.problems));
            replayed?;
        }
        if !self.book.check_pages()? {
            verdict.problems.push(Problem::Checksum);
        }
        verdict.problems.sort();
        verdict.problems.dedup();
        Ok(verdict)
    }

    /// The same, held against what lies in the bytes of book and hand, looked through before they were opened: redb may
    /// find less there than lies there, and call it sound.
    pub fn verify_against(&mut self, book: &Seen, hand: &Seen) -> Result<Verdict, StoreError> {
        let mut known = self.book.facts.runs.clone();
        for id in self.hand.held().keys() {
            known.add(id.series, id.seq, id.seq);
        }
        let broke_off = self.book.facts.taking != Taking::Whole;
        let mut verdict = self.verify()?;
        for (seen, broke_off) in [(book, broke_off), (hand, false)] {
            // A book counts no number before the record is in it.
            let counted = known.and(seen.said());
            let never_saved = if broke_off { seen.beyond(&counted) } else { Vec::new() };
            let unreached = seen.beyond(&known.and(&Runs::of(&never_saved))).into_iter();
            verdict.problems.extend(unreached.map(|(series, from, to)| Problem::Unreached { series, from, to }));
            verdict.never_saved.extend(never_saved);
            let remains = seen
                .remains_beyond(&known)
                .filter(|(id, can_be)| *can_be && (!broke_off || id.seq <= counted.end(id.series)));
            verdict.problems.extend(remains.map(|(id, _)| Problem::Lost {
                series: id.series,
                from: id.seq,
                to: id.seq,
            }));
        }
        // A record of the hand is never cut by pages laid over it, so there a name that cannot be is damage too.
        if hand.remains_beyond(&known).any(|(_, can_be)| !can_be) {
            let place = "a key beside the book".to_owned();
            verdict.problems.push(Problem::Unreadable { place, why: "its name is damaged".to_owned() });
        }
        verdict.problems.sort();
        verdict.problems.dedup();
        Ok(verdict)
    }

    /// Reads every record, and hands back everybody that records of the book are about.
    fn read_all(&self, verdict: &mut Verdict) -> Result<BTreeSet<RecordId>, StoreError> {
        let mut everybody = BTreeSet::new();
        let mut found = Runs::default();
        for given in self.every()? {
            let raw = match given {
                Ok(raw) => raw,
                Err(problem) => {
                    verdict.problems.push(problem);
                    continue;
                }
            };
            found.add(raw.id.series, raw.id.seq, raw.id.seq);
            if !self.hand.held().contains_key(&raw.id) {
                everybody.extend(subjects(&raw));
            }
            match raw.decode() {
                Ok(record) => {
                    verdict.records += 1;
                    verdict.newer += u64::from(matches!(record.body, Body::Newer { .. }));
                }
                Err(why) => verdict
                    .problems
                    .push(Problem::Unreadable { place: format!("record {}", raw.id), why: why.to_string() }),
            }
        }
        let said = &self.book.facts.runs;
        verdict.gaps = said.gaps();
        let lost = said.without(&found);
        verdict.problems.extend(lost.into_iter().map(|(series, from, to)| Problem::Lost { series, from, to }));
        Ok(everybody)
    }
}

/// Folds everybody from the pages and compares what that gives with the rows that are there.
fn replay(view: &View, everybody: BTreeSet<RecordId>, problems: &mut Vec<Problem>) -> Result<(), redb::Error> {
    let shelf = view.shelf(None);
    let mut tables = BTreeMap::new();
    for (_, number, table) in LISTS {
        tables.insert(number, view.transaction.open_table(table)?);
    }
    let notes = view.transaction.open_table(ROWS_OF)?;
    let mut counts: BTreeMap<u8, u64> = BTreeMap::new();
    let mut done: BTreeSet<RecordId> = BTreeSet::new();
    for subject in everybody {
        if done.contains(&subject) {
            continue;
        }
        let group = shelf.group(subject)?;
        let (_, wrong) = group.records();
        problems.extend(wrong);
        for (&subject, &found) in &group.counts {
            let note =
                notes.get(id_bytes(subject).as_slice())?.map(|row| Note::decode(row.value())).unwrap_or_default();
            if note.count != found {
                problems.push(Problem::Missing { subject, expected: note.count, found });
            }
        }
        for (number, subject, key, value) in Derived::of(&group).written() {
            *counts.entry(number).or_default() += 1;
            let Some(table) = tables.get(&number) else { continue };
            if table.get(key.as_slice())?.is_none_or(|row| row.value() != &*value) {
                problems.push(Problem::Stale { table: name(number), subject });
            }
        }
        done.extend(group.subjects);
    }
    for (&number, table) in &tables {
        let (found, expected) = (table.len()?, counts.get(&number).copied().unwrap_or(0));
        if found != expected {
            problems.push(Problem::Stray { table: name(number), found, expected });
        }
    }
    Ok(())
}

fn name(number: u8) -> String {
    list(number).map_or("", |list| list.0).to_owned()
}
