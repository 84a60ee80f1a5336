//! Notes and headings of a file of readings that a spreadsheet would take for a formula.
//!
//! A spreadsheet runs a cell that starts with `=`, `+`, `-` or `@`, and a formula can send the other cells away or
//! start a program. A note and the name of a meter are free text, and may come from somebody else's bundle. So an
//! apostrophe is written before such a text, and one is taken away again on reading. An apostrophe and not a tab or a
//! space: it survives a spreadsheet's own saving, and is seen for what it is. A number such as `-3.5` stays one.
//!
//! Which separator a spreadsheet cuts at depends on the country, and it knows nothing of quotes that do not start a
//! cell by its own cutting. So every place behind a comma, semicolon, tab or line end counts as a start of a cell.

use crate::number::{DecimalMark, scan};
use std::borrow::Cow;

/// What makes a formula of a cell that starts with it, also in the wide forms of East Asian type.
const STARTS: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];
/// What may end a cell.
const ENDS: [char; 5] = [',', ';', '\t', '\n', '\r'];
/// What makes text of a formula.
const GUARD: char = '\'';

/// Writes an apostrophe before everything that a spreadsheet could run.
pub(crate) fn defused(text: &str) -> Cow<'_, str> {
    rewritten(text, |guards| Some(guards + 1))
}

/// Takes the apostrophes of [`defused`] away.
pub(crate) fn restored(text: &str) -> Cow<'_, str> {
    rewritten(text, |guards| guards.checked_sub(1))
}

/// Changes how many apostrophes stand before each formula. What stands behind them decides whether it is one, so that
/// the one change undoes the other.
fn rewritten(text: &str, change: impl Fn(usize) -> Option<usize>) -> Cow<'_, str> {
    if !text.contains(STARTS) {
        return Cow::Borrowed(text);
    }
    let mut written = String::with_capacity(text.len() + 1);
    for piece in text.split_inclusive(ENDS) {
        let (before, guards, rest) = parts(piece);
        let guards = if is_formula(rest) {
            change(guards).unwrap_or(guards)
        } else {
            guards
        };
        written.push_str(before);
        written.extend(std::iter::repeat_n(GUARD, guards));
        written.push_str(rest);
    }
    Cow::Owned(written)
}

/// A piece between two separators as the spaces and quotes before it, its apostrophes counted, and what is left.
fn parts(piece: &str) -> (&str, usize, &str) {
    let text = piece.trim_start_matches(|c: char| c == '"' || c.is_whitespace());
    let rest = text.trim_start_matches(GUARD);
    let before = &piece[..piece.len() - text.len()];
    (before, text.len() - rest.len(), rest)
}

/// Whether a spreadsheet would compute it: it starts as a formula does, and is no number.
fn is_formula(rest: &str) -> bool {
    let number = rest.trim_end_matches(|c: char| c.is_whitespace() || ENDS.contains(&c));
    rest.starts_with(STARTS)
        && !scan(number, DecimalMark::PointOrComma).is_ok_and(|scanned| scanned.rest.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn formulas_are_defused_wherever_a_cell_may_start() {
        for (typed, written) in [
            ("=1+1", "'=1+1"),
            ("+cmd|' /C calc'!A0", "'+cmd|' /C calc'!A0"),
            ("-x", "'-x"),
            ("- see gauge", "'- see gauge"),
            ("@SUM(A1)", "'@SUM(A1)"),
            ("＝1", "'＝1"),
            ("\t=1", "\t'=1"),
            (" \"=1\"", " \"'=1\""),
            (
                "valve moved; =A1, +B2\n@C3",
                "valve moved; '=A1, '+B2\n'@C3",
            ),
            ("'=1", "''=1"),
        ] {
            assert_eq!(defused(typed), written, "{typed}");
            assert_eq!(restored(written), typed, "{written}");
        }
    }

    #[test]
    fn what_is_no_formula_stays() {
        for text in [
            "",
            "air in pot",
            "-3.5",
            "+2",
            "-3,5",
            "-1/2",
            "a=b",
            "x - y",
            "'quoted'",
            "it's -",
        ] {
            assert_eq!(defused(text), text);
            assert_eq!(restored(text), text);
        }
    }
}
