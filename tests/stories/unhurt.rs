//! Nothing hurts: a key pressed twice writes nothing twice, a key held down writes once, what takes away asks another key, and
//! every write says what it wrote.

use super::rig::Rig;
use super::walk::{World, worlds};
use crate::screens::world::screen;
use crate::support::tablet::moment;
use crushbook::domain::event::Event;
use crushbook::domain::ids::RecordId;
use crushbook::domain::record::{Record, Stamp};
use crushbook::keys::intent::Intent;
use crushbook::keys::key::Key;
use crushbook::keys::keymap::BuiltIn;
use crushbook::run::desk::Flow;
use crushbook::session::Session;
use crushbook::session::decide::{Decision, Next, decide};
use crushbook::session::mode::Mode;

const MAP: BuiltIn = BuiltIn::TwoHands;

/// Every intent that means something here, with its keys.
fn intents(rig: &Rig) -> Vec<(String, Intent)> {
    let map = MAP.keymap();
    let written = |keys: &[Key]| keys.iter().map(Key::to_string).collect::<Vec<_>>().join(" ");
    map.bindings(rig.mode().context()).map(|(keys, intent)| (written(keys), intent)).collect()
}

fn stamp(session: &Session, seq: u64) -> Stamp {
    Stamp {
        next: RecordId { series: 99, seq },
        tick: 9_000 + seq,
        by: None,
        now: moment(session.today),
        on: session.today,
    }
}

/// Whether a key is for one more step each time it is pressed.
fn is_a_step(intent: Intent) -> bool {
    matches!(intent, Intent::Undo | Intent::Redo)
}

fn for_each_place(mut what: impl FnMut(&World, &str)) {
    for world in worlds() {
        for (way, _) in world.ways() {
            what(&world, way);
        }
    }
}

fn events(press: &[Record]) -> Vec<(RecordId, &Event)> {
    press.iter().filter_map(|record| Some((record.about, record.event()?))).collect()
}

#[test]
fn the_same_wish_in_the_same_state_writes_nothing_new() {
    let mut wrong = Vec::new();
    let mut asked = 0;
    for_each_place(|world, way| {
        let rig = world.at(way);
        for (keys, intent) in intents(&rig).into_iter().filter(|(_, intent)| !is_a_step(*intent)) {
            let first = rig.session();
            // What brings another animal or lets her go is pressed below, through the whole program.
            let Decision::Record(press, Next::Stay | Next::Mode(_) | Next::Foot(_) | Next::Put(_, _)) =
                decide(first, intent, &stamp(first, 1))
            else {
                continue;
            };
            asked += 1;
            let mut second = first.clone();
            second.apply(&press, moment(first.today));
            // The hands are where they were: the worst case, whatever the first press led to.
            second.mode = first.mode.clone();
            if let Decision::Record(again, _) = decide(&second, intent, &stamp(first, 50)) {
                wrong.push(format!("{way}, {keys} twice: {:?} and {:?}", events(&press), events(&again)));
            }
        }
    });
    assert_eq!(wrong, Vec::<String>::new());
    assert!(asked > 200, "{asked} presses write something");
}

#[test]
fn any_key_twice_writes_the_same_fact_once() {
    let mut wrong = Vec::new();
    for_each_place(|world, way| {
        for (keys, _) in intents(&world.at(way)).into_iter().filter(|(_, intent)| !is_a_step(*intent)) {
            let mut rig = world.at(way);
            let before = rig.session().trail.len();
            let facts = |rig: &Rig, from: usize| {
                let new = rig.session().trail.iter().skip(from);
                new.map(|press| {
                    events(&press.records).into_iter().map(|(about, event)| (about, event.clone())).collect()
                })
                .collect::<Vec<Vec<(RecordId, Event)>>>()
            };
            if rig.press(&keys) == Flow::On {
                let (first, now) = (facts(&rig, before), rig.session().trail.len());
                rig.press(&keys);
                let second = facts(&rig, now);
                if second.iter().any(|press| first.contains(press)) {
                    wrong.push(format!("{way}, {keys} twice: {second:?}"));
                }
            }
        }
    });
    assert_eq!(wrong, Vec::<String>::new());
}
