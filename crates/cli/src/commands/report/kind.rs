//! What a report is written as: page, sheet or text.

use crate::arguments::Written;
use crate::failure::Failure;
use document::report::{Paper, Report};
use std::path::Path;

/// What a report is written as.
#[derive(Clone, Copy, Debug)]
pub(super) enum Kind {
    Html,
    Pdf,
    Text,
}

impl From<Written> for Kind {
    fn from(written: Written) -> Self {
        match written {
            Written::Html => Self::Html,
            Written::Pdf => Self::Pdf,
            Written::Txt => Self::Text,
        }
    }
}

impl Kind {
    /// Returns the ending of the file's name.
    pub(super) fn ending(self) -> &'static str {
        match self {
            Self::Html => "html",
            Self::Pdf => "pdf",
            Self::Text => "txt",
        }
    }

    /// Tells the kind by the ending of the file's name.
    pub(super) fn of(path: &Path) -> Result<Self, Failure> {
        let ending = path.extension().map(std::ffi::OsStr::to_ascii_lowercase);
        match ending.as_deref().and_then(std::ffi::OsStr::to_str) {
            Some("html" | "htm") => Ok(Self::Html),
            Some("pdf") => Ok(Self::Pdf),
            Some("txt") => Ok(Self::Text),
            _ => Err(Failure::call(
                format!(
                    "{}: a report is written as .html, .pdf or .txt",
                    path.display()
                ),
                "name the file so, such as -o report.html",
            )),
        }
    }

    /// Renders a report.
    pub(super) fn rendered(self, report: &Report, paper: Paper) -> Result<Vec<u8>, Failure> {
        /// The width of a report in text: what a printer and a mail hold.
        const TEXT_WIDTH: usize = 80;
        match self {
            Self::Html => Ok(document::html::page(report, paper).into_bytes()),
            Self::Text => {
                let layout = document::terminal::Layout {
                    width: TEXT_WIDTH,
                    paint: document::terminal::Paint::Plain,
                    printing: report.printing,
                };
                let text = document::terminal::text(&report.as_blocks(), layout);
                Ok(text.into_bytes())
            }
            Self::Pdf => set(report, paper),
        }
    }
}

#[cfg(feature = "pdf")]
fn set(report: &Report, paper: Paper) -> Result<Vec<u8>, Failure> {
    pdf::pdf(report, paper).map_err(|error| Failure::NoAnswer(error.to_string()))
}

#[cfg(not(feature = "pdf"))]
fn set(_: &Report, _: Paper) -> Result<Vec<u8>, Failure> {
    Err(Failure::call(
        "this build of the command makes no PDF",
        "write report.html and print it from a browser, or build the command with its usual features",
    ))
}
