//! A test while it is done.

use super::{Phrase, here, phrase};
use app::draft::OpenError;
use document::problems::text;
use document::say;
use records::{Measured, Problem};

pub(in crate::page) const TITLE: Phrase = phrase!("Test");
pub(in crate::page) const CAUTIONS: Phrase = phrase!("Before the first step");
pub(in crate::page) const READ: Phrase = phrase!("I have read them");
pub(in crate::page) const LINEUP: Phrase = phrase!("Line-up and water");
pub(in crate::page) const LINEUP_LEAD: Phrase =
    phrase!("As it is now. Leave open what you do not know.");
pub(in crate::page) const CLOSED: Phrase = phrase!("Lines that are shut");
pub(in crate::page) const NO_LINES: Phrase = phrase!("The site file names no lines yet.");
pub(in crate::page) const TEMPERATURE: Phrase = phrase!("Water temperature");
pub(in crate::page) const FILTER: Phrase = phrase!("Filter");
pub(in crate::page) const FILTERS: [&str; 3] = ["as found", "clean", "media out"];
pub(in crate::page) const BASKET: Phrase = phrase!("Baskets");
pub(in crate::page) const BASKETS: [&str; 2] = ["as found", "cleaned"];
pub(in crate::page) const AIR: Phrase = phrase!("Air in the pump pot");
pub(in crate::page) const AIRS: [&str; 3] = ["none", "some bubbles", "much"];
pub(in crate::page) const HEATER: Phrase = phrase!("Heater");
pub(in crate::page) const HEATERS: [&str; 3] = ["none", "off, bypass open", "off, bypass shut"];
pub(in crate::page) const NOT_SAID: Phrase = phrase!("not said");
pub(in crate::page) const COLUMNS: Phrase = phrase!("What is read");
pub(in crate::page) const COLUMNS_HELP: Phrase =
    phrase!("One field for each on every step. The unit is the one that the meter shows.");
pub(in crate::page) const ADD_COLUMN: Phrase = phrase!("Read something else too");
pub(in crate::page) const REMOVE_COLUMN: Phrase = phrase!("Leave out");
pub(in crate::page) const TO_STEPS: Phrase = phrase!("To the steps");
pub(in crate::page) const STEPS: Phrase = phrase!("Steps so far");
pub(in crate::page) const SPEED: Phrase = phrase!("Pump speed");
pub(in crate::page) const FASTER: Phrase = phrase!("Faster");
pub(in crate::page) const SLOWER: Phrase = phrase!("Slower");
pub(in crate::page) const BY: Phrase = phrase!("in steps of");
pub(in crate::page) const NOTE: Phrase = phrase!("Note");
pub(in crate::page) const ADD_NOTE: Phrase = phrase!("Note");
pub(in crate::page) const REPEAT: Phrase = phrase!("Read it again");
pub(in crate::page) const UNDO: Phrase = phrase!("Undo");
pub(in crate::page) const REDO: Phrase = phrase!("Redo");
pub(in crate::page) const SKIP: Phrase = phrase!("Skip this step");
pub(in crate::page) const REMOVE: Phrase = phrase!("Remove");
pub(in crate::page) const NEXT: Phrase = phrase!("Next step");
pub(in crate::page) const BEFORE: Phrase = phrase!("Back");
pub(in crate::page) const END: Phrase = phrase!("End the test");
pub(in crate::page) const EARLIER_STAGE: Phrase = phrase!("Line-up");
pub(in crate::page) const ENDING: Phrase = phrase!("Put back as found");
pub(in crate::page) const ENDING_LEAD: Phrase =
    phrase!("Tick what is done. The result can be read in any case.");
pub(in crate::page) const TICKS: [Phrase; 6] = [
    phrase!("Valves as found, or as agreed"),
    phrase!("Heater and chlorine cell on again as found"),
    phrase!("Feeders on again as found"),
    phrase!("Automation, timers and freeze guard out of service mode"),
    phrase!("Pump program as found, or as agreed"),
    phrase!("Lids and covers in place, no leak, air out of the filter"),
];
pub(in crate::page) const TO_RESULT: Phrase = phrase!("To the result");
pub(in crate::page) const BACK_TO_STEPS: Phrase = phrase!("Back to the steps");
pub(in crate::page) const FITS: Phrase = phrase!("Fits.");
pub(in crate::page) const KEPT: Phrase = phrase!("Kept");
pub(in crate::page) const KEEPING: Phrase = phrase!("Keeping…");
pub(in crate::page) const NOT_KEPT: Phrase = phrase!("Not kept: export now");
pub(in crate::page) const FOREIGN: Phrase =
    phrase!("This test is open in another window. Here it can only be read.");
pub(in crate::page) const TAKE_OVER: Phrase = phrase!("Go on here");
pub(in crate::page) const IT_IS_RIGHT: Phrase = phrase!("It is right");
pub(in crate::page) const LEAVE_OUT: Phrase = phrase!("Leave it out");
pub(in crate::page) const TAKE_BACK: Phrase = phrase!("Take that back");
pub(in crate::page) const RULED_RIGHT: Phrase = phrase!("You said that it is right.");
pub(in crate::page) const RULED_OUT: Phrase = phrase!("You left it out.");
pub(in crate::page) const NOT_A_TABLE: Phrase = phrase!("This test cannot be shown as steps");
pub(in crate::page) const FIGURES: Phrase = phrase!("What the readings say so far");
pub(in crate::page) const NO_FIGURES: Phrase = phrase!("Figures come with the first reading.");
pub(in crate::page) const SETTLED: Phrase = phrase!("mostly steady by now");
pub(in crate::page) const SETTLING: Phrase = phrase!("let it settle");
pub(in crate::page) const SECONDS_NAME: Phrase = phrase!("Time since the speed was changed");

/// Says what is wrong in the files of the test, with its place.
pub(in crate::page) fn problem(problem: &Problem) -> String {
    text(std::slice::from_ref(problem), here().language)
}

/// Says why a test cannot be shown as steps.
pub(in crate::page) fn no_table(error: &OpenError) -> String {
    match error {
        OpenError::InlineSteps => say!(
            here(),
            "the readings of this test stand in the test file itself, as [[step]] tables"
        )
        .to_owned(),
        OpenError::Texts(problems) => text(problems, here().language),
    }
}

/// Names the step that is shown.
pub(in crate::page) fn step(row: usize, rows: usize) -> String {
    say!(here(), "Step {row} of {rows}", row = row + 1, rows)
}

/// Says what was expected of a reading that fits.
pub(in crate::page) fn fits(band: &str) -> String {
    say!(here(), "Fits: expected {band}.", band)
}

/// Says what is expected before a reading is typed.
pub(in crate::page) fn expected(band: &str) -> String {
    say!(here(), "Expected: {band}.", band)
}

/// Asks to take another text for what was typed.
pub(in crate::page) fn take(text: &str, unit: &str) -> String {
    say!(here(), "Take {text} {unit}", text, unit)
}

/// Names the button that changes the speed.
pub(in crate::page) fn by(word: Phrase, step: u32) -> String {
    say!(here(), "{word} by {step} rpm", word, step)
}

/// Names a chip of the strip.
pub(in crate::page) fn chip(row: usize, speed: &str, standing: Phrase) -> String {
    say!(
        here(),
        "Step {row}, {speed} rpm, {standing}",
        row = row + 1,
        speed,
        standing
    )
}
pub(in crate::page) const CHIP_EMPTY: Phrase = phrase!("nothing read");
pub(in crate::page) const CHIP_FINE: Phrase = phrase!("fits");
pub(in crate::page) const CHIP_DOUBTED: Phrase = phrase!("doubted");
pub(in crate::page) const CHIP_NO_SPEED: Phrase = phrase!("no speed");

/// Names what a column reads, with a capital.
pub(in crate::page) fn column(name: &str) -> String {
    capital(&document::names::column(name, here()))
}

/// Begins a text with a capital.
pub(in crate::page) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// Names a quantity that can be read too.
pub(in crate::page) fn measured(measured: Measured) -> String {
    capital(&document::names::measured(measured, here()))
}

/// Writes minutes and seconds.
pub(in crate::page) fn clock(seconds: u32) -> String {
    format!("{}:{:02}", seconds / 60, seconds % 60)
}
