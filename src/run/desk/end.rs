//! The end of a run: nothing in the crush is lost, and book and hand are closed.

use super::Desk;
use crate::domain::event::{Event, PauseWhy};
use crate::domain::history::TurnState;
use crate::domain::record::Moment;
use crate::session::decide::Next;
use crate::session::walk::read_draft;
use crate::store::error::StoreError;

impl Desk {
    /// The program is asked to end: an animal in the crush is set aside.
    pub fn set_aside(&mut self, now: Moment) {
        let Some((crush, turn)) = self.session.turn() else { return };
        if turn.state != TurnState::Open {
            return;
        }
        let fact = Event::TurnPaused { turn: crush.turn, why: PauseWhy::SetAside };
        let press = self.stamp(now).press([(crush.animal.0, fact)]);
        self.commit(press, Next::Stay, now);
    }

    /// Why the last backup that was tried came to nothing: still to be said when the screens are gone.
    pub fn backup_trouble(&self) -> Option<String> {
        self.keeper.trouble().map(str::to_owned)
    }

    /// Takes in the hand and closes both files.
    ///
    /// # Errors
    /// What the store says; the hand then stays beside the book and is taken in at the next start.
    pub fn close(mut self) -> Result<(), StoreError> {
        // Whoever leaves a walk with nothing typed is done with it.
        if read_draft(self.store.draft()).is_some_and(|(_, typed)| typed.is_empty()) {
            self.store.set_draft("")?;
        }
        // A half-typed number outlives the program: then the hand stays too.
        if self.store.draft().is_empty() { self.store.close().map(|_| ()) } else { Ok(()) }
    }
}
