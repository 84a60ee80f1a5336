//! What is wrong in a text, where, and how to mend it.

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
    pub message: String,
    /// The one thing to do next, where there is one.
    pub hint: Option<String>,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.file)?;
        if self.line > 0 {
            write!(f, ":{}", self.line)?;
            if self.column > 0 {
                write!(f, ":{}", self.column)?;
            }
        }
        write!(f, ": {}", self.message)?;
        match &self.hint {
            Some(hint) => write!(f, "\n  hint: {hint}"),
            None => Ok(()),
        }
    }
}
