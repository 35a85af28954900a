//! Keys beside a backup of a large book: how long the longest of them waits, how much of that it may wait for the backup, and
//! how long the copy takes beside a plain copy of the file.
//!
//! A disk makes one key in a thousand wait with no backup too, so the longest wait does not tell whose fault it is. What a key
//! waits for the backup is no longer than the backup had the disk meanwhile: writes and flushes of the copy are noted with
//! their times, and of each key the part is counted in which one of them was under way.

use crate::books::open;
use crate::floor::Floor;
use crate::press::{TURN, press};
use crate::rounds::{Outcome, timed};
use crate::watched::{Busy, Watched};
use chrono::NaiveDate;
use crushbook::domain::ids::RecordId;
use crushbook::store::Store;
use crushbook::store::backup::make;
use crushbook::store::medium::Medium;
use std::fs::File;
use std::path::Path;
use std::time::{Duration, Instant};

/// Between two keys: fast typing, and long enough for the disk to do other things.
const PACE: Duration = Duration::from_millis(8);
/// Times that the copy and the plain copy are made.
const COPIES: usize = 5;

/// Waits of keys, and of the floor in the same moments: what others do to the disk meets both.
#[derive(Default)]
struct Waits {
    keys: Vec<Duration>,
    /// Of each key the part in which the backup had the disk.
    shared: Vec<Duration>,
    floor: Vec<Duration>,
}

impl Waits {
    fn sort(&mut self) {
        self.keys.sort();
        self.shared.sort();
        self.floor.sort();
    }

    fn add(&mut self, more: Waits) {
        self.keys.extend(more.keys);
        self.shared.extend(more.shared);
        self.floor.extend(more.floor);
        self.sort();
    }
}

/// What was measured.
pub struct Beside {
    floor: Duration,
    alone: Waits,
    copying: Waits,
    whole: Waits,
    packs_alone: Vec<Duration>,
    packs: Vec<Duration>,
    copy: Duration,
    plain: Duration,
    backup: Duration,
    grown: (u64, u64),
}

/// Waits of keys, and of packing after each turn, until `done`. Each turn is another animal's: to pack is to fold one.
fn type_until(
    (store, animals, floor): (&mut Store, &[RecordId], &mut Floor),
    packs: &mut Vec<Duration>,
    busy: &Busy,
    mut done: impl FnMut() -> bool,
) -> Outcome<Waits> {
    let (mut waits, mut spans) = (Waits::default(), Vec::new());
    while !done() {
        let mut press = press(store.next_id(), store.tick())?;
        let turn = press[0].id.seq / TURN;
        press[0].about = animals[turn as usize % animals.len()];
        let begun = Instant::now();
        store.append(&press)?;
        let ended = Instant::now();
        waits.keys.push(ended - begun);
        spans.push((begun, ended));
        std::thread::sleep(PACE);
        waits.floor.push(floor.write(&[0; 140])?);
        if press[0].id.seq.is_multiple_of(TURN) {
            packs.push(timed(|| Ok(store.pack()?))?.1);
        }
        std::thread::sleep(PACE);
    }
    waits.shared = spans.into_iter().map(|span| busy.within(span)).collect();
    waits.sort();
    Ok(waits)
}

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times.get(times.len() / 2).copied().unwrap_or_default()
}

/// Types beside the copy alone, and beside whole backups.
pub fn run(folder: &Path, book: &Path, today: NaiveDate) -> Outcome<Beside> {
    let mut store = open(book)?;
    let busy = Busy::default();
    let size = || std::fs::metadata(book).map_or(0, |found| found.len());
    let animals: Vec<RecordId> = store.open_items(None)?.0.iter().map(|open| open.animal.0).collect();
    let mut f = Floor::new(folder)?;
    let floor = median((0..200).map(|_| f.write(&[0; 140])).collect::<Outcome<_>>()?);
    let (mut left, mut packs_alone) = (1200, Vec::new());
    let alone = type_until((&mut store, &animals, &mut f), &mut packs_alone, &busy, || {
        left -= 1;
        left == 0
    })?;
    let (mut copies, mut plains) = (Vec::new(), Vec::new());
    let target = folder.join("copy.redb");
    for _ in 0..COPIES {
        drop(std::fs::remove_file(&target));
        let of = store.snapshot()?;
        copies.push(timed(|| Ok(of.write(Medium::Within(target.clone()), None)?))?.1);
        drop(std::fs::remove_file(&target));
        let plain = || {
            std::fs::copy(book, &target)?;
            Ok(File::open(&target)?.sync_all()?)
        };
        plains.push(timed(plain)?.1);
    }
    let mut packs = Vec::new();
    let before = size();
    let mut copying = Waits::default();
    for _ in 0..COPIES {
        drop(std::fs::remove_file(&target));
        let (of, to) = (store.snapshot()?, busy.medium(target.clone()));
        let thread = std::thread::spawn(move || of.write(to, None));
        copying.add(type_until((&mut store, &animals, &mut f), &mut packs, &busy, || thread.is_finished())?);
        thread.join().map_err(|_| "the copy panics")??;
    }
    let after = size();
    let (of, files) = (store.snapshot()?, Watched::new(folder, &busy));
    let thread = std::thread::spawn(move || timed(|| Ok(make(of, &files, today)?)).map_err(|why| why.to_string()));
    let whole = type_until((&mut store, &animals, &mut f), &mut packs, &busy, || thread.is_finished())?;
    let (_, backup) = thread.join().map_err(|_| "the backup panics")??;
    store.close()?;
    packs.sort();
    packs_alone.sort();
    let (copy, plain) = (median(copies), median(plains));
    Ok(Beside { floor, alone, copying, whole, packs_alone, packs, copy, plain, backup, grown: (before, after) })
}

impl Beside {
    /// Prints it.
    pub fn rows(&self, row: &impl Fn(&str, String, &str)) {
        let f = |time: Duration| time.as_secs_f64() / self.floor.as_secs_f64();
        let said = |keys: &[Duration]| {
            let at = |of_hundred: usize| keys.get(keys.len() * of_hundred / 100).copied().unwrap_or_default();
            let worst = keys.last().copied().unwrap_or_default();
            format!(
                "{:.1} F, half below {:.1} F, 99 of 100 below {:.1} F, of {}",
                f(worst),
                f(at(50)),
                f(at(99)),
                keys.len()
            )
        };
        let both = |waits: &Waits| format!("{}; F beside them {}", said(&waits.keys), said(&waits.floor));
        row("longest key with no backup, typed at the same pace", both(&self.alone), "");
        row("longest key beside the copy", both(&self.copying), "");
        row("of it while the copy had the disk", said(&self.copying.shared), "50 F");
        row("longest key beside a whole backup, read back and replayed", both(&self.whole), "");
        row("of it while the backup had the disk", said(&self.whole.shared), "50 F");
        row("longest packing after a turn, with no backup", said(&self.packs_alone), "");
        row("longest packing beside either", said(&self.packs), "");
        let copy = format!(
            "{:.1} x ({:.2} s to {:.2} s)",
            self.copy.as_secs_f64() / self.plain.as_secs_f64(),
            self.copy.as_secs_f64(),
            self.plain.as_secs_f64()
        );
        row("copy, to a plain copy of the file that is flushed", copy, "10 x");
        row("a whole backup, keys beside it", format!("{:.1} s", self.backup.as_secs_f64()), "");
        let mb = |bytes: u64| bytes / 1_000_000;
        row("the book's file meanwhile", format!("{} to {} MB", mb(self.grown.0), mb(self.grown.1)), "");
    }
}
