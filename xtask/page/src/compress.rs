//! Compressed siblings, which a static host sends instead where the browser takes them.

use std::io::Write;

use brotli::enc::BrotliEncoderParams;
use flate2::Compression;
use flate2::write::GzEncoder;

use crate::error::Error;
use crate::files::Files;

/// Kinds that are compressed already.
const DENSE: [&str; 1] = [".png"];

/// What is sent instead of the files.
pub(crate) struct Sent {
    /// The compressed files, under the name of the file with `.br` and `.gz`.
    pub(crate) siblings: Files,
    /// The bytes of a first visit, each file in its smallest form.
    pub(crate) bytes: usize,
}

/// Compresses every file that gains from it.
pub(crate) fn siblings(files: &Files) -> Result<Sent, Error> {
    let mut sent = Sent {
        siblings: Files::new(),
        bytes: 0,
    };
    for (name, bytes) in files {
        if DENSE.iter().any(|extension| name.ends_with(extension)) {
            sent.bytes += bytes.len();
            continue;
        }
        let failed = |source| Error::Compress {
            name: name.clone(),
            source,
        };
        let brotli = brotli(bytes).map_err(failed)?;
        let gzip = gzip(bytes).map_err(failed)?;
        sent.bytes += brotli.len().min(bytes.len());
        sent.siblings.insert(format!("{name}.br"), brotli);
        sent.siblings.insert(format!("{name}.gz"), gzip);
    }
    Ok(sent)
}

fn brotli(bytes: &[u8]) -> std::io::Result<Vec<u8>> {
    let mut packed = Vec::new();
    brotli::BrotliCompress(&mut &*bytes, &mut packed, &BrotliEncoderParams::default())?;
    Ok(packed)
}

fn gzip(bytes: &[u8]) -> std::io::Result<Vec<u8>> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    encoder.write_all(bytes)?;
    encoder.finish()
}
