//! The law of the circuit: how total head grows with flow.

use crate::circuit::{PUMP_INLET, PUMP_OUTLET};
use metrology::{Curve, Estimate, Fit, Observations, Prior, fit};
use numerics::elementary::{exp, ln};
use numerics::linear::Matrix;
use records::Site;

/// What is known of the exponent before any reading: turbulent friction and fittings, bent by a filter's media. Common practice, no source.
const EXPONENT: Prior = Prior {
    mean: 1.85,
    sd: 0.12,
};
/// How far the head at rest may lie from the difference of the levels, m: a check valve's spring. Common practice, no source.
const STATIC_SD_M: f64 = 0.5;
/// A number is told only where the readings leave at most this part of what was known before.
const LEARNT: f64 = 0.5;
/// Standard deviation of the smooth discrepancy of the law, as a share of head.
const DISCREPANCY: f64 = 0.02;
/// Correlation length of that discrepancy, in the logarithm of flow.
const LENGTH: f64 = 0.7;
/// Different flows that the law needs.
pub(crate) const LEAST_POINTS: usize = 3;

/// Total head against flow: H = static + coefficient · Q^exponent. A number that the readings do not tell is `None`.
#[derive(Clone, Debug, PartialEq)]
pub struct SystemLaw {
    /// Head at no flow, m.
    pub static_m: Option<Estimate>,
    /// Head per flow to the power of the exponent, m/(m³/s)ⁿ; told only with the exponent.
    pub coefficient_m_per_m3s_n: Option<Estimate>,
    /// The exponent.
    pub exponent: Option<Estimate>,
}

impl SystemLaw {
    /// Returns the head at a flow, m, where the readings tell all numbers of the law.
    pub fn head_m(&self, flow_m3s: f64) -> Option<f64> {
        let (at_rest, coefficient) = (self.static_m?, self.coefficient_m_per_m3s_n?);
        let power = numerics::elementary::pow(flow_m3s, self.exponent?.value);
        Some(at_rest.value + coefficient.value * power)
    }
}

/// A total head at a flow.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Point {
    /// Flow, m³/s, above zero.
    pub flow: Estimate,
    /// The part of the flow's relative uncertainty that all points share.
    pub flow_common_u_ln: f64,
    /// Head, m.
    pub head: Estimate,
    /// The part of the head's uncertainty that all points share, m.
    pub head_common_u_m: f64,
}

/// H = H₀ + exp(ln k) (Q/Qref)ⁿ.
struct SystemCurve;

impl Curve for SystemCurve {
    fn evaluate(&self, ln_ratio: f64, parameters: &[f64], gradient: &mut [f64]) -> f64 {
        let [fixed, ln_k, exponent] = parameters else {
            return f64::NAN;
        };
        let moving = exp(ln_k + exponent * ln_ratio);
        gradient.copy_from_slice(&[1.0, moving, moving * ln_ratio]);
        fixed + moving
    }
}

/// Fits the law of the circuit; `None` with fewer points than it needs, or where the fit does not settle.
pub(crate) fn system_law(site: &Site, points: &[Point]) -> Option<SystemLaw> {
    if points.len() < LEAST_POINTS {
        return None;
    }
    let reference = points
        .iter()
        .map(|point| point.flow.value)
        .fold(0.0, f64::max);
    let ln_ratios: Vec<f64> = points
        .iter()
        .map(|p| ln(p.flow.value / reference))
        .collect();
    let heads: Vec<f64> = points.iter().map(|point| point.head.value).collect();
    let covariance = covariance(points, &ln_ratios);
    let at_rest = Prior {
        mean: lift_m(site),
        sd: STATIC_SD_M,
    };
    let start = [
        at_rest.mean,
        ln(heads.iter().copied().fold(0.1, f64::max)),
        EXPONENT.mean,
    ];
    let observations = Observations {
        x: &ln_ratios,
        y: &heads,
        covariance: &covariance,
    };
    let priors = [Some(at_rest), None, Some(EXPONENT)];
    let fitted = fit(&SystemCurve, observations, &start, &priors).ok()?;
    Some(law(&fitted, reference))
}

/// Tells what a fit has learnt.
fn law(fitted: &Fit, reference_m3s: f64) -> SystemLaw {
    let told = |j: usize, prior_sd: f64| {
        let sd = fitted.covariance[(j, j)].sqrt();
        let estimate = Estimate::normal(fitted.parameters[j], sd);
        estimate.filter(|_| sd <= LEARNT * prior_sd)
    };
    let exponent = told(2, EXPONENT.sd);
    // ln k of the law is ln k' − n ln Qref.
    let slope = [0.0, 1.0, -ln(reference_m3s)];
    let ln_coefficient = fitted.parameters[1] + slope[2] * fitted.parameters[2];
    let variance = numerics::linear::quadratic_form(&slope, &fitted.covariance);
    SystemLaw {
        static_m: told(0, STATIC_SD_M),
        coefficient_m_per_m3s_n: exponent
            .and_then(|_| Estimate::log_normal(ln_coefficient, variance.sqrt())),
        exponent,
    }
}

/// Builds the covariance of the heads: errors of flow are carried over by the slope of the law, and what all points
/// share stands beside what is each point's own.
///
/// # Source
/// Effective variance: J. Orear, "Least squares when both variables have uncertainties", Am. J. Phys. 50 (1982) 912-916.
fn covariance(points: &[Point], ln_ratios: &[f64]) -> Matrix {
    let slope = |point: &Point| EXPONENT.mean * point.head.value;
    let own_variance = |point: &Point| {
        let head = point.head.u * point.head.u - point.head_common_u_m * point.head_common_u_m;
        let common = point.flow_common_u_ln;
        let flow = point.flow.relative_u() * point.flow.relative_u() - common * common;
        head.max(0.0) + slope(point) * slope(point) * flow.max(0.0)
    };
    Matrix::from_fn(points.len(), points.len(), |i, j| {
        let (a, b) = (&points[i], &points[j]);
        let distance = (ln_ratios[i] - ln_ratios[j]) / LENGTH;
        let smooth = DISCREPANCY * DISCREPANCY * a.head.value * b.head.value;
        let shared = a.head_common_u_m * b.head_common_u_m
            + slope(a) * slope(b) * a.flow_common_u_ln * b.flow_common_u_ln
            + smooth * exp(-0.5 * distance * distance);
        let own = if i == j { own_variance(a) } else { 0.0 };
        shared + own
    })
}

/// Computes the lift that the levels of the site's bodies of water make, m: mean level of the ends less mean level of the starts.
fn lift_m(site: &Site) -> f64 {
    let level = |end: &str| {
        let body = site.bodies.iter().find(|body| body.name == end);
        body.map(|body| body.level.si)
            .or((end == "pool").then_some(0.0))
    };
    let mean = |levels: Vec<f64>| {
        let count = levels.len().max(1) as f64;
        levels.iter().sum::<f64>() / count
    };
    let lines = &site.lines;
    let ends = lines
        .iter()
        .filter(|line| line.from != PUMP_INLET)
        .filter_map(|line| level(&line.to));
    let starts = lines
        .iter()
        .filter(|line| line.to != PUMP_OUTLET)
        .filter_map(|line| level(&line.from));
    mean(ends.collect()) - mean(starts.collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(flow_m3s: f64, head_m: f64, u_m: f64) -> Point {
        Point {
            flow: Estimate::normal(flow_m3s, 0.002 * flow_m3s).unwrap(),
            flow_common_u_ln: 0.0015,
            head: Estimate::normal(head_m, u_m).unwrap(),
            head_common_u_m: 0.8 * u_m,
        }
    }

    fn flat_site() -> Site {
        let text = "format = 1\nname = \"s\"\n[pump]\nspeed = { max = \"3450 rpm\" }\n";
        records::read_site(&records::Source {
            name: "s".to_owned(),
            text: text.to_owned(),
        })
        .unwrap()
    }

    #[test]
    fn a_sharp_law_is_told_and_a_blunt_one_is_not() {
        let heads = |u_m: f64| -> Vec<Point> {
            (1..=10)
                .map(|i| 0.0006 * f64::from(i))
                .map(|q| point(q, 0.2 + 4.2e5 * q * q, u_m))
                .collect()
        };
        let sharp = system_law(&flat_site(), &heads(0.02)).unwrap();
        let exponent = sharp.exponent.unwrap();
        assert!(exponent.low <= 2.0 && 2.0 <= exponent.high, "{exponent:?}");
        let at_rest = sharp.static_m.unwrap();
        assert!(at_rest.low <= 0.2 && 0.2 <= at_rest.high, "{at_rest:?}");
        // The truth at 0.003 m³/s: 0.2 + 4.2e5 · 0.003² = 3.98 m; the points are that sharp.
        assert!((sharp.head_m(0.003).unwrap() - 3.98).abs() < 0.04);
        assert_eq!(
            system_law(&flat_site(), &heads(3.0)).unwrap().head_m(0.003),
            None
        );
        let blunt = system_law(&flat_site(), &heads(3.0)).unwrap();
        assert_eq!(blunt.static_m, None);
        assert!(system_law(&flat_site(), &heads(0.02)[..2]).is_none());
    }
}
