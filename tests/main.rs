//! One test binary.

mod wire;
