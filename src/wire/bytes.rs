//! Little-endian numbers at the front of a slice, and nothing that can panic.

use super::error::WireError;

/// The bytes that are left of something with a name.
pub struct Reader<'a> {
    what: &'static str,
    left: &'a [u8],
}

macro_rules! numbers {
    ($($name:ident)+) => {$(
        /// The next number.
        pub fn $name(&mut self) -> Result<$name, WireError> {
            Ok($name::from_le_bytes(self.array()?))
        }
    )+};
}

impl<'a> Reader<'a> {
    /// Reads `bytes`, which errors call `what`.
    pub fn new(what: &'static str, bytes: &'a [u8]) -> Reader<'a> {
        Reader { what, left: bytes }
    }

    /// The next `N` bytes.
    pub fn array<const N: usize>(&mut self) -> Result<[u8; N], WireError> {
        let short = WireError::TooShort { what: self.what, have: self.left.len(), need: N };
        let (front, rest) = self.left.split_first_chunk().ok_or(short)?;
        self.left = rest;
        Ok(*front)
    }

    numbers! { u8 u16 i16 u32 i32 u64 i64 }
}
