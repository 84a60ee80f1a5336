//! What a word of the trade means, in one or two sentences, opened where the word stands.

use super::{Phrase, here, phrase};
use document::say;
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
fn name(word: Word) -> String {
    let word = match word {
        Word::Read(measured) => return document::names::measured(measured, here()).into_owned(),
        Word::Drift => phrase!("drift"),
        Word::Baseline => phrase!("baseline"),
        Word::LineUp => phrase!("line-up"),
        Word::Fits => phrase!("fits"),
        Word::AtRest => phrase!("pump at rest"),
        Word::Accuracy => phrase!("accuracy"),
        Word::Bore => phrase!("inside diameter"),
    };
    word.to_string()
}

/// What its button is called.
pub(in crate::page) fn ask(word: Word) -> String {
    say!(here(), "What is meant by {word}?", word = name(word))
}

/// What it means.
pub(in crate::page) fn means(word: Word) -> Phrase {
    match word {
        Word::Read(measured) => reading(measured),
        Word::Drift => {
            phrase!(
                "A speed read twice, with others between. If the two differ, the pad changed meanwhile: air, a valve, the filter."
            )
        }
        Word::Baseline => {
            phrase!(
                "The visit that later ones are held against, mostly the first one, with a clean filter."
            )
        }
        Word::LineUp => {
            phrase!(
                "Which lines are open and which are shut. Every reading of a test belongs to one line-up."
            )
        }
        Word::Fits => {
            phrase!(
                "The other steps lead to expect this reading, within what the meter is worth. It is no proof."
            )
        }
        Word::AtRest => {
            phrase!(
                "The pump stopped and its electronics on. What it draws then, and where the gauges come to rest, is taken off the other readings."
            )
        }
        Word::Accuracy => {
            phrase!(
                "How far the meter may be off, as its maker states it. Without it a usual one is taken, and said."
            )
        }
        Word::Bore => {
            phrase!(
                "The width of the pipe inside, where the water runs. It is not the number printed on the pipe."
            )
        }
    }
}

fn reading(measured: Measured) -> Phrase {
    match measured {
        Measured::Speed => phrase!("Turns of the pump a minute, from its own display or menu."),
        Measured::Flow => {
            phrase!(
                "How much water moves in a minute or an hour. Read it when the meter holds still; a float is read at its upper rim or as its maker says."
            )
        }
        Measured::Power => {
            phrase!(
                "What the pump draws from the mains, from a clamp meter or its own display, in W or kW as it shows."
            )
        }
        Measured::Current => {
            phrase!("The amperes of one conductor. Only a qualified person opens a terminal box.")
        }
        Measured::Voltage => {
            phrase!(
                "The supply at the pump. It may be left out: it mostly stays near what the label says."
            )
        }
        Measured::FilterPressure => {
            phrase!(
                "What the gauge on the filter shows. It goes up as the filter loads, and with the square of the speed."
            )
        }
        Measured::InletVacuum => {
            phrase!(
                "How hard the pump sucks, read before it. High vacuum means a full basket, a shut valve or too thin a pipe."
            )
        }
        Measured::InletPressure => {
            phrase!(
                "The gauge before the pump where it shows pressure: above zero for a pump below the water, below zero for one above."
            )
        }
        Measured::Head => {
            phrase!(
                "How high the pump lifts the water that it moves, as somebody else states it. Leave it out if nobody does."
            )
        }
        Measured::Time => phrase!("When the row was read, in seconds since the test began."),
    }
}
