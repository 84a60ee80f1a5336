//! Holds the code and the catalogues of languages against each other: what is said is translated, what is translated is
//! said, and nothing is said past the macro.
//!
//! The places of a text and of its translation are held against each other by the build script.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use fieldtest::RULE_SETS;
use hydraulics::fittings::catalogue::Fitting;
use hydraulics::fittings::valve::Valve;
use proc_macro2::{Delimiter, TokenStream, TokenTree};
use records::Measured;
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::str::FromStr;

/// A text with the context that sets it apart.
type Text = (String, String);

/// The contexts of names that come from below or out of the files; they are looked up as they come.
const NAMES: [&str; 2] = ["name", "part of a limit"];

/// Files whose sentences are not said by the macro: text for machines, and the page's own policy.
const FOR_MACHINES: [&str; 6] = [
    "alternatives/json.rs",
    "html/policy.rs",
    "json.rs",
    "json/calibration.rs",
    "plan/json.rs",
    "plan/readings.rs",
];

/// Words of files, headings of files for machines and complaints of the program about itself.
const NOT_SAID: [&str; 11] = [
    "pump inlet",
    "pump outlet",
    "part of a limit",
    "in the text",
    "of reading",
    "of full scale",
    "{typed} check valve",
    "{typed} flow meter",
    "no words for {}",
    "date,time,length [min],highest speed [rpm],water [{}],energy [kWh]",
    ",cost of energy [{currency}]",
];

/// The sources of this crate.
fn sources() -> Vec<PathBuf> {
    let mut found = sources_in("src");
    // Tests, and the macro itself.
    let apart = ["tests.rs", "readable.rs", "language.rs"];
    found.retain(|path| !apart.iter().any(|name| path.ends_with(name)));
    found
}

/// Where texts of the one catalogue stand too: what is told of files, the page, the command.
const ELSEWHERE: [&str; 3] = ["../records/src", "../app/src", "../cli/src"];

/// Where the page has its words, beside those of the answers.
const OF_THE_PAGE: [&str; 2] = ["../app/src/words.rs", "../app/src/page/words"];

/// The files in which the page has its words; that of the macro holds none.
fn words_of_the_page() -> Vec<PathBuf> {
    let crates = Path::new(env!("CARGO_MANIFEST_DIR"));
    let is_word = |path: &PathBuf| {
        OF_THE_PAGE
            .iter()
            .any(|of| path.starts_with(crates.join(of)))
    };
    let mut found = sources_in("../app/src");
    found.retain(is_word);
    assert!(found.len() > 10, "only {} files of words", found.len());
    found
}

fn sources_in(folder: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

/// What a file says, and the other texts in it.
#[derive(Default)]
struct Found {
    said: BTreeSet<Text>,
    past: Vec<String>,
}

fn text_of(token: Option<&TokenTree>) -> Option<String> {
    let Some(TokenTree::Literal(literal)) = token else {
        return None;
    };
    let text = syn::parse_str::<syn::LitStr>(&literal.to_string()).ok()?;
    Some(text.value())
}

fn is_sign(token: Option<&TokenTree>, sign: char) -> bool {
    matches!(token, Some(TokenTree::Punct(punct)) if punct.as_char() == sign)
}

fn is_word(token: Option<&TokenTree>, word: &str) -> bool {
    matches!(token, Some(TokenTree::Ident(ident)) if ident == word)
}

/// Returns how many tokens an attribute takes, and whether it is that of tests; `None` where there is no attribute.
fn attribute(tokens: &[TokenTree]) -> Option<(usize, bool)> {
    is_sign(tokens.first(), '#').then_some(())?;
    let before = 1 + usize::from(is_sign(tokens.get(1), '!'));
    match tokens.get(before) {
        Some(TokenTree::Group(group)) if group.delimiter() == Delimiter::Bracket => {
            let is_of_tests = group.stream().to_string().replace(' ', "") == "cfg(test)";
            Some((before + 1, is_of_tests))
        }
        _ => None,
    }
}

impl Found {
    fn look(&mut self, tokens: TokenStream) {
        let tokens: Vec<TokenTree> = tokens.into_iter().collect();
        let mut at = 0;
        while let Some(token) = tokens.get(at) {
            let word = ["say", "later", "phrase", "told"]
                .into_iter()
                .find(|word| is_word(Some(token), word) && is_sign(tokens.get(at + 1), '!'));
            if let (Some(word), Some(TokenTree::Group(group))) = (word, tokens.get(at + 2)) {
                self.spoken(word, group.stream());
                at += 3;
                continue;
            }
            match attribute(&tokens[at..]) {
                // What stands below is for tests alone.
                Some((_, true)) => return,
                Some((long, false)) => {
                    at += long;
                    continue;
                }
                None => {}
            }
            if let TokenTree::Group(group) = token {
                self.look(group.stream());
            }
            self.past.extend(text_of(Some(token)));
            at += 1;
        }
    }

    /// Takes the text of a macro, and looks into the values behind it.
    fn spoken(&mut self, word: &str, inside: TokenStream) {
        let tokens: Vec<TokenTree> = inside.into_iter().collect();
        let comma = tokens.iter().position(|token| is_sign(Some(token), ','));
        let from = match word {
            "say" => comma.map_or(0, |comma| comma + 1),
            _ => 0,
        };
        // What is no literal stands in the macros themselves.
        let Some(text) = text_of(tokens.get(from)) else {
            return;
        };
        let has_context = is_word(tokens.get(from + 1), "as");
        let context = text_of(tokens.get(from + 2)).filter(|_| has_context);
        self.said.insert((context.unwrap_or_default(), text));
        let behind = from + if has_context { 3 } else { 1 };
        self.look(tokens.into_iter().skip(behind).collect());
    }
}

fn found_in(path: &Path) -> Found {
    let text = fs::read_to_string(path).unwrap();
    let mut found = Found::default();
    found.look(TokenStream::from_str(&text).unwrap());
    found
}

fn said() -> BTreeSet<Text> {
    let said: BTreeSet<Text> = sources()
        .iter()
        .chain(&ELSEWHERE.map(sources_in).concat())
        .flat_map(|path| found_in(path).said)
        .collect();
    assert!(said.len() > 1000, "only {} texts were found", said.len());
    said
}

fn translated() -> BTreeSet<Text> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("languages/es.po");
    let catalogue = polib::po_file::parse(&path).unwrap();
    let texts = catalogue.messages().map(|message| {
        let context = message.msgctxt().unwrap_or_default().to_owned();
        (context, message.msgid().to_owned())
    });
    texts.collect()
}

#[test]
fn every_text_is_translated() {
    let translated = translated();
    let missing: Vec<Text> = said().difference(&translated).cloned().collect();
    assert!(missing.is_empty(), "not in languages/es.po: {missing:#?}");
}

#[test]
fn every_translation_is_said() {
    let said = said();
    let unused: Vec<Text> = translated()
        .into_iter()
        .filter(|text| !NAMES.contains(&text.0.as_str()) && !said.contains(text))
        .collect();
    assert!(unused.is_empty(), "said nowhere: {unused:#?}");
}

/// Leaves out the places of a text.
fn without_places(text: &str) -> String {
    let mut out = String::new();
    let mut depth = 0_usize;
    for letter in text.chars() {
        match letter {
            '{' => depth += 1,
            '}' => depth = depth.saturating_sub(1),
            letter if depth == 0 => out.push(letter),
            _ => {}
        }
    }
    out
}

/// Whether a text is a sentence, or a run of words that a person would read; elements of a page are none.
fn is_sentence(text: &str) -> bool {
    let outside = without_places(text);
    let is_word = |word: &&str| {
        let word = word.trim_matches([',', ';', ':', '.']);
        word.len() > 1 && word.chars().all(char::is_alphabetic)
    };
    let words: Vec<&str> = outside.split(' ').collect();
    !outside.contains(['<', '@']) && words.windows(2).any(|pair| pair.iter().all(is_word))
}

#[test]
fn no_sentence_is_written_past_the_macro() {
    let mut past = Vec::new();
    let names: BTreeSet<String> = translated()
        .into_iter()
        .filter_map(|(context, text)| (context == "name").then_some(text))
        .collect();
    for path in words_of_the_page() {
        let texts = found_in(&path).past.into_iter();
        let sentences = texts.filter(|text| is_sentence(text) && !names.contains(text));
        past.extend(sentences.map(|text| format!("{}: {text}", path.display())));
    }
    for path in sources() {
        let inner = path.strip_prefix(Path::new(env!("CARGO_MANIFEST_DIR")).join("src"));
        if FOR_MACHINES.contains(&inner.unwrap().to_str().unwrap()) {
            continue;
        }
        let texts = found_in(&path).past.into_iter();
        let sentences = texts
            .filter(|text| is_sentence(text))
            .filter(|text| !NOT_SAID.contains(&text.as_str()));
        past.extend(sentences.map(|text| format!("{}: {text}", path.display())));
    }
    assert!(past.is_empty(), "{past:#?}");
}

#[test]
fn every_name_from_below_is_translated() {
    let translated = translated();
    let mut names: Vec<String> = Measured::ALL
        .map(|measured| measured.word().to_owned())
        .to_vec();
    names.extend(Fitting::ALL.map(|fitting| fitting.to_string()));
    names.extend(Valve::ALL.map(|valve| format!("{} valve", valve.name())));
    for set in &RULE_SETS {
        let rules = [
            set.suction_velocity,
            set.return_velocity,
            set.inlet_vacuum,
            set.npsh_margin,
        ];
        let rules = rules.iter().chain(&set.filter_rates);
        names.extend(rules.map(|rule| rule.source.to_owned()));
        let ceiling = set.filtration_ceiling;
        names.extend(ceiling.map(|ceiling| ceiling.source.to_owned()));
    }
    names.retain(|name| !translated.contains(&("name".to_owned(), name.clone())));
    assert!(names.is_empty(), "{names:#?}");
}
