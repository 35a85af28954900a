//! A folder whose files note when something of them is under way on the disk.

use crushbook::store::folder::{Files, Folder};
use crushbook::store::medium::{Factory, Medium};
use redb::backends::FileBackend;
use redb::{BackendError, DatabaseError, StorageBackend};
use std::fs::OpenOptions;
use std::io;
use std::ops::Bound;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// When writes and flushes were under way: begin and end of each.
#[derive(Debug, Clone, Default)]
pub struct Busy(Arc<Mutex<Vec<(Instant, Instant)>>>);

impl Busy {
    /// How much of a span one of them was under way. They come from one thread, so they never overlap.
    pub fn within(&self, (from, to): (Instant, Instant)) -> Duration {
        let spans = self.0.lock().expect("nobody panics with it");
        // The last of them lies nearest.
        let near = spans.iter().rev().skip_while(|(begun, _)| *begun >= to).take_while(|(_, ended)| *ended > from);
        near.map(|(begun, ended)| (*ended).min(to).saturating_duration_since((*begun).max(from))).sum()
    }

    /// A file of that name, which notes.
    pub fn medium(&self, path: PathBuf) -> Medium {
        let busy = self.clone();
        let factory: Factory = Box::new(move || {
            let file = OpenOptions::new().read(true).write(true).create(true).truncate(false).open(&path);
            let file = file.and_then(|file| FileBackend::new(file).map_err(refused));
            let file = file.expect("the folder of a bench can be written");
            Ok(Box::new(Noted { to: file, busy: busy.clone() }))
        });
        Medium::Backend(factory)
    }

    fn note<T>(&self, work: impl FnOnce() -> io::Result<T>) -> io::Result<T> {
        let begun = Instant::now();
        let done = work();
        self.0.lock().expect("nobody panics with it").push((begun, Instant::now()));
        done
    }
}

fn refused(why: DatabaseError) -> io::Error {
    io::Error::other(why.to_string())
}

/// A folder of such files.
pub struct Watched {
    files: Files,
    busy: Busy,
}

impl Watched {
    /// That folder.
    pub fn new(folder: &Path, busy: &Busy) -> Watched {
        Watched { files: Files::new(folder), busy: busy.clone() }
    }
}

impl Folder for Watched {
    fn path(&self) -> PathBuf {
        self.files.path()
    }
    fn names(&self) -> io::Result<Vec<String>> {
        self.files.names()
    }
    fn file(&self, name: &str) -> Medium {
        self.busy.medium(self.files.path().join(name))
    }
    fn rename(&self, from: &str, to: &str) -> io::Result<()> {
        self.busy.note(|| self.files.rename(from, to))
    }
    fn also(&self, from: &str, to: &str) -> io::Result<()> {
        self.files.also(from, to)
    }
    fn remove(&self, name: &str) -> io::Result<()> {
        self.busy.note(|| self.files.remove(name))
    }
    fn sync(&self) -> io::Result<()> {
        self.busy.note(|| self.files.sync())
    }
}

#[derive(Debug)]
struct Noted {
    to: FileBackend,
    busy: Busy,
}

type Edge = Bound<u64>;

impl StorageBackend for Noted {
    fn len(&self) -> io::Result<u64> {
        self.to.len()
    }
    fn read(&self, offset: u64, out: &mut [u8]) -> io::Result<()> {
        self.to.read(offset, out)
    }
    fn set_len(&self, len: u64) -> io::Result<()> {
        self.busy.note(|| self.to.set_len(len))
    }
    fn sync_data(&self) -> io::Result<()> {
        self.busy.note(|| self.to.sync_data())
    }
    fn write(&self, offset: u64, data: &[u8]) -> io::Result<()> {
        self.busy.note(|| self.to.write(offset, data))
    }
    fn close(&self) -> io::Result<()> {
        self.to.close()
    }
    fn try_lock_range(&self, start: Edge, end: Edge) -> Result<bool, BackendError> {
        self.to.try_lock_range(start, end)
    }
    fn try_lock_shared_range(&self, start: Edge, end: Edge) -> Result<bool, BackendError> {
        self.to.try_lock_shared_range(start, end)
    }
    fn lock_range(&self, start: Edge, end: Edge) -> Result<(), BackendError> {
        self.to.lock_range(start, end)
    }
    fn lock_shared_range(&self, start: Edge, end: Edge) -> Result<(), BackendError> {
        self.to.lock_shared_range(start, end)
    }
    fn unlock_range(&self, start: Edge, end: Edge) -> Result<(), BackendError> {
        self.to.unlock_range(start, end)
    }
    fn query_lock_range(&self, start: Edge, end: Edge) -> Result<bool, BackendError> {
        self.to.query_lock_range(start, end)
    }
}
