//! The one script entry.
fn main() {}
