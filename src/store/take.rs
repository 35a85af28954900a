//! The one way into the book. A union, record by record: what is held is dropped, the rest becomes new pages, other bytes
//! of a name are kept beside. Then every subject touched is folded again, all in one commit.

use super::book::{Book, Facts, make_lists, write_facts, write_uncounted};
use super::error::{Problem, StoreError};
use super::refold::fold;
use super::rows::Folded;
use super::runs::Runs;
use super::shelf::{self, PageKey, Shelf, subjects};
use super::tables::{DERIVED, FORK, PAGE, PAGE_OF, Taking, id_bytes};
use crate::domain::ids::{AnimalId, FarmId, RecordId};
use crate::domain::record::LAST_TICK;
use crate::wire::envelope::Raw;
use crate::wire::page::page;
use chrono::{Datelike, NaiveDate};
use redb::{ReadableTable, Table, WriteTransaction};
use std::collections::{BTreeMap, BTreeSet};

/// What a taking-in did.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Taken {
    /// Records that were new.
    pub new: u64,
    /// Records that were held already.
    pub held: u64,
    /// Names that bear two different records; both are kept.
    pub forks: Vec<RecordId>,
    /// What could not be read on the way.
    pub problems: Vec<Problem>,
    /// Farms with something new, and how many of their animals.
    pub farms: BTreeMap<FarmId, u64>,
    /// Animals with something new of whom two tablets disagree: her farm, and her.
    pub differing: Vec<(FarmId, AnimalId)>,
}

/// How far a taking-in is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// Records are read; so many were taken so far.
    Reading(u64),
    /// What they add up to is written: so many animals and farms of so many.
    Adding(usize, usize),
}

/// What was held already, and the first that was not, where there is one.
pub type PassedOver = (Taken, Option<Result<Raw, Problem>>);

/// Whoever waits for a taking-in: says false to have none of it.
pub type Watch<'w> = &'w mut dyn FnMut(Step) -> bool;

impl Taken {
    /// Everything that was wrong, forks too.
    pub fn into_problems(self) -> Vec<Problem> {
        self.problems.into_iter().chain(self.forks.into_iter().map(Problem::Fork)).collect()
    }
}

/// Most records of one page.
const PAGE_RECORDS: usize = 128;
/// Most bytes of a page, unless one record alone has more: it and its key then fill two of redb's pages of 4 KiB, and one
/// byte more would take four. To read one turn is to read all of its page.
const PAGE_BYTES: usize = (8 << 10) - 64;
/// Records sorted and paged at a time.
const CHUNK: usize = 8192;

impl Book {
    /// Takes in as much as there may be; `before` was passed over. What is written before the commit lies in the bytes of the
    /// file, under numbers that must never be given again, so the book knows meanwhile that it is at it. And it counts them for
    /// a rescue only once they are in it, in one more commit: so what broke off is told from what was lost.
    pub fn take_much(
        &mut self,
        before: Taken,
        from: &mut dyn Iterator<Item = Result<Raw, Problem>>,
        watch: Watch<'_>,
    ) -> Result<Taken, StoreError> {
        let was = self.facts.taking;
        self.say(|facts| facts.taking = Taking::UnderWay)?;
        let taken = self.commit(before, from, watch, |transaction, facts| {
            facts.taking = was;
            write_uncounted(transaction, facts)
        });
        let after = match &taken {
            Ok(_) => was,
            Err(StoreError::Stopped) => Taking::BrokeOff,
            // The file may not be written any more; whoever opens it next sees to it.
            Err(_) => return taken,
        };
        self.say(|facts| facts.taking = after)?;
        taken
    }

    /// Counts what is held already, byte for byte, up to the first that is not, and hands that back. Nothing is written. None:
    /// stop was said.
    pub fn pass_over(
        &self,
        from: &mut dyn Iterator<Item = Result<Raw, Problem>>,
        watch: Watch<'_>,
    ) -> Result<Option<PassedOver>, StoreError> {
        self.in_place()?;
        self.run(|book| {
            let view = book.view()?;
            let shelf = view.shelf(None);
            let (mut taken, mut open) = (Taken::default(), None);
            for given in from {
                match &given {
                    Ok(raw) if book.facts.runs.holds(raw.id) && covering(&shelf, &mut open, raw.id)?.contains(raw) => {}
                    Ok(_) | Err(_) => return Ok(Some((taken, Some(given)))),
                }
                taken.held += 1;
                if taken.held.is_multiple_of(CHUNK as u64) && !watch(Step::Reading(taken.held)) {
                    return Ok(None);
                }
            }
            Ok(Some((taken, None)))
        })
    }

    /// Takes records in. Either all that could be read is in the book afterwards, or nothing.
    pub fn take(&mut self, from: &mut dyn Iterator<Item = Result<Raw, Problem>>) -> Result<Taken, StoreError> {
        self.in_place()?;
        self.commit(Taken::default(), from, &mut |_| true, |transaction, facts| write_facts(transaction, facts))
    }

    fn commit(
        &mut self,
        before: Taken,
        from: &mut dyn Iterator<Item = Result<Raw, Problem>>,
        watch: Watch<'_>,
        write: impl FnOnce(&WriteTransaction, &mut Facts) -> Result<(), redb::Error>,
    ) -> Result<Taken, StoreError> {
        let mut facts = self.facts.clone();
        let taken = self.run(|book| {
            let transaction = book.begin_write()?;
            let taken = take_in(&transaction, &mut facts, before, from, watch)?;
            match &taken {
                // Nothing was new, or stop was said.
                None | Some((_, false)) => transaction.abort()?,
                Some((_, true)) => {
                    write(&transaction, &mut facts)?;
                    transaction.commit()?;
                }
            }
            Ok(taken.map(|(taken, _)| taken))
        })?;
        let taken = taken.ok_or(StoreError::Stopped)?;
        self.facts = facts;
        Ok(taken)
    }

    /// Makes every derived table again from the pages.
    pub fn rebuild(&mut self) -> Result<(), StoreError> {
        let mut facts = self.facts.clone();
        self.run(|book| {
            let transaction = book.begin_write()?;
            for table in DERIVED {
                transaction.delete_table(table)?;
            }
            make_lists(&transaction)?;
            let touched = Union::open(&transaction, &mut facts)?.again()?;
            fold(&transaction, &touched, &mut |_, _| true)?;
            write_facts(&transaction, &facts)?;
            Ok(transaction.commit()?)
        })?;
        facts.old_lists = false;
        self.facts = facts;
        Ok(())
    }
}

/// Takes records in within a transaction, and says whether anything is to be committed. `before` was done with already. None:
/// stop was said.
pub fn take_in(
    transaction: &WriteTransaction,
    facts: &mut Facts,
    before: Taken,
    from: &mut dyn Iterator<Item = Result<Raw, Problem>>,
    watch: Watch<'_>,
) -> Result<Option<(Taken, bool)>, redb::Error> {
    let mut union = Union { taken: before, ..Union::open(transaction, facts)? };
    while union.chunk(from)? {
        if !watch(Step::Reading(union.taken.new + union.taken.held)) {
            return Ok(None);
        }
    }
    let (mut taken, touched) = union.end();
    if touched.is_empty() {
        return Ok(Some((taken, false)));
    }
    let Some(animals) = fold(transaction, &touched, &mut |done, of| watch(Step::Adding(done, of)))? else {
        return Ok(None);
    };
    for Folded { ids, farm, differs } in animals {
        *taken.farms.entry(farm).or_default() += 1;
        taken.differing.extend(ids.first().filter(|_| differs).map(|animal| (farm, *animal)));
    }
    Ok(Some((taken, true)))
}

type Bytes = &'static [u8];

/// A taking-in under way.
struct Union<'t, 'f> {
    page: Table<'t, PageKey, Bytes>,
    fork: Table<'t, (u64, u64, u32), Bytes>,
    page_of: Table<'t, Bytes, Bytes>,
    facts: &'f mut Facts,
    touched: BTreeSet<RecordId>,
    taken: Taken,
}

impl<'t, 'f> Union<'t, 'f> {
    fn open(transaction: &'t WriteTransaction, facts: &'f mut Facts) -> Result<Union<'t, 'f>, redb::Error> {
        Ok(Union {
            page: transaction.open_table(PAGE)?,
            fork: transaction.open_table(FORK)?,
            page_of: transaction.open_table(PAGE_OF)?,
            facts,
            touched: BTreeSet::new(),
            taken: Taken::default(),
        })
    }

    /// Lets go of the tables, and says what was done and whom it touched.
    fn end(self) -> (Taken, BTreeSet<RecordId>) {
        (self.taken, self.touched)
    }

    /// Takes the next records; false when there are no more.
    fn chunk(&mut self, from: &mut dyn Iterator<Item = Result<Raw, Problem>>) -> Result<bool, redb::Error> {
        let mut raws = Vec::new();
        let mut more = false;
        for given in from.take(CHUNK) {
            more = true;
            match given {
                // A name or counter like that would leave no room for the next.
                Ok(raw) if !raw.id.is_possible() || raw.tick > LAST_TICK => self.taken.problems.push(impossible(&raw)),
                Ok(raw) => raws.push(raw),
                Err(problem) => self.taken.problems.push(problem),
            }
        }
        raws.sort_unstable_by(|a, b| (a.id, &a.bytes).cmp(&(b.id, &b.bytes)));
        let (fresh, known) = sift(raws, &self.facts.runs);
        for run in cut(&fresh) {
            self.insert(run)?;
        }
        self.compare(known)?;
        Ok(more)
    }

    /// Writes one page.
    fn insert(&mut self, run: &[Raw]) -> Result<(), redb::Error> {
        let (Some(first), Some(last)) = (run.first(), run.last()) else { return Ok(()) };
        let key = (first.id.series, first.id.seq);
        self.page.insert(key, &*page(run))?;
        self.facts.runs.add(key.0, key.1, last.id.seq);
        self.taken.new += run.len() as u64;
        self.index(run, key)
    }

    /// Notes which page these records are read from: one row for everybody they are about.
    fn index(&mut self, raws: &[Raw], page: PageKey) -> Result<(), redb::Error> {
        let mut about: BTreeMap<RecordId, Vec<NaiveDate>> = BTreeMap::new();
        for raw in raws {
            self.facts.tick = self.facts.tick.max(raw.tick);
            for subject in subjects(raw) {
                about.entry(subject).or_default().push(raw.on);
            }
        }
        for (subject, days) in about {
            self.touched.insert(subject);
            let key = [id_bytes(subject), id_bytes(RecordId { series: page.0, seq: page.1 })].concat();
            let row = self.page_of.get(key.as_slice())?.map_or_else(Vec::new, |row| row.value().to_vec());
            self.page_of.insert(key.as_slice(), widen(&row, &days).as_slice())?;
        }
        Ok(())
    }

    /// Compares records whose names are held. Other bytes are kept beside; where the page cannot be read they heal it.
    fn compare(&mut self, known: Vec<Raw>) -> Result<(), redb::Error> {
        let mut open = None;
        for raw in known {
            let key = (raw.id.series, raw.id.seq);
            let shelf = Shelf { page: &self.page, fork: &self.fork, page_of: &self.page_of, hand: None };
            let cover = shelf.cover(key)?.unwrap_or(key);
            let held = covering(&shelf, &mut open, raw.id)?;
            if held.contains(&raw) {
                self.taken.held += 1;
                continue;
            }
            let named = || held.iter().filter(|other| other.id == raw.id);
            if named().next().is_some() {
                self.taken.forks.push(raw.id);
                // What they add up to depends on their name being shared.
                self.touched.extend(named().flat_map(subjects));
            } else {
                self.taken.new += 1;
            }
            self.fork.insert((key.0, key.1, raw.crc()), &*raw.bytes)?;
            self.index(std::slice::from_ref(&raw), cover)?;
            held.push(raw);
        }
        Ok(())
    }

    /// Notes again where every record of the book is read from, and hands back everybody they are about.
    fn again(mut self) -> Result<BTreeSet<RecordId>, redb::Error> {
        let keys =
            self.page.iter()?.map(|row| Ok(row?.0.value())).collect::<Result<Vec<PageKey>, redb::StorageError>>()?;
        for key in keys {
            let bytes = self.page.get(key)?.map_or_else(Vec::new, |row| row.value().to_vec());
            let raws = shelf::page(key, &bytes, &mut self.taken.problems);
            for raw in &raws {
                self.facts.runs.add(raw.id.series, raw.id.seq, raw.id.seq);
            }
            self.index(&raws, key)?;
        }
        let forks = self
            .fork
            .iter()?
            .map(|row| row.map(|(key, bytes)| (key.value(), bytes.value().to_vec())))
            .collect::<Result<Vec<_>, redb::StorageError>>()?;
        for ((series, seq, _), bytes) in forks {
            let Some(raw) = shelf::fork(RecordId { series, seq }, &bytes, &mut self.taken.problems) else { continue };
            let shelf = Shelf { page: &self.page, fork: &self.fork, page_of: &self.page_of, hand: None };
            let cover = shelf.cover((series, seq))?.unwrap_or((series, seq));
            self.facts.runs.add(series, seq, seq);
            self.index(&[raw], cover)?;
        }
        Ok(self.touched)
    }
}

/// What the page that covers this name holds, with the other bytes of its names. One page is kept open, since names come in
/// their order.
fn covering<'o, P, F, I>(
    shelf: &Shelf<'_, P, F, I>,
    open: &'o mut Option<(PageKey, Vec<Raw>)>,
    id: RecordId,
) -> Result<&'o mut Vec<Raw>, redb::Error>
where
    P: ReadableTable<PageKey, Bytes>,
    F: ReadableTable<(u64, u64, u32), Bytes>,
    I: ReadableTable<Bytes, Bytes>,
{
    let key = (id.series, id.seq);
    let cover = shelf.cover(key)?.unwrap_or(key);
    let (_, held) = match open.take() {
        Some(page) if page.0 == cover => open.insert(page),
        _ => open.insert((cover, shelf.read(cover, &mut Vec::new())?)),
    };
    Ok(held)
}

fn impossible(raw: &Raw) -> Problem {
    let why = format!(
        "no tablet ever gives the number {} or the counter {}; it was made up or damaged, and is not taken in",
        raw.id.seq, raw.tick
    );
    Problem::Given { place: format!("record {}", raw.id), why }
}

/// Parts records, sorted by name, into those that are new and those whose name is held or was just met.
fn sift(raws: Vec<Raw>, runs: &Runs) -> (Vec<Raw>, Vec<Raw>) {
    let mut fresh: Vec<Raw> = Vec::with_capacity(raws.len());
    let mut known = Vec::new();
    for raw in raws {
        if runs.holds(raw.id) || fresh.last().is_some_and(|last| last.id == raw.id) {
            known.push(raw);
        } else {
            fresh.push(raw);
        }
    }
    (fresh, known)
}

/// Cuts new records into pages: consecutive numbers of one series, and not too many.
fn cut(raws: &[Raw]) -> Vec<&[Raw]> {
    let mut pages = Vec::new();
    let (mut from, mut bytes) = (0, 0);
    for at in 0..raws.len() {
        bytes += page_cost(&raws[at]);
        let fits = raws.get(at + 1).is_some_and(|next| {
            next.id.series == raws[at].id.series
                && Some(next.id.seq) == raws[at].id.seq.checked_add(1)
                && bytes + page_cost(next) <= PAGE_BYTES
        });
        if !fits || at + 1 - from >= PAGE_RECORDS {
            pages.push(&raws[from..=at]);
            (from, bytes) = (at + 1, 0);
        }
    }
    pages
}

/// Bytes a record takes in a page: itself and its length.
fn page_cost(raw: &Raw) -> usize {
    raw.bytes.len() + size_of::<u32>()
}

/// First and last day of a row, widened by more.
fn widen(row: &[u8], days: &[NaiveDate]) -> [u8; 8] {
    let mut days: Vec<i32> = days.iter().map(Datelike::num_days_from_ce).collect();
    if let ([first, last], []) = row.as_chunks::<4>() {
        days.extend([i32::from_le_bytes(*first), i32::from_le_bytes(*last)]);
    }
    let (first, last) = (days.iter().min().copied().unwrap_or(0), days.iter().max().copied().unwrap_or(0));
    let mut bytes = [0; 8];
    bytes[..4].copy_from_slice(&first.to_le_bytes());
    bytes[4..].copy_from_slice(&last.to_le_bytes());
    bytes
}
