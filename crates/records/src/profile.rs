//! Whose report it is: the business that hands it over, as its own profile file states it.

use crate::{Language, Problem};
use crate::{Told, told};

/// The most bytes of a logo.
pub const MAX_LOGO_BYTES: usize = 1_000_000;
/// The most pixels along either side of a logo.
const MAX_LOGO_PIXELS: u32 = 4000;

/// A profile file. Nothing in it is required.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Profile {
    /// The name of the business.
    pub business: Option<String>,
    /// Its licence.
    pub licence: Option<String>,
    /// Who does the work.
    pub technician: Option<String>,
    /// How it is reached: a line each.
    pub contact: Vec<String>,
    /// The language of its reports.
    pub language: Option<Language>,
    /// The bare name of the file of its logo, beside the profile file.
    pub logo: Option<String>,
}

/// A picture that stands for a business.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Logo {
    /// What kind of picture it is.
    pub kind: LogoKind,
    /// The file, as it is.
    pub bytes: Vec<u8>,
}

/// A kind of picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LogoKind {
    /// Scalable Vector Graphics.
    Svg,
    /// Portable Network Graphics.
    Png,
}

impl Logo {
    /// Takes the bytes of a file as a logo, or says why they are none.
    ///
    /// Whoever reads the file need not read more than [`MAX_LOGO_BYTES`] and one: more is refused here.
    pub fn from_bytes(name: &str, bytes: Vec<u8>) -> Result<Self, Problem> {
        let refused = |message: Told, hint: Told| Problem {
            file: name.to_owned(),
            line: 0,
            column: 0,
            message,
            hint: Some(hint),
        };
        if bytes.len() > MAX_LOGO_BYTES {
            return Err(refused(
                told!("the logo is larger than 1 MB; expected at most that"),
                told!("save it smaller: it is printed some 2 cm high"),
            ));
        }
        if let Some((width, height)) = png_size(&bytes) {
            let fits = |pixels| (1..=MAX_LOGO_PIXELS).contains(&pixels);
            if fits(width) && fits(height) {
                return Ok(Self {
                    kind: LogoKind::Png,
                    bytes,
                });
            }
            return Err(refused(
                told!(
                    "the logo has {width} by {height} pixels; expected 1 to {most} each way",
                    width,
                    height,
                    most = MAX_LOGO_PIXELS
                ),
                told!("save it smaller: it is printed some 2 cm high"),
            ));
        }
        match std::str::from_utf8(&bytes) {
            // A document type can name entities that grow without end, or files of the machine.
            Ok(text) if text.contains("<!DOCTYPE") || text.contains("<!ENTITY") => Err(refused(
                told!("the logo has a document type; expected plain SVG"),
                told!("take the line that begins with <!DOCTYPE out of it"),
            )),
            Ok(text) if text.contains("<svg") => Ok(Self {
                kind: LogoKind::Svg,
                bytes,
            }),
            _ => Err(refused(
                told!("the logo is neither SVG nor PNG"),
                told!("save it as PNG"),
            )),
        }
    }
}

/// Reads the size of a PNG from its first chunk; `None` where it is no PNG (W3C, Portable Network Graphics, 5.2 and 11.2.2).
fn png_size(bytes: &[u8]) -> Option<(u32, u32)> {
    const SIGNATURE: &[u8] = b"\x89PNG\r\n\x1a\n";
    let rest = bytes.strip_prefix(SIGNATURE)?;
    let number = |at: usize| {
        let digits = rest.get(at..at + 4)?;
        Some(u32::from_be_bytes(digits.try_into().ok()?))
    };
    (rest.get(4..8)? == b"IHDR").then_some(())?;
    Some((number(8)?, number(12)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn png(width: u32, height: u32) -> Vec<u8> {
        let mut bytes = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR".to_vec();
        bytes.extend(width.to_be_bytes());
        bytes.extend(height.to_be_bytes());
        bytes
    }

    #[test]
    fn pictures_are_told_apart_by_what_they_hold() {
        let kind = |bytes: &[u8]| Logo::from_bytes("logo", bytes.to_vec()).map(|logo| logo.kind);
        assert_eq!(kind(&png(300, 100)), Ok(LogoKind::Png));
        assert_eq!(
            kind(b"<?xml version=\"1.0\"?><svg xmlns=\"http://www.w3.org/2000/svg\"/>"),
            Ok(LogoKind::Svg)
        );
    }

    #[test]
    fn what_is_no_logo_is_refused_with_the_mend() {
        let refused = |bytes: Vec<u8>| Logo::from_bytes("logo.png", bytes).unwrap_err().to_string();
        for (bytes, part) in [
            (b"GIF89a".to_vec(), "neither SVG nor PNG"),
            (vec![0xFF; 10], "neither SVG nor PNG"),
            (png(40_000, 10), "40000 by 10 pixels"),
            (png(0, 10), "0 by 10 pixels"),
            (vec![b' '; MAX_LOGO_BYTES + 1], "larger than 1 MB"),
            (
                b"<!DOCTYPE svg [<!ENTITY a \"b\">]><svg/>".to_vec(),
                "document type",
            ),
        ] {
            let said = refused(bytes);
            assert!(said.contains(part) && said.contains("hint:"), "{said}");
        }
    }
}
