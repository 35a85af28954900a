//! Lines of text on a buffer: cut to their room, cleaned of what is not text, painted to the end.

use crate::report::safe::column;
use crate::screen::theme::{Role, Theme};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use unicode_width::UnicodeWidthStr;

/// A blank at which no line is broken; it is drawn as any other.
pub const UNBROKEN: &str = "\u{a0}";

/// A rectangle that is written from the top.
pub struct Page<'b> {
    buffer: &'b mut Buffer,
    area: Rect,
    row: u16,
    theme: Theme,
}

impl<'b> Page<'b> {
    /// An empty page; every cell is painted.
    pub fn new(buffer: &'b mut Buffer, area: Rect, theme: Theme) -> Page<'b> {
        let area = area.intersection(buffer.area);
        let blank = " ".repeat(usize::from(area.width));
        for row in area.top()..area.bottom() {
            buffer.set_string(area.x, row, &blank, theme.role(Role::Text));
        }
        Page { buffer, area, row: 0, theme }
    }

    /// Rows still free.
    pub fn left(&self) -> u16 {
        self.area.height.saturating_sub(self.row)
    }

    /// Columns.
    pub fn width(&self) -> u16 {
        self.area.width
    }

    /// One line over the whole width; nothing once the page is full.
    pub fn line(&mut self, text: &str, role: Role) {
        self.words(&[(text, role)], true);
    }

    /// A label only as wide as its text.
    pub fn label(&mut self, text: &str, role: Role) {
        self.words(&[(text, role)], false);
    }

    /// Several pieces side by side.
    pub fn pieces(&mut self, pieces: &[(&str, Role)]) {
        self.words(pieces, false);
    }

    fn words(&mut self, pieces: &[(&str, Role)], whole: bool) {
        if self.left() == 0 {
            return;
        }
        let row = self.area.y + self.row;
        let mut col = 0;
        for (text, role) in pieces {
            let room = usize::from(self.area.width.saturating_sub(col));
            let text = &text.replace(UNBROKEN, " ");
            let text = if whole { column(text, room) } else { crate::report::safe::cut(text, room) };
            self.buffer.set_string(self.area.x + col, row, &text, self.theme.role(*role));
            col += text.width() as u16;
        }
        self.row += 1;
    }

    /// The place on the screen of what is drawn next, from that column on; nothing where the page is full.
    pub fn ahead(&self, col: usize, width: usize, rows: usize) -> Rect {
        let cells = |count: usize| u16::try_from(count).unwrap_or(u16::MAX);
        let (x, y) = (self.area.x.saturating_add(cells(col)), self.area.y + self.row);
        Rect { x, y, width: cells(width), height: cells(rows) }.intersection(self.area)
    }

    /// Leaves rows blank.
    pub fn skip(&mut self, rows: u16) {
        self.row = (self.row + rows).min(self.area.height);
    }
}

/// Words broken into lines of so many columns; a longer word stands alone and is cut when it is drawn.
pub fn wrapped(text: &str, columns: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        match lines.last_mut() {
            Some(line) if line.width() + 1 + word.width() <= columns => {
                line.push(' ');
                line.push_str(word);
            }
            Some(_) | None => lines.push(word.to_owned()),
        }
    }
    lines
}
