//! The source tree: where it is, which files belong to it, and what cargo says of its crates.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use cargo_metadata::{Metadata, MetadataCommand};

use crate::error::Error;
use crate::step;

/// The source tree that this run is about.
pub(crate) struct Project {
    root: PathBuf,
}

impl Project {
    /// Finds the tree from which cargo started this program.
    pub(crate) fn find() -> Result<Self, Error> {
        let here = std::env::var_os("CARGO_MANIFEST_DIR").ok_or(Error::NotByCargo)?;
        let root = Path::new(&here).parent().ok_or(Error::NotByCargo)?;
        Ok(Self {
            root: root.to_owned(),
        })
    }

    /// The folder of the workspace manifest.
    pub(crate) fn root(&self) -> &Path {
        &self.root
    }

    /// Asks cargo for the crates of the workspace and all that they depend on.
    pub(crate) fn metadata(&self) -> Result<Metadata, Error> {
        MetadataCommand::new()
            .manifest_path(self.root.join("Cargo.toml"))
            .exec()
            .map_err(Error::Metadata)
    }

    /// Lists the files that are kept or about to be, relative to the root, with `/` between the names.
    pub(crate) fn files(&self) -> Result<Vec<String>, Error> {
        let mut git = Command::new("git");
        git.current_dir(&self.root).args([
            "ls-files",
            "-z",
            "--cached",
            "--others",
            "--exclude-standard",
        ]);
        let listed = step::output(&mut git)?;
        let mut files: Vec<String> = listed.split('\0').map(str::to_owned).collect();
        files.retain(|file| self.root.join(file).is_file());
        files.sort();
        files.dedup();
        Ok(files)
    }

    /// Reads a file of the tree; `None` where it is no text.
    pub(crate) fn text(&self, file: &str) -> Result<Option<String>, Error> {
        let path = self.root.join(file);
        let bytes = fs::read(&path).map_err(|source| Error::File { path, source })?;
        Ok(String::from_utf8(bytes)
            .ok()
            .filter(|text| !text.contains('\0')))
    }
}
