//! Replays the corpus that is kept for the fuzzer, so that what it once found stays mended.

#[path = "../../fuzz/src/lib.rs"]
#[expect(
    unreachable_pub,
    reason = "public for the fuzz targets, which import it as a crate"
)]
mod fuzz;

use std::fs;
use std::path::Path;

/// Gives every file of a target's corpus to its check; a corpus without files is a failure.
fn replay(target: &str, check: fn(&[u8])) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../fuzz/corpus").join(target);
    let mut replayed = 0;
    for entry in fs::read_dir(&folder).unwrap() {
        let file = entry.unwrap().path();
        // Shown only where the check fails.
        println!("{}", file.display());
        check(&fs::read(&file).unwrap());
        replayed += 1;
    }
    assert!(replayed > 0, "{}: nothing to replay", folder.display());
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
