//! Fuzz target: see the function it calls.
#![no_main]
libfuzzer_sys::fuzz_target!(|bytes: &[u8]| crushbook::run::fuzz::fuzz_lines(bytes));
