//! What came of a test.

use super::{Phrase, here, phrase};
use document::{number, say};

pub(in crate::page) const GO_ON: Phrase = phrase!("Go on with the test");
pub(in crate::page) const DOUBTED: Phrase = phrase!("Readings to settle");
pub(in crate::page) const DOUBTED_LEAD: Phrase = phrase!(
    "Correct a slip, say that a reading is right, or leave it out. What was typed can be had back by Undo."
);
pub(in crate::page) const BESIDE: Phrase = phrase!("Other tests in this answer");
pub(in crate::page) const ANSWER: Phrase = phrase!("The answer");
pub(in crate::page) const NUMBERS: Phrase = phrase!("The numbers");
pub(in crate::page) const NUMBERS_LEAD: Phrase =
    phrase!("A number that is underlined tells where it comes from.");
pub(in crate::page) const FIGURES: Phrase = phrase!("Figures");
pub(in crate::page) const WHERE_FROM: Phrase = phrase!("Where this number comes from");
pub(in crate::page) const HOW: Phrase = phrase!("How it is computed");
pub(in crate::page) const SOURCE: Phrase = phrase!("Source:");
pub(in crate::page) const READINGS: Phrase = phrase!("Readings behind it");
pub(in crate::page) const SPEED: Phrase = phrase!("rpm");
pub(in crate::page) const LEFT_OUT: Phrase = phrase!("left out");
pub(in crate::page) const JSON: Phrase = phrase!("The answer as JSON");
pub(in crate::page) const COPY: Phrase = phrase!("Put JSON with the downloads");

pub(in crate::page) const OPEN: Phrase = phrase!("The whole result");

pub(in crate::page) const VIEWS: Phrase = phrase!("Views of the result");
pub(in crate::page) const LOST: Phrase = phrase!("Where the head is lost");
pub(in crate::page) const DAY: Phrase = phrase!("The day");
pub(in crate::page) const WHAT_IF: Phrase = phrase!("What if");
pub(in crate::page) const SINCE: Phrase = phrase!("Since the baseline");

pub(in crate::page) const WORKING: Phrase = phrase!("Working it out …");
pub(in crate::page) const DIED: Phrase = phrase!(
    "What works this out has stopped by a fault of its own. The readings are kept. It is started again for what is asked next."
);
pub(in crate::page) const AGAIN: Phrase = phrase!("Work it out again");

pub(in crate::page) const LOST_LEAD: Phrase = phrase!(
    "By the stated plumbing, moved as far as the readings ask, at the speed that you choose. A word or number that is underlined tells where it comes from."
);
pub(in crate::page) const AT_SPEED: Phrase = phrase!("Pump speed");
pub(in crate::page) const SHARES: Phrase =
    phrase!("What each line takes of the power that moves water");
pub(in crate::page) const SHARES_NOTE: Phrase =
    phrase!("Dark: the best value; light: as far as it may reach in 95 of 100 cases.");

pub(in crate::page) const DAY_FORM: Phrase = phrase!("What the day must do, and what energy costs");
pub(in crate::page) const DAY_FORM_LEAD: Phrase = phrase!(
    "It is written into the site file; what stands there in another way stays. Tariffs by the hour, tasks and starts are written in the text of the file."
);
pub(in crate::page) const VOLUME: Phrase = phrase!("Volume of the pool, with its unit");
pub(in crate::page) const TURNOVERS: Phrase = phrase!("Turnovers a day");
pub(in crate::page) const PRICE: Phrase = phrase!("Price of a kWh");
pub(in crate::page) const CURRENCY: Phrase = phrase!("Currency, by its three letters");
pub(in crate::page) const TARIFF: Phrase = phrase!("Price of energy");
pub(in crate::page) const QUIET: Phrase = phrase!("Hours in which the pump must be quiet");
pub(in crate::page) const QUIET_LEAD: Phrase =
    phrase!("Left empty, there are none. A highest speed below the pump's lowest keeps it off.");
pub(in crate::page) const FROM: Phrase = phrase!("From");
pub(in crate::page) const TO: Phrase = phrase!("To");
pub(in crate::page) const AT_MOST_RPM: Phrase = phrase!("At most, in rpm");
pub(in crate::page) const KEEP_DAY: Phrase = phrase!("Write it into the site file");
pub(in crate::page) const KEPT: Phrase = phrase!("It stands in the site file.");
pub(in crate::page) const NOT_TOML: Phrase =
    phrase!("The site file is not in order; mend its text first.");

pub(in crate::page) const WHAT_IF_LEAD: Phrase = phrase!(
    "Move what could be otherwise. Nothing at the pad and nothing in the file changes by it; what is told is computed from this test, not measured."
);
pub(in crate::page) const BORE: Phrase = phrase!("Pipe of the returns");
pub(in crate::page) const FILTER: Phrase = phrase!("Filter");
pub(in crate::page) const TURNOVER: Phrase = phrase!("Turnover");
pub(in crate::page) const PRICE_NOW: Phrase = phrase!("Price of energy");
pub(in crate::page) const AS_IS: Phrase = phrase!("Back to the pad as it is");
pub(in crate::page) const KEEP_CHANGE: Phrase = phrase!("Keep this change");
pub(in crate::page) const CHANGE_NAME: Phrase = phrase!("Name of the change");
pub(in crate::page) const CHANGE_KEPT: Phrase = phrase!("It is kept with the site.");
pub(in crate::page) const TRIED: Phrase = phrase!("What is tried out");
pub(in crate::page) const MOVED_BELOW: Phrase = phrase!("What is moved below");
pub(in crate::page) const WHOLE: Phrase = phrase!("The whole comparison");
pub(in crate::page) const NO_SIZES: Phrase = phrase!(
    "The returns cannot be moved: the site states no line back to the water whose pipes have sizes of one kind."
);
pub(in crate::page) const NO_FILTER: Phrase =
    phrase!("The filter cannot be moved: the site states none with its drop when clean.");
pub(in crate::page) const NO_VOLUME: Phrase =
    phrase!("The turnover cannot be moved: the site does not state the volume of the pool.");
pub(in crate::page) const NO_TARIFF: Phrase =
    phrase!("The price cannot be moved: the site states no tariff. “The day” asks for it.");

pub(in crate::page) const SINCE_LEAD: Phrase =
    phrase!("All visits up to this one, each held against the first.");

/// Writes a speed.
pub(in crate::page) fn rpm(speed_rpm: f64) -> String {
    say!(here(), "{speed} rpm", speed = super::rpm(speed_rpm))
}

/// Names the button that moves a slider down.
pub(in crate::page) fn less(what: Phrase) -> String {
    say!(here(), "{what}: less", what)
}

/// Names the button that moves a slider up.
pub(in crate::page) fn more(what: Phrase) -> String {
    say!(here(), "{what}: more", what)
}

/// Writes a size of pipe.
pub(in crate::page) fn size(size: &str, is_today: bool) -> String {
    if is_today {
        say!(here(), "{size}, as it is", size)
    } else {
        size.to_owned()
    }
}

/// Says how a filter is.
pub(in crate::page) fn filter(state: app::what_if::FilterState) -> Phrase {
    use app::what_if::FilterState as State;
    match state {
        State::Clean => phrase!("clean"),
        State::AsTested => phrase!("as in the test"),
        State::HalfMore => phrase!("loaded to 1.5 times the clean drop"),
        State::Double => phrase!("loaded to twice the clean drop"),
        State::Triple => phrase!("loaded to 3 times the clean drop"),
    }
}

/// Writes turnovers.
pub(in crate::page) fn per_day(turnovers: f64) -> String {
    let turnovers = number::significant(here(), turnovers, 3);
    say!(here(), "{turnovers} a day", turnovers)
}

/// Writes a price.
pub(in crate::page) fn percent_of_tariff(percent: u32) -> String {
    if percent == 100 {
        say!(here(), "as the tariff says").to_owned()
    } else {
        say!(here(), "{percent} % of the tariff", percent)
    }
}

/// Says why there is no answer.
pub(in crate::page) fn refused(says: &str) -> String {
    sentence(says)
}

/// Makes a sentence of what is said in half of one.
pub(in crate::page) fn sentence(text: &str) -> String {
    let text = super::test::capital(text);
    if text.ends_with(['.', '!', '?']) {
        text
    } else {
        format!("{text}.")
    }
}

/// Says what is wrong in a text.
pub(in crate::page) fn problem(problem: &records::Problem) -> String {
    sentence(&super::circuit::problem(problem))
}

/// Says how much a finding weighs.
pub(in crate::page) fn weight(severity: fieldtest::Severity) -> Phrase {
    match severity {
        fieldtest::Severity::Error => phrase!("Cannot be, or must not be"),
        fieldtest::Severity::Warning => phrase!("Settle this first"),
        fieldtest::Severity::Note => phrase!("Worth knowing"),
    }
}

/// Names a reading: what, where.
pub(in crate::page) fn reading(column: &str, speed: &str) -> String {
    say!(here(), "{column} at {speed} rpm", column, speed)
}

/// Says what is typed there now.
pub(in crate::page) fn typed(text: &str, unit: &str) -> String {
    say!(here(), "typed: {text} {unit}", text, unit)
}
