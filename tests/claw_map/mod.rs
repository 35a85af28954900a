//! The map: drawings, mirror images, labels, hit test.

use crushbook::claw_map::layout::Layout;
use crushbook::claw_map::marks::{ClawMark, Due, LeftOn, Marks, Time, Weight, ZoneMark};
use crushbook::claw_map::mask::{Mask, Size};
use crushbook::claw_map::picture::{FootPicture, View};
use crushbook::claw_map::sketch::{Paint, Sketch};
use crushbook::domain::anatomy::{Foot, Place, Side, Zone};
use crushbook::domain::vocabulary::Vocabulary;
use std::collections::BTreeSet;

fn pictures() -> impl Iterator<Item = FootPicture> {
    Size::ALL.into_iter().flat_map(|size| {
        Foot::ALL
            .iter()
            .flat_map(move |foot| [View::ToeDown, View::ToeUp].map(|view| FootPicture::of(size, *foot, view)))
    })
}

fn mark(place: Place, code: &str, weight: Weight) -> ZoneMark {
    ZoneMark { place, code: code.to_owned(), group: code.to_owned(), weight, staged: false, time: Time::Today, more: 0 }
}

fn text(sketch: &Sketch) -> String {
    let rows = (0..sketch.area().rows).map(|row| {
        let cells = (0..sketch.area().cols).filter_map(|col| sketch.cell(col, row));
        cells.map(|cell| cell.text.unwrap_or(' ')).collect::<String>()
    });
    rows.collect::<Vec<_>>().join("\n")
}

#[test]
fn every_drawing_is_sound_and_every_foot_shows_all_its_zones() {
    for size in Size::ALL {
        let (file, drawing) = size.drawing();
        Mask::parse(file, drawing).unwrap_or_else(|error| panic!("{error}"));
    }
    for picture in pictures() {
        let seen: BTreeSet<Place> =
            picture.drawing().cells().filter_map(|(col, row)| picture.owner(col, row)).collect();
        // Two claws of ten horn zones, three zones of skin.
        assert_eq!(seen.len(), 23, "{:?}", picture.size);
        assert_eq!(seen, picture.places().collect());
    }
}

#[test]
fn outer_claws_stand_outside_and_left_feet_left_in_both_views() {
    for picture in pictures() {
        let claw = Place::Claw(picture.foot, Side::Outer);
        let centre = |side: Side| {
            let own = |place: Place| place.side() == Some(side);
            let cells: Vec<u16> = picture
                .drawing()
                .cells()
                .filter(|(col, row)| picture.owner(*col, *row).is_some_and(own))
                .map(|(col, _)| col)
                .collect();
            cells.iter().map(|col| usize::from(*col)).sum::<usize>() / cells.len()
        };
        let outer_is_left = centre(Side::Outer) < centre(Side::Inner);
        assert_eq!(outer_is_left, picture.foot.is_left(), "{claw:?}");
    }
}

#[test]
fn left_and_right_feet_are_mirror_images_cell_by_cell() {
    for size in Size::ALL {
        for (left, right) in [(Foot::LeftFront, Foot::RightFront), (Foot::LeftHind, Foot::RightHind)] {
            let (a, b) = (FootPicture::of(size, left, View::ToeDown), FootPicture::of(size, right, View::ToeDown));
            for (col, row) in a.drawing().cells() {
                let mirrored = b.owner(a.cols - 1 - col, row).map(|place| place.at_foot(left));
                assert_eq!(a.owner(col, row), mirrored, "{size:?} {col},{row}");
            }
        }
    }
}

#[test]
fn toe_down_puts_the_heel_on_top_as_the_sole_hangs_in_the_hand() {
    for size in Size::ALL {
        let picture = FootPicture::of(size, Foot::LeftHind, View::ToeDown);
        let middle = |number: u8| {
            let zone = Zone::from_number(number).expect("zone");
            let place = zone.on(Foot::LeftHind, Side::Outer);
            let rows: Vec<u16> = picture
                .drawing()
                .cells()
                .filter(|(col, row)| picture.owner(*col, *row) == Some(place))
                .map(|(_, row)| row)
                .collect();
            f64::from(rows.iter().sum::<u16>()) / rows.len() as f64
        };
        assert!(middle(6) < middle(4) && middle(4) < middle(5) && middle(5) < middle(1), "{size:?}");
        assert!(middle(10) < middle(0) && middle(0) < middle(9), "{size:?}");
    }
}

#[test]
fn labels_stand_upright_on_their_own_zone_in_every_picture() {
    for picture in pictures() {
        let sketch = Sketch::of(&picture, &Marks::default());
        for place in picture.places() {
            let label = picture.label_box(place).expect("every zone has a label");
            for (col, row) in label.text.cells() {
                assert_eq!(picture.owner(col, row), Some(place), "{:?} {:?}", picture.size, picture.view);
            }
            if picture.size.has_numbers() {
                let number = place.zone().expect("zone").number().to_string();
                let rows: Vec<String> = (label.text.row..label.text.bottom())
                    .map(|row| {
                        let cells = (label.text.col..label.text.right()).filter_map(|col| sketch.cell(col, row));
                        cells.map(|cell| cell.text.unwrap_or(' ')).collect()
                    })
                    .collect();
                assert!(rows.iter().any(|row| row.contains(&number)), "{number} in {rows:?}");
            }
        }
    }
}

#[test]
fn a_tap_means_the_zone_that_is_drawn_there() {
    for (cols, rows) in [(60, 20), (80, 24), (120, 40)] {
        for foot in [None, Some(Foot::LeftHind), Some(Foot::RightFront)] {
            let layout = Layout::for_screen(cols, rows, foot, View::ToeDown);
            let map = layout.map().expect("a map fits");
            for at in &map.feet {
                for (col, row) in at.picture.drawing().cells() {
                    if let Some(owner) = at.picture.owner(col, row) {
                        assert_eq!(layout.place_at(at.area.col + col, at.area.row + row), Some(owner));
                    }
                }
            }
        }
    }
}

#[test]
fn layouts_fit_their_screens_and_their_feet_do_not_overlap() {
    for cols in (60..=200).step_by(7) {
        for rows in (20..=60).step_by(3) {
            for foot in [None, Some(Foot::LeftFront)] {
                let layout = Layout::for_screen(cols, rows, foot, View::ToeDown);
                let map = layout.map().expect("a map fits from 60x20 up");
                let mut owned = BTreeSet::new();
                for at in &map.feet {
                    assert!(at.area.right() <= cols && at.area.bottom() < rows, "{cols}x{rows}");
                    for cell in at.area.cells() {
                        assert!(owned.insert(cell), "{cols}x{rows}: two feet on one cell");
                    }
                }
                assert!(map.text.cols >= 18 && map.text.right() <= cols, "{cols}x{rows}");
            }
        }
    }
    assert!(matches!(Layout::for_screen(59, 20, None, View::ToeDown), Layout::TooSmall));
    assert!(matches!(Layout::for_screen(60, 19, None, View::ToeDown), Layout::TooSmall));
}

#[test]
fn a_finding_a_block_and_a_wrap_are_told_by_characters_alone() {
    let foot = Foot::LeftHind;
    let place = Zone::from_number(4).expect("zone").on(foot, Side::Outer);
    let mut marks = Marks { zones: vec![mark(place, "SU", Weight::Severe)], ..Marks::default() };
    *marks.claw_mut(foot, Side::Inner) =
        ClawMark { block: Some(LeftOn { days: Some(29), due: Due::Due }), gone: false };
    marks.foot_mut(foot).wrap = Some(LeftOn { days: Some(6), due: Due::Late });
    for size in [Size::S60, Size::S80, Size::L, Size::M, Size::XL] {
        let sketch = Sketch::of(&FootPicture::of(size, foot, View::ToeDown), &marks);
        let text = text(&sketch);
        assert!(text.contains("SU!"), "{size:?}\n{text}");
        assert!(text.contains("BLOCK") || text.contains("BLK"), "{size:?}\n{text}");
        assert!(text.contains("29d") || text.contains("29 d"), "{size:?}\n{text}");
        assert!(text.contains("WRAP 6 DAYS!"), "{size:?}\n{text}");
        assert!(text.matches('/').count() > 10, "{size:?}: the wrap is all round\n{text}");
    }
}

#[test]
fn a_mark_of_last_time_is_never_filled_and_waits_with_a_question() {
    let foot = Foot::RightHind;
    let place = Zone::from_number(4).expect("zone").on(foot, Side::Outer);
    let ghost = ZoneMark { time: Time::LastTime, ..mark(place, "SU", Weight::Severe) };
    let marks = Marks { zones: vec![ghost], ..Marks::default() };
    for size in [Size::S60, Size::S80, Size::L, Size::M] {
        let sketch = Sketch::of(&FootPicture::of(size, foot, View::ToeDown), &marks);
        assert!(text(&sketch).contains("su?"), "{size:?}");
        let filled = sketch
            .area()
            .cells()
            .filter_map(|(col, row)| sketch.cell(col, row))
            .any(|cell| matches!(cell.paint, Paint::Fill(_)));
        assert!(!filled, "{size:?}");
    }
}

#[test]
fn a_drawing_with_a_mistake_is_refused_with_its_line() {
    let (file, drawing) = Size::S80.drawing();
    let broken = drawing.replace("label 6 9 2 5 1\n", "label 6 0 0 5 1\n");
    let error = Mask::parse(file, &broken).expect_err("a label off its zone");
    assert!(error.to_string().starts_with("s80.txt, line "), "{error}");
    let missing = drawing.replace("label 6 9 2 5 1\n", "");
    assert!(Mask::parse(file, &missing).is_err(), "a zone without a label");
}
