//! A whole made-up test from one number.

use super::draw::Uniform;
use super::faults::{Fault, InjectedFault};
use super::meters::{MeterModel, Meters};
use super::pad::Truth;
use super::text::{SimulatedTest, simulate};
use hydraulics::HydraulicsError;
use hydraulics::water::Water;
use numerics::random::Draws;

/// Steps of the test.
const STEPS: usize = 11;
/// The lowest step, rpm.
const LOWEST_RPM: f64 = 600.0;
/// A pad that moves less at the lowest step, m³/s, would not be stepped down to it: 5 gpm.
const LEAST_FLOW_M3S: f64 = 3e-4;
/// The temperature of the water, K.
const TEMPERATURE_K: f64 = 300.15;

/// A made-up test with its truth and the one thing that was typed wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct RandomTest {
    /// The truth.
    pub truth: Truth,
    /// The test.
    pub test: SimulatedTest,
    /// What was typed wrong; `None` where the fault would have changed nothing.
    pub fault: Option<InjectedFault>,
}

/// Makes a test of a pad drawn at random, with one typing fault; the same seed makes the same test on every machine.
///
/// # Errors
/// Those of the hydraulics.
pub fn random_test(seed: u64) -> Result<RandomTest, HydraulicsError> {
    let mut draw = Draws::new(seed).at(0);
    let mut next = || draw.uniform();
    let mut uniform = Uniform(&mut next);
    let (truth, mut test) = pad_test(STEPS, &mut uniform)?;
    let faults = [
        Fault::Factor(10.0),
        Fault::Factor(0.1),
        Fault::Factor(0.001),
        Fault::Repeated,
        Fault::Swapped,
    ];
    let fault = faults[uniform.below(faults.len())];
    let (row, meter) = (
        1 + uniform.below(STEPS - 1),
        uniform.below(MeterModel::USUAL.len()),
    );
    let fault = fault.make(&mut test.rows, row, meter, &mut uniform);
    Ok(RandomTest { truth, test, fault })
}

/// Makes a test of a pad drawn at random, typed without a fault.
///
/// # Errors
/// Those of the hydraulics.
pub fn random_pad_test(seed: u64, steps: usize) -> Result<SimulatedTest, HydraulicsError> {
    let mut draw = Draws::new(seed).at(0);
    let mut next = || draw.uniform();
    pad_test(steps, &mut Uniform(&mut next)).map(|(_, test)| test)
}

/// Draws a pad, and steps it from the lowest speed to the highest on the usual meters.
fn pad_test(
    steps: usize,
    uniform: &mut Uniform<'_>,
) -> Result<(Truth, SimulatedTest), HydraulicsError> {
    let truth = running_pad(uniform)?;
    let meters = Meters::draw(&MeterModel::USUAL, uniform);
    let gaps = steps.saturating_sub(1).max(1) as f64;
    let step = (truth.top_rpm() - LOWEST_RPM) / gaps;
    let speeds: Vec<f64> = (0..steps)
        .map(|i| (LOWEST_RPM + step * i as f64).round())
        .collect();
    let test = simulate(&truth, &speeds, &meters, uniform)?;
    Ok((truth, test))
}

/// Draws pads until one moves water at the lowest step.
fn running_pad(uniform: &mut Uniform<'_>) -> Result<Truth, HydraulicsError> {
    let water = Water::fresh(TEMPERATURE_K)?;
    loop {
        let truth = Truth::Rich(uniform.pad(water)?);
        if truth.at(LOWEST_RPM)?.flow_m3s > LEAST_FLOW_M3S {
            return Ok(truth);
        }
    }
}
