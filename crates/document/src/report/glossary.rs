//! The words of the trade that a report uses, and what they mean.

use super::heading;
use crate::content::Block;
use crate::language::{later, said, said_as, say};
use crate::terminal::{Layout, Paint, text};
use crate::units::Printing;
use records::UnitSystem;

/// Words, how each shows in a text, and what it means.
const TERMS: [(&str, &[&str], &str); 17] = [
    (
        later!("backwash"),
        &[later!("ackwash" as "in the text")],
        later!("Washing a filter's media by turning the flow through it."),
    ),
    (
        later!("exponent"),
        &[later!("exponent" as "in the text")],
        later!("How steeply a quantity grows: with 3, twice the speed takes eight times as much."),
    ),
    (
        later!("fixed draw"),
        &[
            later!("does not depend on speed" as "in the text"),
            later!("Whatever its speed" as "in the text"),
        ],
        later!("The power that electronics and motor take at any speed while the pump runs."),
    ),
    (
        "gpm",
        &[later!("gpm" as "in the text")],
        later!("US gallons a minute."),
    ),
    (
        later!("head"),
        &[later!("head" as "in the text")],
        later!(
            "How high the pump could lift the water that it moves: its pressure, as a height of water."
        ),
    ),
    (
        "inHg",
        &[later!("inHg" as "in the text")],
        later!("Inches of mercury, a measure of suction below the air around."),
    ),
    (
        later!("law"),
        &[later!("law" as "in the text")],
        later!("The smooth line that readings at many speeds follow."),
    ),
    (
        "NPSH",
        &[later!("NPSH" as "in the text")],
        later!(
            "Net positive suction head: what is left above boiling at the pump's inlet. Too little, and the water boils in the pump."
        ),
    ),
    (
        later!("power factor"),
        &[
            later!("power\nfactor" as "in the text"),
            later!("power factor" as "in the text"),
        ],
        later!("The power drawn over volts times amperes."),
    ),
    (
        later!("prime"),
        &[
            later!("prime" as "in the text"),
            later!("priming" as "in the text"),
        ],
        later!("Filling pump and suction with water at each start."),
    ),
    (
        "psi",
        &[later!("psi" as "in the text")],
        later!("Pounds-force per square inch, a pressure."),
    ),
    (
        "rpm",
        &[later!("rpm" as "in the text")],
        later!("Turns of the pump a minute."),
    ),
    (
        later!("skimmer"),
        &[later!("skimmer" as "in the text")],
        later!("The opening at the surface that takes leaves and dust off the water."),
    ),
    (
        later!("standby"),
        &[
            later!("standby" as "in the text"),
            later!("at rest" as "in the text"),
        ],
        later!("The power drawn while the pump stands still."),
    ),
    (
        later!("step"),
        &[later!("step" as "in the text")],
        later!("A speed that was held until the meters stood still, and read."),
    ),
    (
        later!("turnover"),
        &[later!("turnover" as "in the text")],
        later!("One volume of the pool through the filter."),
    ),
    (
        later!("wire to water"),
        &[later!("wire to" as "in the text")],
        later!("The power in the moved water over the electrical power drawn."),
    ),
];
/// Wide enough that no line is broken.
const UNBROKEN: Layout = Layout {
    width: 1_000_000,
    paint: Paint::Plain,
    printing: Printing::english(UnitSystem::Si),
};

/// Composes the meanings of the words that stand in some blocks, by the order of the words; nothing where none does.
pub(super) fn glossary(blocks: &[Block], printing: Printing) -> Vec<Block> {
    let words = text(blocks, UNBROKEN);
    let shown = |part: &&'static str| words.contains(said_as(printing, "in the text", part));
    let used = TERMS.iter().filter(|(_, shows, _)| shows.iter().any(shown));
    let mut used: Vec<(&str, &str)> = used
        .map(|(word, _, means)| (said(printing, word), said(printing, means)))
        .collect();
    numerics::order::sort_by_key(&mut used, |(word, _)| word.to_lowercase());
    if used.is_empty() {
        return Vec::new();
    }
    let meanings = used.into_iter().map(|(word, means)| Block::Answer {
        word: word.to_owned(),
        text: means.to_owned(),
        kind: None,
    });
    std::iter::once(heading(say!(printing, "Words of the trade")))
        .chain(meanings)
        .collect()
}
