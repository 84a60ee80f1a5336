//! From a bundle to the bytes of a zip file, the same for the same bundle.

use super::{
    Bundle, BundleError, Entry, MAX_BUNDLE_BYTES, MAX_BUNDLE_FILES, MAX_BUNDLED_FILE_BYTES, names,
};
use crate::Source;
use miniz_oxide::deflate::compress_to_vec;
use rawzip::time::UtcDateTime;
use rawzip::{CompressionMethod, DataDescriptorOutput, ZipArchiveWriter};
use std::io::Write;

/// The date of every entry, 1980-01-01: the first that a zip file can state. The true one would make two bundles of the
/// same files differ, and belongs to the test file.
const DATE_UNIX_S: i64 = 315_532_800;
/// The mode of every entry: a plain file that its owner writes and everybody reads.
const MODE: u32 = 0o100_644;
/// How hard to look for repetition, of 10: more gains nothing on texts of this size.
const LEVEL: u8 = 6;

/// The files of a bundle in the order of their names, within what a bundle may hold.
///
/// Two tests may name the same file of readings, which is packed once.
pub(super) fn entries(bundle: &Bundle) -> Result<Vec<Entry>, BundleError> {
    let mut sources = vec![&bundle.site];
    for files in &bundle.tests {
        sources.push(&files.test);
        if let Some(readings) = &files.readings
            && !sources.contains(&readings)
        {
            sources.push(readings);
        }
    }
    sources.extend(&bundle.changes);
    numerics::order::sort_by(&mut sources, |one, other| one.name.cmp(&other.name));
    if sources.len() > MAX_BUNDLE_FILES {
        return Err(BundleError::TooManyFiles);
    }
    let entries = sources
        .into_iter()
        .map(entry)
        .collect::<Result<Vec<_>, _>>()?;
    names::check_distinct(&entries)?;
    let bytes: usize = entries.iter().map(|entry| entry.bytes.len()).sum();
    if bytes > MAX_BUNDLE_BYTES {
        return Err(BundleError::AllTooLarge);
    }
    Ok(entries)
}

fn entry(source: &Source) -> Result<Entry, BundleError> {
    names::check(&source.name)?;
    if source.text.len() > MAX_BUNDLED_FILE_BYTES {
        return Err(BundleError::FileTooLarge {
            entry: source.name.clone(),
        });
    }
    Ok(Entry {
        name: source.name.clone(),
        bytes: source.text.clone().into_bytes(),
    })
}

/// Packs entries in their order.
pub(super) fn pack(entries: &[Entry]) -> Result<Vec<u8>, BundleError> {
    // Writing to memory does not fail, and the names and sizes are within those of any zip file.
    let bytes = archive(entries).map_err(|_| BundleError::TooLarge)?;
    if bytes.len() > MAX_BUNDLE_BYTES {
        return Err(BundleError::TooLarge);
    }
    Ok(bytes)
}

fn archive(entries: &[Entry]) -> Result<Vec<u8>, rawzip::Error> {
    let mut archive = ZipArchiveWriter::new(Vec::new());
    for Entry { name, bytes } in entries {
        let (mut entry, _) = archive
            .new_file(name.as_str())
            .compression_method(CompressionMethod::DEFLATE)
            .last_modified(UtcDateTime::from_unix(DATE_UNIX_S))
            .unix_permissions(MODE)
            .start()?;
        entry.write_all(&compress_to_vec(bytes, LEVEL))?;
        entry.finish(DataDescriptorOutput::new(
            rawzip::crc32(bytes),
            bytes.len() as u64,
        ))?;
    }
    archive.finish()
}
