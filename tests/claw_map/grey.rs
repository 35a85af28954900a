//! Meaning survives grey: two states of the map that differ in paint differ in a character too, and those that mean different
//! things differ.

use super::animals::{found, ghost, zone};
use crushbook::claw_map::marks::{ClawMark, Due, FootMark, FootState, LeftOn, Marks, Time, Weight, ZoneMark};
use crushbook::claw_map::mask::Size;
use crushbook::claw_map::picture::{FootPicture, View};
use crushbook::claw_map::sketch::{Paint, Sketch};
use crushbook::domain::anatomy::{Foot, Place, Side};
use crushbook::domain::case::Change;
use std::collections::BTreeMap;

const LH: Foot = Foot::LeftHind;
/// The drawings that have room for a code; the smallest shows one sign, and words stand beside it.
const SIZES: [Size; 6] = [Size::S60, Size::S80, Size::S, Size::L, Size::M, Size::XL];
const WEIGHTS: [Weight; 4] = [Weight::Untold, Weight::Light, Weight::Moderate, Weight::Severe];
const DUES: [Due; 4] = [Due::Coming, Due::Due, Due::Late, Due::Urgent];

/// The foot as it is seen without any colour.
fn grey(size: Size, marks: &Marks) -> String {
    let sketch = Sketch::of(&FootPicture::of(size, LH, View::ToeDown), marks);
    let letter = |col, row| sketch.cell(col, row).map_or(' ', |cell| cell.text.unwrap_or(cell.outline));
    let row = |row| (0..sketch.area().cols).map(|col| letter(col, row)).collect::<String>() + "\n";
    (0..sketch.area().rows).map(row).collect()
}

/// What each cell of it means.
fn paints(size: Size, marks: &Marks) -> Vec<Option<Paint>> {
    let sketch = Sketch::of(&FootPicture::of(size, LH, View::ToeDown), marks);
    sketch.area().cells().map(|(col, row)| sketch.cell(col, row).map(|cell| cell.paint)).collect()
}

/// Fails where two of these differ at any size, and only in their colours; at the sizes of a foot in hand they must differ.
fn all_differ(states: &[(String, Marks)]) {
    for size in SIZES {
        let mut seen: BTreeMap<String, (&str, Vec<Option<Paint>>)> = BTreeMap::new();
        for (name, marks) in states {
            let (shown, paints) = (grey(size, marks), paints(size, marks));
            let Some((other, painted)) = seen.insert(shown.clone(), (name, paints.clone())) else { continue };
            let alike = painted == paints && !size.is_large();
            assert!(alike, "{size:?}: {name} looks like {other} without colour\n{shown}");
        }
    }
}

fn one(mark: ZoneMark) -> Marks {
    Marks { zones: vec![mark], ..Marks::default() }
}

/// Every way in which a finding can stand at a place.
fn findings(place: Place, code: &str) -> Vec<(String, Marks)> {
    let mut states = vec![
        ("nothing".to_owned(), Marks::default()),
        ("under the cursor".to_owned(), Marks { cursor: Some(place), ..Marks::default() }),
        ("last time's".to_owned(), one(ghost(place, code))),
    ];
    for weight in WEIGHTS {
        let today = found(place, code, weight);
        states.push((format!("{weight:?}"), one(today.clone())));
        states.push((format!("{weight:?}, one more"), one(ZoneMark { more: 1, ..today.clone() })));
        states.push((format!("{weight:?}, last time's waits"), one(ZoneMark { time: Time::Both, ..today.clone() })));
    }
    for change in [Change::New, Change::Healed, Change::Better, Change::Worse, Change::Same] {
        let mark = ZoneMark { change: Some(change), ..found(place, code, Weight::Moderate) };
        states.push((format!("{change:?}"), one(mark)));
    }
    states
}

#[test]
fn every_finding_is_told_from_every_other() {
    all_differ(&findings(zone(LH, Side::Outer, 5), "TS"));
    all_differ(&findings(zone(LH, Side::Outer, 4), "SU"));
}

#[test]
fn the_stages_of_dermatitis_are_told_apart() {
    let heel = zone(LH, Side::Outer, 10);
    let stages = ["M1", "M2", "M3", "M4", "M4.1"];
    all_differ(&stages.map(|stage| (stage.to_owned(), one(found(heel, stage, Weight::Moderate)))));
}

#[test]
fn how_far_a_foot_is_is_told_in_characters() {
    let states = [
        FootState::NotLookedAt,
        FootState::NotTold,
        FootState::NothingFound,
        FootState::Done(1),
        FootState::Begun(1),
        FootState::InHand(1),
    ];
    let marks = states.map(|state| {
        let mut marks = Marks::default();
        *marks.foot_mut(LH) = FootMark { state, ..FootMark::default() };
        (format!("{state:?}"), marks)
    });
    all_differ(&marks);
}

#[test]
fn what_is_on_says_in_characters_how_near_its_day_is() {
    let on = |due| Some(LeftOn { days: Some(14), due });
    let mut states = vec![("nothing on".to_owned(), Marks::default())];
    for due in DUES {
        let mut wrapped = Marks::default();
        *wrapped.foot_mut(LH) = FootMark { wrap: on(due), ..FootMark::default() };
        let mut blocked = Marks::default();
        *blocked.claw_mut(LH, Side::Inner) = ClawMark { block: on(due), gone: false };
        states.extend([(format!("wrap {due:?}"), wrapped), (format!("block {due:?}"), blocked)]);
    }
    let mut gone = Marks::default();
    gone.claw_mut(LH, Side::Inner).gone = true;
    states.push(("claw gone".to_owned(), gone));
    all_differ(&states);
}
