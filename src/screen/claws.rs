//! The map on the screen: sketches of feet, coloured.

use crate::claw_map::layout::MapLayout;
use crate::claw_map::marks::Marks;
use crate::claw_map::sketch::Sketch;
use crate::screen::theme::Theme;
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

impl Widget for &Claws<'_> {
    fn render(self, area: Rect, buffer: &mut Buffer) {
        for foot in &self.layout.feet {
            let sketch = Sketch::of(&foot.picture, self.marks);
            for (col, row) in sketch.area().cells() {
                let (Some(cell), Some(at)) = (
                    sketch.cell(col, row),
                    buffer.cell_mut((area.x + foot.area.col + col, area.y + foot.area.row + row)),
                ) else {
                    continue;
                };
                let bare = if self.theme.has_fields() { ' ' } else { cell.outline };
                at.set_char(cell.text.unwrap_or(bare)).set_style(self.theme.paint(cell.paint));
            }
        }
    }
}
