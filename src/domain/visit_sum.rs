//! What is said of a visit when it is added up or closed: its counts, who still waits, and how much of the herd it was.

use super::farm_call::FarmCall;
use super::herd::Status;
use super::ids::AnimalId;
use super::totals::Totals;
use super::visit_log::Visit;
use std::collections::BTreeSet;

/// Of the animals in milk so many hundredths make a visit one of the whole herd: Solano et al. 2016, J Dairy Sci 99:6828, call
/// it so at 80 % or more of the lactating animals.
pub const WHOLE_HERD: usize = 80;

/// How many of the animals in milk came.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct InMilk {
    /// In milk and here.
    pub of: usize,
    /// Of them, those that came.
    pub came: usize,
    /// Animals here of which nobody told whether they are in milk.
    pub untold: usize,
}

impl InMilk {
    /// Counts a herd: who is here, where each stands, and who came.
    pub fn of(herd: impl Iterator<Item = (AnimalId, Option<Status>)>, came: &BTreeSet<AnimalId>) -> InMilk {
        let mut share = InMilk::default();
        for (animal, status) in herd {
            match status {
                Some(Status::InMilk) => {
                    share.of += 1;
                    share.came += usize::from(came.contains(&animal));
                }
                Some(Status::Dry | Status::Heifer | Status::Male) => {}
                None => share.untold += 1,
            }
        }
        share
    }

    /// Hundredths that came, rounded down: nobody is told a whole herd that was not one. None with nobody in milk.
    pub fn percent(&self) -> Option<usize> {
        (self.came * 100).checked_div(self.of)
    }

    /// Whether so many came that it was the whole herd.
    pub fn is_whole(&self) -> bool {
        self.percent().is_some_and(|percent| percent >= WHOLE_HERD)
    }
}

/// A visit, added up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct VisitSum {
    /// The visit.
    pub visit: Visit,
    /// Its counts, on all its days.
    pub totals: Totals,
    /// Who still waits, by what they are called.
    pub waits: Vec<String>,
    /// How much of the herd it was.
    pub in_milk: InMilk,
    /// What the farm called about itself while it went on: its closing hears it.
    pub calls: Vec<FarmCall>,
}

impl VisitSum {
    /// Whether it is asked once more before it is closed: somebody waits, or nobody told that knives and crush are clean.
    pub fn asks(&self) -> bool {
        !self.waits.is_empty() || !self.visit.holds(self.visit.cleaned_after)
    }
}
