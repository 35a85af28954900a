//! Days: "14 May 2026", "2026-05-14", "14 May", "Sunday", "tomorrow", "in 4 weeks". Month and weekday in letters,
//! because figures alone are read both ways round.

use super::Mistake;
use super::mistake::safe;
use super::reader::Reader;
use chrono::{Datelike, Days, NaiveDate, Weekday};

/// Where a day without a year lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Near {
    /// The next such day, the sheet's own included.
    Ahead,
    /// The last such day, the sheet's own included.
    Behind,
}

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

const HOW: &str = "write it like 14 May 2026";

/// Writes a day in full: 14 May 2026.
pub(super) fn full(day: NaiveDate) -> String {
    format!("{} {:04}", short(day), day.year())
}

/// Writes a day without the year where the sheet's day tells it.
pub(super) fn ahead(day: NaiveDate, today: NaiveDate) -> String {
    if near(day.day(), day.month(), today, Near::Ahead) == Some(day) { short(day) } else { full(day) }
}

fn short(day: NaiveDate) -> String {
    format!("{} {}", day.day(), &MONTHS[day.month0() as usize][..3])
}

/// The day in figures-and-letters nearest to the sheet's; eight years hold a 29 February on either side of 2100.
fn near(day: u32, month: u32, today: NaiveDate, near: Near) -> Option<NaiveDate> {
    (0..=8).find_map(|years| match near {
        Near::Ahead => NaiveDate::from_ymd_opt(today.year() + years, month, day).filter(|found| *found >= today),
        Near::Behind => NaiveDate::from_ymd_opt(today.year() - years, month, day).filter(|found| *found <= today),
    })
}

/// Reads a day that cannot lie before the sheet's own: a promise, a review.
pub(super) fn to_come(reader: &mut Reader) -> Result<NaiveDate, Mistake> {
    let at = reader.at();
    let day = read(reader, Near::Ahead)?;
    if day < reader.today {
        let mistake = reader.stumble_at(at, "that day is before the sheet's own", "check day, month and year");
        reader.mistakes.push(mistake);
    }
    Ok(day)
}

/// Reads a day.
pub(super) fn read(reader: &mut Reader, side: Near) -> Result<NaiveDate, Mistake> {
    let start = reader.at();
    let Some(token) = reader.peek() else {
        return Err(reader.stumble("the day is missing", HOW));
    };
    // A quoted day stands as the value of a key: first="1 May 2026".
    if token.quoted {
        return read_quoted(reader, side);
    }
    if let Some(found) = in_figures(&token.text) {
        reader.back_to(start + 1);
        return Ok(found);
    }
    if let Some(found) = spoken(reader, side)? {
        return Ok(found);
    }
    reader.back_to(start);
    let Some(day) = reader.number::<u32>() else {
        return Err(reader.stumble(format!("{} is no day", safe(&token.text)), HOW));
    };
    let Some(month) = reader.longest(month) else {
        return Err(reader.stumble("the month is missing or not in letters", HOW));
    };
    let found = match year(reader) {
        Some(year) => NaiveDate::from_ymd_opt(year, month, day),
        None => near(day, month, reader.today, side),
    };
    found.ok_or_else(|| reader.stumble_at(start, format!("there is no {day} {}", MONTHS[month as usize - 1]), HOW))
}

fn read_quoted(reader: &mut Reader, side: Near) -> Result<NaiveDate, Mistake> {
    let at = reader.at();
    let text = reader.words();
    let wrong = || reader.stumble_at(at, format!("{} is no day", safe(&text)), HOW);
    let tokens = super::tokens::cut(&text).map_err(|_| wrong())?;
    if tokens.is_empty() || tokens.iter().any(|token| token.quoted) {
        return Err(wrong());
    }
    let mut inner = Reader::new("", 0, &tokens, reader.today);
    let found = read(&mut inner, side).map_err(|_| wrong())?;
    inner.finish(&[]).map_err(|_| wrong())?;
    Ok(found)
}

fn in_figures(text: &str) -> Option<NaiveDate> {
    let parts: Vec<&str> = text.split('-').collect();
    let [year, month, day] = parts.as_slice() else { return None };
    let figures = |part: &str, length: usize| part.len() == length && part.bytes().all(|byte| byte.is_ascii_digit());
    if !(figures(year, 4) && figures(month, 2) && figures(day, 2)) {
        return None;
    }
    NaiveDate::from_ymd_opt(year.parse().ok()?, month.parse().ok()?, day.parse().ok()?)
}

/// "tomorrow", "in 4 weeks", and weekdays: the next after the sheet's day, or the last before it.
fn spoken(reader: &mut Reader, side: Near) -> Result<Option<NaiveDate>, Mistake> {
    let today = reader.today;
    if reader.take("today") {
        return Ok(Some(today));
    }
    if reader.take("tomorrow") {
        return Ok(today.checked_add_days(Days::new(1)));
    }
    if let Some(weekday) = reader.longest(weekday) {
        let next = |days: u64| match side {
            Near::Ahead => today.checked_add_days(Days::new(days)),
            Near::Behind => today.checked_sub_days(Days::new(days)),
        };
        return Ok((1..=7).filter_map(next).find(|day| day.weekday() == weekday));
    }
    if !reader.take("in") {
        return Ok(None);
    }
    let count = reader.number::<u16>().filter(|count| (1..=999).contains(count));
    let count = count.ok_or_else(|| reader.stumble("how many days or weeks?", "write it like in 4 weeks"))?;
    let days = if reader.take("weeks") || reader.take("week") {
        u64::from(count) * 7
    } else if reader.take("days") || reader.take("day") {
        u64::from(count)
    } else {
        return Err(reader.stumble("days or weeks?", "write it like in 4 weeks"));
    };
    Ok(today.checked_add_days(Days::new(days)))
}

fn year(reader: &mut Reader) -> Option<i32> {
    let four = reader.peek().is_some_and(|token| token.text.len() == 4);
    if four { reader.number() } else { None }
}

fn month(word: &str) -> Option<u32> {
    let is = |name: &str| name.eq_ignore_ascii_case(word) || name[..3].eq_ignore_ascii_case(word);
    let sept = word.eq_ignore_ascii_case("sept").then_some(8);
    MONTHS.iter().position(|name| is(name)).or(sept).map(|index| index as u32 + 1)
}

fn weekday(word: &str) -> Option<Weekday> {
    let letters = word.bytes().all(|byte| byte.is_ascii_alphabetic());
    // chrono knows "Mon" and "Monday", in any case.
    if letters { word.parse().ok() } else { None }
}
