//! The herd at the desk: all animals of the farm in hand are read when it is opened, and again after each word about one. And a
//! farm's list: the files there are, and the one that was asked for, read once. What is taken is what was shown, whatever becomes
//! of the file meanwhile.

use super::Desk;
use crate::command::herd::against::{Against, has_days, unsure};
use crate::command::herd::known::herd_of;
use crate::command::place::read_file;
use crate::domain::flood;
use crate::domain::herd_list::figures::Figures;
use crate::domain::herd_list::written::Meant;
use crate::domain::record::Moment;
use crate::report::safe::safe;
use crate::report::words::Words;
use crate::session::herd::{self, Page, Whom};
use crate::session::herd_list::{Ask, Files, Offered, Which, animals, missing, over};
use crate::session::mode::Mode;
use crate::store::Store;
use crate::store::error::StoreError;
use crate::wire::herd_csv::{HerdList, read};
use std::fs::{metadata, read_dir};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// Largest file that is read as a herd list: a line of all columns has some 150 bytes, so that is a herd of fifty thousand.
const MOST_BYTES: u64 = 8_000_000;
/// Most files that are offered.
const MOST_FILES: usize = 200;

/// What the desk knows of lists.
#[derive(Debug, Default)]
pub struct Lists {
    /// The folder that is looked in.
    folder: Option<PathBuf>,
    files: Vec<PathBuf>,
    /// The list that is looked at: its file's name, its bytes, what was read of it.
    read: Option<(String, Vec<u8>, HerdList)>,
}

impl Lists {
    /// Lists of that folder.
    pub fn of(folder: Option<PathBuf>) -> Lists {
        Lists { folder, ..Lists::default() }
    }
}

impl Desk {
    /// Opens the herd of the farm in hand, with no list.
    pub(super) fn open_herd(&mut self, under: Box<Mode>, now: Moment) -> Result<(), StoreError> {
        self.lists.read = None;
        self.read_herd(now)?;
        self.session.mode = Mode::Herd { page: Page::Animals(Whom::All), cursor: 0, under };
        Ok(())
    }

    /// Reads every animal of the farm in hand.
    pub(super) fn read_herd(&mut self, now: Moment) -> Result<(), StoreError> {
        let Some(farm) = self.session.farm.as_ref().map(|farm| farm.id) else { return Ok(()) };
        let (animals, problems) = herd_of(&self.store, farm, |records| self.known(records))?;
        // It is read again after each word: what cannot be read is said once.
        for problem in problems {
            if !self.session.faults.contains(&problem.to_string()) {
                self.note(vec![problem]);
            }
        }
        self.session.animals = animals;
        self.session.offered = self.offer(now);
        self.settle_herd();
        Ok(())
    }

    /// A line that is there no more is not picked, and of whom nothing is known any more nothing is shown.
    fn settle_herd(&mut self) {
        let Mode::Herd { page, cursor, under } = &self.session.mode else { return };
        let there = match page {
            Page::Her(animal) => herd::of(&self.session, *animal).is_some(),
            Page::List => self.session.offered.is_some(),
            Page::Animals(_) | Page::Files => true,
        };
        let page = if there { page.clone() } else { Page::Animals(Whom::All) };
        let cursor = (*cursor).min(herd::count(&self.session, &page).saturating_sub(1));
        self.session.mode = Mode::Herd { page, cursor, under: under.clone() };
    }

    /// Looks which lists lie in the folder.
    pub(super) fn look_for_lists(&mut self, under: Box<Mode>) {
        self.lists.read = None;
        self.session.offered = None;
        let mut files = Files::default();
        if let Some(folder) = &self.lists.folder {
            files.folder = safe(&folder.display().to_string());
            match in_folder(folder) {
                Ok(found) => self.lists.files = found,
                Err(why) => {
                    self.lists.files.clear();
                    files.trouble = Some(why);
                }
            }
        }
        files.names = self.lists.files.iter().map(|file| name_of(file)).collect();
        self.session.lists = files;
        self.session.mode = Mode::Herd { page: Page::Files, cursor: 0, under };
    }

    /// Reads a list and shows what it would change; `files` is where it was asked for.
    pub(super) fn read_list(&mut self, which: Which, files: Box<Mode>, now: Moment) -> Result<(), StoreError> {
        let figures = if let Which::Again(figures) = which { figures } else { Figures::Unsaid };
        let given = match which {
            Which::Line(line) => match self.lists.files.get(line).cloned() {
                Some(file) => bytes_of(&file),
                None => Err("that list is gone".to_owned()),
            },
            Which::Typed(file) => bytes_of(Path::new(&file)),
            Which::Again(_) => match self.lists.read.take() {
                Some((name, bytes, _)) => Ok((name, bytes)),
                None => Err("that list is gone".to_owned()),
            },
        };
        self.session.mode = *files.clone();
        match given {
            Ok((name, bytes)) => {
                let list = read(&bytes, &name, figures);
                self.lists.read = Some((name, bytes, list));
                self.session.lists.trouble = None;
                self.session.mode = Mode::Herd { page: Page::List, cursor: 0, under: files };
                self.read_herd(now)
            }
            Err(why) => {
                self.session.lists.trouble = Some(why);
                Ok(())
            }
        }
    }

    /// The list that is looked at against the herd as it is now.
    fn offer(&self, now: Moment) -> Option<Offered> {
        let (name, _, list) = self.lists.read.as_ref()?;
        let farm = self.session.farm.as_ref()?;
        let said = |line: &String| safe(&format!("{name}: {line}"));
        let notices = list.notices.iter().map(said);
        if !list.broken.is_empty() {
            let why: Vec<String> = list.broken.iter().map(|problem| safe(&problem.to_string())).collect();
            let lines = [format!("{} IS NO HERD LIST, and nothing can be taken of it", safe(name))];
            return Some(Offered {
                name: name.clone(),
                lines: lines.into_iter().chain(flood::told(&why)).chain(notices).collect(),
                preview: Default::default(),
                bad: list.broken.len(),
                days: false,
                sure: false,
            });
        }
        // As if it were taken now: what can be told of her hangs on what was told before.
        let stamp = self.stamp(now);
        let meant = Meant { farm: Some(farm.id), name: &farm.name, herd: &self.session.animals };
        let against = Against::of(&stamp, (name, list), meant, Words(self.session.practice.region));
        let text = against.told(name, &farm.name, self.session.today).text();
        let lines = text.lines().filter(|line| !line.trim().is_empty()).map(|line| line.trim_end().to_owned());
        Some(Offered {
            name: name.clone(),
            lines: lines.chain(notices).collect(),
            bad: against.bad.len(),
            days: has_days(list),
            sure: unsure(name, list, &against.preview).is_empty(),
            preview: against.preview,
        })
    }

    /// It is taken: the hand goes into the book, and whoever is missing is asked about.
    pub(super) fn list_taken(&mut self, now: Moment) -> Result<(), StoreError> {
        let taken = self.wait(Store::pack)?;
        self.note(taken.problems);
        self.refresh()?;
        let herd = animals(&self.session.mode);
        self.session.mode = herd.clone();
        self.read_herd(now)?;
        if !missing(&self.session).0.is_empty() {
            self.session.mode = over(Ask::Missing, &herd);
        }
        Ok(())
    }
}

/// The lists of a folder, by name.
fn in_folder(folder: &Path) -> Result<Vec<PathBuf>, String> {
    if !folder.exists() {
        return Ok(Vec::new());
    }
    let entries = read_dir(folder).map_err(|why| safe(&format!("{} cannot be read: {why}", folder.display())))?;
    let is_list = |file: &PathBuf| {
        let is_csv = file.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("csv"));
        is_csv && metadata(file).is_ok_and(|about| about.is_file())
    };
    let mut files: Vec<PathBuf> = entries.flatten().map(|entry| entry.path()).filter(is_list).collect();
    files.sort();
    files.truncate(MOST_FILES);
    Ok(files)
}

/// A file's name without its folders, and its bytes; else why it cannot be read, and what to do.
fn bytes_of(file: &Path) -> Result<(String, Vec<u8>), String> {
    let named = safe(&file.display().to_string());
    if let Ok(about) = metadata(file)
        && about.is_file()
        && about.len() > MOST_BYTES
    {
        let (has, most) = (about.len() / 1_000_000, MOST_BYTES / 1_000_000);
        return Err(format!("{named} has {has} MB, and a herd list at most {most}: is it another file?"));
    }
    let bytes = read_file(file).map_err(|why| match why.kind() {
        ErrorKind::IsADirectory => format!("{named} is a folder: type a list in it"),
        _ => safe(&format!("{named} cannot be read: {why}; check its name")),
    })?;
    Ok((name_of(file), bytes))
}

fn name_of(file: &Path) -> String {
    file.file_name().unwrap_or(file.as_os_str()).to_string_lossy().into_owned()
}
