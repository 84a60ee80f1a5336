//! How the numbers came about, with the sources.

use super::{Subject, heading};
use crate::content::Block;
use crate::language::say;

/// Composes the note on method: only of what this report rests on.
pub(super) fn method(subject: &Subject<'_>) -> Vec<Block> {
    let has_laws = subject
        .last()
        .is_some_and(|(_, test)| test.laws.flow.is_some() || test.laws.power.is_some());
    let said = [
        (
            true,
            say!(
                subject.printing,
                "Uncertainty after JCGM 100:2008 (the GUM): each meter counts with its stated accuracy, what its readings share does not average out, and ± or a range holds the truth in 95 of 100 cases."
            ),
        ),
        (
            true,
            say!(
                subject.printing,
                "A reading is left out only where the smallest set of readings that must go, to make the rest agree, holds it. What was typed is shown all the same."
            ),
        ),
        (
            has_laws,
            say!(
                subject.printing,
                "Flow, power and current follow laws of speed, fitted by generalised least squares; each may depart from its law smoothly by some per cent, and the intervals allow for that."
            ),
        ),
        (
            true,
            say!(
                subject.printing,
                "Water after the IAPWS releases SR6-08, R7-97 and R12-08, salt and air counted where they are stated; head from the gauges at both sides of the pump, corrected for their heights, in the manner of ISO 9906."
            ),
        ),
        (
            subject.calibration.is_some(),
            say!(
                subject.printing,
                "Where the head is lost: Darcy-Weisbach with Colebrook-White, fittings after Crane TP-410, Hooper (1981) and Darby (2001), every part moved within its uncertainty as far as the readings ask."
            ),
        ),
        (
            subject.plan.is_ok(),
            say!(
                subject.printing,
                "The program is the least of all days of such slots and speeds that keep the rules, found by an exact search and replayed by an independent check."
            ),
        ),
        (
            true,
            say!(
                subject.printing,
                "Limits are those of the rules named beside them; what is marked \"confirm locally\" was recalled, not read in print. Local codes and licensed practice decide."
            ),
        ),
    ];
    let told = said.into_iter().filter(|(holds, _)| *holds);
    std::iter::once(heading(say!(
        subject.printing,
        "How the numbers came about"
    )))
    .chain(told.map(|(_, text)| Block::Item(text.to_owned())))
    .collect()
}
