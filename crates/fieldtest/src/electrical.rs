//! Power against volts times amperes: the power factor of each step, and what it cannot be.

use crate::finding::{Finding, Matter, Place, Severity, Voltage};
use crate::result::Step;
use metrology::Estimate;

/// A supply that was not read lies within this share of its rated voltage. Common practice, no source.
const SUPPLY_HALF_WIDTH: f64 = 0.10;
/// Above this a power factor is an error rather than a doubt.
const CERTAINLY_WRONG: f64 = 1.1;
/// A power factor is doubted when it exceeds one by so many standard uncertainties.
const DOUBT_Z: f64 = 2.0;
/// Power over volt-amperes that varies by less than this over the whole test is no power factor: that of a drive
/// falls to a half and less at low speed. Common practice, no source.
const CONSTANT_WITHIN: f64 = 0.02;
/// Volts times amperes, typed as watts, give one to the rounding of what was typed; a drive with a corrected power
/// factor stays below.
const ONE_WITHIN: f64 = 0.01;
/// The lowest step must be below this, W: at high load a drive's power factor is near one and constant anyway.
const LOW_POWER_W: f64 = 300.0;
/// Constancy tells only where power spans at least this ratio.
const LEAST_SPAN: f64 = 3.0;

/// The voltage at a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StepVoltage {
    /// The voltage, V.
    pub volts: Estimate,
    /// Where it comes from.
    pub from: Voltage,
}

impl StepVoltage {
    /// Takes a voltage that was read.
    pub(crate) fn read(volts: Estimate) -> Self {
        Self {
            volts,
            from: Voltage::Read,
        }
    }

    /// Takes the rated supply for a voltage that was not read.
    pub(crate) fn of_supply(supply_v: f64) -> Self {
        let half_width = SUPPLY_HALF_WIDTH * supply_v;
        Self {
            // Rectangular: JCGM 100:2008, 4.3.7; the interval is that of the limits.
            volts: Estimate {
                value: supply_v,
                u: half_width / 3.0_f64.sqrt(),
                low: supply_v - half_width,
                high: supply_v + half_width,
            },
            from: Voltage::Supply,
        }
    }
}

/// Computes P/(V I) with its uncertainty, the three readings being independent.
pub(crate) fn power_factor(
    power_w: Estimate,
    current_a: Estimate,
    volts: Estimate,
) -> Option<Estimate> {
    let value = power_w.value / (current_a.value * volts.value);
    let relative = [power_w, current_a, volts].map(|x| x.relative_u() * x.relative_u());
    Estimate::normal(value, value * relative.iter().sum::<f64>().sqrt())
}

/// Finds the steps whose power factor is above one.
pub(crate) fn above_one(test: &str, steps: &[Step]) -> Vec<Finding> {
    let check = |step: &Step| {
        let power_factor = step.power_factor?;
        if power_factor.value - 1.0 <= DOUBT_Z * power_factor.u {
            return None;
        }
        let voltage = step.voltage?;
        let highest_voltage = match voltage.from {
            Voltage::Read => voltage.volts.value,
            // A voltage that was not read is never by itself an error.
            Voltage::Supply => voltage.volts.high,
        };
        let power_w = step.power_w?.value;
        let current_a = step.current_a?.value;
        let certain = power_w / (current_a * highest_voltage) > CERTAINLY_WRONG;
        Some(Finding {
            severity: if certain {
                Severity::Error
            } else {
                Severity::Warning
            },
            place: Place {
                test: Some(test.to_owned()),
                steps_rpm: vec![step.speed_rpm],
                rows: step.rows.clone(),
                column: Some("power".to_owned()),
            },
            matter: Matter::PowerFactorAboveOne {
                power_factor,
                power_w,
                apparent_va: current_a * voltage.volts.value,
                voltage: voltage.from,
            },
        })
    };
    steps.iter().filter_map(check).collect()
}

/// Says whether the column of power holds volt-amperes: one value of P/(V I) near one at every speed.
pub(crate) fn volt_amperes_as_watts(steps: &[Step]) -> Option<Matter> {
    let mut ratios = Vec::new();
    let mut powers = Vec::new();
    let mut from = Voltage::Read;
    for step in steps {
        if let (Some(ratio), Some(power), Some(voltage)) =
            (step.power_factor, step.power_w, step.voltage)
        {
            ratios.push(ratio.value);
            powers.push(power.value);
            if voltage.from == Voltage::Supply {
                from = Voltage::Supply;
            }
        }
    }
    let mean = ratios.iter().sum::<f64>() / ratios.len() as f64;
    let largest = ratios
        .iter()
        .fold(0.0, |most: f64, r| (r - mean).abs().max(most));
    let span = powers.iter().copied().fold(0.0, f64::max)
        / powers.iter().copied().fold(f64::INFINITY, f64::min);
    let told = ratios.len() >= 3
        && span >= LEAST_SPAN
        && powers.iter().copied().fold(f64::INFINITY, f64::min) < LOW_POWER_W
        && largest <= CONSTANT_WITHIN * mean
        && (mean - 1.0).abs() <= ONE_WITHIN;
    told.then_some(Matter::VoltAmperesAsWatts {
        mean_power_factor: mean,
        largest_difference: largest,
        voltage: from,
    })
}
