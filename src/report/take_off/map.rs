//! The small map on the list: the foot in question as it is seen from above, and beside it where on the animal it is.
//!
//! Built from the same drawings as the map on the screen: a rectangle for every run of cells of one zone. It prints without
//! colour: a wrap is hatching, a block is black, a finding has its letters.

use crate::claw_map::label::{self, Run};
use crate::claw_map::marks::{Marks, Time, ZoneMark};
use crate::claw_map::mask::Size;
use crate::claw_map::picture::{FootPicture, View};
use crate::domain::anatomy::{Foot, Horn, Place, Side, Tissue, Zone};
use crate::domain::vocabulary::Vocabulary;
use crate::report::words::foot_in_full;
use maud::{Markup, html};

/// A cell of a drawing, in units of the picture: twice as high as wide, as on a screen.
const CELL: (u16, u16) = (5, 10);
/// Blank units round a foot, where its wrap is hatched.
const RIM: u16 = 4;
/// Units from one line of hatching to the next.
const HATCH: u16 = 6;
const GAP: u16 = 8;
/// The four feet are drawn at this scale of the one.
const SMALL: f32 = 0.44;

/// Draws the foot, and where on the animal it is.
pub fn map(marks: &Marks, foot: Foot) -> Markup {
    let one = FootPicture::of(Size::S60, foot, View::ToeUp);
    let (width, height) = size(&one);
    let small = |units: u16| (f32::from(units) * SMALL).ceil() as u16;
    let (across, down) = (small(width) + 2, small(height) + 2);
    html! {
        svg class="map" role="img" aria-label=(format!("{}, seen from above", foot_in_full(foot)))
            viewBox=(format!("0 0 {} {height}", width + GAP + 2 * across)) {
            (drawn(&one, marks))
            @for (at, other) in (0u16..).zip(Foot::ALL) {
                g transform=(format!("translate({} {}) scale({SMALL})", width + GAP + at % 2 * across, at / 2 * down)) {
                    (locator(*other, foot))
                }
            }
        }
    }
}

fn size(picture: &FootPicture) -> (u16, u16) {
    let drawing = picture.drawing();
    (drawing.cols * CELL.0 + 2 * RIM, drawing.rows * CELL.1 + 2 * RIM)
}

/// The claws of a foot without anything on them; of the one in question they are black.
fn locator(foot: Foot, wanted: Foot) -> Markup {
    let picture = FootPicture::of(Size::S60, foot, View::ToeUp);
    html! {
        @for run in runs(&picture).iter().filter(|run| run.place.side().is_some()) {
            (rect(run, if foot == wanted { "here" } else { "there" }))
        }
    }
}

fn drawn(picture: &FootPicture, marks: &Marks) -> Markup {
    let foot = picture.foot;
    let wrapped = marks.foot(foot).wrap.is_some();
    let (width, height) = size(picture);
    html! {
        @if wrapped {
            path class="hatch" d=(hatching(width, height)) {}
            rect class="rim" x="1" y="1" width=(width - 2) height=(height - 2) rx="6" {}
        }
        @for run in runs(picture) {
            (rect(&run, look(&run, marks)))
        }
        @for place in picture.places() {
            @for line in said(picture, marks, place) {
                (letters_at(&line, if is_block(place, marks) { "white" } else { "black" }))
            }
        }
    }
}

/// Cells of one row that one zone owns.
struct Cells {
    place: Place,
    col: u16,
    row: u16,
    cols: u16,
}

fn runs(picture: &FootPicture) -> Vec<Cells> {
    let mut runs: Vec<Cells> = Vec::new();
    for (col, row) in picture.drawing().cells() {
        let Some(place) = picture.owner(col, row) else { continue };
        match runs.last_mut() {
            Some(run) if run.place == place && run.row == row && run.col + run.cols == col => run.cols += 1,
            Some(_) | None => runs.push(Cells { place, col, row, cols: 1 }),
        }
    }
    runs
}

/// Every element is closed: unlike in the page around it, none closes itself in a drawing.
fn rect(run: &Cells, class: &str) -> Markup {
    let (x, y) = (RIM + run.col * CELL.0, RIM + run.row * CELL.1);
    html! { rect class=(class) x=(x) y=(y) width=(run.cols * CELL.0) height=(CELL.1) {} }
}

/// How a zone looks: gone, under a block, with something found, or as what it is made of.
fn look(run: &Cells, marks: &Marks) -> &'static str {
    let Some(zone) = run.place.zone() else { return "skin" };
    if gone(run.place, marks) {
        return "gone";
    }
    if is_block(run.place, marks) {
        return "block";
    }
    if marks.at(run.place).is_some() {
        return "found";
    }
    match (zone, zone.tissue()) {
        (Zone::Horn(Horn::ToeWhiteLine | Horn::WhiteLine | Horn::WallBulb), _) => "line",
        (_, Tissue::Wall) => "wall",
        (_, Tissue::Sole) => "sole",
        (_, Tissue::Heel) => "heel",
        (_, Tissue::Skin) => "skin",
    }
}

fn claw(place: Place) -> Option<(Foot, Side)> {
    place.foot().zip(place.side())
}

fn gone(place: Place, marks: &Marks) -> bool {
    claw(place).is_some_and(|(foot, side)| marks.claw(foot, side).gone)
}

/// A block stands under the sole of its claw.
fn is_block(place: Place, marks: &Marks) -> bool {
    let sole = matches!(place.zone(), Some(Zone::Horn(Horn::SoleApex | Horn::SoleBulb)));
    sole && claw(place).is_some_and(|(foot, side)| marks.claw(foot, side).block.is_some())
}

/// What is written into a zone.
fn said(picture: &FootPicture, marks: &Marks, place: Place) -> Vec<Run> {
    let Some(label) = picture.label_box(place) else { return Vec::new() };
    let apex = place.zone() == Some(Zone::Horn(Horn::SoleApex));
    if gone(place, marks) {
        return if apex { label::block(&["x"], label).unwrap_or_default() } else { Vec::new() };
    }
    if is_block(place, marks) {
        return if apex { label::block(&["B"], label).unwrap_or_default() } else { Vec::new() };
    }
    // On paper a finding is what it is; that it waits for an answer is the trimmer's to know.
    let mark = marks.at(place).map(|mark| ZoneMark { time: Time::Today, ..mark.clone() });
    mark.map(|mark| label::fit(&mark, label, true)).unwrap_or_default()
}

fn letters_at(run: &Run, class: &str) -> Markup {
    let middle = RIM + run.col * CELL.0 + run.cols() * CELL.0 / 2;
    let foot_of_line = RIM + run.row * CELL.1 + 8;
    html! { text class=(class) x=(middle) y=(foot_of_line) { (run.text) } }
}

/// Strokes across a rectangle, each cut at its edges: a pattern would be named by an address, and the page has none.
fn hatching(width: u16, height: u16) -> String {
    let strokes = (HATCH..width + height).step_by(usize::from(HATCH)).map(|at| {
        let (x1, y1) = (at.saturating_sub(height), at.min(height));
        let (x2, y2) = (at.min(width), at.saturating_sub(width));
        format!("M{x1} {y1}L{x2} {y2}")
    });
    strokes.collect()
}
