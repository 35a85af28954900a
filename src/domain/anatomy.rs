//! Four feet, eight claws, thirteen numbered zones, and who owns which: the claw's horn or the foot's skin.
//!
//! A zone that does not exist cannot be written down, nor can a claw own skin: the owner is in the type.
//! Numbered map: Shearer, Anderson, Ayars et al. 2004, Bovine Practitioner 38; International Lameness Committee poster
//! 2008; after Greenough and Vermunt 1991. Zones 7, 8, 9, 11 and 12 from memory of the same map.

use super::vocabulary::{Vocabulary, vocabulary};

vocabulary! {
    /// One of the four feet; left and right are the animal's own.
    Foot, "foot" {
        /// Left front.
        LeftFront = 1 "LF",
        /// Right front.
        RightFront = 2 "RF",
        /// Left hind.
        LeftHind = 3 "LH",
        /// Right hind.
        RightHind = 4 "RH",
    }
}

vocabulary! {
    /// One of the two claws of a foot.
    Side, "claw" {
        /// Lateral claw, away from the other leg.
        Outer = 1 "outer",
        /// Medial claw, toward the other leg.
        Inner = 2 "inner",
    }
}

vocabulary! {
    /// A zone of the foot's skin. Belongs to the foot, whatever claw the cursor is on.
    Skin, "skin zone" {
        /// Zone 0, the skin between the claws.
        Cleft = 1 "0",
        /// Zone 9, above the coronet at the front of the foot.
        Front = 2 "9",
        /// Zone 10, above the heel bulbs at the back of the cleft.
        Heel = 3 "10",
    }
}

vocabulary! {
    /// A zone of one claw's horn.
    Horn, "horn zone" {
        /// Zone 1, white line at the toe.
        ToeWhiteLine = 1 "1",
        /// Zone 2, white line on the outside of the claw.
        WhiteLine = 2 "2",
        /// Zone 3, where outside wall and bulb meet.
        WallBulb = 3 "3",
        /// Zone 4, where sole and bulb meet: the typical ulcer site.
        SoleBulb = 4 "4",
        /// Zone 5, apex of the sole.
        SoleApex = 5 "5",
        /// Zone 6, bulb of the heel.
        Bulb = 6 "6",
        /// Zone 7, outside wall, toe half.
        WallToe = 7 "7",
        /// Zone 8, outside wall, heel half.
        WallHeel = 8 "8",
        /// Zone 11, cleft-side wall, toe half.
        CleftWallToe = 11 "11",
        /// Zone 12, cleft-side wall, heel half.
        CleftWallHeel = 12 "12",
    }
}

vocabulary! {
    /// What a zone is made of.
    Tissue, "tissue" {
        /// Skin of the foot.
        Skin = 1 "skin",
        /// Sole and white line.
        Sole = 2 "sole",
        /// Bulb of the heel.
        Heel = 3 "heel",
        /// Wall.
        Wall = 4 "wall",
    }
}

vocabulary! {
    /// Which numbering a zone number belongs to. Only 2 and 4 mean the same place in every numbering in use, so a stored
    /// zone always carries the name of its map.
    ZoneMap, "zone map" {
        /// The numbering at the head of this file.
        C = 1 "C",
    }
}

/// A numbered zone, 0 to 12.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Zone {
    /// Skin of the foot: 0, 9, 10.
    Skin(Skin),
    /// Horn of a claw: 1 to 8, 11, 12.
    Horn(Horn),
}

impl Foot {
    /// True for the two hind feet.
    pub fn is_hind(self) -> bool {
        matches!(self, Foot::LeftHind | Foot::RightHind)
    }

    /// True for the two left feet.
    pub fn is_left(self) -> bool {
        matches!(self, Foot::LeftFront | Foot::LeftHind)
    }

    /// The foot on the other side of the animal: LH for RH.
    pub fn across(self) -> Foot {
        match self {
            Foot::LeftFront => Foot::RightFront,
            Foot::RightFront => Foot::LeftFront,
            Foot::LeftHind => Foot::RightHind,
            Foot::RightHind => Foot::LeftHind,
        }
    }

    /// The claw that carries most trouble: outer behind, inner in front (van der Tol et al. 2002, J Dairy Sci 85:1476;
    /// Murray et al. 1996, Vet Rec 138:586).
    pub fn likely_claw(self) -> Side {
        if self.is_hind() { Side::Outer } else { Side::Inner }
    }

    /// The claw that stands on the left of the picture: left feet have their outer claw left, right feet their inner.
    pub fn claw_at_left(self) -> Side {
        if self.is_left() { Side::Outer } else { Side::Inner }
    }
}

impl Side {
    /// The other claw of the same foot: the partner that a block goes on.
    pub fn partner(self) -> Side {
        match self {
            Side::Outer => Side::Inner,
            Side::Inner => Side::Outer,
        }
    }
}

impl Zone {
    /// Every zone in number order.
    pub fn all() -> impl Iterator<Item = Zone> {
        (0..=12).filter_map(Zone::from_number)
    }

    /// Number on the map, 0 to 12.
    pub fn number(self) -> u8 {
        match self {
            Zone::Skin(Skin::Cleft) => 0,
            Zone::Skin(Skin::Front) => 9,
            Zone::Skin(Skin::Heel) => 10,
            // A horn zone's stored number is its number on the map.
            Zone::Horn(horn) => horn.number() as u8,
        }
    }

    /// The zone with this number, or none above 12.
    pub fn from_number(number: u8) -> Option<Zone> {
        match number {
            0 => Some(Zone::Skin(Skin::Cleft)),
            9 => Some(Zone::Skin(Skin::Front)),
            10 => Some(Zone::Skin(Skin::Heel)),
            other => Horn::from_number(u16::from(other)).map(Zone::Horn),
        }
    }

    /// What the zone is made of.
    pub fn tissue(self) -> Tissue {
        match self {
            Zone::Skin(_) => Tissue::Skin,
            Zone::Horn(Horn::Bulb) => Tissue::Heel,
            Zone::Horn(Horn::WallToe | Horn::WallHeel | Horn::CleftWallToe | Horn::CleftWallHeel) => Tissue::Wall,
            Zone::Horn(Horn::ToeWhiteLine | Horn::WhiteLine | Horn::WallBulb | Horn::SoleBulb | Horn::SoleApex) => {
                Tissue::Sole
            }
        }
    }

    /// The map this number belongs to.
    pub fn map(self) -> ZoneMap {
        ZoneMap::C
    }

    /// The place this zone is on that foot; a skin zone drops the claw.
    pub fn on(self, foot: Foot, side: Side) -> Place {
        match self {
            Zone::Skin(skin) => Place::Skin(foot, skin),
            Zone::Horn(horn) => Place::Horn(foot, side, horn),
        }
    }
}

/// Where on the animal something is. The owner of a zone is in the type.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Place {
    /// The whole animal.
    Animal,
    /// Above the foot, said in words beside it: hock, leg.
    Above(Foot),
    /// The whole foot.
    Foot(Foot),
    /// A zone of the foot's skin.
    Skin(Foot, Skin),
    /// A whole claw.
    Claw(Foot, Side),
    /// A dewclaw.
    Dewclaw(Foot, Side),
    /// A zone of a claw's horn.
    Horn(Foot, Side, Horn),
}

impl Place {
    /// The foot it is on, none for the whole animal.
    pub fn foot(self) -> Option<Foot> {
        match self {
            Place::Animal => None,
            Place::Above(foot)
            | Place::Foot(foot)
            | Place::Skin(foot, _)
            | Place::Claw(foot, _)
            | Place::Dewclaw(foot, _)
            | Place::Horn(foot, _, _) => Some(foot),
        }
    }

    /// The claw (or dewclaw) it is on, none for skin and whole feet.
    pub fn side(self) -> Option<Side> {
        match self {
            Place::Claw(_, side) | Place::Dewclaw(_, side) | Place::Horn(_, side, _) => Some(side),
            Place::Animal | Place::Above(_) | Place::Foot(_) | Place::Skin(_, _) => None,
        }
    }

    /// The numbered zone, none for whole feet, claws and dewclaws.
    pub fn zone(self) -> Option<Zone> {
        match self {
            Place::Skin(_, skin) => Some(Zone::Skin(skin)),
            Place::Horn(_, _, horn) => Some(Zone::Horn(horn)),
            Place::Animal | Place::Above(_) | Place::Foot(_) | Place::Claw(_, _) | Place::Dewclaw(_, _) => None,
        }
    }

    /// The same place on another foot.
    pub fn at_foot(self, foot: Foot) -> Place {
        match self {
            Place::Animal => Place::Animal,
            Place::Above(_) => Place::Above(foot),
            Place::Foot(_) => Place::Foot(foot),
            Place::Skin(_, skin) => Place::Skin(foot, skin),
            Place::Claw(_, side) => Place::Claw(foot, side),
            Place::Dewclaw(_, side) => Place::Dewclaw(foot, side),
            Place::Horn(_, side, horn) => Place::Horn(foot, side, horn),
        }
    }

    /// The same place on the partner claw; none where no claw owns the place.
    pub fn at_partner(self) -> Option<Place> {
        match self {
            Place::Claw(foot, side) => Some(Place::Claw(foot, side.partner())),
            Place::Dewclaw(foot, side) => Some(Place::Dewclaw(foot, side.partner())),
            Place::Horn(foot, side, horn) => Some(Place::Horn(foot, side.partner(), horn)),
            Place::Animal | Place::Above(_) | Place::Foot(_) | Place::Skin(_, _) => None,
        }
    }
}
