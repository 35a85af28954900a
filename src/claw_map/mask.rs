//! Reads a drawing of a foot (`masks/*.txt`, which say how they are written) into a table of cells and label boxes.
//!
//! A drawing is checked when it is read, whole: every zone present and labelled, every label on its own zone, no skin over
//! a claw. So nothing that uses a [`Mask`] needs to doubt it.

use std::sync::OnceLock;

use thiserror::Error;

use crate::claw_map::area::Area;
use crate::domain::anatomy::{Horn, Skin, Zone};

/// Size of a drawn foot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Size {
    /// 11 x 4 cells, beside a foot in hand at 80x24. Too small for numbers: one sign a zone.
    XXS,
    /// 11 x 5 cells, two maps side by side at 60x20. One sign a zone.
    XS,
    /// 19 x 8 cells, four feet at 60x20.
    S60,
    /// 19 x 10 cells, four feet at 80x24.
    S80,
    /// 35 x 12 cells, a foot in hand at 60x20 with words below it.
    S,
    /// 39 x 17 cells.
    L,
    /// 51 x 20 cells, a foot in hand at 80x24.
    M,
    /// 75 x 30 cells, a foot in hand at 120x40.
    XL,
}

impl Size {
    /// Every size, smallest first.
    pub const ALL: [Size; 8] = [Size::XXS, Size::XS, Size::S60, Size::S80, Size::S, Size::L, Size::M, Size::XL];

    /// Name of the drawing's file and its text.
    pub fn drawing(self) -> (&'static str, &'static str) {
        match self {
            Size::XXS => ("xxs.txt", include_str!("masks/xxs.txt")),
            Size::XS => ("xs.txt", include_str!("masks/xs.txt")),
            Size::S60 => ("s60.txt", include_str!("masks/s60.txt")),
            Size::S80 => ("s80.txt", include_str!("masks/s80.txt")),
            Size::S => ("s.txt", include_str!("masks/s.txt")),
            Size::L => ("l.txt", include_str!("masks/l.txt")),
            Size::M => ("m.txt", include_str!("masks/m.txt")),
            Size::XL => ("xl.txt", include_str!("masks/xl.txt")),
        }
    }

    /// True where zone numbers fit; false where a zone can show one sign only.
    pub fn has_numbers(self) -> bool {
        !matches!(self, Size::XXS | Size::XS)
    }

    /// True where a whole code fits on one line of its zone, and borders between zones can be drawn.
    pub fn is_large(self) -> bool {
        matches!(self, Size::S | Size::L | Size::M | Size::XL)
    }
}

/// Where a zone's number or code stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct LabelBox {
    /// Cells for the text.
    pub text: Area,
    /// One more cell of the zone, for a grade sign that the box has no room for.
    pub spare: Option<Area>,
}

impl LabelBox {
    /// The same box after `turn` is done to each of its rectangles.
    pub fn turned(self, turn: impl Fn(Area) -> Area) -> Self {
        LabelBox { text: turn(self.text), spare: self.spare.map(turn) }
    }
}

/// What a drawing is made of before a foot is known, toe up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Spot {
    /// Horn of the claw drawn on the left.
    Left(Horn),
    /// Horn of the claw drawn on the right.
    Right(Horn),
    /// Skin of the foot.
    Skin(Skin),
}

/// A drawing, read: toe up, both claws.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mask {
    /// Width in cells.
    pub cols: u16,
    /// Height in cells, without the bar below.
    pub rows: u16,
    cells: Vec<Option<Spot>>,
    labels: Vec<(Zone, LabelBox)>,
    words: Vec<(Word, Area)>,
}

/// The free corner cells for words, given for the left claw.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Word {
    /// "outer" or "inner".
    Claw,
    /// LF RF LH RH.
    Foot,
    /// A finding of the whole claw.
    Note,
}

/// A drawing that cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("{file}, line {line}: {fault}")]
pub struct MaskError {
    /// Name of the drawing's file.
    pub file: String,
    /// Line in it, from 1; the last line when something is missing.
    pub line: usize,
    /// What is wrong.
    pub fault: Fault,
}

/// What can be wrong with a drawing.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum Fault {
    /// A line that starts with no known word.
    #[error("unknown line {0:?}; a line starts with claw, foot, label, word, name or note")]
    Line(String),
    /// Numbers missing, too many, or no numbers.
    #[error("{0:?} needs whole numbers: {1}")]
    Numbers(String, &'static str),
    /// A row that is not as wide as its drawing.
    #[error("row {0:?} must be {1} cells wide")]
    Width(String, u16),
    /// A drawing that ends too early or is not closed.
    #[error("the drawing must have {0} rows and then \"end\"")]
    Height(u16),
    /// A character that names no zone here.
    #[error("{0:?} names no zone of the {1}")]
    Zone(char, &'static str),
    /// Skin drawn on a claw.
    #[error("skin {0:?} stands on a claw at row {1}, column {2}")]
    Overlap(char, u16, u16),
    /// A label box that leaves its zone.
    #[error("the label of zone {0} leaves its zone at row {1}, column {2}")]
    Label(u8, u16, u16),
    /// A word on a claw or outside the drawing.
    #[error("a word stands on a claw or outside the drawing at row {0}, column {1}")]
    Word(u16, u16),
    /// A zone without cells or without label.
    #[error("zone {0} has no {1}")]
    Missing(u8, &'static str),
    /// Two claws wider than the foot.
    #[error("the foot must be as high as its claw and at least twice as wide")]
    Foot,
}

impl Mask {
    /// The built-in drawing of that size, read once.
    pub fn of(size: Size) -> &'static Mask {
        static MASKS: OnceLock<Vec<Mask>> = OnceLock::new();
        let masks = MASKS.get_or_init(|| {
            let read = |size: Size| {
                let (file, text) = size.drawing();
                Mask::parse(file, text).expect("built-in drawings are read by a test")
            };
            Size::ALL.map(read).into()
        });
        let at = Size::ALL.iter().position(|one| *one == size).expect("every size is in Size::ALL");
        &masks[at]
    }

    /// Reads a drawing, or says what is wrong in which line of `file`.
    pub fn parse(file: &str, text: &str) -> Result<Mask, MaskError> {
        let mut lines = Lines { file, line: 0, rest: text.lines() };
        let mut drawn = Drawn::default();
        while let Some(line) = lines.next() {
            drawn.take(line, &mut lines).map_err(|fault| lines.wrong(fault))?;
        }
        drawn.finish().map_err(|fault| lines.wrong(fault))
    }

    /// Who owns the cell, toe up.
    pub fn spot(&self, col: u16, row: u16) -> Option<Spot> {
        let inside = col < self.cols && row < self.rows;
        inside.then(|| self.cells[usize::from(row) * usize::from(self.cols) + usize::from(col)]).flatten()
    }

    /// Label box of a zone, toe up, on the left claw for horn.
    pub fn label(&self, zone: Zone) -> LabelBox {
        let of_zone = |(labelled, label): &(Zone, LabelBox)| (*labelled == zone).then_some(*label);
        self.labels.iter().find_map(of_zone).expect("every zone has a label, checked when read")
    }

    /// Cells for a word, toe up, on the left claw; none where the drawing has no room.
    pub fn word(&self, word: Word) -> Option<Area> {
        self.words.iter().find_map(|(named, area)| (*named == word).then_some(*area))
    }
}

/// The lines of a drawing with their number, comments and blanks left out.
struct Lines<'a> {
    file: &'a str,
    line: usize,
    rest: std::str::Lines<'a>,
}

impl<'a> Lines<'a> {
    fn next(&mut self) -> Option<&'a str> {
        loop {
            let line = self.rest.next()?;
            self.line += 1;
            if !line.starts_with('#') && !line.trim().is_empty() {
                return Some(line);
            }
        }
    }

    fn wrong(&self, fault: Fault) -> MaskError {
        MaskError { file: self.file.to_owned(), line: self.line, fault }
    }
}

/// A grid of characters as drawn.
#[derive(Default)]
struct Grid {
    cols: u16,
    rows: Vec<Vec<char>>,
}

impl Grid {
    fn height(&self) -> u16 {
        self.rows.len() as u16
    }

    fn at(&self, col: u16, row: u16) -> char {
        self.rows.get(usize::from(row)).and_then(|cells| cells.get(usize::from(col))).copied().unwrap_or('.')
    }
}

/// What has been read so far.
#[derive(Default)]
struct Drawn {
    claw: Grid,
    foot: Grid,
    labels: Vec<(Zone, LabelBox)>,
    words: Vec<(Word, Area)>,
}

impl Drawn {
    fn take(&mut self, line: &str, lines: &mut Lines) -> Result<(), Fault> {
        let mut parts = line.split_whitespace();
        match parts.next().unwrap_or_default() {
            "claw" => self.claw = grid(line, parts, lines, "claw")?,
            "foot" => self.foot = grid(line, parts, lines, "foot")?,
            "label" => {
                let zone = parts.next().and_then(|name| name.chars().next()).unwrap_or(' ');
                let zone = zone_of(zone).ok_or(Fault::Zone(zone, "map"))?;
                self.labels.push((zone, label(line, parts)?));
            }
            "word" => self.words.push((Word::Claw, corner(line, parts)?)),
            "name" => self.words.push((Word::Foot, corner(line, parts)?)),
            "note" => self.words.push((Word::Note, corner(line, parts)?)),
            _ => return Err(Fault::Line(line.to_owned())),
        }
        Ok(())
    }

    fn finish(self) -> Result<Mask, Fault> {
        let (cols, rows) = (self.foot.cols, self.foot.height());
        if self.claw.height() != rows || self.claw.cols * 2 > cols {
            return Err(Fault::Foot);
        }
        let mut cells = Vec::new();
        for (col, row) in Area::new(0, 0, cols, rows).cells() {
            cells.push(self.spot(col, row)?);
        }
        let mask = Mask { cols, rows, cells, labels: self.labels, words: self.words };
        check_zones(&mask)?;
        check_words(&mask)?;
        Ok(mask)
    }

    fn spot(&self, col: u16, row: u16) -> Result<Option<Spot>, Fault> {
        let left = self.claw.at(col, row);
        let right = self.claw.at(self.foot.cols - 1 - col, row);
        let skin = self.foot.at(col, row);
        match (zone_of(left), zone_of(right), zone_of(skin)) {
            (None, None, Some(Zone::Skin(skin))) => Ok(Some(Spot::Skin(skin))),
            (_, _, Some(_)) => Err(Fault::Overlap(skin, row, col)),
            (Some(Zone::Horn(horn)), _, None) => Ok(Some(Spot::Left(horn))),
            (_, Some(Zone::Horn(horn)), None) => Ok(Some(Spot::Right(horn))),
            (None | Some(Zone::Skin(_)), None | Some(Zone::Skin(_)), None) => Ok(None),
        }
    }
}

fn zone_of(name: char) -> Option<Zone> {
    let number = match name {
        'a' => 10,
        'b' => 11,
        'c' => 12,
        digit => digit.to_digit(10)?,
    };
    Zone::from_number(u8::try_from(number).ok()?)
}

fn numbers<'a>(line: &str, parts: impl Iterator<Item = &'a str>, what: &'static str) -> Result<Vec<u16>, Fault> {
    parts.map(|part| part.parse().map_err(|_| Fault::Numbers(line.to_owned(), what))).collect()
}

fn grid<'a>(
    line: &str,
    parts: impl Iterator<Item = &'a str>,
    lines: &mut Lines,
    of: &'static str,
) -> Result<Grid, Fault> {
    let what = "columns and rows, at most 200 each";
    let [cols @ 1..=200, height @ 1..=200] = numbers(line, parts, what)?[..] else {
        return Err(Fault::Numbers(line.to_owned(), what));
    };
    let mut rows = Vec::new();
    while let Some(row) = lines.next().filter(|row| *row != "end") {
        let cells: Vec<char> = row.chars().collect();
        if cells.len() != usize::from(cols) {
            return Err(Fault::Width(row.to_owned(), cols));
        }
        let stranger = cells.iter().find(|name| **name != '.' && !belongs(**name, of));
        if let Some(name) = stranger {
            return Err(Fault::Zone(*name, of));
        }
        rows.push(cells);
    }
    if rows.len() != usize::from(height) { Err(Fault::Height(height)) } else { Ok(Grid { cols, rows }) }
}

/// A claw owns horn, a foot owns skin.
fn belongs(name: char, of: &str) -> bool {
    match zone_of(name) {
        Some(Zone::Horn(_)) => of == "claw",
        Some(Zone::Skin(_)) => of == "foot",
        None => false,
    }
}

fn label<'a>(line: &str, parts: impl Iterator<Item = &'a str>) -> Result<LabelBox, Fault> {
    let what = "row, column, columns, rows and perhaps row and column of the sign";
    match numbers(line, parts, what)?[..] {
        [row, col, cols, rows] => Ok(LabelBox { text: Area::new(row, col, cols, rows), spare: None }),
        [row, col, cols, rows, sign_row, sign_col] => {
            let spare = Some(Area::new(sign_row, sign_col, 1, 1));
            Ok(LabelBox { text: Area::new(row, col, cols, rows), spare })
        }
        _ => Err(Fault::Numbers(line.to_owned(), what)),
    }
}

fn corner<'a>(line: &str, parts: impl Iterator<Item = &'a str>) -> Result<Area, Fault> {
    let what = "row, column and columns";
    match numbers(line, parts, what)?[..] {
        [row, col, cols] => Ok(Area::new(row, col, cols, 1)),
        _ => Err(Fault::Numbers(line.to_owned(), what)),
    }
}

fn check_zones(mask: &Mask) -> Result<(), Fault> {
    for zone in Zone::all() {
        let own = match zone {
            Zone::Skin(skin) => Spot::Skin(skin),
            Zone::Horn(horn) => Spot::Left(horn),
        };
        if !mask.cells.contains(&Some(own)) {
            return Err(Fault::Missing(zone.number(), "cells"));
        }
        if !mask.labels.iter().any(|(labelled, _)| *labelled == zone) {
            return Err(Fault::Missing(zone.number(), "label"));
        }
        let label = mask.label(zone);
        let mut cells = label.text.cells().chain(label.spare.into_iter().flat_map(Area::cells));
        if let Some((col, row)) = cells.find(|(col, row)| mask.spot(*col, *row) != Some(own)) {
            return Err(Fault::Label(zone.number(), row, col));
        }
    }
    Ok(())
}

fn check_words(mask: &Mask) -> Result<(), Fault> {
    let taken = |(col, row): &(u16, u16)| mask.spot(*col, *row).is_some() || *row >= mask.rows || *col >= mask.cols;
    match mask.words.iter().flat_map(|(_, area)| area.cells()).find(taken) {
        Some((col, row)) => Err(Fault::Word(row, col)),
        None => Ok(()),
    }
}
