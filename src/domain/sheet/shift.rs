//! Moves a sheet or an animal's herd data in time, every day by the same number: the sample herd is always "now".

use super::super::herd::Herd;
use super::super::treatment::OffBy;
use super::super::which::Which;
use super::{Fact, FarmTold, Line, Sheet, Told};
use chrono::{NaiveDate, TimeDelta};

impl Sheet {
    /// The same sheet so many days later, or earlier where `by` is negative; none beyond the end of the calendar.
    pub fn moved(mut self, by: TimeDelta) -> Option<Sheet> {
        shift(&mut self.on, by)?;
        for line in &mut self.lines {
            match line {
                Line::Turn(turn) => turn.facts.iter_mut().try_for_each(|fact| move_fact(fact, by))?,
                Line::Animal { told, .. } => move_told(told, by)?,
                Line::Farm(told) => move_farm_told(told, by)?,
            }
        }
        Some(self)
    }
}

/// The same herd data so many days later.
pub fn moved_herd(mut herd: Herd, by: TimeDelta) -> Option<Herd> {
    let days = [&mut herd.born, &mut herd.calved, &mut herd.dry_from, &mut herd.due_to_calve];
    days.into_iter().flatten().try_for_each(|day| shift(day, by))?;
    Some(herd)
}

fn shift(day: &mut NaiveDate, by: TimeDelta) -> Option<()> {
    *day = day.checked_add_signed(by)?;
    Some(())
}

fn move_told(told: &mut Told, by: TimeDelta) -> Option<()> {
    match told {
        Told::Dry(day) | Told::Calved(day) | Told::DueToCalve(day) => shift(day, by),
        Told::Fact(fact) => move_fact(fact, by),
        Told::Word { .. }
        | Told::Left { .. }
        | Told::Back(_)
        | Told::Label { .. }
        | Told::Kicks(_)
        | Told::Cull
        | Told::ClawGone(_, _)
        | Told::Lactation(_)
        | Told::Group(_)
        | Told::Called { .. }
        | Told::VetAnswered { .. } => Some(()),
    }
}

fn move_farm_told(told: &mut FarmTold, by: TimeDelta) -> Option<()> {
    match told {
        FarmTold::InstructionReviewed { which, review_on, .. } => {
            [&mut which.since, review_on].into_iter().flatten().try_for_each(|day| shift(day, by))
        }
        FarmTold::Instructed { review_on: Some(day), .. }
        | FarmTold::InstructionEnded { which: Which { since: Some(day), .. }, .. } => shift(day, by),
        FarmTold::Instructed { review_on: None, .. }
        | FarmTold::InstructionEnded { which: Which { since: None, .. }, .. }
        | FarmTold::Fact(_, _)
        | FarmTold::Contact { .. }
        | FarmTold::Changed(_, _)
        | FarmTold::Called { .. }
        | FarmTold::Rung { .. } => Some(()),
    }
}

fn move_fact(fact: &mut Fact, by: TimeDelta) -> Option<()> {
    match fact {
        Fact::Put { off_by: Some(OffBy { day, .. }), .. } | Fact::Recheck { on: day, .. } => shift(day, by),
        Fact::Medicine(medicine) => {
            let days = [&mut medicine.expiry, &mut medicine.first, &mut medicine.last];
            days.into_iter().flatten().try_for_each(|day| shift(day, by))
        }
        Fact::Put { off_by: None, .. }
        | Fact::Look { .. }
        | Fact::Found(_)
        | Fact::Answered { .. }
        | Fact::Trimmed { .. }
        | Fact::Off { .. }
        | Fact::Gait(_)
        | Fact::Measured { .. }
        | Fact::Sore(_)
        | Fact::Note { .. }
        | Fact::Relief(_)
        | Fact::HandedOver(_)
        | Fact::Vet { .. } => Some(()),
    }
}
