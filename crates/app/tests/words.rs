//! Every sentence of the screens stands among the words, so that a catalogue of another language can replace them all.

#![expect(
    clippy::unwrap_used,
    reason = "a test stops where something is missing"
)]

use std::fs;
use std::path::{Path, PathBuf};

/// Texts with spaces that nobody reads, or that a page without words of its own has to say.
const NOBODY_READS: [&str; 2] = [
    "the page has no place to live in",
    "the browser took the writing back",
];

/// What a text of several words stands behind where it is no sentence.
const NO_SENTENCES: [&str; 5] = ["class=", "rel=", "reason = ", "content=", "sandbox="];

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() && !path.ends_with("words") {
            sources(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
}

/// The texts in quotes on a line of code, each with what stands before it.
fn texts(line: &str) -> Vec<(&str, &str)> {
    let mut texts = Vec::new();
    let mut start = None;
    let mut is_escaped = false;
    for (at, letter) in line.char_indices() {
        match (letter, start) {
            _ if is_escaped => is_escaped = false,
            ('\\', Some(_)) => is_escaped = true,
            ('"', None) => start = Some(at),
            ('"', Some(from)) => {
                texts.push((&line[..from], &line[from + 1..at]));
                start = None;
            }
            _ => {}
        }
    }
    texts
}

/// Whether a text has two words one after the other, what is put into it aside; what finds an element has none.
fn is_sentence(text: &str) -> bool {
    if text.starts_with(['.', '#', '[']) || text.starts_with("headwright ") {
        return false;
    }
    let text: String = text
        .split('{')
        .map(|piece| piece.split_once('}').map_or(piece, |(_, rest)| rest))
        .collect();
    let is_word = |word: &str| word.chars().filter(|letter| letter.is_alphabetic()).count() >= 2;
    let words: Vec<&str> = text.split(' ').collect();
    words
        .windows(2)
        .any(|pair| is_word(pair[0]) && is_word(pair[1]))
}

#[test]
fn no_screen_has_a_sentence_of_its_own() {
    let mut files = Vec::new();
    sources(Path::new("src/page"), &mut files);
    assert!(files.len() > 30, "{} files", files.len());
    let mut found = Vec::new();
    for path in files {
        let source = fs::read_to_string(&path).unwrap();
        for (number, line) in source.lines().enumerate() {
            let is_code = !line.trim_start().starts_with("//");
            for (before, text) in texts(line).into_iter().filter(|_| is_code) {
                let is_shown = !NO_SENTENCES.iter().any(|sign| before.ends_with(sign));
                if is_shown && is_sentence(text) && !NOBODY_READS.contains(&text) {
                    found.push(format!("{}:{}: {text}", path.display(), number + 1));
                }
            }
        }
    }
    assert!(
        found.is_empty(),
        "sentences outside of words:\n{}",
        found.join("\n")
    );
}

#[test]
fn no_style_knows_left_from_right() {
    let sided = [
        "margin-left",
        "margin-right",
        "padding-left",
        "padding-right",
        "border-left",
        "border-right",
        "text-align: left",
        "text-align: right",
        "float: left",
        "float: right",
        " left:",
        " right:",
    ];
    for name in [
        "theme.css",
        "style.css",
        "forms.css",
        "test.css",
        "result.css",
    ] {
        let text = fs::read_to_string(Path::new("static").join(name)).unwrap();
        for (number, line) in text.lines().enumerate() {
            for side in sided {
                assert!(!line.contains(side), "{name}:{}: {side}", number + 1);
            }
        }
    }
}
