//! What is open about one animal: facts only. When an item is due, and how urgent it is, follows from them at reading.

use super::super::vocabulary::vocabulary;
use super::History;
use super::course::Carried;
use crate::domain::anatomy::Place;
use crate::domain::herd::{Labels, Leaving, Status};
use crate::domain::ids::{AnimalId, CaseId, FarmId, PutId, RecordId};
use crate::domain::treatment::{Gait, Milking, OffBy, Put, Sign};
use crate::domain::withdrawal::Stated;
use chrono::NaiveDate;

vocabulary! {
    /// The four kinds of knowing about something left on. Only "seen bare" closes an item, and then it is open no more.
    Knowing, "knowing" {
        /// Nobody has answered.
        NotHeard = 1 "not-heard",
        /// Asked, and nobody answered, or said "tonight".
        Asked = 2 "asked",
        /// Seen, or said to be, still on.
        StillOn = 3 "still-on",
        /// Told off.
        ToldOff = 4 "told-off",
        /// Told all off, bare and felt all round.
        ToldBare = 5 "told-bare",
        /// She was sold with it on, and the new keeper was told.
        KeeperTold = 6 "keeper-told",
    }
}

/// One open item.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum OpenItem {
    /// A wrap or block that is not known to be off.
    On {
        /// The record that put it on; for something met on the foot, the record that met it.
        put: PutId,
        /// What.
        what: Put,
        /// Day it was put on.
        since: NaiveDate,
        /// Promised day.
        off_by: Option<OffBy>,
        /// Who takes it off; empty: nobody named.
        remover: String,
        /// Day it was last seen on, if later than `since`.
        seen_on: Option<NaiveDate>,
        /// What is known.
        knowing: Knowing,
        /// Who said so, and the day.
        told: Option<(String, NaiveDate)>,
        /// The day on which the farm said that she is swollen there, smells or is lamer; none once it was seen, or told bare
        /// and felt.
        trouble: Option<NaiveDate>,
    },
    /// A block that was lost before its time with a deep claw beside it, or raw skin under a wrap: look again.
    LookSoon {
        /// The record that saw it.
        of: RecordId,
        /// Where.
        place: Place,
        /// Day it was seen.
        since: NaiveDate,
    },
    /// A finding to look at again.
    Recheck {
        /// The course.
        case: CaseId,
        /// Where.
        place: Place,
        /// The newest words on it.
        told: Carried,
        /// Day it was last looked at.
        last: NaiveDate,
    },
    /// A day to look again, set by hand.
    SetByHand {
        /// The record that set it.
        of: RecordId,
        /// Where.
        place: Place,
        /// The day.
        on: NaiveDate,
        /// Why, in words.
        words: String,
    },
    /// Her last score was lame.
    Lame {
        /// The record of the first score of the run.
        of: RecordId,
        /// First day of the unbroken run of lame scores.
        since: NaiveDate,
        /// Day of the last score.
        last: NaiveDate,
        /// The last score.
        gait: Gait,
        /// First day of the run of severe ones that the last score belongs to.
        severe_since: Option<NaiveDate>,
        /// Whether a foot was lifted since.
        looked: bool,
        /// Whether nothing was found then, and no case is open.
        sound: bool,
    },
    /// Milk or meat is withheld after a medicine, as somebody stated.
    Withheld {
        /// The record of the use.
        of: RecordId,
        /// Where a dressing of it is; else the whole animal.
        place: Place,
        /// The last day of use.
        used: NaiveDate,
        /// What was stated, and by whom.
        stated: Stated,
        /// Whether that counts: under a wrap only the vet's words do.
        counts: bool,
    },
    /// The vet was advised.
    Vet {
        /// The record that advised it.
        of: RecordId,
        /// Where.
        place: Place,
        /// The sign.
        sign: Sign,
        /// Since when.
        since: NaiveDate,
        /// In words.
        words: String,
    },
}

/// All that is open about one animal, with what a list shows of her: no record is read to draw it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Open {
    /// The animal, the smallest of the ids that stand for her.
    pub animal: AnimalId,
    /// Her farm.
    pub farm: FarmId,
    /// Her labels.
    pub labels: Labels,
    /// In milk, dry, heifer.
    pub status: Option<Status>,
    /// How she left, and when.
    pub left: Option<(Leaving, NaiveDate)>,
    /// The items.
    pub items: Vec<OpenItem>,
}

impl Open {
    /// What is open of a history.
    pub fn of(history: &History) -> Open {
        Open {
            animal: history.animals.first().copied().unwrap_or(AnimalId(RecordId::PRACTICE)),
            farm: history.farm.unwrap_or(FarmId(RecordId::PRACTICE)),
            labels: history.labels.clone(),
            status: history.herd.status,
            left: history.left,
            items: history.open.clone(),
        }
    }
}

impl OpenItem {
    /// The record it stands on: the same in every book.
    pub fn id(&self) -> RecordId {
        match self {
            OpenItem::On { put, .. } => put.0,
            OpenItem::Recheck { case, .. } => case.0,
            OpenItem::LookSoon { of, .. }
            | OpenItem::SetByHand { of, .. }
            | OpenItem::Lame { of, .. }
            | OpenItem::Withheld { of, .. }
            | OpenItem::Vet { of, .. } => *of,
        }
    }

    /// By which milking of its day it was promised to be off.
    pub fn milking(&self) -> Milking {
        match self {
            OpenItem::On { off_by: Some(promise), .. } => promise.milking,
            OpenItem::On { off_by: None, .. }
            | OpenItem::LookSoon { .. }
            | OpenItem::Recheck { .. }
            | OpenItem::SetByHand { .. }
            | OpenItem::Lame { .. }
            | OpenItem::Withheld { .. }
            | OpenItem::Vet { .. } => Milking::Any,
        }
    }

    /// Where it is.
    pub fn place(&self) -> Place {
        match self {
            OpenItem::On { what, .. } => what.place(),
            OpenItem::LookSoon { place, .. }
            | OpenItem::Recheck { place, .. }
            | OpenItem::SetByHand { place, .. }
            | OpenItem::Withheld { place, .. }
            | OpenItem::Vet { place, .. } => *place,
            OpenItem::Lame { .. } => Place::Animal,
        }
    }
}
