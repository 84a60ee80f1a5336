//! Why there is no year, or nothing known of a change, and the mend.

use crate::language::say;
use crate::schedule::{LiesIn, Refusal};
use crate::units::Printing;
use crate::words::calibration::unsettled;
use fieldtest::NotCalibrated;
use operation::{Date, NoAlternative, NoYear};

/// Puts into English why there is no year.
pub fn no_year(no_year: &NoYear, printing: Printing) -> Refusal {
    let on = |date: &Date| format!("{}-{:02}-{:02}", date.year, date.month, date.day);
    match no_year {
        NoYear::Plan(no_plan) => crate::schedule::refusal(no_plan, printing),
        NoYear::Impossible { date } => Refusal {
            message: say!(
                printing,
                "no day keeps all the rules on {date}",
                date = on(date)
            ),
            hint: Some(say!(
                printing,
                "`schedule --date {date}` names the rules that cannot hold together",
                date = on(date)
            )),
            lies_in: LiesIn::Readings,
        },
        NoYear::Unsettled { date } => Refusal {
            message: say!(
                printing,
                "neither a day that keeps the rules nor the proof that there is none was found in the time given for {date}",
                date = on(date)
            ),
            hint: Some(say!(printing, "take fewer rules, or a coarser --grid").to_owned()),
            lies_in: LiesIn::Readings,
        },
    }
}

/// Puts into English why nothing is known of a change: what, and the mend.
pub fn no_alternative(why: &NoAlternative, printing: Printing) -> (String, Option<String>) {
    let said = |message: &str, hint: &str| (message.to_owned(), Some(hint.to_owned()));
    match why {
        NoAlternative::Year(year) => {
            let refusal = no_year(year, printing);
            (refusal.message, refusal.hint)
        }
        NoAlternative::NotCarried(NotCalibrated::Network(problem)) => {
            crate::solved::problem(problem, printing)
        }
        NoAlternative::NotCarried(NotCalibrated::NoFlow) => said(
            say!(
                printing,
                "no step has a flow that counts, or the changed parts have no law"
            ),
            say!(
                printing,
                "read the flow at each step, and state what each part takes"
            ),
        ),
        NoAlternative::NotCarried(NotCalibrated::NoFlowAtSpeed { speed_rpm }) => (
            say!(
                printing,
                "the circuit has no answer at {speed} rpm",
                speed = crate::number::rpm(printing, *speed_rpm)
            ),
            Some(say!(printing, "look at the lines that the change states").to_owned()),
        ),
        NoAlternative::NotCarried(NotCalibrated::Unsettled(_)) => {
            (unsettled(printing).to_owned(), None)
        }
        NoAlternative::NoPowerOfPump => said(
            say!(
                printing,
                "the other pump's curve states no electrical power"
            ),
            say!(
                printing,
                "add power = \"1450 W\" to the points of its curve, two or more"
            ),
        ),
        NoAlternative::NoCurveToday => said(
            say!(
                printing,
                "another pump can only be set beside one whose maker's curve is known"
            ),
            say!(
                printing,
                "add curve and curve_speed below [pump] in the site file"
            ),
        ),
    }
}
