//! The herd at the desk: all animals of the farm in hand are read when it is opened, and again after each word about one.

use super::Desk;
use crate::command::herd::known::herd_of;
use crate::session::herd::{self, Page, Whom};
use crate::session::mode::Mode;
use crate::store::error::StoreError;

impl Desk {
    /// Reads every animal of the farm in hand.
    pub(super) fn read_herd(&mut self) -> Result<(), StoreError> {
        let Some(farm) = self.session.farm.as_ref().map(|farm| farm.id) else { return Ok(()) };
        let (animals, problems) = herd_of(&self.store, farm, |records| self.known(records))?;
        self.note(problems);
        self.session.animals = animals;
        self.settle_herd();
        Ok(())
    }

    /// A line that is there no more is not picked, and of whom nothing is known any more nothing is shown.
    fn settle_herd(&mut self) {
        let Mode::Herd { page, cursor, under } = &self.session.mode else { return };
        let there = match page {
            Page::Her(animal) => herd::of(&self.session, *animal).is_some(),
            Page::Animals(_) => true,
        };
        let page = if there { page.clone() } else { Page::Animals(Whom::All) };
        let cursor = (*cursor).min(herd::count(&self.session, &page).saturating_sub(1));
        self.session.mode = Mode::Herd { page, cursor, under: under.clone() };
    }
}
