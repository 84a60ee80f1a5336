//! What is wrong in a text, where, and how to mend it.

use crate::Told;
use std::fmt;

/// One problem of a file, for the person who typed it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// The name of the file.
    pub file: String,
    /// The line, from 1; 0 where the whole file is meant.
    pub line: usize,
    /// The column in characters, from 1; 0 where the whole line is meant.
    pub column: usize,
    /// What was found, and what is accepted: "flow is -3.2 gpm; expected a value above 0".
    pub message: Told,
    /// The one thing to do next, where there is one.
    pub hint: Option<Told>,
}

impl Problem {
    /// Writes it with its place, in the language into which texts are looked up; `hint` is its word for a hint.
    pub fn written(&self, hint: &str, look_up: &dyn Fn(&'static str) -> &'static str) -> String {
        let Self {
            file, line, column, ..
        } = self;
        let place = match (line, column) {
            (0, _) => file.clone(),
            (line, 0) => format!("{file}:{line}"),
            (line, column) => format!("{file}:{line}:{column}"),
        };
        let told = format!("{place}: {}", self.message.said(look_up));
        match &self.hint {
            Some(what) => format!("{told}\n  {hint}: {}", what.said(look_up)),
            None => told,
        }
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.written("hint", &|text| text))
    }
}
