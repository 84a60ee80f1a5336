//! What can stop the making of the folder; its words are the last line that the person reads.

use std::path::PathBuf;
use std::{fmt, io};

/// Why no folder was made.
#[derive(Debug)]
pub(crate) enum Error {
    /// A file or folder cannot be read or written.
    File { path: PathBuf, source: io::Error },
    /// The glue around the module cannot be written.
    Glue(String),
    /// A picture cannot be encoded.
    Picture(png::EncodingError),
    /// A file cannot be compressed.
    Compress { name: String, source: io::Error },
    /// A file refers to one that is not there.
    NoSuchFile { name: String, wanted: String },
    /// Files refer to each other in a circle, so none can be named first.
    Circle(Vec<String>),
    /// A mark that is to be filled in is not there exactly once.
    Mark {
        name: &'static str,
        mark: &'static str,
    },
    /// A first visit would fetch too much.
    TooLarge { bytes: usize, most: usize },
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::File { path, source } => write!(f, "{}: {source}", path.display()),
            Self::Glue(why) => write!(f, "wasm-bindgen: {why}"),
            Self::Picture(source) => write!(f, "an icon: {source}"),
            Self::Compress { name, source } => write!(f, "{name} cannot be compressed: {source}"),
            Self::NoSuchFile { name, wanted } => {
                write!(f, "{name} refers to {wanted}, which is not in the folder")
            }
            Self::Circle(names) => write!(f, "these refer to each other: {}", names.join(", ")),
            Self::Mark { name, mark } => {
                write!(f, "{name} must have the mark {mark} exactly once")
            }
            Self::TooLarge { bytes, most } => {
                write!(f, "a first visit would fetch {bytes} bytes; at most {most}")
            }
        }
    }
}

impl std::error::Error for Error {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::File { source, .. } | Self::Compress { source, .. } => Some(source),
            Self::Picture(source) => Some(source),
            _ => None,
        }
    }
}
