//! What stands on a foot: fills, ghosts, cursor, blocks, wraps, bars, told by characters as well as by paint.

use super::animals::{busy, found, ghost, zone};
use crushbook::claw_map::marks::{Due, FootState, LeftOn, Marks, Tone, Weight};
use crushbook::claw_map::mask::Size;
use crushbook::claw_map::picture::{FootPicture, View};
use crushbook::claw_map::sketch::{Paint, Sketch};
use crushbook::domain::anatomy::{Foot, Place, Side};
use crushbook::domain::vocabulary::Vocabulary;

const LH: Foot = Foot::LeftHind;
const OUTER: Side = Side::Outer;

fn picture(size: Size) -> FootPicture {
    FootPicture::of(size, LH, View::ToeDown)
}

fn painted(size: Size, marks: &Marks, wanted: impl Fn(Paint) -> bool) -> Vec<(u16, u16)> {
    let sketch = Sketch::of(&picture(size), marks);
    let painted = |(col, row): &(u16, u16)| sketch.cell(*col, *row).is_some_and(|cell| wanted(cell.paint));
    sketch.area().cells().filter(painted).collect()
}

fn owned(size: Size, place: Place) -> usize {
    let picture = picture(size);
    picture.drawing().cells().filter(|(col, row)| picture.owner(*col, *row) == Some(place)).count()
}

fn rows(size: Size, marks: &Marks) -> Vec<String> {
    let sketch = Sketch::of(&picture(size), marks);
    let letter = |col, row| sketch.cell(col, row).and_then(|cell| cell.text).unwrap_or(' ');
    (0..sketch.area().rows).map(|row| (0..sketch.area().cols).map(|col| letter(col, row)).collect()).collect()
}

fn bar(size: Size, marks: &Marks) -> String {
    rows(size, marks).pop().expect("the last row is the bar").trim().to_owned()
}

fn one(mark: crushbook::claw_map::marks::ZoneMark) -> Marks {
    Marks { zones: vec![mark], ..Marks::default() }
}

#[test]
fn heavier_findings_fill_more_of_their_zone() {
    for size in [Size::S60, Size::S80, Size::S, Size::L, Size::M, Size::XL] {
        let place = zone(LH, OUTER, 5);
        let filled =
            |weight| painted(size, &one(found(place, "TU", weight)), |paint| matches!(paint, Paint::Fill(_))).len();
        assert_eq!(filled(Weight::Untold), 2, "{size:?}: the code alone");
        assert_eq!(filled(Weight::Light), 3, "{size:?}: code and sign");
        assert!(filled(Weight::Light) < filled(Weight::Moderate), "{size:?}");
        // In a small drawing the label box may be the whole zone; sign and colour tell severe from moderate then.
        assert!(filled(Weight::Moderate) < filled(Weight::Severe) + usize::from(!size.is_large()), "{size:?}");
        assert_eq!(filled(Weight::Severe), owned(size, place), "{size:?}: the whole zone");
    }
}

#[test]
fn a_ghost_is_never_filled() {
    for size in Size::ALL {
        let marks = one(ghost(zone(LH, OUTER, 4), "SU"));
        assert!(painted(size, &marks, |paint| matches!(paint, Paint::Fill(_))).is_empty(), "{size:?}");
        assert!(!painted(size, &marks, |paint| paint == Paint::Ghost).is_empty(), "{size:?}");
    }
}

#[test]
fn the_cursor_covers_exactly_the_zone_that_a_tap_there_means() {
    for size in Size::ALL {
        let picture = picture(size);
        for place in picture.places() {
            let marks = Marks { cursor: Some(place), ..Marks::default() };
            let sketch = Sketch::of(&picture, &marks);
            for (col, row) in picture.drawing().cells() {
                let paint = sketch.cell(col, row).expect("inside").paint;
                let here = picture.place_at(col, row) == Some(place);
                let bracket = paint == Paint::Bracket;
                assert!(bracket || (paint == Paint::Cursor) == here, "{size:?} {place:?} at {col},{row}");
            }
        }
    }
}

#[test]
fn brackets_stand_round_the_number_or_code_under_the_cursor() {
    let number = Marks { cursor: Some(zone(LH, OUTER, 4)), ..Marks::default() };
    assert!(rows(Size::S80, &number).concat().contains(">4<"));
    let code = Marks { cursor: Some(zone(LH, OUTER, 4)), ..one(found(zone(LH, OUTER, 4), "SU", Weight::Severe)) };
    assert!(rows(Size::L, &code).concat().contains(">SU!<"));
}

#[test]
fn a_cursor_on_a_whole_claw_marks_its_word() {
    let marks = Marks { cursor: Some(Place::Claw(LH, Side::Inner)), ..Marks::default() };
    assert_eq!(painted(Size::S80, &marks, |paint| paint == Paint::Chosen).len(), "inner".len());
}

#[test]
fn a_wrap_is_hatched_round_the_foot_and_hides_no_label() {
    let mut wrapped = busy();
    wrapped.foot_mut(LH).wrap = Some(LeftOn { days: Some(6), due: Due::Late });
    for size in Size::ALL {
        let bare = picture(size);
        let hatched = painted(size, &wrapped, |paint| paint == Paint::Hatch(Tone::Alarm));
        assert!(hatched.iter().all(|(col, row)| bare.owner(*col, *row).is_none()), "{size:?}");
        let before = rows(size, &busy()).concat().replace([' ', '/'], "");
        let after = rows(size, &wrapped).concat().replace([' ', '/'], "");
        let labels =
            |text: &str| text.split('[').next().unwrap_or_default().split("WRAP").next().unwrap_or_default().to_owned();
        assert_eq!(labels(&before).replace("LH", ""), labels(&after).replace("LH", ""), "{size:?}");
    }
}

#[test]
fn a_wrap_says_its_days_in_words() {
    let bar_of = |size, days, due| {
        let mut marks = Marks::default();
        marks.foot_mut(LH).wrap = Some(LeftOn { days, due });
        bar(size, &marks).trim_matches('/').trim().to_owned()
    };
    assert_eq!(bar_of(Size::L, Some(0), Due::Coming), "WRAP TODAY [ ]");
    assert_eq!(bar_of(Size::L, Some(1), Due::Coming), "WRAP 1 DAY [ ]");
    assert_eq!(bar_of(Size::S60, Some(6), Due::Late), "WRAP 6 DAYS! [ ]");
    assert_eq!(bar_of(Size::S80, Some(12), Due::Urgent), "WRAP 12 DAYS!!");
    assert_eq!(bar_of(Size::S80, None, Due::Urgent), "WRAP ON!! [ ]");
    assert_eq!(bar_of(Size::XS, Some(6), Due::Late), "LH WRAP 6d!");
    assert_eq!(bar_of(Size::XS, Some(12), Due::Urgent), "LH W12d!!");
}

#[test]
fn a_bar_says_how_far_the_work_is() {
    let said = |size, state| {
        let mut marks = Marks::default();
        marks.foot_mut(LH).state = state;
        bar(size, &marks)
    };
    let cases = [
        (FootState::NotLookedAt, "[ ] not looked at", "LH [ ]"),
        (FootState::NothingFound, "[=] nothing found", "LH [=]"),
        (FootState::LeftOpen(2), "[?] 2 left open", "LH [?]2"),
        (FootState::Done(1), "[x] done, 1 found", "LH [x]1"),
        (FootState::InHand(5), "[>] in hand, 5", "LH [>]5"),
    ];
    for (state, long, short) in cases {
        assert_eq!((said(Size::S60, state), said(Size::XS, state)), (long.to_owned(), short.to_owned()));
    }
}

#[test]
fn findings_without_zone_stand_beside_the_claw_and_in_the_bar() {
    let claw = one(found(Place::Claw(LH, OUTER), "CC", Weight::Moderate));
    assert!(rows(Size::L, &claw).iter().any(|row| row.starts_with(" CC=")), "beside the outer claw");
    assert!(rows(Size::S80, &claw).iter().any(|row| row.starts_with("CC")), "shorter in a small corner");
    let filled = painted(Size::S60, &claw, |paint| paint == Paint::Fill(Tone::Warn));
    assert_eq!(filled.len(), "outer".len(), "without room, the claw's word is filled");
    let mut foot = one(found(Place::Foot(LH), "AC", Weight::Moderate));
    foot.foot_mut(LH).state = FootState::Done(1);
    assert_eq!(bar(Size::L, &foot), "[x] done, 1 found, AC=");
    assert_eq!(bar(Size::S80, &foot), "[x] 1 found, AC=");
}

#[test]
fn a_block_covers_the_number_five_but_no_finding() {
    let mut marks = Marks::default();
    marks.claw_mut(LH, OUTER).block = Some(LeftOn { days: Some(29), due: Due::Due });
    let text = rows(Size::L, &marks).concat();
    assert!(text.contains("BLOCK") && text.contains("29 d+"), "its day has come");
    assert!(rows(Size::S80, &marks).concat().contains("BLK") && rows(Size::S80, &marks).concat().contains("29+"));
    assert_eq!(text.matches('5').count(), 1, "only the other claw's number is left");
    marks.zones = vec![found(zone(LH, OUTER, 5), "TU", Weight::Severe)];
    for size in [Size::S60, Size::S80, Size::S, Size::L, Size::M, Size::XL] {
        let text = rows(size, &marks).concat();
        assert!(text.contains("TU!") && (text.contains("BLK") || text.contains("BLOCK")), "{size:?}");
    }
}

#[test]
fn a_late_block_has_a_sign() {
    let mut marks = Marks::default();
    marks.claw_mut(LH, OUTER).block = Some(LeftOn { days: Some(57), due: Due::Urgent });
    assert!(rows(Size::S80, &marks).concat().contains("57!"));
    assert!(rows(Size::M, &marks).concat().contains("57 d!!"));
}

#[test]
fn a_claw_that_was_taken_off_has_no_zones() {
    for size in Size::ALL {
        let mut marks = Marks::default();
        marks.claw_mut(LH, OUTER).gone = true;
        let sketch = Sketch::of(&picture(size), &marks);
        for (col, row) in picture(size).drawing().cells() {
            let gone = picture(size).owner(col, row).and_then(Place::side) == Some(OUTER);
            assert_eq!(sketch.cell(col, row).expect("inside").paint == Paint::Gone, gone, "{size:?}");
        }
        let word = if size.is_large() {
            "GONE"
        } else if size.has_numbers() {
            "GO"
        } else {
            "x"
        };
        assert!(rows(size, &marks).concat().contains(word), "{size:?}");
    }
}

#[test]
fn marks_of_one_foot_stay_on_it() {
    for foot in Foot::ALL.iter().filter(|foot| **foot != LH) {
        let marks = Marks { zones: vec![found(zone(*foot, OUTER, 4), "SU", Weight::Severe)], ..Marks::default() };
        assert_eq!(Sketch::of(&picture(Size::L), &marks), Sketch::of(&picture(Size::L), &Marks::default()));
    }
}
