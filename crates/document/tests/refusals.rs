//! What is wrong in a file is told in the language of the answer: the gallery of wrong inputs in Spanish.

use document::problems;
use records::{Language, Problem, Source, read_site, read_test, readings_file};
use std::fs;
use std::path::Path;

fn source(case: &Path, name: &str) -> Option<Source> {
    let bytes = fs::read(case.join(name)).ok()?;
    Source::from_bytes(name, &bytes).ok()
}

/// What is wrong in the site of a case, else in its test.
fn found(case: &Path) -> Vec<Problem> {
    let of_site = source(case, "site.toml").and_then(|site| read_site(&site).err());
    of_site
        .or_else(|| {
            let test = source(case, "test.toml")?;
            let name = match readings_file(&test) {
                Ok(name) => name?,
                Err(problems) => return Some(problems),
            };
            read_test(&test, source(case, &name).as_ref()).err()
        })
        .unwrap_or_default()
}

#[test]
fn every_refusal_of_the_gallery_is_told_in_spanish() {
    let gallery = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../wrong");
    let mut told = 0;
    for entry in fs::read_dir(gallery).unwrap() {
        for problem in found(&entry.unwrap().path()) {
            let one = std::slice::from_ref(&problem);
            let spanish = problems::text(one, Language::Spanish);
            assert_eq!(problems::text(one, Language::English), problem.to_string());
            assert_ne!(spanish, problem.to_string());
            for english in ["expected", " is ", "hint: ", "write "] {
                assert!(!spanish.contains(english), "{spanish}");
            }
            told += 1;
        }
    }
    assert!(told > 60, "only {told} problems");
}
