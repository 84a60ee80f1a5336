//! The words of the return visit: what changed, what to do, what stands in the way.

use crate::content::capitalized;
use crate::language::say;
use crate::number;
use crate::units::Printing;
use crate::words::calibration::tap_words;
use fieldtest::{Change, CleaningRule, FilterRise, Hindrance, NotCompared, NotTracked, Split};
use metrology::Estimate;

/// Names what changed.
pub(crate) fn change_words(change: &Change, printing: Printing) -> String {
    match change {
        Change::Media => say!(printing, "the filter's media").to_owned(),
        Change::Suction => say!(printing, "the suction").to_owned(),
        Change::Returns => say!(printing, "the returns").to_owned(),
        Change::Line { line } => line.clone(),
        Change::Pump => say!(printing, "the pump's head").to_owned(),
        Change::Air => say!(printing, "the pump's head at speed").to_owned(),
    }
}

/// Names a hypothesis.
pub(super) fn hypothesis(change: Option<&Change>, printing: Printing) -> String {
    match change {
        None => say!(printing, "nothing changed").to_owned(),
        Some(Change::Media) => say!(printing, "filter loading").to_owned(),
        Some(Change::Suction) => say!(printing, "suction restriction").to_owned(),
        Some(Change::Returns) => say!(printing, "return restriction").to_owned(),
        Some(Change::Line { line }) => say!(printing, "moved valve in {line}", line),
        Some(Change::Pump) => say!(printing, "worn pump").to_owned(),
        Some(Change::Air) => say!(printing, "air in the pump").to_owned(),
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

/// Says that the filter has loaded, and whether it is due.
fn loaded(times: &str, rise: Option<&FilterRise>, printing: Printing) -> (String, &'static str) {
    let waits = rise.is_some_and(|rise| rise.rise_pa.value < rise.limit_pa);
    (
        say!(
            printing,
            "The filter has loaded: its media take {times} times what they did at the baseline.",
            times
        ),
        if waits {
            say!(printing, "It need not be cleaned yet.")
        } else {
            say!(printing, "Clean it, and test again.")
        },
    )
}

/// Says what changed and what to do; whether a loaded filter is due, the rise of its pressure says.
pub(super) fn says(
    change: &Change,
    factor: Estimate,
    rise: Option<&FilterRise>,
    printing: Printing,
) -> (String, &'static str) {
    let more = factor.value > 1.0;
    let times = number::with_interval(printing, factor);
    match (change, more) {
        (Change::Media, true) => loaded(&times, rise, printing),
        (Change::Media, false) => (
            say!(
                printing,
                "The filter's media take only {times} times what they did at the baseline.",
                times
            ),
            say!(
                printing,
                "Ask whether it was cleaned; if not, look for water that passes beside the media."
            ),
        ),
        (Change::Suction, true) => (
            say!(
                printing,
                "The suction takes {times} times what it did at the baseline.",
                times
            ),
            say!(
                printing,
                "Look into the skimmer and the pump basket, and at the suction valves."
            ),
        ),
        (Change::Suction, false) => (
            say!(
                printing,
                "The suction takes only {times} times what it did at the baseline.",
                times
            ),
            say!(
                printing,
                "Ask whether a basket was emptied or a suction valve opened."
            ),
        ),
        (Change::Returns, true) => (
            say!(
                printing,
                "What leads back to the water takes {times} times what it did at the baseline.",
                times
            ),
            say!(printing, "Look at the return valves and at the outlets."),
        ),
        (Change::Returns, false) => (
            say!(
                printing,
                "What leads back to the water takes only {times} times what it did at the baseline.",
                times
            ),
            say!(
                printing,
                "Ask whether a return valve was opened, or an outlet lost its fitting."
            ),
        ),
        (Change::Line { line }, _) => (
            line_takes(&capitalized(line), factor, printing),
            say!(
                printing,
                "See whether a valve in it stands where it stood, and whether something sits in it."
            ),
        ),
        (Change::Pump, false) => (
            say!(
                printing,
                "The pump gives {times} times the head that it gave at the same flow and speed.",
                times
            ),
            say!(
                printing,
                "With the pump off and locked out, look for a worn or clogged impeller; check the speed on the display."
            ),
        ),
        (Change::Air, false) => (
            say!(
                printing,
                "The pump gives {times} times the head that it gave, the less the faster it runs, as with air in the water.",
                times
            ),
            say!(
                printing,
                "Look for bubbles under the pot lid and at the returns; check the water level and the lid's seal."
            ),
        ),
        (Change::Pump | Change::Air, true) => (
            say!(
                printing,
                "The pump gives {times} times the head that it gave at the same flow and speed.",
                times
            ),
            say!(
                printing,
                "Ask whether the impeller was cleaned or exchanged; check the speed on the display."
            ),
        ),
    }
}

fn line_takes(line: &str, factor: Estimate, printing: Printing) -> String {
    let times = number::with_interval(printing, factor);
    if factor.value > 1.0 {
        say!(
            printing,
            "{line} takes {times} times what it did at the baseline.",
            line,
            times
        )
    } else {
        say!(
            printing,
            "{line} takes only {times} times what it did at the baseline.",
            line,
            times
        )
    }
}

/// Says which reading would tell apart.
pub(super) fn split(split: &Split, pressure: impl Fn(f64) -> String, printing: Printing) -> String {
    match split {
        Split::Gauge { tap, apart_pa } => say!(
            printing,
            "{tap}, at the highest step: they are {apart} apart there.",
            tap = capitalized(tap_words(*tap, printing)),
            apart = pressure(*apart_pa)
        ),
        Split::Flow { line, apart } => say!(
            printing,
            "The flow in {line}, at the highest step: they are {percent} % apart there.",
            line,
            percent = number::significant(printing, 100.0 * apart, 2)
        ),
    }
}

/// Says what a person looks at where no reading tells apart.
pub(super) fn look(changes: &[&Change], printing: Printing) -> &'static str {
    let any = |of: fn(&Change) -> bool| changes.iter().any(|change| of(change));
    if any(|it| matches!(it, Change::Air)) && any(|it| matches!(it, Change::Pump)) {
        say!(
            printing,
            "No gauge tells them apart: look for bubbles under the pot lid and at the returns; without any it is not air."
        )
    } else if any(|it| matches!(it, Change::Suction)) {
        say!(
            printing,
            "No gauge that one would borrow tells them apart: open the baskets, and see whether a suction valve stands where it stood."
        )
    } else if any(|it| matches!(it, Change::Media)) {
        say!(
            printing,
            "No gauge that one would borrow tells them apart: clean the filter and test again."
        )
    } else {
        say!(
            printing,
            "No gauge that one would borrow tells them apart: see whether each valve stands where it stood."
        )
    }
}

/// Says which rule asks for cleaning.
pub(super) fn rule(rule: CleaningRule, printing: Printing) -> &'static str {
    match rule {
        CleaningRule::FixedRise => say!(
            printing,
            "8 psi over clean: usual practice, confirm locally"
        ),
        CleaningRule::QuarterRise => {
            say!(
                printing,
                "a quarter over the clean pressure: usual practice, confirm locally"
            )
        }
        CleaningRule::Rating => say!(printing, "the rating of the vessel"),
    }
}

/// Says what narrows a comparison.
pub(super) fn hindrance(hindrance: &Hindrance, printing: Printing) -> String {
    match hindrance {
        Hindrance::OtherMeters { columns } => say!(
            printing,
            "Read by other meters than at the baseline, or ones that the site file does not know: {columns}. What each is off by does not drop out, and only larger changes show.",
            columns = columns.join(", ")
        ),
        Hindrance::Throttled { lines } => say!(
            printing,
            "Part-open at one of the visits: {lines}. A change there does not show.",
            lines = lines.join(", ")
        ),
        Hindrance::NoCurve => say!(
            printing,
            "The site file has no maker's curve: nothing is said of the pump, nor of air."
        )
        .to_owned(),
        Hindrance::NoInletGauge => say!(
            printing,
            "No gauge before the pump at both visits: a change of the suction hardly shows."
        )
        .to_owned(),
    }
}

/// Says why a visit is not compared, and what to do.
pub(super) fn not_compared(
    why: &NotCompared,
    not_calibrated: impl Fn(&fieldtest::NotCalibrated) -> String,
    printing: Printing,
) -> String {
    match why {
        NotCompared::NotCalibrated(problem) => not_calibrated(problem),
        NotCompared::NothingRead => say!(printing, "Not known: no gauge was read and no maker's curve is stated, so nothing says what the flow has to overcome. Read the gauges at each step.").to_owned(),
        NotCompared::AllThrottled => say!(printing, "Not known: every line on one side of the pump stood part-open at one of the visits, and how far is not known. Test again with the valves as at the baseline.").to_owned(),
        NotCompared::MediaOut => say!(printing, "Not known: the filter's media were out at one visit and in at the other. Test again with them in.").to_owned(),
        NotCompared::NotOnePad => say!(printing, "Not known: no change of one pad explains both tests. See whether they are of the same pad, with the valves as stated, and whether a gauge was typed in another unit or moved to another tap.").to_owned(),
    }
}

/// Says why nothing is followed, with the mend.
pub fn refusal(why: &NotTracked, printing: Printing) -> (String, String) {
    match why {
        NotTracked::OneTest => (
            say!(printing, "one test alone: nothing to hold it against").to_owned(),
            say!(printing, "name the baseline and at least one later test").to_owned(),
        ),
    }
}
