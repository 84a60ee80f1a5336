//! Whose report it is: the business that hands it over, as its own profile file states it.

use crate::{Language, Problem};
use crate::{Told, told};

/// The most bytes of a logo.
pub const MAX_LOGO_BYTES: usize = 2_000_000;
/// The most pixels of a logo: a picture is unpacked whole, however small its file.
const MAX_LOGO_PIXELS: u64 = 4_000_000;

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
    /// Portable Network Graphics.
    Png,
    /// The still picture of ITU-T T.81.
    Jpeg,
}

impl LogoKind {
    /// Returns what browsers call it.
    pub fn media_type(self) -> &'static str {
        match self {
            Self::Png => "image/png",
            Self::Jpeg => "image/jpeg",
        }
    }

    /// Returns the ending of its files.
    pub fn ending(self) -> &'static str {
        match self {
            Self::Png => "png",
            Self::Jpeg => "jpg",
        }
    }
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
                told!("the logo is larger than 2 MB; expected at most that"),
                told!("save it smaller: it is printed some 2 cm high"),
            ));
        }
        let png = png_size(&bytes).map(|size| (LogoKind::Png, size));
        let picture = png.or_else(|| Some((LogoKind::Jpeg, jpeg_size(&bytes)?)));
        if let Some((kind, (width, height))) = picture {
            let pixels = u64::from(width) * u64::from(height);
            if (1..=MAX_LOGO_PIXELS).contains(&pixels) {
                return Ok(Self { kind, bytes });
            }
            return Err(refused(
                told!(
                    "the logo has {width} by {height} pixels; expected 1 to 4 million of them",
                    width,
                    height
                ),
                told!("save it smaller: it is printed some 2 cm high"),
            ));
        }
        // SVG is a program as much as a picture: it may fetch, and grow without end.
        Err(refused(
            told!("the logo is neither PNG nor JPEG"),
            told!("save it as PNG"),
        ))
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

/// Reads the size of a JPEG from its frame header; `None` where it is no JPEG, or none is found (ITU-T T.81, B.1.1 and B.2.2).
fn jpeg_size(bytes: &[u8]) -> Option<(u32, u32)> {
    /// Of the codes of frames these three begin something else: tables of codes, an extension, arithmetic conditioning.
    const NO_FRAME: [u8; 3] = [0xC4, 0xC8, 0xCC];
    let mut rest = bytes.strip_prefix(b"\xFF\xD8")?;
    loop {
        let [0xFF, code, after @ ..] = rest else {
            return None;
        };
        if *code == 0xFF {
            // Any marker may be filled up with more of these.
            rest = &rest[1..];
            continue;
        }
        let two = |at: usize| Some(u16::from_be_bytes(after.get(at..at + 2)?.try_into().ok()?));
        if (0xC0..=0xCF).contains(code) && !NO_FRAME.contains(code) {
            return Some((two(5)?.into(), two(3)?.into()));
        }
        rest = after.get(usize::from(two(0)?)..)?;
    }
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

    /// A JPEG as far as its frame header, with a segment of the application before it.
    fn jpeg(width: u16, height: u16) -> Vec<u8> {
        let mut bytes = b"\xFF\xD8\xFF\xE0\0\x06JFIF\xFF\xFF\xC2\0\x11\x08".to_vec();
        bytes.extend(height.to_be_bytes());
        bytes.extend(width.to_be_bytes());
        bytes
    }

    #[test]
    fn pictures_are_told_apart_by_what_they_hold() {
        let kind = |bytes: &[u8]| Logo::from_bytes("logo", bytes.to_vec()).map(|logo| logo.kind);
        assert_eq!(kind(&png(300, 100)), Ok(LogoKind::Png));
        assert_eq!(kind(&png(2000, 2000)), Ok(LogoKind::Png));
        assert_eq!(kind(&jpeg(300, 100)), Ok(LogoKind::Jpeg));
    }

    #[test]
    fn what_is_no_logo_is_refused_with_the_mend() {
        let refused = |bytes: Vec<u8>| Logo::from_bytes("logo.png", bytes).unwrap_err().to_string();
        for (bytes, part) in [
            (b"GIF89a".to_vec(), "neither PNG nor JPEG"),
            (vec![0xFF; 10], "neither PNG nor JPEG"),
            (png(2001, 2000), "2001 by 2000 pixels"),
            (jpeg(2000, 2001), "2000 by 2001 pixels"),
            (jpeg(300, 100)[..19].to_vec(), "neither PNG nor JPEG"),
            (png(0, 10), "0 by 10 pixels"),
            (vec![b' '; MAX_LOGO_BYTES + 1], "larger than 2 MB"),
            (
                b"<svg xmlns=\"http://www.w3.org/2000/svg\"/>".to_vec(),
                "neither PNG nor JPEG",
            ),
        ] {
            let said = refused(bytes);
            assert!(said.contains(part) && said.contains("hint:"), "{said}");
        }
    }
}
