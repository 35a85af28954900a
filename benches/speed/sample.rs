//! The sample herd: what `demo` does before its first picture, every sheet of it read, written out and taken in.

use crate::books::open;
use crate::rounds::{Outcome, timed};
use chrono::{DateTime, FixedOffset};
use crushbook::command::World;
use crushbook::command::demo::fill;
use crushbook::command::recorder::Recorder;
use std::io;
use std::path::Path;
use std::time::Duration;

/// Enters the whole herd into a new book, and says how many records that are and how long it took.
pub fn enter(folder: &Path) -> Outcome<(usize, Duration)> {
    let mut store = open(&folder.join("sample"))?;
    let now: DateTime<FixedOffset> = DateTime::parse_from_rfc3339("2026-05-14T09:00:00+01:00")?;
    let mut world = World {
        by: Recorder::default(),
        now,
        input: &mut io::empty(),
        out: &mut io::sink(),
        err: &mut io::sink(),
        terminal: false,
        dumb: false,
        watched: false,
        stop: &|| None,
    };
    let entered = || fill(&mut store, now.date_naive(), &mut world).map_err(|fault| fault.what.into());
    let (_, time) = timed(entered)?;
    let records = store.every()?.count();
    store.close()?;
    Ok((records, time))
}
