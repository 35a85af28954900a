//! The map on the screen: sketches of feet, coloured.

use crate::claw_map::layout::MapLayout;
use crate::claw_map::marks::Marks;
use crate::claw_map::sketch::Sketch;
use crate::screen::theme::Theme;
use crate::session::touch::Target;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

/// Four feet, or one in hand beside them, with their marks.
#[derive(Debug)]
pub struct Claws<'a> {
    /// Where the feet stand.
    pub layout: &'a MapLayout,
    /// What stands on them.
    pub marks: &'a Marks,
    /// Colours.
    pub theme: Theme,
}

impl Claws<'_> {
    /// Notes what a tap on each cell of the map means, cells of one meaning side by side as one.
    pub fn note(&self, area: Rect, note: &dyn Fn(Rect, Target)) {
        for foot in &self.layout.feet {
            for row in 0..foot.area.rows {
                let place = |col: u16| foot.picture.place_at(col, row + foot.first);
                let mut from = 0;
                for col in 1..=foot.area.cols {
                    if col < foot.area.cols && place(col) == place(from) {
                        continue;
                    }
                    if let Some(place) = place(from) {
                        let (x, y) = (area.x + foot.area.col + from, area.y + foot.area.row + row);
                        note(Rect { x, y, width: col - from, height: 1 }.intersection(area), Target::Place(place));
                    }
                    from = col;
                }
            }
        }
    }
}

impl Widget for &Claws<'_> {
    fn render(self, area: Rect, buffer: &mut Buffer) {
        for foot in &self.layout.feet {
            let sketch = Sketch::of(&foot.picture, self.marks);
            for (col, row) in sketch.area().cells().filter(|(_, row)| *row >= foot.first) {
                let (Some(cell), Some(at)) = (
                    sketch.cell(col, row),
                    buffer.cell_mut((area.x + foot.area.col + col, area.y + foot.area.row + row - foot.first)),
                ) else {
                    continue;
                };
                let bare = if self.theme.has_fields() { ' ' } else { cell.outline };
                at.set_char(cell.text.unwrap_or(bare)).set_style(self.theme.paint(cell.paint));
            }
        }
    }
}
