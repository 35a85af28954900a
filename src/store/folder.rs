//! A folder in which backups lie, or a book and what stands beside it: names, and what is done to them. A trait, so that a
//! test can pull the battery between two of its steps.

use super::medium::{Medium, folder_of, make_folder, sync_folder};
use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};

/// A folder.
pub trait Folder: Send {
    /// What to call it in a sentence.
    fn path(&self) -> PathBuf;
    /// Names in it, in no order. Errors: it is not there, or it is no folder.
    fn names(&self) -> io::Result<Vec<String>>;
    /// The file of that name, there or not.
    fn file(&self, name: &str) -> Medium;
    /// Gives a file another name; what bore that one goes in the same moment.
    fn rename(&self, from: &str, to: &str) -> io::Result<()>;
    /// Gives a file one more name, or makes a copy of it where the file system knows no such thing. The name must be new.
    fn also(&self, from: &str, to: &str) -> io::Result<()>;
    /// Takes a file away; one that is not there is away already.
    fn remove(&self, name: &str) -> io::Result<()>;
    /// Has the names reach the disk.
    fn sync(&self) -> io::Result<()>;
}

/// A folder of the file system.
#[derive(Debug, Clone)]
pub struct Files(PathBuf);

impl Files {
    /// That folder, there or not.
    pub fn new(folder: &Path) -> Files {
        Files(folder.to_owned())
    }

    /// The folder that a book lies in, made where it is missing, and the book's name in it.
    ///
    /// # Errors
    /// It cannot be made, or the path names no file in words.
    pub fn of_book(book: &Path) -> io::Result<(Files, String)> {
        let name = book.file_name().and_then(|name| name.to_str()).ok_or(io::ErrorKind::InvalidFilename)?;
        let folder = folder_of(book);
        make_folder(folder)?;
        Ok((Files::new(folder), name.to_owned()))
    }

    fn at(&self, name: &str) -> PathBuf {
        self.0.join(name)
    }
}

impl Folder for Files {
    fn path(&self) -> PathBuf {
        self.0.clone()
    }

    fn names(&self) -> io::Result<Vec<String>> {
        let mut names = Vec::new();
        for entry in fs::read_dir(&self.0)? {
            // A name that is no text is none of ours.
            names.extend(entry?.file_name().into_string());
        }
        Ok(names)
    }

    fn file(&self, name: &str) -> Medium {
        Medium::Within(self.at(name))
    }

    fn rename(&self, from: &str, to: &str) -> io::Result<()> {
        fs::rename(self.at(from), self.at(to))
    }

    fn also(&self, from: &str, to: &str) -> io::Result<()> {
        let (from, to) = (self.at(from), self.at(to));
        match fs::hard_link(&from, &to) {
            Err(why) if why.kind() != io::ErrorKind::AlreadyExists => {
                // Under its name only once it is whole.
                let part = to.with_added_extension("unfinished");
                fs::copy(&from, &part)?;
                File::options().write(true).open(&part)?.sync_all()?;
                fs::rename(&part, &to)
            }
            linked => linked,
        }
    }

    fn remove(&self, name: &str) -> io::Result<()> {
        match fs::remove_file(self.at(name)) {
            Err(why) if why.kind() != io::ErrorKind::NotFound => Err(why),
            _ => Ok(()),
        }
    }

    fn sync(&self) -> io::Result<()> {
        sync_folder(&self.0)
    }
}
