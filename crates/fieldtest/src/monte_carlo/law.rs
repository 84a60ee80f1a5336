//! The draws of one law: how the errors of its readings, of the pad and of the priors reach its numbers.
//!
//! All that is normal among the errors is a root times standard deviates. The deviates are turned so that the first few
//! carry everything that reaches the law's numbers to first order; the rest matter to an exact refit alone.

use super::Refit;
use super::refit::Refitting;
use crate::laws::{FittedLaw, Shape};
use metrology::Curve;
use numerics::elementary::{exp, ln};
use numerics::householder::reduce;
use numerics::linear::{Matrix, PositiveFactor, Vector, dot};

/// The most parameters that a law has.
pub(super) const MOST_PARAMETERS: usize = 3;

/// What one draw says of a law.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct DrawnLaw {
    /// The parameters, in the order of the fit.
    pub(super) parameters: [f64; MOST_PARAMETERS],
    /// The logarithm of the quantity at the speed that is asked about; 0 where none is.
    pub(super) ln_there: f64,
}

/// Whether the quantity at a speed is asked for, beside the parameters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum There {
    /// It is.
    Asked,
    /// It is not.
    NotAsked,
}

/// The deviates of one law in one draw: standard normal ones, and one between −1 and 1 for each meter's limit.
#[derive(Clone, Copy, Debug)]
pub(super) struct Deviates<'a> {
    /// Those that reach the law's numbers to first order.
    pub(super) lead: &'a [f64],
    /// Those that matter to an exact refit alone; empty where none is made.
    pub(super) rest: &'a [f64],
    /// Those of the limits.
    pub(super) limits: &'a [f64],
}

impl Deviates<'_> {
    /// Lists all deviates, in the order of [`Row::factors`].
    pub(super) fn all(self) -> impl Iterator<Item = f64> {
        let normal = self.lead.iter().chain(self.rest);
        normal.chain(self.limits).copied()
    }
}

/// A sum of deviates: one row of the map from errors to numbers.
#[derive(Clone, Debug)]
pub(super) struct Row {
    lead: Vec<f64>,
    rest: Vec<f64>,
    limits: Vec<f64>,
}

impl Row {
    /// Lists the factors of all deviates.
    pub(super) fn factors(&self) -> Vec<f64> {
        [&self.lead[..], &self.rest, &self.limits].concat()
    }

    pub(super) fn of(&self, deviates: Deviates<'_>) -> f64 {
        dot(&self.lead, deviates.lead)
            + dot(&self.rest, deviates.rest)
            + dot(&self.limits, deviates.limits)
    }
}

/// A law, ready to be drawn.
#[derive(Clone, Debug)]
pub(super) struct LawDraws {
    shape: Shape,
    parameters: Vec<f64>,
    /// The shift of each parameter, and last that of the departure from the law at the speed asked about.
    shifts: Vec<Row>,
    /// That speed over the reference.
    ratio: f64,
    /// The departure there, as the readings show it.
    departure: f64,
    pub(super) refitting: Option<Refitting>,
    normals: usize,
    limits: usize,
}

impl LawDraws {
    /// Prepares the draws of a law; `None` where the errors have no root.
    pub(super) fn new(law: &FittedLaw, speed_rpm: f64, refit: Refit) -> Option<Self> {
        let errors = Errors::of(law, speed_rpm)?;
        let here = law.fit.weights.solve(&law.discrepancy_here(speed_rpm));
        let shifts = errors.shifts(law, &here);
        let turned = errors.turned(&shifts);
        let refitting = (refit == Refit::Exact)
            .then(|| Refitting::new(law, &here, &turned.readings, turned.there, turned.priors));
        Some(Self {
            shape: law.shape,
            parameters: law.fit.parameters.clone(),
            shifts: turned
                .shifts
                .into_iter()
                .map(|row| Row {
                    rest: Vec::new(),
                    ..row
                })
                .collect(),
            ratio: speed_rpm / law.reference_rpm,
            departure: dot(here.as_slice(), law.fit.residuals.as_slice()),
            normals: errors.count(),
            limits: errors.limits.len(),
            refitting,
        })
    }

    /// Returns how many normal deviates reach the law's numbers to first order.
    pub(super) fn lead(&self) -> usize {
        self.shifts.len()
    }

    /// Returns how many more an exact refit takes.
    pub(super) fn rest(&self) -> usize {
        match self.refitting {
            Some(_) => self.normals - self.shifts.len(),
            None => 0,
        }
    }

    /// Returns how many deviates of limits a draw takes.
    pub(super) fn limits(&self) -> usize {
        self.limits
    }

    /// Carries one draw through.
    pub(super) fn draw(&self, deviates: Deviates<'_>, there: There) -> DrawnLaw {
        let mut drawn = DrawnLaw::default();
        let first_order = Deviates {
            rest: &[],
            ..deviates
        };
        let shifted = self.parameters.iter().zip(&self.shifts);
        for (parameter, (fitted, shift)) in drawn.parameters.iter_mut().zip(shifted) {
            *parameter = fitted + shift.of(first_order);
        }
        let settled = self.refitting.as_ref().and_then(|refitting| {
            refitting.refit(deviates, &mut drawn.parameters[..self.parameters.len()])
        });
        if there == There::NotAsked {
            return drawn;
        }
        let departure = settled.unwrap_or_else(|| {
            let shift = self.shifts.last().map_or(0.0, |row| row.of(first_order));
            self.departure + shift
        });
        drawn.ln_there = self.law(&drawn.parameters) + departure;
        drawn
    }

    fn law(&self, parameters: &[f64; MOST_PARAMETERS]) -> f64 {
        let count = self.parameters.len();
        let mut slope = [0.0; MOST_PARAMETERS];
        self.shape
            .evaluate(self.ratio, &parameters[..count], &mut slope[..count])
    }
}

/// The errors behind a law as sums of independent deviates.
struct Errors {
    /// Root of the covariance of the readings' normal errors and, last, of the departure at the speed asked about.
    root: Matrix,
    /// Parameters with a prior, with the standard deviation of it.
    priors: Vec<(usize, f64)>,
    /// How far each meter's limit moves each reading.
    limits: Vec<Vec<f64>>,
}

/// The rows of a law after the deviates have been turned.
struct Turned {
    shifts: Vec<Row>,
    readings: Vec<Row>,
    there: Row,
    priors: Vec<Row>,
}

impl Errors {
    fn of(law: &FittedLaw, speed_rpm: f64) -> Option<Self> {
        let normal = law.normal_covariance();
        let here = law.discrepancy_here(speed_rpm);
        let n = normal.nrows();
        let covariance = Matrix::from_fn(n + 1, n + 1, |i, j| match (i < n, j < n) {
            (true, true) => normal[(i, j)],
            (true, false) => here[i],
            (false, true) => here[j],
            (false, false) => law.discrepancy_variance(),
        });
        let priors = law.shape.priors().into_iter().enumerate();
        Some(Self {
            root: PositiveFactor::new(covariance).ok()?.lower(),
            priors: priors
                .filter_map(|(j, prior)| Some((j, prior?.sd)))
                .collect(),
            limits: law.rectangular_limits(),
        })
    }

    /// Returns how many normal deviates there are.
    fn count(&self) -> usize {
        self.root.nrows() + self.priors.len()
    }

    /// Writes a sum of readings' errors, of the departure and of priors as a sum of deviates.
    fn row(&self, readings: &[f64], there: f64, priors: &[f64]) -> Row {
        let n = readings.len();
        let of_normal = |k: usize| {
            let column = self.root.column(k);
            let column = column.as_slice();
            dot(readings, column) + there * column.get(n).copied().unwrap_or(0.0)
        };
        let mut rest: Vec<f64> = (0..=n).map(of_normal).collect();
        rest.extend(self.priors.iter().map(|(j, sd)| sd * priors[*j]));
        Row {
            lead: Vec::new(),
            rest,
            limits: self
                .limits
                .iter()
                .map(|moved| dot(readings, moved))
                .collect(),
        }
    }

    /// Writes the shift of each parameter and of the departure at the speed asked about.
    ///
    /// # Equation
    /// Δθ = C (Jᵀ V⁻¹ δ + ε/σ²), and of the departure kᵀ V⁻¹ (δ − J Δθ) − g, where δ are the errors of the readings, ε
    /// those of the priors, and g the departure drawn there.
    fn shifts(&self, law: &FittedLaw, here: &Vector) -> Vec<Row> {
        let fit = &law.fit;
        let (n, p) = (fit.jacobian.nrows(), fit.jacobian.ncols());
        let weighted: Vec<Vector> = (0..p)
            .map(|j| fit.weights.solve(&fit.jacobian.column(j).into_owned()))
            .collect();
        let mut known = vec![0.0; p];
        for (j, sd) in &self.priors {
            known[*j] = 1.0 / (sd * sd);
        }
        let gain = |j: usize| -> (Vec<f64>, Vec<f64>) {
            let mut readings = Vector::zeros(n);
            for (k, weighted) in weighted.iter().enumerate() {
                readings += weighted * fit.covariance[(j, k)];
            }
            let readings = readings.as_slice().to_vec();
            let priors = (0..p).map(|k| fit.covariance[(j, k)] * known[k]).collect();
            (readings, priors)
        };
        let gains: Vec<(Vec<f64>, Vec<f64>)> = (0..p).map(gain).collect();
        let lever: Vec<f64> = (0..p)
            .map(|j| dot(fit.jacobian.column(j).as_slice(), here.as_slice()))
            .collect();
        let taken = |of: &dyn Fn(usize) -> f64| (0..p).map(|j| lever[j] * of(j)).sum::<f64>();
        let readings: Vec<f64> = (0..n)
            .map(|i| here[i] - taken(&|j| gains[j].0[i]))
            .collect();
        let priors: Vec<f64> = (0..p).map(|k| -taken(&|j| gains[j].1[k])).collect();
        let mut rows: Vec<Row> = gains
            .iter()
            .map(|(readings, priors)| self.row(readings, 0.0, priors))
            .collect();
        rows.push(self.row(&readings, -1.0, &priors));
        rows
    }

    /// Turns the deviates so that the shifts depend on the first of them alone.
    fn turned(&self, shifts: &[Row]) -> Turned {
        let (count, lead, n) = (self.count(), shifts.len(), self.root.nrows() - 1);
        let tall = Matrix::from_fn(count, lead, |k, o| shifts[o].rest[k]);
        let turn = |row: &Row| {
            let mut turned = row.rest.clone();
            reduce(&mut tall.clone(), &mut turned);
            let rest = turned.split_off(lead);
            Row {
                lead: turned,
                rest,
                limits: row.limits.clone(),
            }
        };
        let p = lead - 1;
        let unit = |i: usize| {
            let readings: Vec<f64> = (0..n).map(|k| f64::from(u8::from(k == i))).collect();
            turn(&self.row(&readings, f64::from(u8::from(i == n)), &vec![0.0; p]))
        };
        let prior = |parameter: usize| {
            let priors: Vec<f64> = (0..p)
                .map(|k| f64::from(u8::from(k == parameter)))
                .collect();
            turn(&self.row(&vec![0.0; n], 0.0, &priors))
        };
        Turned {
            shifts: shifts.iter().map(turn).collect(),
            readings: (0..n).map(unit).collect(),
            there: unit(n),
            priors: self.priors.iter().map(|(j, _)| prior(*j)).collect(),
        }
    }
}

/// Returns the ratios of speed at the readings of a law.
pub(super) fn ratios(law: &FittedLaw) -> Vec<f64> {
    let reference = ln(law.reference_rpm);
    law.ln_speeds.iter().map(|x| exp(x - reference)).collect()
}
