//! How much a pipe wall resists: Darcy's friction factor in each regime, and the Hazen-Williams formula of handbooks.
//!
//! Every factor here is Darcy's. The functions of Reynolds number and relative roughness are
//! kernels and trust their arguments; [`pipe_loss`](crate::loss::pipe_loss) checks what a person gave.

mod colebrook;
mod handbook;
mod hazen_williams;

use crate::water::Water;

use colebrook::Colebrook;
pub use colebrook::{darcy_colebrook, darcy_colebrook_batch};
pub use handbook::{
    BothFrictionLaws, HAZEN_WILLIAMS_BORE_M, HAZEN_WILLIAMS_DESIGN_WATER_K,
    HAZEN_WILLIAMS_VELOCITY_M_S, HAZEN_WILLIAMS_WATER_K, PLASTIC_PIPE_C, both_friction_laws,
};
pub use hazen_williams::hazen_williams_head_m;

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
    let (value, _) = Bridge::new(relative_roughness).value_and_slope(reynolds);
    value / (reynolds * reynolds)
}

/// The group G = f Re², which head is in proportion to, and its slope dG/dRe, for an inner loop.
///
/// At rest the group is 0 and its slope 64: both are finite for every Reynolds number, and continuous.
#[inline]
pub(crate) fn group_and_slope(reynolds: f64, relative_roughness: f64) -> (f64, f64) {
    if reynolds <= LAMINAR_REYNOLDS {
        (LAMINAR_PRODUCT * reynolds, LAMINAR_PRODUCT)
    } else if reynolds < TURBULENT_REYNOLDS {
        Bridge::new(relative_roughness).value_and_slope(reynolds)
    } else {
        let turbulent = Colebrook::solve(reynolds, relative_roughness);
        let per_reynolds = turbulent.factor() * reynolds;
        let slope = per_reynolds * (2.0 + turbulent.logarithmic_slope());
        (per_reynolds * reynolds, slope)
    }
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

    /// G and dG/dRe within the bridge.
    fn value_and_slope(&self, reynolds: f64) -> (f64, f64) {
        let t = (reynolds - LAMINAR_REYNOLDS) / Self::WIDTH;
        let s = 1.0 - t;
        let value = s * s * ((1.0 + 2.0 * t) * self.low + t * Self::WIDTH * self.low_slope)
            + t * t * ((1.0 + 2.0 * s) * self.high - s * Self::WIDTH * self.high_slope);
        let secant = (self.high - self.low) / Self::WIDTH;
        // The derivatives of the four basis polynomials; 6, 1 - 3t and 1 - 3s are theirs.
        let slope = 6.0 * s * t * secant
            + s * (1.0 - 3.0 * t) * self.low_slope
            + t * (1.0 - 3.0 * s) * self.high_slope;
        (value, slope)
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

    proptest! {
        #[test]
        fn the_group_has_the_factor_and_the_slope_that_it_says(
            ln_re in 0.0_f64..18.4, roughness in 0.0_f64..0.05,
        ) {
            let re = numerics::elementary::exp(ln_re);
            let (value, slope) = group_and_slope(re, roughness);
            // A few roundings.
            prop_assert!((value / group(re, roughness) - 1.0).abs() < 1e-14);
            let step = 1e-4 * re;
            let secant = (group(re + step, roughness) - group(re - step, roughness)) / (2.0 * step);
            // The third derivative leaves 1e-8, but the second one jumps where the laws meet: 1e-4 of the slope there.
            // The Colebrook slope is known to five digits.
            prop_assert!((slope / secant - 1.0).abs() < 3e-4, "{slope} against {secant}");
        }

        #[test]
        fn friction_rises_strictly_with_flow(
            ln_re in 0.0_f64..18.4, ln_step in -9.0_f64..0.0, roughness in 0.0_f64..0.05,
        ) {
            let re = numerics::elementary::exp(ln_re);
            let more = re * (1.0 + numerics::elementary::exp(ln_step));
            prop_assert!(group(more, roughness) > group(re, roughness));
        }
    }
}
