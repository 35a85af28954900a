//! What is odd about a sheet that was entered: it may be so, so the work goes on, and it is said with file and line, because a slip of
//! the pen shows there first.

use super::entered::Entered;
use crate::domain::herd_list::doubt::What;
use crate::domain::slip::{Slip, is_letter_off};
use crate::domain::twice::folded;
use crate::report::safe::safe;
use crate::report::words;
use chrono::{Months, NaiveDate};
use std::fmt;

/// Something odd.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Odd {
    /// The day is long ago.
    LongAgo(NaiveDate, NaiveDate),
    /// A farm is begun whose name is near that of another.
    Farm(String, String),
    /// A person is begun, beside those who are known.
    Person(String, Vec<String>),
    /// An animal is begun: by what alone she is known, and the numbers near hers.
    Animal(String, Option<&'static str>, Vec<(Slip, String)>),
    /// Something told of her is doubtful.
    Doubt(String, What),
}

/// Months after which the day of a sheet is asked about. Paper is typed up within weeks; whoever has not been seen for two years is asked
/// about on the list of the day, too, so an older sheet changes nothing that is due.
const LONG_AGO: u32 = 24;
/// Near numbers, or people, that are named.
const NAMED: usize = 3;

/// What is odd about a day, where it is.
pub fn long_ago(on: NaiveDate, today: NaiveDate) -> Option<Odd> {
    let oldest = today.checked_sub_months(Months::new(LONG_AGO));
    oldest.is_some_and(|oldest| on < oldest).then_some(Odd::LongAgo(on, today))
}

impl fmt::Display for Odd {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Odd::LongAgo(on, today) => {
                let years = today.years_since(*on).unwrap_or_default();
                let [on, today] = [on, today].map(|day| words::day(*day));
                write!(f, "{on} is {years} years before today, {today}. Is the year right?")
            }
            Odd::Farm(name, near) => {
                write!(f, "begins the farm {}; near it in the book: {}. A slip of the pen?", safe(name), safe(near))
            }
            Odd::Person(name, known) => {
                write!(f, "begins the person {}; known: {}", safe(name), some(known))?;
                let is_same = |other: &&String| folded(other) == folded(name);
                if let Some(same) = known.iter().find(is_same) {
                    return write!(f, "; {} but for how it is written: crushbook twice joins them", safe(same));
                }
                match known.iter().find(|other| is_letter_off(name, other)) {
                    Some(near) => write!(f, "; one letter from {}. A slip of the pen?", safe(near)),
                    None => Ok(()),
                }
            }
            Odd::Animal(called, only_by, near) => {
                match only_by {
                    Some(by) => write!(f, "begins {}, known only by {by}", safe(called))?,
                    None => write!(f, "{} is new", safe(called))?,
                }
                let near: Vec<String> = near.iter().map(said).collect();
                match near.is_empty() {
                    true => Ok(()),
                    false => write!(f, "; near it in the herd: {}", some(&near)),
                }?;
                f.write_str(". A slip of the pen?")
            }
            Odd::Doubt(value, what) => write!(f, "\"{}\": {what}", safe(value)),
        }
    }
}

fn said((slip, number): &(Slip, String)) -> String {
    match slip {
        Slip::Swapped => format!("{number} (two figures swapped)"),
        Slip::Figure => format!("{number} (another figure)"),
    }
}

/// The first few, and how many more.
fn some(all: &[String]) -> String {
    let named = all.iter().take(NAMED).map(|one| safe(one)).collect::<Vec<_>>().join(", ");
    match all.len().saturating_sub(NAMED) {
        0 => named,
        more => format!("{named} and {more} more"),
    }
}

/// What is odd about a sheet, line by line.
pub fn of(sheet: &Entered) -> Vec<(usize, Odd)> {
    let is_odd = |new: &&super::entered::New| new.only_by.is_some() || !new.near.is_empty();
    let animal = |new: &super::entered::New| Odd::Animal(new.called.clone(), new.only_by, new.near.clone());
    let new = sheet.new_animals.iter().filter(is_odd).map(|new| (new.line, animal(new)));
    let mut all: Vec<(usize, Odd)> = sheet.odd.iter().cloned().chain(new).collect();
    all.sort_by_key(|(line, _)| *line);
    all
}
