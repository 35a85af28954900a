//! The map as plain characters, for paper, pipes and screens that draw nothing.

use crate::claw_map::marks::Marks;
use crate::claw_map::mask::Size;
use crate::claw_map::picture::{FootPicture, View};
use crate::claw_map::sketch::Sketch;
use crate::domain::anatomy::Foot;

/// Four feet, fronts above hinds, left beside right: 40 columns, 22 rows, one text a row without its trailing blanks.
pub fn rows(marks: &Marks) -> Vec<String> {
    let pairs = [[Foot::LeftFront, Foot::RightFront], [Foot::LeftHind, Foot::RightHind]];
    pairs.iter().flat_map(|pair| pair_rows(*pair, marks)).collect()
}

fn pair_rows(pair: [Foot; 2], marks: &Marks) -> Vec<String> {
    let [left, right] = pair.map(|foot| Sketch::of(&FootPicture::of(Size::S80, foot, View::ToeDown), marks));
    (0..left.area().rows)
        .map(|row| format!("{}  {}", text(&left, row), text(&right, row)).trim_end().to_owned())
        .collect()
}

fn text(sketch: &Sketch, row: u16) -> String {
    (0..sketch.area().cols)
        .filter_map(|col| sketch.cell(col, row))
        .map(|cell| cell.text.unwrap_or(cell.outline))
        .collect()
}
