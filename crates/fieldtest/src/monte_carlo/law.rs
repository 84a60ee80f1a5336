//! The draws of one law: what the errors behind it make of its numbers.

use super::Refit;
use super::chunk::{CHUNK, Column, Deviates};
use super::errors::{Errors, Row};
use super::form;
use super::refit::Refitting;
use crate::laws::{FittedLaw, Shape};
use numerics::linear::dot;

/// The most parameters that a law has.
pub(super) const MOST_PARAMETERS: usize = 3;

/// What a chunk of draws says of a law.
#[derive(Clone, Debug)]
pub(super) struct DrawnLaw {
    /// The parameters, in the order of the fit; zeros beyond them.
    pub(super) parameters: [Column; MOST_PARAMETERS],
    /// The logarithm of the quantity at the speed that is asked about; zeros where none is.
    pub(super) ln_there: Column,
    /// The draws for which no exact refit was found: they have the numbers of first order.
    pub(super) unsettled: [bool; CHUNK],
}

impl Default for DrawnLaw {
    fn default() -> Self {
        Self {
            parameters: [[0.0; CHUNK]; MOST_PARAMETERS],
            ln_there: [0.0; CHUNK],
            unsettled: [false; CHUNK],
        }
    }
}

/// Whether the quantity at a speed is asked for, beside the parameters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum There {
    /// It is.
    Asked,
    /// It is not.
    NotAsked,
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
        let refitting = (refit == Refit::Exact).then(|| Refitting::new(law, &here, &turned));
        Some(Self {
            shape: law.shape,
            parameters: law.fit.parameters.clone(),
            shifts: turned.shifts,
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

    /// Carries a chunk of draws through.
    pub(super) fn draw(&self, deviates: Deviates<'_>, there: There) -> DrawnLaw {
        let mut drawn = DrawnLaw::default();
        let first_order = Deviates {
            rest: &[],
            ..deviates
        };
        let fitted = self.parameters.iter().chain([&self.departure]);
        let mut shifted = fitted
            .zip(&self.shifts)
            .map(|(fitted, shift)| shift.from(*fitted, first_order));
        let parameters = &mut drawn.parameters[..self.parameters.len()];
        for (parameter, shifted) in parameters.iter_mut().zip(&mut shifted) {
            *parameter = shifted;
        }
        let mut departure = shifted.next().unwrap_or([0.0; CHUNK]);
        if let Some(refitting) = &self.refitting {
            drawn.unsettled = refitting.refit(deviates, parameters, &mut departure);
        }
        if there == There::Asked {
            drawn.ln_there = form::values(self.shape, self.ratio, &drawn.parameters);
            for (value, departure) in drawn.ln_there.iter_mut().zip(&departure) {
                *value += departure;
            }
        }
        drawn
    }
}
