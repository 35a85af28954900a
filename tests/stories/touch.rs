//! Taps: what a first one does, what a second one does, and that there is a key for each.

use super::rig::Rig;
use crate::screens::pads::{SIZES, every_screen};
use crate::screens::world::six_days_later;
use crate::support::tablet::moment;
use crushbook::domain::anatomy::{Foot, Horn, Place, Side};
use crushbook::domain::ids::RecordId;
use crushbook::domain::record::Stamp;
use crushbook::keys::context::Context;
use crushbook::keys::intent::Intent;
use crushbook::keys::keymap::{BuiltIn, Keymap};
use crushbook::screen::View;
use crushbook::screen::theme::Colour;
use crushbook::screen::touch::Targets;
use crushbook::session::Session;
use crushbook::session::act::Ask;
use crushbook::session::decide::{Decision, decide};
use crushbook::session::mode::Mode;
use crushbook::session::touch::{Tapped, Target, tapped};

fn stamp(session: &Session) -> Stamp {
    let next = RecordId { series: 1, seq: 1 };
    Stamp { next, tick: 1, by: None, now: moment(session.today), on: session.today }
}

/// Everything that can be tapped on a session's picture.
fn targets(session: &Session, map: &Keymap, size: (u16, u16)) -> Vec<Target> {
    let view = View { keymap: map, now: moment(session.today), colour: Colour::Full, targets: None };
    Targets::of(session, &view, size).into_iter().map(|(_, target)| target).collect()
}

/// The line that is shown as picked.
fn picked(session: &Session) -> Option<usize> {
    match &session.mode {
        Mode::Today { typed, cursor } => crushbook::session::today::picked(typed, *cursor),
        Mode::Farms { cursor } | Mode::Due { cursor, .. } | Mode::Ring { cursor, .. } => Some(*cursor),
        _ => None,
    }
}

#[test]
fn no_first_tap_anywhere_writes_or_leaves() {
    for map in [BuiltIn::TwoHands, BuiltIn::Keypad] {
        let keymap = map.keymap();
        for session in every_screen() {
            for size in SIZES {
                for target in targets(&session, &keymap, size) {
                    let writes =
                        matches!(tapped(&session, target, &stamp(&session)), Tapped::Does(Decision::Record(_, _)));
                    let selected = matches!(target, Target::Line(index) if Some(index) == picked(&session));
                    assert!(!writes || selected, "{target:?} in {:?}", session.mode);
                    if target == Target::Wish(Intent::Leave) {
                        assert_eq!(tapped(&session, target, &stamp(&session)), Tapped::Selects);
                    }
                }
            }
        }
    }
}

#[test]
fn a_second_tap_does_what_the_key_does() {
    let keymap = BuiltIn::TwoHands.keymap();
    for mut session in every_screen() {
        for target in targets(&session, &keymap, (80, 24)) {
            let Target::Wish(intent) = target else { continue };
            session.selected = Some(target);
            let stamp = stamp(&session);
            assert_eq!(tapped(&session, target, &stamp), Tapped::Does(decide(&session, intent, &stamp)));
        }
    }
}

#[test]
fn whatever_a_tap_does_has_a_key() {
    for map in [BuiltIn::TwoHands, BuiltIn::Keypad] {
        let keymap = map.keymap();
        for session in every_screen() {
            let context = session.mode.context();
            let has = |intent| !keymap.keys_for(context, intent).is_empty();
            for target in SIZES.into_iter().flat_map(|size| targets(&session, &keymap, size)) {
                let reached = match target {
                    Target::Wish(intent) => has(intent),
                    Target::Begin(_) => true,
                    Target::Line(_) => has(Intent::Up) && has(Intent::Down) && has(Intent::GoOn),
                    Target::Place(place) => on_the_map(&keymap, place),
                };
                assert!(reached, "{map:?}: {target:?} in {:?}", session.mode);
            }
        }
    }
}

/// Keys for a place of the map: a foot is lifted with none up and with another up; a zone and a claw with it in the hand.
fn on_the_map(keymap: &Keymap, place: Place) -> bool {
    let has = |context, intent| !keymap.keys_for(context, intent).is_empty();
    let lift = match place.foot() {
        Some(Foot::LeftFront) => Intent::LiftLf,
        Some(Foot::RightFront) => Intent::LiftRf,
        Some(Foot::LeftHind) => Intent::LiftLh,
        Some(Foot::RightHind) => Intent::LiftRh,
        None => return false,
    };
    let zone = place.zone().is_none_or(|zone| has(Context::Foot, Intent::Zone(zone.number())));
    let claws = has(Context::Foot, Intent::ClawLeft) && has(Context::Foot, Intent::ClawRight);
    has(Context::Animal, lift) && has(Context::Foot, lift) && zone && claws
}

/// Taps where a target is drawn at 80 by 24.
pub fn tap(rig: &mut Rig, target: Target) {
    let keymap = BuiltIn::TwoHands.keymap();
    let session = rig.session();
    let view = View { keymap: &keymap, now: moment(session.today), colour: Colour::Full, targets: None };
    let drawn = Targets::of(session, &view, (80, 24));
    let area = drawn.iter().find(|(_, of)| *of == target).map(|(area, _)| *area);
    let area = area.unwrap_or_else(|| panic!("{target:?} is drawn among {drawn:?}"));
    rig.tap(area.x + area.width / 2, area.y + area.height / 2);
}

#[test]
fn a_turn_by_taps_alone() {
    let mut rig = six_days_later(BuiltIn::TwoHands);
    rig.press("k");
    // The second line of Today is animal 7: the first tap picks her, the second opens her.
    tap(&mut rig, Target::Line(1));
    assert!(matches!(rig.mode(), Mode::Today { cursor: 2, .. }), "{:?}", rig.mode());
    tap(&mut rig, Target::Line(1));
    assert_eq!(rig.history().labels.number, "7");
    // A foot, a zone, its first finding, tapped twice, and its grade.
    tap(&mut rig, Target::Place(Place::Foot(Foot::LeftHind)));
    tap(&mut rig, Target::Place(Place::Horn(Foot::LeftHind, Side::Outer, Horn::SoleBulb)));
    let before = rig.records();
    tap(&mut rig, Target::Wish(Intent::Pick(1)));
    assert_eq!((rig.records(), rig.session().selected), (before, Some(Target::Wish(Intent::Pick(1)))));
    tap(&mut rig, Target::Wish(Intent::Pick(1)));
    assert_eq!(rig.records(), before + 1);
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::About(_), .. }), "{:?}", rig.mode());
    for _ in 0..2 {
        tap(&mut rig, Target::Wish(Intent::Pick(3)));
    }
    assert_eq!(rig.records(), before + 2);
    // The foot is done, she is signed off, and Today is back: each is a second tap.
    for _ in 0..2 {
        tap(&mut rig, Target::Wish(Intent::GoOn));
    }
    assert!(matches!(rig.mode(), Mode::Crush(hand) if hand.foot.is_none()), "{:?}", rig.mode());
    for _ in 0..2 {
        tap(&mut rig, Target::Wish(Intent::GoOn));
    }
    assert!(matches!(rig.mode(), Mode::Today { .. }), "{:?}", rig.mode());
}

#[test]
fn a_tap_selects_only_until_something_else_is_pressed() {
    let mut rig = six_days_later(BuiltIn::TwoHands);
    rig.press("k 1 3 8 2 Enter 7 4");
    let before = rig.records();
    tap(&mut rig, Target::Wish(Intent::Pick(1)));
    // A key, then a tap beside everything: neither writes, and the next tap is a first one again.
    rig.press("h h");
    tap(&mut rig, Target::Wish(Intent::Pick(1)));
    tap(&mut rig, Target::Wish(Intent::Pick(2)));
    rig.tap(79, 0);
    assert_eq!(rig.records(), before);
    tap(&mut rig, Target::Wish(Intent::Pick(2)));
    assert_eq!(rig.records(), before + 1);
}

#[test]
fn lines_are_picked_then_opened_on_every_list() {
    let mut rig = six_days_later(BuiltIn::TwoHands);
    rig.press("k v");
    tap(&mut rig, Target::Line(1));
    assert!(matches!(rig.mode(), Mode::Farms { cursor: 1 }), "the new farm is picked");
    tap(&mut rig, Target::Line(0));
    tap(&mut rig, Target::Line(0));
    assert!(matches!(rig.mode(), Mode::Today { .. }), "{:?}", rig.mode());
    rig.press("d");
    tap(&mut rig, Target::Line(2));
    assert!(matches!(rig.mode(), Mode::Due { cursor: 2, .. }));
    tap(&mut rig, Target::Line(2));
    assert!(matches!(rig.mode(), Mode::Today { typed, .. } if typed == "1382"), "{:?}", rig.mode());
    rig.press("t");
    tap(&mut rig, Target::Line(0));
    assert!(matches!(rig.mode(), Mode::Text { .. }), "who answers: {:?}", rig.mode());
}

#[test]
fn with_taps_off_a_tap_does_nothing() {
    let mut rig = six_days_later(BuiltIn::TwoHands);
    tap(&mut rig, Target::Line(1));
    assert!(matches!(rig.mode(), Mode::Today { cursor: 0, .. }), "{:?}", rig.mode());
}
