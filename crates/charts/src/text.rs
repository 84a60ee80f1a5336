//! Text as it is set: how wide it is, where it breaks, and what of it XML can hold.

mod face;

use face::{BOLD, NAME, REGULAR, RUNS};
use std::ops::RangeInclusive;

/// The list of faces that the text is set in: the one that is measured, then what the machine has.
pub(crate) fn family() -> String {
    format!("{NAME}, sans-serif")
}

/// A weight of the face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Face {
    /// For labels and numbers.
    Regular,
    /// For titles.
    Bold,
}

/// The width that is taken for a sign that the face lacks, in thousandths of the size of type: as wide as signs of a
/// square script are.
const UNKNOWN: u16 = 1000;

/// Computes the width of a text set in a size of type; never less than what is drawn, in the face that is measured.
pub fn width(text: &str, face: Face, size: f64) -> f64 {
    let thousandths: f64 = text
        .chars()
        .map(|sign| f64::from(advance(sign, face).unwrap_or(UNKNOWN)))
        .sum();
    size * thousandths / 1000.0
}

/// Whether the face has every sign of a text, so that its width is known and not only bounded.
pub(crate) fn is_measured(text: &str, face: Face) -> bool {
    text.chars().all(|sign| advance(sign, face).is_some())
}

/// Finds how far a sign advances, in thousandths of the size of type.
fn advance(sign: char, face: Face) -> Option<u16> {
    let code = u32::from(sign);
    let mut before = 0;
    for (first, last) in RUNS {
        if (first..=last).contains(&code) {
            let table = match face {
                Face::Regular => &REGULAR,
                Face::Bold => &BOLD,
            };
            let index = usize::try_from(before + code - first).ok()?;
            return table.get(index).copied().filter(|width| *width > 0);
        }
        before += last - first + 1;
    }
    None
}

/// Whether a line may break at a sign; a space that does not break holds a number to its unit.
fn breaks(sign: char) -> bool {
    sign.is_whitespace() && sign != '\u{A0}'
}

/// Breaks a text into lines no wider than `room`, between words where it can be.
pub(crate) fn broken(text: &str, face: Face, size: f64, room: f64) -> Vec<String> {
    let fits = |line: &str| width(line, face, size) <= room;
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split(breaks).filter(|word| !word.is_empty()) {
        let longer = if line.is_empty() {
            word.to_owned()
        } else {
            format!("{line} {word}")
        };
        if fits(&longer) {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        // A word that is wider than a line is broken where the line ends.
        for sign in word.chars() {
            line.push(sign);
            if !fits(&line) && line.chars().count() > 1 {
                line.pop();
                lines.push(std::mem::take(&mut line));
                line.push(sign);
            }
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// Breaks a text into as few lines as `room` allows, about as long as one another.
pub(crate) fn balanced(text: &str, face: Face, size: f64, room: f64) -> Vec<String> {
    /// Shares of the room that are tried, in twentieths.
    const TRIED: std::ops::Range<u32> = 8..20;
    let fewest = broken(text, face, size, room);
    let narrower = |twentieths: u32| broken(text, face, size, room * f64::from(twentieths) / 20.0);
    let as_few = |lines: &Vec<String>| lines.len() == fewest.len() && lines.join(" ") == text;
    TRIED.map(narrower).find(as_few).unwrap_or(fewest)
}

/// Breaks a text into at most `most` lines; what is left over is told by an ellipsis.
pub(crate) fn shortened(
    text: &str,
    (face, size): (Face, f64),
    room: f64,
    most: usize,
) -> Vec<String> {
    let mut lines = broken(text, face, size, room);
    if lines.len() > most {
        lines.truncate(most);
        if let Some(last) = lines.last_mut() {
            while !last.is_empty() && width(&format!("{last}…"), face, size) > room {
                last.pop();
            }
            *last = format!("{}…", last.trim_end());
        }
    }
    lines
}

/// Codes that turn the direction of what follows; a name has no right to them.
const TURNS: [RangeInclusive<char>; 4] = [
    '\u{61C}'..='\u{61C}',
    '\u{200E}'..='\u{200F}',
    '\u{202A}'..='\u{202E}',
    '\u{2066}'..='\u{2069}',
];

/// Copies a text without what XML cannot hold or what would disturb its neighbours; runs of space become one.
pub(crate) fn clean(text: &str) -> String {
    let held = |sign: char| {
        let noncharacter = matches!(sign, '\u{FFFE}' | '\u{FFFF}');
        let turns = TURNS.iter().any(|turn| turn.contains(&sign));
        if sign.is_control() || noncharacter || turns {
            ' '
        } else {
            sign
        }
    };
    let kept: String = text.chars().map(held).collect();
    let words = kept.split(breaks).filter(|word| !word.is_empty());
    words.collect::<Vec<_>>().join(" ")
}

/// Writes a text so that XML reads it back as it is.
pub fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            sign => out.push(sign),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sign_that_we_write_is_measured() {
        let ours = "Speed, rpm 0123456789 ²³°·–±≤≥µ… m³/h gal % ÄÖÜäöüß ñáéíóú ’";
        for face in [Face::Regular, Face::Bold] {
            assert!(is_measured(ours, face));
            assert!(!is_measured("水", face));
        }
    }

    #[test]
    fn widths_are_those_of_the_face() {
        // As the face has them: zero 648, space 280, bold is wider.
        assert!((width("0 ", Face::Regular, 1000.0) - 928.0).abs() < 1e-9);
        assert!(width("rpm", Face::Bold, 16.0) > width("rpm", Face::Regular, 16.0));
    }

    #[test]
    fn lines_break_between_words_and_long_words_anywhere() {
        let lines = broken("one two Wasserwerkszufahrt", Face::Regular, 16.0, 60.0);
        assert_eq!(lines[0], "one two");
        assert!(lines.len() > 2);
        assert!(
            lines
                .iter()
                .all(|line| width(line, Face::Regular, 16.0) <= 60.0)
        );
        assert_eq!(lines.concat(), "one twoWasserwerkszufahrt");
    }

    #[test]
    fn a_number_stays_with_its_unit() {
        let lines = broken("about 2390\u{A0}rpm", Face::Regular, 16.0, 80.0);
        assert_eq!(lines, ["about", "2390\u{A0}rpm"]);
    }

    #[test]
    fn lines_are_about_as_long_as_one_another() {
        let lines = balanced("cheapest, to within 3\u{A0}%", Face::Regular, 16.0, 150.0);
        assert_eq!(lines, ["cheapest, to", "within 3\u{A0}%"]);
    }

    #[test]
    fn what_is_cut_is_told() {
        let lines = shortened("one two three four five", (Face::Regular, 16.0), 60.0, 2);
        assert_eq!(lines.len(), 2);
        assert!(lines[1].ends_with('…'));
    }

    #[test]
    fn a_name_can_neither_break_out_nor_turn_its_neighbours() {
        assert_eq!(clean("a\u{0}b\u{202E}c\n d"), "a b c d");
        assert_eq!(escaped("<a & \"b\">"), "&lt;a &amp; &quot;b&quot;&gt;");
    }
}
