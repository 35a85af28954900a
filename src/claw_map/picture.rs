//! One foot as it is seen: a drawing turned toe down or toe up, with the foot's own names for its cells.
//!
//! Left feet have their outer claw left, right feet their outer claw right, in both views. Toe down is the sole in the hand
//! of somebody behind the lifted foot. Toe up is the print seen from above, **not** the sole in the hand: a left foot held
//! sole up and toe up has its outer claw on the right.

use crate::claw_map::area::Area;
use crate::claw_map::mask::{LabelBox, Mask, Size, Spot, Word};
use crate::domain::anatomy::{Foot, Place, Side, Zone};

/// Which way the toes point.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum View {
    /// As the sole hangs in the hand, seen from behind the lifted foot.
    #[default]
    ToeDown,
    /// The print as seen from above.
    ToeUp,
}

/// A drawing of one foot: who owns which cell and where its labels stand.
#[derive(Debug, Clone, Copy)]
pub struct FootPicture {
    /// Its size.
    pub size: Size,
    /// The foot.
    pub foot: Foot,
    /// Which way the toes point.
    pub view: View,
    /// Width in cells.
    pub cols: u16,
    /// Height in cells, with the bar.
    pub rows: u16,
    mask: &'static Mask,
}

impl FootPicture {
    /// The picture of a foot.
    pub fn of(size: Size, foot: Foot, view: View) -> Self {
        let mask = Mask::of(size);
        FootPicture { size, foot, view, cols: mask.cols, rows: mask.rows + 1, mask }
    }

    /// The part above the bar.
    pub fn drawing(&self) -> Area {
        Area::new(0, 0, self.cols, self.mask.rows)
    }

    /// The row below, for the foot's state and its wrap.
    pub fn bar(&self) -> Area {
        Area::new(self.mask.rows, 0, self.cols, 1)
    }

    /// The zone that owns the cell; none in the corners, on the bar and outside.
    pub fn owner(&self, col: u16, row: u16) -> Option<Place> {
        if !self.drawing().contains(col, row) {
            return None;
        }
        let row = match self.view {
            View::ToeUp => row,
            View::ToeDown => self.mask.rows - 1 - row,
        };
        self.mask.spot(col, row).map(|spot| match spot {
            Spot::Left(horn) => Place::Horn(self.foot, self.foot.claw_at_left(), horn),
            Spot::Right(horn) => Place::Horn(self.foot, self.foot.claw_at_left().partner(), horn),
            Spot::Skin(skin) => Place::Skin(self.foot, skin),
        })
    }

    /// Where the number or code of a zone of this foot stands; none for another foot or a place without zone.
    pub fn label_box(&self, place: Place) -> Option<LabelBox> {
        if place.foot() != Some(self.foot) {
            return None;
        }
        let (zone, side) = (place.zone()?, place.side());
        Some(self.mask.label(zone).turned(|area| self.turned(area, side)))
    }

    /// Where a claw's "outer" or "inner" stands; none in the smallest size.
    pub fn claw_word(&self, side: Side) -> Option<Area> {
        Some(self.turned(self.mask.word(Word::Claw)?, Some(side)))
    }

    /// Where LF RF LH RH stands: at the outer claw. None in the smallest size, where it stands in the bar.
    pub fn name(&self) -> Option<Area> {
        Some(self.turned(self.mask.word(Word::Foot)?, Some(Side::Outer)))
    }

    /// Where a finding of the whole claw stands; none where there is no room.
    pub fn note(&self, side: Side) -> Option<Area> {
        Some(self.turned(self.mask.word(Word::Note)?, Some(side)))
    }

    /// Every zone of the foot, both claws, as a place.
    pub fn places(&self) -> impl Iterator<Item = Place> {
        let foot = self.foot;
        Zone::all().flat_map(move |zone| {
            let outer = zone.on(foot, Side::Outer);
            [Some(outer), outer.at_partner()].into_iter().flatten()
        })
    }

    /// What a tap on the cell means: a zone, a claw by its word, or the whole foot.
    pub fn place_at(&self, col: u16, row: u16) -> Option<Place> {
        let on_word = |side: &Side| self.claw_word(*side).is_some_and(|word| word.contains(col, row));
        let on_claw = || [Side::Outer, Side::Inner].into_iter().find(on_word).map(|side| Place::Claw(self.foot, side));
        let inside = col < self.cols && row < self.rows;
        inside.then(|| self.owner(col, row).or_else(on_claw).unwrap_or(Place::Foot(self.foot)))
    }

    /// A rectangle of the toe-up drawing's left claw as it stands in this picture, on the claw of that side.
    fn turned(&self, area: Area, side: Option<Side>) -> Area {
        let left = side.is_none_or(|side| side == self.foot.claw_at_left());
        let area = if left { area } else { area.mirrored(self.cols) };
        match self.view {
            View::ToeUp => area,
            View::ToeDown => area.flipped(self.mask.rows),
        }
    }
}
