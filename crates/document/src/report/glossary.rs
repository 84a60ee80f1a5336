//! The words of the trade that a report uses, and what they mean.

use super::heading;
use crate::content::Block;
use crate::terminal::{Layout, Paint, text};

/// Words, how each shows in a text, and what it means.
const TERMS: [(&str, &[&str], &str); 17] = [
    (
        "backwash",
        &["ackwash"],
        "Washing a filter's media by turning the flow through it.",
    ),
    (
        "exponent",
        &["exponent"],
        "How steeply a quantity grows: with 3, twice the speed takes eight times as much.",
    ),
    (
        "fixed draw",
        &["does not depend on speed", "Whatever its speed"],
        "The power that electronics and motor take at any speed while the pump runs.",
    ),
    ("gpm", &["gpm"], "US gallons a minute."),
    (
        "head",
        &["head"],
        "How high the pump could lift the water that it moves: its pressure, as a height of water.",
    ),
    (
        "inHg",
        &["inHg"],
        "Inches of mercury, a measure of suction below the air around.",
    ),
    (
        "law",
        &["law"],
        "The smooth line that readings at many speeds follow.",
    ),
    (
        "NPSH",
        &["NPSH"],
        "Net positive suction head: what is left above boiling at the pump's inlet. Too little, and the water boils in the pump.",
    ),
    (
        "power factor",
        &["power\nfactor", "power factor"],
        "The power drawn over volts times amperes.",
    ),
    (
        "prime",
        &["prime", "priming"],
        "Filling pump and suction with water at each start.",
    ),
    ("psi", &["psi"], "Pounds-force per square inch, a pressure."),
    ("rpm", &["rpm"], "Turns of the pump a minute."),
    (
        "skimmer",
        &["skimmer"],
        "The opening at the surface that takes leaves and dust off the water.",
    ),
    (
        "standby",
        &["standby", "at rest"],
        "The power drawn while the pump stands still.",
    ),
    (
        "step",
        &["step"],
        "A speed that was held until the meters stood still, and read.",
    ),
    (
        "turnover",
        &["turnover"],
        "One volume of the pool through the filter.",
    ),
    (
        "wire to water",
        &["wire to"],
        "The power in the moved water over the electrical power drawn.",
    ),
];
/// Wide enough that no line is broken.
const UNBROKEN: Layout = Layout {
    width: 1_000_000,
    paint: Paint::Plain,
};

/// Composes the meanings of the words that stand in some blocks; nothing where none does.
pub(super) fn glossary(blocks: &[Block]) -> Vec<Block> {
    let words = text(blocks, UNBROKEN);
    let used = TERMS
        .iter()
        .filter(|(_, shows, _)| shows.iter().any(|part| words.contains(part)));
    let meanings: Vec<Block> = used
        .map(|(word, _, means)| Block::Answer {
            word: (*word).to_owned(),
            text: (*means).to_owned(),
        })
        .collect();
    if meanings.is_empty() {
        return meanings;
    }
    std::iter::once(heading("Words of the trade"))
        .chain(meanings)
        .collect()
}
