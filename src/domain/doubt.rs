//! What is seen on a foot and does not fit the book: the number may be another animal's. Two swapped in the race and digits
//! transposed are common ways of records to fail (common practice).

use super::event::Item;
use super::follow_up::rules::Rules;
use super::follow_up::{Urgency, due};
use super::history::open::{Knowing, Open, OpenItem};
use super::history::{History, Turn};
use super::ids::PutId;
use super::treatment::Off;
use chrono::NaiveDate;

/// How a foot contradicts the book.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Doubt {
    /// The book says that something is on, its day has not come, nobody told it off, and it is not there.
    NotThere(PutId),
    /// Something is on that the book knows nothing of.
    NotKnown,
}

/// Whether what was just seen makes the number doubtful. Asked once a turn, before anything was seen as the book says.
pub fn of_seen(
    history: &History,
    turn: &Turn,
    (item, outcome): (Item, Off),
    rules: &Rules,
    today: NaiveDate,
) -> Option<Doubt> {
    if !turn.offs.is_empty() || turn.puts.iter().any(|view| !view.by_others.is_empty()) {
        return None;
    }
    match (item, outcome) {
        (Item::Met(_), _) => Some(Doubt::NotKnown),
        (Item::Known(put), Off::AlreadyOff | Off::FellOff | Off::NotFound) => {
            let open = Open::of(history);
            let expected = open.items.iter().any(|item| is_expected(&open, item, put, rules, today));
            expected.then_some(Doubt::NotThere(put))
        }
        (
            Item::Known(_),
            Off::Bare | Off::Ring | Off::TakenOff | Off::Replaced | Off::LeftSound | Off::LeftWorn | Off::LeftOn,
        ) => None,
    }
}

/// Whether this is on by all that is known, and due on a later day only.
fn is_expected(open: &Open, item: &OpenItem, id: PutId, rules: &Rules, today: NaiveDate) -> bool {
    let OpenItem::On { put, knowing, .. } = item else { return false };
    let told = matches!(knowing, Knowing::ToldOff | Knowing::ToldBare);
    *put == id && !told && due(open, item, rules, today).is_some_and(|due| due.urgency == Urgency::Coming)
}
