//! The exact refit of a drawn set of readings.

use super::law::{Deviates, MOST_PARAMETERS, Row, ratios};
use crate::laws::{FittedLaw, Shape};
use metrology::{Curve, Prior, WeightedObservations, Weights, fit_weighted};
use numerics::linear::{Matrix, Vector, dot};

/// A step this small, in standard uncertainties of the parameter, ends the search: far below the scatter of any number
/// of draws that can be made.
const CLOSE: f64 = 1e-4;
/// Steps before the damped search takes over.
const MOST_STEPS: usize = 30;

/// What refitting a drawn set of readings takes.
#[derive(Clone, Debug)]
pub(super) struct Refitting {
    shape: Shape,
    ratios: Vec<f64>,
    /// The values as read, in the logarithm.
    values: Vec<f64>,
    /// What each deviate adds to the error of each reading.
    errors: Vec<Vec<f64>>,
    /// The departure drawn at the speed asked about.
    there: Row,
    /// What the departure at that speed takes from each reading's.
    here: Vec<f64>,
    priors: Vec<DrawnPrior>,
    weights: Weights,
    precision: Matrix,
    covariance: Matrix,
    close: Vec<f64>,
}

/// A prior whose mean is drawn.
#[derive(Clone, Debug)]
struct DrawnPrior {
    parameter: usize,
    prior: Prior,
    error: Row,
}

impl Refitting {
    pub(super) fn new(
        law: &FittedLaw,
        here: &Vector,
        errors: &[Row],
        there: Row,
        priors: Vec<Row>,
    ) -> Self {
        let fit = &law.fit;
        let ratios = ratios(law);
        let mut slope = vec![0.0; fit.parameters.len()];
        let fitted = |ratio: &f64| law.shape.evaluate(*ratio, &fit.parameters, &mut slope);
        let values = ratios.iter().map(fitted).zip(fit.residuals.iter());
        let known = law.shape.priors().into_iter().enumerate();
        let known = known.filter_map(|(parameter, prior)| Some((parameter, prior?)));
        Self {
            shape: law.shape,
            values: values.map(|(fitted, residual)| fitted + residual).collect(),
            ratios,
            errors: by_deviate(errors),
            there,
            here: here.as_slice().to_vec(),
            priors: known
                .zip(priors)
                .map(|((parameter, prior), error)| DrawnPrior {
                    parameter,
                    prior,
                    error,
                })
                .collect(),
            precision: fit.weights.inverse(),
            weights: fit.weights.clone(),
            close: fit
                .standard_uncertainties()
                .iter()
                .map(|u| CLOSE * u)
                .collect(),
            covariance: fit.covariance.clone(),
        }
    }

    /// Refits to a draw from the parameters of first order.
    ///
    /// # Returns
    /// The departure at the speed asked about; `None`, and the parameters as they were, where no fit settles.
    pub(super) fn refit(&self, deviates: Deviates<'_>, parameters: &mut [f64]) -> Option<f64> {
        let mut values = self.values.clone();
        for (deviate, errors) in deviates.all().zip(&self.errors) {
            for (value, error) in values.iter_mut().zip(errors) {
                *value += deviate * error;
            }
        }
        let mut means = [0.0; MOST_PARAMETERS];
        for known in &self.priors {
            means[known.parameter] = known.prior.mean + known.error.of(deviates);
        }
        let mut work = Work::new(values.len());
        let mut found = [0.0; MOST_PARAMETERS];
        let found = &mut found[..parameters.len()];
        found.copy_from_slice(parameters);
        if !self.descend(&values, &means, found, &mut work) {
            self.search(&values, &means, found)?;
        }
        parameters.copy_from_slice(found);
        self.compare(&values, found, &mut work);
        Some(dot(&self.here, &work.residuals) - self.there.of(deviates))
    }

    /// Goes to the minimum by steps with the curvature of the undrawn fit; says whether it got there.
    fn descend(
        &self,
        values: &[f64],
        means: &[f64; MOST_PARAMETERS],
        parameters: &mut [f64],
        work: &mut Work,
    ) -> bool {
        for _ in 0..MOST_STEPS {
            self.compare(values, parameters, work);
            let pull = self.pull(work, parameters, means);
            let mut is_close = true;
            for (j, parameter) in parameters.iter_mut().enumerate() {
                let step = dot(&pull, self.covariance.column(j).as_slice());
                *parameter += step;
                // Written so that a step that is no number is not close.
                is_close &= step.abs() <= self.close[j];
            }
            if is_close {
                return true;
            }
            if parameters.iter().any(|x| !x.is_finite()) {
                return false;
            }
        }
        false
    }

    /// Computes Jᵀ V⁻¹ r and what the priors add.
    fn pull(
        &self,
        work: &mut Work,
        parameters: &[f64],
        means: &[f64; MOST_PARAMETERS],
    ) -> [f64; MOST_PARAMETERS] {
        work.weighted.fill(0.0);
        // Column by column: sums that do not wait for one another.
        let columns = self.precision.column_iter().zip(&work.residuals);
        for (column, residual) in columns {
            for (sum, precision) in work.weighted.iter_mut().zip(column.iter()) {
                *sum += precision * residual;
            }
        }
        let mut pull = [0.0; MOST_PARAMETERS];
        for (slopes, weighted) in work.slopes.iter().zip(&work.weighted) {
            for (sum, slope) in pull.iter_mut().zip(slopes) {
                *sum += slope * weighted;
            }
        }
        for known in &self.priors {
            let (j, sd) = (known.parameter, known.prior.sd);
            pull[j] += (means[j] - parameters[j]) / (sd * sd);
        }
        pull
    }

    fn compare(&self, values: &[f64], parameters: &[f64], work: &mut Work) {
        let count = parameters.len();
        let readings = self.ratios.iter().zip(values);
        let places = work.residuals.iter_mut().zip(&mut work.slopes);
        for ((ratio, value), (residual, slope)) in readings.zip(places) {
            *residual = value - self.shape.evaluate(*ratio, parameters, &mut slope[..count]);
        }
    }

    /// Searches as the undrawn fit did, with damping.
    fn search(
        &self,
        values: &[f64],
        means: &[f64; MOST_PARAMETERS],
        parameters: &mut [f64],
    ) -> Option<()> {
        let observations = WeightedObservations {
            x: &self.ratios,
            y: values,
            weights: self.weights.clone(),
        };
        let mut priors = vec![None; parameters.len()];
        for known in &self.priors {
            let j = known.parameter;
            priors[j] = Some(Prior {
                mean: means[j],
                ..known.prior
            });
        }
        let start = self.shape.start(&self.ratios, values);
        let fit = fit_weighted(&self.shape, observations, &start, &priors).ok()?;
        parameters.copy_from_slice(&fit.parameters);
        Some(())
    }
}

/// Turns rows over: one list per deviate, one number per row.
fn by_deviate(rows: &[Row]) -> Vec<Vec<f64>> {
    let rows: Vec<Vec<f64>> = rows.iter().map(Row::factors).collect();
    let count = rows.first().map_or(0, Vec::len);
    let of_deviate = |k: usize| rows.iter().map(|row| row[k]).collect();
    (0..count).map(of_deviate).collect()
}

/// Places for one comparison of readings and law.
struct Work {
    residuals: Vec<f64>,
    /// V⁻¹ times the residuals.
    weighted: Vec<f64>,
    slopes: Vec<[f64; MOST_PARAMETERS]>,
}

impl Work {
    fn new(readings: usize) -> Self {
        Self {
            residuals: vec![0.0; readings],
            weighted: vec![0.0; readings],
            slopes: vec![[0.0; MOST_PARAMETERS]; readings],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::monte_carlo::Refit;
    use crate::monte_carlo::law::{LawDraws, There};
    use crate::simulation::random_test;
    use crate::{Laws, analyze};
    use numerics::random::Draws;
    use records::read_pad;

    fn laws(seed: u64) -> Laws {
        let made = random_test(seed).unwrap().test;
        let (site, tests) = read_pad(&made.site(), &[made.files()]).unwrap();
        analyze(&site, &tests).tests.remove(0).laws
    }

    #[test]
    fn a_refit_finds_the_minimum_that_the_damped_search_finds() {
        let (mut settled, mut all) = (0, 0);
        for seed in 0..20 {
            let laws = laws(seed);
            let flow = laws.flow.as_ref().map(|law| &law.law);
            let power = laws.power.as_ref().map(|law| &law.law);
            for law in flow.into_iter().chain(power) {
                let prepared = LawDraws::new(law, 1500.0, Refit::Exact).unwrap();
                let refitting = prepared.refitting.as_ref().unwrap();
                let mut draw = Draws::new(seed).at(0);
                let drawn = refitting.values.iter().map(|y| y + 0.02 * draw.normal());
                let values: Vec<f64> = drawn.collect();
                let means = [2.7, 0.01, 2.7];
                let start = &law.fit().parameters;
                let (mut one, mut other) = (start.clone(), start.clone());
                let mut work = Work::new(values.len());
                all += 1;
                if !refitting.descend(&values, &means, &mut one, &mut work) {
                    continue;
                }
                settled += 1;
                refitting.search(&values, &means, &mut other).unwrap();
                for ((a, b), close) in one.iter().zip(&other).zip(&refitting.close) {
                    // Each ends within some of its last steps.
                    assert!((a - b).abs() < 10.0 * close, "{seed}: {one:?} {other:?}");
                }
            }
        }
        // The damped search is for the few.
        assert!(
            all >= 30 && settled >= all - 2,
            "{settled} of {all} settled"
        );
    }

    #[test]
    fn readings_that_were_not_drawn_give_the_fit_that_was_made() {
        let laws = laws(1);
        let law = &laws.power.unwrap().law;
        let draws = LawDraws::new(law, 1500.0, Refit::Exact).unwrap();
        let none = vec![0.0; draws.lead().max(draws.rest()).max(draws.limits())];
        let deviates = Deviates {
            lead: &none[..draws.lead()],
            rest: &none[..draws.rest()],
            limits: &none[..draws.limits()],
        };
        let drawn = draws.draw(deviates, There::Asked);
        for (j, fitted) in law.fit().parameters.iter().enumerate() {
            let u = law.fit().covariance[(j, j)].sqrt();
            assert!((drawn.parameters[j] - fitted).abs() < 10.0 * CLOSE * u);
        }
        // Two ways to the same prediction, one by steps that end within `CLOSE`.
        assert!((drawn.ln_there - law.predict_ln(1500.0).ln_value).abs() < 1e-5);
    }
}
