//! How the domain's structs and sums are kept: one row a field, in the order of the bytes.

use super::error::WireError;
use super::stored::{Code, Stored, choice, record, sum, the_one, within};
use crate::domain::anatomy::{Foot, Place, Side, Zone, ZoneMap};
use crate::domain::event::{Detail, Gap, Item, OpenGap, PutDetail};
use crate::domain::finding::{Degree, Finding, Grade, Stage};
use crate::domain::herd::{Herd, Labels, MedicineUse, Status};
use crate::domain::ids::PutId;
use crate::domain::treatment::{BlockKind, Colour, Gait, GaitScale, Milking, OffBy, Put};
use crate::domain::vocabulary::{Vocabulary, vocabulary};
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

record! { Labels as LabelsKept { number: String, tag: String, electronic: String, name: String } }

record! { Herd as HerdKept {
    breed: String,
    group: String,
    born: Option<NaiveDate>,
    lactation: Option<u8>,
    calved: Option<NaiveDate>,
    dry_from: Option<NaiveDate>,
    due_to_calve: Option<NaiveDate>,
    status: Option<Status>,
} }

record! { MedicineUse as MedicineUseKept {
    product: String,
    registration: String,
    batch: String,
    expiry: Option<NaiveDate>,
    first: Option<NaiveDate>,
    last: Option<NaiveDate>,
    doses: Option<u16>,
    quantity: String,
    unit: String,
    route: String,
    reason: String,
    given_by: String,
    prescriber: String,
    prescriber_contact: String,
    supplier: String,
    supplier_address: String,
    document: String,
    meat_days: Option<u16>,
    milk_days: Option<u16>,
    stated_by: String,
} }

impl Stored for Box<MedicineUse> {
    type Kept = MedicineUseKept;
    fn keep(&self) -> Result<MedicineUseKept, WireError> {
        self.as_ref().keep()
    }
    fn restore(kept: MedicineUseKept) -> Result<Box<MedicineUse>, WireError> {
        MedicineUse::restore(kept).map(Box::new)
    }
}

record! { OffBy as OffByKept { day: NaiveDate, milking: Milking } }
record! { OpenGap as OpenGapKept { gap: Gap, place: Place } }

record! { Gait as GaitKept { scale: GaitScale, score: u8 } }

choice! { Item as ItemKept { known: Known(PutId), met: Met(Place) } }

choice! { Detail as DetailKept {
    degree: Degree(Degree),
    subtype: Subtype(Finding),
    infected: Infected(bool),
    deep: Deep(bool),
    side: Side(Side),
} }

choice! { PutDetail as PutDetailKept {
    off_by: OffBy(OffBy),
    remover: Remover(String),
    colour: Colour(Colour),
    material: Kind(BlockKind),
    product: Product(String),
} }

sum! { Put as PutKept {
    block: Block as BlockKept { foot: Foot, side: Side, kind: BlockKind },
    wrap: Wrap as WrapKept { over: Place, colour: Option<Colour> },
    dressing: Dressing as DressingKept { place: Place, product: String },
} }

/// A grade or a stage; neither: not given.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DegreeKept {
    grade: Option<Code<Grade>>,
    stage: Option<Code<Stage>>,
}

impl Stored for Degree {
    type Kept = DegreeKept;
    fn keep(&self) -> Result<DegreeKept, WireError> {
        let (grade, stage) = match self {
            Degree::NotGiven => (None, None),
            Degree::Grade(grade) => (Some(*grade), None),
            Degree::Stage(stage) => (None, Some(*stage)),
        };
        Ok(DegreeKept { grade: grade.keep()?, stage: stage.keep()? })
    }
    fn restore(kept: DegreeKept) -> Result<Degree, WireError> {
        match (Stored::restore(kept.grade)?, Stored::restore(kept.stage)?) {
            (None, None) => Ok(Degree::NotGiven),
            (Some(grade), None) => Ok(Degree::Grade(grade)),
            (None, Some(stage)) => Ok(Degree::Stage(stage)),
            (Some(_), Some(_)) => Err(WireError::NotOne { what: "Degree", told: 2, wanted: "at most one" }),
        }
    }
}

vocabulary! {
    /// What a place is.
    PlaceKind, "place" {
        /// The whole animal.
        Animal = 1 "animal",
        /// Above the foot.
        Above = 2 "above",
        /// The whole foot.
        Foot = 3 "foot",
        /// A zone of the skin.
        Skin = 4 "skin",
        /// A whole claw.
        Claw = 5 "claw",
        /// A dewclaw.
        Dewclaw = 6 "dewclaw",
        /// A zone of the horn.
        Horn = 7 "horn",
    }
}

/// A place. A zone is its number on the map, and the map's name always stands beside it.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlaceKept {
    kind: Code<PlaceKind>,
    foot: Option<Code<Foot>>,
    side: Option<Code<Side>>,
    zone: Option<u8>,
    map: Option<Code<ZoneMap>>,
}

impl Stored for Place {
    type Kept = PlaceKept;
    fn keep(&self) -> Result<PlaceKept, WireError> {
        let kind = match self {
            Place::Animal => PlaceKind::Animal,
            Place::Above(_) => PlaceKind::Above,
            Place::Foot(_) => PlaceKind::Foot,
            Place::Skin(_, _) => PlaceKind::Skin,
            Place::Claw(_, _) => PlaceKind::Claw,
            Place::Dewclaw(_, _) => PlaceKind::Dewclaw,
            Place::Horn(_, _, _) => PlaceKind::Horn,
        };
        Ok(PlaceKept {
            kind: kind.keep()?,
            foot: self.foot().keep()?,
            side: self.side().keep()?,
            zone: self.zone().map(Zone::number),
            map: self.zone().map(Zone::map).keep()?,
        })
    }
    fn restore(kept: PlaceKept) -> Result<Place, WireError> {
        let kind = PlaceKind::restore(kept.kind)?;
        let foot: Option<Foot> = Stored::restore(kept.foot)?;
        let side: Option<Side> = Stored::restore(kept.side)?;
        let map: Option<ZoneMap> = Stored::restore(kept.map)?;
        // On a map that is not told a number means nothing; the one map there is has all its zones in `Zone`.
        let zone = kept.zone.and_then(Zone::from_number).filter(|_| map.is_some());
        let whole = kept.zone.is_none() && map.is_none();
        match (kind, foot, side, zone) {
            (PlaceKind::Animal, None, None, None) if whole => Ok(Place::Animal),
            (PlaceKind::Above, Some(foot), None, None) if whole => Ok(Place::Above(foot)),
            (PlaceKind::Foot, Some(foot), None, None) if whole => Ok(Place::Foot(foot)),
            (PlaceKind::Claw, Some(foot), Some(side), None) if whole => Ok(Place::Claw(foot, side)),
            (PlaceKind::Dewclaw, Some(foot), Some(side), None) if whole => Ok(Place::Dewclaw(foot, side)),
            (PlaceKind::Skin, Some(foot), None, Some(Zone::Skin(skin))) => Ok(Place::Skin(foot, skin)),
            (PlaceKind::Horn, Some(foot), Some(side), Some(Zone::Horn(horn))) => Ok(Place::Horn(foot, side, horn)),
            _ => Err(WireError::BadPlace {
                kind: kind.word(),
                foot: foot.map_or("none", Foot::word),
                side: side.map_or("none", Side::word),
                zone: kept.zone.map_or("none".to_owned(), |number| number.to_string()),
            }),
        }
    }
}
