//! A day as people type it: `30`, `30 4`, `30.4.`, `30/4/2026`, `30 Apr`, `2026-04-30`. Without a month or a year the newest such day
//! that is not after today is meant, or, of a day to come, the next one.

use chrono::{Datelike, Months, NaiveDate};

/// Months in the letters that tell them apart.
const MONTHS: [&str; 12] = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

/// Why a text is no day gone by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoDay {
    /// It cannot be read as one.
    Unread,
    /// There is no such day in any month or year that is meant.
    NotThere,
    /// It is still to come.
    ToCome,
    /// It has gone by.
    GoneBy,
}

/// The day that is meant, today or before it; the day of the month comes before the month.
///
/// # Errors
/// What is no day, or one to come.
pub fn gone_by(text: &str, today: NaiveDate) -> Result<NaiveDate, NoDay> {
    match parts(text)? {
        Parts::Whole(day) => not_to_come(day, today),
        Parts::Some(number, month, Some(year)) => {
            let day = NaiveDate::from_ymd_opt(year, month.unwrap_or(0), number).ok_or(NoDay::NotThere)?;
            not_to_come(day, today)
        }
        Parts::Some(number, month, None) => {
            newest(number, today, |first| month.is_none_or(|month| first.month() == month))
        }
    }
}

/// What was written of a day: all of it, or its number with the month and the year that were said.
enum Parts {
    Whole(NaiveDate),
    Some(u32, Option<u32>, Option<i32>),
}

fn parts(text: &str) -> Result<Parts, NoDay> {
    if let Ok(day) = text.trim().parse::<NaiveDate>() {
        return Ok(Parts::Whole(day));
    }
    let parts: Vec<&str> = text.split([' ', '.', '/', '-']).filter(|part| !part.is_empty()).collect();
    let number = |part: &str| part.parse::<u32>().map_err(|_| NoDay::Unread);
    match parts.as_slice() {
        [day] => Ok(Parts::Some(number(day)?, None, None)),
        [day, month] => {
            let month = month_of(month)?;
            Ok(Parts::Some(number(day)?, Some(month), None))
        }
        [day, month, year] => {
            let year = number(year)?;
            let year = i32::try_from(if year < 100 { year + 2000 } else { year }).map_err(|_| NoDay::Unread)?;
            Ok(Parts::Some(number(day)?, Some(month_of(month)?), Some(year)))
        }
        _ => Err(NoDay::Unread),
    }
}

/// The day that is meant, after today: what has no month or year is the next such day.
///
/// # Errors
/// What is no day, or one gone by.
pub fn to_come(text: &str, today: NaiveDate) -> Result<NaiveDate, NoDay> {
    let (number, month, year) = match parts(text)? {
        Parts::Whole(day) => return not_gone_by(day, today),
        Parts::Some(number, month, year) => (number, month, year),
    };
    match year {
        Some(year) => {
            let day = NaiveDate::from_ymd_opt(year, month.unwrap_or(0), number).ok_or(NoDay::NotThere)?;
            not_gone_by(day, today)
        }
        None => next(number, today, |first| month.is_none_or(|month| first.month() == month)),
    }
}

fn not_to_come(day: NaiveDate, today: NaiveDate) -> Result<NaiveDate, NoDay> {
    if day > today { Err(NoDay::ToCome) } else { Ok(day) }
}

fn not_gone_by(day: NaiveDate, today: NaiveDate) -> Result<NaiveDate, NoDay> {
    if day > today { Ok(day) } else { Err(NoDay::GoneBy) }
}

fn month_of(text: &str) -> Result<u32, NoDay> {
    let lower = text.to_lowercase();
    let spelled = MONTHS.iter().zip(1..).find(|(name, _)| lower.starts_with(*name)).map(|(_, number)| number);
    let number = spelled.map_or_else(|| text.parse().map_err(|_| NoDay::Unread), Ok)?;
    if (1..=12).contains(&number) { Ok(number) } else { Err(NoDay::NotThere) }
}

/// Months looked through, back or on: the 29th of February is four years apart, eight round a century.
const BACK: u32 = 12 * 8 + 1;

/// The next day of that number in a month that is meant.
fn next(day: u32, today: NaiveDate, meant: impl Fn(NaiveDate) -> bool) -> Result<NaiveDate, NoDay> {
    let this = today.with_day(1).ok_or(NoDay::NotThere)?;
    let months = (0..BACK).filter_map(|on| this.checked_add_months(Months::new(on))).filter(|first| meant(*first));
    months.filter_map(|first| first.with_day(day)).find(|found| *found > today).ok_or(NoDay::NotThere)
}

/// The newest day of that number in a month that is meant.
fn newest(day: u32, today: NaiveDate, meant: impl Fn(NaiveDate) -> bool) -> Result<NaiveDate, NoDay> {
    let this = today.with_day(1).ok_or(NoDay::NotThere)?;
    let months = (0..BACK).filter_map(|back| this.checked_sub_months(Months::new(back))).filter(|first| meant(*first));
    months.filter_map(|first| first.with_day(day)).find(|found| *found <= today).ok_or(NoDay::NotThere)
}
