//! The tally: which numbers of each series a book held, in a form that is found in raw bytes. With it a book whose database
//! can no longer be opened still tells what should be in it, the end of a series too.
//!
//! | offset | bytes | what |
//! | --- | --- | --- |
//! | 0 | 4 | magic `c7 74 6c 79` |
//! | 4 | 1 | layout, 1 |
//! | 5 | 4 | n, number of runs |
//! | 9 | 24 n | series, first number, last number, each 8 bytes |
//! | 9 + 24 n | 4 | CRC-32 of all before it |
//!
//! Numbers are little endian.

use super::bytes::Reader;
use super::error::WireError;

/// First bytes of every tally.
pub const MAGIC: [u8; 4] = [0xc7, b't', b'l', b'y'];
const LAYOUT: u8 = 1;
/// Most runs of one: it then is no longer than a record may be. A book in more pieces tells of its first ones.
const MOST: usize = 2700;

/// A run of numbers: series, first, last.
pub type Run = (u64, u64, u64);

/// Bytes of a tally.
pub fn tally(runs: impl Iterator<Item = Run>) -> Vec<u8> {
    let runs: Vec<Run> = runs.take(MOST).collect();
    let mut bytes = MAGIC.to_vec();
    bytes.push(LAYOUT);
    bytes.extend((runs.len() as u32).to_le_bytes());
    bytes.extend(runs.into_iter().flat_map(|(series, from, to)| [series, from, to]).flat_map(u64::to_le_bytes));
    bytes.extend(crc32fast::hash(&bytes).to_le_bytes());
    bytes
}

/// The tally at the start of the bytes, and its length. Total on any bytes.
pub fn first(bytes: &[u8]) -> Result<(Vec<Run>, usize), WireError> {
    const WHAT: &str = "a tally";
    let mut reader = Reader::new(WHAT, bytes);
    let magic = reader.array()?;
    if magic != MAGIC {
        return Err(WireError::BadMagic { what: "tally", found: magic });
    }
    let version = reader.u8()?;
    if version != LAYOUT {
        return Err(WireError::NewerLayout { what: WHAT, version });
    }
    let said = reader.u32()?;
    let count = usize::try_from(said).ok().filter(|count| *count <= MOST);
    let count = count.ok_or(WireError::BadLength { what: WHAT, said: u64::from(said) })?;
    let end = 9 + 24 * count;
    let short = WireError::TooShort { what: WHAT, have: bytes.len(), need: end + 4 };
    let found = crc32fast::hash(bytes.get(..end).ok_or(short)?);
    let mut runs = Vec::with_capacity(count);
    for _ in 0..count {
        runs.push((reader.u64()?, reader.u64()?, reader.u64()?));
    }
    match reader.u32()? {
        said if said != found => Err(WireError::BadChecksum { what: WHAT, said, found }),
        _ => match runs.iter().find(|(_, from, to)| *from == 0 || from > to) {
            Some((_, _, to)) => Err(WireError::BadLength { what: "a run of numbers", said: *to }),
            None => Ok((runs, end + 4)),
        },
    }
}
