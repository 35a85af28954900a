//! One record a line in JSON, loss-free both ways: words for numbers, days and moments as people write them.
//!
//! `{"id":"00000000000000aa-7","tick":3,"press":7,"about":"00000000000000aa-2","by":null,
//! "written":"2025-05-14T08:30:00+02:00","on":"2025-05-14","kind":"sore","revision":1,"fact":{...},"crc":"0f1e2d3c"}`
//!
//! A record that this crushbook would write otherwise, or cannot read, has kind `newer`, and as fact its number and bytes:
//! `{"number":200,"bytes":"00..."}`. `crc` is the checksum of its envelope: the words of a line must give that very one, so
//! no line that was changed on the way is ever taken for the record.

use super::days::moment_numbers;
use super::envelope::{Raw, encode};
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
    crc: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Unread {
    number: u16,
    bytes: String,
}

/// One line, without the line break, safe to show on a terminal.
pub fn to_json(raw: &Raw) -> Result<String, WireError> {
    let line = raw.as_written().and_then(|record| line(&record, raw.crc())).map_err(|why| why.in_record(raw.id))?;
    serde_json::to_string(&line).map(|text| printable(&text)).map_err(|why| bad_json(&why))
}

/// The same JSON with every letter escaped that could move a cursor or turn the reading order: JSON itself escapes only
/// those below a blank. Outside ASCII all letters of a line stand in texts, so escaping them changes no value.
fn printable(json: &str) -> String {
    let mut out = String::with_capacity(json.len());
    for letter in json.chars() {
        if letter == '\u{7f}' || (!letter.is_ascii() && letter.escape_debug().len() > 1) {
            let units =
                letter.encode_utf16(&mut [0; 2]).iter().map(|unit| format!("\\u{unit:04x}")).collect::<String>();
            out.push_str(&units);
        } else {
            out.push(letter);
        }
    }
    out
}

fn line(record: &Record, crc: u32) -> Result<Line, WireError> {
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
        crc: format!("{crc:08x}"),
    })
}

/// The record on one line, in the very envelope it was written from. Errors name the column or the field. Total on any text.
pub fn from_json(line: &str) -> Result<Raw, WireError> {
    let line: Line = serde_json::from_str(line).map_err(|why| bad_json(&why))?;
    let id = line.id.0;
    let said = u32::from_str_radix(&line.crc, 16).map_err(|_| WireError::BadHex(plain(&line.crc)).at("crc"));
    let raw = said.and_then(|said| {
        let raw = encode(&record(line)?)?;
        match raw.crc() {
            found if found == said => Ok(raw),
            found => Err(WireError::OtherWords { said, found }),
        }
    });
    raw.map_err(|why| why.in_record(id))
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
