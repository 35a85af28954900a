//! The totals of a day or a visit at a farm, a line each.

use crate::domain::totals::Totals;
use crate::report::words::Words;

/// Each count with its name in the words of the region.
pub fn rows(totals: &Totals, words: Words) -> Vec<(String, usize)> {
    let name = |name: &'static str| if name == "wraps" { words.fill("{wrap}s") } else { name.to_owned() };
    totals.rows().map(|(row, count)| (name(row), count)).into()
}

/// The lines, each count at the right of its column.
pub fn lines(totals: &Totals, words: Words) -> Vec<String> {
    rows(totals, words).into_iter().map(|(name, count)| format!("{name:<14}{count:>6}")).collect()
}
