//! What is known about backups while the screens are open. They are made beside the keys, never before one.

use crate::domain::backup::{Lag, Made};

/// How it stands with the backups of the book in hand.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Keeping {
    /// Whether the practice names a folder for them.
    pub named: bool,
    /// The last good one.
    pub last: Option<Made>,
    /// What is to be said because it is too old.
    pub lag: Option<Lag>,
    /// Whether one is being made.
    pub under_way: bool,
    /// Why the last that was tried came to nothing; empty: it did not.
    pub trouble: String,
}
