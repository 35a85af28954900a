//! Places: `LH`, `LH heel`, `LH outer`, `LH outer 4`, `LH outer dewclaw`, `LH above`; nothing at all is the whole animal.

use super::Mistake;
use super::reader::Reader;
use super::words::{self, FEET, SIDES, SKIN, look_up};
use crate::domain::anatomy::{Foot, Place, Side, Zone};

/// Reads the place at the start of a line.
pub(super) fn read(reader: &mut Reader) -> Result<Place, Mistake> {
    match reader.longest(|word| look_up(FEET, word)) {
        Some(foot) => on_foot(reader, foot),
        None => Ok(Place::Animal),
    }
}

/// Reads what follows a foot.
pub(super) fn on_foot(reader: &mut Reader, foot: Foot) -> Result<Place, Mistake> {
    let side = reader.longest(|word| look_up(SIDES, word));
    if let Some(zone) = zone(reader)? {
        return in_zone(reader, foot, side, zone);
    }
    if reader.take("above") {
        return match side {
            None => Ok(Place::Above(foot)),
            Some(_) => Err(reader.stumble_at(reader.at() - 1, "above the foot there are no claws", foot_alone(foot))),
        };
    }
    if reader.take("dewclaw") {
        let side = side.ok_or_else(|| {
            let foot = words::printed(foot);
            reader.stumble_at(
                reader.at() - 1,
                "which dewclaw?",
                format!("write {foot} outer dewclaw or {foot} inner dewclaw"),
            )
        })?;
        return Ok(Place::Dewclaw(foot, side));
    }
    // "LH outer claw trim" reads better to some.
    if side.is_some() {
        reader.take("claw");
    }
    Ok(side.map_or(Place::Foot(foot), |side| Place::Claw(foot, side)))
}

fn foot_alone(foot: Foot) -> String {
    format!("write {} above", words::printed(foot))
}

fn zone(reader: &mut Reader) -> Result<Option<Zone>, Mistake> {
    // "heel horn erosion" is a finding, not the heel.
    if reader.peek_longest(words::finding).is_some() {
        return Ok(None);
    }
    if let Some(skin) = reader.longest(|word| look_up(SKIN, word)) {
        return Ok(Some(Zone::Skin(skin)));
    }
    let said = reader.take("zone");
    let at = reader.at();
    let Some(number) = reader.number::<u64>() else {
        return if said { Err(reader.stumble("which zone?", "write a zone from 0 to 12")) } else { Ok(None) };
    };
    let zone = u8::try_from(number).ok().and_then(Zone::from_number);
    let wrong = || reader.stumble_at(at, format!("there is no zone {number}"), "write a zone from 0 to 12");
    zone.map(Some).ok_or_else(wrong)
}

fn in_zone(reader: &Reader, foot: Foot, side: Option<Side>, zone: Zone) -> Result<Place, Mistake> {
    let (at, lift, number) = (reader.at() - 1, words::printed(foot), zone.number());
    match (zone, side) {
        (Zone::Skin(skin), None) => Ok(Place::Skin(foot, skin)),
        (Zone::Horn(horn), Some(side)) => Ok(Place::Horn(foot, side, horn)),
        (Zone::Skin(skin), Some(_)) => {
            let word = words::first_word(SKIN, skin);
            let hint = match skin {
                crate::domain::anatomy::Skin::Heel => "; the bulb of a claw is zone 6",
                crate::domain::anatomy::Skin::Cleft | crate::domain::anatomy::Skin::Front => "",
            };
            Err(reader.stumble_at(
                at,
                format!("the {word} (zone {number}) is skin and belongs to the whole foot"),
                format!("write {lift} {word}{hint}"),
            ))
        }
        (Zone::Horn(_), None) => Err(reader.stumble_at(
            at,
            format!("zone {number} is on a claw: which one?"),
            format!("write {lift} outer {number} or {lift} inner {number}"),
        )),
    }
}
