//! How it looks. Reads, never writes.

pub mod claws;
pub mod theme;
use crate::domain::record::Moment;
use crate::keys::keymap::Keymap;
use crate::report::words::Region;
use crate::session::Session;
/// v
#[derive(Debug)]
pub struct View<'a> {
    /// k
    pub keymap: &'a Keymap,
    /// n
    pub now: Moment,
    /// c
    pub colour: theme::Colour,
    /// r
    pub region: Region,
}
/// d
pub fn draw(_f: &mut ratatui::Frame, _s: &Session, _v: &View) {}
