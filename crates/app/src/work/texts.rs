//! The texts of a pad on their way to the worker.

use crate::engine::Pad;
use records::{Source, TestFiles};
use serde::{Deserialize, Serialize};

/// A file: its name and its text.
type File = (String, String);

/// The texts of a pad.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Texts {
    site: File,
    /// Each test, with its readings.
    tests: Vec<(File, Option<File>)>,
}

impl From<Pad> for Texts {
    fn from(pad: Pad) -> Self {
        let file = |source: Source| (source.name, source.text);
        let test = |files: TestFiles| (file(files.test), files.readings.map(file));
        Self {
            site: file(pad.site),
            tests: pad.tests.into_iter().map(test).collect(),
        }
    }
}

impl Texts {
    /// The text of the site file.
    pub(super) fn site_text(&self) -> &str {
        &self.site.1
    }

    /// The pad that they are of.
    pub(super) fn pad(&self) -> Pad {
        let source = |(name, text): &File| Source {
            name: name.clone(),
            text: text.clone(),
        };
        let test = |(test, readings): &(File, Option<File>)| TestFiles {
            test: source(test),
            readings: readings.as_ref().map(source),
        };
        Pad {
            site: source(&self.site),
            tests: self.tests.iter().map(test).collect(),
        }
    }
}
