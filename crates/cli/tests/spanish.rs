//! Answers in Spanish: nothing English is left in them, their numbers are those of the English ones, and what machines read
//! is the same.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod support;

use std::fs;
use std::path::Path;
use support::{ends, examples};

const DATE: [&str; 2] = ["--date", "2026-11-28"];

/// Every example with its tests.
const EXAMPLES: [(&str, &[&str]); 4] = [
    ("larkspur-lane", &["2026-05-16.toml", "2026-06-02.toml"]),
    (
        "cedar-court",
        &["2026-04-22.toml", "2026-04-22-spa-shut.toml"],
    ),
    ("haus-birkenweg", &["2026-07-08.toml"]),
    (
        "alder-close",
        &["2026-04-11.toml", "2026-05-09.toml", "2026-06-20.toml"],
    ),
];

/// Words that English cannot do without, and Spanish does not have.
const ENGLISH: [&str; 24] = [
    "the", "of", "and", "is", "are", "was", "with", "from", "that", "this", "which", "not", "at",
    "by", "for", "what", "read", "reading", "pump", "speed", "head", "below", "above", "test",
];

fn said(folder: &Path, arguments: &[&str]) -> String {
    ends(folder, arguments, 0).0
}

fn report(name: &str, tests: &[&str], more: &[&str]) -> String {
    let arguments = [&["report", "site.toml"], tests, &DATE, more].concat();
    said(&examples().join(name), &arguments)
}

/// Takes what a person named in the files out of an answer: lines, tasks, notes and meters are data.
fn without_names(text: &str, name: &str) -> String {
    let mut names = Vec::new();
    for entry in fs::read_dir(examples().join(name)).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            continue;
        }
        let file = fs::read_to_string(&path).unwrap();
        if path.extension().is_some_and(|ending| ending == "csv") {
            let notes = file.lines().filter_map(|line| line.rsplit(',').next());
            names.extend(notes.map(str::to_owned));
        }
        names.extend(file.split('"').skip(1).step_by(2).map(str::to_owned));
    }
    names.sort_by_key(|name| std::cmp::Reverse(name.len()));
    let mut text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for name in names
        .iter()
        .filter(|name| name.contains(' ') || name.len() > 6)
    {
        text = text.replace(name.as_str(), " ");
    }
    text
}

fn english_left(text: &str, name: &str) -> Vec<String> {
    // The name of a meter is broken within a narrow cell.
    let site = fs::read_to_string(examples().join(name).join("site.toml")).unwrap();
    let meters: Vec<&str> = site
        .lines()
        .filter(|line| line.starts_with("id = "))
        .collect();
    let own = |word: &str| {
        meters
            .iter()
            .any(|line| line.split([' ', '"']).any(|part| part == word))
    };
    let words =
        text.split(|letter: char| !letter.is_alphabetic() && letter != '_' && letter != '-');
    let english =
        words.filter(|word| ENGLISH.contains(&word.to_lowercase().as_str()) && !own(word));
    english.map(str::to_owned).collect()
}

/// Lists the numbers of a text, with points.
fn numbers(text: &str, comma: bool) -> Vec<String> {
    let text = if comma {
        text.replace('\u{A0}', "_").replace(',', ".")
    } else {
        text.replace('\u{A0}', " ")
    };
    let parts = text
        .split(|sign: char| !(sign.is_ascii_digit() || sign == '.' || sign == '_' || sign == ','));
    let parts = parts.map(|part| part.replace(['_', ','], ""));
    let parts = parts.map(|part| part.trim_matches('.').to_owned());
    let mut found: Vec<String> = parts.filter(|part| !part.is_empty()).collect();
    found.sort();
    found
}

#[test]
fn no_english_is_left_in_a_report() {
    for (name, tests) in EXAMPLES {
        let text = report(name, tests, &["--language", "es"]);
        let left = english_left(&without_names(&text, name), name);
        assert!(left.is_empty(), "{name}: {left:?}\n{text}");
    }
}

#[test]
fn the_other_answers_are_in_spanish_too() {
    let (name, tests) = EXAMPLES[0];
    let folder = examples().join(name);
    for command in ["analyze", "schedule", "plan", "check", "track"] {
        let arguments = [&[command, "site.toml"], tests, &["--language", "es"]].concat();
        let (text, _) = {
            let output = support::run(&folder, &arguments);
            (String::from_utf8(output.stdout).unwrap(), output.status)
        };
        let left = english_left(&without_names(&text, name), name);
        assert!(left.is_empty(), "{command}: {left:?}\n{text}");
    }
}

#[test]
fn a_report_has_the_same_numbers_in_every_language() {
    // Readings that were typed with commas stand as they were typed, in every language.
    let typed_with_points = EXAMPLES
        .into_iter()
        .filter(|(name, _)| *name != "haus-birkenweg");
    for (name, tests) in typed_with_points {
        let english = report(name, tests, &[]);
        let american = report(name, tests, &["--language", "es-US"]);
        let spanish = report(name, tests, &["--language", "es"]);
        assert!(spanish.contains(','), "{name}");
        let of = numbers(&english, false);
        for (text, comma) in [(american, false), (spanish, true)] {
            let own = numbers(&text, comma);
            let short = |list: &[String]| {
                list.iter()
                    .filter(|one| one.contains('.'))
                    .cloned()
                    .collect::<Vec<_>>()
            };
            assert_eq!(short(&own), short(&of), "{name}");
        }
    }
}

#[test]
fn a_page_and_a_profile_carry_the_language() {
    let folder = tempfile::tempdir().unwrap();
    let profile = folder.path().join("profile.toml");
    fs::write(&profile, "format = 1\nlanguage = \"es-US\"\n").unwrap();
    let (page, own) = (folder.path().join("a.html"), folder.path().join("b.html"));
    let out = |path: &Path| path.to_str().unwrap().to_owned();
    let (name, tests) = EXAMPLES[0];
    report(name, tests, &["-o", &out(&page), "--language", "es"]);
    report(
        name,
        tests,
        &["-o", &out(&own), "--profile", &out(&profile)],
    );
    let (page, own) = (
        fs::read_to_string(page).unwrap(),
        fs::read_to_string(own).unwrap(),
    );
    assert!(page.contains("<html lang=\"es\">") && page.contains("size: a4"));
    assert!(own.contains("<html lang=\"es-US\">") && own.contains("size: letter"));
    assert!(page.contains("caudal") && own.contains("28 de noviembre de 2026"));
}

#[test]
fn what_machines_read_is_the_same() {
    let (name, tests) = EXAMPLES[0];
    let folder = examples().join(name);
    let of = |language: &str| {
        let arguments = [
            &["analyze", "site.toml"],
            tests,
            &["--json", "--language", language],
        ]
        .concat();
        let text = said(&folder, &arguments);
        let value: serde_json::Value = serde_json::from_str(&text).unwrap();
        value
    };
    let (english, spanish) = (of("en"), of("es"));
    for key in [
        "steps",
        "laws",
        "least_energy",
        "budget",
        "readings",
        "limits",
    ] {
        assert_eq!(english[key], spanish[key], "{key}");
    }
    assert_ne!(english["findings"], spanish["findings"]);
}
