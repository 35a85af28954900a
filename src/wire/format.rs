//! The two forms a stored struct is written in: bytes in the book, JSON for people and other programs.

use super::codec;
use super::error::{WireError, plain};
use serde::Serialize;
use serde::de::DeserializeOwned;

/// One form.
pub trait Format {
    /// What it is written as.
    type Written;
    /// Writes a stored struct.
    fn write<T: Serialize + DeserializeOwned>(value: &T) -> Result<Self::Written, WireError>;
    /// Reads a stored struct.
    fn read<T: DeserializeOwned>(from: &Self::Written) -> Result<T, WireError>;
}

/// Bytes: numbers for words.
pub enum Binary {}

/// JSON: words for numbers.
pub enum Json {}

impl Format for Binary {
    type Written = Vec<u8>;
    fn write<T: Serialize + DeserializeOwned>(value: &T) -> Result<Vec<u8>, WireError> {
        codec::write(value)
    }
    fn read<T: DeserializeOwned>(from: &Vec<u8>) -> Result<T, WireError> {
        codec::read(from)
    }
}

impl Format for Json {
    type Written = serde_json::Value;
    fn write<T: Serialize + DeserializeOwned>(value: &T) -> Result<serde_json::Value, WireError> {
        serde_json::to_value(value).map_err(|why| bad_json(&why))
    }
    fn read<T: DeserializeOwned>(from: &serde_json::Value) -> Result<T, WireError> {
        T::deserialize(from).map_err(|why| bad_json(&why))
    }
}

/// The error of a JSON reader, with its column and without raw outside text.
pub fn bad_json(why: &serde_json::Error) -> WireError {
    WireError::BadJson { column: why.column(), why: plain(&why.to_string()) }
}
