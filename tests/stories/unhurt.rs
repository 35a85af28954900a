//! Nothing hurts: a key pressed twice writes nothing twice, a key held down writes once, what takes away asks another key, and
//! every write says what it wrote.

use super::rig::Rig;
use super::walk::{World, worlds};
use crate::screens::world::{buffer, screen, text};
use crate::support::tablet::moment;
use crushbook::domain::event::{Event, Item};
use crushbook::domain::ids::RecordId;
use crushbook::domain::record::{Record, Stamp};
use crushbook::domain::treatment::Off;
use crushbook::keys::context::Context;
use crushbook::keys::intent::Intent;
use crushbook::keys::key::Key;
use crushbook::keys::keymap::BuiltIn;
use crushbook::keys::table::TABLE;
use crushbook::run::desk::Flow;
use crushbook::screen::theme::Colour;
use crushbook::session::decide::{Decision, Next, decide};
use crushbook::session::mode::Mode;
use crushbook::session::{Session, choices};
use std::collections::BTreeSet;

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

/// Whether a wish writes something here.
fn writes(rig: &Rig, intent: Intent) -> bool {
    matches!(decide(rig.session(), intent, &stamp(rig.session(), 1)), Decision::Record(_, _))
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
    assert!(asked > 90, "{asked} presses write something");
}

#[test]
fn any_key_twice_writes_the_same_fact_once() {
    let mut wrong = Vec::new();
    for_each_place(|world, way| {
        let here = world.at(way);
        let wishes = intents(&here).into_iter().filter(|(_, intent)| !is_a_step(*intent) && writes(&here, *intent));
        for (keys, _) in wishes {
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

/// What takes something away, or says that it is another's: each asks, and another key than the one that asked answers.
fn takes_away(session: &Session, event: &Event) -> Option<&'static str> {
    let on = |item: &Item| match item {
        Item::Known(put) => choices::on(session, *put).is_some(),
        Item::Met(_) => false,
    };
    match event {
        Event::SeenOff {
            item,
            outcome: Off::Bare | Off::Ring | Off::AlreadyOff | Off::TakenOff | Off::FellOff,
            ..
        } if on(item) => Some("taken off"),
        Event::Left { .. } => Some("left"),
        Event::Joined { .. } => Some("joined"),
        Event::Parted { .. } => Some("parted"),
        Event::TurnMoved { .. } => Some("moved"),
        Event::Undone { .. } => Some("undone"),
        _ => None,
    }
}

#[test]
fn what_takes_away_needs_a_second_and_different_key() {
    let mut wrong = Vec::new();
    let mut seen = BTreeSet::new();
    for_each_place(|world, way| {
        let rig = world.at(way);
        let last = way.split_whitespace().last().unwrap_or_default();
        // Undo of a press just made is the cure; past a sign-off it is the harm.
        let cures = rig.session().crush.is_some() || !matches!(rig.mode(), Mode::Pad { .. });
        for (keys, intent) in intents(&rig) {
            if is_a_step(intent) && cures {
                continue;
            }
            if !writes(&rig, intent) {
                continue;
            }
            let mut pressed = world.at(way);
            let before = pressed.session().clone();
            let trail = before.trail.len();
            pressed.press(&keys);
            let new: Vec<Record> =
                pressed.session().trail.iter().skip(trail).flat_map(|press| press.records.clone()).collect();
            for what in new.iter().filter_map(|record| takes_away(&before, record.event()?)) {
                seen.insert(what);
                let asked = matches!(before.mode, Mode::Pad { .. } | Mode::Text { .. }) || before.is_moving();
                if !asked || keys == last {
                    wrong.push(format!("{what}: {way}, then {keys}"));
                }
            }
        }
    });
    assert_eq!(wrong, Vec::<String>::new());
    assert!(["taken off", "left", "joined", "moved"].iter().all(|what| seen.contains(what)), "{seen:?}");
    // No key restores a backup: that is a command, which asks for a typed word.
    assert!(TABLE.iter().all(|row| !row.name.contains("restore")));
}

#[test]
fn undo_past_a_sign_off_asks_another_key() {
    let [world, ..] = worlds();
    let mut rig = world.at("7 Enter 5 Enter");
    let before = rig.held();
    rig.press("u u u");
    assert_eq!(rig.held(), before, "{:?}", rig.mode());
    assert!(rig.session().crush.is_none());
    rig.press("1");
    assert_eq!(rig.held(), before + 1);
    assert!(rig.session().crush.is_some(), "she is in the crush again");
}

#[test]
fn a_key_held_down_writes_once_and_a_held_undo_undoes_once() {
    // As measured: 400 and 25 ms, 660 and 40; a bare console from memory.
    for (delay, every) in [(400, 25), (660, 40), (250, 92)] {
        for (way, key) in
            [("1 3 8 2 Enter 7 2", "1"), ("1 3 8 2 Enter", "5"), ("1 3 8 2 Enter 7 + ", "2"), ("@ 2 4 4 Enter", "1")]
        {
            let [world, ..] = worlds();
            let mut rig = world.at(way);
            let before = rig.session().trail.len();
            rig.hold(key, delay, every);
            assert_eq!(rig.session().trail.len(), before + 1, "{way} {key} {delay}/{every}");
            let last = |rig: &Rig| screen(rig, MAP, (120, 40)).lines().last().map(str::to_owned).unwrap_or_default();
            assert!(last(&rig).contains(&format!("2nd {key} ignored")), "{}", last(&rig));
            for undo in ["u", "/"] {
                let standing = |rig: &Rig| rig.session().trail.iter().filter(|press| press.undone_by.is_none()).count();
                if matches!(rig.mode(), Mode::Today { typed, .. } if !typed.is_empty()) {
                    rig.press("Backspace Backspace");
                }
                let (before, held) = (standing(&rig), rig.held());
                rig.hold(undo, delay, every);
                assert!(standing(&rig) + 1 >= before, "{way} {undo} {delay}/{every}");
                assert!(rig.held() <= held + 2, "one undo, about each of its subjects");
            }
        }
    }
}

#[test]
fn every_write_says_what_and_when_and_undo_says_what_it_took() {
    let mut wrong = Vec::new();
    let mut said = 0;
    for_each_place(|world, way| {
        let rig = world.at(way);
        let last = |rig: &Rig| {
            text(&buffer(rig.session(), MAP, Colour::Full, (200, 60)))
                .lines()
                .last()
                .map_or(String::new(), str::to_owned)
        };
        for (keys, intent) in intents(&rig).into_iter().filter(|(_, intent)| !is_a_step(*intent)) {
            if !writes(&rig, intent) {
                continue;
            }
            let mut rig = world.at(way);
            let before = rig.held();
            if rig.press(&keys) == Flow::Leave || rig.held() == before {
                continue;
            }
            said += 1;
            let line = last(&rig);
            let words = line.split("saved 09:30:00").nth(1).unwrap_or_default();
            let named = line.split("saved").next().unwrap_or_default().len() > 3;
            if !line.contains("saved 09:30:00") || (words.trim().len() < 3 && !named) {
                wrong.push(format!("{way}, {keys}:{line}"));
            }
            if rig.mode().context() == Context::Text {
                continue;
            }
            while matches!(rig.mode(), Mode::Today { typed, .. } if !typed.is_empty()) {
                rig.press("Backspace");
            }
            let before = rig.held();
            rig.press("u");
            if rig.held() > before {
                let line = last(&rig);
                let back = line.split("taken back: ").nth(1).unwrap_or_default();
                if back.split("  ").next().unwrap_or_default().trim().len() < 3 {
                    wrong.push(format!("{way}, {keys}, undo:{line}"));
                }
            }
        }
    });
    assert_eq!(wrong, Vec::<String>::new());
    assert!(said > 150, "{said} writes");
}

#[test]
fn a_saved_line_names_foot_place_finding_and_whom() {
    let table = [
        ("1 3 8 2 Enter 7 4 1", "3", "LF inner 4 sole ulcer severe", "LF inner 4 severe"),
        (
            "1 3 8 2 Enter 7 + 2",
            "3",
            "LF wrap, off by MON 11 May evening milking",
            "LF off by MON 11 May evening milking",
        ),
        ("1 3 8 2 Enter 1 3 4", "1", "LH outer 4 sole ulcer: healed", "LH outer 4 last time's mark: healed"),
        ("1 3 8 2 Enter 3", "1", "RH heel 10 blue wrap: all off, seen bare", "RH heel 10 all off, seen bare"),
        ("1 3 8 2 Enter g", "2", "gait 2 on 0-3", "gait 2 on 0-3"),
        ("1 3 8 2 x", "2", "1382 sold", "1382 sold"),
        ("1 3 8 2 x", "5", "1382 dried off", "1382 dried off"),
        ("d -", "2", "1382 RH heel 10 blue wrap said to be off", "1382 RH heel 10 blue wrap said to be off"),
        (
            "@ 2 4 4 Enter",
            "1",
            "44 now number 44, electronic no. 964000000123456",
            "44 now number 44, electronic no. 964000000123456",
        ),
    ];
    let [world, ..] = worlds();
    for (way, key, saved, back) in table {
        let mut rig = world.at(way);
        let last =
            |rig: &Rig| text(&buffer(rig.session(), MAP, Colour::Full, (200, 60))).lines().last().map(str::to_owned);
        rig.press(key);
        let line = last(&rig).unwrap_or_default();
        assert!(line.contains(&format!("saved 09:30:00 {saved} ")), "{way} {key}: {line}");
        while matches!(rig.mode(), Mode::Today { typed, .. } if !typed.is_empty()) {
            rig.press("Backspace");
        }
        rig.press("u");
        let line = last(&rig).unwrap_or_default();
        assert!(line.contains(&format!("saved 09:30:00 taken back: {back} ")), "{way} {key}: {line}");
    }
}

#[test]
fn num_lock_off_is_said() {
    let [world, ..] = worlds();
    let mut rig = world.at("1 3 8 2 Enter");
    rig.press("End Home PageDown");
    assert!(screen(&rig, MAP, (60, 20)).contains("NumLock looks off"), "{}", screen(&rig, MAP, (60, 20)));
}
