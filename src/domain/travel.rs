//! What must be said aloud before an animal is sold or goes to slaughter. Whether she is fit to travel is for the vet.

use super::history::History;
use super::history::open::OpenItem;
use super::treatment::Gait;
use super::withdrawal::{after, stated, uses};
use chrono::NaiveDate;

/// One thing to say.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Caution {
    /// Her last score was very lame.
    VeryLame(Gait),
    /// The stated days for meat have not passed: the last day of them.
    Meat(NaiveDate),
}

/// What is to be said of her on a day. Days for meat are those that label or vet stated, counted from the last use; of a
/// medicine nobody stated days for, nothing is invented.
pub fn cautions(history: &History, today: NaiveDate) -> Vec<Caution> {
    let lame = history.open.iter().find_map(|item| match item {
        OpenItem::Lame { gait, severe_since: Some(_), .. } => Some(Caution::VeryLame(*gait)),
        OpenItem::Lame { .. }
        | OpenItem::On { .. }
        | OpenItem::LookSoon { .. }
        | OpenItem::Recheck { .. }
        | OpenItem::SetByHand { .. }
        | OpenItem::Withheld { .. }
        | OpenItem::Vet { .. } => None,
    });
    let until = uses(history).filter_map(|one| after(one.last, stated(history, &one)?.meat_days?));
    let meat = until.max().filter(|day| *day >= today).map(Caution::Meat);
    lame.into_iter().chain(meat).collect()
}
