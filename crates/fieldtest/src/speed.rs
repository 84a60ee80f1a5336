//! A wrong speed moves a whole row: several readings of it leave their curves together, and one other speed brings all back.

use crate::cells::Cell;
use crate::finding::{Finding, Matter, Place, Severity};
use crate::laws::{FittedLaw, LnPrediction};
use metrology::Estimate;
use numerics::elementary::{exp, ln};
use numerics::roots::bracketed;
use records::{Measured, Readings};

/// A speed explains a reading when the law predicts it there within this many standard uncertainties.
const EXPLAINED_Z: f64 = 3.5;
/// Speeds are searched in the logarithm to this closeness.
const SEARCH_LN: f64 = 1e-9;

/// A reading of a row with the law of the others of its column.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Suspect<'a> {
    /// The reading.
    pub cell: &'a Cell<'a>,
    /// The law of the others.
    pub law: &'a FittedLaw,
}

impl Suspect<'_> {
    /// Says whether the reading lies on its law at a speed that is known to `speed_u_ln`.
    pub(crate) fn lies_on_law(&self, speed_rpm: f64, speed_u_ln: f64) -> bool {
        let prediction = self.law.predict_ln(speed_rpm);
        let from_speed = self.slope(speed_rpm) * speed_u_ln;
        let variance = self.variance(&prediction) + from_speed * from_speed;
        (self.cell.ln_value - prediction.ln_value).abs() <= EXPLAINED_Z * variance.sqrt()
    }

    /// Returns the variance of reading less prediction, the reading's own part as it is where it should be.
    fn variance(&self, prediction: &LnPrediction) -> f64 {
        let own = self.cell.own_u_ln_at(prediction.ln_value);
        prediction.u_ln * prediction.u_ln + own * own
    }

    /// Returns the slope of the law in the logarithm of speed.
    fn slope(&self, speed_rpm: f64) -> f64 {
        let at = |ln_step: f64| self.law.predict_ln(speed_rpm * exp(ln_step)).ln_value;
        (at(0.01) - at(-0.01)) / 0.02
    }
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
    if !others.iter().all(|other| other.lies_on_law(speed, u_ln)) {
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
    let target = suspect.cell.ln_value;
    let distance = |ln_speed: f64| suspect.law.predict_ln(exp(ln_speed)).ln_value - target;
    // The lowest speed at which the law still has a value, by tenths from the top.
    let top = ln(highest_rpm);
    let mut low = top;
    while low > 0.0 && distance(low) > 0.0 {
        low -= 0.1;
    }
    let speed = exp(bracketed(distance, low, top, SEARCH_LN).ok()?);
    let prediction = suspect.law.predict_ln(speed);
    Some((
        speed,
        suspect.variance(&prediction).sqrt() / suspect.slope(speed),
    ))
}
