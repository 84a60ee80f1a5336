//! A wrong speed moves a whole row: several readings of it leave their curves together, and one other speed brings all back.

use crate::finding::{Finding, Matter, Place, Severity};
use crate::laws::FittedLaw;
use crate::trust::Refuted;
use metrology::Estimate;
use numerics::elementary::{exp, ln};
use numerics::roots::bracketed;
use records::{Measured, Readings};

/// A speed explains a reading when the law predicts it there within this many standard uncertainties.
const EXPLAINED_Z: f64 = 3.5;
/// Speeds are searched in the logarithm to this closeness.
const SEARCH_LN: f64 = 1e-9;

/// A refuted cell with the law that refutes it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Suspect<'a> {
    /// The cell.
    pub refuted: &'a Refuted<'a>,
    /// The law of the others.
    pub law: &'a FittedLaw,
}

/// Looks for one speed that explains all suspects of a row, among speeds up to `highest_rpm`.
pub(crate) fn wrong_speed(
    test: &str,
    readings: &Readings,
    row: usize,
    suspects: &[Suspect<'_>],
    highest_rpm: f64,
) -> Option<Finding> {
    let [first, others @ ..] = suspects else {
        return None;
    };
    if others.is_empty() {
        return None;
    }
    let (speed, u_ln) = speed_of(first, highest_rpm)?;
    if !others.iter().all(|other| explains(other, speed, u_ln)) {
        return None;
    }
    let column = readings
        .columns
        .iter()
        .find(|column| column.measured == Measured::Speed)?;
    Some(Finding {
        severity: Severity::Error,
        place: Place {
            test: Some(test.to_owned()),
            steps_rpm: vec![readings.rows[row].speed_rpm],
            rows: vec![readings.rows[row].line],
            column: Some(column.name()),
        },
        matter: Matter::WrongSpeed {
            read_rpm: readings.rows[row].speed_rpm,
            expected_rpm: Estimate::log_normal(ln(speed), u_ln)?,
        },
    })
}

/// Finds the speed at which the law gives what a suspect reads, with the uncertainty of its logarithm.
fn speed_of(suspect: &Suspect<'_>, highest_rpm: f64) -> Option<(f64, f64)> {
    let target = suspect.refuted.cell.ln_value;
    let distance = |ln_speed: f64| suspect.law.predict_ln(exp(ln_speed)).ln_value - target;
    // The lowest speed at which the law still has a value, by halves from the top.
    let top = ln(highest_rpm);
    let mut low = top;
    while low > 0.0 && distance(low) > 0.0 {
        low -= 0.1;
    }
    let ln_speed = bracketed(distance, low, top, SEARCH_LN).ok()?;
    let slope = (distance(ln_speed + 0.01) - distance(ln_speed - 0.01)) / 0.02;
    Some((exp(ln_speed), suspect.refuted.expected.u_ln / slope))
}

/// Says whether a suspect reads what its law predicts at another speed.
fn explains(suspect: &Suspect<'_>, speed_rpm: f64, speed_u_ln: f64) -> bool {
    let prediction = suspect.law.predict_ln(speed_rpm);
    let above = suspect.law.predict_ln(speed_rpm * exp(0.01)).ln_value;
    let slope = (above - prediction.ln_value) / 0.01;
    let own = suspect.refuted.cell.own_u_ln_at(prediction.ln_value);
    let from_speed = slope * speed_u_ln;
    let variance = prediction.u_ln * prediction.u_ln + own * own + from_speed * from_speed;
    (suspect.refuted.cell.ln_value - prediction.ln_value).abs() <= EXPLAINED_Z * variance.sqrt()
}
