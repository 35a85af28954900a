//! What a damaged file still holds. Its bytes are read from the first to the last and never given to redb, which may panic,
//! abort or find nothing where a single byte is wrong. So the layout of the file does not matter, and any file will do: a
//! book cut short, a hand, a disk image, a book of a newer program.
//!
//! redb lets pages lie that it no longer uses, so a record may come several times, and older lists of numbers beside newer
//! ones. Taking records in is a union by name, which makes that harmless.

use super::error::{Problem, StoreError};
use super::medium::{self, Kind};
use super::runs::Runs;
use crate::domain::ids::RecordId;
use crate::wire::envelope::Raw;
use crate::wire::error::WireError;
use crate::wire::find::{Found, LONGEST, next};
use std::collections::BTreeSet;
use std::fs::File;
use std::io::{self, ErrorKind, Read, Seek, SeekFrom};
use std::path::Path;

/// Bytes read at a time. No more than twice as many are held.
const PIECE: usize = 1 << 20;
/// Bytes given up where the disk does not give them: a sector of today's disks.
const SECTOR: usize = 4096;
/// After so many sectors in a row that cannot be read the disk is taken to be gone.
const GIVE_UP: u64 = 2048;
/// Names of damaged records that are kept; more are only counted.
const NAMES: usize = 10_000;

/// Every record that can be read in a file, in the order of its bytes: one may come several times.
///
/// Between them come problems: each place where a record seems to begin and none can be read. Most are remains of pages
/// no longer in use, written over in part; [`Seen`] tells in the end what is really missing.
pub fn records(file: &Path) -> Result<Records<File>, StoreError> {
    match medium::kind(file)? {
        Kind::File | Kind::Disk => {}
        Kind::Folder => return Err(StoreError::IsFolder(file.to_owned())),
        Kind::Other => return Err(StoreError::NotAFile(file.to_owned())),
        Kind::Nothing => return Err(StoreError::NotThere(file.to_owned())),
    }
    let opened = File::open(file).map_err(|error| match error.kind() {
        ErrorKind::PermissionDenied => StoreError::MayNotRead(file.to_owned()),
        _ => medium::disk(file, error),
    })?;
    Ok(Records::of(opened))
}

/// What was seen in a file.
#[derive(Debug, Clone, Default)]
pub struct Seen {
    /// Bytes looked through.
    pub bytes: u64,
    /// Bytes of them that the disk did not give.
    pub unreadable: u64,
    /// What the disk said when it gave nothing any more.
    pub broke_off: Option<String>,
    /// Places with a record of a layout that this program does not know.
    pub newer: u64,
    /// Places where a record seems to begin and none can be read.
    pub remains: u64,
    found: Runs,
    said: Runs,
    damaged: BTreeSet<RecordId>,
    run: Option<(u64, u64, u64)>,
}

impl Seen {
    /// Adds what was seen in another file.
    pub fn add(&mut self, other: Seen) {
        self.bytes += other.bytes;
        self.unreadable += other.unreadable;
        self.broke_off = self.broke_off.take().or(other.broke_off);
        self.newer += other.newer;
        self.remains += other.remains;
        for (series, from, to) in other.found.each() {
            self.found.add(series, from, to);
        }
        for (series, from, to) in other.said.each() {
            self.said.add(series, from, to);
        }
        self.damaged.extend(other.damaged);
    }

    /// Numbers that were in the book, as it says itself or as the remains of a record say, and cannot be read: series,
    /// first, last.
    pub fn lost(&self) -> Vec<(u64, u64, u64)> {
        let mut said = self.said.clone();
        // What stands where a name stood may be damaged itself, so it must go on from what is known.
        let near = |id: &&RecordId| (1..=self.reach(id.series).saturating_add(1)).contains(&id.seq);
        for id in self.damaged.iter().filter(near) {
            said.add(id.series, id.seq, id.seq);
        }
        said.without(&self.found)
    }

    /// Numbers missing below the highest of their series of which nothing tells that they were ever here: series, first,
    /// last. They may be on another tablet.
    pub fn gaps(&self) -> Vec<(u64, u64, u64)> {
        let mut known = self.found.clone();
        for (series, from, to) in self.lost() {
            known.add(series, from, to);
        }
        known.gaps()
    }

    /// Numbers of records that lie in the bytes and are not among these: series, first, last.
    pub(super) fn beyond(&self, known: &Runs) -> Vec<(u64, u64, u64)> {
        self.found.without(known)
    }

    /// Numbers that a book in the bytes says it held.
    pub(super) fn said(&self) -> &Runs {
        &self.said
    }

    /// Names that stand on remains of records and are not among these, each with whether it can be one: what stands where
    /// a name stood may be damaged itself, so it must go on from what is known.
    pub(super) fn remains_beyond<'s>(&'s self, known: &'s Runs) -> impl Iterator<Item = (RecordId, bool)> + 's {
        let can_be = |id: RecordId| (1..=known.end(id.series).saturating_add(1)).contains(&id.seq);
        self.damaged
            .iter()
            .filter(|id| !known.holds(**id))
            .map(move |id| (*id, known.end(id.series) > 0 && can_be(*id)))
    }

    /// Whether the file tells which numbers it held. Without that, records lost at the end of a series leave no trace.
    pub fn is_counted(&self) -> bool {
        self.said.each().next().is_some()
    }

    /// The highest number known of a series.
    fn reach(&self, series: u64) -> u64 {
        self.found.end(series).max(self.said.end(series))
    }

    fn note(&mut self, id: RecordId) {
        match &mut self.run {
            Some((series, _, to)) if *series == id.series && to.checked_add(1) == Some(id.seq) => *to = id.seq,
            _ => {
                self.end_run();
                self.run = Some((id.series, id.seq, id.seq));
            }
        }
    }

    fn end_run(&mut self) {
        if let Some((series, from, to)) = self.run.take() {
            self.found.add(series, from, to);
        }
    }

    fn note_damage(&mut self, name: Option<RecordId>, why: &WireError) {
        self.remains += 1;
        self.newer += u64::from(matches!(why, WireError::NewerLayout { .. }));
        self.damaged.extend(name.filter(|_| self.damaged.len() < NAMES));
    }
}

/// A file being looked through, in constant memory.
#[derive(Debug)]
pub struct Records<R> {
    from: R,
    held: Vec<u8>,
    /// Where in `held` to look on.
    at: usize,
    ended: bool,
    refused: u64,
    seen: Seen,
}

impl<R: Read + Seek> Records<R> {
    /// Looks through anything that can be read.
    pub fn of(from: R) -> Records<R> {
        Records { from, held: Vec::new(), at: 0, ended: false, refused: 0, seen: Seen::default() }
    }

    /// Looks through what is left of it, and says what was seen.
    pub fn seen(mut self) -> Seen {
        self.by_ref().for_each(drop);
        self.seen.end_run();
        self.seen
    }

    /// Reads on. What was looked through is let go of.
    fn fill(&mut self) {
        self.held.drain(..self.at);
        self.at = 0;
        let had = self.held.len();
        // Behind a place that gave nothing the next one may not either.
        self.held.resize(had + if self.refused > 0 { SECTOR } else { PIECE }, 0);
        let got = match self.from.read(&mut self.held[had..]) {
            Ok(got) => {
                self.refused = 0;
                self.ended = got == 0;
                got
            }
            Err(error) if error.kind() == ErrorKind::Interrupted => 0,
            Err(error) => self.step_over(had, error),
        };
        self.held.truncate(had + got);
        self.seen.bytes += got as u64;
    }

    /// What cannot be read counts as zeros, of which no record is made.
    fn step_over(&mut self, had: usize, error: io::Error) -> usize {
        let at = self.seen.bytes;
        let end = self.from.seek(SeekFrom::End(0)).unwrap_or(0);
        let step = end.saturating_sub(at).min(SECTOR as u64 - at % SECTOR as u64);
        self.refused += 1;
        if step == 0 || self.refused > GIVE_UP {
            self.ended = true;
            self.seen.broke_off = Some(error.to_string());
            return 0;
        }
        let step = step as usize;
        let read = self.from.seek(SeekFrom::Start(at)).and_then(|_| self.from.read(&mut self.held[had..had + step]));
        match read {
            Ok(got @ 1..) => {
                self.refused = 0;
                got
            }
            Ok(_) | Err(_) => {
                self.held[had..].fill(0);
                if let Err(error) = self.from.seek(SeekFrom::Start(at + step as u64)) {
                    self.ended = true;
                    self.seen.broke_off = Some(error.to_string());
                }
                self.seen.unreadable += step as u64;
                step
            }
        }
    }

    /// The next thing that lies whole in what is held, and its place in the file.
    fn find(&mut self) -> Option<(u64, Found)> {
        loop {
            // What begins later may go on behind what is held.
            let sure = if self.ended { self.held.len() } else { self.held.len().saturating_sub(LONGEST) };
            match next(&self.held, self.at) {
                Some((at, found, on)) if at < sure => {
                    let held_from = self.seen.bytes - self.held.len() as u64;
                    self.at = on;
                    return Some((held_from + at as u64, found));
                }
                _ if self.ended => return None,
                _ => {
                    self.at = self.at.max(sure);
                    self.fill();
                }
            }
        }
    }
}

impl<R: Read + Seek> Iterator for Records<R> {
    type Item = Result<Raw, Problem>;

    fn next(&mut self) -> Option<Result<Raw, Problem>> {
        loop {
            match self.find()? {
                (_, Found::Record(raw)) => {
                    self.seen.note(raw.id);
                    return Some(Ok(raw));
                }
                (at, Found::Damaged(name, why)) => {
                    self.seen.note_damage(name, &why);
                    return Some(Err(Problem::Unreadable { place: format!("byte {at}"), why: why.to_string() }));
                }
                (_, Found::Tally(runs)) => {
                    for (series, from, to) in runs {
                        self.seen.said.add(series, from, to);
                    }
                }
            }
        }
    }
}
