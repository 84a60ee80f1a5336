//! Bends by radius and angle, and mitres by angle: Crane's way and two rivals.
//!
//! The standard fittings have their names in [`catalogue`](super::catalogue). All coefficients here include the friction of
//! the bend's own length.

use core::f64::consts::PI;

use numerics::elementary::{pow, sin};

use super::crane::turbulent_friction_factor;
use super::{along, answer};
use crate::error::HydraulicsError;
use crate::quantity::Quantity;
use crate::warning::{Answer, Warning};

/// The radii over bore of Crane's chart.
const CHARTED_RADII: (f64, f64) = (1.0, 20.0);

/// A bend of one bore.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// Inside diameter in m.
    pub bore_m: f64,
    /// Radius of the axis over the bore.
    pub radius_ratio: f64,
    /// How far the flow is turned, in degrees.
    pub angle_deg: f64,
}

impl Bend {
    fn check(&self) -> Result<(), HydraulicsError> {
        Quantity::Bore.above_zero(self.bore_m)?;
        Quantity::RadiusRatio.above_zero(self.radius_ratio)?;
        Quantity::Angle.above_zero(self.angle_deg)?;
        Quantity::Angle.within(self.angle_deg, (0.0, 360.0))?;
        Ok(())
    }

    fn outside(
        &self,
        correlation: &'static str,
        radii: (f64, f64),
        angles_deg: (f64, f64),
    ) -> impl Iterator<Item = Warning> {
        let radius = Warning::outside(correlation, Quantity::RadiusRatio, self.radius_ratio, radii);
        let angle = Warning::outside(correlation, Quantity::Angle, self.angle_deg, angles_deg);
        radius.into_iter().chain(angle)
    }
}

/// Computes the loss coefficient of a bend after Crane.
///
/// # Equation
/// K = (n − 1)(π/4 · f_T r/D + K₉₀ / 2) + K₉₀, n = angle / 90°; K₉₀ = N(r/D) f_T, with N a polynomial through Crane's chart
///
/// # Inputs
/// `bend`: bore above 0 m, radius ratio above 0, angle above 0° and up to 360°.
///
/// # Returns
/// K on the velocity in the bore.
///
/// # Validity
/// r/D from 1 to 20; beyond, N is held at its end and the answer carries a warning. Crane gives the law of the angle
/// for bends of more than 90°. It is in use down to 45°; below, it does not go to zero, and the answer carries a
/// warning (limit of this crate).
///
/// # Accuracy
/// The polynomial passes within 1.5 % of the twelve printed points of the chart. Of the method: as
/// [`k_of_length_ratio`](super::crane::k_of_length_ratio).
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::OutOfRange`], [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// Crane Technical Paper 410, 2009, page A-30 (page from memory); the polynomial as printed in the Python package fluids
/// 1.3.1 (`fluids.fittings.bend_rounded_Crane`).
///
/// # Checked against
/// `validation/fittings/fluids`, `validation/handbook-fittings/crane-bends`
///
/// # Example
/// ```
/// use hydraulics::fittings::bend::{Bend, crane_bend_k};
/// let sweep = Bend { bore_m: 0.0525018, radius_ratio: 1.5, angle_deg: 90.0 };
/// assert!((crane_bend_k(&sweep).unwrap().value - 0.2650).abs() < 1e-4);
/// ```
pub fn crane_bend_k(bend: &Bend) -> Result<Answer<f64>, HydraulicsError> {
    bend.check()?;
    let factor = turbulent_friction_factor(bend.bore_m)?;
    let quarter = crane_length_ratio(bend.radius_ratio) * factor.value;
    let turns = bend.angle_deg / 90.0;
    let own_friction = 0.25 * PI * factor.value * bend.radius_ratio;
    let outside = bend.outside("Crane's bends", CHARTED_RADII, (45.0, 360.0));
    answer(
        (turns - 1.0) * (own_friction + 0.5 * quarter) + quarter,
        factor.warnings.into_iter().chain(outside),
    )
}

/// The equivalent length of a quarter bend in bores, over its radius in bores.
fn crane_length_ratio(radius_ratio: f64) -> f64 {
    /// From the highest power down, over (r/D − 10.5) / 9.5.
    const CHART: [f64; 17] = [
        111.75011378177442,
        -331.89911345404107,
        -27.841951521656483,
        1066.8916917931147,
        -857.8702190626232,
        -1151.4621655498092,
        1775.2416673594603,
        216.37911821941805,
        -1458.1661519377653,
        447.169127650163,
        515.361158769082,
        -322.58377486107577,
        -38.38349416327068,
        71.12796602489138,
        -16.198233745350535,
        19.377150177339015,
        31.107110520349494,
    ];
    let (low, high) = CHARTED_RADII;
    let along_chart = (radius_ratio.clamp(low, high) - 0.5 * (low + high)) / (0.5 * (high - low));
    CHART
        .iter()
        .fold(0.0, |sum, coefficient| sum * along_chart + coefficient)
}

/// Computes the loss coefficient of a smooth bend after Ito, which falls with Reynolds number.
///
/// # Equation
/// K = 0.00431 α θ Re^−0.17 (r/D)^0.84, θ in degrees; α₄₅ = 1 + 5.13 (D/r)^1.47; α₉₀ = 0.95 + 4.42 (D/r)^1.96, and 1 from r/D =
/// 9.85; α₁₈₀ = 1 + 5.06 (D/r)^4.52; between those angles α along straight lines; α = 1 beyond r/D = 50
///
/// # Inputs
/// `bend`: bore above 0 m, radius ratio above 0, angle above 0° and up to 360°. `reynolds`: above 0.
///
/// # Returns
/// K on the velocity in the bore.
///
/// # Validity
/// Smooth bends with long straight pipe behind; Re (D/r)² above 360, Re from 2e4 to 4e5 (from memory), angles from
/// 45° to 180°. Outside the answer carries a warning.
///
/// # Accuracy
/// Of the method: a few percent of measured smooth bends (from memory). A socket elbow is no smooth bend.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::OutOfRange`], [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// H. Ito, "Pressure losses in smooth pipe bends", J. Basic Eng. 82 (1960) 131-140, as printed in the Python package fluids
/// 1.3.1 (`fluids.fittings.bend_rounded_Ito`).
///
/// # Checked against
/// `validation/fittings/fluids`
///
/// # Example
/// ```
/// use hydraulics::fittings::bend::{Bend, ito_bend_k};
/// let sweep = Bend { bore_m: 0.05, radius_ratio: 3.0, angle_deg: 90.0 };
/// let slow = ito_bend_k(&sweep, 5e4).unwrap().value;
/// assert!((ito_bend_k(&sweep, 2e5).unwrap().value / slow - 0.790).abs() < 1e-3);
/// ```
pub fn ito_bend_k(bend: &Bend, reynolds: f64) -> Result<Answer<f64>, HydraulicsError> {
    const CORRELATION: &str = "Ito's bends";
    /// The least Re (D/r)².
    const TURBULENT_BEND: f64 = 360.0;
    const SLOWEST_REYNOLDS: f64 = 2e4;
    const FASTEST_REYNOLDS: f64 = 4e5;
    bend.check()?;
    let reynolds = Quantity::Reynolds.above_zero(reynolds)?;
    let radius = bend.radius_ratio;
    let k = 0.00431
        * ito_factor(radius, bend.angle_deg)
        * bend.angle_deg
        * pow(reynolds, -0.17)
        * pow(radius, 0.84);
    let least = SLOWEST_REYNOLDS.max(TURBULENT_BEND * radius * radius);
    let range = (least, FASTEST_REYNOLDS.max(least));
    let reynolds_outside = Warning::outside(CORRELATION, Quantity::Reynolds, reynolds, range);
    let outside = bend.outside(CORRELATION, CHARTED_RADII, (45.0, 180.0));
    answer(k, outside.chain(reynolds_outside))
}

/// Ito's α, by how much the loss exceeds that of a slight bend.
fn ito_factor(radius_ratio: f64, angle_deg: f64) -> f64 {
    if radius_ratio > 50.0 {
        return 1.0;
    }
    let eighth = 1.0 + 5.13 * pow(radius_ratio, -1.47);
    let quarter = if radius_ratio < 9.85 {
        0.95 + 4.42 * pow(radius_ratio, -1.96)
    } else {
        1.0
    };
    let half = 1.0 + 5.06 * pow(radius_ratio, -4.52);
    along(&[(45.0, eighth), (90.0, quarter), (180.0, half)], angle_deg)
}

/// Computes the loss coefficient of a bend after Rennels, over the friction factor of the pipe.
///
/// # Equation
/// K = f θ r/D + (0.10 + 2.4 f) s + 6.6 f (√s + s) / (r/D)^(4θ/π), s = sin(θ/2), θ in radians
///
/// # Inputs
/// `bend`: bore above 0 m, radius ratio above 0, angle above 0° and up to 360°. `friction_factor`: Darcy's, above 0.
///
/// # Returns
/// K on the velocity in the bore.
///
/// # Validity
/// Angles up to 180° and r/D from 0.5, where the inside edge is sharp. Outside the answer carries a warning; the
/// upper limit r/D = 20 is that of this crate.
///
/// # Accuracy
/// Not stated in what was read; made from smooth pipe alone.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::OutOfRange`], [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// D. C. Rennels, H. M. Hudson, Pipe Flow: A Practical and Comprehensive Guide, Wiley 2012, as printed in the Python package
/// fluids 1.3.1 (`fluids.fittings.bend_rounded`).
///
/// # Checked against
/// `validation/fittings/fluids`
///
/// # Example
/// ```
/// use hydraulics::fittings::bend::{Bend, rennels_bend_k};
/// let elbow = Bend { bore_m: 0.05, radius_ratio: 1.0, angle_deg: 90.0 };
/// assert!((rennels_bend_k(&elbow, 0.018).unwrap().value - 0.3134).abs() < 1e-4);
/// ```
pub fn rennels_bend_k(bend: &Bend, friction_factor: f64) -> Result<Answer<f64>, HydraulicsError> {
    bend.check()?;
    let factor = Quantity::FrictionFactor.above_zero(friction_factor)?;
    let angle = bend.angle_deg * (PI / 180.0);
    let half_sine = sin(0.5 * angle);
    let k = factor * angle * bend.radius_ratio
        + (0.10 + 2.4 * factor) * half_sine
        + 6.6 * factor * (half_sine.max(0.0).sqrt() + half_sine)
            / pow(bend.radius_ratio, 4.0 * angle / PI);
    answer(
        k,
        bend.outside("Rennels's bends", (0.5, 20.0), (0.0, 180.0)),
    )
}

/// Computes the loss coefficient of a mitre of one cut after Crane.
///
/// # Equation
/// K = N f_T, with N = 2, 4, 8, 15, 25, 40, 60 at 0°, 15°, 30°, 45°, 60°, 75°, 90°, along straight lines between
///
/// # Inputs
/// `bore_m`: above 0 m. `angle_deg`: how far the flow is turned, 0° to 90°.
///
/// # Returns
/// K on the velocity in the bore.
///
/// # Validity
/// 0° to 90°; a sharper mitre is refused.
///
/// # Accuracy
/// As [`k_of_length_ratio`](super::crane::k_of_length_ratio).
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::OutOfRange`], [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// Crane Technical Paper 410, 2009, page A-30 (page from memory), as printed in the Python package fluids 1.3.1
/// (`fluids.fittings.bend_miter`).
///
/// # Checked against
/// `validation/fittings/fluids`
///
/// # Example
/// ```
/// let k = hydraulics::fittings::bend::crane_mitre_k(0.0525018, 90.0).unwrap().value;
/// assert!((k - 1.1308).abs() < 1e-4);
/// ```
pub fn crane_mitre_k(bore_m: f64, angle_deg: f64) -> Result<Answer<f64>, HydraulicsError> {
    const LENGTH_RATIOS: [(f64, f64); 7] = [
        (0.0, 2.0),
        (15.0, 4.0),
        (30.0, 8.0),
        (45.0, 15.0),
        (60.0, 25.0),
        (75.0, 40.0),
        (90.0, 60.0),
    ];
    let angle_deg = Quantity::Angle.within(angle_deg, (0.0, 90.0))?;
    super::crane::k_of_length_ratio(along(&LENGTH_RATIOS, angle_deg), bore_m)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::fittings::catalogue::Fitting;

    const SWEEP: Bend = Bend {
        bore_m: 0.05,
        radius_ratio: 1.5,
        angle_deg: 90.0,
    };

    fn each_k(bend: &Bend) -> [Result<Answer<f64>, HydraulicsError>; 3] {
        [
            crane_bend_k(bend),
            ito_bend_k(bend, 1e5),
            rennels_bend_k(bend, 0.018),
        ]
    }

    #[test]
    fn the_impossible_is_refused() {
        let wrong: [fn(&mut Bend); 6] = [
            |bend| bend.bore_m = 0.0,
            |bend| bend.radius_ratio = 0.0,
            |bend| bend.radius_ratio = f64::NAN,
            |bend| bend.angle_deg = 0.0,
            |bend| bend.angle_deg = -90.0,
            |bend| bend.angle_deg = 361.0,
        ];
        for change in wrong {
            let mut bend = SWEEP;
            change(&mut bend);
            assert!(each_k(&bend).iter().all(Result::is_err));
        }
        assert!(ito_bend_k(&SWEEP, 0.0).is_err() && rennels_bend_k(&SWEEP, 0.0).is_err());
        assert!(crane_mitre_k(0.05, 91.0).is_err() && crane_mitre_k(0.05, f64::NAN).is_err());
    }

    #[test]
    fn a_bend_out_of_range_is_told() {
        let warned = |bend: &Bend| each_k(bend).map(|k| k.unwrap().warnings.len());
        assert_eq!(warned(&SWEEP), [0, 0, 0]);
        let sharp = Bend {
            radius_ratio: 0.4,
            ..SWEEP
        };
        assert_eq!(warned(&sharp), [1, 1, 1]);
        let slight = Bend {
            angle_deg: 10.0,
            ..SWEEP
        };
        assert_eq!(warned(&slight), [1, 1, 0]);
        assert_eq!(ito_bend_k(&SWEEP, 1e4).unwrap().warnings.len(), 1);
        assert_eq!(ito_bend_k(&SWEEP, 1e6).unwrap().warnings.len(), 1);
    }

    #[test]
    fn a_mitre_is_the_fitting_of_the_same_name() {
        for (angle_deg, fitting) in [(45.0, Fitting::Mitre45), (90.0, Fitting::Mitre90)] {
            assert_eq!(crane_mitre_k(0.05, angle_deg), fitting.k(0.05));
        }
    }

    proptest! {
        #[test]
        fn a_bend_takes_head_and_more_so_the_further_it_turns(
            radius_ratio in 1.0_f64..20.0, angle_deg in 45.0_f64..170.0, bore_m in 0.02_f64..0.2,
        ) {
            let bend = Bend { bore_m, radius_ratio, angle_deg };
            let further = Bend { angle_deg: angle_deg + 5.0, ..bend };
            let (here, there) = (crane_bend_k(&bend).unwrap().value, crane_bend_k(&further).unwrap().value);
            prop_assert!(here > 0.0 && there > here);
            prop_assert!(rennels_bend_k(&bend, 0.02).unwrap().value > 0.0);
            prop_assert!(crane_mitre_k(bore_m, 0.5 * angle_deg).unwrap().value < crane_mitre_k(bore_m, 0.5 * angle_deg + 4.0).unwrap().value);
        }

        #[test]
        fn ito_falls_with_reynolds_number(radius_ratio in 1.0_f64..20.0, reynolds in 1e4_f64..1e6) {
            let bend = Bend { radius_ratio, ..SWEEP };
            prop_assert!(ito_bend_k(&bend, reynolds).unwrap().value > ito_bend_k(&bend, 1.1 * reynolds).unwrap().value);
        }
    }
}
