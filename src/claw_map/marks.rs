//! What the map is to show, in plain words: the caller fills it from the history, the map draws it.

use crate::domain::anatomy::{Foot, Place, Side};
use crate::domain::case::Change;

/// Everything that stands on the four feet.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Marks {
    /// Findings: at most one for each place, the worst; [`ZoneMark::more`] counts the others.
    pub zones: Vec<ZoneMark>,
    /// State of each foot, in the order LF RF LH RH.
    pub feet: [FootMark; 4],
    /// Block or loss of each claw, in the order LF RF LH RH, outer before inner.
    pub claws: [[ClawMark; 2]; 4],
    /// Where the next finding goes: a zone, a whole claw or a whole foot.
    pub cursor: Option<Place>,
    /// What feet and wraps are called where the map is read.
    pub names: Names,
}

/// Words on the map that regions say differently.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Names {
    /// The feet, in the order LF RF LH RH.
    pub feet: [&'static str; 4],
    /// A wrap, in capitals.
    pub wrap: &'static str,
    /// The same where there is hardly room.
    pub wrap_short: &'static str,
}

impl Default for Names {
    fn default() -> Names {
        Names { feet: ["LF", "RF", "LH", "RH"], wrap: "WRAP", wrap_short: "W" }
    }
}

impl Names {
    /// What a foot is called.
    pub fn foot(&self, foot: Foot) -> &'static str {
        let [lf, rf, lh, rh] = self.feet;
        match foot {
            Foot::LeftFront => lf,
            Foot::RightFront => rf,
            Foot::LeftHind => lh,
            Foot::RightHind => rh,
        }
    }
}

/// A finding on the map. Of a whole claw or dewclaw it stands beside the claw, of a whole foot in the bar.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ZoneMark {
    /// Where it is.
    pub place: Place,
    /// Its code, for DD the stage: `SU`, `WLA`, `M4.1`.
    pub code: String,
    /// The shorter code of its group, for a zone too narrow for the code: `WL` for `WLA`.
    pub group: String,
    /// How loud it is shown.
    pub weight: Weight,
    /// True when the code says the stage, so that no grade sign follows it.
    pub staged: bool,
    /// When it was found.
    pub time: Time,
    /// How it is against an earlier turn, where that is told.
    pub change: Option<Change>,
    /// Further findings at the same place.
    pub more: usize,
}

/// Weight of a finding, from its grade or stage.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Weight {
    /// No grade was given.
    Untold,
    /// Light.
    Light,
    /// Moderate.
    Moderate,
    /// Severe.
    Severe,
}

impl Weight {
    /// Sign that stands behind the code in every mode; a grade that was not given has none.
    pub fn sign(self) -> &'static str {
        match self {
            Weight::Untold => "",
            Weight::Light => "-",
            Weight::Moderate => "=",
            Weight::Severe => "!",
        }
    }

    fn tone(self) -> Tone {
        match self {
            Weight::Untold | Weight::Light => Tone::Note,
            Weight::Moderate => Tone::Warn,
            Weight::Severe => Tone::Alarm,
        }
    }
}

/// When a finding was made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Time {
    /// Today.
    Today,
    /// Last time, and not answered yet.
    LastTime,
    /// Today, and last time's of the same place waits for its answer.
    Both,
}

/// Sign of a change, which stands behind the code in every mode. None of them is a sign of a grade.
pub fn change_sign(change: Change) -> &'static str {
    match change {
        Change::New => "*",
        Change::Healed => "o",
        Change::Better => "v",
        Change::Worse => "^",
        Change::Same => "~",
        Change::NotSeen => "?",
    }
}

/// How near the day is that something has to come off or be looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Due {
    /// Not yet.
    Coming,
    /// Now.
    Due,
    /// Past its day.
    Late,
    /// Long past its day.
    Urgent,
}

impl Due {
    /// Sign that stands behind the days in every mode.
    pub fn sign(self) -> &'static str {
        match self {
            Due::Coming => "",
            Due::Due => "+",
            Due::Late => "!",
            Due::Urgent => "!!",
        }
    }
}

/// Something left on a foot or claw.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct LeftOn {
    /// Days since it was put on; none where no age is to be told.
    pub days: Option<u32>,
    /// How near its day is.
    pub due: Due,
}

/// What a claw carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct ClawMark {
    /// A block under it.
    pub block: Option<LeftOn>,
    /// True when the claw was taken off.
    pub gone: bool,
}

/// State of a foot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct FootMark {
    /// A wrap round it.
    pub wrap: Option<LeftOn>,
    /// How far the work on it is.
    pub state: FootState,
}

/// How far the work on a foot is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum FootState {
    /// Not lifted yet.
    #[default]
    NotLookedAt,
    /// Not told here: the map shows only what is open.
    NotTold,
    /// Looked at, nothing found.
    NothingFound,
    /// Looked at, nothing new found; so many marks of last time were not answered.
    LeftOpen(usize),
    /// Done, with so many findings.
    Done(usize),
    /// So many findings, and nobody said that the foot is done.
    Begun(usize),
    /// In hand now, with so many findings so far.
    InHand(usize),
}

/// The three steps of loudness; each is also told by a sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Tone {
    /// Light, or in time.
    Note,
    /// Moderate, or to be looked at.
    Warn,
    /// Severe, or late.
    Alarm,
}

impl Marks {
    /// State of that foot.
    pub fn foot(&self, foot: Foot) -> FootMark {
        self.feet[foot_index(foot)]
    }

    /// State of that foot, to fill in.
    pub fn foot_mut(&mut self, foot: Foot) -> &mut FootMark {
        &mut self.feet[foot_index(foot)]
    }

    /// Block or loss of that claw.
    pub fn claw(&self, foot: Foot, side: Side) -> ClawMark {
        self.claws[foot_index(foot)][side_index(side)]
    }

    /// Block or loss of that claw, to fill in.
    pub fn claw_mut(&mut self, foot: Foot, side: Side) -> &mut ClawMark {
        &mut self.claws[foot_index(foot)][side_index(side)]
    }

    /// The finding at exactly that place.
    pub fn at(&self, place: Place) -> Option<&ZoneMark> {
        self.zones.iter().find(|mark| mark.place == place)
    }
}

impl ZoneMark {
    /// Loudness of its fill; none for a finding of last time, which is never filled.
    pub fn tone(&self) -> Option<Tone> {
        match self.time {
            Time::LastTime => None,
            Time::Today | Time::Both if self.change == Some(Change::Healed) => None,
            Time::Today | Time::Both => Some(self.weight.tone()),
        }
    }
}

impl LeftOn {
    /// Loudness of a wrap: never quiet.
    pub fn wrap_tone(self) -> Tone {
        match self.due {
            Due::Coming | Due::Due => Tone::Warn,
            Due::Late | Due::Urgent => Tone::Alarm,
        }
    }

    /// Loudness of a block.
    pub fn block_tone(self) -> Tone {
        match self.due {
            Due::Coming => Tone::Note,
            Due::Due => Tone::Warn,
            Due::Late | Due::Urgent => Tone::Alarm,
        }
    }
}

fn foot_index(foot: Foot) -> usize {
    match foot {
        Foot::LeftFront => 0,
        Foot::RightFront => 1,
        Foot::LeftHind => 2,
        Foot::RightHind => 3,
    }
}

fn side_index(side: Side) -> usize {
    match side {
        Side::Outer => 0,
        Side::Inner => 1,
    }
}
