//! The one file that names the codec. Swapping it for another means rewriting two functions and the golden bytes.
//!
//! Three traps it closes, each seen to happen: without a limit a corrupt length panics; bytes left over after a value are
//! ignored unless counted; and the limit is checked only when reading, so what is written is read back before it is kept.

use super::error::{WireError, plain};
use serde::Serialize;
use serde::de::DeserializeOwned;

/// Most bytes that one value may have.
pub const LIMIT: usize = 64 * 1024;

fn config() -> impl bincode::config::Config {
    bincode::config::standard().with_limit::<LIMIT>()
}

/// Bytes of a value, checked to be readable again. Errors: too long, or the value refuses.
pub fn write<T: Serialize + DeserializeOwned>(value: &T) -> Result<Vec<u8>, WireError> {
    let bytes =
        bincode::serde::encode_to_vec(value, config()).map_err(|why| WireError::Codec(plain(&why.to_string())))?;
    if bytes.len() > LIMIT {
        return Err(WireError::TooLong { what: "payload", bytes: bytes.len(), limit: LIMIT });
    }
    read::<T>(&bytes)?;
    Ok(bytes)
}

/// The value that exactly these bytes are. Total on any bytes.
pub fn read<T: DeserializeOwned>(bytes: &[u8]) -> Result<T, WireError> {
    let (value, used) =
        bincode::serde::decode_from_slice(bytes, config()).map_err(|why| WireError::Codec(plain(&why.to_string())))?;
    match bytes.len() - used {
        0 => Ok(value),
        extra => Err(WireError::Trailing { what: "payload", extra }),
    }
}
