//! Where things are: the source tree, and the folder that cargo builds into.

use std::path::{Path, PathBuf};

/// What cargo puts at the top of the folder that it builds into.
const TOP: &str = "CACHEDIR.TAG";

/// Returns the folder of the workspace manifest.
pub fn root() -> &'static Path {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors()
        .nth(2)
        .expect("this crate is two folders deep")
}

/// Returns the folder that this test was built into.
pub fn target() -> PathBuf {
    let test = std::env::current_exe().expect("a test knows where it is");
    let top = test.ancestors().find(|folder| folder.join(TOP).is_file());
    top.expect("a test is in the folder that cargo builds into")
        .to_owned()
}

/// Returns a folder for pictures, which a person may look at after a test.
pub fn pictures() -> PathBuf {
    let folder = target().join("pictures");
    std::fs::create_dir_all(&folder).expect("the folder for pictures can be made");
    folder
}
