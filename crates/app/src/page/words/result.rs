//! What came of a test.

pub(in crate::page) const GO_ON: &str = "Go on with the test";
pub(in crate::page) const DOUBTED: &str = "Readings to settle";
pub(in crate::page) const DOUBTED_LEAD: &str = "Correct a slip, say that a reading is right, or leave it out. What was typed can be had back by Undo.";
pub(in crate::page) const BESIDE: &str = "Other tests in this answer";
pub(in crate::page) const ANSWER: &str = "The answer";
pub(in crate::page) const NUMBERS: &str = "The numbers";
pub(in crate::page) const NUMBERS_LEAD: &str =
    "A number that is underlined tells where it comes from.";
pub(in crate::page) const FIGURES: &str = "Figures";
pub(in crate::page) const WHERE_FROM: &str = "Where this number comes from";
pub(in crate::page) const HOW: &str = "How it is computed";
pub(in crate::page) const SOURCE: &str = "Source:";
pub(in crate::page) const READINGS: &str = "Readings behind it";
pub(in crate::page) const SPEED: &str = "rpm";
pub(in crate::page) const LEFT_OUT: &str = "left out";
pub(in crate::page) const JSON: &str = "The answer as JSON";
pub(in crate::page) const COPY: &str = "Put JSON with the downloads";

pub(in crate::page) const OPEN: &str = "The whole result";

pub(in crate::page) const VIEWS: &str = "Views of the result";
pub(in crate::page) const LOST: &str = "Where the head is lost";
pub(in crate::page) const DAY: &str = "The day";
pub(in crate::page) const WHAT_IF: &str = "What if";
pub(in crate::page) const SINCE: &str = "Since the baseline";

pub(in crate::page) const WORKING: &str = "Working it out …";
pub(in crate::page) const DIED: &str = "What works this out has stopped by a fault of its own. The readings are kept. It is started again for what is asked next.";
pub(in crate::page) const AGAIN: &str = "Work it out again";

pub(in crate::page) const LOST_LEAD: &str = "By the stated plumbing, moved as far as the readings ask, at the speed that you choose. A word or number that is underlined tells where it comes from.";
pub(in crate::page) const AT_SPEED: &str = "Pump speed";
pub(in crate::page) const SHARES: &str = "What each line takes of the power that moves water";
pub(in crate::page) const SHARES_NOTE: &str =
    "Dark: the best value; light: as far as it may reach in 95 of 100 cases.";

pub(in crate::page) const DAY_FORM: &str = "What the day must do, and what energy costs";
pub(in crate::page) const DAY_FORM_LEAD: &str = "It is written into the site file; what stands there in another way stays. Tariffs by the hour, tasks and starts are written in the text of the file.";
pub(in crate::page) const VOLUME: &str = "Volume of the pool, with its unit";
pub(in crate::page) const TURNOVERS: &str = "Turnovers a day";
pub(in crate::page) const PRICE: &str = "Price of a kWh";
pub(in crate::page) const CURRENCY: &str = "Currency, by its three letters";
pub(in crate::page) const TARIFF: &str = "Price of energy";
pub(in crate::page) const QUIET: &str = "Hours in which the pump must be quiet";
pub(in crate::page) const QUIET_LEAD: &str =
    "Left empty, there are none. A highest speed below the pump's lowest keeps it off.";
pub(in crate::page) const FROM: &str = "From";
pub(in crate::page) const TO: &str = "To";
pub(in crate::page) const AT_MOST_RPM: &str = "At most, in rpm";
pub(in crate::page) const KEEP_DAY: &str = "Write it into the site file";
pub(in crate::page) const KEPT: &str = "It stands in the site file.";
pub(in crate::page) const NOT_TOML: &str = "The site file is not in order; mend its text first.";

pub(in crate::page) const WHAT_IF_LEAD: &str = "Move what could be otherwise. Nothing at the pad and nothing in the file changes by it; what is told is computed from this test, not measured.";
pub(in crate::page) const BORE: &str = "Pipe of the returns";
pub(in crate::page) const FILTER: &str = "Filter";
pub(in crate::page) const TURNOVER: &str = "Turnover";
pub(in crate::page) const PRICE_NOW: &str = "Price of energy";
pub(in crate::page) const AS_IS: &str = "Back to the pad as it is";
pub(in crate::page) const KEEP_CHANGE: &str = "Keep this change";
pub(in crate::page) const CHANGE_NAME: &str = "Name of the change";
pub(in crate::page) const CHANGE_KEPT: &str = "It is kept with the site.";
pub(in crate::page) const TRIED: &str = "What is tried out";
pub(in crate::page) const MOVED_BELOW: &str = "What is moved below";
pub(in crate::page) const WHOLE: &str = "The whole comparison";
pub(in crate::page) const NO_SIZES: &str = "The returns cannot be moved: the site states no line back to the water whose pipes have sizes of one kind.";
pub(in crate::page) const NO_FILTER: &str =
    "The filter cannot be moved: the site states none with its drop when clean.";
pub(in crate::page) const NO_VOLUME: &str =
    "The turnover cannot be moved: the site does not state the volume of the pool.";
pub(in crate::page) const NO_TARIFF: &str =
    "The price cannot be moved: the site states no tariff. “The day” asks for it.";

pub(in crate::page) const SINCE_LEAD: &str =
    "All visits up to this one, each held against the first.";

/// Writes a speed.
pub(in crate::page) fn rpm(speed_rpm: f64) -> String {
    format!("{speed_rpm:.0} rpm")
}

/// Names the button that moves a slider down.
pub(in crate::page) fn less(what: &str) -> String {
    format!("{what}: less")
}

/// Names the button that moves a slider up.
pub(in crate::page) fn more(what: &str) -> String {
    format!("{what}: more")
}

/// Writes a size of pipe.
pub(in crate::page) fn size(size: &str, is_today: bool) -> String {
    if is_today {
        format!("{size}, as it is")
    } else {
        size.to_owned()
    }
}

/// Says how a filter is.
pub(in crate::page) fn filter(state: app::what_if::FilterState) -> &'static str {
    use app::what_if::FilterState as State;
    match state {
        State::Clean => "clean",
        State::AsTested => "as in the test",
        State::HalfMore => "loaded to 1.5 times the clean drop",
        State::Double => "loaded to twice the clean drop",
        State::Triple => "loaded to 3 times the clean drop",
    }
}

/// Writes turnovers.
pub(in crate::page) fn per_day(turnovers: f64) -> String {
    format!("{turnovers} a day")
}

/// Writes a price.
pub(in crate::page) fn percent_of_tariff(percent: u32) -> String {
    if percent == 100 {
        "as the tariff says".to_owned()
    } else {
        format!("{percent} % of the tariff")
    }
}

/// Says why there is no answer.
pub(in crate::page) fn refused(says: &str) -> String {
    sentence(says)
}

/// Makes a sentence of what is said in half of one.
pub(in crate::page) fn sentence(text: &str) -> String {
    let text = super::test::column(text);
    if text.ends_with(['.', '!', '?']) {
        text
    } else {
        format!("{text}.")
    }
}

/// Says what is wrong in a text.
pub(in crate::page) fn problem(problem: &records::Problem) -> String {
    match &problem.hint {
        Some(hint) => sentence(&format!("{}; {hint}", problem.message)),
        None => sentence(&problem.message),
    }
}

/// Says how much a finding weighs.
pub(in crate::page) fn weight(severity: fieldtest::Severity) -> &'static str {
    match severity {
        fieldtest::Severity::Error => "Cannot be, or must not be",
        fieldtest::Severity::Warning => "Settle this first",
        fieldtest::Severity::Note => "Worth knowing",
    }
}

/// Names a reading: what, where.
pub(in crate::page) fn reading(column: &str, speed: &str) -> String {
    format!("{column} at {speed} rpm")
}

/// Says what is typed there now.
pub(in crate::page) fn typed(text: &str, unit: &str) -> String {
    format!("typed: {text} {unit}")
}
