//! A test while it is done.

use records::Measured;

pub(in crate::page) const TITLE: &str = "Test";
pub(in crate::page) const CAUTIONS: &str = "Before the first step";
pub(in crate::page) const READ: &str = "I have read them";
pub(in crate::page) const LINEUP: &str = "Line-up and water";
pub(in crate::page) const LINEUP_LEAD: &str = "As it is now. Leave open what you do not know.";
pub(in crate::page) const CLOSED: &str = "Lines that are shut";
pub(in crate::page) const NO_LINES: &str = "The site file names no lines yet.";
pub(in crate::page) const TEMPERATURE: &str = "Water temperature";
pub(in crate::page) const FILTER: &str = "Filter";
pub(in crate::page) const FILTERS: [&str; 3] = ["as found", "clean", "media out"];
pub(in crate::page) const BASKET: &str = "Baskets";
pub(in crate::page) const BASKETS: [&str; 2] = ["as found", "cleaned"];
pub(in crate::page) const AIR: &str = "Air in the pump pot";
pub(in crate::page) const AIRS: [&str; 3] = ["none", "some bubbles", "much"];
pub(in crate::page) const HEATER: &str = "Heater";
pub(in crate::page) const HEATERS: [&str; 3] = ["none", "off, bypass open", "off, bypass shut"];
pub(in crate::page) const NOT_SAID: &str = "not said";
pub(in crate::page) const COLUMNS: &str = "What is read";
pub(in crate::page) const COLUMNS_HELP: &str =
    "One field for each on every step. The unit is the one that the meter shows.";
pub(in crate::page) const ADD_COLUMN: &str = "Read something else too";
pub(in crate::page) const REMOVE_COLUMN: &str = "Leave out";
pub(in crate::page) const TO_STEPS: &str = "To the steps";
pub(in crate::page) const STEPS: &str = "Steps so far";
pub(in crate::page) const SPEED: &str = "Pump speed";
pub(in crate::page) const FASTER: &str = "Faster";
pub(in crate::page) const SLOWER: &str = "Slower";
pub(in crate::page) const BY: &str = "in steps of";
pub(in crate::page) const NOTE: &str = "Note";
pub(in crate::page) const ADD_NOTE: &str = "Note";
pub(in crate::page) const REPEAT: &str = "Read it again";
pub(in crate::page) const UNDO: &str = "Undo";
pub(in crate::page) const REDO: &str = "Redo";
pub(in crate::page) const SKIP: &str = "Skip this step";
pub(in crate::page) const REMOVE: &str = "Remove";
pub(in crate::page) const NEXT: &str = "Next step";
pub(in crate::page) const BEFORE: &str = "Back";
pub(in crate::page) const END: &str = "End the test";
pub(in crate::page) const EARLIER_STAGE: &str = "Line-up";
pub(in crate::page) const ENDING: &str = "Put back as found";
pub(in crate::page) const ENDING_LEAD: &str =
    "Tick what is done. The result can be read in any case.";
pub(in crate::page) const TICKS: [&str; 6] = [
    "Valves as found, or as agreed",
    "Heater and chlorine cell on again as found",
    "Feeders on again as found",
    "Automation, timers and freeze guard out of service mode",
    "Pump program as found, or as agreed",
    "Lids and covers in place, no leak, air out of the filter",
];
pub(in crate::page) const TO_RESULT: &str = "To the result";
pub(in crate::page) const BACK_TO_STEPS: &str = "Back to the steps";
pub(in crate::page) const FITS: &str = "Fits.";
pub(in crate::page) const KEPT: &str = "Kept";
pub(in crate::page) const KEEPING: &str = "Keeping…";
pub(in crate::page) const NOT_KEPT: &str = "Not kept: export now";
pub(in crate::page) const FOREIGN: &str =
    "This test is open in another window. Here it can only be read.";
pub(in crate::page) const TAKE_OVER: &str = "Go on here";
pub(in crate::page) const IT_IS_RIGHT: &str = "It is right";
pub(in crate::page) const LEAVE_OUT: &str = "Leave it out";
pub(in crate::page) const TAKE_BACK: &str = "Take that back";
pub(in crate::page) const RULED_RIGHT: &str = "You said that it is right.";
pub(in crate::page) const RULED_OUT: &str = "You left it out.";
pub(in crate::page) const NOT_A_TABLE: &str = "This test cannot be shown as steps";
pub(in crate::page) const FIGURES: &str = "What the readings say so far";
pub(in crate::page) const NO_FIGURES: &str = "Figures come with the first reading.";
pub(in crate::page) const SETTLED: &str = "mostly steady by now";
pub(in crate::page) const SETTLING: &str = "let it settle";
pub(in crate::page) const SECONDS_NAME: &str = "Time since the speed was changed";

/// Names the step that is shown.
pub(in crate::page) fn step(row: usize, rows: usize) -> String {
    format!("Step {} of {rows}", row + 1)
}

/// Says what was expected of a reading that fits.
pub(in crate::page) fn fits(band: &str) -> String {
    format!("Fits: expected {band}.")
}

/// Says what is expected before a reading is typed.
pub(in crate::page) fn expected(band: &str) -> String {
    format!("Expected: {band}.")
}

/// Asks to take another text for what was typed.
pub(in crate::page) fn take(text: &str, unit: &str) -> String {
    format!("Take {text} {unit}")
}

/// Says what is accepted where a text is no reading.
pub(in crate::page) fn no_number(expected: &str) -> String {
    format!("Kept, but not read yet: expected {expected}.")
}

/// Names the button that changes the speed.
pub(in crate::page) fn by(word: &str, step: u32) -> String {
    format!("{word} by {step} rpm")
}

/// Names a chip of the strip.
pub(in crate::page) fn chip(row: usize, speed: &str, standing: &str) -> String {
    format!("Step {}, {speed} rpm, {standing}", row + 1)
}
pub(in crate::page) const CHIP_EMPTY: &str = "nothing read";
pub(in crate::page) const CHIP_FINE: &str = "fits";
pub(in crate::page) const CHIP_DOUBTED: &str = "doubted";
pub(in crate::page) const CHIP_NO_SPEED: &str = "no speed";

/// Names what a column reads, with a capital.
pub(in crate::page) fn column(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// Names a quantity that can be read too.
pub(in crate::page) fn measured(measured: Measured) -> String {
    column(measured.word())
}

/// Writes minutes and seconds.
pub(in crate::page) fn clock(seconds: u32) -> String {
    format!("{}:{:02}", seconds / 60, seconds % 60)
}
