//! Which way round a day in figures is.

/// Which way round a day is written in figures alone, where somebody said so: nothing in `01/02/2026` tells it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Figures {
    /// Nobody said; such days are refused.
    Unsaid,
    /// `14/05/2026`.
    DayFirst,
    /// `05/14/2026`.
    MonthFirst,
}
