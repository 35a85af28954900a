//! Invented animals as the map is told of them.

use crushbook::claw_map::marks::{Due, FootState, LeftOn, Marks, Time, Weight, ZoneMark};
use crushbook::domain::anatomy::{Foot, Place, Side, Zone};

/// A place by foot, claw and zone number.
pub fn zone(foot: Foot, side: Side, number: u8) -> Place {
    Zone::from_number(number).expect("a zone from 0 to 12").on(foot, side)
}

/// A finding with grade, of today.
pub fn found(place: Place, code: &str, weight: Weight) -> ZoneMark {
    let staged = code.starts_with('M');
    ZoneMark {
        place,
        code: code.into(),
        group: group(code).into(),
        weight,
        staged,
        time: Time::Today,
        change: None,
        more: 0,
    }
}

/// A finding of last time without answer.
pub fn ghost(place: Place, code: &str) -> ZoneMark {
    ZoneMark { time: Time::LastTime, ..found(place, code, Weight::Moderate) }
}

/// Groups of the ICAR Claw Health Atlas terms: SH, WL, HF, U (from memory); a DD stage belongs to DD.
pub fn group(code: &str) -> &str {
    match code {
        "SHD" | "SHC" => "SH",
        "WLF" | "WLA" => "WL",
        "HFA" | "HFH" | "HFV" => "HF",
        "SU" | "BU" | "TU" => "U",
        stage if stage.starts_with('M') => "DD",
        own => own,
    }
}

/// A cow with something in every state: left hind in hand, right hind wrapped six days, ghosts and blocks.
pub fn busy() -> Marks {
    use Foot::{LeftFront, LeftHind, RightFront, RightHind};
    use Side::{Inner, Outer};
    let both = ZoneMark { time: Time::Both, more: 1, ..found(zone(RightFront, Inner, 4), "SU", Weight::Moderate) };
    let mut marks = Marks {
        zones: vec![
            found(zone(LeftHind, Outer, 4), "SU", Weight::Severe),
            found(zone(LeftHind, Outer, 2), "WLA", Weight::Moderate),
            found(zone(LeftHind, Outer, 7), "HFV", Weight::Light),
            found(zone(LeftHind, Inner, 6), "HHE", Weight::Light),
            found(zone(LeftHind, Outer, 0), "IH", Weight::Light),
            ghost(zone(LeftHind, Outer, 3), "WLF"),
            ghost(zone(LeftHind, Inner, 4), "SHC"),
            ghost(zone(RightHind, Outer, 4), "SU"),
            ghost(zone(RightHind, Outer, 10), "M2"),
            found(zone(RightFront, Outer, 10), "M4.1", Weight::Moderate),
            found(zone(RightFront, Outer, 6), "HHE", Weight::Untold),
            found(Place::Claw(RightFront, Inner), "CC", Weight::Light),
            both,
        ],
        cursor: Some(zone(LeftHind, Outer, 5)),
        ..Marks::default()
    };
    marks.foot_mut(LeftFront).state = FootState::NothingFound;
    marks.foot_mut(RightFront).state = FootState::Done(5);
    marks.foot_mut(LeftHind).state = FootState::InHand(5);
    marks.foot_mut(RightHind).wrap = Some(LeftOn { days: Some(6), due: Due::Late });
    marks.claw_mut(LeftHind, Inner).block = Some(LeftOn { days: Some(0), due: Due::Coming });
    marks.claw_mut(RightHind, Inner).block = Some(LeftOn { days: Some(29), due: Due::Due });
    marks
}
