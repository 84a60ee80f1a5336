//! Random bytes as a test file with its readings.

#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    fuzz::test(bytes);
});
