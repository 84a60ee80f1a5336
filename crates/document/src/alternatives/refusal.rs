//! Why there is no year, or nothing known of a change, and the mend.

use crate::schedule::{LiesIn, Refusal};
use fieldtest::NotCalibrated;
use operation::{Date, NoAlternative, NoYear};

/// Puts into English why there is no year.
pub fn no_year(no_year: &NoYear) -> Refusal {
    let on = |date: &Date| format!("{}-{:02}-{:02}", date.year, date.month, date.day);
    match no_year {
        NoYear::Plan(no_plan) => crate::schedule::refusal(no_plan),
        NoYear::Impossible { date } => Refusal {
            message: format!("no day keeps all the rules on {}", on(date)),
            hint: Some(format!(
                "`schedule --date {}` names the rules that cannot hold together",
                on(date)
            )),
            lies_in: LiesIn::Readings,
        },
        NoYear::Unsettled { date } => Refusal {
            message: format!(
                "neither a day that keeps the rules nor the proof that there is none was found in the time given for {}",
                on(date)
            ),
            hint: Some("take fewer rules, or a coarser --grid".to_owned()),
            lies_in: LiesIn::Readings,
        },
    }
}

/// Puts into English why nothing is known of a change: what, and the mend.
pub fn no_alternative(why: &NoAlternative) -> (String, Option<String>) {
    let said = |message: &str, hint: &str| (message.to_owned(), Some(hint.to_owned()));
    match why {
        NoAlternative::Year(year) => {
            let refusal = no_year(year);
            (refusal.message, refusal.hint)
        }
        NoAlternative::NotCarried(NotCalibrated::Network(problem)) => {
            crate::solved::problem(problem)
        }
        NoAlternative::NotCarried(NotCalibrated::NoFlow) => said(
            "no step has a flow that counts, or the changed parts have no law",
            "read the flow at each step, and state what each part takes",
        ),
        NoAlternative::NotCarried(NotCalibrated::NoFlowAtSpeed { speed_rpm }) => (
            format!(
                "the circuit has no answer at {} rpm",
                crate::number::rpm(*speed_rpm)
            ),
            Some("look at the lines that the change states".to_owned()),
        ),
        NoAlternative::NotCarried(NotCalibrated::Unsettled(error)) => (error.to_string(), None),
        NoAlternative::NoPowerOfPump => said(
            "the other pump's curve states no electrical power",
            "add power = \"1450 W\" to the points of its curve, two or more",
        ),
        NoAlternative::NoCurveToday => said(
            "another pump can only be set beside one whose maker's curve is known",
            "add curve and curve_speed below [pump] in the site file",
        ),
    }
}
