//! A folder that loses power: names are changed in the cache, and each change reaches the platter or does not, whatever
//! became of the others, until the folder is synced. Its files are disks.

use super::disk::{Disk, Power};
use crushbook::store::folder::Folder;
use crushbook::store::medium::Medium;
use redb::StorageBackend;
use std::collections::BTreeMap;
use std::io;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard};

type Names = BTreeMap<String, Disk>;

#[derive(Debug, Clone)]
enum Change {
    Put(String, Disk),
    Rename(String, String),
    Remove(String),
}

fn apply(names: &mut Names, change: &Change) {
    match change {
        Change::Put(name, disk) => drop(names.insert(name.clone(), disk.clone())),
        Change::Rename(from, to) => {
            if let Some(disk) = names.remove(from) {
                names.insert(to.clone(), disk);
            }
        }
        Change::Remove(name) => drop(names.remove(name)),
    }
}

#[derive(Debug, Default)]
struct Inside {
    seen: Names,
    platter: Names,
    pending: Vec<Change>,
}

#[derive(Debug, Clone)]
pub struct Cabinet {
    power: Power,
    inside: Arc<Mutex<Inside>>,
}

impl Cabinet {
    pub fn new(power: &Power) -> Cabinet {
        Cabinet { power: power.clone(), inside: Arc::default() }
    }

    /// The same files in a folder of another machine.
    pub fn copy(&self, power: &Power) -> Cabinet {
        let copy = Cabinet::new(power);
        for (name, disk) in &self.inside().seen {
            copy.put(name, disk.image());
        }
        copy
    }

    fn inside(&self) -> MutexGuard<'_, Inside> {
        self.inside.lock().expect("no test thread panics while it holds the names")
    }

    /// A file that is on the platter already.
    pub fn put(&self, name: &str, image: Vec<u8>) {
        let disk = Disk::new(&self.power);
        disk.put(image);
        let mut inside = self.inside();
        inside.seen.insert(name.to_owned(), disk.clone());
        inside.platter.insert(name.to_owned(), disk);
    }

    pub fn image(&self, name: &str) -> Option<Vec<u8>> {
        self.inside().seen.get(name).map(Disk::image)
    }

    pub fn disk(&self, name: &str) -> Option<Disk> {
        self.inside().seen.get(name).cloned()
    }

    pub fn listed(&self) -> Vec<String> {
        self.inside().seen.keys().cloned().collect()
    }

    fn change(&self, change: Change) -> io::Result<()> {
        self.power.act()?;
        let mut inside = self.inside();
        apply(&mut inside.seen, &change);
        inside.pending.push(change);
        Ok(())
    }

    /// The power went.
    pub fn lose_power(&self) {
        let mut inside = self.inside();
        let pending = std::mem::take(&mut inside.pending);
        let fate = self.power.roll(3);
        for change in &pending {
            if fate == 2 || fate == 1 && self.power.roll(2) == 1 {
                apply(&mut inside.platter, change);
            }
        }
        for disk in inside.platter.values() {
            disk.lose_power();
        }
        inside.seen = inside.platter.clone();
    }
}

impl Folder for Cabinet {
    fn path(&self) -> PathBuf {
        PathBuf::from("(a cabinet)")
    }
    fn names(&self) -> io::Result<Vec<String>> {
        Ok(self.listed())
    }
    fn file(&self, name: &str) -> Medium {
        let (cabinet, name) = (self.clone(), name.to_owned());
        Medium::Backend(Box::new(move || {
            let disk = cabinet.inside().seen.get(&name).cloned();
            let open = Drawer { cabinet: cabinet.clone(), name: name.clone(), disk: Mutex::new(disk) };
            Ok(Box::new(open))
        }))
    }
    fn rename(&self, from: &str, to: &str) -> io::Result<()> {
        if !self.inside().seen.contains_key(from) {
            return Err(io::ErrorKind::NotFound.into());
        }
        self.change(Change::Rename(from.to_owned(), to.to_owned()))
    }
    fn also(&self, from: &str, to: &str) -> io::Result<()> {
        let disk = self.inside().seen.get(from).cloned().ok_or(io::ErrorKind::NotFound)?;
        self.change(Change::Put(to.to_owned(), disk))
    }
    fn remove(&self, name: &str) -> io::Result<()> {
        if self.inside().seen.contains_key(name) { self.change(Change::Remove(name.to_owned())) } else { Ok(()) }
    }
    fn sync(&self) -> io::Result<()> {
        self.power.act()?;
        let mut inside = self.inside();
        for change in std::mem::take(&mut inside.pending) {
            apply(&mut inside.platter, &change);
        }
        Ok(())
    }
}

/// An open file, which gets its name with its first byte.
#[derive(Debug)]
struct Drawer {
    cabinet: Cabinet,
    name: String,
    disk: Mutex<Option<Disk>>,
}

impl Drawer {
    fn disk(&self) -> Option<Disk> {
        self.disk.lock().expect("no panic inside").clone()
    }

    /// The disk, made where the file is new; its name is synced with it, as the store does with a new file.
    fn made(&self) -> io::Result<Disk> {
        let mut disk = self.disk.lock().expect("no panic inside");
        if let Some(disk) = &*disk {
            return Ok(disk.clone());
        }
        let new = Disk::new(&self.cabinet.power);
        self.cabinet.change(Change::Put(self.name.clone(), new.clone()))?;
        self.cabinet.sync()?;
        *disk = Some(new.clone());
        Ok(new)
    }
}

impl StorageBackend for Drawer {
    fn len(&self) -> io::Result<u64> {
        self.disk().map_or(Ok(0), |disk| disk.len())
    }
    fn read(&self, offset: u64, out: &mut [u8]) -> io::Result<()> {
        self.disk().ok_or(io::ErrorKind::UnexpectedEof)?.read(offset, out)
    }
    fn set_len(&self, len: u64) -> io::Result<()> {
        self.made()?.set_len(len)
    }
    fn sync_data(&self) -> io::Result<()> {
        self.disk().map_or(Ok(()), |disk| disk.sync_data())
    }
    fn write(&self, offset: u64, data: &[u8]) -> io::Result<()> {
        self.made()?.write(offset, data)
    }
}
