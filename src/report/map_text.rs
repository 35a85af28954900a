//! The map of four feet as plain ASCII: for paper, pipes and terminals that can do no more.

use crate::claw_map::marks::Marks;
use crate::claw_map::mask::Size;
use crate::claw_map::picture::{FootPicture, View};
use crate::claw_map::sketch::Sketch;
use crate::domain::anatomy::Foot;

/// Blank columns between a left foot and the right one.
const GAP: &str = "  ";

/// Writes the four feet, front above hind, left feet left; one line ends every row, no blanks at its end.
///
/// [`Size::L`] is 80 columns wide and shows every code whole; [`Size::S80`] is 40 wide.
pub fn map_text(marks: &Marks, view: View, size: Size) -> String {
    let pairs = [[Foot::LeftFront, Foot::RightFront], [Foot::LeftHind, Foot::RightHind]];
    let pairs = pairs.map(|pair| pair.map(|foot| Sketch::of(&FootPicture::of(size, foot, view), marks)));
    let mut text = String::new();
    for [left, right] in &pairs {
        for row in 0..left.area().rows {
            let line = format!("{}{GAP}{}", line(left, row), line(right, row));
            text.push_str(line.trim_end());
            text.push('\n');
        }
    }
    text
}

fn line(sketch: &Sketch, row: u16) -> String {
    let cells = (0..sketch.area().cols).filter_map(|col| sketch.cell(col, row));
    cells.map(|cell| cell.text.unwrap_or(cell.outline)).collect()
}
