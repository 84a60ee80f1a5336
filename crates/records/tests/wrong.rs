//! The gallery of wrong inputs: each folder of `wrong/` at the root holds a wrong file and its exact message.
//!
//! `UPDATE_WRONG=1 cargo test -p records --test wrong` writes the messages anew; read them as a technician would.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a test fails by panicking"
)]

use records::{
    Problem, Source, Test, check_test, read_change, read_site, read_test, readings_file,
};
use std::fs;
use std::path::{Path, PathBuf};

fn gallery() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../wrong")
}

/// The folders of the gallery, in order.
fn cases() -> Vec<PathBuf> {
    let entries = fs::read_dir(gallery()).expect("the gallery");
    let mut cases: Vec<PathBuf> = entries
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.is_dir())
        .collect();
    cases.sort();
    cases
}

/// Reads a file of a case as a command would; `None` where it is absent.
fn source(case: &Path, name: &str) -> Option<Result<Source, Problem>> {
    let bytes = fs::read(case.join(name)).ok()?;
    Some(Source::from_bytes(name, &bytes))
}

/// The messages of a case: of its site, of its test, and of the one against the other.
fn messages(case: &Path) -> String {
    let lines: Vec<String> = problems(case)
        .iter()
        .map(|problem| {
            format!(
                "{problem}
"
            )
        })
        .collect();
    lines.concat()
}

fn problems(case: &Path) -> Vec<Problem> {
    let site = source(case, "site.toml").map(|source| {
        source
            .map_err(|problem| vec![problem])
            .and_then(|source| read_site(&source))
    });
    let site = match site {
        Some(Err(problems)) => return problems,
        Some(Ok(site)) => Some(site),
        None => None,
    };
    if let (Some(site), Some(change)) = (&site, source(case, "change.toml")) {
        return match change {
            Err(problem) => vec![problem],
            Ok(source) => read_change(&source, site).err().unwrap_or_default(),
        };
    }
    match source(case, "test.toml") {
        None => Vec::new(),
        Some(Err(problem)) => vec![problem],
        Some(Ok(source)) => match read(case, &source) {
            Err(problems) => problems,
            Ok((test, readings)) => site
                .map(|site| check_test(&site, &source, readings.as_ref(), &test))
                .unwrap_or_default(),
        },
    }
}

fn read(case: &Path, test: &Source) -> Result<(Test, Option<Source>), Vec<Problem>> {
    let readings = match readings_file(test)?.and_then(|name| source(case, &name)) {
        Some(readings) => Some(readings.map_err(|problem| vec![problem])?),
        None => None,
    };
    read_test(test, readings.as_ref()).map(|test| (test, readings))
}

#[test]
fn every_wrong_input_has_its_message() {
    let update = std::env::var_os("UPDATE_WRONG").is_some();
    let cases = cases();
    assert!(
        cases.len() >= 25,
        "only {} cases in the gallery",
        cases.len()
    );
    let mut differing = Vec::new();
    for case in cases {
        let told = messages(&case);
        assert!(!told.is_empty(), "{} is not wrong", case.display());
        let kept = case.join("message.txt");
        if update {
            fs::write(&kept, &told).unwrap();
        }
        let expected = fs::read_to_string(&kept).unwrap_or_default();
        if told != expected {
            differing.push(format!(
                "{}\n--- expected\n{expected}--- told\n{told}",
                case.display()
            ));
        }
    }
    assert!(differing.is_empty(), "{}", differing.join("\n"));
}

#[test]
fn every_message_says_what_is_expected_on_lines_of_its_own() {
    for problem in cases().iter().flat_map(|case| problems(case)) {
        let told = problem.to_string();
        assert!(
            !problem.message.to_string().contains('\n') && told.lines().count() <= 2,
            "{told}"
        );
        assert!(!problem.message.to_string().ends_with('.'), "{told}");
    }
}
