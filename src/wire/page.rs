//! A page: a run of whole envelopes behind a small header that says how long each is.
//!
//! | offset | bytes | what |
//! | --- | --- | --- |
//! | 0 | 4 | magic `c7 70 61 67` |
//! | 4 | 1 | layout of the page, 1 |
//! | 5 | 4 | n, number of envelopes |
//! | 9 | 4 n | length of each |
//! | 9 + 4 n | 4 | CRC-32 of all before it |
//! | 13 + 4 n | | the envelopes, one after the other, each with its own checksum |
//!
//! Numbers are little endian. One bad envelope costs that envelope; a bad header costs nothing, since the envelopes are
//! then looked for by their first bytes.

use super::bytes::Reader;
use super::envelope::Raw;
use super::error::WireError;
use super::find::{Found, next};

const MAGIC: [u8; 4] = [0xc7, b'p', b'a', b'g'];
const LAYOUT: u8 = 1;

/// Packs envelopes into a page.
pub fn page(raws: &[Raw]) -> Box<[u8]> {
    let count = u32::try_from(raws.len()).expect("a page holds fewer than 2^32 envelopes");
    let mut bytes = MAGIC.to_vec();
    bytes.push(LAYOUT);
    bytes.extend(count.to_le_bytes());
    for raw in raws {
        // No envelope is longer than its limit of 64 KiB.
        bytes.extend((raw.bytes.len() as u32).to_le_bytes());
    }
    bytes.extend(crc32fast::hash(&bytes).to_le_bytes());
    for raw in raws {
        bytes.extend(&raw.bytes);
    }
    bytes.into()
}

/// All envelopes of a page that can be read, and what is wrong with it. Total on any bytes.
pub fn read_page(bytes: &[u8]) -> (Vec<Raw>, Vec<WireError>) {
    match read_lengths(bytes) {
        Ok((start, lengths)) => walk(bytes, start, &lengths),
        Err(why) => {
            let (raws, mut problems) = scan(bytes);
            problems.insert(0, why.at("page header"));
            (raws, problems)
        }
    }
}

/// Every readable envelope in raw bytes, wherever it begins, and what is wrong at each place where one seems to begin.
pub fn scan(bytes: &[u8]) -> (Vec<Raw>, Vec<WireError>) {
    let (mut raws, mut problems) = (Vec::new(), Vec::new());
    let mut from = 0;
    while let Some((at, found, on)) = next(bytes, from) {
        match found {
            Found::Record(raw) => raws.push(raw),
            Found::Damaged(_, why) => problems.push(why.at(place(at))),
            Found::Tally(_) => {}
        }
        from = on;
    }
    (raws, problems)
}

fn place(at: usize) -> String {
    format!("byte {at}")
}

/// Where the envelopes begin, and how long each is.
fn read_lengths(bytes: &[u8]) -> Result<(usize, Vec<usize>), WireError> {
    let mut reader = Reader::new("a page", bytes);
    let magic = reader.array()?;
    if magic != MAGIC {
        return Err(WireError::BadMagic { what: "page", found: magic });
    }
    let version = reader.u8()?;
    if version != LAYOUT {
        return Err(WireError::NewerLayout { what: "a page", version });
    }
    let count = reader.u32()? as usize;
    let end = count.saturating_mul(4).saturating_add(9);
    let short = WireError::TooShort { what: "a page", have: bytes.len(), need: end.saturating_add(4) };
    let found = crc32fast::hash(bytes.get(..end).ok_or(short)?);
    // The header is all there, so the list is no longer than the page.
    let lengths = (0..count).map(|_| reader.u32().map(|length| length as usize)).collect::<Result<_, _>>()?;
    match reader.u32()? {
        said if said == found => Ok((end + 4, lengths)),
        said => Err(WireError::BadChecksum { what: "a page header", said, found }),
    }
}

fn walk(bytes: &[u8], start: usize, lengths: &[usize]) -> (Vec<Raw>, Vec<WireError>) {
    let (mut raws, mut problems) = (Vec::new(), Vec::new());
    let mut at = start;
    for length in lengths {
        let end = at.saturating_add(*length).min(bytes.len());
        match Raw::parse(&bytes[at..end]) {
            Ok(raw) => raws.push(raw),
            Err(why) => problems.push(why.at(place(at))),
        }
        at = end;
    }
    if at < bytes.len() {
        problems.push(WireError::Trailing { what: "a page", extra: bytes.len() - at });
    }
    (raws, problems)
}
