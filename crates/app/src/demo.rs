//! The invented pad that the page carries, so that it has something to show before anything is typed.

use crate::engine::Pad;
use records::{Source, TestFiles};

const SITE: (&str, &str) = (
    "site.toml",
    include_str!("../../../examples/larkspur-lane/site.toml"),
);
/// Each test, and its readings.
const TESTS: [[(&str, &str); 2]; 2] = [
    [
        (
            "2026-05-16.toml",
            include_str!("../../../examples/larkspur-lane/2026-05-16.toml"),
        ),
        (
            "2026-05-16.csv",
            include_str!("../../../examples/larkspur-lane/2026-05-16.csv"),
        ),
    ],
    [
        (
            "2026-06-02.toml",
            include_str!("../../../examples/larkspur-lane/2026-06-02.toml"),
        ),
        (
            "2026-06-02.csv",
            include_str!("../../../examples/larkspur-lane/2026-06-02.csv"),
        ),
    ],
];

/// Returns the texts of the demo.
pub fn pad() -> Pad {
    Pad {
        site: source(SITE),
        tests: TESTS
            .map(|[test, readings]| TestFiles {
                test: source(test),
                readings: Some(source(readings)),
            })
            .to_vec(),
    }
}

fn source((name, text): (&str, &str)) -> Source {
    Source {
        name: name.to_owned(),
        text: text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use document::content::Block;

    #[test]
    fn the_demo_has_an_answer_for_each_test() {
        let answer = crate::engine::analyze(&super::pad(), None).unwrap();
        let titles = answer
            .blocks
            .iter()
            .filter(|block| matches!(block, Block::Title(_)));
        assert_eq!(titles.count(), super::TESTS.len());
        assert_eq!(answer.site, "Larkspur Lane");
    }
}
