//! Replays the corpus that is kept for the fuzzer, so that what it once found stays mended.

#![expect(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a test panics on a corpus that cannot be read, and names the file that it stopped at"
)]

#[path = "../../fuzz/src/lib.rs"]
#[expect(
    unreachable_pub,
    reason = "public for the fuzz targets, which import it as a crate"
)]
mod fuzz;

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use fuzz::Outcome;

/// Gives every file of a target's corpus to its check; the corpus must hold some that are read and some that are not.
fn replay(target: &str, check: fn(&[u8]) -> Outcome) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../fuzz/corpus")
        .join(target);
    let mut seen = BTreeSet::new();
    for entry in fs::read_dir(&folder).unwrap() {
        let file = entry.unwrap().path();
        // Shown only where the check fails.
        println!("{}", file.display());
        seen.insert(check(&fs::read(&file).unwrap()));
    }
    let both = BTreeSet::from([Outcome::Refused, Outcome::Survived]);
    assert_eq!(seen, both, "{}: the corpus is thin", folder.display());
}

#[test]
fn site_files_replay() {
    replay("site", fuzz::site);
}

#[test]
fn tables_of_readings_replay() {
    replay("readings", fuzz::readings);
}

#[test]
fn test_files_replay() {
    replay("test", fuzz::test);
}

#[test]
fn bundles_replay() {
    replay("bundle", fuzz::bundle);
}
