//! The border between the page and the engine: texts in, words and JSON out, no panic on any input.
//!
//! Both sides are plain data, so that the work can move to a thread of its own without changing a screen.

use crate::answer::answer;
use document::content::Block;
use records::{Language, Problem, Source, TestFiles, UnitSystem};

/// The texts of a pad.
#[derive(Clone, Debug)]
pub struct Pad {
    /// The site file.
    pub site: Source,
    /// The tests, in the order of time.
    pub tests: Vec<TestFiles>,
}

/// What the engine makes of a pad.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// The name of the site.
    pub site: String,
    /// The answer in words.
    pub blocks: Vec<Block>,
    /// The same in numbers: what the command prints with `analyze --json`.
    pub json: String,
}

/// Reads the texts and analyses the tests.
///
/// # Inputs
/// The texts of a pad, and the units to print in where not the site's own.
///
/// # Errors
/// Everything that is wrong in the texts, each with its place and the mend.
pub fn analyze(pad: &Pad, units: Option<UnitSystem>) -> Result<Answer, Vec<Problem>> {
    let answered = answer(pad, units, Language::English)?;
    Ok(Answer {
        blocks: answered.blocks(),
        json: answered.json(),
        site: answered.site().to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bare(site: &str) -> Pad {
        Pad {
            site: Source {
                name: "site.toml".to_owned(),
                text: site.to_owned(),
            },
            tests: Vec::new(),
        }
    }

    #[test]
    fn what_is_wrong_comes_back_with_its_place() {
        let problems = analyze(&bare("format = 1\nnome = \"A\"\n"), None).unwrap_err();
        assert!(problems.iter().any(|problem| problem.line == 2));
    }

    #[test]
    fn other_units_change_the_words_and_no_number() {
        let pad = crate::demo::pad();
        let us = analyze(&pad, Some(UnitSystem::Us)).unwrap();
        let si = analyze(&pad, Some(UnitSystem::Si)).unwrap();
        assert_ne!(us.blocks, si.blocks);
        let steps = |answer: &Answer| answer.json.split("\"findings\"").next().unwrap().len();
        assert_eq!(steps(&us), steps(&si));
    }
}
