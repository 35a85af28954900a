//! Where on the picture taps count: noted while it is drawn, so that what is tapped is what is seen.

use crate::screen::{View, paint};
use crate::session::Session;
use crate::session::touch::Target;
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use std::cell::RefCell;

/// The targets of a picture, in the order they were drawn.
#[derive(Debug, Default)]
pub struct Targets(RefCell<Vec<(Rect, Target)>>);

impl Targets {
    /// Notes one.
    pub fn note(&self, area: Rect, target: Target) {
        if area.width > 0 && area.height > 0 {
            self.0.borrow_mut().push((area, target));
        }
    }

    /// The targets of a session's picture of that size.
    pub fn of(session: &Session, view: &View<'_>, (columns, rows): (u16, u16)) -> Vec<(Rect, Target)> {
        let targets = Targets::default();
        let area = Rect { x: 0, y: 0, width: columns, height: rows };
        let noting = View { targets: Some(&targets), ..*view };
        paint(&mut Buffer::empty(area), area, session, &noting);
        targets.0.into_inner()
    }

    /// What a tap at that cell means; what was drawn last lies on top.
    pub fn at(session: &Session, view: &View<'_>, size: (u16, u16), (column, row): (u16, u16)) -> Option<Target> {
        let targets = Targets::of(session, view, size);
        let hit = |(area, _): &&(Rect, Target)| area.contains(Position { x: column, y: row });
        targets.iter().rev().find(hit).map(|(_, target)| *target)
    }
}
