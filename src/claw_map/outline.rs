//! A claw in strokes, for screens without colour and for paper: worked out from who owns which cell, never stored.

use crate::claw_map::picture::FootPicture;
use crate::domain::anatomy::{Horn, Place, Zone};

/// The stroke on that cell: its claw's edge, `:` on the white line, in large sizes a border between zones, or a blank.
pub fn outline(picture: &FootPicture, col: u16, row: u16) -> char {
    let here = picture.owner(col, row);
    let Some((side, horn)) = here.and_then(|place| place.side().zip(horn_of(place))) else { return ' ' };
    let horn_at = |col: Option<u16>, row: Option<u16>| {
        picture.owner(col?, row?).filter(|place| place.side() == Some(side)).and_then(horn_of)
    };
    let left = horn_at(col.checked_sub(1), Some(row));
    let right = horn_at(col.checked_add(1), Some(row));
    let above = horn_at(Some(col), row.checked_sub(1));
    let below = horn_at(Some(col), row.checked_add(1));
    let cleft_is_right = side == picture.foot.claw_at_left();
    let toward_cleft = if cleft_is_right { right } else { left };
    let other = |neighbour: Option<Horn>| picture.size.is_large() && neighbour.is_some_and(|zone| zone != horn);
    match (left.is_some(), right.is_some(), above.is_some(), below.is_some()) {
        (false, true, false, _) | (true, false, _, false) => '/',
        (true, false, false, _) | (false, true, _, false) => '\\',
        (false, _, _, _) | (_, false, _, _) => '|',
        (true, true, false, _) => '-',
        (true, true, true, false) => '_',
        (true, true, true, true) if is_white_line(horn) => ':',
        (true, true, true, true) if other(toward_cleft) => '|',
        (true, true, true, true) if other(below) => '_',
        (true, true, true, true) => ' ',
    }
}

fn horn_of(place: Place) -> Option<Horn> {
    match place.zone()? {
        Zone::Horn(horn) => Some(horn),
        Zone::Skin(_) => None,
    }
}

fn is_white_line(horn: Horn) -> bool {
    match horn {
        Horn::ToeWhiteLine | Horn::WhiteLine | Horn::WallBulb => true,
        Horn::SoleBulb
        | Horn::SoleApex
        | Horn::Bulb
        | Horn::WallToe
        | Horn::WallHeel
        | Horn::CleftWallToe
        | Horn::CleftWallHeel => false,
    }
}
