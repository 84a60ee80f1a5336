//! What a change of the pad would do to the measured flow, carried by the calibrated circuit.
//!
//! The measured flow stays the anchor: without a change it comes out exactly. At each speed that was tested the pump's head
//! falls and the circuit's head rises with the ratio x of the new flow to the measured one; both are ratios to the head of
//! today, so that what the stated plumbing takes too much or too little everywhere cancels. Where there is no maker's curve,
//! the fall of a pump's head is a usual one with a wide uncertainty.

use super::knobs::{Knobs, ParameterOf};
use super::line_up::LineUp;
use super::operating::Operating;
use super::problem::Problem;
use super::{NotCalibrated, fitted, gather, media_of};
use crate::network::NetworkProblem;
use crate::pump_curve::pump_curve;
use crate::result::Analysis;
use hydraulics::pump::PumpCurve;
use metrology::Prior;
use numerics::elementary::{exp, ln};
use numerics::linear::Matrix;
use numerics::roots::bracketed;
use records::{Part, Site, Test};
use std::cell::RefCell;

/// By how many per cent the head of a pool pump falls where its flow rises by one, near the flows that it is run at: a usual
/// value with its standard uncertainty. Common practice, no source.
const FALL: (f64, f64) = (0.8, 0.4);
/// The least fall that is drawn.
const LEAST_FALL: f64 = 0.05;
/// No change of a pad makes the flow at one speed less or more than these times as large.
const FLOW_RATIOS: (f64, f64) = (0.05, 4.0);
/// To how much the ratio of flows is sought.
const TOLERANCE: f64 = 1e-10;

/// A pad as it would be after a change.
#[derive(Clone, Copy, Debug)]
pub struct ChangedPad<'a> {
    /// The site with the change.
    pub site: &'a Site,
    /// Whether the filter would be clean.
    pub filter: FilterThen,
}

/// What the filter would be like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FilterThen {
    /// As it was in the test.
    AsTested,
    /// Clean.
    Clean,
}

/// What moves the flow of a changed pad.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FallBy {
    /// The maker's curve says how the head of the pump falls.
    Curve,
    /// A usual fall stands in for the curve.
    UsualFall,
}

/// How a change would move the flow that a test measured, step by step.
#[derive(Clone, Debug, PartialEq)]
pub struct CarriedFlow {
    /// The test.
    pub test: String,
    /// The speeds of its steps, rpm.
    pub speeds_rpm: Vec<f64>,
    /// The flow after the change over that before it, at each speed.
    pub flow_ratio: Vec<f64>,
    /// The logarithm of the flow after the change over that before it, at each speed.
    pub ln_ratio: Vec<f64>,
    /// How far that moves with one standard uncertainty of the circuit.
    pub by_circuit: Vec<f64>,
    /// How far it moves with one standard uncertainty of the fall of the pump's head.
    pub by_fall: Vec<f64>,
    /// Head of the circuit at the flow of today after the change over that before it, at each speed.
    pub head_ratio: Vec<f64>,
    /// Density of the water after the change over that before it.
    pub density_ratio: f64,
    /// Where the fall comes from.
    pub fall: FallBy,
}

/// How a change moves the flow at one step.
#[derive(Clone, Copy, Debug)]
struct Moved {
    ln_ratio: f64,
    by_circuit: f64,
    by_fall: f64,
    head_ratio: f64,
}

impl CarriedFlow {
    fn nothing(test: &str, fall: FallBy) -> Self {
        Self {
            test: test.to_owned(),
            speeds_rpm: Vec::new(),
            flow_ratio: Vec::new(),
            ln_ratio: Vec::new(),
            by_circuit: Vec::new(),
            by_fall: Vec::new(),
            head_ratio: Vec::new(),
            density_ratio: 1.0,
            fall,
        }
    }

    fn add(&mut self, speed_rpm: f64, moved: Moved) {
        self.speeds_rpm.push(speed_rpm);
        self.flow_ratio.push(exp(moved.ln_ratio));
        self.ln_ratio.push(moved.ln_ratio);
        self.by_circuit.push(moved.by_circuit);
        self.by_fall.push(moved.by_fall);
        self.head_ratio.push(moved.head_ratio);
    }
}

/// The circuit of a pad as its readings say, ready to carry changes. It borrows nothing of the pad, and is good as long as
/// plumbing, pump, water and readings stay, whatever is asked of the pad meanwhile.
#[derive(Clone, Debug)]
pub struct CalibratedCircuit {
    known: Known,
    curve: Option<PumpCurve>,
    line_ups: Vec<LineUp>,
}

/// Carries changes of a pad from what was measured.
pub struct Carrier<'a> {
    site: &'a Site,
    tests: &'a [Test],
    analysis: &'a Analysis,
    circuit: &'a CalibratedCircuit,
    /// The line-ups of today. A solver starts where it stopped, so each carrier takes them as they were calibrated: what it
    /// carries does not hang on what another one carried before.
    today: RefCell<Vec<LineUp>>,
}

/// What the readings say of the sought numbers.
#[derive(Clone, Debug)]
struct Known {
    of: Vec<ParameterOf>,
    parameters: Vec<f64>,
    covariance: Matrix,
}

impl CalibratedCircuit {
    /// Calibrates the circuit of a pad with all its tests; where no head was read, what is stated stands as it is.
    ///
    /// # Errors
    /// Why the lines are no network.
    pub fn of(site: &Site, tests: &[Test], analysis: &Analysis) -> Result<Self, NotCalibrated> {
        let (problem, _) = gather(site, tests, analysis)?;
        let known = Known::of(&problem);
        let curve = pump_curve(site).transpose();
        let mut line_ups = problem.line_ups().borrow().clone();
        for line_up in &mut line_ups {
            line_up
                .turn(&known.parameters)
                .ok_or(NotCalibrated::NoFlow)?;
        }
        Ok(Self {
            known,
            curve: curve.map_err(|error| NotCalibrated::Network(NetworkProblem::Curve(error)))?,
            line_ups,
        })
    }
}

impl<'a> Carrier<'a> {
    /// Carries by a circuit that was calibrated with these very tests.
    pub fn new(
        site: &'a Site,
        tests: &'a [Test],
        analysis: &'a Analysis,
        circuit: &'a CalibratedCircuit,
    ) -> Self {
        Self {
            site,
            tests,
            analysis,
            circuit,
            today: RefCell::new(circuit.line_ups.clone()),
        }
    }

    /// Carries a change into each test.
    ///
    /// # Errors
    /// Why the changed lines are no network, or have no answer.
    pub fn carry(&self, changed: &ChangedPad<'_>) -> Result<Vec<CarriedFlow>, NotCalibrated> {
        let new_curve = pump_curve(changed.site).transpose();
        let new_curve =
            new_curve.map_err(|error| NotCalibrated::Network(NetworkProblem::Curve(error)))?;
        let tests = self.tests.iter().enumerate();
        tests
            .map(|(index, _)| self.carry_test(index, changed, new_curve.as_ref()))
            .collect()
    }

    fn carry_test(
        &self,
        index: usize,
        changed: &ChangedPad<'_>,
        new_curve: Option<&PumpCurve>,
    ) -> Result<CarriedFlow, NotCalibrated> {
        let (mut then, turned) = self.changed(index, changed)?;
        let result = &self.analysis.tests[index];
        let law = result.laws.flow.as_ref().ok_or(NotCalibrated::NoFlow)?;
        let curves = self.circuit.curve.as_ref().zip(new_curve);
        let fall = match curves {
            Some(_) => FallBy::Curve,
            None => FallBy::UsualFall,
        };
        let mut carried = CarriedFlow::nothing(&result.name, fall);
        let before_kg_m3 = self.today.borrow()[index].density_kg_m3();
        carried.density_ratio = then.density_kg_m3() / before_kg_m3;
        for step in &result.steps {
            let flow_m3s = exp(law.law.predict_ln(step.speed_rpm).ln_value);
            let speed_rpm = step.speed_rpm;
            let none = || NotCalibrated::NoFlowAtSpeed { speed_rpm };
            let at = AtStep {
                flow_m3s,
                head_m: self.head_today(index, flow_m3s).ok_or_else(none)?,
                fall: Fall::of(curves, flow_m3s, speed_rpm).ok_or_else(none)?,
                then: RefCell::new(&mut then),
            };
            let u_ln = self.u_ln(index, &turned, &at).ok_or_else(none)?;
            carried.add(speed_rpm, at.moved(u_ln).ok_or_else(none)?);
        }
        Ok(carried)
    }

    /// Makes the changed circuit of a test, turned as the readings say as far as it is the same; for each of its numbers,
    /// which of today's it is, and what is known of it.
    fn changed(
        &self,
        index: usize,
        changed: &ChangedPad<'_>,
    ) -> Result<(LineUp, Vec<Turned>), NotCalibrated> {
        let mut test = self.tests[index].clone();
        let mut media_of = media_of(self.tests, index).clone();
        let same_filter = self.filter_stays(changed.site);
        if changed.filter == FilterThen::Clean || !same_filter {
            media_of.head.condition.filter = Some("clean".to_owned());
        }
        if changed.site.water.temperature != self.site.water.temperature {
            let temperature = &changed.site.water.temperature;
            test.head.water_temperature.clone_from(temperature);
        }
        let media_stays = same_filter && changed.filter == FilterThen::AsTested;
        let mut knobs = Knobs::default();
        let (mut line_up, _) = LineUp::of(changed.site, (&test, &media_of), &mut knobs)
            .map_err(NotCalibrated::Network)?;
        let known = &self.circuit.known;
        let turned: Vec<Turned> = knobs
            .of
            .iter()
            .zip(&knobs.priors)
            .map(|(of, prior)| Turned {
                today: self
                    .stays(of, changed.site, media_stays)
                    .then(|| known.of.iter().position(|known| known == of))
                    .flatten(),
                prior: *prior,
            })
            .collect();
        let parameters: Vec<f64> = turned
            .iter()
            .map(|turned| {
                turned
                    .today
                    .map_or(turned.prior.mean, |today| known.parameters[today])
            })
            .collect();
        line_up.turn(&parameters).ok_or(NotCalibrated::NoFlow)?;
        Ok((line_up, turned))
    }

    /// Whether a number of the changed pad is that of today.
    fn stays(&self, of: &ParameterOf, site: &Site, media_stays: bool) -> bool {
        match of {
            ParameterOf::Part { line, part, .. } => {
                let before = part_at(self.site, line, *part);
                before.is_some() && before == part_at(site, line, *part)
            }
            ParameterOf::Media { .. } => media_stays,
            _ => true,
        }
    }

    fn filter_stays(&self, site: &Site) -> bool {
        let filters = |site: &'_ Site| {
            let parts = site.lines.iter().flat_map(|line| line.parts.clone());
            parts
                .filter(|part| matches!(part.kind, records::PartKind::Filter(_)))
                .collect::<Vec<Part>>()
        };
        filters(self.site) == filters(site)
    }

    fn head_today(&self, index: usize, flow_m3s: f64) -> Option<f64> {
        let mut line_ups = self.today.borrow_mut();
        let head_m = line_ups[index].total_head_m(flow_m3s)?;
        (head_m > 0.0).then_some(head_m)
    }

    /// The standard uncertainty of the logarithm of the ratio of heads at the flow of today.
    fn u_ln(&self, index: usize, turned: &[Turned], at: &AtStep<'_>) -> Option<f64> {
        let mut line_ups = self.today.borrow_mut();
        let before = line_ups[index].at(at.flow_m3s)?;
        let test = before.test().to_owned();
        let known = &self.circuit.known;
        let mut slopes: Vec<f64> = known
            .of
            .iter()
            .enumerate()
            .map(|(knob, of)| {
                if of.turns(&test) {
                    -slope(&before, knob) / at.head_m
                } else {
                    0.0
                }
            })
            .collect();
        let mut then = at.then.borrow_mut();
        let after = then.at(at.flow_m3s)?;
        let head_m = after.total_head_m()?;
        let mut new_variance = 0.0;
        for (knob, turned) in turned.iter().enumerate() {
            let by = slope(&after, knob) / head_m;
            match turned.today {
                Some(today) => slopes[today] += by,
                None => new_variance += by * by * turned.prior.sd * turned.prior.sd,
            }
        }
        let of_known = numerics::linear::quadratic_form(&slopes, &known.covariance);
        Some((of_known.max(0.0) + new_variance).sqrt())
    }
}

/// How the head of the circuit moves with a number, m.
fn slope(operating: &Operating<'_>, knob: usize) -> f64 {
    operating.total_moved_m(&operating.moved(Some(knob)))
}

fn part_at<'s>(site: &'s Site, line: &str, part: usize) -> Option<&'s Part> {
    let line = site.lines.iter().find(|known| known.name == line)?;
    line.parts.get(part)
}

/// A number of the changed circuit.
struct Turned {
    /// Which of today's it is; `None` where it is new.
    today: Option<usize>,
    prior: Prior,
}

impl Known {
    fn of(problem: &Problem) -> Self {
        let of = problem.knobs.of.clone();
        let fit = (!problem.rows.is_empty()).then(|| fitted(problem).ok());
        match fit.flatten() {
            Some(fit) => Self {
                of,
                parameters: fit.parameters,
                covariance: fit.covariance,
            },
            None => Self {
                of,
                parameters: problem.start(),
                covariance: Matrix::from_fn(
                    problem.knobs.priors.len(),
                    problem.knobs.priors.len(),
                    |i, j| {
                        let sd = problem.knobs.priors[i].sd;
                        if i == j { sd * sd } else { 0.0 }
                    },
                ),
            },
        }
    }
}

/// How the head of the pump falls with its flow, as a share of the head of today.
enum Fall<'a> {
    Curves {
        after: &'a PumpCurve,
        before_m: f64,
        flow_m3s: f64,
        speed_rpm: f64,
    },
    Usual,
}

impl<'a> Fall<'a> {
    fn of(
        curves: Option<(&PumpCurve, &'a PumpCurve)>,
        flow_m3s: f64,
        speed_rpm: f64,
    ) -> Option<Self> {
        let Some((before, after)) = curves else {
            return Some(Self::Usual);
        };
        let before_m = before.head_and_slope(flow_m3s, speed_rpm).head_m;
        (before_m > 0.0).then_some(Self::Curves {
            after,
            before_m,
            flow_m3s,
            speed_rpm,
        })
    }

    /// The head at x times the flow over the head of today; `by` moves a usual fall by standard uncertainties.
    fn at(&self, x: f64, by: f64) -> f64 {
        match self {
            Self::Curves {
                after,
                before_m,
                flow_m3s,
                speed_rpm,
            } => after.head_and_slope(x * flow_m3s, *speed_rpm).head_m / before_m,
            Self::Usual => {
                // A parabola about no flow, whose slope in logarithms is the fall at x = 1.
                let fall = (FALL.0 + by * FALL.1).max(LEAST_FALL);
                1.0 + 0.5 * fall * (1.0 - x * x)
            }
        }
    }
}

/// One step of a test.
struct AtStep<'a> {
    flow_m3s: f64,
    head_m: f64,
    fall: Fall<'a>,
    then: RefCell<&'a mut LineUp>,
}

impl AtStep<'_> {
    /// Head of the changed circuit at x times the flow over the head of today.
    fn head_ratio(&self, x: f64) -> Option<f64> {
        let mut then = self.then.borrow_mut();
        Some(then.total_head_m(x * self.flow_m3s)? / self.head_m)
    }

    /// How the flow moves, with one standard uncertainty of the circuit and of the fall of the pump's head.
    fn moved(&self, circuit_u_ln: f64) -> Option<Moved> {
        let best = self.ln_ratio(0.0, 0.0)?;
        Some(Moved {
            ln_ratio: best,
            by_circuit: self.ln_ratio(circuit_u_ln, 0.0)? - best,
            by_fall: match self.fall {
                Fall::Curves { .. } => 0.0,
                Fall::Usual => self.ln_ratio(0.0, 1.0)? - best,
            },
            head_ratio: self.head_ratio(1.0)?,
        })
    }

    /// The logarithm of the ratio of flows at which pump and circuit meet.
    fn ln_ratio(&self, circuit_by: f64, fall_by: f64) -> Option<f64> {
        let apart = |x: f64| {
            let circuit = self.head_ratio(x).unwrap_or(f64::NAN);
            self.fall.at(x, fall_by) - exp(circuit_by) * circuit
        };
        // Most changes are small: a narrow bracket is tried first.
        let narrow = bracketed(apart, 0.8, 1.25, TOLERANCE);
        let found = narrow.or_else(|_| bracketed(apart, FLOW_RATIOS.0, FLOW_RATIOS.1, TOLERANCE));
        found.ok().map(ln)
    }
}
