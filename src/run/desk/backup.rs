//! Backups from the screens: at the end of a visit, when the program is left, and whenever a key asks for one. Each is made
//! on a thread of its own from what was recorded until then; the desk only looks now and then whether it is done.

use super::{Desk, Flow};
use crate::domain::backup::lag;
use crate::session::backup::Keeping;
use crate::session::mode::Mode;
use crate::store::backup::{Backup, BackupError, make};
use crate::store::error::StoreError;
use crate::store::folder::Files;
use std::path::Path;
use std::thread::{Builder, JoinHandle};
use std::time::Duration;

/// How often it is looked whether a backup is done.
pub const LOOK: Duration = Duration::from_millis(200);

/// What the desk knows of its backups.
#[derive(Default)]
pub struct Keeper {
    under_way: Option<JoinHandle<Result<Backup, BackupError>>>,
    /// Whether the program is left when it is done.
    pub leaving: bool,
    trouble: String,
}

impl Keeper {
    /// Whether one is being made.
    pub fn is_busy(&self) -> bool {
        self.under_way.is_some()
    }

    /// Why the last that was tried came to nothing.
    pub fn trouble(&self) -> Option<&str> {
        Some(self.trouble.as_str()).filter(|trouble| !trouble.is_empty())
    }
}

impl Desk {
    /// The folder that is named for backups.
    fn backup_folder(&self) -> Option<&str> {
        let wish = self.session.practice.backups.as_ref();
        wish.map(|wish| wish.folder.as_str()).filter(|folder| !folder.is_empty())
    }

    /// Says to the session how it stands.
    pub(super) fn tell_backups(&mut self) {
        let Some(wish) = &self.session.practice.backups else { return };
        let last = self.store.backed_up();
        self.session.backup = Some(Keeping {
            named: !wish.folder.is_empty(),
            last,
            lag: lag(last, self.store.held(), self.session.really(), wish.days),
            under_way: self.keeper.is_busy(),
            trouble: self.keeper.trouble.clone(),
        });
    }

    /// Somebody asks for a backup now.
    pub(super) fn asked_for_backup(&mut self) -> Result<(), StoreError> {
        if self.backup_folder().is_none() {
            self.say("no folder for backups is named: crushbook folders says where to name one".to_owned());
            return Ok(());
        }
        self.begin_backup()
    }

    /// A farm was left for the list of farms.
    pub(super) fn visit_ended(&mut self) {
        if self.is_worth_a_backup()
            && let Err(error) = self.begin_backup()
        {
            self.say(error.to_string());
        }
        self.tell_backups();
    }

    /// Whether there is a folder, and something in the book that no backup holds.
    fn is_worth_a_backup(&self) -> bool {
        let last = self.store.backed_up().map_or(0, |last| last.count);
        self.backup_folder().is_some() && self.store.held() > last
    }

    fn begin_backup(&mut self) -> Result<(), StoreError> {
        let Some(folder) = self.backup_folder().filter(|_| !self.keeper.is_busy()) else { return Ok(()) };
        let (folder, of, on) = (Files::new(Path::new(folder)), self.store.snapshot()?, self.session.really());
        match Builder::new().name("backup".to_owned()).spawn(move || make(of, &folder, on)) {
            Ok(thread) => self.keeper.under_way = Some(thread),
            Err(why) => self.keeper.trouble = format!("no backup can be begun: {why}; close other programs"),
        }
        self.tell_backups();
        Ok(())
    }

    /// Looks whether a backup is done; leaves where that was waited for. A press that is not saved comes first.
    pub(super) fn look_after_backup(&mut self) -> Flow {
        if self.held.is_some() {
            return Flow::On;
        }
        let Some(thread) = self.keeper.under_way.take_if(|thread| thread.is_finished()) else { return Flow::On };
        // A panic there is told like any other reason; the book was only read.
        self.keeper.trouble = match thread.join() {
            Ok(Ok(done)) => self.took(&done),
            Ok(Err(why)) => why.to_string(),
            Err(_) => "no backup was made: the program made a mistake in it; run crushbook check".to_owned(),
        };
        self.tell_backups();
        if self.keeper.leaving { Flow::Leave } else { Flow::On }
    }

    /// Remembers a backup, and says what is wrong with it.
    fn took(&mut self, done: &Backup) -> String {
        if let Some(problem) = done.problems.first() {
            return format!("the book does not check, and so neither does {}: {problem}", done.file.display());
        }
        if let Err(why) = self.wait(|store| store.remember_backup(done.made)) {
            return why.to_string();
        }
        if self.session.crush.is_none() {
            self.say(format!("backed up and checked: {} records", done.made.count));
        }
        String::new()
    }

    /// Leaves, once what was recorded is backed up; asked again, at once.
    pub(super) fn leave(&mut self) -> Result<Flow, StoreError> {
        if self.keeper.leaving {
            return Ok(Flow::Leave);
        }
        if self.is_worth_a_backup() {
            self.begin_backup()?;
        }
        if !self.keeper.is_busy() {
            return Ok(Flow::Leave);
        }
        // Whoever stays after all stands where nothing is half done.
        if self.session.crush.is_some() {
            self.let_go()?;
        }
        self.session.mode = Mode::Farms { cursor: 0 };
        self.keeper.leaving = true;
        self.say("backing up, then it ends; the same key again ends it now".to_owned());
        Ok(Flow::On)
    }
}
