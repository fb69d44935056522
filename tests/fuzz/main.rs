//! The record reader under libFuzzer: `cd tests/fuzz && cargo run --release -- corpus` (DEVELOPERS.md has the whole line).
//!
//! What has to hold is said in `reader`, which `cargo test` runs as well.
#![no_main]

mod reader;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    reader::take_in(bytes);
});
