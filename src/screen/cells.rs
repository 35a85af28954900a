//! Three by four cells in the geometry of a keypad: which words have room, and how wide the columns are.

use crate::screen::page::Page;
use crate::screen::theme::Role;
use crate::session::touch::Target;
use unicode_width::UnicodeWidthStr;

/// Keys as they lie on a keypad.
pub const KEYS: [[char; 3]; 4] = [['7', '8', '9'], ['4', '5', '6'], ['1', '2', '3'], ['0', '.', '\n']];
/// Wider cells would only tear the block apart.
const WIDEST: usize = 22;
/// From this width words go on below the first word, else below the key.
const ROOMY: usize = 12;
/// Lines of a cell, and how many forms of its words may be used, best first.
const TRIES: [(usize, usize); 6] = [(1, 1), (2, 1), (2, 2), (2, FORMS), (3, FORMS), (1, FORMS)];
/// Every form.
const FORMS: usize = usize::MAX;

/// A key of the block and what it does now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cell {
    /// The key, in a letter or two.
    pub key: String,
    /// What it does, fullest form first.
    pub forms: Vec<String>,
    /// What a tap on it means.
    pub target: Option<Target>,
}

/// Cells that fit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Block {
    widths: [usize; 3],
    rows: Vec<[Option<Placed>; 3]>,
}

#[derive(Debug, Clone, PartialEq, Eq)]
struct Placed {
    key: String,
    lines: Vec<String>,
    target: Option<Target>,
}

impl Block {
    /// The fullest words with which all cells fit in so many columns and rows; none where no form of some word does.
    pub fn fitted(cells: &[[Option<Cell>; 3]; 4], width: usize, height: usize) -> Option<Block> {
        // Columns that stay where they are from question to question are easier on the eye than fuller words.
        let even = even(width).into_iter().flat_map(|widths| TRIES.map(|tries| (widths, tries)));
        let by_need = TRIES.into_iter().filter_map(|tries| Some((by_need(cells, width, tries)?, tries)));
        let fitted = even.chain(by_need).filter_map(|(widths, tries)| Block::with(cells, widths, tries));
        fitted.into_iter().find(|block| block.height() <= height)
    }

    fn with(cells: &[[Option<Cell>; 3]; 4], widths: [usize; 3], tries: (usize, usize)) -> Option<Block> {
        let mut rows = Vec::new();
        // A row without any key is left out at the top only: the others keep their place above the bottom.
        for row in cells.iter().skip_while(|row| row.iter().all(Option::is_none)) {
            let mut placed = [None, None, None];
            for ((cell, width), place) in row.iter().zip(widths).zip(&mut placed) {
                if let Some(cell) = cell {
                    let lines = words(cell, width, tries)?;
                    *place = Some(Placed { key: cell.key.clone(), lines, target: cell.target });
                }
            }
            rows.push(placed);
        }
        Some(Block { widths, rows })
    }

    /// Rows it takes.
    pub fn height(&self) -> usize {
        self.rows.iter().map(tall).sum()
    }

    /// Draws it. What was tapped once is picked.
    pub fn draw(&self, page: &mut Page<'_>, selected: Option<Target>, note: &dyn Fn(ratatui::layout::Rect, Target)) {
        for row in &self.rows {
            let height = tall(row);
            let mut left = 0;
            for (cell, width) in row.iter().zip(self.widths) {
                if let Some(target) = cell.as_ref().and_then(|cell| cell.target) {
                    note(page.ahead(left, width, height), target);
                }
                left += width + 1;
            }
            for line in 0..height {
                let mut pieces: Vec<(String, Role)> = Vec::new();
                for (cell, width) in row.iter().zip(self.widths) {
                    let picked = cell.as_ref().is_some_and(|cell| cell.target.is_some() && cell.target == selected);
                    for (text, role) in cell.as_ref().map_or_else(|| blank(width), |cell| cell.line(line, width)) {
                        pieces.push((text, if picked { Role::Picked } else { role }));
                    }
                    pieces.push((" ".to_owned(), Role::Text));
                }
                pieces.pop();
                page.pieces(&pieces.iter().map(|(text, role)| (text.as_str(), *role)).collect::<Vec<_>>());
            }
        }
    }
}

impl Placed {
    /// A line of the cell in pieces: the key stands on the first.
    fn line(&self, line: usize, width: usize) -> Vec<(String, Role)> {
        let text = self.lines.get(line).map_or("", String::as_str);
        let head = match line {
            0 => vec![(self.key.clone(), Role::Key), (" ".to_owned(), Role::Text)],
            _ => vec![(" ".repeat(indent(&self.key, width)), Role::Text)],
        };
        let used: usize = head.iter().map(|(text, _)| text.width()).sum();
        let padded = crate::report::safe::column(text, width.saturating_sub(used));
        head.into_iter().chain([(padded, Role::Text)]).collect()
    }
}

fn blank(width: usize) -> Vec<(String, Role)> {
    vec![(" ".repeat(width), Role::Text)]
}

fn tall(row: &[Option<Placed>; 3]) -> usize {
    row.iter().flatten().map(|cell| cell.lines.len()).max().unwrap_or(0).max(1)
}

/// Columns before what goes on below the first line.
fn indent(key: &str, width: usize) -> usize {
    if width >= ROOMY { key.width() + 1 } else { 0 }
}

/// Three columns as wide as each other.
fn even(width: usize) -> Option<[usize; 3]> {
    let cells = width.checked_sub(2)?;
    let each = (cells / 3).min(WIDEST);
    let over = if each < WIDEST { cells % 3 } else { 0 };
    Some([each + usize::from(over > 0), each + usize::from(over > 1), each])
}

/// Each column as wide as its words need.
fn by_need(cells: &[[Option<Cell>; 3]; 4], width: usize, tries: (usize, usize)) -> Option<[usize; 3]> {
    let mut widths = [0; 3];
    for (at, least) in widths.iter_mut().enumerate() {
        *least = (3..=width).find(|wide| {
            cells.iter().filter_map(|row| row[at].as_ref()).all(|cell| words(cell, *wide, tries).is_some())
        })?;
    }
    let spare = width.checked_sub(widths.iter().sum::<usize>() + 2)?;
    for (at, wide) in widths.iter_mut().enumerate() {
        *wide = (*wide + (spare + 2 - at) / 3).min(WIDEST.max(*wide));
    }
    Some(widths)
}

/// The fullest form of a cell's words that stands whole in so many columns and lines.
fn words(cell: &Cell, width: usize, (lines, forms): (usize, usize)) -> Option<Vec<String>> {
    let first = width.checked_sub(cell.key.width() + 1)?;
    let rest = width.saturating_sub(indent(&cell.key, width));
    cell.forms.iter().take(forms).find_map(|text| whole(text, (first, rest), lines))
}

/// Text in lines, the first narrower than the rest; none where a word or a line is too much.
fn whole(text: &str, (first, rest): (usize, usize), most: usize) -> Option<Vec<String>> {
    let mut lines: Vec<String> = vec![String::new()];
    for word in text.split_whitespace() {
        let room = if lines.len() == 1 { first } else { rest };
        let line = lines.last_mut()?;
        let blank = usize::from(!line.is_empty());
        if line.width() + blank + word.width() <= room {
            line.push_str(&" ".repeat(blank));
            line.push_str(word);
        } else if word.width() <= rest {
            lines.push(word.to_owned());
        } else {
            return None;
        }
    }
    (lines.len() <= most).then_some(lines)
}
