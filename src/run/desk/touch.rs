//! A tap: what is drawn there is looked up in the picture itself.

use super::who::Wish;
use super::{Desk, Flow};
use crate::domain::record::Moment;
use crate::screen::View;
use crate::screen::theme::Colour;
use crate::screen::touch::Targets;
use crate::session::touch::{Tapped, tapped};

impl Desk {
    /// A tap on what is drawn there. Elsewhere, with taps switched off, or while a press is held, nothing happens.
    pub(super) fn tap(&mut self, column: u16, row: u16, now: Moment) -> Flow {
        if !self.session.taps || self.held.is_some() {
            return Flow::On;
        }
        let view = View { keymap: &self.keymap, now, colour: Colour::Full, targets: None };
        let Some(target) = Targets::at(&self.session, &view, self.size, (column, row)) else { return Flow::On };
        match tapped(&self.session, target, &self.stamp(now)) {
            Tapped::Selects => {
                self.session.pending.clear();
                self.session.selected = Some(target);
                Flow::On
            }
            Tapped::Begins(key) => {
                self.session.selected = None;
                self.session.pending.push(key);
                Flow::On
            }
            Tapped::Does(decision) => {
                self.session.selected = None;
                self.session.pending.clear();
                self.act(Wish::Tap(target), decision, now)
            }
            Tapped::Nothing => Flow::On,
        }
    }
}
