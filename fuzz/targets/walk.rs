//! Fuzz target: see the function it calls.
#![no_main]
libfuzzer_sys::fuzz_target!(|bytes: &[u8]| crushbook::wire::walk_list::fuzz_walk(bytes));
