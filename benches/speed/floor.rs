//! F, the floor under every durable press: one write of the same bytes into a preallocated file, and one fdatasync.

use crate::rounds::{Outcome, timed};
use std::fs::File;
use std::io::{Seek, SeekFrom, Write};
use std::path::Path;
use std::time::Duration;

/// Length of the file, bytes.
const LENGTH: u64 = 8 << 20;

/// A file that is there already, every byte of it.
pub struct Floor {
    file: File,
    at: u64,
}

impl Floor {
    /// Makes the file, filled with zeros and on disk.
    pub fn new(folder: &Path) -> Outcome<Floor> {
        let mut file = File::create(folder.join("floor"))?;
        for _ in 0..LENGTH >> 20 {
            file.write_all(&[0; 1 << 20])?;
        }
        file.sync_all()?;
        Ok(Floor { file, at: 0 })
    }

    /// Writes these bytes behind the last.
    pub fn write(&mut self, bytes: &[u8]) -> Outcome<Duration> {
        if self.at + bytes.len() as u64 > LENGTH {
            self.at = 0;
        }
        let (_, time) = timed(|| {
            self.file.seek(SeekFrom::Start(self.at))?;
            self.file.write_all(bytes)?;
            Ok(self.file.sync_data()?)
        })?;
        self.at += bytes.len() as u64;
        Ok(time)
    }
}
