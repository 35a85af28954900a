//! Milk and meat withheld after a medicine, as somebody stated.

use super::super::History;
use super::super::open::OpenItem;
use crate::domain::anatomy::Place;
use crate::domain::treatment::Put;
use crate::domain::withdrawal::{Use, stated, uses};

/// The open items of all uses. A use whose stated days were over when she was last seen or spoken of is done with: its own
/// record says so.
pub(super) fn items(history: &History) -> Vec<OpenItem> {
    let turns = history.turns.iter().map(|turn| turn.on);
    let newest = turns.chain(history.outside.iter().map(|told| told.on)).max();
    let over = |item: &OpenItem| {
        let OpenItem::Withheld { used, stated, counts: true, .. } = item else { return false };
        stated.ends(*used).is_none_or(|end| end == *used || newest.is_some_and(|newest| newest > end))
    };
    uses(history).filter_map(|one| item(history, &one)).filter(|item| !over(item)).collect()
}

/// A use that days were stated for. Under a wrap the label's do not count.
fn item(history: &History, one: &Use) -> Option<OpenItem> {
    let stated = stated(history, one)?;
    let counts = stated.is_vets() || !one.is_wrapped();
    let place = one.dressing().map_or(Place::Animal, Put::place);
    Some(OpenItem::Withheld { of: one.of, place, used: one.last, stated, counts })
}
