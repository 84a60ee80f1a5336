//! A source file holds one idea, and so has an end.

/// The most lines of a source file.
const MOST_LINES: usize = 600;

/// Names a source file that is too long.
pub(super) fn offence(file: &str, text: &str) -> Option<String> {
    let lines = text.lines().count();
    (lines > MOST_LINES)
        .then(|| format!("{file}: {lines} lines; at most {MOST_LINES}, so cut it by its ideas"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_line_allowed_passes_and_the_next_does_not() {
        assert_eq!(offence("a.rs", &"\n".repeat(MOST_LINES)), None);
        assert!(offence("a.rs", &"\n".repeat(MOST_LINES + 1)).is_some());
    }
}
