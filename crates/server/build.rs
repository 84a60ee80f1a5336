//! Lists the files of the page, so that they become part of the program.
//!
//! The page is made by `cargo xtask app` into the folder `app` of the target folder. Where it is not made the list
//! is empty: the program builds all the same, and says when it is asked for the page how that is made.

use std::path::{Path, PathBuf};
use std::{env, fs, io};

/// What cargo puts at the top of a target folder.
const TOP: &str = "CACHEDIR.TAG";

fn main() -> io::Result<()> {
    let out = PathBuf::from(env::var_os("OUT_DIR").unwrap_or_default());
    let top = out.ancestors().find(|folder| folder.join(TOP).is_file());
    let list = match top {
        Some(top) => watched(&top.join("app"))?,
        None => Vec::new(),
    };
    let entry = |path: &PathBuf| {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let path = path.to_string_lossy();
        format!("    ({name:?}, include_bytes!({path:?})),\n")
    };
    let entries: String = list.iter().map(entry).collect();
    fs::write(
        out.join("page.rs"),
        format!("pub(crate) const FILES: &[(&str, &[u8])] = &[\n{entries}];\n"),
    )
}

/// Gives the files of the folder but the compressed ones: over the loopback nothing is gained by them.
fn watched(folder: &Path) -> io::Result<Vec<PathBuf>> {
    // A folder that is not there would make cargo build this crate again every time.
    fs::create_dir_all(folder)?;
    println!("cargo::rerun-if-changed={}", folder.display());
    let mut files = Vec::new();
    for entry in fs::read_dir(folder)? {
        files.push(entry?.path());
    }
    files.retain(|file| {
        let extension = file.extension().unwrap_or_default();
        extension != "br" && extension != "gz"
    });
    files.sort();
    Ok(files)
}
