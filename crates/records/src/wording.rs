//! How messages speak: what was found, made safe to print; lists of what is accepted; the nearest spelling.

use crate::{Fill, Filling, told};
use std::fmt::Write;

/// The most names of a file that a message lists.
const LISTED_NAMES: usize = 20;
/// The most words that a misspelt one is held against: a bound on time.
const COMPARED_WORDS: usize = 200;

/// The most characters of a found text that a message repeats.
const SHOWN_CHARACTERS: usize = 60;

/// Makes a found text safe for one line of a terminal: no control or bidirectional character, and not too long.
pub(crate) fn shown(text: &str) -> String {
    let mut shown = String::with_capacity(text.len().min(4 * SHOWN_CHARACTERS));
    for (position, character) in text.chars().enumerate() {
        if position == SHOWN_CHARACTERS {
            shown.push('…');
            break;
        }
        if is_unprintable(character) {
            // Writing to a String cannot fail.
            let _ = write!(shown, "{}", character.escape_unicode());
        } else {
            shown.push(character);
        }
    }
    shown
}

/// Tells characters that may change how a line is shown rather than be shown themselves.
pub(crate) fn is_unprintable(character: char) -> bool {
    character.is_control()
        || matches!(character,
            '\u{061C}' | '\u{200B}' | '\u{200E}' | '\u{200F}' | '\u{2028}' | '\u{2029}'
            | '\u{202A}'..='\u{202E}' | '\u{2060}' | '\u{2066}'..='\u{2069}' | '\u{FEFF}')
}

/// Lists words as `a, b or c`.
pub(crate) fn one_of(words: &[&str]) -> Filling {
    match words {
        [] => told!("nothing").fill(),
        [only] => only.fill(),
        [first @ .., last] => told!("{first} or {last}", first = first.join(", "), last).fill(),
    }
}

/// Lists names of the file as `a, b or c`, as many as fit a message.
pub(crate) fn shown_list(names: &[&str]) -> Filling {
    let listed: Vec<String> = names
        .iter()
        .take(LISTED_NAMES)
        .map(|name| shown(name))
        .collect();
    let listed: Vec<&str> = listed.iter().map(String::as_str).collect();
    match names.len().saturating_sub(LISTED_NAMES) {
        0 => one_of(&listed),
        more => told!("{first} or {more} more", first = listed.join(", "), more).fill(),
    }
}

/// The word that a misspelt one most likely stands for, where one is near enough.
pub(crate) fn nearest<'w>(typed: &str, words: &[&'w str]) -> Option<&'w str> {
    if typed.chars().count() > SHOWN_CHARACTERS {
        return None;
    }
    let lower = typed.to_lowercase();
    let distance = |word: &&&str| strsim::osa_distance(&lower, &word.to_lowercase());
    let best = words.iter().take(COMPARED_WORDS).min_by_key(distance)?;
    // A third of the letters may be wrong, at least one; a word of one letter is near to nothing.
    let allowed = (lower.chars().count().min(best.chars().count()) / 3).max(1);
    (lower.chars().count() > 1 && distance(&best) <= allowed).then_some(*best)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_shown_is_one_short_line() {
        assert_eq!(shown("pool\u{1b}[2J"), "pool\\u{1b}[2J");
        assert_eq!(shown("a\u{202e}b\nc"), "a\\u{202e}b\\u{a}c");
        assert_eq!(
            shown(&"x".repeat(200)).chars().count(),
            SHOWN_CHARACTERS + 1
        );
    }

    #[test]
    fn near_words_are_found_and_far_ones_are_not() {
        let words = ["accuracy", "resolution", "range"];
        assert_eq!(nearest("acuracy", &words), Some("accuracy"));
        assert_eq!(nearest("Range", &words), Some("range"));
        assert_eq!(nearest("colour", &words), None);
        assert_eq!(nearest("x", &words), None);
    }

    #[test]
    fn lists_read_as_speech() {
        let said = |list: Filling| told!("{list}", list).to_string();
        assert_eq!(said(one_of(&["a"])), "a");
        assert_eq!(said(one_of(&["a", "b", "c"])), "a, b or c");
        assert!(said(shown_list(&["line"; 30])).ends_with("line or 10 more"));
        assert_eq!(said(shown_list(&[])), "nothing");
    }
}
