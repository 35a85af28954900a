//! A rectangle of cells and the two ways a drawing of a foot is turned over.

/// A rectangle of terminal cells, counted from 0 at the top left.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Area {
    /// First column.
    pub col: u16,
    /// First row.
    pub row: u16,
    /// Width in cells.
    pub cols: u16,
    /// Height in cells.
    pub rows: u16,
}

impl Area {
    /// A rectangle from its first cell and its size.
    pub const fn new(row: u16, col: u16, cols: u16, rows: u16) -> Self {
        Area { col, row, cols, rows }
    }

    /// First column to the right of it.
    pub fn right(self) -> u16 {
        self.col + self.cols
    }

    /// First row below it.
    pub fn bottom(self) -> u16 {
        self.row + self.rows
    }

    /// True when the cell is inside.
    pub fn contains(self, col: u16, row: u16) -> bool {
        (self.col..self.right()).contains(&col) && (self.row..self.bottom()).contains(&row)
    }

    /// Every cell as (column, row), row by row.
    pub fn cells(self) -> impl Iterator<Item = (u16, u16)> {
        (self.row..self.bottom()).flat_map(move |row| (self.col..self.right()).map(move |col| (col, row)))
    }

    /// The same rectangle in the mirror image of a drawing `width` cells wide.
    pub fn mirrored(self, width: u16) -> Self {
        Area { col: width - self.right(), ..self }
    }

    /// The same rectangle with the rows of a drawing `height` cells high in reverse order.
    pub fn flipped(self, height: u16) -> Self {
        Area { row: height - self.bottom(), ..self }
    }

    /// The same rectangle moved right and down.
    pub fn moved(self, cols: u16, rows: u16) -> Self {
        Area { col: self.col + cols, row: self.row + rows, ..self }
    }
}
