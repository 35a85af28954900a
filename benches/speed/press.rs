//! A durable press: beside an empty book and a large one, against F and against SQLite.

use crate::books::{Pair, SERIES, open};
use crate::floor::Floor;
use crate::rounds::{Outcome, Racer, Times, race, timed};
use crate::twin::Twin;
use chrono::{DateTime, FixedOffset, NaiveDate};
use crushbook::domain::anatomy::{Foot, Place, Skin};
use crushbook::domain::event::Event;
use crushbook::domain::finding::{Degree, Finding};
use crushbook::domain::ids::{RecordId, TurnId};
use crushbook::domain::record::{Record, Stamp};
use crushbook::store::Store;
use crushbook::wire::envelope::{Raw, encode};
use std::path::Path;
use std::time::Duration;

/// Presses of one turn, after which the hand is packed.
pub const TURN: u64 = 12;

/// One key: a finding.
pub fn press(next: RecordId, tick: u64) -> Outcome<Vec<Record>> {
    let now: DateTime<FixedOffset> = "2026-05-30T09:30:00+02:00".parse()?;
    let on = NaiveDate::from_ymd_opt(2026, 5, 30).ok_or("a day")?;
    let event = Event::Found {
        turn: TurnId(RecordId { series: SERIES, seq: 2 }),
        place: Place::Skin(Foot::RightHind, Skin::Heel),
        what: Finding::DD,
        degree: Degree::NotGiven,
        words: String::new(),
    };
    Ok(Stamp { next, tick, by: None, now, on }.press([(RecordId { series: SERIES, seq: 1 }, event)]))
}

/// Its envelope.
fn raw(next: RecordId, tick: u64) -> Outcome<Raw> {
    Ok(encode(press(next, tick)?.first().ok_or("a press of one record")?)?)
}

fn ours(store: &mut Store) -> Outcome<Duration> {
    let press = press(store.next_id(), store.tick())?;
    let (_, time) = timed(|| Ok(store.append(&press)?))?;
    if press[0].id.seq.is_multiple_of(TURN) {
        store.pack()?;
    }
    Ok(time)
}

fn theirs(twin: &mut Twin, seq: &mut u64) -> Outcome<Duration> {
    *seq += 1;
    let raw = raw(RecordId { series: SERIES + 1, seq: *seq }, 10_000_000 + *seq)?;
    Ok(timed(|| twin.append(&raw))?.1)
}

/// Lets all press.
pub fn run(folder: &Path, rounds: usize, empty: &Pair, large: &Pair) -> Outcome<Times> {
    let (mut of_empty, mut of_large) = (open(&empty.book)?, open(&large.book)?);
    let (mut twin_of_empty, mut twin_of_large) = (Twin::open(&empty.twin)?, Twin::open(&large.twin)?);
    let (mut first, mut second) = (0, 0);
    let mut floor = Floor::new(folder)?;
    let bytes = raw(RecordId { series: SERIES, seq: 3 }, 1)?.bytes;
    let times = race(
        rounds,
        vec![
            Racer::new("F", || floor.write(&bytes)),
            Racer::new("empty", || ours(&mut of_empty)),
            Racer::new("large", || ours(&mut of_large)),
            Racer::new("empty, SQLite", || theirs(&mut twin_of_empty, &mut first)),
            Racer::new("large, SQLite", || theirs(&mut twin_of_large, &mut second)),
        ],
    )?;
    of_empty.close()?;
    of_large.close()?;
    Ok(times)
}
