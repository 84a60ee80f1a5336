//! The files of the folder while it is made: names and bytes, in an order that does not depend on the machine.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use crate::error::Error;

/// Files by their name in the folder, which has no folders in it.
pub(crate) type Files = BTreeMap<String, Vec<u8>>;

/// Reads the files of a folder.
pub(crate) fn read(folder: &Path) -> Result<Files, Error> {
    let mut files = Files::new();
    for entry in fs::read_dir(folder).map_err(at(folder))? {
        let path = entry.map_err(at(folder))?.path();
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        files.insert(name.into_owned(), fs::read(&path).map_err(at(&path))?);
    }
    Ok(files)
}

/// Makes the folder hold these files and no others.
///
/// A file that is there already and the same is left as it is, so that what is built from it is not built again.
pub(crate) fn write<'a>(
    folder: &Path,
    files: impl Iterator<Item = (&'a String, &'a Vec<u8>)>,
) -> Result<(), Error> {
    fs::create_dir_all(folder).map_err(at(folder))?;
    let mut stale = read(folder)?;
    for (name, bytes) in files {
        if stale.remove(name).as_ref() != Some(bytes) {
            let path = folder.join(name);
            fs::write(&path, bytes).map_err(at(&path))?;
        }
    }
    for name in stale.keys() {
        let path = folder.join(name);
        fs::remove_file(&path).map_err(at(&path))?;
    }
    Ok(())
}

fn at(path: &Path) -> impl FnOnce(std::io::Error) -> Error {
    let path = path.to_owned();
    |source| Error::File { path, source }
}
