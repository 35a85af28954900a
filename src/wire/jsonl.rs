//! One record a line in JSON, loss-free both ways: words for numbers, days and moments as people write them.
//!
//! `{"id":"00000000000000aa-7","tick":3,"press":7,"about":"00000000000000aa-2","by":null,
//! "written":"2025-05-14T08:30:00+02:00","on":"2025-05-14","kind":"sore","revision":1,"fact":{...}}`
//!
//! A record of a newer crushbook has kind `newer`, and as fact its number and bytes: `{"number":200,"bytes":"00..."}`.

use super::days::moment_numbers;
use super::error::{WireError, plain};
use super::format::{Format, Json, bad_json};
use super::revisions;
use super::stored::{IdKept, Stored};
use crate::domain::ids::PersonId;
use crate::domain::record::{Body, Moment, Record};
use chrono::{DateTime, NaiveDate, SecondsFormat};
use serde::{Deserialize, Serialize};

/// Word in place of a kind, for what a newer crushbook wrote.
const NEWER: &str = "newer";

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Line {
    id: IdKept,
    tick: u64,
    press: u64,
    about: IdKept,
    by: Option<IdKept>,
    written: String,
    on: <NaiveDate as Stored>::Kept,
    kind: String,
    revision: u8,
    fact: serde_json::Value,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Unread {
    number: u16,
    bytes: String,
}

/// One line, without the line break. Refuses what an envelope would refuse in a day, moment, text or correction.
pub fn to_json(record: &Record) -> Result<String, WireError> {
    let line = line(record).map_err(|why| why.in_record(record.id))?;
    serde_json::to_string(&line).map_err(|why| bad_json(&why))
}

fn line(record: &Record) -> Result<Line, WireError> {
    let (kind, revision, fact) = match &record.body {
        Body::Known(event) => {
            let kind = revisions::kind_of(event);
            (kind.word, kind.revision, revisions::write::<Json>(event)?)
        }
        Body::Newer { kind, revision, bytes } => {
            (NEWER, *revision, Json::write(&Unread { number: *kind, bytes: to_hex(bytes) })?)
        }
    };
    moment_numbers(record.written)?;
    Ok(Line {
        id: record.id.keep()?,
        tick: record.tick,
        press: record.press,
        about: record.about.keep()?,
        by: record.by.keep()?,
        written: record.written.to_rfc3339_opts(SecondsFormat::Secs, false),
        on: record.on.keep()?,
        kind: kind.to_owned(),
        revision,
        fact,
    })
}

/// The record on one line. Errors name the column or the field. Total on any text.
pub fn from_json(line: &str) -> Result<Record, WireError> {
    let line: Line = serde_json::from_str(line).map_err(|why| bad_json(&why))?;
    let id = line.id.0;
    record(line).map_err(|why| why.in_record(id))
}

fn record(line: Line) -> Result<Record, WireError> {
    let body = if line.kind == NEWER {
        let unread: Unread = Json::read(&line.fact).map_err(|why| why.at("fact"))?;
        Body::Newer { kind: unread.number, revision: line.revision, bytes: from_hex(&unread.bytes)? }
    } else {
        let kind = revisions::kind_called(&line.kind, line.revision)?;
        let event = revisions::read::<Json>(kind.number, kind.revision, &line.fact);
        Body::Known(event.map_err(|why| why.at(kind.word))?)
    };
    Ok(Record {
        id: line.id.0,
        tick: line.tick,
        press: line.press,
        about: line.about.0,
        by: line.by.map(|person| PersonId(person.0)),
        written: moment(&line.written).map_err(|why| why.at("written"))?,
        on: NaiveDate::restore(line.on).map_err(|why| why.at("on"))?,
        body,
    })
}

fn moment(text: &str) -> Result<Moment, WireError> {
    let unreadable = |_| WireError::BadJson {
        column: 0,
        why: format!("{} is no moment as in 2025-05-14T08:30:00+02:00", plain(text)),
    };
    let moment = DateTime::parse_from_rfc3339(text).map_err(unreadable)?;
    moment_numbers(moment).map(|_| moment)
}

fn to_hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

fn from_hex(text: &str) -> Result<Box<[u8]>, WireError> {
    let digit = |letter: &u8| char::from(*letter).to_digit(16).map(|value| value as u8);
    let pair = |pair: &[u8]| match pair {
        [high, low] => Some(digit(high)? << 4 | digit(low)?),
        _ => None,
    };
    text.as_bytes().chunks(2).map(pair).collect::<Option<_>>().ok_or_else(|| WireError::BadHex(plain(text)))
}
