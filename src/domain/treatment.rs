//! What is done to a foot, what is left on it, and how it comes off again.

use super::anatomy::{Foot, Place, Side};
use super::vocabulary::vocabulary;

vocabulary! {
    /// What a trim did.
    Trim, "trim" {
        /// The ordinary functional trim.
        Routine = 1 "trim",
        /// A diseased claw lowered toward the heel to take it out of load.
        Lowered = 2 "lowered",
        /// Loose horn removed.
        LooseHorn = 3 "loose-horn",
        /// A dewclaw shortened.
        Dewclaw = 4 "dewclaw",
    }
}

vocabulary! {
    /// What a block is made of.
    BlockKind, "block" {
        /// Wood.
        Wood = 1 "wood",
        /// Rubber.
        Rubber = 2 "rubber",
        /// Plastic.
        Plastic = 3 "plastic",
        /// Foam, which wears off by itself.
        Foam = 4 "foam",
        /// A shoe that encloses the toe and must be taken off by hand.
        Shoe = 5 "shoe",
        /// Met on the foot, material not told.
        NotTold = 6 "block",
    }
}

vocabulary! {
    /// Colour of a wrap: the farm looks for a colour.
    Colour, "colour" {
        /// Red.
        Red = 1 "red",
        /// Blue.
        Blue = 2 "blue",
        /// Green.
        Green = 3 "green",
        /// Yellow.
        Yellow = 4 "yellow",
        /// Orange.
        Orange = 5 "orange",
        /// Pink.
        Pink = 6 "pink",
        /// White.
        White = 7 "white",
        /// Black.
        Black = 8 "black",
        /// Brown.
        Brown = 9 "brown",
    }
}

vocabulary! {
    /// Which milking of a day.
    Milking, "milking" {
        /// Any time of that day.
        Any = 1 "day",
        /// Morning milking.
        Morning = 2 "morning",
        /// Evening milking.
        Evening = 3 "evening",
    }
}

/// The day, and milking, by which something was promised to be off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct OffBy {
    /// Day.
    pub day: chrono::NaiveDate,
    /// Milking of that day.
    pub milking: Milking,
}

/// Something put on a foot.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Put {
    /// A block under one claw.
    Block {
        /// Foot.
        foot: Foot,
        /// The claw that stands on it.
        side: Side,
        /// Material.
        kind: BlockKind,
    },
    /// A wrap (bandage) round the foot.
    Wrap {
        /// What it covers: a skin zone, a claw (over a block too), or the whole foot.
        over: Place,
        /// Colour, where told.
        colour: Option<Colour>,
    },
    /// A dressing on a place.
    Dressing {
        /// Place.
        place: Place,
        /// Product in words as the practice calls it; may be empty.
        product: String,
    },
}

impl Put {
    /// The foot it is on; none for a wrap on no foot, which cannot be entered.
    pub fn foot(&self) -> Option<Foot> {
        self.place().foot()
    }

    /// Where it is.
    pub fn place(&self) -> Place {
        match self {
            Put::Block { foot, side, .. } => Place::Claw(*foot, *side),
            Put::Wrap { over, .. } => *over,
            Put::Dressing { place, .. } => *place,
        }
    }

    /// Whether it stays on the foot until somebody takes it off.
    pub fn must_come_off(&self) -> bool {
        match self {
            Put::Block { .. } | Put::Wrap { .. } => true,
            Put::Dressing { .. } => false,
        }
    }
}

vocabulary! {
    /// How a wrap or block was found to be off, or not, when the foot was lifted.
    Off, "outcome" {
        /// Wrap: all off and seen bare.
        Bare = 1 "bare",
        /// Wrap: a ring or part was left, now cut off.
        Ring = 2 "ring",
        /// Wrap: already off when the foot was lifted, seen bare.
        AlreadyOff = 3 "already-off",
        /// Block: taken off today.
        TakenOff = 4 "taken-off",
        /// Block: had fallen off.
        FellOff = 5 "fell-off",
        /// Either: taken off and a new one put on in the same press.
        Replaced = 6 "replaced",
        /// Block: left on, sound.
        LeftSound = 7 "left-sound",
        /// Block: left on, worn.
        LeftWorn = 8 "left-worn",
        /// Not found; not known to be off.
        NotFound = 9 "not-found",
        /// Wrap: left on.
        LeftOn = 10 "left-on",
    }
}

impl Off {
    /// Whether the foot was seen without it. "Not found" is not: nobody saw it come off.
    pub fn closes(self) -> bool {
        match self {
            Off::Bare | Off::Ring | Off::AlreadyOff | Off::TakenOff | Off::FellOff | Off::Replaced => true,
            Off::LeftSound | Off::LeftWorn | Off::NotFound | Off::LeftOn => false,
        }
    }

    /// Whether it was seen still on.
    pub fn seen_on(self) -> bool {
        match self {
            Off::LeftSound | Off::LeftWorn | Off::LeftOn => true,
            Off::Bare | Off::Ring | Off::AlreadyOff | Off::TakenOff | Off::FellOff | Off::Replaced | Off::NotFound => {
                false
            }
        }
    }
}

vocabulary! {
    /// The skin under what came off.
    SkinState, "skin" {
        /// Not told.
        NotTold = 1 "not-told",
        /// Sound.
        Sound = 2 "sound",
        /// Raw: look in three days, no new wrap over it (common practice).
        Raw = 3 "raw",
        /// Cut in: the vet today.
        CutIn = 4 "cut-in",
    }
}

vocabulary! {
    /// How word came that something is off.
    Means, "means" {
        /// Said beside the crush.
        InPerson = 1 "in-person",
        /// By telephone.
        Telephone = 2 "telephone",
        /// In writing.
        Message = 3 "message",
    }
}

vocabulary! {
    /// What the farm answered when asked about something left on.
    Word, "word" {
        /// Nobody answered; a fact too.
        NoAnswer = 1 "no-answer",
        /// It will be taken off tonight.
        Tonight = 2 "tonight",
        /// Said to be off.
        Off = 3 "off",
        /// Said to be all off, bare and felt all round.
        Felt = 4 "felt",
        /// Said to be still on.
        StillOn = 5 "still-on",
        /// She was sold with it on, and the new keeper was told.
        KeeperTold = 6 "keeper-told",
        /// She is swollen there, smells, or is lamer: urgent now.
        Trouble = 7 "trouble",
    }
}

vocabulary! {
    /// What became of an earlier finding when the foot was lifted again.
    Outcome, "answer" {
        /// Healed.
        Healed = 1 "healed",
        /// Better.
        Better = 2 "better",
        /// Same.
        Same = 3 "same",
        /// Worse.
        Worse = 4 "worse",
        /// Not looked at.
        NotLooked = 5 "not-looked",
    }
}

vocabulary! {
    /// Pain relief in words of who knows: the program names no medicine.
    Relief, "pain relief" {
        /// Given.
        Given = 1 "given",
        /// Not given.
        Not = 2 "not",
        /// Not known.
        NotKnown = 3 "not-known",
    }
}

vocabulary! {
    /// Which gait scale a score is on; never converted silently.
    GaitScale, "gait scale" {
        /// 0 to 3 (UK mobility score); lame is 2 or 3.
        ZeroToThree = 1 "0-3",
        /// 1 to 5 (Sprecher et al. 1997, Theriogenology 47:1178); lame is 3 or more.
        OneToFive = 2 "1-5",
    }
}

impl GaitScale {
    /// Scores on this scale, lowest and highest.
    pub fn range(self) -> std::ops::RangeInclusive<u8> {
        match self {
            GaitScale::ZeroToThree => 0..=3,
            GaitScale::OneToFive => 1..=5,
        }
    }

    /// Whether this score means very lame: 3 of 0 to 3 (to be treated within 24 h, DairyNZ 2023); 4 and 5 of 1 to 5 (common
    /// practice).
    pub fn is_severe(self, score: u8) -> bool {
        match self {
            GaitScale::ZeroToThree => score >= 3,
            GaitScale::OneToFive => score >= 4,
        }
    }

    /// Whether this score means lame.
    pub fn is_lame(self, score: u8) -> bool {
        match self {
            GaitScale::ZeroToThree => score >= 2,
            GaitScale::OneToFive => score >= 3,
        }
    }
}

/// A gait score with its scale.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Gait {
    /// Scale.
    pub scale: GaitScale,
    /// Score, inside the scale's range.
    pub score: u8,
}

vocabulary! {
    /// What was measured, in millimetres.
    Measure, "measure" {
        /// Dorsal wall.
        DorsalWall = 1 "wall",
        /// Sole at the toe.
        Sole = 2 "sole",
    }
}

vocabulary! {
    /// A stop sign: cut no deeper, let her down, ring the vet (Streeter 2019; Greenough, Merck Veterinary Manual;
    /// trimmers' code). The program shows the sign and names no treatment.
    Sign, "sign" {
        /// Advised for a reason in words.
        Advised = 1 "advised",
        /// Severe lameness with one-sided swelling.
        OneSided = 2 "one-sided-swelling",
        /// Swelling above the pastern.
        AbovePastern = 3 "swelling-above-pastern",
        /// Severe lameness over 14 days.
        Long = 4 "over-14-days",
        /// Foul not better in 3 days.
        FoulNotBetter = 5 "foul-not-better",
        /// Swelling at the front of the coronet with white line disease or a crack.
        CoronetFront = 6 "coronet-front",
        /// Pain not relieved by a block.
        PainUnderBlock = 7 "pain-under-block",
        /// A discharging tract.
        Tract = 8 "tract",
        /// Exposed joint or tendon sheath.
        Joint = 9 "joint",
        /// Toe necrosis.
        ToeNecrosis = 10 "toe-necrosis",
        /// Sloughed claw.
        Sloughed = 11 "sloughed",
        /// Bleeding that does not stop.
        Bleeding = 12 "bleeding",
        /// Nail or wire deep.
        DeepNail = 13 "deep-nail",
        /// Skin cut in under a wrap.
        CutIn = 14 "cut-in",
        /// Cannot rise, or a leg at a wrong angle.
        CannotRise = 15 "cannot-rise",
        /// Several animals with raw heels.
        RawHeels = 16 "raw-heels",
        /// Blisters or fresh raw sores that may be notifiable: nobody and nothing leaves the farm.
        Notifiable = 17 "notifiable",
        /// Lame, and nothing found in the foot: look higher.
        LookHigher = 18 "look-higher",
    }
}
