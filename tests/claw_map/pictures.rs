//! A foot as it is seen: outer claw on the animal's outside in both views, labels where their zone is.

use crushbook::claw_map::mask::Size;
use crushbook::claw_map::picture::{FootPicture, View};
use crushbook::domain::anatomy::{Foot, Horn, Place, Side};
use crushbook::domain::vocabulary::Vocabulary;

fn every_picture() -> impl Iterator<Item = FootPicture> {
    let views = [View::ToeDown, View::ToeUp];
    Size::ALL.into_iter().flat_map(move |size| {
        views.into_iter().flat_map(move |view| Foot::ALL.iter().map(move |foot| FootPicture::of(size, *foot, view)))
    })
}

fn columns(picture: &FootPicture, side: Side) -> (u16, u16) {
    let of_claw = |(col, row): &(u16, u16)| picture.owner(*col, *row).and_then(Place::side) == Some(side);
    let cols: Vec<u16> = picture.drawing().cells().filter(of_claw).map(|(col, _)| col).collect();
    (*cols.iter().min().expect("a claw has cells"), *cols.iter().max().expect("a claw has cells"))
}

#[test]
fn left_feet_have_their_outer_claw_left_and_right_feet_right() {
    for picture in every_picture() {
        let outer = columns(&picture, Side::Outer);
        let inner = columns(&picture, Side::Inner);
        let outer_is_left = outer.1 < inner.0;
        assert_eq!(outer_is_left, picture.foot.is_left(), "{picture:?}");
        assert!(outer_is_left || inner.1 < outer.0, "claws do not overlap");
    }
}

#[test]
fn the_two_claws_mirror_each_other() {
    for picture in every_picture() {
        for (col, row) in picture.drawing().cells() {
            let here = picture.owner(col, row);
            let there = picture.owner(picture.cols - 1 - col, row);
            let partner = here.map(|place| place.at_partner().unwrap_or(place));
            assert_eq!(there, partner, "{picture:?} at {col},{row}");
        }
    }
}

#[test]
fn every_label_stands_on_its_own_zone() {
    for picture in every_picture() {
        assert_eq!(picture.places().count(), 23, "three of skin, ten of each claw");
        for place in picture.places() {
            let label = picture.label_box(place).expect("every zone has a label");
            for (col, row) in label.text.cells().chain(label.spare.iter().flat_map(|spare| spare.cells())) {
                assert_eq!(picture.owner(col, row), Some(place), "{picture:?}");
            }
        }
        assert_eq!(picture.label_box(Place::Foot(picture.foot)), None);
        assert_eq!(picture.label_box(Place::Horn(picture.foot.across(), Side::Outer, Horn::Bulb)), None);
    }
}

#[test]
fn toe_down_has_the_bulbs_above_and_the_toes_below() {
    for picture in every_picture() {
        let row = |horn| {
            let place = Place::Horn(picture.foot, Side::Outer, horn);
            picture.label_box(place).expect("a label").text.row
        };
        let bulb_is_above = row(Horn::Bulb) < row(Horn::ToeWhiteLine);
        assert_eq!(bulb_is_above, picture.view == View::ToeDown, "{picture:?}");
    }
}

#[test]
fn words_stand_outside_the_claws_they_name() {
    for picture in every_picture().filter(|picture| picture.size.has_numbers()) {
        for side in [Side::Outer, Side::Inner] {
            let word = picture.claw_word(side).expect("room for a word");
            let on_the_left = word.right() * 2 < picture.cols;
            assert_eq!(on_the_left, columns(&picture, side).0 == 0, "{picture:?} {side:?}");
            // At the edge; in one drawing a column further in, so that what stands beside it does not touch it.
            let edge = u16::from(picture.size == Size::L);
            assert_eq!(if on_the_left { word.col } else { picture.cols - word.right() }, edge, "{picture:?}");
            assert!(word.cells().all(|(col, row)| picture.owner(col, row).is_none()));
        }
        let name = picture.name().expect("room for the name");
        assert_eq!(name.right() * 2 < picture.cols, picture.foot.is_left(), "the name stands at the outer claw");
    }
}

#[test]
fn a_tap_means_a_zone_a_claw_by_its_word_or_the_foot() {
    for picture in every_picture() {
        let bar = picture.bar();
        assert_eq!(picture.place_at(bar.col, bar.row), Some(Place::Foot(picture.foot)));
        assert_eq!(picture.place_at(picture.cols, 0), None);
        assert_eq!(picture.place_at(0, picture.rows), None);
        if let Some(word) = picture.claw_word(Side::Inner) {
            assert_eq!(picture.place_at(word.col, word.row), Some(Place::Claw(picture.foot, Side::Inner)));
        }
        for (col, row) in picture.drawing().cells() {
            if let Some(owner) = picture.owner(col, row) {
                assert_eq!(picture.place_at(col, row), Some(owner));
            }
        }
    }
}
