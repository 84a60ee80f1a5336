//! The exact refit of drawn sets of readings.

use super::chunk::{CHUNK, Column, Deviates};
use super::descent::Descent;
use super::errors::{Row, Turned};
use super::form::{Flow, Form, Power};
use crate::laws::{FittedLaw, Shape};
use metrology::{Curve, Prior, WeightedObservations, Weights, fit_weighted};
use numerics::elementary::{exp, ln};
use numerics::linear::{Matrix, Vector, dot};
use numerics::vector::Instructions;

/// A step this small, in standard uncertainties of the parameter, ends the search: far below the scatter of any number
/// of draws that can be made.
const CLOSE: f64 = 1e-4;

/// What refitting a drawn set of readings takes.
#[derive(Clone, Debug)]
pub(super) struct Refitting {
    shape: Shape,
    ratios: Vec<f64>,
    /// What the law takes of each ratio.
    pub(super) places: Vec<f64>,
    /// The values as read, in the logarithm.
    pub(super) values: Vec<f64>,
    /// What the deviates add to each reading.
    pub(super) errors: Vec<Vec<f64>>,
    /// What they make of the departure at the speed asked about.
    pub(super) there: Vec<f64>,
    /// What the departure at that speed takes from each reading's.
    pub(super) here: Vec<f64>,
    pub(super) priors: Vec<DrawnPrior>,
    weights: Weights,
    pub(super) precision: Matrix,
    pub(super) covariance: Matrix,
    /// The step of each parameter that is small enough.
    pub(super) close: Vec<f64>,
}

/// A prior whose mean is drawn.
#[derive(Clone, Debug)]
pub(super) struct DrawnPrior {
    pub(super) parameter: usize,
    pub(super) mean: f64,
    /// What the deviates add to the mean.
    pub(super) errors: Vec<f64>,
    sd: f64,
    /// 1/sd².
    pub(super) precision: f64,
}

impl Refitting {
    pub(super) fn new(law: &FittedLaw, here: &Vector, errors: &Turned) -> Self {
        let fit = &law.fit;
        let ratios = ratios(law);
        let mut slope = vec![0.0; fit.parameters.len()];
        let fitted = |ratio: &f64| law.shape.evaluate(*ratio, &fit.parameters, &mut slope);
        let values = ratios.iter().map(fitted).zip(fit.residuals.iter());
        let place = |ratio: &f64| match law.shape {
            Shape::Flow => Flow.place(*ratio),
            Shape::Power | Shape::Current => Power.place(*ratio),
        };
        Self {
            shape: law.shape,
            values: values.map(|(fitted, residual)| fitted + residual).collect(),
            places: ratios.iter().map(place).collect(),
            ratios,
            errors: errors.readings.iter().map(Row::factors).collect(),
            there: errors.there.factors(),
            here: here.as_slice().to_vec(),
            priors: drawn_priors(law.shape, &errors.priors),
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

    /// Refits to each draw from the parameters of first order, and writes the departure at the speed asked about.
    ///
    /// # Returns
    /// The draws where no fit settles: they keep the parameters and the departure that they came with.
    pub(super) fn refit(
        &self,
        deviates: Deviates<'_>,
        parameters: &mut [Column],
        departure: &mut Column,
    ) -> [bool; CHUNK] {
        let deviates: Vec<&Column> = deviates.all().collect();
        let mut unsettled = self.descend(&deviates, parameters, departure);
        for (draw, unsettled) in unsettled.iter_mut().enumerate().filter(|(_, lost)| **lost) {
            let deviates: Vec<f64> = deviates.iter().map(|column| column[draw]).collect();
            if let Some((found, there)) = self.search(&deviates) {
                *unsettled = false;
                departure[draw] = there;
                for (column, found) in parameters.iter_mut().zip(found) {
                    column[draw] = found;
                }
            }
        }
        unsettled
    }

    fn descend(
        &self,
        deviates: &[&Column],
        parameters: &mut [Column],
        departure: &mut Column,
    ) -> [bool; CHUNK] {
        match (self.shape, parameters) {
            (Shape::Flow, [a, b]) => Instructions::Detected.run(Descent {
                form: Flow,
                refitting: self,
                deviates,
                parameters: [a, b],
                departure,
            }),
            (Shape::Power | Shape::Current, [a, b, c]) => Instructions::Detected.run(Descent {
                form: Power,
                refitting: self,
                deviates,
                parameters: [a, b, c],
                departure,
            }),
            _ => [true; CHUNK],
        }
    }

    /// Searches one draw as the undrawn fit did, with damping; gives the parameters and the departure.
    fn search(&self, deviates: &[f64]) -> Option<(Vec<f64>, f64)> {
        let drawn = self.values.iter().zip(&self.errors);
        let values: Vec<f64> = drawn
            .map(|(value, errors)| value + dot(errors, deviates))
            .collect();
        let mut priors = vec![None; self.close.len()];
        for known in &self.priors {
            priors[known.parameter] = Some(Prior {
                mean: known.mean + dot(&known.errors, deviates),
                sd: known.sd,
            });
        }
        let observations = WeightedObservations {
            x: &self.ratios,
            y: &values,
            weights: self.weights.clone(),
        };
        let start = self.shape.start(&self.ratios, &values);
        let fit = fit_weighted(&self.shape, observations, &start, &priors).ok()?;
        let departure = dot(&self.here, fit.residuals.as_slice()) - dot(&self.there, deviates);
        Some((fit.parameters, departure))
    }
}

/// Joins what is known of the parameters with the errors of it, in the same order.
fn drawn_priors(shape: Shape, errors: &[Row]) -> Vec<DrawnPrior> {
    let known = shape.priors().into_iter().enumerate();
    let known = known.filter_map(|(parameter, prior)| Some((parameter, prior?)));
    let drawn = known
        .zip(errors)
        .map(|((parameter, prior), errors)| DrawnPrior {
            parameter,
            mean: prior.mean,
            errors: errors.factors(),
            sd: prior.sd,
            precision: 1.0 / (prior.sd * prior.sd),
        });
    drawn.collect()
}

/// Returns the ratios of speed at the readings of a law.
fn ratios(law: &FittedLaw) -> Vec<f64> {
    let reference = ln(law.reference_rpm);
    law.ln_speeds.iter().map(|x| exp(x - reference)).collect()
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

    /// A chunk of deviates for a law.
    fn drawn(draws: &LawDraws, seed: u64) -> Vec<Column> {
        let mut draw = Draws::new(seed).at(0);
        let normals = draws.lead() + draws.rest();
        let mut columns = vec![[0.0; CHUNK]; normals + draws.limits()];
        for (k, column) in columns.iter_mut().enumerate() {
            column.fill_with(|| {
                if k < normals {
                    draw.normal()
                } else {
                    draw.rectangular()
                }
            });
        }
        columns
    }

    /// The parameters of the undrawn fit, once per draw of a chunk.
    fn undrawn(law: &FittedLaw) -> Vec<Column> {
        let fitted = law.fit().parameters.iter();
        fitted.map(|parameter| [*parameter; CHUNK]).collect()
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
                let columns = drawn(&prepared, seed);
                let deviates: Vec<&Column> = columns.iter().collect();
                let (mut parameters, mut departure) = (undrawn(law), [0.0; CHUNK]);
                let lost = refitting.descend(&deviates, &mut parameters, &mut departure);
                all += CHUNK;
                for draw in (0..CHUNK).filter(|draw| !lost[*draw]) {
                    settled += 1;
                    let own: Vec<f64> = deviates.iter().map(|column| column[draw]).collect();
                    let (found, there) = refitting.search(&own).unwrap();
                    for ((column, found), close) in
                        parameters.iter().zip(found).zip(&refitting.close)
                    {
                        // Each ends within some of its last steps.
                        let apart = column[draw] - found;
                        assert!(apart.abs() < 10.0 * close, "{seed}, {draw}: {apart:e}");
                    }
                    // A step that small moves the departure by as small a part of its uncertainty of some per cent.
                    assert!((departure[draw] - there).abs() < CLOSE, "{seed}, {draw}");
                }
            }
        }
        // The damped search is for the few.
        assert!(
            all >= 30 * CHUNK && settled * 100 >= all * 99,
            "{settled} of {all} settled"
        );
    }

    #[test]
    fn a_draw_that_no_fit_suits_is_named_and_its_neighbours_do_not_see_it() {
        /// The draw that is spoilt.
        const SPOILT: usize = 5;
        let laws = laws(1);
        let law = &laws.power.unwrap().law;
        let prepared = LawDraws::new(law, 1500.0, Refit::Exact).unwrap();
        let refitting = prepared.refitting.as_ref().unwrap();
        let refitted = |columns: &[Column]| {
            let (lead, rest) = columns.split_at(prepared.lead());
            let (rest, limits) = rest.split_at(prepared.rest());
            let (mut parameters, mut departure) = (undrawn(law), [0.25; CHUNK]);
            let deviates = Deviates { lead, rest, limits };
            let unsettled = refitting.refit(deviates, &mut parameters, &mut departure);
            (parameters, departure, unsettled)
        };
        let mut columns = drawn(&prepared, 1);
        let (sound, sound_departure, none) = refitted(&columns);
        assert!(none.iter().all(|unsettled| !unsettled));
        columns[0][SPOILT] = f64::NAN;
        let (found, departure, unsettled) = refitted(&columns);
        for draw in 0..CHUNK {
            assert_eq!(unsettled[draw], draw == SPOILT);
            let expected = if draw == SPOILT {
                (law.fit().parameters.clone(), 0.25)
            } else {
                let own = sound.iter().map(|column| column[draw]).collect();
                (own, sound_departure[draw])
            };
            let own: Vec<f64> = found.iter().map(|column| column[draw]).collect();
            assert_eq!((own, departure[draw]), expected, "{draw}");
        }
    }

    #[test]
    fn readings_that_were_not_drawn_give_the_fit_that_was_made() {
        let laws = laws(1);
        let law = &laws.power.unwrap().law;
        let draws = LawDraws::new(law, 1500.0, Refit::Exact).unwrap();
        let none = vec![[0.0; CHUNK]; draws.lead().max(draws.rest()).max(draws.limits())];
        let deviates = Deviates {
            lead: &none[..draws.lead()],
            rest: &none[..draws.rest()],
            limits: &none[..draws.limits()],
        };
        let drawn = draws.draw(deviates, There::Asked);
        for (j, fitted) in law.fit().parameters.iter().enumerate() {
            let u = law.fit().covariance[(j, j)].sqrt();
            assert!((drawn.parameters[j][0] - fitted).abs() < 10.0 * CLOSE * u);
        }
        // Two ways to the same prediction, one by steps that end within `CLOSE`.
        assert!((drawn.ln_there[0] - law.predict_ln(1500.0).ln_value).abs() < 1e-5);
    }
}
