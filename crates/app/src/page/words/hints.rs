//! What a word of the trade means, in one or two sentences, opened where the word stands.

use records::Measured;

/// A word that not everybody at a pad has met.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::page) enum Word {
    /// A quantity that is read.
    Read(Measured),
    /// The speed that was read before, read again.
    Drift,
    /// The visit that others are held against.
    Baseline,
    /// Which lines are shut.
    LineUp,
    /// Whether a reading fits.
    Fits,
    /// The pump at rest.
    AtRest,
    /// What a meter is worth.
    Accuracy,
    /// The bore of a pipe.
    Bore,
}

/// The word itself, for the name of its button.
pub(in crate::page) fn name(word: Word) -> &'static str {
    match word {
        Word::Read(measured) => measured.word(),
        Word::Drift => "drift",
        Word::Baseline => "baseline",
        Word::LineUp => "line-up",
        Word::Fits => "fits",
        Word::AtRest => "pump at rest",
        Word::Accuracy => "accuracy",
        Word::Bore => "inside diameter",
    }
}

/// What its button is called.
pub(in crate::page) fn ask(word: Word) -> String {
    format!("What is meant by {}?", name(word))
}

/// What it means.
pub(in crate::page) fn means(word: Word) -> &'static str {
    match word {
        Word::Read(measured) => reading(measured),
        Word::Drift => {
            "A speed read twice, with others between. If the two differ, the pad changed meanwhile: air, a valve, the filter."
        }
        Word::Baseline => {
            "The visit that later ones are held against, mostly the first one, with a clean filter."
        }
        Word::LineUp => {
            "Which lines are open and which are shut. Every reading of a test belongs to one line-up."
        }
        Word::Fits => {
            "The other steps lead to expect this reading, within what the meter is worth. It is no proof."
        }
        Word::AtRest => {
            "The pump stopped and its electronics on. What it draws then, and where the gauges come to rest, is taken off the other readings."
        }
        Word::Accuracy => {
            "How far the meter may be off, as its maker states it. Without it a usual one is taken, and said."
        }
        Word::Bore => {
            "The width of the pipe inside, where the water runs. It is not the number printed on the pipe."
        }
    }
}

fn reading(measured: Measured) -> &'static str {
    match measured {
        Measured::Speed => "Turns of the pump a minute, from its own display or menu.",
        Measured::Flow => {
            "How much water moves in a minute or an hour. Read it when the meter holds still; a float is read at its upper rim or as its maker says."
        }
        Measured::Power => {
            "What the pump draws from the mains, from a clamp meter or its own display, in W or kW as it shows."
        }
        Measured::Current => {
            "The amperes of one conductor. Only a qualified person opens a terminal box."
        }
        Measured::Voltage => {
            "The supply at the pump. It may be left out: it mostly stays near what the label says."
        }
        Measured::FilterPressure => {
            "What the gauge on the filter shows. It goes up as the filter loads, and with the square of the speed."
        }
        Measured::InletVacuum => {
            "How hard the pump sucks, read before it. High vacuum means a full basket, a shut valve or too thin a pipe."
        }
        Measured::InletPressure => {
            "The gauge before the pump where it shows pressure: above zero for a pump below the water, below zero for one above."
        }
        Measured::Head => {
            "How high the pump lifts the water that it moves, as somebody else states it. Leave it out if nobody does."
        }
        Measured::Time => "When the row was read, in seconds since the test began.",
    }
}
