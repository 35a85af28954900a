//! Where feet stand on screens of every size.

use crushbook::claw_map::area::Area;
use crushbook::claw_map::layout::{Layout, MapLayout};
use crushbook::claw_map::mask::Size;
use crushbook::claw_map::picture::View;
use crushbook::domain::anatomy::{Foot, Side};
use crushbook::domain::vocabulary::Vocabulary;

const HAND: Option<Foot> = Some(Foot::LeftHind);

fn layout(cols: u16, rows: u16, in_hand: Option<Foot>) -> MapLayout {
    map_of(Layout::for_screen(cols, rows, in_hand, View::ToeDown), (cols, rows))
}

/// With something to be read beside the foot in hand.
fn to_read(cols: u16, rows: u16, foot: Foot) -> MapLayout {
    map_of(Layout::to_read(cols, rows, foot, View::ToeDown), (cols, rows))
}

fn map_of(layout: Layout, (cols, rows): (u16, u16)) -> MapLayout {
    match layout {
        Layout::Map(map) => map,
        Layout::TooSmall => panic!("{cols}x{rows} has room for a map"),
    }
}

fn standing(map: &MapLayout) -> Vec<(Size, Foot, u16, u16)> {
    map.feet.iter().map(|at| (at.picture.size, at.picture.foot, at.area.row, at.area.col)).collect()
}

fn four(size: Size, places: [(u16, u16); 4]) -> Vec<(Size, Foot, u16, u16)> {
    Foot::ALL.iter().zip(places).map(|(foot, (row, col))| (size, *foot, row, col)).collect()
}

#[test]
fn four_feet_stand_two_by_two() {
    let small = layout(60, 20, None);
    assert_eq!(standing(&small), four(Size::S60, [(1, 0), (1, 20), (10, 0), (10, 20)]));
    assert_eq!(small.text, Area::new(1, 40, 20, 18));
    let middle = layout(80, 24, None);
    assert_eq!(standing(&middle), four(Size::S80, [(1, 0), (1, 21), (12, 0), (12, 21)]));
    assert_eq!(middle.text, Area::new(1, 41, 39, 22));
    let large = layout(120, 40, None);
    assert_eq!(standing(&large), four(Size::L, [(1, 0), (1, 41), (19, 0), (19, 41)]));
    assert_eq!(large.text, Area::new(1, 81, 39, 38));
    assert_eq!(large.below, Area::new(37, 0, 80, 2));
}

#[test]
fn a_foot_in_hand_is_larger_and_the_small_ones_keep_their_place() {
    assert_eq!(standing(&layout(60, 20, HAND)), [(Size::L, Foot::LeftHind, 1, 0)]);
    let middle = standing(&layout(80, 24, HAND));
    assert_eq!(middle[0], (Size::M, Foot::LeftHind, 1, 0));
    assert_eq!(middle[1..], four(Size::XXS, [(4, 54), (4, 67), (9, 54), (9, 67)]));
    let large = standing(&layout(120, 40, HAND));
    assert_eq!(large[0], (Size::XL, Foot::LeftHind, 1, 0));
    assert_eq!(large[1..], four(Size::S60, [(1, 77), (1, 98), (10, 77), (10, 98)]));
}

#[test]
fn where_something_is_to_be_read_the_foot_is_a_size_smaller_and_the_small_ones_are_their_bars() {
    assert_eq!(standing(&to_read(60, 20, Foot::LeftHind)), [(Size::S, Foot::LeftHind, 1, 0)]);
    let middle = to_read(80, 24, Foot::LeftHind);
    assert_eq!(standing(&middle)[0], (Size::L, Foot::LeftHind, 1, 0));
    assert_eq!(standing(&middle)[1..], four(Size::XXS, [(20, 4), (20, 24), (21, 4), (21, 24)]));
    assert!(middle.feet[1..].iter().all(|at| at.area.rows == 1 && at.picture.bar().row == at.first));
    assert_eq!(standing(&to_read(120, 40, Foot::LeftHind)), standing(&layout(120, 40, HAND)), "there is room for all");
}

#[test]
fn below_sixty_by_twenty_there_is_no_map() {
    for (cols, rows) in [(0, 0), (1, 1), (59, 20), (60, 19), (200, 19), (59, 100)] {
        for hand in [None, HAND] {
            assert!(matches!(Layout::for_screen(cols, rows, hand, View::ToeDown), Layout::TooSmall), "{cols}x{rows}");
        }
    }
}

#[test]
fn feet_and_words_never_overlap_nor_leave_the_screen() {
    for (cols, rows) in (60..=130).flat_map(|cols| (20..=45).map(move |rows| (cols, rows))) {
        for map in [layout(cols, rows, None), layout(cols, rows, HAND), to_read(cols, rows, Foot::LeftHind)] {
            // The number stands in the head of the words, or in room of its own.
            let apart = if map.number.row == map.text.row { None } else { Some(map.number) };
            assert!(apart.is_some() || map.number.rows < map.text.rows / 2, "{cols}x{rows}: room for words");
            let feet = map.feet.iter().map(|at| at.area);
            let areas: Vec<Area> = feet.chain([map.text, map.below]).chain(apart).collect();
            for (index, one) in areas.iter().enumerate() {
                assert!(one.row >= 1 && one.right() <= cols && one.bottom() < rows, "{cols}x{rows}: {one:?}");
                for other in &areas[index + 1..] {
                    let apart = one.right() <= other.col
                        || other.right() <= one.col
                        || one.bottom() <= other.row
                        || other.bottom() <= one.row;
                    assert!(apart || one.rows == 0 || other.rows == 0, "{cols}x{rows}: {one:?} over {other:?}");
                }
            }
            assert!(map.text.cols >= 19 && map.text.rows >= 9, "{cols}x{rows}: room for words");
        }
    }
}

/// So the pad may reach there, and nothing touches it.
#[test]
fn the_columns_said_to_be_spare_hold_nothing_of_the_foot() {
    for (foot, side) in Foot::ALL.iter().flat_map(|foot| Side::ALL.iter().map(move |side| (*foot, *side))) {
        let map = layout(60, 20, Some(foot));
        let (columns, from) = map.spare;
        assert_eq!((columns, from), (1, 9));
        let at = map.feet.first().expect("the foot in hand");
        let free = map.text.col - columns - 1;
        let words = [at.picture.claw_word(side), at.picture.note(side), at.picture.name()];
        assert!(words.iter().flatten().all(|word| word.right() <= free), "{foot:?}: words");
        let rows = from - at.area.row..at.picture.drawing().rows;
        assert!(rows.clone().count() > 7);
        assert!(rows.clone().all(|row| at.picture.owner(free, row).is_none()), "{foot:?}: zones");
    }
}

#[test]
fn a_tap_finds_the_zone_that_is_drawn_there() {
    for (cols, rows) in [(60, 20), (80, 24), (120, 40)] {
        let plain = [None, HAND].map(|hand| Layout::for_screen(cols, rows, hand, View::ToeDown));
        for drawn in plain.into_iter().chain([Layout::to_read(cols, rows, Foot::LeftHind, View::ToeDown)]) {
            let map = drawn.map().expect("a map");
            for at in &map.feet {
                let shown = at.picture.drawing().cells().chain(at.picture.bar().cells());
                for (col, row) in shown.filter(|(_, row)| *row >= at.first) {
                    let tapped = drawn.place_at(at.area.col + col, at.area.row + row - at.first);
                    assert_eq!(tapped, at.picture.place_at(col, row), "{cols}x{rows}");
                }
            }
            assert_eq!(drawn.place_at(map.text.col, map.text.row), None, "words are no foot");
            assert_eq!(drawn.place_at(0, 0), None, "nor is the header");
        }
    }
}

/// A target of gloved fingers (20 mm; Colle and Hiszem 2004) is about 6 by 3 cells of a 10-inch screen at 60x20 and 8 by 4 at
/// 80x24; 4 by 2 is what every zone has at least.
#[test]
fn every_zone_of_a_foot_in_hand_holds_four_by_two_cells() {
    for (cols, rows) in [(60, 20), (80, 24), (100, 38), (118, 36), (120, 40), (200, 60)] {
        for (foot, read) in Foot::ALL.iter().flat_map(|foot| [(foot, false), (foot, true)]) {
            let map = if read { to_read(cols, rows, *foot) } else { layout(cols, rows, Some(*foot)) };
            let at = &map.feet[0];
            for place in at.picture.places() {
                let is = |col: u16, row: u16| map.place_at(at.area.col + col, at.area.row + row) == Some(place);
                let holds = |(col, row): (u16, u16)| (0..4).all(|right| (0..2).all(|down| is(col + right, row + down)));
                assert!(at.picture.drawing().cells().any(holds), "{cols}x{rows}: {place:?}");
            }
        }
    }
}
