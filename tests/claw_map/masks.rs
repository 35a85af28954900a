//! The drawings keep the rules written at the head of each, and a broken one is refused with its place.

use crushbook::claw_map::mask::{Mask, Size, Spot, Word};
use crushbook::domain::anatomy::Zone;

fn cells(mask: &Mask) -> impl Iterator<Item = (u16, u16)> {
    (0..mask.rows).flat_map(move |row| (0..mask.cols).map(move |col| (col, row)))
}

#[test]
fn every_built_in_drawing_can_be_read() {
    for size in Size::ALL {
        let (file, text) = size.drawing();
        let mask = Mask::parse(file, text).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(&mask, Mask::of(size), "{file}");
    }
}

#[test]
fn every_zone_has_cells_and_a_label_on_them() {
    for size in Size::ALL {
        let mask = Mask::of(size);
        for zone in Zone::all() {
            let own = match zone {
                Zone::Skin(skin) => Spot::Skin(skin),
                Zone::Horn(horn) => Spot::Left(horn),
            };
            assert!(cells(mask).any(|(col, row)| mask.spot(col, row) == Some(own)), "{size:?} zone {zone:?}");
            let label = mask.label(zone);
            for (col, row) in label.text.cells().chain(label.spare.iter().flat_map(|spare| spare.cells())) {
                assert_eq!(mask.spot(col, row), Some(own), "{size:?} label of {zone:?} at {col},{row}");
            }
        }
    }
}

#[test]
fn the_right_claw_is_the_mirror_of_the_left() {
    for size in Size::ALL {
        let mask = Mask::of(size);
        for (col, row) in cells(mask) {
            let mirrored = match mask.spot(mask.cols - 1 - col, row) {
                Some(Spot::Left(horn)) => Some(Spot::Right(horn)),
                Some(Spot::Right(horn)) => Some(Spot::Left(horn)),
                other => other,
            };
            assert_eq!(mask.spot(col, row), mirrored, "{size:?} at {col},{row}");
        }
    }
}

#[test]
fn each_zone_is_one_piece() {
    for size in Size::ALL {
        let mask = Mask::of(size);
        let mut apart: Vec<_> = cells(mask).filter(|(col, row)| mask.spot(*col, *row).is_some()).collect();
        let mut pieces = Vec::new();
        while let Some(first) = apart.pop() {
            let own = mask.spot(first.0, first.1);
            let mut edge = vec![first];
            while let Some((col, row)) = edge.pop() {
                let touches = |cell: &(u16, u16)| {
                    cell.0.abs_diff(col) + cell.1.abs_diff(row) == 1 && mask.spot(cell.0, cell.1) == own
                };
                edge.extend(apart.extract_if(.., |cell| touches(cell)));
            }
            assert!(!pieces.contains(&own), "{size:?}: a piece of {own:?} at {first:?} lies apart");
            pieces.push(own);
        }
    }
}

#[test]
fn words_stand_in_free_corners() {
    for size in Size::ALL {
        let mask = Mask::of(size);
        assert_eq!(mask.word(Word::Claw).is_some(), size.has_numbers(), "{size:?}");
        for word in [Word::Claw, Word::Foot, Word::Note] {
            for (col, row) in mask.word(word).iter().flat_map(|area| area.cells()) {
                assert_eq!(mask.spot(col, row), None, "{size:?} {word:?}");
            }
        }
    }
}

/// Zones 1, 2 and 3 run along the outside from the toe toward the heel, 4 lies behind 5, 6 behind all, 11 in front of 12
/// (Shearer et al. 2004; 7, 8, 11 and 12 from memory).
#[test]
fn zones_lie_where_they_lie_on_a_claw() {
    for size in Size::ALL {
        let mask = Mask::of(size);
        let middle = |number: u8| {
            let zone = Zone::from_number(number).expect("a zone");
            let own = |cell: &(u16, u16)| match (mask.spot(cell.0, cell.1), zone) {
                (Some(Spot::Left(horn)), Zone::Horn(wanted)) => horn == wanted,
                (Some(Spot::Skin(skin)), Zone::Skin(wanted)) => skin == wanted,
                _ => false,
            };
            let own: Vec<_> = cells(mask).filter(own).collect();
            let count = own.len() as f64;
            let sum = |part: fn(&(u16, u16)) -> u16| own.iter().map(part).map(f64::from).sum::<f64>();
            (sum(|cell| cell.0) / count, sum(|cell| cell.1) / count)
        };
        let toward_heel = [(1, 2), (2, 3), (5, 4), (1, 5), (4, 6), (3, 6), (7, 8), (11, 12), (9, 0), (0, 10)];
        for (front, back) in toward_heel {
            assert!(middle(front).1 < middle(back).1, "{size:?}: {front} in front of {back}");
        }
        for (outside, inside) in [(7, 1), (2, 5), (8, 3), (3, 4), (5, 11), (4, 12), (1, 11), (11, 0), (12, 0)] {
            assert!(middle(outside).0 < middle(inside).0, "{size:?}: {outside} outside of {inside}");
        }
    }
}

#[test]
fn no_skin_touches_the_outside_of_a_claw() {
    for size in Size::ALL {
        let mask = Mask::of(size);
        for (col, row) in cells(mask).filter(|(col, row)| matches!(mask.spot(*col, *row), Some(Spot::Skin(_)))) {
            let left_horn = (0..col).any(|col| matches!(mask.spot(col, row), Some(Spot::Left(_))));
            let right_horn = (col..mask.cols).any(|col| matches!(mask.spot(col, row), Some(Spot::Right(_))));
            assert!(left_horn && right_horn, "{size:?} at {col},{row}: skin lies between the claws");
        }
    }
}

#[test]
fn a_broken_drawing_is_refused_with_line_and_reason() {
    let (_, good) = Size::XS.drawing();
    let broken = |from: &str, to: &str| {
        assert!(good.contains(from), "the drawing has {from:?}");
        let text = good.replacen(from, to, 1);
        Mask::parse("test.txt", &text).expect_err("a broken drawing").to_string()
    };
    let cases = [
        (broken(".71bb", ".71b"), "row \".71b\" must be 5 cells wide"),
        (broken(".71bb", ".70bb"), "'0' names no zone of the claw"),
        (broken("....999....", "....993...."), "'3' names no zone of the foot"),
        (broken("....999....", "..9.999...."), "skin '9' stands on a claw at row 0, column 2"),
        (broken("8344c\n", ""), "the drawing must have 5 rows and then \"end\""),
        (broken("label 5 2 3 1 1", "label 5 3 3 1 1"), "the label of zone 5 leaves its zone at row 3, column 3"),
        (broken("label 5 2 3 1 1", "label 5 2 3"), "needs whole numbers: row, column, columns, rows"),
        (broken("label 5 2 3 1 1\n", ""), "zone 5 has no label"),
        (broken("label 5", "lable 5"), "unknown line \"lable 5 2 3 1 1\""),
        (broken("claw 5 5", "claw 5 x"), "needs whole numbers: columns and rows"),
        (broken("label 5", "word 0 1 3\nlabel 5"), "a word stands on a claw or outside the drawing at row 0, column 1"),
    ];
    for (told, wanted) in cases {
        assert!(told.starts_with("test.txt, line ") && told.contains(wanted), "{told:?} should say {wanted:?}");
    }
}
