//! How much a pipe wall resists: Darcy's friction factor, and the Hazen-Williams formula of handbooks.
//!
//! Every factor here is Darcy's. The functions of Reynolds number and relative roughness are
//! kernels and trust their arguments; [`pipe_loss`](crate::loss::pipe_loss) checks what a person gave.

use core::f64::consts::PI;

use numerics::elementary::{ln, pow};

use crate::error::{HydraulicsError, Quantity};
use crate::water::Water;

/// The Reynolds number up to which flow is taken as laminar.
pub const LAMINAR_REYNOLDS: f64 = 2000.0;

/// The Reynolds number from which flow is taken as turbulent.
pub const TURBULENT_REYNOLDS: f64 = 4000.0;

/// The highest Reynolds number of Moody's chart.
pub const HIGHEST_REYNOLDS: f64 = 1e8;

/// The highest relative roughness of Moody's chart.
pub const HIGHEST_RELATIVE_ROUGHNESS: f64 = 0.05;

/// The product f · Re in laminar flow (Hagen-Poiseuille), exact.
const LAMINAR_PRODUCT: f64 = 64.0;

/// Computes the Reynolds number of flow in a round pipe.
///
/// # Equation
/// Re = ρ v D / μ
///
/// # Inputs
/// `velocity_m_s`: mean velocity; `bore_m`: inside diameter; `water`: density and viscosity.
///
/// # Returns
/// The Reynolds number, of the sign of the velocity.
///
/// # Validity
/// Any full round pipe. The viscosity must not be zero.
///
/// # Accuracy
/// Three roundings; otherwise that of the viscosity.
///
/// # Source
/// O. Reynolds, Phil. Trans. R. Soc. 174 (1883) 935-982.
///
/// # Checked against
/// `validation/hazen/fluids`, `validation/handbook-friction/crane-tp410-7-1`
///
/// # Example
/// ```
/// let water = hydraulics::water::Water::fresh(293.15).unwrap();
/// let reynolds = hydraulics::friction::reynolds(2.0, 0.05, &water);
/// assert!((reynolds / 99_660.0 - 1.0).abs() < 1e-3);
/// ```
#[inline]
pub fn reynolds(velocity_m_s: f64, bore_m: f64, water: &Water) -> f64 {
    water.density_kg_m3 * velocity_m_s * bore_m / water.dynamic_viscosity_pa_s
}

/// Computes Darcy's friction factor of laminar flow.
///
/// # Equation
/// f = 64 / Re
///
/// # Inputs
/// `reynolds`: Reynolds number above 0.
///
/// # Returns
/// Darcy's friction factor.
///
/// # Validity
/// Up to about Re = 2000. Beyond, the law has a value but no pipe follows it.
///
/// # Accuracy
/// Exact for a round pipe in developed flow; one rounding.
///
/// # Source
/// Hagen-Poiseuille law; L. F. Moody, "Friction factors for pipe flow", Trans. ASME 66 (1944) 671-684.
///
/// # Checked against
/// `validation/friction/colebrook-mpmath`
///
/// # Example
/// ```
/// assert!((hydraulics::friction::darcy_laminar(1000.0) - 0.064).abs() < 1e-17);
/// ```
#[inline]
pub fn darcy_laminar(reynolds: f64) -> f64 {
    LAMINAR_PRODUCT / reynolds
}

/// Computes Darcy's friction factor of turbulent flow in a rough pipe.
///
/// # Equation
/// 1/√f = −2 log₁₀(ε/(3.7 D) + 2.51 / (Re √f))
///
/// # Inputs
/// `reynolds`: Reynolds number above 0. `relative_roughness`: ε/D, 0 to 0.05.
///
/// # Returns
/// Darcy's friction factor, the one root of the equation.
///
/// # Validity
/// The correlation is meant for Re from 4000 to 1e8 and ε/D up to 0.05. Outside, the equation is
/// still solved, for Re from 0.001 to 1e15 and ε/D up to 0.5, but it describes no pipe.
/// The arguments are not checked.
///
/// # Accuracy
/// Of the method: some 5 to 10 % against measured pipes (usual statement, from memory). Of the
/// numerics: relative error below 1e-15 for Re from 500 to 1e8, below 1e-12 beyond. The work is the
/// same for every argument: two logarithms and no loop that waits for convergence.
///
/// # Source
/// C. F. Colebrook, J. Inst. Civ. Eng. 11 (1939) 133-156. The form in natural logarithms and the few steps of high
/// order follow D. Clamond, "Efficient resolution of the Colebrook equation", Ind. Eng. Chem. Res. 48 (2009) 3665-3671.
///
/// # Checked against
/// `validation/friction/colebrook-mpmath`
///
/// # Example
/// ```
/// let factor = hydraulics::friction::darcy_colebrook(1e5, 1e-4);
/// assert!((factor - 0.018513866077).abs() < 1e-12);
/// ```
#[inline]
pub fn darcy_colebrook(reynolds: f64, relative_roughness: f64) -> f64 {
    Colebrook::solve(reynolds, relative_roughness).factor()
}

/// The Colebrook equation and its root, in natural logarithms.
///
/// With y = (ln 10 / 2) / √f the equation reads y + ln(k + γ y) = 0, where k = (ε/D) / 3.7 and
/// γ = 2.51 (2 / ln 10) / Re.
struct Colebrook {
    /// The root y.
    root: f64,
    /// k + γ y at the root, to first order: the argument of the logarithm.
    argument: f64,
    /// γ, the viscous part of the argument per unit of y.
    viscous: f64,
}

impl Colebrook {
    fn solve(reynolds: f64, relative_roughness: f64) -> Self {
        /// 2.51 · 2 / ln 10.
        const VISCOUS: f64 = 2.180_158_299_154_324;
        /// A root of the middle of Moody's chart: y is 4 to 13 there.
        const TYPICAL_ROOT: f64 = 8.0;
        let rough = relative_roughness / 3.7;
        let viscous = VISCOUS / reynolds;

        // The divisor matters below Re = 20 only, where y shrinks like 1/γ.
        let start = TYPICAL_ROOT / (1.0 + TYPICAL_ROOT * viscous);
        let argument = rough + viscous * start;
        let residual = start + ln(argument);
        let first = halley_step(residual, argument, viscous);
        // A rational function stands in for the logarithm of the change, so that the second step costs none.
        let residual = residual + first + ln_1p_rational(viscous * first, argument);
        let argument = argument + viscous * first;
        let close = start + first + halley_step(residual, argument, viscous);
        // y is good to 1e-6 here. Steps of third order leave nothing but rounding after one more.
        let argument = rough + viscous * close;
        Self {
            root: close + halley_step(close + ln(argument), argument, viscous),
            argument,
            viscous,
        }
    }

    fn factor(&self) -> f64 {
        /// (ln 10 / 2)².
        const HALF_LN_10_SQUARED: f64 = 1.325_474_527_619_599_5;
        HALF_LN_10_SQUARED / (self.root * self.root)
    }

    /// The logarithmic slope d(ln f)/d(ln Re), by the implicit function theorem: −0.3 to 0 from Re = 4000 up.
    fn logarithmic_slope(&self) -> f64 {
        -2.0 * self.viscous / (self.argument + self.viscous)
    }
}

/// Halley's step towards the root of y + ln(u) with du = γ dy, from the residual at u.
#[inline]
fn halley_step(residual: f64, argument: f64, viscous: f64) -> f64 {
    let sum = argument + viscous;
    -2.0 * residual * argument * sum / (2.0 * sum * sum + residual * viscous * viscous)
}

/// ln(1 + a/b) by its diagonal Padé approximant of third degree: 3e-5 off at a/b = 1 and at −0.5.
#[inline]
fn ln_1p_rational(a: f64, b: f64) -> f64 {
    a * (60.0 * b * b + a * (60.0 * b + 11.0 * a))
        / (60.0 * b * b * b + a * (90.0 * b * b + a * (36.0 * b + 3.0 * a)))
}

/// Computes Darcy's friction factor in any regime.
///
/// # Equation
/// 64 / Re up to Re = 2000; the Colebrook equation from Re = 4000; between them f = G / Re², where G is the
/// cubic Hermite polynomial in Re that has the value and the slope of f Re² of either neighbour at its ends.
///
/// # Inputs
/// `reynolds`: Reynolds number above 0. `relative_roughness`: ε/D, 0 to 0.05.
///
/// # Returns
/// Darcy's friction factor, with a continuous first derivative over Reynolds number.
///
/// # Validity
/// Re up to 1e8 and ε/D up to 0.05. Outside, the Colebrook equation is extrapolated and
/// [`pipe_loss`](crate::loss::pipe_loss) warns. The arguments are not checked.
///
/// Head grows with f Re², and so does it strictly with flow at any roughness. In the bridge this follows from
/// Fritsch and Carlson: slopes at both ends of at most three times the secant make the cubic monotone. With
/// f(4000) ≥ 0.0399 the ratios are at most 64 · 2000 / (16e6 f − 128e3) < 0.251 at the laminar end and
/// 2 · 4000 f · 2000 / (16e6 f − 128e3) < 1.251 at the turbulent one.
///
/// # Accuracy
/// As its two neighbours outside the bridge. Within it no accepted value exists: flow there switches between
/// both laws, which differ by a factor of 2.5, and the bridge only lets head rise smoothly.
///
/// # Source
/// As [`darcy_laminar`] and [`darcy_colebrook`]; F. N. Fritsch, R. E. Carlson, "Monotone piecewise cubic interpolation",
/// SIAM J. Numer. Anal. 17 (1980) 238-246. The bridge itself is of this crate, without outside source.
///
/// # Checked against
/// `validation/friction/colebrook-mpmath`
///
/// # Example
/// ```
/// use hydraulics::friction::darcy_friction_factor;
/// assert!((darcy_friction_factor(1e3, 1e-4) - 0.064).abs() < 1e-15);
/// assert!((darcy_friction_factor(1e5, 1e-4) - 0.018513866077).abs() < 1e-12);
/// ```
#[inline]
pub fn darcy_friction_factor(reynolds: f64, relative_roughness: f64) -> f64 {
    if reynolds <= LAMINAR_REYNOLDS {
        darcy_laminar(reynolds)
    } else if reynolds < TURBULENT_REYNOLDS {
        darcy_bridge(reynolds, relative_roughness)
    } else {
        darcy_colebrook(reynolds, relative_roughness)
    }
}

/// The friction factor between the laminar and the turbulent law.
fn darcy_bridge(reynolds: f64, relative_roughness: f64) -> f64 {
    let bridge = Bridge::new(relative_roughness);
    let t = (reynolds - LAMINAR_REYNOLDS) / Bridge::WIDTH;
    let s = 1.0 - t;
    let value = s * s * ((1.0 + 2.0 * t) * bridge.low + t * Bridge::WIDTH * bridge.low_slope)
        + t * t * ((1.0 + 2.0 * s) * bridge.high - s * Bridge::WIDTH * bridge.high_slope);
    value / (reynolds * reynolds)
}

/// Value and slope of G = f Re² at the two ends of the bridge.
struct Bridge {
    low: f64,
    low_slope: f64,
    high: f64,
    high_slope: f64,
}

impl Bridge {
    const WIDTH: f64 = TURBULENT_REYNOLDS - LAMINAR_REYNOLDS;

    fn new(relative_roughness: f64) -> Self {
        let turbulent = Colebrook::solve(TURBULENT_REYNOLDS, relative_roughness);
        let per_reynolds = turbulent.factor() * TURBULENT_REYNOLDS;
        Self {
            low: LAMINAR_PRODUCT * LAMINAR_REYNOLDS,
            low_slope: LAMINAR_PRODUCT,
            high: per_reynolds * TURBULENT_REYNOLDS,
            high_slope: per_reynolds * (2.0 + turbulent.logarithmic_slope()),
        }
    }
}

/// Computes the friction head of water in a pipe by the Hazen-Williams formula.
///
/// # Equation
/// v = 1.318 C R^0.63 S^0.54 in feet and seconds, R = D/4 the hydraulic radius, S = h/L the slope of the energy line.
/// The same in SI has the coefficient 1.318 (0.3048 m)^0.37 = 0.84918.
///
/// # Inputs
/// `length_m`: 0 or more. `flow_m3s`: 0 or more. `bore_m`: above 0. `c`: the coefficient C, above 0; 150 for
/// plastic pipe in most handbooks, 140 in some.
///
/// # Returns
/// Head in m.
///
/// # Validity
/// Water at about 16 °C in turbulent flow, pipe of 2 in and more, velocity near 1 m/s. The formula knows no
/// viscosity: it reads 1 to 6 % high in warm pool water. Outside it gives a value without warning.
///
/// # Accuracy
/// Against Darcy-Weisbach in PVC pipe: −14 to +7 % at 20 °C. The forms in use differ by 0.3 %; this one agrees
/// with the handbook table that it is checked against.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::BelowZero`], [`HydraulicsError::HeadNotFinite`].
///
/// # Source
/// G. S. Williams, A. Hazen, Hydraulic Tables, 3rd edition, Wiley 1920; coefficient as in common US use, from memory.
///
/// # Checked against
/// `validation/hazen/fluids`, `validation/handbook-friction/illinois-77-906`
///
/// # Example
/// ```
/// let head_m = hydraulics::friction::hazen_williams_head_m(30.48, 3.785411784e-3, 0.0525018, 150.0).unwrap();
/// assert!((head_m / 0.3048 - 5.580).abs() < 5e-4); // ft in 100 ft of 2 in pipe at 60 gpm
/// ```
pub fn hazen_williams_head_m(
    length_m: f64,
    flow_m3s: f64,
    bore_m: f64,
    c: f64,
) -> Result<f64, HydraulicsError> {
    /// 1.318 · 0.3048^0.37, m^0.37/s.
    const COEFFICIENT: f64 = 0.849_182_325_631_969_2;
    let length_m = Quantity::Length.zero_or_more(length_m)?;
    let flow_m3s = Quantity::Flow.zero_or_more(flow_m3s)?;
    let bore_m = Quantity::Bore.above_zero(bore_m)?;
    let c = Quantity::HazenWilliamsC.above_zero(c)?;
    let velocity_m_s = flow_m3s / (0.25 * PI * bore_m * bore_m);
    let root_of_slope = velocity_m_s / (COEFFICIENT * c * pow(0.25 * bore_m, 0.63));
    let head_m = length_m * pow(root_of_slope, 1.0 / 0.54);
    if head_m.is_finite() {
        Ok(head_m)
    } else {
        Err(HydraulicsError::HeadNotFinite { flow_m3s, bore_m })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// f Re², which head is proportional to in a given pipe.
    fn group(reynolds: f64, relative_roughness: f64) -> f64 {
        darcy_friction_factor(reynolds, relative_roughness) * reynolds * reynolds
    }

    fn slope(reynolds: f64, step: f64, relative_roughness: f64) -> f64 {
        (group(reynolds + step, relative_roughness) - group(reynolds, relative_roughness)) / step
    }

    #[test]
    fn the_ends_of_the_bridge_meet_in_value_and_slope() {
        for relative_roughness in [0.0, 1e-6, 3e-5, 1e-3, 0.01, 0.05] {
            for end in [LAMINAR_REYNOLDS, TURBULENT_REYNOLDS] {
                let step = 1e-3;
                let below = group(end - 1e-9 * end, relative_roughness);
                let above = group(end + 1e-9 * end, relative_roughness);
                // Twice 1e-9 of Re is at most 4e-9 of a group that grows no faster than Re squared.
                assert!((above / below - 1.0).abs() < 5e-9);
                let left = slope(end, -step, relative_roughness);
                let right = slope(end, step, relative_roughness);
                // Curvature times the step is 1e-6 of the slope, rounding of the difference 1e-9.
                assert!(
                    (right / left - 1.0).abs() < 1e-5,
                    "{left} against {right} at {end}"
                );
            }
        }
    }

    #[test]
    fn the_bridge_meets_the_condition_of_fritsch_and_carlson() {
        for i in 0..=5000 {
            let relative_roughness = 1e-4 * f64::from(i); // to 0.5, beyond the 0.05 of the correlation
            let bridge = Bridge::new(relative_roughness);
            let secant = (bridge.high - bridge.low) / Bridge::WIDTH;
            assert!(secant > 0.0);
            assert!((0.0..0.251).contains(&(bridge.low_slope / secant)));
            assert!((0.0..1.251).contains(&(bridge.high_slope / secant)));
        }
    }

    #[test]
    fn the_rough_limit_is_that_of_nikuradse() {
        for relative_roughness in [1e-4, 1e-3, 0.01, 0.05] {
            // 1/sqrt(f) = 2 log10(3.7 D/e), the limit of the equation for large Re.
            let x = 2.0 * numerics::elementary::log10(3.7 / relative_roughness);
            let factor = darcy_colebrook(1e15, relative_roughness);
            // At Re = 1e15 the viscous term is below 1e-9 of the rough one.
            assert!((factor * x * x - 1.0).abs() < 1e-9);
        }
    }

    #[test]
    fn the_hazen_williams_coefficient_is_the_customary_one_in_metres() {
        let si = 1.318 * pow(0.3048, 0.37);
        let radius_m = 0.25 * 0.05;
        let area_m2 = PI * radius_m * 0.05;
        // S = 1 where v = coefficient C R^0.63.
        let flow_m3s = area_m2 * si * 150.0 * pow(radius_m, 0.63);
        let head_m = hazen_williams_head_m(1.0, flow_m3s, 0.05, 150.0).unwrap();
        // A dozen roundings, doubled by the power 1/0.54.
        assert!((head_m - 1.0).abs() < 1e-14);
    }

    #[test]
    fn hazen_williams_refuses_what_no_pipe_has() {
        for (length_m, flow_m3s, bore_m, c) in [
            (-1.0, 0.01, 0.05, 150.0),
            (1.0, -0.01, 0.05, 150.0),
            (1.0, 0.01, 0.0, 150.0),
            (1.0, 0.01, 0.05, f64::NAN),
            (1.0, 1e200, 1e-60, 150.0),
        ] {
            assert!(hazen_williams_head_m(length_m, flow_m3s, bore_m, c).is_err());
        }
        assert!(hazen_williams_head_m(1.0, 0.0, 0.05, 150.0).unwrap().abs() < f64::MIN_POSITIVE);
    }

    proptest! {
        #[test]
        fn friction_rises_strictly_with_flow(
            ln_re in 0.0_f64..18.4, ln_step in -9.0_f64..0.0, roughness in 0.0_f64..0.05,
        ) {
            let re = numerics::elementary::exp(ln_re);
            let more = re * (1.0 + numerics::elementary::exp(ln_step));
            prop_assert!(group(more, roughness) > group(re, roughness));
        }

        #[test]
        fn the_root_satisfies_the_equation(ln_re in 6.3_f64..18.4, ln_rough in -14.0_f64..-3.0) {
            let re = numerics::elementary::exp(ln_re);
            let rough = numerics::elementary::exp(ln_rough);
            let x = 1.0 / darcy_colebrook(re, rough).sqrt();
            let right = -2.0 * numerics::elementary::log10(rough / 3.7 + 2.51 * x / re);
            // A handful of roundings on either side.
            prop_assert!((right / x - 1.0).abs() < 2e-15);
        }

        #[test]
        fn the_root_is_found_far_outside_the_range(ln_re in 2.3_f64..34.5, rough in 0.0_f64..0.5) {
            let re = numerics::elementary::exp(ln_re); // 10 to 1e15
            let x = 1.0 / darcy_colebrook(re, rough).sqrt();
            let right = -2.0 * numerics::elementary::log10(rough / 3.7 + 2.51 * x / re);
            // No pipe is there: it is enough that nothing breaks. The residual may be several times the error of x.
            prop_assert!((right / x - 1.0).abs() < 5e-12);
        }

        #[test]
        fn friction_rises_with_roughness(ln_re in 8.3_f64..18.4, roughness in 0.0_f64..0.049) {
            let re = numerics::elementary::exp(ln_re);
            prop_assert!(darcy_colebrook(re, roughness + 1e-3) > darcy_colebrook(re, roughness));
        }

        #[test]
        fn hazen_williams_scales(flow in 1e-5_f64..0.1, bore in 0.01_f64..0.3) {
            let head = |length: f64, c: f64| hazen_williams_head_m(length, flow, bore, c).unwrap();
            // Head is proportional to length, and to C to the power -1/0.54; a few roundings.
            prop_assert!((head(20.0, 150.0) / head(10.0, 150.0) / 2.0 - 1.0).abs() < 1e-14);
            let ratio = head(10.0, 140.0) / head(10.0, 150.0);
            prop_assert!((ratio / pow(150.0 / 140.0, 1.0 / 0.54) - 1.0).abs() < 1e-13);
        }
    }
}
