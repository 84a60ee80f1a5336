//! From the bytes of a zip file to its entries, with nothing believed that the zip file says of itself.
//!
//! The table of contents is read as it stands, so that two entries of one name are seen. Each entry is inflated by
//! no more than what is still allowed: a small file that would fill the memory is stopped there.

use super::{
    BundleError, Entry, MAX_BUNDLE_BYTES, MAX_BUNDLE_FILES, MAX_BUNDLED_FILE_BYTES, NameFault,
    SITE_FILE, names,
};
use miniz_oxide::inflate::{TINFLStatus, decompress_to_vec_with_limit};
use rawzip::{CompressionMethod, ZipArchive, ZipFileHeaderRecord, ZipSliceArchive};

/// What every zip file starts with, and the empty one.
const STARTS: [&[u8]; 2] = [b"PK\x03\x04", b"PK\x05\x06"];
/// The bits of a Unix mode that say what kind of thing an entry is.
const KIND_OF_ENTRY: u32 = 0o170_000;
/// Their value for a plain file; where a zip program states no mode, they are 0.
const PLAIN_FILE: u32 = 0o100_000;
/// The bit by which a table of contents marks a folder, whoever made it.
const FOLDER_BIT: u32 = 0x10;

/// Reads the entries of a zip file, in the order of its table of contents.
pub(super) fn unpack(bytes: &[u8]) -> Result<Vec<Entry>, BundleError> {
    if bytes.len() > MAX_BUNDLE_BYTES {
        return Err(BundleError::TooLarge);
    }
    if !STARTS.iter().any(|start| bytes.starts_with(start)) {
        return Err(BundleError::NotAZip);
    }
    let archive = ZipArchive::from_slice(bytes).map_err(|_| BundleError::CutShort)?;
    if archive.end_offset() != bytes.len() as u64 {
        return Err(BundleError::CutShort);
    }
    let contents = contents(&archive)?;
    check_site(&contents)?;
    let mut room = MAX_BUNDLE_BYTES;
    let mut entries = Vec::new();
    for record in &contents {
        let entry = entry(&archive, record, room)?;
        room -= entry.bytes.len();
        entries.push(entry);
    }
    names::check_distinct(&entries)?;
    Ok(entries)
}

/// The table of contents; it is read no further than a bundle goes.
fn contents<'a>(
    archive: &'a ZipSliceArchive<&[u8]>,
) -> Result<Vec<ZipFileHeaderRecord<'a>>, BundleError> {
    let contents = archive
        .entries()
        .take(MAX_BUNDLE_FILES + 1)
        .collect::<Result<Vec<_>, _>>()
        .map_err(|_| BundleError::Damaged)?;
    if contents.len() > MAX_BUNDLE_FILES {
        return Err(BundleError::TooManyFiles);
    }
    if contents.len() as u64 != archive.entries_hint() {
        return Err(BundleError::Damaged);
    }
    Ok(contents)
}

/// Looks for the site file first: without one the zip file is about something else, and that is the thing to say.
fn check_site(contents: &[ZipFileHeaderRecord<'_>]) -> Result<(), BundleError> {
    let names = || contents.iter().map(raw_name);
    if names().any(|name| name == SITE_FILE.as_bytes()) {
        return Ok(());
    }
    let ends_like_it = |name: &&[u8]| {
        let start = name.len().saturating_sub(SITE_FILE.len());
        name.get(start..)
            .is_some_and(|end| end.eq_ignore_ascii_case(SITE_FILE.as_bytes()))
    };
    let near = names().find(ends_like_it).map(lossy);
    Err(BundleError::NoSite { near })
}

fn raw_name<'a>(record: &ZipFileHeaderRecord<'a>) -> &'a [u8] {
    record.file_path().as_bytes()
}

/// A name for messages, whatever its bytes.
fn lossy(name: &[u8]) -> String {
    String::from_utf8_lossy(name).into_owned()
}

/// Reads one entry of at most so many bytes.
fn entry(
    archive: &ZipSliceArchive<&[u8]>,
    record: &ZipFileHeaderRecord<'_>,
    room: usize,
) -> Result<Entry, BundleError> {
    let name = name(record)?;
    check_kind(record, &name)?;
    let damaged = || BundleError::DamagedEntry {
        entry: name.clone(),
    };
    let packed = archive
        .get_entry(record.wayfinder())
        .map_err(|_| damaged())?;
    let beside_data = packed.local_header();
    if beside_data.file_path().as_bytes() != name.as_bytes()
        || beside_data.compression_method() != record.compression_method()
    {
        return Err(damaged());
    }
    let bytes = inflate(packed.data(), record.compression_method(), &name, room)?;
    let stated = packed.claim_verifier();
    if stated.uncompressed_size != bytes.len() as u64 || stated.crc != rawzip::crc32(&bytes) {
        return Err(damaged());
    }
    Ok(Entry { name, bytes })
}

fn name(record: &ZipFileHeaderRecord<'_>) -> Result<String, BundleError> {
    let raw = raw_name(record);
    let name = std::str::from_utf8(raw).map_err(|_| BundleError::Name {
        entry: lossy(raw),
        fault: NameFault::NotText,
    })?;
    names::check(name)?;
    Ok(name.to_owned())
}

/// Refuses what is no plain file, in any way that a zip program may state it.
fn check_kind(record: &ZipFileHeaderRecord<'_>, name: &str) -> Result<(), BundleError> {
    let entry = name.to_owned();
    let flags = record.flags();
    if flags.is_encrypted() || flags.has_strong_encryption() || flags.is_masked() {
        return Err(BundleError::Encrypted { entry });
    }
    let attributes = record.external_attributes();
    let kind = (attributes >> 16) & KIND_OF_ENTRY;
    if (kind != 0 && kind != PLAIN_FILE) || attributes & FOLDER_BIT != 0 {
        return Err(BundleError::NotAFile { entry });
    }
    match record.compression_method() {
        CompressionMethod::STORE | CompressionMethod::DEFLATE => Ok(()),
        other => Err(BundleError::Method {
            entry,
            method: other.as_u16(),
        }),
    }
}

/// Inflates no further than one file may go, nor than what the others have left.
fn inflate(
    packed: &[u8],
    method: CompressionMethod,
    name: &str,
    room: usize,
) -> Result<Vec<u8>, BundleError> {
    let most = room.min(MAX_BUNDLED_FILE_BYTES);
    let entry = || name.to_owned();
    // One byte more is let through, so that a file of just the size allowed is told from a larger one.
    let inflated = match method {
        CompressionMethod::STORE => Ok(packed.get(..=most).unwrap_or(packed).to_vec()),
        _ => decompress_to_vec_with_limit(packed, most + 1),
    };
    match inflated {
        Ok(bytes) if bytes.len() <= most => Ok(bytes),
        Err(error) if error.status != TINFLStatus::HasMoreOutput => {
            Err(BundleError::DamagedEntry { entry: entry() })
        }
        _ if most < MAX_BUNDLED_FILE_BYTES => Err(BundleError::AllTooLarge),
        _ => Err(BundleError::FileTooLarge { entry: entry() }),
    }
}
