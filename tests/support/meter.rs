//! A disk in memory that counts what is asked of it: what redb writes to where a cost is to be told exactly.

use crushbook::store::medium::Medium;
use redb::StorageBackend;
use std::io;
use std::ops::Sub;
use std::sync::{Arc, Mutex, MutexGuard};

/// What was asked of a disk.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Count {
    /// Reads.
    pub reads: u64,
    /// Bytes of them.
    pub bytes_read: u64,
    /// Writes.
    pub writes: u64,
    /// Flushes.
    pub flushes: u64,
}

impl Sub for Count {
    type Output = Count;
    fn sub(self, before: Count) -> Count {
        Count {
            reads: self.reads - before.reads,
            bytes_read: self.bytes_read - before.bytes_read,
            writes: self.writes - before.writes,
            flushes: self.flushes - before.flushes,
        }
    }
}

#[derive(Debug, Default)]
struct Inside {
    bytes: Vec<u8>,
    count: Count,
}

/// A disk whose bytes outlive the programs that open it.
#[derive(Debug, Clone, Default)]
pub struct Meter(Arc<Mutex<Inside>>);

impl Meter {
    fn inside(&self) -> MutexGuard<'_, Inside> {
        self.0.lock().expect("no thread panics while it holds the disk")
    }

    /// A disk with these bytes.
    pub fn of(bytes: Vec<u8>) -> Meter {
        Meter(Arc::new(Mutex::new(Inside { bytes, count: Count::default() })))
    }

    /// What is on it.
    pub fn bytes(&self) -> Vec<u8> {
        self.inside().bytes.clone()
    }

    /// As a medium of a store.
    pub fn medium(&self) -> Medium {
        let meter = self.clone();
        Medium::Backend(Box::new(move || Ok(Box::new(meter.clone()))))
    }

    /// What was asked of it so far.
    pub fn count(&self) -> Count {
        self.inside().count
    }

    /// Another disk with the same bytes: what is there when the program is killed now.
    pub fn copy(&self) -> Meter {
        Meter::of(self.inside().bytes.clone())
    }
}

fn place(offset: u64) -> usize {
    usize::try_from(offset).expect("a disk in memory is small")
}

impl StorageBackend for Meter {
    fn len(&self) -> io::Result<u64> {
        Ok(self.inside().bytes.len() as u64)
    }

    fn read(&self, offset: u64, out: &mut [u8]) -> io::Result<()> {
        let mut inside = self.inside();
        let from = place(offset);
        let held = inside.bytes.get(from..from + out.len()).ok_or(io::ErrorKind::UnexpectedEof)?;
        out.copy_from_slice(held);
        inside.count.reads += 1;
        inside.count.bytes_read += out.len() as u64;
        Ok(())
    }

    fn set_len(&self, len: u64) -> io::Result<()> {
        self.inside().bytes.resize(place(len), 0);
        Ok(())
    }

    fn sync_data(&self) -> io::Result<()> {
        self.inside().count.flushes += 1;
        Ok(())
    }

    fn write(&self, offset: u64, data: &[u8]) -> io::Result<()> {
        let mut inside = self.inside();
        let from = place(offset);
        inside.bytes.get_mut(from..from + data.len()).ok_or(io::ErrorKind::UnexpectedEof)?.copy_from_slice(data);
        inside.count.writes += 1;
        Ok(())
    }
}
