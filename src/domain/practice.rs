//! The practice: the trimmer's own business, where it works, and which hand is free.

use super::backup::Backups;
use super::treatment::GaitScale;
use super::vocabulary::vocabulary;
use super::withdrawal::Stated;
use std::ops::RangeInclusive;

vocabulary! {
    /// Where the practice works: which words it uses, and which scale of gait where a farm has not said its own.
    Region, "region" {
        /// Nowhere said: the plain words of this program.
        Plain = 1 "plain",
        /// United Kingdom and Ireland.
        Uk = 2 "uk",
        /// North America.
        NorthAmerica = 3 "north-america",
        /// New Zealand and Australia.
        NzAustralia = 4 "nz-australia",
    }
}

vocabulary! {
    /// Which hand is free for the keys.
    Hands, "hands" {
        /// Both, on a whole keyboard.
        Two = 1 "two-hands",
        /// Either, on a numeric keypad alone.
        Keypad = 2 "keypad",
        /// The left, on the left half of a keyboard.
        Left = 3 "left-hand",
        /// The right, on the right half of a keyboard.
        Right = 4 "right-hand",
    }
}

impl Region {
    /// How gait is scored here where a farm has not said otherwise: 0 to 3 in the United Kingdom (mobility score) and New
    /// Zealand (DairyNZ), 1 to 5 in North America (Sprecher et al. 1997, Theriogenology 47:1178).
    pub fn gait_scale(self) -> GaitScale {
        match self {
            Region::NorthAmerica => GaitScale::OneToFive,
            Region::Plain | Region::Uk | Region::NzAustralia => GaitScale::ZeroToThree,
        }
    }
}

/// How fast keys are, in milliseconds: worn and wet keyboards bounce longer, and wireless readers type slower.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pace {
    /// The same key sooner than this counts once, beside the crush.
    pub crush: u16,
    /// The same where numbers and letters are typed.
    pub typing: u16,
    /// Characters that follow within this are a reader's.
    pub reader: u16,
}

impl Pace {
    /// Beside the crush: hands press one key twice in about 120 ms (common practice), and a user's log shows bounces of 100.
    pub const CRUSH: RangeInclusive<u16> = 60..=250;
    /// In number fields, where "11" is typed in earnest.
    pub const TYPING: RangeInclusive<u16> = 20..=100;
    /// Between characters of a reader: 31 ms measured at most behind a terminal multiplexer, up to 60 for wireless ones; fast
    /// fingers take 110.
    pub const READER: RangeInclusive<u16> = 20..=60;
}

impl Default for Pace {
    fn default() -> Pace {
        Pace { crush: 120, typing: 45, reader: 35 }
    }
}

/// What the practice says about itself once and for all.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Practice {
    /// Where it works.
    pub region: Region,
    /// Which hand is free.
    pub hands: Hands,
    /// Medicated products it uses, with the days that label or vet state.
    pub medicines: Vec<Stated>,
    /// What it wants done about backups; none for a book that is thrown away.
    pub backups: Option<Backups>,
    /// How fast its keys are.
    pub pace: Pace,
}

impl Default for Practice {
    fn default() -> Practice {
        Practice {
            region: Region::Plain,
            hands: Hands::Two,
            medicines: Vec::new(),
            backups: None,
            pace: Pace::default(),
        }
    }
}
