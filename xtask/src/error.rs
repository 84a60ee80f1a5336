//! What can stop a command of this crate; its words are the last line that the person reads.

use std::fmt;
use std::io;
use std::path::PathBuf;

/// Why a command ended without doing its job.
#[derive(Debug)]
pub(crate) enum Error {
    /// Started by other means than `cargo xtask`, so the source tree is not known.
    NotByCargo,
    /// A file or folder cannot be read.
    File { path: PathBuf, source: io::Error },
    /// A program cannot be started.
    Start { program: String, source: io::Error },
    /// A step ran and failed.
    Failed { step: String, status: String },
    /// `cargo metadata` gave no answer.
    Metadata(cargo_metadata::Error),
    /// Tools are missing; they have been listed.
    Missing { count: usize },
    /// The tree breaks its own rules; the offences have been listed.
    Untidy { count: usize },
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotByCargo => {
                write!(f, "the source tree is not known; start it as `cargo xtask`")
            }
            Self::File { path, source } => write!(f, "{}: {source}", path.display()),
            Self::Start { program, source } => write!(f, "`{program}` cannot be started: {source}"),
            Self::Failed { step, status } => write!(f, "FAILED: {step} ({status})"),
            Self::Metadata(source) => write!(f, "`cargo metadata`: {source}"),
            Self::Missing { count } => write!(
                f,
                "tools missing: {count}; run the lines above, then start again"
            ),
            Self::Untidy { count } => write!(f, "FAILED: tidy (offences: {count})"),
        }
    }
}

impl std::error::Error for Error {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::File { source, .. } | Self::Start { source, .. } => Some(source),
            Self::Metadata(source) => Some(source),
            Self::NotByCargo | Self::Failed { .. } | Self::Missing { .. } | Self::Untidy { .. } => {
                None
            }
        }
    }
}
