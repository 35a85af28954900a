//! A disk that counts, refuses and loses power: what redb writes to instead of a file.
//!
//! It keeps what is on the platter and what is only in the cache. When the power goes, what was not synced reaches the
//! platter whole, torn, in another order, or not at all, as a seeded toss says: piece by piece of 512 bytes, and each
//! change of length.

use crushbook::store::medium::Medium;
use redb::StorageBackend;
use std::io;
use std::sync::{Arc, Mutex, MutexGuard};

const SECTOR: usize = 512;

/// How a disk keeps its word about syncing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Sync {
    /// What it says is synced is on the platter.
    #[default]
    Honest,
    /// Nothing ever is: the disk that loses.
    Never,
    /// What it says is synced gets there with the next sync: the disk that says so too early.
    Early,
}

/// Power and fortune shared by the disks of one machine.
#[derive(Debug, Default)]
struct Machine {
    /// How many disks it has.
    disks: usize,
    /// Writes, syncs and changes of length done.
    operations: usize,
    /// Operation at which the power goes.
    cut_at: Option<usize>,
    /// All of these and reads too.
    calls: usize,
    /// Calls that fail.
    failing: std::ops::Range<usize>,
    /// Syncs done.
    syncs: usize,
    /// Writes done.
    writes: usize,
    /// Refuses writes, as a full disk does, from this call on.
    full: Option<usize>,
    /// Bytes that each disk has.
    room: Option<usize>,
    /// Tosses what reaches the platter when the power goes.
    dice: Dice,
    /// What the disks did, where that is wanted: which disk, and what.
    film: Option<Vec<(usize, Act)>>,
}

/// xorshift: the same seed rolls the same.
#[derive(Debug, Clone, Default)]
pub struct Dice(u64);

impl Dice {
    /// Neighbouring seeds do not roll alike.
    pub fn new(seed: u64) -> Dice {
        Dice(seed.wrapping_add(1).wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    /// A number below `sides`.
    pub fn roll(&mut self, sides: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 33) as usize % sides
    }
}

/// What a disk is told to do.
#[derive(Debug, Clone)]
pub enum Act {
    /// Another length.
    Length(usize),
    /// Bytes at an offset.
    Write(usize, Vec<u8>),
    /// All of it to the platter.
    Sync,
}

/// A machine's power switch.
#[derive(Debug, Clone, Default)]
pub struct Power(Arc<Mutex<Machine>>);

impl Power {
    fn machine(&self) -> MutexGuard<'_, Machine> {
        self.0.lock().expect("no test thread panics while it holds the machine")
    }

    pub fn cut_at(&self, operation: usize, seed: u64) {
        let mut machine = self.machine();
        machine.cut_at = Some(operation);
        machine.dice = Dice::new(seed);
    }

    pub fn restore(&self) {
        self.machine().cut_at = None;
    }

    pub fn operations(&self) -> usize {
        self.machine().operations
    }

    pub fn calls(&self) -> usize {
        self.machine().calls
    }

    /// So many calls fail, from one on.
    pub fn fail(&self, from: usize, count: usize) {
        self.machine().failing = from..from + count;
    }

    pub fn syncs(&self) -> usize {
        self.machine().syncs
    }

    pub fn writes(&self) -> usize {
        self.machine().writes
    }

    pub fn fill(&self, full: bool) {
        self.fill_at(full.then_some(0));
    }

    /// The disks are full from a call on; none: they have space.
    pub fn fill_at(&self, call: Option<usize>) {
        self.machine().full = call;
    }

    /// Gives each disk so many bytes; none: as many as it likes.
    pub fn room(&self, bytes: Option<usize>) {
        self.machine().room = bytes;
    }

    fn is_off(&self) -> bool {
        let machine = self.machine();
        machine.cut_at.is_some_and(|at| machine.operations >= at)
    }

    fn call(&self) -> io::Result<MutexGuard<'_, Machine>> {
        let mut machine = self.machine();
        machine.calls += 1;
        if machine.failing.contains(&(machine.calls - 1)) {
            return Err(io::Error::other("the disk does not answer"));
        }
        Ok(machine)
    }

    fn step(&self, writes: bool) -> io::Result<MutexGuard<'_, Machine>> {
        let mut machine = self.call()?;
        if machine.cut_at.is_some_and(|at| machine.operations >= at) {
            return Err(io::Error::other("the power is off"));
        }
        if writes && machine.full.is_some_and(|from| machine.calls > from) {
            return Err(io::Error::from(io::ErrorKind::StorageFull));
        }
        machine.operations += 1;
        Ok(machine)
    }

    /// One operation that is none of a disk's: of the names of a folder.
    pub fn act(&self) -> io::Result<()> {
        self.step(true).map(drop)
    }

    /// Fortune's next number below `sides`.
    pub fn roll(&self, sides: usize) -> usize {
        self.machine().dice.roll(sides)
    }

    /// From now on keeps what the disks do.
    pub fn film(&self) {
        self.machine().film = Some(Vec::new());
    }

    /// What the disks did since.
    pub fn developed(&self) -> Vec<(usize, Act)> {
        self.machine().film.take().unwrap_or_default()
    }
}

#[derive(Debug, Clone)]
enum Pending {
    Length(usize),
    Sector(usize, Vec<u8>),
}

/// What is on the platter, and what is only on its way there.
#[derive(Debug, Clone, Default)]
pub struct Platter {
    bytes: Vec<u8>,
    pending: Vec<Pending>,
    /// How much of what is pending a disk that speaks too early has called synced.
    called: usize,
}

impl Platter {
    pub fn new(bytes: Vec<u8>) -> Platter {
        Platter { bytes, ..Platter::default() }
    }

    pub fn act(&mut self, act: &Act, sync: Sync) {
        match act {
            Act::Length(length) => self.pending.push(Pending::Length(*length)),
            Act::Write(offset, data) => {
                let mut at = *offset;
                let mut rest = data.as_slice();
                while !rest.is_empty() {
                    let (piece, after) = rest.split_at(rest.len().min(SECTOR - at % SECTOR));
                    self.pending.push(Pending::Sector(at, piece.to_vec()));
                    at += piece.len();
                    rest = after;
                }
            }
            Act::Sync => {
                let count = match sync {
                    Sync::Never => 0,
                    Sync::Honest => self.pending.len(),
                    Sync::Early => self.called,
                };
                for change in self.pending.drain(..count) {
                    apply(&mut self.bytes, change);
                }
                self.called = self.pending.len();
            }
        }
    }

    /// A sync failed: nobody will write this any more.
    fn forget(&mut self) {
        self.pending.clear();
    }

    /// What the platter holds after the power went. One time in five: nothing of what was pending, all of it, each piece or
    /// not, pieces torn as well, another order as well.
    pub fn lose_power(self, dice: &mut Dice) -> Vec<u8> {
        let Platter { mut bytes, mut pending, .. } = self;
        let fate = dice.roll(5);
        if fate == 4 {
            for last in (1..pending.len()).rev() {
                pending.swap(last, dice.roll(last + 1));
            }
        }
        for change in pending {
            match (fate, dice.roll(2), change) {
                (0, _, _) => {}
                (1, _, change) | (_, 1, change) => apply(&mut bytes, change),
                (3, _, Pending::Sector(offset, data)) => {
                    let torn = dice.roll(data.len());
                    apply(&mut bytes, Pending::Sector(offset, data[..torn].to_vec()));
                }
                _ => {}
            }
        }
        bytes
    }
}

#[derive(Debug, Default)]
struct Bytes {
    platter: Platter,
    seen: Vec<u8>,
}

/// One disk, whose bytes outlive the programs that open it.
#[derive(Debug, Clone)]
pub struct Disk {
    power: Power,
    number: usize,
    bytes: Arc<Mutex<Bytes>>,
}

impl Disk {
    /// One more disk of a machine.
    pub fn new(power: &Power) -> Disk {
        let mut machine = power.machine();
        machine.disks += 1;
        Disk { power: power.clone(), number: machine.disks - 1, bytes: Arc::default() }
    }

    /// A disk of another machine with the same bytes.
    pub fn copy(&self, power: &Power) -> Disk {
        let disk = Disk::new(power);
        disk.put(self.image());
        disk
    }

    fn bytes(&self) -> MutexGuard<'_, Bytes> {
        self.bytes.lock().expect("no test thread panics while it holds the bytes")
    }

    pub fn medium(&self) -> Medium {
        let disk = self.clone();
        Medium::Backend(Box::new(move || Ok(Box::new(disk.clone()))))
    }

    /// What every program sees now.
    pub fn image(&self) -> Vec<u8> {
        self.bytes().seen.clone()
    }

    /// Puts other bytes on the platter.
    pub fn put(&self, image: Vec<u8>) {
        *self.bytes() = Bytes { platter: Platter::new(image.clone()), seen: image };
    }

    /// The power went: what was not synced reached the platter or did not.
    pub fn lose_power(&self) {
        let platter = std::mem::take(&mut self.bytes().platter);
        let image = platter.lose_power(&mut self.power.machine().dice);
        self.put(image);
    }

    fn act(&self, machine: &mut Machine, bytes: &mut Bytes, act: Act) {
        match &act {
            Act::Length(length) => bytes.seen.resize(*length, 0),
            Act::Write(offset, data) => write(&mut bytes.seen, *offset, data),
            Act::Sync => {}
        }
        bytes.platter.act(&act, Sync::Honest);
        if let Some(film) = &mut machine.film {
            film.push((self.number, act));
        }
    }
}

/// Whether there is room for a disk of this length.
fn fits(machine: &Machine, bytes: &Bytes, length: usize) -> io::Result<()> {
    match machine.room {
        Some(room) if length > bytes.seen.len().max(room) => Err(io::Error::from(io::ErrorKind::StorageFull)),
        Some(_) | None => Ok(()),
    }
}

fn apply(bytes: &mut Vec<u8>, change: Pending) {
    match change {
        Pending::Length(length) => bytes.resize(length, 0),
        Pending::Sector(offset, data) => write(bytes, offset, &data),
    }
}

fn write(bytes: &mut Vec<u8>, offset: usize, data: &[u8]) {
    let end = offset + data.len();
    if bytes.len() < end {
        bytes.resize(end, 0);
    }
    bytes[offset..end].copy_from_slice(data);
}

fn place(offset: u64) -> usize {
    usize::try_from(offset).expect("a test disk is small")
}

impl StorageBackend for Disk {
    fn len(&self) -> io::Result<u64> {
        Ok(self.bytes().seen.len() as u64)
    }

    fn read(&self, offset: u64, out: &mut [u8]) -> io::Result<()> {
        drop(self.power.call()?);
        let bytes = self.bytes();
        let from = place(offset);
        let held = bytes.seen.get(from..from + out.len()).ok_or(io::ErrorKind::UnexpectedEof)?;
        out.copy_from_slice(held);
        Ok(())
    }

    fn set_len(&self, len: u64) -> io::Result<()> {
        let mut machine = self.power.step(true)?;
        let mut bytes = self.bytes();
        fits(&machine, &bytes, place(len))?;
        self.act(&mut machine, &mut bytes, Act::Length(place(len)));
        Ok(())
    }

    /// A sync that fails forgets what it should have written, and the next one does not tell: so do the page caches of
    /// systems in use. Programs go on seeing it until the power goes.
    fn sync_data(&self) -> io::Result<()> {
        let step = self.power.step(false);
        let mut bytes = self.bytes();
        match step {
            Ok(mut machine) => {
                machine.syncs += 1;
                self.act(&mut machine, &mut bytes, Act::Sync);
                Ok(())
            }
            Err(error) => {
                if !self.power.is_off() {
                    bytes.platter.forget();
                }
                Err(error)
            }
        }
    }

    fn write(&self, offset: u64, data: &[u8]) -> io::Result<()> {
        let mut machine = self.power.step(true)?;
        let mut bytes = self.bytes();
        fits(&machine, &bytes, place(offset) + data.len())?;
        machine.writes += 1;
        self.act(&mut machine, &mut bytes, Act::Write(place(offset), data.to_vec()));
        Ok(())
    }
}
