//! The search for the least sum of squares: what the plain, the robust and the orthogonal fit have in common.
//!
//! A step solves the linearised problem by reflections rather than by normal equations, so that parameters which the
//! data barely tell apart keep half of their digits instead of none.

use numerics::householder::{inverse_of_square, least_own_length, reduce, solve_upper};
use numerics::linear::{Matrix, NotPositiveDefinite, dot};

use crate::regression::FitError;

/// The most steps of a fit; a sound one needs about six, a bent valley from afar some hundred.
const MAX_STEPS: u32 = 1000;
/// A sum of squares, in units of the stated uncertainties, that no reading could tell from none: data that lie on the curve
/// to the last digit typed leave so little, and rounding, not the curve, then decides where each step goes.
const NEGLIGIBLE: f64 = 1e-9;
/// How far from the least a parameter may stay, in its standard uncertainties, where nothing else is asked for.
pub(crate) const CLOSE_U: f64 = 1e-6;
/// The length of a column that is its own, below which rounding alone keeps it apart from the others; exact dependence leaves about 1e-16.
const LEAST_OWN_LENGTH: f64 = 1e-12;

/// A sum of squares to be made least.
pub(crate) trait LeastSquares {
    /// Returns how many rows a linearisation has.
    fn rows(&self) -> usize;

    /// Linearises at `parameters`: residuals r in units of their uncertainty, and J with r(θ + δ) ≈ r − J δ.
    ///
    /// Returns the sum of squares itself, which is not a number outside the domain.
    fn linearize(&mut self, parameters: &[f64], system: &mut System) -> f64;

    /// Returns how far from the least a parameter may stay, in its standard uncertainties.
    fn close_u(&self) -> f64 {
        CLOSE_U
    }
}

/// One linearisation; after [`System::reduce`], its upper triangle.
#[derive(Clone, Debug)]
pub(crate) struct System {
    /// J.
    pub(crate) slopes: Matrix,
    /// r.
    pub(crate) residuals: Vec<f64>,
}

impl System {
    pub(crate) fn new(rows: usize, columns: usize) -> Self {
        // A triangle needs as many rows as columns; rows that nobody fills are zero.
        let rows = rows.max(columns);
        Self {
            slopes: Matrix::zeros(rows, columns),
            residuals: vec![0.0; rows],
        }
    }

    fn reduce(&mut self) {
        reduce(&mut self.slopes, &mut self.residuals);
    }

    /// Returns by how much a full step would lower the linearised sum of squares.
    fn reach(&self) -> f64 {
        let p = self.slopes.ncols();
        dot(&self.residuals[..p], &self.residuals[..p])
    }

    /// Returns how much of that reach is left over after `step`.
    fn left_after(&self, step: &[f64]) -> f64 {
        let left = |i: usize| self.residuals[i] - self.moved(i, step);
        (0..step.len()).map(|i| left(i) * left(i)).sum()
    }

    /// Returns the square of how far `step` moves, in standard uncertainties.
    fn moved_by(&self, step: &[f64]) -> f64 {
        let moved = |i: usize| self.moved(i, step);
        (0..step.len()).map(|i| moved(i) * moved(i)).sum()
    }

    /// Returns what `step` takes off a residual.
    fn moved(&self, i: usize, step: &[f64]) -> f64 {
        (i..step.len()).map(|j| self.slopes[(i, j)] * step[j]).sum()
    }

    fn length_of_column(&self, j: usize) -> f64 {
        let square: f64 = (0..=j)
            .map(|i| self.slopes[(i, j)] * self.slopes[(i, j)])
            .sum();
        square.sqrt()
    }
}

/// Where the search ended.
pub(crate) struct Minimum {
    pub(crate) parameters: Vec<f64>,
    /// The triangle R of the slopes at the minimum.
    pub(crate) triangle: Matrix,
    pub(crate) sum_of_squares: f64,
}

impl Minimum {
    /// Computes the covariance of the parameters.
    pub(crate) fn covariance(&self) -> Result<Matrix, FitError> {
        covariance_of(&self.triangle)
    }
}

/// Computes the covariance that belongs to a triangle; an element beyond the largest number is as bad as a singular matrix.
pub(crate) fn covariance_of(triangle: &Matrix) -> Result<Matrix, FitError> {
    let covariance = inverse_of_square(triangle);
    let order = covariance.nrows();
    let finite = covariance.iter().all(|x| x.is_finite());
    finite
        .then_some(covariance)
        .ok_or_else(|| NotPositiveDefinite { order }.into())
}

/// Searches for the parameters with the least sum of squares.
///
/// # Source
/// D. Marquardt, "An algorithm for least-squares estimation of nonlinear parameters", J. SIAM 11 (1963) 431-441; the
/// step by reflections and the scale of each parameter after J. Moré, "The Levenberg-Marquardt algorithm: implementation
/// and theory", Lecture Notes in Mathematics 630 (1978) 105-116; the damping after H. B. Nielsen, "Damping parameter in
/// Marquardt's method", IMM-REP-1999-05; the end of the search after D. Bates, D. Watts, "A relative offset orthogonality
/// convergence criterion for nonlinear least squares", Technometrics 23 (1981) 179-183.
pub(crate) fn minimize(
    problem: &mut impl LeastSquares,
    start: &[f64],
) -> Result<Minimum, FitError> {
    let mut search = Search::new(problem, start)?;
    for _ in 0..MAX_STEPS {
        if search.is_settled() || search.is_at_a_bend {
            search.polish(problem);
            return search.into_minimum();
        }
        if !search.step(problem) {
            break;
        }
    }
    Err(FitError::NotConverged {
        iterations: MAX_STEPS,
    })
}

/// The state of a search, with room for the next trial so that a step allocates nothing.
struct Search {
    here: Point,
    trial: Point,
    damped: System,
    step: Vec<f64>,
    /// The longest column met so far of each parameter: what a step in it is measured by.
    scales: Vec<f64>,
    damping: Damping,
    /// Whether even a step as short as a parameter may stay from the least led nowhere better: where a law bends, the least may
    /// lie in the bend, and the slopes on either side point past it.
    is_at_a_bend: bool,
    /// Whether that ends the search: a fit that is asked for its last digits says rather that it did not get there.
    may_bend: bool,
    /// A sum of squares that a full step could lower by no more than this, or by this share of a sum below 1, is the least.
    settled: f64,
}

/// One set of parameters, reduced.
struct Point {
    parameters: Vec<f64>,
    system: System,
    sum_of_squares: f64,
}

impl Point {
    fn evaluate(&mut self, problem: &mut impl LeastSquares) -> bool {
        self.sum_of_squares = problem.linearize(&self.parameters, &mut self.system);
        let sound = |system: &System| system.slopes.iter().all(|x| x.is_finite());
        let finite = self.sum_of_squares.is_finite() && sound(&self.system);
        if finite {
            self.system.reduce();
        }
        finite
    }
}

impl Search {
    fn new(problem: &mut impl LeastSquares, start: &[f64]) -> Result<Self, FitError> {
        let p = start.len();
        let mut here = Point {
            parameters: start.to_vec(),
            system: System::new(problem.rows(), p),
            sum_of_squares: f64::NAN,
        };
        if !here.evaluate(problem) {
            return Err(FitError::BadStart);
        }
        let mut search = Self {
            trial: Point {
                parameters: start.to_vec(),
                system: here.system.clone(),
                sum_of_squares: f64::NAN,
            },
            here,
            damped: System::new(2 * p, p),
            step: vec![0.0; p],
            scales: vec![0.0; p],
            damping: Damping::default(),
            is_at_a_bend: false,
            may_bend: problem.close_u() > CLOSE_U,
            settled: problem.close_u() * problem.close_u(),
        };
        search.rescale();
        Ok(search)
    }

    fn rescale(&mut self) {
        for (j, scale) in self.scales.iter_mut().enumerate() {
            *scale = scale.max(self.here.system.length_of_column(j));
        }
    }

    fn is_settled(&self) -> bool {
        let sum = self.here.sum_of_squares;
        let floor = self.settled * sum.min(1.0) + f64::EPSILON * sum + self.rounding();
        let reach = self.here.system.reach();
        reach <= floor || (sum <= NEGLIGIBLE && reach <= 1e-3 * NEGLIGIBLE)
    }

    /// Returns the sum of squares that rounding of the curve alone leaves: what a datum that the curve meets exactly ends with.
    fn rounding(&self) -> f64 {
        let terms = self.scales.iter().zip(&self.here.parameters);
        let size: f64 = terms
            .map(|(scale, parameter)| scale * parameter.abs())
            .sum();
        let error = 2.0 * f64::EPSILON * size;
        error * error
    }

    /// Tries one damped step; false when damping has run off.
    fn step(&mut self, problem: &mut impl LeastSquares) -> bool {
        self.damped_step();
        let promised = self.here.system.reach() - self.here.system.left_after(&self.step);
        if self.evaluate_trial(problem) && self.trial.sum_of_squares <= self.here.sum_of_squares {
            let gained = self.here.sum_of_squares - self.trial.sum_of_squares;
            self.damping.accept(gained / promised);
            std::mem::swap(&mut self.here, &mut self.trial);
            self.rescale();
            true
        } else {
            self.is_at_a_bend = self.may_bend
                && self.trial.sum_of_squares.is_finite()
                && self.here.system.moved_by(&self.step) <= self.settled;
            self.damping.refuse()
        }
    }

    fn evaluate_trial(&mut self, problem: &mut impl LeastSquares) -> bool {
        let moved = self.here.parameters.iter().zip(&self.step);
        for (to, (from, change)) in self.trial.parameters.iter_mut().zip(moved) {
            *to = from + change;
        }
        self.trial.evaluate(problem)
    }

    /// Solves min ‖q − R δ‖² + λ ‖D δ‖² for the step δ.
    fn damped_step(&mut self) {
        let p = self.step.len();
        let root = self.damping.share.sqrt();
        self.damped.slopes.fill(0.0);
        self.damped.residuals.fill(0.0);
        for j in 0..p {
            for i in 0..=j {
                self.damped.slopes[(i, j)] = self.here.system.slopes[(i, j)];
            }
            self.damped.slopes[(p + j, j)] = root * self.scales[j];
            self.damped.residuals[j] = self.here.system.residuals[j];
        }
        self.damped.reduce();
        solve_upper(&self.damped.slopes, &mut self.damped.residuals);
        self.step.copy_from_slice(&self.damped.residuals[..p]);
    }

    /// Takes the undamped step that is left near the minimum, where it leads nowhere worse.
    fn polish(&mut self, problem: &mut impl LeastSquares) {
        let p = self.step.len();
        self.step.copy_from_slice(&self.here.system.residuals[..p]);
        solve_upper(&self.here.system.slopes, &mut self.step);
        let worst = self.here.sum_of_squares * (1.0 + self.settled);
        if self.evaluate_trial(problem) && self.trial.sum_of_squares <= worst {
            std::mem::swap(&mut self.here, &mut self.trial);
        }
    }

    fn into_minimum(self) -> Result<Minimum, FitError> {
        let Point {
            parameters,
            system,
            sum_of_squares,
        } = self.here;
        if least_own_length(&system.slopes) < LEAST_OWN_LENGTH {
            let order = parameters.len();
            return Err(NotPositiveDefinite { order }.into());
        }
        Ok(Minimum {
            parameters,
            triangle: system.slopes,
            sum_of_squares,
        })
    }
}

/// How strongly a step is held back, and how that moves with the success of the steps.
struct Damping {
    share: f64,
    raise: f64,
}

impl Default for Damping {
    fn default() -> Self {
        Self {
            share: 1e-3,
            raise: 2.0,
        }
    }
}

impl Damping {
    /// Lowers or raises the share after a step that gained `gain` of what it promised.
    fn accept(&mut self, gain: f64) {
        let excess = 2.0 * gain - 1.0;
        self.share *= (1.0 - excess * excess * excess).clamp(0.1, 2.0);
        self.raise = 2.0;
    }

    /// Raises the share after a step that made it worse; false when it has run off.
    fn refuse(&mut self) -> bool {
        self.share *= self.raise;
        self.raise *= 2.0;
        self.share.is_finite()
    }
}
