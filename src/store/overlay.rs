//! Somebody else's file, opened as if it could be written: what is written goes into memory and is given up at the end. So a
//! book that a dead battery left is repaired without a byte of its file being changed, on media that cannot be written too.

use redb::backends::FileBackend;
use redb::{BackendError, StorageBackend};
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::fs::File;
use std::io;
use std::ops::Bound;
use std::sync::{Mutex, MutexGuard, PoisonError};

/// Bytes that are kept together: a page of redb.
const PIECE: u64 = 4096;

/// The file, and what was written over it.
#[derive(Debug)]
pub struct Overlay {
    file: FileBackend,
    over: Mutex<Over>,
}

#[derive(Debug)]
struct Over {
    /// Length as it would be.
    length: u64,
    /// So many bytes of the file still count.
    below: u64,
    pieces: BTreeMap<u64, Vec<u8>>,
}

impl Overlay {
    /// Over a file opened to be read.
    pub fn of(file: File) -> io::Result<Overlay> {
        let file = FileBackend::new(file).map_err(io::Error::other)?;
        let length = file.len()?;
        let over = Over { length, below: length, pieces: BTreeMap::new() };
        Ok(Overlay { file, over: Mutex::new(over) })
    }

    fn over(&self) -> MutexGuard<'_, Over> {
        // What a panic left half written is in memory only, and redb's checksums find it.
        self.over.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// What the file says, as far as it counts; behind it all is zero.
    fn under(&self, below: u64, offset: u64, out: &mut [u8]) -> io::Result<()> {
        let there = usize::try_from(below.saturating_sub(offset)).unwrap_or(usize::MAX).min(out.len());
        out[there..].fill(0);
        self.file.read(offset, &mut out[..there])
    }
}

/// The pieces that a stretch touches: number of the piece, where in it, where in the stretch, and how many bytes.
fn pieces(offset: u64, length: usize) -> impl Iterator<Item = (u64, usize, usize, usize)> {
    let mut done = 0;
    std::iter::from_fn(move || {
        let at = offset + done as u64;
        let inside = (at % PIECE) as usize;
        let bytes = (PIECE as usize - inside).min(length - done);
        let piece = (bytes > 0).then_some((at / PIECE, inside, done, bytes));
        done += bytes;
        piece
    })
}

type Edge = Bound<u64>;

impl StorageBackend for Overlay {
    fn len(&self) -> io::Result<u64> {
        Ok(self.over().length)
    }

    fn read(&self, offset: u64, out: &mut [u8]) -> io::Result<()> {
        let over = self.over();
        if offset + out.len() as u64 > over.length {
            return Err(io::ErrorKind::UnexpectedEof.into());
        }
        self.under(over.below, offset, out)?;
        for (piece, inside, at, bytes) in pieces(offset, out.len()) {
            if let Some(written) = over.pieces.get(&piece) {
                out[at..at + bytes].copy_from_slice(&written[inside..inside + bytes]);
            }
        }
        Ok(())
    }

    fn set_len(&self, len: u64) -> io::Result<()> {
        let mut over = self.over();
        over.below = over.below.min(len);
        if let Some(last) = over.pieces.get_mut(&(len / PIECE)) {
            last[(len % PIECE) as usize..].fill(0);
        }
        over.pieces.retain(|piece, _| piece * PIECE < len);
        over.length = len;
        Ok(())
    }

    fn sync_data(&self) -> io::Result<()> {
        Ok(())
    }

    fn write(&self, offset: u64, data: &[u8]) -> io::Result<()> {
        let mut over = self.over();
        let below = over.below;
        for (piece, inside, at, bytes) in pieces(offset, data.len()) {
            let written = match over.pieces.entry(piece) {
                Entry::Occupied(written) => written.into_mut(),
                Entry::Vacant(empty) => {
                    let mut under = vec![0; PIECE as usize];
                    self.under(below, piece * PIECE, &mut under)?;
                    empty.insert(under)
                }
            };
            written[inside..inside + bytes].copy_from_slice(&data[at..at + bytes]);
        }
        over.length = over.length.max(offset + data.len() as u64);
        Ok(())
    }

    fn close(&self) -> io::Result<()> {
        self.file.close()
    }

    // A file that is open to read can be held against writers, and several may read it at once.
    fn try_lock_range(&self, start: Edge, end: Edge) -> Result<bool, BackendError> {
        self.file.try_lock_shared_range(start, end)
    }
    fn try_lock_shared_range(&self, start: Edge, end: Edge) -> Result<bool, BackendError> {
        self.file.try_lock_shared_range(start, end)
    }
    fn lock_range(&self, start: Edge, end: Edge) -> Result<(), BackendError> {
        self.file.lock_shared_range(start, end)
    }
    fn lock_shared_range(&self, start: Edge, end: Edge) -> Result<(), BackendError> {
        self.file.lock_shared_range(start, end)
    }
    fn unlock_range(&self, start: Edge, end: Edge) -> Result<(), BackendError> {
        self.file.unlock_range(start, end)
    }
    fn query_lock_range(&self, start: Edge, end: Edge) -> Result<bool, BackendError> {
        self.file.query_lock_range(start, end)
    }
}
