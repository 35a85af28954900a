//! Where a store's bytes lie: a file of the user's, or a medium handed in, so that a test can cut its power.
//!
//! One function opens either, and turns everything that can be wrong with a file into a sentence.

use super::error::StoreError;
use super::overlay::Overlay;
use super::shield::{BROKEN, shielded};
use super::tables::{MARK as MARK_OF_BOOK, META, meta, number};
use redb::backends::{FileBackend, InMemoryBackend};
use redb::{BackendError, Builder, Database, DatabaseError, ReadableDatabase, StorageBackend, StorageError};
use std::fs::{DirBuilder, File, OpenOptions};
use std::io::{self, Read};
use std::ops::Bound;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::UNIX_EPOCH;

/// Makes a medium anew each time the store opens or reopens it.
pub type Factory = Box<dyn Fn() -> Result<Box<dyn StorageBackend>, StoreError> + Send>;

/// Where bytes are kept.
pub enum Medium {
    /// A file, made with its folder when it is not there, readable by its owner only.
    File(PathBuf),
    /// The same in a folder that must be there already: a stick that was pulled out is not made again on the tablet's disk.
    Within(PathBuf),
    /// A file that is only read: what would be written to it is kept in memory and given up at the end.
    Kept(PathBuf),
    /// Anything that behaves like one.
    Backend(Factory),
}

/// Bytes in memory: they last as long as somebody holds them.
#[derive(Debug, Clone, Default)]
pub struct Memory(Arc<InMemoryBackend>);

/// The hand's file: beside the book, with its name.
pub fn hand_beside(book: &Path) -> PathBuf {
    let mut name = book.file_name().unwrap_or_default().to_os_string();
    name.push("-hand");
    book.with_file_name(name)
}

/// Cache for a look at one row, bytes.
const PEEK: usize = 64 << 10;
/// No whole new medium is larger than this when its making breaks off, bytes.
const UNFINISHED_LIMIT: u64 = 1 << 20;
/// The first bytes of a medium hold its header, which may be half written when its making breaks off.
const HEADER: usize = 512;
/// redb's mark, which is written last (its design document names these bytes).
const MARK: [u8; 9] = *b"redb\x1a\n\xa9\r\n";

impl Medium {
    /// A medium in memory.
    pub fn memory(memory: &Memory) -> Medium {
        let memory = memory.clone();
        Medium::Backend(Box::new(move || Ok(Box::new(memory.clone()))))
    }

    /// What to call it in a sentence.
    pub fn path(&self) -> PathBuf {
        match self {
            Medium::File(path) | Medium::Within(path) | Medium::Kept(path) => path.clone(),
            Medium::Backend(_) => PathBuf::from("(a medium handed in)"),
        }
    }

    /// Opens it, making it where it is new. `cache` is in bytes.
    pub(super) fn open(&self, cache: usize) -> Result<Database, StoreError> {
        self.open_as(cache, None)
    }

    /// The same for a copy that is written beside other work: what is written is flushed piece by piece, so that no flush of
    /// others waits for more than one of them. `piece` is in bytes.
    pub(super) fn open_in_pieces(&self, cache: usize, piece: u64) -> Result<Database, StoreError> {
        self.open_as(cache, Some(piece))
    }

    fn open_as(&self, cache: usize, piece: Option<u64>) -> Result<Database, StoreError> {
        match self.open_once(cache, piece) {
            // The lock was had and let go again, so nobody else is making it at this moment.
            Err(StoreError::NotABook(path))
                if clear_unfinished(self.backend()?.as_ref()).is_ok_and(|cleared| cleared) =>
            {
                self.open_once(cache, piece).map_err(|error| match error {
                    StoreError::NotABook(_) => StoreError::NotABook(path),
                    other => other,
                })
            }
            result => result,
        }
    }

    fn open_once(&self, cache: usize, piece: Option<u64>) -> Result<Database, StoreError> {
        let backend = self.backend()?;
        let mut builder = Builder::new();
        builder.set_cache_size(cache);
        let path = self.path();
        match shielded(|| builder.create_with_backend(Passed::new(backend, piece))) {
            Some(result) => result.map_err(|error| refused(&path, error)),
            None => Err(broken(&path)),
        }
    }

    pub(super) fn backend(&self) -> Result<Box<dyn StorageBackend>, StoreError> {
        match self {
            Medium::File(path) => {
                let folder = folder_of(path);
                make_folder(folder).map_err(|error| disk(folder, error))?;
                Ok(Box::new(file(path)?))
            }
            Medium::Within(path) => Ok(Box::new(file(path)?)),
            Medium::Kept(path) => Ok(Box::new(Overlay::of(to_look_at(path)?).map_err(|error| disk(path, error))?)),
            Medium::Backend(factory) => factory(),
        }
    }

    /// Its bytes, to be read only; nothing is made.
    pub(super) fn to_read(&self) -> Result<Box<dyn StorageBackend>, StoreError> {
        match self {
            Medium::File(path) | Medium::Within(path) | Medium::Kept(path) => {
                let file = to_look_at(path)?;
                Ok(Box::new(FileBackend::new(file).map_err(|error| refused(path, error))?))
            }
            Medium::Backend(factory) => factory(),
        }
    }

    /// The series that the book there writes in, without changing a byte of it; none where it is no book, or none at rest.
    /// Errors: somebody works with it, or it cannot be read.
    pub(super) fn series(&self) -> Result<Option<u64>, StoreError> {
        let (backend, path) = (Passed::new(self.to_read()?, None), self.path());
        let read = shielded(|| -> Result<Option<u64>, redb::Error> {
            let db = Builder::new().set_cache_size(PEEK).open_read_only_with_backend(backend)?;
            let table = db.begin_read()?.open_table(META)?;
            let row = |key| table.get(key).map(|row| row.map(|row| row.value().to_vec()));
            let series = row(meta::SERIES)?.and_then(|row| number(&row));
            Ok(series.filter(|_| matches!(row(meta::MARK), Ok(Some(mark)) if mark == MARK_OF_BOOK)))
        });
        match read {
            Some(Err(redb::Error::DatabaseAlreadyOpen | redb::Error::LockProtocolMismatch)) => {
                Err(StoreError::InUse(path))
            }
            Some(Err(redb::Error::Io(error))) => Err(disk(&path, error)),
            Some(Ok(series)) => Ok(series),
            Some(Err(_)) | None => Ok(None),
        }
    }

    /// What tells this file from a copy of it: when it came to be. A number of the file system's own stands in where it
    /// knows no such moment, and beside it where a copy is given the moment of its original. Nothing for a medium handed in.
    pub(super) fn mark(&self) -> Vec<u8> {
        let (Medium::File(path) | Medium::Within(path)) = self else { return Vec::new() };
        let Ok(file) = std::fs::metadata(path) else { return Vec::new() };
        let born = file.created().ok().and_then(|moment| moment.duration_since(UNIX_EPOCH).ok());
        let mut mark = born.map_or(0, |born| born.as_nanos()).to_le_bytes().to_vec();
        #[cfg(unix)]
        if born.is_none() || cfg!(target_os = "macos") {
            mark.extend(std::os::unix::fs::MetadataExt::ino(&file).to_le_bytes());
        }
        mark
    }

    /// Errors: what lies there now is not the file of that mark.
    pub(super) fn in_place(&self, mark: &[u8]) -> Result<(), StoreError> {
        if self.mark() == mark { Ok(()) } else { Err(StoreError::Gone(self.path())) }
    }

    /// Whether a file is there that holds nothing, as a crash of the system may leave one that held much.
    pub(super) fn is_empty(&self) -> bool {
        let Medium::File(path) = self else { return false };
        let mut begins = [0; MARK.len()];
        let mut read = || is_file(path).is_ok_and(|there| there).then(|| File::open(path)?.read(&mut begins));
        matches!(read(), Some(Ok(_))) && begins == [0; MARK.len()]
    }

    /// Whether anything was ever written there.
    pub(super) fn is_there(&self) -> Result<bool, StoreError> {
        match self {
            Medium::File(path) | Medium::Within(path) | Medium::Kept(path) => Ok(path.exists()),
            Medium::Backend(factory) => factory()?.len().map(|len| len > 0).map_err(|error| disk(&self.path(), error)),
        }
    }

    /// Takes a file away, for good: what is written from now on may contradict it. A medium handed in is emptied.
    pub(super) fn remove(&self) -> Result<(), StoreError> {
        match self {
            Medium::File(path) | Medium::Within(path) => match std::fs::remove_file(path) {
                Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(()),
                removed => removed.and_then(|()| sync_folder(folder_of(path))).map_err(|error| disk(path, error)),
            },
            Medium::Kept(_) => Ok(()),
            Medium::Backend(factory) => {
                let backend = factory()?;
                backend.set_len(0).and_then(|()| backend.sync_data()).map_err(|error| disk(&self.path(), error))
            }
        }
    }
}

/// What a path leads to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// A file.
    File,
    /// A whole disk, or a part of one.
    Disk,
    /// A folder.
    Folder,
    /// Something that may keep whoever opens it waiting: a pipe, a terminal.
    Other,
    /// Nothing.
    Nothing,
}

/// Looks what is there without opening it.
pub(super) fn kind(path: &Path) -> Result<Kind, StoreError> {
    let found = match std::fs::metadata(path) {
        Ok(found) => found.file_type(),
        // A link that leads on to itself, or to what is gone: nothing may be made at its end.
        Err(_) if path.is_symlink() => return Err(StoreError::LeadsNowhere(path.to_owned())),
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Kind::Nothing),
        Err(error) => return Err(disk(path, error)),
    };
    #[cfg(unix)]
    if std::os::unix::fs::FileTypeExt::is_block_device(&found) {
        return Ok(Kind::Disk);
    }
    Ok(match (found.is_file(), found.is_dir()) {
        (true, _) => Kind::File,
        (false, true) => Kind::Folder,
        (false, false) => Kind::Other,
    })
}

/// Whether a file is there, empty or not. Errors: what is there is something else.
pub fn is_file(path: &Path) -> Result<bool, StoreError> {
    match kind(path)? {
        Kind::File => Ok(true),
        Kind::Nothing => Ok(false),
        Kind::Folder => Err(StoreError::IsFolder(path.to_owned())),
        Kind::Disk | Kind::Other => Err(StoreError::NotAFile(path.to_owned())),
    }
}

/// Opens a file that is there, to read it. Errors: what is there is something else: a pipe would be waited for without an end.
fn to_look_at(path: &Path) -> Result<File, StoreError> {
    is_file(path)?;
    File::open(path).map_err(|error| match error.kind() {
        io::ErrorKind::PermissionDenied => StoreError::MayNotRead(path.to_owned()),
        _ => disk(path, error),
    })
}

/// Opens or makes the file, locked.
fn file(path: &Path) -> Result<FileBackend, StoreError> {
    let (new, folder) = (!is_file(path)?, folder_of(path));
    let mut options = OpenOptions::new();
    options.read(true).write(true).create(true).truncate(false);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let file = options.open(path).map_err(|error| disk(path, error))?;
    if new {
        // The name of a new file lasts only once its folder is on disk too.
        sync_folder(folder).map_err(|error| disk(folder, error))?;
    }
    FileBackend::new(file).map_err(|error| refused(path, error))
}

/// The folder that a file lies in.
pub(super) fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// Has the names in a folder reach the disk. Only some systems let a folder be opened; where they do not, they are there.
pub(super) fn sync_folder(folder: &Path) -> io::Result<()> {
    if cfg!(unix) { File::open(folder)?.sync_all() } else { Ok(()) }
}

/// Makes the folder where it is missing, open to its owner only.
pub(super) fn make_folder(folder: &Path) -> io::Result<()> {
    if folder.is_dir() {
        return Ok(());
    }
    let mut builder = DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder.create(folder)
}

/// Empties a medium whose making broke off, and says whether it did: no mark yet or half of it, and nothing behind the
/// header. redb writes its mark last and would otherwise take such a file for a foreign one for ever.
fn clear_unfinished(backend: &dyn StorageBackend) -> io::Result<bool> {
    let length = backend.len()?;
    if length > UNFINISHED_LIMIT {
        return Ok(false);
    }
    let mut bytes = vec![0; usize::try_from(length).map_err(io::Error::other)?];
    backend.read(0, &mut bytes)?;
    // The mark is begun only once the file has its length: a shorter one was cut short.
    let whole = bytes.len() > HEADER;
    let begun = bytes.iter().zip(MARK).all(|(&byte, mark)| byte == 0 || whole && byte == mark);
    let unfinished = begun && bytes.iter().skip(HEADER).all(|&byte| byte == 0);
    if unfinished {
        backend.set_len(0)?;
    }
    Ok(unfinished)
}

/// What the disk said, in the words of the file.
pub(super) fn disk(path: &Path, error: io::Error) -> StoreError {
    let path = path.to_owned();
    match error.kind() {
        io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => StoreError::ReadOnly(path),
        io::ErrorKind::IsADirectory => StoreError::IsFolder(path),
        io::ErrorKind::InvalidData => StoreError::NotABook(path),
        io::ErrorKind::UnexpectedEof => StoreError::Damaged { path, why: error.to_string() },
        _ => StoreError::Disk { path, why: error.to_string() },
    }
}

/// What is said where redb panicked.
pub(super) fn broken(path: &Path) -> StoreError {
    StoreError::Damaged { path: path.to_owned(), why: BROKEN.to_owned() }
}

/// Why redb would not open it.
fn refused(path: &Path, error: DatabaseError) -> StoreError {
    match error {
        DatabaseError::DatabaseAlreadyOpen | DatabaseError::LockProtocolMismatch => StoreError::InUse(path.to_owned()),
        DatabaseError::Storage(StorageError::Io(error)) => disk(path, error),
        DatabaseError::UpgradeRequired(_) => StoreError::NotABook(path.to_owned()),
        other => StoreError::Damaged { path: path.to_owned(), why: other.to_string() },
    }
}

/// Why redb would not read or write it.
pub(super) fn failed(path: &Path, error: impl Into<redb::Error>) -> StoreError {
    match error.into() {
        redb::Error::Io(error) => disk(path, error),
        redb::Error::Corrupted(why) => StoreError::Damaged { path: path.to_owned(), why },
        other => StoreError::Disk { path: path.to_owned(), why: other.to_string() },
    }
}

/// A boxed medium as redb wants it: it passes everything on, the locks too, or a file would not be locked.
#[derive(Debug)]
struct Passed {
    to: Box<dyn StorageBackend>,
    /// After so many bytes written they are flushed; none: only when redb says so.
    piece: Option<u64>,
    /// Written since.
    waiting: AtomicU64,
}

impl Passed {
    fn new(to: Box<dyn StorageBackend>, piece: Option<u64>) -> Passed {
        Passed { to, piece, waiting: AtomicU64::new(0) }
    }
}

type Edge = Bound<u64>;

impl StorageBackend for Memory {
    fn len(&self) -> io::Result<u64> {
        self.0.len()
    }
    fn read(&self, offset: u64, out: &mut [u8]) -> io::Result<()> {
        self.0.read(offset, out)
    }
    fn set_len(&self, len: u64) -> io::Result<()> {
        self.0.set_len(len)
    }
    fn sync_data(&self) -> io::Result<()> {
        self.0.sync_data()
    }
    fn write(&self, offset: u64, data: &[u8]) -> io::Result<()> {
        self.0.write(offset, data)
    }
}

impl StorageBackend for Passed {
    fn len(&self) -> io::Result<u64> {
        self.to.len()
    }
    fn read(&self, offset: u64, out: &mut [u8]) -> io::Result<()> {
        self.to.read(offset, out)
    }
    fn set_len(&self, len: u64) -> io::Result<()> {
        self.to.set_len(len)
    }
    fn sync_data(&self) -> io::Result<()> {
        self.to.sync_data()
    }
    fn write(&self, offset: u64, data: &[u8]) -> io::Result<()> {
        self.to.write(offset, data)?;
        let waiting = self.waiting.fetch_add(data.len() as u64, Ordering::Relaxed) + data.len() as u64;
        if self.piece.is_some_and(|piece| waiting >= piece) {
            self.waiting.store(0, Ordering::Relaxed);
            self.to.sync_data()?;
        }
        Ok(())
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
