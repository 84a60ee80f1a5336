//! Random bytes as a site file.

#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    fuzz::site(bytes);
});
