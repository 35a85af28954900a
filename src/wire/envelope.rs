//! The envelope: what stands round every record, so that it can be routed, ordered and checked with its payload unread.
//!
//! All numbers are little endian. The limit is [`LIMIT`] bytes for the whole.
//!
//! | offset | bytes | what |
//! | --- | --- | --- |
//! | 0 | 4 | magic `c7 6c 61 77`: no valid text holds them, so a scan of raw bytes finds records and not words |
//! | 4 | 1 | layout of the envelope, 1 |
//! | 5 | 4 | length of the whole, checksum included |
//! | 9 | 8 + 8 | id: series, number in the series |
//! | 25 | 8 | tick |
//! | 33 | 8 | press: number of the first record that the same key wrote |
//! | 41 | 8 + 8 | about: series, number |
//! | 57 | 1 + 8 + 8 | who recorded it: 1, series, number; all zero for nobody |
//! | 74 | 8 + 2 | written: seconds since 1970 (signed), offset in minutes east (signed) |
//! | 84 | 4 | happened on: days, 1 January of year 1 is day 1 (signed) |
//! | 88 | 2 + 1 | kind, revision |
//! | 91 | 4 | length of the payload |
//! | 95 | 1 + 8 + 8 | also about: 1, series, number; all zero for none |
//! | 112 | n | payload |
//! | 112 + n | 4 | CRC-32 (the one of IEEE 802.3) of all before it |

use super::bytes::Reader;
use super::days::{day_from, day_number, moment_from, moment_numbers};
use super::error::WireError;
use super::format::Binary;
use super::revisions;
use crate::domain::event::Event;
use crate::domain::ids::{PersonId, RecordId};
use crate::domain::record::{Body, Moment, Record};
use chrono::NaiveDate;

/// First bytes of every envelope.
pub const MAGIC: [u8; 4] = [0xc7, b'l', b'a', b'w'];
/// Layout of the envelope that this program writes, and the only one it reads.
const LAYOUT: u8 = 1;
/// Most bytes an envelope may have.
pub const LIMIT: usize = 64 * 1024;
/// Offset of "also about". What is kept of a record nobody here can read begins here, so that it still routes.
const ALSO_AT: usize = 95;
/// Offset of the payload.
const PAYLOAD_AT: usize = 112;
/// Bytes of the checksum.
const CRC: usize = 4;

/// One whole envelope, checked, with the fields that routing needs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Raw {
    /// Name of the record.
    pub id: RecordId,
    /// Whom it is about.
    pub about: RecordId,
    /// The further subject it touches: [`Event::also_about`], kept outside the payload so that it is known of newer
    /// kinds too.
    pub also: Option<RecordId>,
    /// Logical counter.
    pub tick: u64,
    /// The day it happened.
    pub on: NaiveDate,
    /// The whole envelope: header, payload, checksum.
    pub bytes: Box<[u8]>,
}

/// All of the header that is not layout.
struct Header {
    id: RecordId,
    tick: u64,
    press: u64,
    about: RecordId,
    by: Option<RecordId>,
    written: Moment,
    on: NaiveDate,
    kind: u16,
    revision: u8,
}

/// Puts a record into its envelope. Errors: a text or the whole too long, a day or moment that cannot be kept, a
/// correction inside a correction.
pub fn encode(record: &Record) -> Result<Raw, WireError> {
    seal(record).map_err(|why| why.in_record(record.id))
}

fn seal(record: &Record) -> Result<Raw, WireError> {
    let (kind, revision, rest) = match &record.body {
        Body::Known(event) => {
            let kind = revisions::kind_of(event);
            let rest = [optional(event.also_about()).as_slice(), &revisions::write::<Binary>(event)?].concat();
            (kind.number, kind.revision, rest)
        }
        Body::Newer { kind, revision, bytes } => (*kind, *revision, bytes.to_vec()),
    };
    let payload = rest.len().checked_sub(PAYLOAD_AT - ALSO_AT).ok_or(WireError::TooShort {
        what: "a record of a newer crushbook",
        have: rest.len(),
        need: PAYLOAD_AT - ALSO_AT,
    })?;
    let length = PAYLOAD_AT + payload + CRC;
    if length > LIMIT {
        return Err(WireError::TooLong { what: "a record", bytes: length, limit: LIMIT });
    }
    let (seconds, minutes) = moment_numbers(record.written)?;
    let mut bytes = Vec::with_capacity(length);
    bytes.extend(MAGIC);
    bytes.push(LAYOUT);
    bytes.extend((length as u32).to_le_bytes());
    bytes.extend(two(record.id));
    bytes.extend(record.tick.to_le_bytes());
    bytes.extend(record.press.to_le_bytes());
    bytes.extend(two(record.about));
    bytes.extend(optional(record.by.map(|person| person.0)));
    bytes.extend(seconds.to_le_bytes());
    bytes.extend(minutes.to_le_bytes());
    bytes.extend(day_number(record.on)?.to_le_bytes());
    bytes.extend(kind.to_le_bytes());
    bytes.push(revision);
    bytes.extend((payload as u32).to_le_bytes());
    bytes.extend(rest);
    bytes.extend(crc32fast::hash(&bytes).to_le_bytes());
    Raw::parse(&bytes)
}

impl Raw {
    /// The one envelope that exactly these bytes are. Total on any bytes.
    pub fn parse(bytes: &[u8]) -> Result<Raw, WireError> {
        let (raw, length) = Raw::first(bytes)?;
        match bytes.len() - length {
            0 => Ok(raw),
            extra => Err(WireError::Trailing { what: "a record", extra }),
        }
    }

    /// The envelope at the start of the bytes, and its length. Total on any bytes.
    pub fn first(bytes: &[u8]) -> Result<(Raw, usize), WireError> {
        let mut reader = Reader::new("a record", bytes);
        let magic = reader.array()?;
        if magic != MAGIC {
            return Err(WireError::BadMagic { what: "record", found: magic });
        }
        let version = reader.u8()?;
        if version != LAYOUT {
            return Err(WireError::NewerLayout { what: "a record", version });
        }
        let said = reader.u32()?;
        let length = said as usize;
        if !(PAYLOAD_AT + CRC..=LIMIT).contains(&length) {
            return Err(WireError::BadLength { what: "a record", said: u64::from(said) });
        }
        let short = WireError::TooShort { what: "a record", have: bytes.len(), need: length };
        let whole = bytes.get(..length).ok_or(short)?;
        check(whole)?;
        let (header, also) = read_header(whole)?;
        let raw =
            Raw { id: header.id, about: header.about, also, tick: header.tick, on: header.on, bytes: whole.into() };
        Ok((raw, length))
    }

    /// The record inside. A kind, revision, code or place that this program does not know gives [`Body::Newer`], which
    /// holds everything from "also about" to the end of the payload: encoding it gives these bytes again.
    pub fn decode(&self) -> Result<Record, WireError> {
        let (header, also) = read_header(&self.bytes)?;
        let end = self.bytes.len() - CRC;
        let body = known(&header, also, &self.bytes[PAYLOAD_AT..end]).map_or_else(
            || Body::Newer { kind: header.kind, revision: header.revision, bytes: self.bytes[ALSO_AT..end].into() },
            Body::Known,
        );
        Ok(Record {
            id: header.id,
            tick: header.tick,
            press: header.press,
            about: header.about,
            by: header.by.map(PersonId),
            written: header.written,
            on: header.on,
            body,
        })
    }

    /// The record inside in the form that encodes to these very bytes: one of an older revision, which decoding reads
    /// upwards, as its bytes.
    pub fn as_written(&self) -> Result<Record, WireError> {
        let record = self.decode()?;
        let (Header { kind, revision, .. }, _) = read_header(&self.bytes)?;
        let same = |newest: &revisions::Kind| (newest.number, newest.revision) == (kind, revision);
        if record.event().is_none_or(|event| same(revisions::kind_of(event))) {
            return Ok(record);
        }
        let bytes = self.bytes[ALSO_AT..self.bytes.len() - CRC].into();
        Ok(Record { body: Body::Newer { kind, revision, bytes }, ..record })
    }

    /// Its checksum: with the id it tells two forms of one record apart.
    pub fn crc(&self) -> u32 {
        crc_of(&self.bytes)
    }
}

/// The event, if this program knows it and would write it with the very same bytes: all else is kept as it is.
fn known(header: &Header, also: Option<RecordId>, payload: &[u8]) -> Option<Event> {
    let event = revisions::read::<Binary>(header.kind, header.revision, &payload.to_vec()).ok()?;
    let kind = revisions::kind_of(&event);
    let newest = (kind.number, kind.revision) == (header.kind, header.revision);
    let same = !newest || revisions::write::<Binary>(&event).is_ok_and(|again| again == payload);
    (same && event.also_about() == also).then_some(event)
}

fn crc_of(whole: &[u8]) -> u32 {
    whole.last_chunk().map_or(0, |crc| u32::from_le_bytes(*crc))
}

fn check(whole: &[u8]) -> Result<(), WireError> {
    let found = crc32fast::hash(&whole[..whole.len().saturating_sub(CRC)]);
    match crc_of(whole) {
        said if said == found => Ok(()),
        said => Err(WireError::BadChecksum { what: "a record", said, found }),
    }
}

fn read_header(whole: &[u8]) -> Result<(Header, Option<RecordId>), WireError> {
    let mut reader = Reader::new("a record", whole);
    reader.array::<9>()?;
    let header = Header {
        id: id(&mut reader)?,
        tick: reader.u64()?,
        press: reader.u64()?,
        about: id(&mut reader)?,
        by: optional_id("who recorded it", &mut reader)?,
        written: moment_from(reader.i64()?, reader.i16()?)?,
        on: day_from(reader.i32()?)?,
        kind: reader.u16()?,
        revision: reader.u8()?,
    };
    let payload = reader.u32()?;
    if whole.len().checked_sub(PAYLOAD_AT + CRC) != Some(payload as usize) {
        return Err(WireError::BadLength { what: "a payload", said: u64::from(payload) });
    }
    Ok((header, optional_id("also about", &mut reader)?))
}

fn id(reader: &mut Reader) -> Result<RecordId, WireError> {
    Ok(RecordId { series: reader.u64()?, seq: reader.u64()? })
}

fn optional_id(what: &'static str, reader: &mut Reader) -> Result<Option<RecordId>, WireError> {
    match (reader.u8()?, id(reader)?) {
        (0, RecordId::PRACTICE) => Ok(None),
        (1, id) => Ok(Some(id)),
        (said, _) => Err(WireError::BadFlag { what, said }),
    }
}

fn two(id: RecordId) -> [u8; 16] {
    let mut bytes = [0; 16];
    bytes[..8].copy_from_slice(&id.series.to_le_bytes());
    bytes[8..].copy_from_slice(&id.seq.to_le_bytes());
    bytes
}

fn optional(id: Option<RecordId>) -> [u8; 17] {
    let mut bytes = [0; 17];
    bytes[0] = u8::from(id.is_some());
    bytes[1..].copy_from_slice(&two(id.unwrap_or(RecordId::PRACTICE)));
    bytes
}
