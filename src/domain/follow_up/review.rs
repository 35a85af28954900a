//! A standing instruction is looked at again: a follow-up of the farm, and of no animal.

use super::rules::{RuleSet, Rules};
use super::{Due, Urgency, What};
use crate::domain::ids::FarmId;
use crate::domain::instruction::Instruction;
use chrono::{Days, NaiveDate};
use std::cmp::Reverse;

/// An instruction whose review day has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Review<'a> {
    /// The farm.
    pub farm: FarmId,
    /// The instruction.
    pub of: &'a Instruction,
    /// Since when, and how urgent.
    pub due: Due,
}

/// Due on its day and late by the rule; never urgent, since nothing on an animal hangs on it.
pub fn due(rules: &RuleSet, one: &Instruction, today: NaiveDate) -> Due {
    let day = one.review_day(rules);
    let late = day.checked_add_days(Days::new(rules.instruction.late.into())).unwrap_or(day);
    let urgency = match today {
        today if today < day => Urgency::Coming,
        today if today <= late => Urgency::Due,
        _ => Urgency::Late,
    };
    Due { what: What::Review, day, urgency }
}

/// Those whose day has come, late ones first, then the oldest day; the order depends on facts alone.
pub fn list<'a>(
    given: impl IntoIterator<Item = (FarmId, &'a Instruction)>,
    rules: &Rules,
    today: NaiveDate,
) -> Vec<Review<'a>> {
    let mut list: Vec<Review<'a>> = given
        .into_iter()
        .map(|(farm, of)| Review { farm, of, due: due(rules.of(farm), of, today) })
        .filter(|review| review.due.urgency > Urgency::Coming)
        .collect();
    list.sort_by_key(|review| (Reverse(review.due.urgency), review.due.day, review.farm, review.of.id));
    list
}
