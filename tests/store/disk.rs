//! A disk that counts, refuses and loses power: what redb writes to instead of a file.
//!
//! It keeps what is on the platter and what is only in the cache. When the power goes, each unsynced piece of 512 bytes
//! and each change of length reaches the platter or does not, as a seeded toss says.

use crushbook::store::medium::Medium;
use redb::StorageBackend;
use std::io;
use std::sync::{Arc, Mutex, MutexGuard};

const SECTOR: usize = 512;

/// Power and fortune shared by the disks of one machine.
#[derive(Debug, Default)]
struct Machine {
    /// Operations done.
    operations: usize,
    /// Operation at which the power goes.
    cut_at: Option<usize>,
    /// Syncs done.
    syncs: usize,
    /// Writes done.
    writes: usize,
    /// Refuses writes, as a full disk does.
    full: bool,
    /// Says that it synced and did not: the disk that loses.
    lies: bool,
    /// State of the toss.
    seed: u64,
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
        machine.seed = seed | 1;
    }

    pub fn restore(&self) {
        let mut machine = self.machine();
        machine.cut_at = None;
    }

    pub fn operations(&self) -> usize {
        self.machine().operations
    }

    pub fn syncs(&self) -> usize {
        self.machine().syncs
    }

    pub fn writes(&self) -> usize {
        self.machine().writes
    }

    pub fn fill(&self, full: bool) {
        self.machine().full = full;
    }

    pub fn lie(&self) {
        self.machine().lies = true;
    }

    fn step(&self, writes: bool) -> io::Result<MutexGuard<'_, Machine>> {
        let mut machine = self.machine();
        if machine.cut_at.is_some_and(|at| machine.operations >= at) {
            return Err(io::Error::other("the power is off"));
        }
        if writes && machine.full {
            return Err(io::Error::from(io::ErrorKind::StorageFull));
        }
        machine.operations += 1;
        Ok(machine)
    }

    /// xorshift: the same seed tosses the same.
    fn toss(&self) -> bool {
        let mut machine = self.machine();
        machine.seed ^= machine.seed << 13;
        machine.seed ^= machine.seed >> 7;
        machine.seed ^= machine.seed << 17;
        machine.seed >> 60 & 1 == 1
    }
}

#[derive(Debug)]
enum Pending {
    Length(usize),
    Sector(usize, Vec<u8>),
}

#[derive(Debug, Default)]
struct Bytes {
    platter: Vec<u8>,
    seen: Vec<u8>,
    pending: Vec<Pending>,
}

/// One disk, whose bytes outlive the programs that open it.
#[derive(Debug, Clone)]
pub struct Disk {
    power: Power,
    bytes: Arc<Mutex<Bytes>>,
}

impl Disk {
    pub fn new(power: &Power) -> Disk {
        Disk { power: power.clone(), bytes: Arc::default() }
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
        *self.bytes() = Bytes { platter: image.clone(), seen: image, ..Bytes::default() };
    }

    /// The power went: what was not synced reached the platter or did not.
    pub fn lose_power(&self) {
        let mut bytes = self.bytes();
        let Bytes { mut platter, pending, .. } = std::mem::take(&mut *bytes);
        for change in pending {
            if self.power.toss() {
                continue;
            }
            match change {
                Pending::Length(length) => platter.resize(length, 0),
                Pending::Sector(offset, data) => write(&mut platter, offset, &data),
            }
        }
        *bytes = Bytes { seen: platter.clone(), platter, ..Bytes::default() };
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
        let bytes = self.bytes();
        let from = place(offset);
        let held = bytes.seen.get(from..from + out.len()).ok_or(io::ErrorKind::UnexpectedEof)?;
        out.copy_from_slice(held);
        Ok(())
    }

    fn set_len(&self, len: u64) -> io::Result<()> {
        drop(self.power.step(true)?);
        let mut bytes = self.bytes();
        bytes.seen.resize(place(len), 0);
        bytes.pending.push(Pending::Length(place(len)));
        Ok(())
    }

    fn sync_data(&self) -> io::Result<()> {
        let mut machine = self.power.step(false)?;
        machine.syncs += 1;
        let mut bytes = self.bytes();
        if !machine.lies {
            bytes.platter = bytes.seen.clone();
            bytes.pending.clear();
        }
        Ok(())
    }

    fn write(&self, offset: u64, data: &[u8]) -> io::Result<()> {
        self.power.step(true)?.writes += 1;
        let mut bytes = self.bytes();
        let mut at = place(offset);
        write(&mut bytes.seen, at, data);
        let mut rest = data;
        while !rest.is_empty() {
            let (piece, after) = rest.split_at(rest.len().min(SECTOR - at % SECTOR));
            bytes.pending.push(Pending::Sector(at, piece.to_vec()));
            at += piece.len();
            rest = after;
        }
        Ok(())
    }
}
