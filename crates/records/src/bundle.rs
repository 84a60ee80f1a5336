//! A bundle: all files of one site in one zip file, to be carried between phone, command and office.
//!
//! The files stand side by side in the zip, exactly as typed: one `site.toml`, test files, the files of
//! readings that they name, and files of changes. What comes in may have been made by anybody, so that nothing in it is believed: names,
//! number and sizes are held to what a bundle needs, and nothing is inflated further than that. This module neither
//! opens a file nor judges what the texts say beyond what it takes to know that none is missing; that is left to
//! [`crate::read_pad`].

mod assemble;
mod error;
mod names;
mod pack;
mod unpack;

pub use error::{BundleError, NameFault};

use crate::{Source, TestFiles};

/// The most files of one bundle.
pub const MAX_BUNDLE_FILES: usize = 200;
/// The most bytes of one file of a bundle.
pub const MAX_BUNDLED_FILE_BYTES: usize = 1_000_000;
/// The most bytes of all files of a bundle together, and of the zip file itself.
pub const MAX_BUNDLE_BYTES: usize = 16_000_000;

/// The name of the site file in every bundle.
pub const SITE_FILE: &str = "site.toml";

/// The files of one site, under their bare names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bundle {
    /// The site file, called [`SITE_FILE`].
    pub site: Source,
    /// The tests, each with the file of readings that it names; in the order of their names once read.
    pub tests: Vec<TestFiles>,
    /// The changes of the pad that somebody thinks of; in the order of their names once read.
    pub changes: Vec<Source>,
}

/// A file of a bundle before it is known what it is for.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Entry {
    name: String,
    bytes: Vec<u8>,
}

/// Reads a bundle from the bytes of a zip file, or says why it is none.
pub fn read_bundle(bytes: &[u8]) -> Result<Bundle, BundleError> {
    assemble::assemble(unpack::unpack(bytes)?)
}

/// Writes a bundle as the bytes of a zip file; reading it gives the same texts.
///
/// The same bundle has the same bytes, whatever the order of its tests: entries stand in the order of their names, and
/// all bear one fixed date. A bundle that could not be read again is refused.
pub fn write_bundle(bundle: &Bundle) -> Result<Vec<u8>, BundleError> {
    let entries = pack::entries(bundle)?;
    let bytes = pack::pack(&entries)?;
    assemble::assemble(entries)?;
    Ok(bytes)
}
