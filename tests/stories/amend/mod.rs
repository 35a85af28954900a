//! What is set right afterwards.

mod correct;
mod labels;
mod twice;
mod whose;

use super::rig::Rig;
use crate::support::tablet::{Tablet, day};
use chrono::Days;
use crushbook::domain::ids::AnimalId;
use crushbook::domain::treatment::Put;
use crushbook::keys::keymap::BuiltIn;

/// 12 with a wrap round her left hind foot; and 12 once more, begun on another tablet that knew the farm but not her, with a wrap
/// round her right hind foot.
pub fn twice_twelve() -> Rig {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12", "34"]);
    rig.press("1 2 Enter 1 w 3 0 H e l e n Enter 1 Enter Enter");
    let farm = rig.session().farm.as_ref().expect("a farm").id;
    let mut other = Tablet { tick: 500, ..Tablet::new(5) };
    let on = day(1) + Days::new(2);
    let twin = other.animal(on, farm, "12");
    let visit = other.visit(on, farm);
    let turn = other.turn(on, visit, twin);
    let wrap = Put::Wrap {
        over: crushbook::domain::anatomy::Place::Foot(crushbook::domain::anatomy::Foot::RightHind),
        colour: None,
    };
    other.put(on, twin, turn, wrap);
    rig.pass(3);
    rig.take(&other.seen);
    rig
}

/// Everybody who bears a number, in the order of the session.
fn called(rig: &Rig, number: &str) -> Vec<AnimalId> {
    let lines = rig.session().herd.iter().filter(|line| line.labels.number == number);
    lines.map(|line| line.id).collect()
}

/// How many things are on, of everybody.
fn on_all(rig: &Rig) -> usize {
    use crushbook::domain::history::open::OpenItem;
    let items = rig.session().open.iter().flat_map(|open| &open.items);
    items.filter(|item| matches!(item, OpenItem::On { .. })).count()
}
