//! The words of the return visit: what changed, what to do, what stands in the way.

use crate::content::capitalized;
use crate::number;
use crate::words::calibration::tap_words;
use fieldtest::{Change, CleaningRule, FilterRise, Hindrance, NotCompared, NotTracked, Split};
use metrology::Estimate;

/// Names what changed.
pub(crate) fn change_words(change: &Change) -> String {
    match change {
        Change::Media => "the filter's media".to_owned(),
        Change::Suction => "the suction".to_owned(),
        Change::Returns => "the returns".to_owned(),
        Change::Line { line } => line.clone(),
        Change::Pump => "the pump's head".to_owned(),
        Change::Air => "the pump's head at speed".to_owned(),
    }
}

/// Names a hypothesis.
pub(super) fn hypothesis(change: Option<&Change>) -> String {
    match change {
        None => "nothing changed".to_owned(),
        Some(Change::Media) => "filter loading".to_owned(),
        Some(Change::Suction) => "suction restriction".to_owned(),
        Some(Change::Returns) => "return restriction".to_owned(),
        Some(Change::Line { line }) => format!("moved valve in {line}"),
        Some(Change::Pump) => "worn pump".to_owned(),
        Some(Change::Air) => "air in the pump".to_owned(),
    }
}

/// The code of a hypothesis.
pub(super) fn code(change: Option<&Change>) -> &'static str {
    match change {
        None => "nothing",
        Some(Change::Media) => "filter-loading",
        Some(Change::Suction) => "suction-restriction",
        Some(Change::Returns) => "return-restriction",
        Some(Change::Line { .. }) => "moved-valve",
        Some(Change::Pump) => "worn-pump",
        Some(Change::Air) => "air",
    }
}

/// Says what changed and what to do; whether a loaded filter is due, the rise of its pressure says.
pub(super) fn says(
    change: &Change,
    factor: Estimate,
    rise: Option<&FilterRise>,
) -> (String, &'static str) {
    let more = factor.value > 1.0;
    let waits = rise.is_some_and(|rise| rise.rise_pa.value < rise.limit_pa);
    let times = number::with_interval(factor);
    let takes = |what: &str| format!("{what} {times} times what it did at the baseline");
    match (change, more) {
        (Change::Media, true) => (
            format!(
                "The filter has loaded: its media take {times} times what they did at the baseline."
            ),
            if waits {
                "It need not be cleaned yet."
            } else {
                "Clean it, and test again."
            },
        ),
        (Change::Media, false) => (
            format!("The filter's media take only {times} times what they did at the baseline."),
            "Ask whether it was cleaned; if not, look for water that passes beside the media.",
        ),
        (Change::Suction, true) => (
            format!("{}.", takes("The suction takes")),
            "Look into the skimmer and the pump basket, and at the suction valves.",
        ),
        (Change::Suction, false) => (
            format!("{}.", takes("The suction takes only")),
            "Ask whether a basket was emptied or a suction valve opened.",
        ),
        (Change::Returns, true) => (
            format!("{}.", takes("What leads back to the water takes")),
            "Look at the return valves and at the outlets.",
        ),
        (Change::Returns, false) => (
            format!("{}.", takes("What leads back to the water takes only")),
            "Ask whether a return valve was opened, or an outlet lost its fitting.",
        ),
        (Change::Line { line }, more) => (
            format!(
                "{}.",
                takes(&capitalized(&format!(
                    "{line} takes{}",
                    if more { "" } else { " only" }
                )))
            ),
            "See whether a valve in it stands where it stood, and whether something sits in it.",
        ),
        (Change::Pump, false) => (
            format!(
                "The pump gives {times} times the head that it gave at the same flow and speed."
            ),
            "With the pump off and locked out, look for a worn or clogged impeller; check the speed on the display.",
        ),
        (Change::Air, false) => (
            format!(
                "The pump gives {times} times the head that it gave, the less the faster it runs, as with air in the water."
            ),
            "Look for bubbles under the pot lid and at the returns; check the water level and the lid's seal.",
        ),
        (Change::Pump | Change::Air, true) => (
            format!(
                "The pump gives {times} times the head that it gave at the same flow and speed."
            ),
            "Ask whether the impeller was cleaned or exchanged; check the speed on the display.",
        ),
    }
}

/// Says which reading would tell apart.
pub(super) fn split(split: &Split, pressure: impl Fn(f64) -> String) -> String {
    match split {
        Split::Gauge { tap, apart_pa } => format!(
            "{}, at the highest step: they are {} apart there.",
            capitalized(tap_words(*tap)),
            pressure(*apart_pa)
        ),
        Split::Flow { line, apart } => format!(
            "The flow in {line}, at the highest step: they are {} % apart there.",
            number::significant(100.0 * apart, 2)
        ),
    }
}

/// Says what a person looks at where no reading tells apart.
pub(super) fn look(changes: &[&Change]) -> &'static str {
    let any = |of: fn(&Change) -> bool| changes.iter().any(|change| of(change));
    if any(|it| matches!(it, Change::Air)) && any(|it| matches!(it, Change::Pump)) {
        "No gauge tells them apart: look for bubbles under the pot lid and at the returns; without any it is not air."
    } else if any(|it| matches!(it, Change::Suction)) {
        "No gauge that one would borrow tells them apart: open the baskets, and see whether a suction valve stands where it stood."
    } else if any(|it| matches!(it, Change::Media)) {
        "No gauge that one would borrow tells them apart: clean the filter and test again."
    } else {
        "No gauge that one would borrow tells them apart: see whether each valve stands where it stood."
    }
}

/// Says which rule asks for cleaning.
pub(super) fn rule(rule: CleaningRule) -> &'static str {
    match rule {
        CleaningRule::FixedRise => "8 psi over clean: usual practice, confirm locally",
        CleaningRule::QuarterRise => {
            "a quarter over the clean pressure: usual practice, confirm locally"
        }
        CleaningRule::Rating => "the rating of the vessel",
    }
}

/// Says what narrows a comparison.
pub(super) fn hindrance(hindrance: &Hindrance) -> String {
    match hindrance {
        Hindrance::OtherMeters { columns } => format!(
            "Read by other meters than at the baseline, or ones that the site file does not know: {}. What each is off by does not drop out, and only larger changes show.",
            columns.join(", ")
        ),
        Hindrance::Throttled { lines } => format!(
            "Part-open at one of the visits: {}. A change there does not show.",
            lines.join(", ")
        ),
        Hindrance::NoCurve => {
            "The site file has no maker's curve: nothing is said of the pump, nor of air."
                .to_owned()
        }
        Hindrance::NoInletGauge => {
            "No gauge before the pump at both visits: a change of the suction hardly shows."
                .to_owned()
        }
    }
}

/// Says why a visit is not compared, and what to do.
pub(super) fn not_compared(
    why: &NotCompared,
    not_calibrated: impl Fn(&fieldtest::NotCalibrated) -> String,
) -> String {
    match why {
        NotCompared::NotCalibrated(problem) => not_calibrated(problem),
        NotCompared::NothingRead => "Not known: no gauge was read and no maker's curve is stated, so nothing says what the flow has to overcome. Read the gauges at each step.".to_owned(),
        NotCompared::AllThrottled => "Not known: every line on one side of the pump stood part-open at one of the visits, and how far is not known. Test again with the valves as at the baseline.".to_owned(),
        NotCompared::MediaOut => "Not known: the filter's media were out at one visit and in at the other. Test again with them in.".to_owned(),
        NotCompared::NotOnePad => "Not known: no change of one pad explains both tests. See whether they are of the same pad, with the valves as stated, and whether a gauge was typed in another unit or moved to another tap.".to_owned(),
    }
}

/// Says why nothing is followed, with the mend.
pub fn refusal(why: &NotTracked) -> (String, String) {
    match why {
        NotTracked::OneTest => (
            "one test alone: nothing to hold it against".to_owned(),
            "name the baseline and at least one later test".to_owned(),
        ),
    }
}
