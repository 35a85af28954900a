//! What can be found on a foot: the terms of the ICAR Claw Health Atlas (ICAR Technical Series 2015, 2nd edition 2020;
//! codes from memory), where each can be, and how it is graded. One table, from which pads, checks and sheets are made.

use super::anatomy::{Place, Zone};
use super::vocabulary::{Vocabulary, vocabulary};

vocabulary! {
    /// A finding. Codes are the Atlas's; the four groups stand where the subtype was not told.
    Finding, "finding" {
        /// Asymmetric claws.
        AC = 1 "AC",
        /// Concave dorsal wall.
        CD = 2 "CD",
        /// Corkscrew claw.
        CC = 3 "CC",
        /// Scissor claws.
        SC = 4 "SC",
        /// Digital dermatitis.
        DD = 5 "DD",
        /// Interdigital or superficial dermatitis.
        ID = 6 "ID",
        /// Interdigital hyperplasia.
        IH = 7 "IH",
        /// Interdigital phlegmon, foul.
        IP = 8 "IP",
        /// Swelling of coronet or bulb.
        SW = 9 "SW",
        /// Double sole.
        DS = 10 "DS",
        /// Thin sole.
        TS = 11 "TS",
        /// Heel horn erosion.
        HHE = 12 "HHE",
        /// Horn fissure, subtype not told.
        HF = 13 "HF",
        /// Axial horn fissure.
        HFA = 14 "HFA",
        /// Horizontal horn fissure.
        HFH = 15 "HFH",
        /// Vertical horn fissure.
        HFV = 16 "HFV",
        /// Sole haemorrhage, subtype not told.
        SH = 17 "SH",
        /// Sole haemorrhage, diffuse.
        SHD = 18 "SHD",
        /// Sole haemorrhage, circumscribed.
        SHC = 19 "SHC",
        /// Ulcer, zone not told.
        U = 20 "U",
        /// Sole ulcer.
        SU = 21 "SU",
        /// Bulb ulcer.
        BU = 22 "BU",
        /// Toe ulcer.
        TU = 23 "TU",
        /// Toe necrosis.
        TN = 24 "TN",
        /// White line disease, subtype not told.
        WL = 25 "WL",
        /// White line fissure.
        WLF = 26 "WLF",
        /// White line abscess.
        WLA = 27 "WLA",
        /// Foreign body (nail, wire, stone). Not an Atlas term; the word is ours.
        ForeignBody = 28 "foreign-body",
        /// Anything else, in the trimmer's own words.
        OwnWords = 29 "own-words",
    }
}

vocabulary! {
    /// How severe a finding is: the three words of the ICAR data exchange standard.
    Grade, "grade" {
        /// Light.
        Light = 1 "light",
        /// Moderate.
        Moderate = 2 "moderate",
        /// Severe.
        Severe = 3 "severe",
    }
}

vocabulary! {
    /// Stage of digital dermatitis (Doepfer et al. 1997; Berry et al. 2012 for M4.1).
    Stage, "stage" {
        /// None left.
        M0 = 1 "M0",
        /// Small active lesion under 2 cm.
        M1 = 2 "M1",
        /// Active ulcer of 2 cm or more (the papers say < 2 and > 2; 2 cm itself in M2 is our choice).
        M2 = 3 "M2",
        /// Healing under a dry scab.
        M3 = 4 "M3",
        /// Chronic, thickened or proliferative, no open ulcer.
        M4 = 5 "M4",
        /// M4 with a small active focus.
        M41 = 6 "M4.1",
    }
}

impl Stage {
    /// Active lesions: M1, M2, M4.1.
    pub fn is_active(self) -> bool {
        matches!(self, Stage::M1 | Stage::M2 | Stage::M41)
    }
}

/// Grade or stage of a finding, or that none was given. Never a silent default.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Degree {
    /// Not given.
    NotGiven,
    /// A grade, for everything but digital dermatitis.
    Grade(Grade),
    /// A stage, for digital dermatitis.
    Stage(Stage),
}

impl Degree {
    /// How bad it is, to compare two looks at one thing; none where nothing was told. Active dermatitis is worse than what is
    /// not active, a large lesion worse than a small one (common practice).
    pub fn rank(self) -> Option<u16> {
        match self {
            Degree::NotGiven => None,
            Degree::Grade(grade) => Some(grade.number()),
            Degree::Stage(stage) => Some(match stage {
                Stage::M0 => 0,
                Stage::M3 => 1,
                Stage::M4 => 2,
                Stage::M1 | Stage::M41 => 3,
                Stage::M2 => 4,
            }),
        }
    }
}

/// Which scale a finding is graded on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scale {
    /// Light, moderate, severe.
    Grade,
    /// M0 to M4.1.
    Stage,
    /// None.
    None,
}

/// Whose finding it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Level {
    /// The foot's.
    Foot,
    /// One claw's.
    Claw,
    /// Either, and places that carry no number.
    Any,
}

/// One row of the table of findings.
#[derive(Debug, Clone, Copy)]
pub struct Row {
    /// The finding.
    pub finding: Finding,
    /// Its name in the Atlas.
    pub name: &'static str,
    /// Whose it is.
    pub level: Level,
    /// Numbers of the zones it can be in; empty: no zone, the whole foot or claw.
    pub zones: &'static [u8],
    /// The group it is a subtype of.
    pub group: Option<Finding>,
    /// How it is graded.
    pub scale: Scale,
    /// Whether it can be infected with digital dermatitis ("non-healing").
    pub infectable: bool,
}

const fn row(finding: Finding, name: &'static str, level: Level, zones: &'static [u8]) -> Row {
    Row { finding, name, level, zones, group: None, scale: Scale::Grade, infectable: false }
}

const fn sub(group: Finding, row: Row) -> Row {
    Row { group: Some(group), ..row }
}

const fn infectable(row: Row) -> Row {
    Row { infectable: true, ..row }
}

const ALL_ZONES: &[u8] = &[0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];

/// The table of findings, in the order of the codes. Zones: International Lameness Committee poster 2008 and Shearer et
/// al. 2004; toe ulcer 1 (poster) or 5 (Shearer), both accepted; white line included in haemorrhage from memory (in
/// heifers its commonest place, Vermunt and Greenough 1996); axial fissure 11, 12 from memory.
pub const FINDINGS: &[Row] = &[
    row(Finding::AC, "asymmetric claws", Level::Foot, &[]),
    row(Finding::CD, "concave dorsal wall", Level::Claw, &[]),
    row(Finding::CC, "corkscrew claw", Level::Claw, &[]),
    row(Finding::SC, "scissor claws", Level::Foot, &[]),
    Row { scale: Scale::Stage, ..row(Finding::DD, "digital dermatitis", Level::Foot, &[10, 9, 0]) },
    row(Finding::ID, "interdigital dermatitis", Level::Foot, &[0, 10]),
    row(Finding::IH, "interdigital hyperplasia", Level::Foot, &[0]),
    row(Finding::IP, "foul (interdigital phlegmon)", Level::Foot, &[0, 9]),
    row(Finding::SW, "swelling of coronet or bulb", Level::Foot, &[9, 10]),
    row(Finding::DS, "double sole", Level::Claw, &[4, 5, 6]),
    row(Finding::TS, "thin sole", Level::Claw, &[4, 5]),
    row(Finding::HHE, "heel horn erosion", Level::Claw, &[6]),
    row(Finding::HF, "horn fissure", Level::Claw, &[7, 8, 11, 12]),
    infectable(sub(Finding::HF, row(Finding::HFA, "axial horn fissure", Level::Claw, &[11, 12]))),
    sub(Finding::HF, row(Finding::HFH, "horizontal horn fissure", Level::Claw, &[7, 8, 11, 12])),
    sub(Finding::HF, row(Finding::HFV, "vertical horn fissure", Level::Claw, &[7, 8])),
    row(Finding::SH, "sole haemorrhage", Level::Claw, &[1, 2, 3, 4, 5, 6]),
    sub(Finding::SH, row(Finding::SHD, "diffuse sole haemorrhage", Level::Claw, &[1, 2, 3, 4, 5, 6])),
    sub(Finding::SH, row(Finding::SHC, "circumscribed sole haemorrhage", Level::Claw, &[1, 2, 3, 4, 5, 6])),
    row(Finding::U, "ulcer", Level::Claw, &[1, 4, 5, 6]),
    infectable(sub(Finding::U, row(Finding::SU, "sole ulcer", Level::Claw, &[4]))),
    infectable(sub(Finding::U, row(Finding::BU, "bulb ulcer", Level::Claw, &[6]))),
    infectable(sub(Finding::U, row(Finding::TU, "toe ulcer", Level::Claw, &[1, 5]))),
    infectable(row(Finding::TN, "toe necrosis", Level::Claw, &[1, 5])),
    row(Finding::WL, "white line disease", Level::Claw, &[1, 2, 3]),
    infectable(sub(Finding::WL, row(Finding::WLF, "white line fissure", Level::Claw, &[1, 2, 3]))),
    infectable(sub(Finding::WL, row(Finding::WLA, "white line abscess", Level::Claw, &[1, 2, 3]))),
    row(Finding::ForeignBody, "foreign body", Level::Any, ALL_ZONES),
    Row { scale: Scale::None, ..row(Finding::OwnWords, "own words", Level::Any, ALL_ZONES) },
];

impl Finding {
    /// Its row in the table.
    pub fn row(self) -> &'static Row {
        FINDINGS.iter().find(|row| row.finding == self).expect("every finding has a row, tested")
    }

    /// The group it counts under: its own for a group and for what has none.
    pub fn group(self) -> Finding {
        self.row().group.unwrap_or(self)
    }

    /// Its subtypes possible in a zone; empty for what is no group.
    pub fn subtypes(self, zone: Zone) -> Vec<Finding> {
        let number = zone.number();
        FINDINGS
            .iter()
            .filter(|row| row.group == Some(self) && row.zones.contains(&number))
            .map(|row| row.finding)
            .collect()
    }

    /// The most exact code that the zone alone decides: an ulcer in 4 is SU, a fissure in 7 stays HF (two are possible).
    pub fn told_by(self, zone: Zone) -> Finding {
        match self.subtypes(zone).as_slice() {
            [only] => *only,
            _ => self,
        }
    }

    /// Whether it can be at that place.
    pub fn can_be_at(self, place: Place) -> bool {
        let row = self.row();
        match (row.level, place.zone()) {
            (Level::Any, _) => true,
            (Level::Foot | Level::Claw, Some(zone)) => row.zones.contains(&zone.number()),
            (Level::Foot, None) => row.zones.is_empty() && matches!(place, Place::Foot(_)),
            (Level::Claw, None) => row.zones.is_empty() && matches!(place, Place::Claw(_, _)),
        }
    }

    /// Whether a grade or stage is one of its own; "not given" always is.
    pub fn takes(self, degree: Degree) -> bool {
        match degree {
            Degree::NotGiven => true,
            Degree::Grade(_) => self.row().scale == Scale::Grade,
            Degree::Stage(_) => self.row().scale == Scale::Stage,
        }
    }
}
