//! Random bytes as a bundle of files.

#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    fuzz::bundle(bytes);
});
