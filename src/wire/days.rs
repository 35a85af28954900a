//! Days and moments as numbers. Only the years 1 to 9999 can be kept: that is what a date in text can say without a sign.

use super::error::WireError;
use crate::domain::record::Moment;
use chrono::{DateTime, Datelike, FixedOffset, NaiveDate, Offset};

/// Seconds of 1 January of year 1, and of the last second of 9999, counted from 1970.
const SECONDS: std::ops::RangeInclusive<i64> = -62_135_596_800..=253_402_300_799;

/// Days since the day before 1 January of year 1, which is day 1.
pub fn day_number(day: NaiveDate) -> Result<i32, WireError> {
    let number = day.num_days_from_ce();
    day_from(number).map(|_| number)
}

/// The day with this number.
pub fn day_from(number: i32) -> Result<NaiveDate, WireError> {
    NaiveDate::from_num_days_from_ce_opt(number)
        .filter(|day| (1..=9999).contains(&day.year()))
        .ok_or(WireError::BadDay(i64::from(number)))
}

/// Seconds since 1970 and offset in minutes east. Refuses what is finer, since it would not come back the same.
pub fn moment_numbers(moment: Moment) -> Result<(i64, i16), WireError> {
    let seconds = moment.timestamp();
    let offset = moment.offset().fix().local_minus_utc();
    let bad = WireError::BadMoment { seconds, minutes: i64::from(offset / 60) };
    let minutes = i16::try_from(offset / 60).map_err(|_| bad)?;
    let cut = moment_from(seconds, minutes)?;
    if cut == moment && cut.offset() == moment.offset() {
        Ok((seconds, minutes))
    } else {
        Err(WireError::TooFine(moment.naive_utc().to_string()))
    }
}

/// The moment with these numbers. In UTC and on the local clock it lies in the years 1 to 9999.
pub fn moment_from(seconds: i64, minutes: i16) -> Result<Moment, WireError> {
    let bad = WireError::BadMoment { seconds, minutes: i64::from(minutes) };
    let local = seconds.saturating_add(i64::from(minutes) * 60);
    if !SECONDS.contains(&seconds) || !SECONDS.contains(&local) {
        return Err(bad);
    }
    let offset = FixedOffset::east_opt(i32::from(minutes) * 60).ok_or(bad.clone())?;
    Ok(DateTime::from_timestamp(seconds, 0).ok_or(bad)?.with_timezone(&offset))
}
