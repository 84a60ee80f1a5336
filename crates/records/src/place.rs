//! From a byte of a text to its line and column.

/// Where the lines of a text start.
#[derive(Debug)]
pub(crate) struct Lines<'s> {
    text: &'s str,
    starts: Vec<usize>,
}

/// A place as a person counts it: both from 1, the column in characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Place {
    pub(crate) line: usize,
    pub(crate) column: usize,
}

impl<'s> Lines<'s> {
    pub(crate) fn new(text: &'s str) -> Self {
        let bytes = text.as_bytes();
        // A carriage return alone ends a line too, as old spreadsheets write it.
        let ends_line = |at: &usize| match bytes.get(*at) {
            Some(b'\n') => true,
            Some(b'\r') => bytes.get(at + 1) != Some(&b'\n'),
            _ => false,
        };
        let starts = (0..bytes.len()).filter(ends_line).map(|at| at + 1);
        Self {
            text,
            starts: std::iter::once(0).chain(starts).collect(),
        }
    }

    /// How many lines there are; a line end at the very end starts one more.
    pub(crate) fn count(&self) -> usize {
        self.starts.len()
    }

    /// The line of a byte, from 1.
    pub(crate) fn line(&self, at: usize) -> usize {
        self.starts.partition_point(|start| *start <= at)
    }

    /// The place of a byte; one beyond the end counts as the end, one within a character as the next.
    pub(crate) fn place(&self, at: usize) -> Place {
        let line = self.line(at);
        let start = self.starts.get(line - 1).copied().unwrap_or(0);
        Place {
            line,
            column: characters(self.text.get(start..).unwrap_or(""), at - start) + 1,
        }
    }
}

/// How many characters start within the first bytes of a text.
pub(crate) fn characters(text: &str, bytes: usize) -> usize {
    text.char_indices()
        .take_while(|(at, _)| *at < bytes)
        .count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters() {
        let lines = Lines::new("a = 1\r\nµ³ = x\n");
        assert_eq!(lines.place(0), Place { line: 1, column: 1 });
        assert_eq!(lines.place(7), Place { line: 2, column: 1 });
        assert_eq!(lines.place(14), Place { line: 2, column: 6 });
        assert_eq!(lines.place(15), Place { line: 2, column: 7 });
        assert_eq!(lines.place(99), Place { line: 3, column: 1 });
        assert_eq!(Lines::new("").place(0), Place { line: 1, column: 1 });
    }
}
