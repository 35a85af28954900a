//! One foot with everything that stands on it, as plain cells: which character, and what it means. A screen colours the
//! meaning, a report prints the characters; neither decides anything.
//!
//! Meaning never hangs on colour: codes, signs, brackets and hatching are characters.

use crate::claw_map::area::Area;
use crate::claw_map::label::{self, Run};
use crate::claw_map::marks::{FootState, Marks, Tone, Weight, ZoneMark};
use crate::claw_map::outline::outline;
use crate::claw_map::picture::FootPicture;
use crate::claw_map::words;
use crate::domain::anatomy::{Horn, Place, Side, Zone};

/// What a cell means, for a screen to colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Paint {
    /// Around the foot.
    Ground,
    /// "outer", "inner" and the name of a foot that is not in hand.
    Word,
    /// The name of the foot in hand, and the word of the claw under the cursor.
    Chosen,
    /// A healthy zone.
    Field(Zone),
    /// A claw that was taken off.
    Gone,
    /// A finding of today, a block.
    Fill(Tone),
    /// A finding of last time that waits for its answer.
    Ghost,
    /// The zone under the cursor.
    Cursor,
    /// The brackets round its label.
    Bracket,
    /// A wrap.
    Hatch(Tone),
    /// The bar of a foot.
    Bar(FootState),
}

/// One cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cell {
    /// Text that stands here in every mode.
    pub text: Option<char>,
    /// What stands here instead where fields have no colour.
    pub outline: char,
    /// What the cell means.
    pub paint: Paint,
}

/// One foot, drawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sketch {
    area: Area,
    cells: Vec<Cell>,
}

impl Sketch {
    /// Draws the foot with its marks.
    pub fn of(picture: &FootPicture, marks: &Marks) -> Self {
        let area = Area::new(0, 0, picture.cols, picture.rows);
        let mut sketch = Sketch { area, cells: area.cells().map(|(col, row)| ground(picture, col, row)).collect() };
        sketch.draw_lost_claws(picture, marks);
        sketch.draw_wrap(picture, marks);
        sketch.draw_cursor_zone(picture, marks);
        sketch.draw_labels(picture, marks);
        sketch.draw_words(picture, marks);
        sketch.draw_bar(picture, marks);
        sketch
    }

    /// The cell, if it is inside.
    pub fn cell(&self, col: u16, row: u16) -> Option<&Cell> {
        let at = usize::from(row) * usize::from(self.area.cols) + usize::from(col);
        self.area.contains(col, row).then(|| &self.cells[at])
    }

    /// Width and height in cells, from column 0 and row 0.
    pub fn area(&self) -> Area {
        self.area
    }

    fn cell_mut(&mut self, col: u16, row: u16) -> Option<&mut Cell> {
        let at = usize::from(row) * usize::from(self.area.cols) + usize::from(col);
        self.area.contains(col, row).then(|| &mut self.cells[at])
    }

    fn paint(&mut self, cells: impl IntoIterator<Item = (u16, u16)>, paint: Paint) {
        for (col, row) in cells {
            if let Some(cell) = self.cell_mut(col, row) {
                cell.paint = paint;
            }
        }
    }

    /// Writes text; without paint it takes that of the cells below.
    fn write(&mut self, run: &Run, paint: Option<Paint>) {
        for (col, letter) in (run.col..).zip(run.text.chars()) {
            if let Some(cell) = self.cell_mut(col, run.row) {
                cell.text = Some(letter);
                cell.paint = paint.unwrap_or(cell.paint);
            }
        }
    }

    fn draw_lost_claws(&mut self, picture: &FootPicture, marks: &Marks) {
        for side in [Side::Outer, Side::Inner] {
            if marks.claw(picture.foot, side).gone {
                let claw = |place: Place| place.side() == Some(side);
                self.paint(cells_where(picture, claw), Paint::Gone);
            }
        }
    }

    fn draw_wrap(&mut self, picture: &FootPicture, marks: &Marks) {
        let Some(wrap) = marks.foot(picture.foot).wrap else { return };
        let around = picture.drawing().cells().filter(|(col, row)| picture.owner(*col, *row).is_none());
        for (col, row) in around {
            self.write(&Run { row, col, text: "/".to_owned() }, Some(Paint::Hatch(wrap.wrap_tone())));
        }
    }

    fn draw_cursor_zone(&mut self, picture: &FootPicture, marks: &Marks) {
        let Some(cursor) = marks.cursor.filter(|place| place.zone().is_some()) else { return };
        for (col, row) in cells_where(picture, |place| place == cursor) {
            if let Some(cell) = self.cell_mut(col, row) {
                *cell = Cell { text: None, outline: '*', paint: Paint::Cursor };
            }
        }
    }

    fn draw_labels(&mut self, picture: &FootPicture, marks: &Marks) {
        let mut under_cursor = Vec::new();
        for place in picture.places() {
            let runs = match (lost(place, marks), covers(place, marks), marks.at(place)) {
                (true, _, _) => self.draw_loss(picture, place),
                (false, Some(tone), mark) => self.draw_block(picture, marks, place, tone, mark),
                (false, None, Some(mark)) => self.draw_mark(picture, marks, mark),
                (false, None, None) => self.draw_number(picture, place),
            };
            if marks.cursor == Some(place) {
                under_cursor = runs;
            }
        }
        if let Some(run) = under_cursor.first().filter(|_| picture.size.has_numbers()) {
            self.draw_brackets(picture, run);
        }
    }

    fn draw_number(&mut self, picture: &FootPicture, place: Place) -> Vec<Run> {
        let label = picture.label_box(place).filter(|_| picture.size.has_numbers());
        let runs = label.zip(place.zone()).map(|(label, zone)| label::number(zone.number(), label));
        self.write_all(runs.unwrap_or_default(), None)
    }

    fn draw_mark(&mut self, picture: &FootPicture, marks: &Marks, mark: &ZoneMark) -> Vec<Run> {
        let Some(label) = picture.label_box(mark.place) else { return Vec::new() };
        let runs = label::fit(mark, label, picture.size.has_numbers());
        let Some(tone) = mark.tone() else { return self.write_all(runs, Some(Paint::Ghost)) };
        let zone = || cells_where(picture, |place| place == mark.place);
        let on_row = |row: u16| runs.iter().any(|run| run.row == row);
        let whole = match mark.weight {
            Weight::Severe => marks.cursor != Some(mark.place),
            Weight::Untold | Weight::Light | Weight::Moderate => false,
        };
        let rows = match mark.weight {
            Weight::Severe | Weight::Moderate => picture.size.is_large(),
            Weight::Untold | Weight::Light => false,
        };
        if whole {
            self.paint(zone(), Paint::Fill(tone));
        } else if rows {
            self.paint(zone().filter(|(_, row)| on_row(*row)), Paint::Fill(tone));
        } else if mark.weight >= Weight::Moderate {
            self.paint(label.text.cells(), Paint::Fill(tone));
        }
        self.write_all(runs, Some(Paint::Fill(tone)))
    }

    /// A block hides the number 5, as it hides that horn in life, but never a finding there.
    fn draw_block(
        &mut self,
        picture: &FootPicture,
        marks: &Marks,
        place: Place,
        tone: Tone,
        mark: Option<&ZoneMark>,
    ) -> Vec<Run> {
        let Some(label) = picture.label_box(place) else { return Vec::new() };
        let block = place.side().and_then(|side| marks.claw(picture.foot, side).block);
        let (days, short_days) = block.map(|block| (words::block_days(block), words::block_days_short(block))).unzip();
        let days = [days.unwrap_or_default(), short_days.unwrap_or_default()];
        let found = mark.and_then(|mark| label::in_line(mark, label.text.cols));
        for (col, row) in cells_where(picture, |owner| owner == place) {
            self.write(&Run { row, col, text: "#".to_owned() }, Some(Paint::Fill(tone)));
        }
        let tries = match &found {
            Some(found) => [vec![found, "BLOCK", &days[0]], vec![found, "BLK"], vec![found]],
            None => [vec!["BLOCK", &days[0]], vec!["BLK", &days[1]], vec!["B"]],
        };
        let told = |texts: &Vec<&str>| {
            let texts: Vec<&str> = texts.iter().filter(|text| !text.is_empty()).copied().collect();
            label::block(&texts, label)
        };
        let runs = tries.iter().find_map(told).unwrap_or_default();
        self.write_all(runs, Some(Paint::Fill(tone)))
    }

    fn draw_loss(&mut self, picture: &FootPicture, place: Place) -> Vec<Run> {
        let label = picture.label_box(place).filter(|_| place.zone() == Some(Zone::Horn(Horn::SoleApex)));
        let tries: [&[&str]; 3] = [&["GONE"], &["GO", "NE"], &["x"]];
        let runs = label.and_then(|label| tries.iter().find_map(|texts| label::block(texts, label)));
        self.write_all(runs.unwrap_or_default(), Some(Paint::Gone))
    }

    /// A bracket that would fall on another label or off the foot is left out.
    fn draw_brackets(&mut self, picture: &FootPicture, run: &Run) {
        let ends = [(run.col.checked_sub(1), '>'), (Some(run.col + run.cols()), '<')];
        for (col, bracket) in ends.into_iter().filter_map(|(col, bracket)| Some((col?, bracket))) {
            let free = self.cell(col, run.row).is_some_and(|cell| cell.text.is_none_or(|text| text == '#'));
            if free && picture.owner(col, run.row).is_some() {
                let run = Run { row: run.row, col, text: bracket.to_string() };
                self.write(&run, Some(Paint::Bracket));
            }
        }
        let plain = |cell: &Cell| cell.paint == Paint::Cursor;
        for col in run.col..run.col + run.cols() {
            if let Some(cell) = self.cell_mut(col, run.row).filter(|cell| plain(cell)) {
                cell.paint = Paint::Bracket;
            }
        }
    }

    fn draw_words(&mut self, picture: &FootPicture, marks: &Marks) {
        let wrapped = marks.foot(picture.foot).wrap.map(|wrap| Paint::Hatch(wrap.wrap_tone()));
        let word = |chosen: bool| if chosen { Paint::Chosen } else { wrapped.unwrap_or(Paint::Word) };
        if let Some(area) = picture.name() {
            let text = marks.names.foot(picture.foot);
            let run = Run { row: area.row, col: area.col, text: text.to_owned() };
            self.write(&run, Some(word(is_in_hand(picture, marks))));
        }
        for side in [Side::Outer, Side::Inner] {
            let claw = Place::Claw(picture.foot, side);
            let found = [claw, Place::Dewclaw(picture.foot, side)].into_iter().find_map(|place| marks.at(place));
            if let Some(area) = picture.claw_word(side) {
                let unnoted = found.filter(|_| picture.note(side).is_none()).map(mark_paint);
                let run = Run { row: area.row, col: area.col, text: words::claw(side).to_owned() };
                self.write(&run, Some(unnoted.unwrap_or(word(marks.cursor == Some(claw)))));
            }
            if let Some((area, mark)) = picture.note(side).zip(found) {
                let text = label::in_line(mark, area.cols).unwrap_or_else(|| "*".to_owned());
                let left = area.right() * 2 < picture.cols;
                let col = if left { area.col } else { area.right() - text.len() as u16 };
                self.write(&Run { row: area.row, col, text }, Some(mark_paint(mark)));
            }
        }
    }

    fn draw_bar(&mut self, picture: &FootPicture, marks: &Marks) {
        let foot = marks.foot(picture.foot);
        let area = picture.bar();
        let of_foot = marks.at(Place::Foot(picture.foot)).or_else(|| marks.at(Place::Above(picture.foot)));
        let found = of_foot.and_then(|mark| label::in_line(mark, area.cols));
        let named = (!picture.size.has_numbers()).then_some(picture.foot);
        let text = words::bar(foot, named, found.as_deref(), marks.names, area.cols);
        let paint = foot.wrap.map_or(Paint::Bar(foot.state), |wrap| Paint::Hatch(wrap.wrap_tone()));
        let filler = if foot.wrap.is_some() { "/" } else { " " };
        self.write(&Run { row: area.row, col: 0, text: filler.repeat(usize::from(area.cols)) }, Some(paint));
        let text = if foot.wrap.is_some() && named.is_none() { format!(" {text} ") } else { text };
        let col = area.cols.saturating_sub(text.chars().count() as u16) / 2;
        self.write(&Run { row: area.row, col, text }, Some(paint));
    }

    fn write_all(&mut self, runs: Vec<Run>, paint: Option<Paint>) -> Vec<Run> {
        for run in &runs {
            self.write(run, paint);
        }
        runs
    }
}

fn ground(picture: &FootPicture, col: u16, row: u16) -> Cell {
    let zone = picture.owner(col, row).and_then(Place::zone);
    Cell { text: None, outline: outline(picture, col, row), paint: zone.map_or(Paint::Ground, Paint::Field) }
}

fn cells_where(picture: &FootPicture, wanted: impl Fn(Place) -> bool) -> impl Iterator<Item = (u16, u16)> {
    picture.drawing().cells().filter(move |(col, row)| picture.owner(*col, *row).is_some_and(&wanted))
}

fn is_in_hand(picture: &FootPicture, marks: &Marks) -> bool {
    matches!(marks.foot(picture.foot).state, FootState::InHand(_))
}

fn mark_paint(mark: &ZoneMark) -> Paint {
    mark.tone().map_or(Paint::Ghost, Paint::Fill)
}

fn lost(place: Place, marks: &Marks) -> bool {
    place.foot().zip(place.side()).is_some_and(|(foot, side)| marks.claw(foot, side).gone)
}

/// Loudness of the block that covers the place.
fn covers(place: Place, marks: &Marks) -> Option<Tone> {
    let covered = place.zone() == Some(Zone::Horn(Horn::SoleApex));
    let (foot, side) = place.foot().zip(place.side()).filter(|_| covered)?;
    marks.claw(foot, side).block.map(|block| block.block_tone())
}
