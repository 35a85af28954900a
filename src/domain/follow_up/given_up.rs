//! A farm given up: what is on an animal there stays on every list until it was seen off, and so does what is the vet's. Looks at findings
//! are for whoever trims there now.

use crate::domain::history::open::{Open, OpenItem};
use crate::domain::ids::FarmId;
use std::collections::BTreeSet;

/// Leaves out what nobody is asked about on farms that were given up.
pub fn without_routine(open: &mut Vec<Open>, given_up: &BTreeSet<FarmId>) {
    for of in open.iter_mut().filter(|of| given_up.contains(&of.farm)) {
        of.items.retain(|item| match item {
            OpenItem::On { .. } | OpenItem::Withheld { .. } | OpenItem::Vet { .. } => true,
            OpenItem::LookSoon { .. }
            | OpenItem::Recheck { .. }
            | OpenItem::SetByHand { .. }
            | OpenItem::Lame { .. } => false,
        });
    }
    open.retain(|of| !of.items.is_empty());
}
