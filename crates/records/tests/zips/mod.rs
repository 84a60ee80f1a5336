//! Zip files put together byte by byte after the published layout, so that they may say anything, true or not.
//!
//! Source of the layout: PKWARE, APPNOTE.TXT - .ZIP File Format Specification, 4.3.7, 4.3.12 and 4.3.16 (from memory).

#![allow(dead_code, reason = "each test binary uses its share")]

/// Stored as it is.
pub(crate) const STORED: u16 = 0;
/// Deflated.
pub(crate) const DEFLATED: u16 = 8;

/// One entry as the zip file states it.
#[derive(Clone)]
pub(crate) struct Entry {
    pub(crate) name: Vec<u8>,
    /// The name beside the data, where it is another.
    pub(crate) local_name: Option<Vec<u8>>,
    pub(crate) flags: u16,
    pub(crate) method: u16,
    pub(crate) crc: u32,
    /// The size that is stated.
    pub(crate) size: u32,
    pub(crate) attributes: u32,
    /// The data as packed.
    pub(crate) packed: Vec<u8>,
}

/// An entry that tells the truth, stored.
pub(crate) fn stored(name: &str, text: &[u8]) -> Entry {
    Entry {
        name: name.as_bytes().to_vec(),
        local_name: None,
        flags: 0,
        method: STORED,
        crc: rawzip::crc32(text),
        size: u32::try_from(text.len()).unwrap(),
        attributes: 0o100_644 << 16,
        packed: text.to_vec(),
    }
}

/// An entry that tells the truth, deflated.
pub(crate) fn deflated(name: &str, text: &[u8]) -> Entry {
    Entry {
        method: DEFLATED,
        packed: miniz_oxide::deflate::compress_to_vec(text, 6),
        ..stored(name, text)
    }
}

/// Little-endian numbers, each of its own width.
macro_rules! put {
    ($bytes:expr, $($number:expr),+ $(,)?) => {$( $bytes.extend($number.to_le_bytes()); )+};
}

/// The zip file of the entries.
pub(crate) fn zip(entries: &[Entry]) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut contents = Vec::new();
    for entry in entries {
        let offset = length(&bytes);
        let name = entry.local_name.as_ref().unwrap_or(&entry.name);
        put!(bytes, 0x0403_4b50_u32, 20_u16);
        what_both_state(&mut bytes, entry, name);
        bytes.extend(name);
        bytes.extend(&entry.packed);
        // Made by version 2.0 on Unix.
        put!(contents, 0x0201_4b50_u32, 0x0314_u16, 20_u16);
        what_both_state(&mut contents, entry, &entry.name);
        put!(contents, 0_u16, 0_u16, 0_u16, entry.attributes, offset);
        contents.extend(&entry.name);
    }
    let count = u16::try_from(entries.len()).unwrap();
    let (start, size) = (length(&bytes), length(&contents));
    bytes.extend(contents);
    put!(
        bytes,
        0x0605_4b50_u32,
        0_u16,
        0_u16,
        count,
        count,
        size,
        start,
        0_u16
    );
    bytes
}

/// From the flags to the length of the extra field, as both headers have it.
fn what_both_state(bytes: &mut Vec<u8>, entry: &Entry, name: &[u8]) {
    let (time, date) = (0_u16, 0x21_u16);
    put!(bytes, entry.flags, entry.method, time, date, entry.crc);
    put!(bytes, length(&entry.packed), entry.size);
    put!(bytes, u16::try_from(name.len()).unwrap(), 0_u16);
}

fn length(bytes: &[u8]) -> u32 {
    u32::try_from(bytes.len()).unwrap()
}
