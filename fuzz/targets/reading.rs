//! Fuzz target: see the function it calls.
#![no_main]
libfuzzer_sys::fuzz_target!(|bytes: &[u8]| crushbook::keys::fuzz_reading(bytes));
