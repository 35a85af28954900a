//! The hours that a lame animal has left. They are counted by the clock where it can be believed, else by days. Nothing hangs on
//! them but the figure that is shown: how urgent she is, and whom she stands before, goes by days, because clocks are wrong.

use super::follow_up::{Due, What};
use super::history::open::{Open, OpenItem};
use super::record::{Moment, Record};
use chrono::{Days, NaiveDate, NaiveTime};

/// Of a day.
const HOURS: i64 = 24;

/// The moment at which a list of a day is read: now, or the end of that day where it is not the clock's.
pub fn read_at(now: Moment, today: NaiveDate) -> Moment {
    if now.date_naive() == today { now } else { end_of(today, now) }
}

/// The end of a day, at the place of a clock.
pub fn end_of(day: NaiveDate, clock: Moment) -> Moment {
    let next = day.checked_add_days(Days::new(1)).unwrap_or(day);
    next.and_time(NaiveTime::MIN).and_local_timezone(*clock.offset()).single().unwrap_or(clock)
}

/// The moment at which she was first scored lame: what the clock said where it was written on the very day that it is of. Typed
/// later, nobody knows when it was.
pub fn scored(open: &Open, records: &[Record]) -> Option<Moment> {
    let of = open.items.iter().find_map(|item| if let OpenItem::Lame { of, .. } = item { Some(*of) } else { None })?;
    let record = records.iter().find(|record| record.id == of)?;
    (record.written.date_naive() == record.on).then_some(record.written)
}

/// How many hours are left until she has to be looked at, whole ones begun not counted; none where they do not count for her.
/// Below nothing they are over.
pub fn left(item: &OpenItem, due: Due, scored: Option<Moment>, (today, at): (NaiveDate, Moment)) -> Option<i64> {
    let OpenItem::Lame { since, looked: false, .. } = item else { return None };
    if due.what != What::LookAgain {
        return None;
    }
    // A clock that was put back would give her more hours than there are.
    match scored.filter(|scored| *scored <= at) {
        Some(scored) => {
            let all = chrono::TimeDelta::hours((due.day - *since).num_days() * HOURS);
            Some((all - (at - scored)).num_seconds().div_euclid(60 * 60))
        }
        None => Some((due.day - today).num_days() * HOURS).filter(|left| *left > 0),
    }
}
