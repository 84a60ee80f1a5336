//! The search for the least squares of many drawn sets of readings, a strip of them side by side.
//!
//! A draw that has arrived stays where it is while its neighbours go on, so that its numbers depend on no neighbour.

#![expect(
    clippy::inline_always,
    reason = "a kernel takes on the instructions of the loop that it is called from"
)]

use super::chunk::{CHUNK, Column};
use super::form::Form;
use super::refit::Refitting;
use numerics::vector::Task;

/// Draws that go side by side: as few as still fill the widest registers, for all wait for the slowest.
const STRIP: usize = 16;
/// Steps before a draw is given up.
const MOST_STEPS: usize = 30;

/// One number of each draw of a strip.
type Strip = [f64; STRIP];

/// The descent of a chunk of draws, from the parameters given.
pub(super) struct Descent<'a, F, const P: usize> {
    pub(super) form: F,
    pub(super) refitting: &'a Refitting,
    /// All deviates.
    pub(super) deviates: &'a [&'a Column],
    pub(super) parameters: [&'a mut Column; P],
    /// The departure at the speed asked about.
    pub(super) departure: &'a mut Column,
}

impl<F: Form<P>, const P: usize> Task for Descent<'_, F, P> {
    /// The draws that did not arrive; their parameters and departure are left as they were.
    type Output = [bool; CHUNK];

    #[inline(always)]
    fn run(mut self) -> [bool; CHUNK] {
        let Self {
            form, refitting, ..
        } = self;
        let mut lost = [false; CHUNK];
        let mut work = Work::<P>::new(refitting.values.len());
        for from in (0..CHUNK).step_by(STRIP) {
            work.draw(refitting, self.deviates, from);
            for (own, column) in work.parameters.iter_mut().zip(&self.parameters) {
                own.copy_from_slice(&column[from..from + STRIP]);
            }
            let arrived = work.descend(form, refitting);
            let here = work.departure(form, refitting);
            for (lane, at) in (from..from + STRIP).enumerate() {
                // The last step may have left the domain of the law.
                lost[at] = !(arrived[lane] && here[lane].is_finite());
                if !lost[at] {
                    self.departure[at] = here[lane];
                    for (own, column) in work.parameters.iter().zip(&mut self.parameters) {
                        column[at] = own[lane];
                    }
                }
            }
        }
        lost
    }
}

/// The numbers of a strip.
struct Work<const P: usize> {
    /// The drawn readings, in the logarithm.
    values: Vec<Strip>,
    /// The drawn means of the priors.
    means: [Strip; P],
    /// The departure drawn at the speed asked about.
    there: Strip,
    parameters: [Strip; P],
    residuals: Vec<Strip>,
    slopes: Vec<[Strip; P]>,
}

impl<const P: usize> Work<P> {
    fn new(readings: usize) -> Self {
        let none = [0.0; STRIP];
        Self {
            values: vec![none; readings],
            means: [none; P],
            there: none,
            parameters: [none; P],
            residuals: vec![none; readings],
            slopes: vec![[none; P]; readings],
        }
    }

    /// Draws what is fitted to.
    #[inline(always)]
    fn draw(&mut self, refitting: &Refitting, deviates: &[&Column], from: usize) {
        let readings = refitting.values.iter().zip(&refitting.errors);
        for (drawn, (value, errors)) in self.values.iter_mut().zip(readings) {
            *drawn = sum(*value, errors, deviates, from);
        }
        for known in &refitting.priors {
            self.means[known.parameter] = sum(known.mean, &known.errors, deviates, from);
        }
        self.there = sum(0.0, &refitting.there, deviates, from);
    }

    /// Goes to the minimum by steps with the curvature of the undrawn fit; says which draws got there.
    #[inline(always)]
    fn descend(&mut self, form: impl Form<P>, refitting: &Refitting) -> [bool; STRIP] {
        let (mut arrived, mut lost) = ([false; STRIP], [false; STRIP]);
        for _ in 0..MOST_STEPS {
            self.compare(form, refitting);
            let pull = self.pull(refitting);
            let mut close = [true; STRIP];
            for (j, parameter) in self.parameters.iter_mut().enumerate() {
                let mut step = [0.0; STRIP];
                for (gain, pull) in refitting.covariance.column(j).iter().zip(&pull) {
                    add(&mut step, *gain, pull);
                }
                for lane in 0..STRIP {
                    let moved = parameter[lane] + step[lane];
                    parameter[lane] = if arrived[lane] {
                        parameter[lane]
                    } else {
                        moved
                    };
                    // Written so that a step that is no number is not close.
                    close[lane] &= step[lane].abs() <= refitting.close[j];
                    lost[lane] |= !moved.is_finite();
                }
            }
            for lane in 0..STRIP {
                arrived[lane] |= close[lane];
            }
            if (0..STRIP).all(|lane| arrived[lane] || lost[lane]) {
                break;
            }
        }
        arrived
    }

    /// Computes Jᵀ V⁻¹ r and what the priors add.
    #[inline(always)]
    fn pull(&self, refitting: &Refitting) -> [Strip; P] {
        let mut pull = [[0.0; STRIP]; P];
        for (i, slopes) in self.slopes.iter().enumerate() {
            let mut weighted = [0.0; STRIP];
            let row = refitting.precision.column(i); // it is symmetric
            for (precision, residual) in row.iter().zip(&self.residuals) {
                add(&mut weighted, *precision, residual);
            }
            for (pull, slope) in pull.iter_mut().zip(slopes) {
                for (pull, (slope, weighted)) in pull.iter_mut().zip(slope.iter().zip(&weighted)) {
                    *pull += slope * weighted;
                }
            }
        }
        for known in &refitting.priors {
            let j = known.parameter;
            let apart = self.means[j].iter().zip(&self.parameters[j]);
            for (pull, (mean, parameter)) in pull[j].iter_mut().zip(apart) {
                *pull += (mean - parameter) * known.precision;
            }
        }
        pull
    }

    /// Computes how far the readings are from the law, and its slopes.
    #[inline(always)]
    fn compare(&mut self, form: impl Form<P>, refitting: &Refitting) {
        let readings = refitting.places.iter().zip(&self.values);
        let places = self.residuals.iter_mut().zip(&mut self.slopes);
        for ((place, values), (residuals, slopes)) in readings.zip(places) {
            for lane in 0..STRIP {
                let parameters = self.parameters.each_ref().map(|own| own[lane]);
                let (value, slope) = form.evaluate(*place, parameters);
                residuals[lane] = values[lane] - value;
                for (slopes, slope) in slopes.iter_mut().zip(slope) {
                    slopes[lane] = slope;
                }
            }
        }
    }

    /// Computes the departure at the speed asked about.
    #[inline(always)]
    fn departure(&mut self, form: impl Form<P>, refitting: &Refitting) -> Strip {
        self.compare(form, refitting);
        let mut departure = self.there.map(|there| -there);
        for (here, residuals) in refitting.here.iter().zip(&self.residuals) {
            add(&mut departure, *here, residuals);
        }
        departure
    }
}

/// Adds the sum of deviates that each draw gives to a number.
#[inline(always)]
fn sum(number: f64, factors: &[f64], deviates: &[&Column], from: usize) -> Strip {
    let mut sums = [number; STRIP];
    for (factor, column) in factors.iter().zip(deviates) {
        for (sum, deviate) in sums.iter_mut().zip(&column[from..from + STRIP]) {
            *sum += factor * deviate;
        }
    }
    sums
}

/// Adds a multiple of some numbers to others.
#[inline(always)]
fn add(sums: &mut Strip, factor: f64, numbers: &Strip) {
    for (sum, number) in sums.iter_mut().zip(numbers) {
        *sum += factor * number;
    }
}
