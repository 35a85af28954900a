//! The totals of a day at a farm, a line each.

use crate::domain::totals::Totals;
use crate::report::words::Words;

/// The lines, each count at the right of its column.
pub fn lines(totals: &Totals, words: Words) -> Vec<String> {
    let name = |name: &'static str| if name == "wraps" { words.fill("{wrap}s") } else { name.to_owned() };
    totals.rows().map(|(row, count)| format!("{:<14}{count:>6}", name(row))).into()
}
