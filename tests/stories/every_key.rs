//! No key is a dead end: what the table of intents says a key means, it does in at least one of these places.

use super::rig::Rig;
use crate::screens::world::six_days_later;
use crate::support::tablet::moment;
use crushbook::domain::ids::RecordId;
use crushbook::domain::record::Stamp;
use crushbook::keys::context::Context;
use crushbook::keys::keymap::BuiltIn;
use crushbook::keys::table::TABLE;
use crushbook::session::Refusal;
use crushbook::session::decide::{Decision, decide};

/// Places that a hand can be in, by the keys that lead there.
const PLACES: [&str; 21] = [
    "",
    "1 3",
    "Down",
    "v",
    "f 9",
    "d",
    "t",
    "s",
    "p",
    "h",
    "1 3 8 2 Enter",
    "1 3 8 2 Enter l",
    "1 3 8 2 Enter d",
    "1 3 8 2 Enter 7",
    "1 3 8 2 Enter 7 2",
    "1 3 8 2 Enter 7 2 1",
    "1 3 8 2 Enter 3",
    "1 3 8 2 Enter 3 2 1",
    "1 3 8 2 Enter 7 n s o",
    "1 3 8 2 Enter Enter",
    "1 3 8 2 Enter 7 2 1 1 u",
];

#[test]
fn every_intent_does_something_where_it_is_meant() {
    let rigs: Vec<Rig> = PLACES
        .iter()
        .map(|keys| {
            let mut rig = six_days_later(BuiltIn::TwoHands);
            rig.press(keys);
            rig
        })
        .collect();
    let mut dead = Vec::new();
    for row in TABLE {
        for context in row.meant {
            let does = |rig: &Rig| {
                let session = rig.session();
                let stamp = Stamp {
                    next: RecordId { series: 99, seq: 1 },
                    tick: 999,
                    by: None,
                    now: moment(session.today),
                    on: session.today,
                };
                !matches!(decide(session, row.intent, &stamp), Decision::Refuse(Refusal::NotHere))
            };
            let here: Vec<&Rig> = rigs.iter().filter(|rig| rig.mode().context() == *context).collect();
            assert!(!here.is_empty(), "a place in {context:?}");
            // Letters go into a text; what is not text is looked at here all the same.
            if !here.into_iter().any(does) {
                dead.push(format!("{} in {}", row.name, context.name()));
            }
        }
    }
    assert_eq!(dead, Vec::<String>::new());
    assert_eq!(Context::ALL.len(), 9, "a place for each");
}
