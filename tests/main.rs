//! One test binary.

mod store;
