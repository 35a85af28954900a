//! Where the trimmer is.

use super::act::Ask;
use super::amend;
use super::herd::Page;
use super::of_farm;
use super::ring::Call;
use super::sign_off::Line;
use super::walk::Walking;
use crate::domain::anatomy::{Foot, Place, Side, Zone};
use crate::domain::ids::{AnimalId, FarmId, RecordId};
use crate::domain::totals::Totals;
use crate::domain::treatment::Measure;
use crate::domain::visit_sum::VisitSum;
use crate::keys::context::Context;

/// What is in the hand while an animal stands in the crush.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hand {
    /// The foot that is up.
    pub foot: Option<Foot>,
    /// The claw the cursor is on.
    pub side: Side,
    /// The zone the cursor was on last.
    pub zone: Option<Zone>,
}

impl Hand {
    /// No foot up.
    pub const DOWN: Hand = Hand { foot: None, side: Side::Outer, zone: None };

    /// A foot up, on its likely claw.
    pub fn lift(foot: Foot) -> Hand {
        Hand { foot: Some(foot), side: foot.likely_claw(), zone: None }
    }

    /// The place the cursor is on.
    pub fn place(self) -> Option<Place> {
        let foot = self.foot?;
        Some(match self.zone {
            Some(zone) => zone.on(foot, self.side),
            None => Place::Claw(foot, self.side),
        })
    }
}

/// Which lines of the due list are shown.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Only {
    /// All.
    #[default]
    All,
    /// Of the farm in hand.
    Farm,
    /// Wraps and blocks.
    LeftOn,
    /// Late and urgent ones.
    Late,
}

impl Only {
    /// The next choice; after the last all again.
    pub fn next(self) -> Only {
        match self {
            Only::All => Only::Farm,
            Only::Farm => Only::LeftOn,
            Only::LeftOn => Only::Late,
            Only::Late => Only::All,
        }
    }
}

/// What a text is typed for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TextFor {
    /// A note at a place.
    Note(Place),
    /// A finding in own words.
    OwnWords(Place),
    /// What the foreign body is.
    ForeignBody(Place),
    /// Product of a dressing.
    Product(crate::domain::ids::PutId),
    /// Days stated for the product of a dressing, and by whom.
    Stated(crate::domain::ids::PutId),
    /// Who takes a wrap off.
    Remover(crate::domain::ids::PutId),
    /// A measure in millimetres.
    Measure(Place, Measure),
    /// Who records.
    Who,
    /// Name of a new farm.
    FarmName,
    /// Group of unknown numbers, which are new from then on.
    Group,
    /// A note about the farm.
    FarmNote,
    /// What came of the vet who was advised for an animal.
    VetSaid(AnimalId, RecordId),
    /// Who answers the telephone at a farm.
    Answers(FarmId),
    /// To whom the list of a farm given up was handed.
    HandedTo(FarmId),
    /// Something is set right.
    Amend(amend::Text),
    /// A matter of the farm.
    Farm(of_farm::Text),
}

impl TextFor {
    /// Whether nothing typed is an answer too.
    pub fn may_be_empty(&self) -> bool {
        if let TextFor::Farm(text) = self { text.may_be_empty() } else { false }
    }

    /// Whether it is a number, so that a key that is a digit on Today is one here too.
    pub fn is_number(&self) -> bool {
        match self {
            TextFor::Measure(_, _) => true,
            TextFor::Amend(text) => text.is_number(),
            TextFor::Farm(text) => text.is_number(),
            TextFor::Note(_)
            | TextFor::OwnWords(_)
            | TextFor::ForeignBody(_)
            | TextFor::Product(_)
            | TextFor::Stated(_)
            | TextFor::Remover(_)
            | TextFor::Who
            | TextFor::FarmName
            | TextFor::Group
            | TextFor::FarmNote
            | TextFor::VetSaid(_, _)
            | TextFor::Answers(_)
            | TextFor::HandedTo(_) => false,
        }
    }
}

/// Where the trimmer is. Each carries what is needed to go back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Mode {
    /// The visit: digits are an animal's number.
    Today {
        /// Digits typed so far.
        typed: String,
        /// Line of the list.
        cursor: usize,
    },
    /// The herd walks by and is scored: digits are a number and a score.
    Walk(Walking),
    /// Farms to choose from.
    Farms {
        /// Line.
        cursor: usize,
    },
    /// An animal is in the crush.
    Crush(Hand),
    /// A numbered list of choices is open.
    Pad {
        /// What is asked.
        ask: Ask,
        /// Where it was asked.
        under: Box<Mode>,
    },
    /// The lines to settle before she goes.
    SignOff {
        /// Lines passed knowingly.
        passed: Vec<Line>,
    },
    /// The due list.
    Due {
        /// Line.
        cursor: usize,
        /// Which lines.
        only: Only,
        /// Where it was opened.
        under: Box<Mode>,
    },
    /// The card of the farm in hand.
    Card {
        /// Line.
        cursor: usize,
        /// Where it was opened.
        under: Box<Mode>,
    },
    /// The herd of the farm in hand.
    Herd {
        /// What is shown of it.
        page: Page,
        /// Line.
        cursor: usize,
        /// Where it was opened.
        under: Box<Mode>,
    },
    /// Farms to ring.
    Ring {
        /// What is asked about; it keeps its order while answers come in.
        lines: Vec<Call>,
        /// Line.
        cursor: usize,
        /// Where it was opened.
        under: Box<Mode>,
    },
    /// An earlier turn beside this one.
    Last {
        /// How many turns back, 0 the newest before now.
        back: usize,
        /// First line of the words shown.
        top: usize,
        /// Where it was opened.
        under: Box<Mode>,
    },
    /// The standing instructions, whole.
    Always {
        /// First line shown.
        top: usize,
        /// Where it was opened.
        under: Box<Mode>,
    },
    /// A text is typed.
    Text {
        /// What for.
        what: TextFor,
        /// Typed so far.
        text: String,
        /// Where it was opened.
        under: Box<Mode>,
    },
    /// The take-off list in pages, to be photographed.
    Paper {
        /// Pages of lines.
        pages: Vec<Vec<String>>,
        /// The page shown.
        page: usize,
        /// Where it was opened.
        under: Box<Mode>,
    },
    /// What the visit adds up to.
    Totals {
        /// The counts.
        totals: Totals,
        /// The visit they are of, added up; none before its first animal.
        visit: Option<Box<VisitSum>>,
        /// Where it was opened.
        under: Box<Mode>,
    },
    /// Help.
    Help {
        /// First line shown.
        top: usize,
        /// Where it was opened.
        under: Box<Mode>,
    },
}

impl Mode {
    /// Today with nothing typed.
    pub fn today() -> Mode {
        Mode::Today { typed: String::new(), cursor: 0 }
    }

    /// What keys mean here.
    pub fn context(&self) -> Context {
        match self {
            Mode::Today { .. } | Mode::Walk(_) => Context::Today,
            Mode::Crush(hand) => match hand.foot {
                Some(_) => Context::Foot,
                None => Context::Animal,
            },
            Mode::Pad { .. } => Context::Pad,
            Mode::SignOff { .. } => Context::SignOff,
            Mode::Ring { .. } => Context::Ring,
            Mode::Farms { .. }
            | Mode::Card { .. }
            | Mode::Herd { .. }
            | Mode::Due { .. }
            | Mode::Last { .. }
            | Mode::Always { .. }
            | Mode::Paper { .. }
            | Mode::Totals { .. } => Context::List,
            Mode::Text { .. } => Context::Text,
            Mode::Help { .. } => Context::Help,
        }
    }

    /// The mode that this one is open over.
    pub fn under(&self) -> Option<&Mode> {
        match self {
            Mode::Pad { under, .. }
            | Mode::Card { under, .. }
            | Mode::Herd { under, .. }
            | Mode::Due { under, .. }
            | Mode::Ring { under, .. }
            | Mode::Last { under, .. }
            | Mode::Always { under, .. }
            | Mode::Text { under, .. }
            | Mode::Paper { under, .. }
            | Mode::Totals { under, .. }
            | Mode::Help { under, .. } => Some(under),
            Mode::Today { .. } | Mode::Walk(_) | Mode::Farms { .. } | Mode::Crush(_) | Mode::SignOff { .. } => None,
        }
    }

    /// This mode, then what it is open over, down to the base.
    pub fn layers(&self) -> impl Iterator<Item = &Mode> {
        std::iter::successors(Some(self), |mode| mode.under())
    }

    /// The mode below whatever is open over it.
    pub fn base(&self) -> &Mode {
        self.layers().last().unwrap_or(self)
    }

    /// The hand, where an animal is in the crush, whatever is open over it.
    pub fn hand(&self) -> Option<Hand> {
        match self.base() {
            Mode::Crush(hand) => Some(*hand),
            Mode::SignOff { .. } => Some(Hand::DOWN),
            _ => None,
        }
    }

    /// Whether the farm's card is shown, or something is open over it.
    pub fn has_card(&self) -> bool {
        self.layers().any(|mode| matches!(mode, Mode::Card { .. }))
    }

    /// Whether the herd is shown, or something is open over it.
    pub fn has_herd(&self) -> bool {
        self.layers().any(|mode| matches!(mode, Mode::Herd { .. }))
    }
}
