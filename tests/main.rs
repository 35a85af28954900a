//! One test binary.

mod keys;
