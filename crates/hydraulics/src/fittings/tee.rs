//! Tees and wyes whose flow splits or joins, after Crane.
//!
//! K stands on the velocity of the *combined* flow, and may be negative: the faster stream gives
//! head to the slower one. A tee with all its flow one way is a plain fitting of the
//! [`catalogue`](super::catalogue), where it has another K; Crane's two tables do not meet.

use core::f64::consts::PI;

use numerics::elementary::cos;

use super::{along, answer};
use crate::error::HydraulicsError;
use crate::quantity::Quantity;
use crate::warning::{Answer, Warning};

/// Crane's factor F of the branch angle, in degrees.
const ANGLE_FACTORS: [(f64, f64); 4] = [(30.0, 1.74), (45.0, 1.41), (60.0, 1.0), (90.0, 0.0)];

/// Crane treats wyes up to 60 degrees and the tee of 90; what lies between counts to the nearer.
const WYE_ENDS_DEG: f64 = 75.0;

/// A tee at work. The run has one bore on both sides.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TeeFlow {
    /// Bore of the run and of the pipe with the combined flow, in m.
    pub run_bore_m: f64,
    /// Bore of the branch in m, at most that of the run.
    pub branch_bore_m: f64,
    /// Flow in the branch over the combined flow, 0 to 1.
    pub branch_share: f64,
    /// Angle between the branch and the run, in degrees: 90 for a tee.
    pub angle_deg: f64,
}

/// A tee after its check, in Crane's terms.
struct Checked {
    /// Q_branch / Q_combined.
    share: f64,
    /// β², branch area over run area.
    area_ratio: f64,
    angle_deg: f64,
}

impl Checked {
    /// The velocity of the branch over that of the combined flow.
    fn velocity_ratio(&self) -> f64 {
        self.share / self.area_ratio
    }

    fn is_wye(&self) -> bool {
        self.angle_deg < WYE_ENDS_DEG
    }

    fn answer(&self, k: f64) -> Result<Answer<f64>, HydraulicsError> {
        let angles = (30.0, 90.0);
        answer(
            k,
            Warning::outside("Crane's tees", Quantity::Angle, self.angle_deg, angles),
        )
    }
}

impl TeeFlow {
    fn checked(&self) -> Result<Checked, HydraulicsError> {
        let run_bore_m = Quantity::Bore.above_zero(self.run_bore_m)?;
        let branch_bore_m = Quantity::Bore.above_zero(self.branch_bore_m)?;
        Quantity::Bore.within(branch_bore_m, (0.0, run_bore_m))?;
        let ratio = branch_bore_m / run_bore_m;
        Quantity::Angle.above_zero(self.angle_deg)?;
        Ok(Checked {
            share: Quantity::BranchShare.within(self.branch_share, (0.0, 1.0))?,
            area_ratio: ratio * ratio,
            angle_deg: Quantity::Angle.within(self.angle_deg, (0.0, 90.0))?,
        })
    }
}

/// Computes the loss coefficient of the branch of a tee in which two flows join.
///
/// # Equation
/// K = C [1 + (q/β²)² − 2 (1 − q)² − F q²/β²], q = Q_branch / Q_combined, β = D_branch / D_run; C = 1 up to β² = 0.35, else
/// 0.9 (1 − q) up to q = 0.4, else 0.55; F = 1.74, 1.41, 1, 0 at 30°, 45°, 60°, 90°, along straight lines between
///
/// # Inputs
/// `tee`: bores above 0 m, the branch no wider than the run; share from 0 to 1; angle above 0° and up to 90°.
///
/// # Returns
/// K on the velocity of the combined flow. It is negative where little flows in the branch.
///
/// # Validity
/// Turbulent flow, sharp corners; angles below 30° carry a warning. C jumps by 2 % at q = 0.4.
///
/// # Accuracy
/// Not stated in what was read.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::OutOfRange`], [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// Crane Technical Paper 410, 2009, chapter 2 with its errata, as printed in the Python package fluids 1.3.1
/// (`fluids.fittings.K_branch_converging_Crane`).
///
/// # Checked against
/// `validation/fittings/fluids`, `validation/handbook-fittings/crane-tp410-7-35`
///
/// # Example
/// ```
/// use hydraulics::fittings::tee::{TeeFlow, converging_branch_k};
/// let tee = TeeFlow { run_bore_m: 0.1, branch_bore_m: 0.1, branch_share: 0.25, angle_deg: 90.0 };
/// assert!((converging_branch_k(&tee).unwrap().value + 0.0421875).abs() < 1e-15);
/// ```
pub fn converging_branch_k(tee: &TeeFlow) -> Result<Answer<f64>, HydraulicsError> {
    let tee = tee.checked()?;
    let rest = 1.0 - tee.share;
    let scale = match (tee.area_ratio <= 0.35, tee.share <= 0.4) {
        (true, _) => 1.0,
        (false, true) => 0.9 * rest,
        (false, false) => 0.55,
    };
    let dragged = along(&ANGLE_FACTORS, tee.angle_deg) / tee.area_ratio * tee.share * tee.share;
    let velocity = tee.velocity_ratio();
    tee.answer(scale * (1.0 + velocity * velocity - 2.0 * rest * rest - dragged))
}

/// Computes the loss coefficient of the run of a tee in which two flows join.
///
/// # Equation
/// Wye: K = 1 − (1 − q)² − F q²/β², F = 1.74, 1.41, 1 at 30°, 45°, 60°. Tee: K = 1.55 q − q². q and β as
/// [`converging_branch_k`]
///
/// # Inputs
/// As [`converging_branch_k`].
///
/// # Returns
/// K on the velocity of the combined flow. It may be negative in a wye.
///
/// # Validity
/// As [`converging_branch_k`]. Crane gives wyes up to 60° and the tee; the change is at 75°.
///
/// # Accuracy
/// Not stated in what was read.
///
/// # Errors
/// As [`converging_branch_k`].
///
/// # Source
/// Crane Technical Paper 410, 2009, chapter 2 with its errata, as printed in the Python package fluids 1.3.1
/// (`fluids.fittings.K_run_converging_Crane`).
///
/// # Checked against
/// `validation/fittings/fluids`, `validation/handbook-fittings/crane-tp410-7-35`
///
/// # Example
/// ```
/// use hydraulics::fittings::tee::{TeeFlow, converging_run_k};
/// let tee = TeeFlow { run_bore_m: 0.1, branch_bore_m: 0.1, branch_share: 0.25, angle_deg: 90.0 };
/// assert!((converging_run_k(&tee).unwrap().value - 0.325).abs() < 1e-15);
/// ```
pub fn converging_run_k(tee: &TeeFlow) -> Result<Answer<f64>, HydraulicsError> {
    let tee = tee.checked()?;
    let (share, rest) = (tee.share, 1.0 - tee.share);
    if tee.is_wye() {
        let factor = along(&ANGLE_FACTORS, tee.angle_deg.min(60.0));
        tee.answer(1.0 - rest * rest - factor / tee.area_ratio * share * share)
    } else {
        tee.answer(1.55 * share - share * share)
    }
}

/// Computes the loss coefficient of the branch of a tee in which the flow splits.
///
/// # Equation
/// K = G [1 + H (q/β²)² − J (q/β²) cos θ]. Wye: H = 1, J = 2; G = 1.1 − 0.7 q up to q = 0.4, else 0.85, where β² ≤ 0.35;
/// otherwise G = 1 − 0.6 q up to q = 0.6, else 0.6. Tee: G = H = 1, J = 2 at β = 2/3; G = 1 + 0.3 q², H = 0.3, J = 0 at β = 1
///
/// # Inputs
/// As [`converging_branch_k`].
///
/// # Returns
/// K on the velocity of the combined flow.
///
/// # Validity
/// As [`converging_branch_k`]. Crane gives wyes up to 60° and the tee; the change is at 75°. For the tee he gives β up
/// to 2/3 and β = 1; the nearer one counts, with the change at 5/6.
///
/// # Accuracy
/// Not stated in what was read. G jumps by up to 7 %.
///
/// # Errors
/// As [`converging_branch_k`].
///
/// # Source
/// Crane Technical Paper 410, 2009, chapter 2 with its errata, as described in the documentation of the Python package
/// fluids 1.3.1 (`fluids.fittings.K_branch_diverging_Crane`). Its code departs from its own text: it gives the wye of 60°
/// the H and J of the tee, and tees with 2/3 < β < 0.816 one law for G and the other for H. This function follows the text.
///
/// # Checked against
/// `validation/fittings/fluids`, `validation/handbook-fittings/crane-tp410-7-36`
///
/// # Example
/// ```
/// use hydraulics::fittings::tee::{TeeFlow, diverging_branch_k};
/// let tee = TeeFlow { run_bore_m: 0.1, branch_bore_m: 0.1, branch_share: 0.5, angle_deg: 90.0 };
/// assert!((diverging_branch_k(&tee).unwrap().value - 1.155625).abs() < 1e-15);
/// ```
pub fn diverging_branch_k(tee: &TeeFlow) -> Result<Answer<f64>, HydraulicsError> {
    /// β² midway between the two bores that Crane gives for the tee.
    const EQUAL_TEE_AREA_RATIO: f64 = 25.0 / 36.0;
    let tee = tee.checked()?;
    let (share, velocity) = (tee.share, tee.velocity_ratio());
    if !tee.is_wye() && tee.area_ratio > EQUAL_TEE_AREA_RATIO {
        let scale = 1.0 + 0.3 * share * share;
        return tee.answer(scale * (1.0 + 0.3 * velocity * velocity));
    }
    let scale = match (tee.is_wye(), tee.area_ratio <= 0.35) {
        (false, _) => 1.0,
        (true, true) if share <= 0.4 => 1.1 - 0.7 * share,
        (true, true) => 0.85,
        (true, false) if share <= 0.6 => 1.0 - 0.6 * share,
        (true, false) => 0.6,
    };
    let turned = cos(tee.angle_deg * (PI / 180.0));
    tee.answer(scale * (1.0 + velocity * velocity - 2.0 * velocity * turned))
}

/// Computes the loss coefficient of the run of a tee in which the flow splits.
///
/// # Equation
/// K = M q²; M = 0.4 up to β² = 0.4, else 2 (2 q − 1) up to q = 0.5, else 0.3 (2 q − 1). q and β as [`converging_branch_k`]
///
/// # Inputs
/// As [`converging_branch_k`]. The angle is checked and else makes no difference.
///
/// # Returns
/// K on the velocity of the combined flow. It is negative while less than half leaves by the branch of an equal tee.
///
/// # Validity
/// As [`converging_branch_k`].
///
/// # Accuracy
/// Not stated in what was read.
///
/// # Errors
/// As [`converging_branch_k`].
///
/// # Source
/// Crane Technical Paper 410, 2009, chapter 2 with its errata, as printed in the Python package fluids 1.3.1
/// (`fluids.fittings.K_run_diverging_Crane`).
///
/// # Checked against
/// `validation/fittings/fluids`, `validation/handbook-fittings/crane-tp410-7-36`
///
/// # Example
/// ```
/// use hydraulics::fittings::tee::{TeeFlow, diverging_run_k};
/// let tee = TeeFlow { run_bore_m: 0.1, branch_bore_m: 0.1, branch_share: 0.25, angle_deg: 90.0 };
/// assert!((diverging_run_k(&tee).unwrap().value + 0.0625).abs() < 1e-15);
/// ```
pub fn diverging_run_k(tee: &TeeFlow) -> Result<Answer<f64>, HydraulicsError> {
    let tee = tee.checked()?;
    let excess = 2.0 * tee.share - 1.0;
    let scale = match (tee.area_ratio <= 0.4, tee.share <= 0.5) {
        (true, _) => 0.4,
        (false, true) => 2.0 * excess,
        (false, false) => 0.3 * excess,
    };
    tee.answer(scale * tee.share * tee.share)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const TEE: TeeFlow = TeeFlow {
        run_bore_m: 0.05,
        branch_bore_m: 0.05,
        branch_share: 0.5,
        angle_deg: 90.0,
    };

    type Law = fn(&TeeFlow) -> Result<Answer<f64>, HydraulicsError>;

    const EACH: [Law; 4] = [
        converging_branch_k,
        converging_run_k,
        diverging_branch_k,
        diverging_run_k,
    ];

    #[test]
    fn the_impossible_is_refused() {
        let wrong: [fn(&mut TeeFlow); 8] = [
            |tee| tee.run_bore_m = 0.0,
            |tee| tee.branch_bore_m = -0.05,
            |tee| tee.branch_bore_m = 0.06,
            |tee| tee.branch_share = 1.1,
            |tee| tee.branch_share = -0.1,
            |tee| tee.branch_share = f64::NAN,
            |tee| tee.angle_deg = 0.0,
            |tee| tee.angle_deg = 120.0,
        ];
        for change in wrong {
            let mut tee = TEE;
            change(&mut tee);
            assert!(EACH.iter().all(|k| k(&tee).is_err()));
        }
        let pinhole = TeeFlow {
            branch_bore_m: 1e-100,
            ..TEE
        };
        assert_eq!(
            converging_branch_k(&pinhole),
            Err(HydraulicsError::LossNotFinite)
        );
    }

    #[test]
    fn an_acute_branch_is_told() {
        let acute = TeeFlow {
            angle_deg: 20.0,
            ..TEE
        };
        assert!(EACH.iter().all(|k| k(&acute).unwrap().warnings.len() == 1));
        assert!(EACH.iter().all(|k| k(&TEE).unwrap().warnings.is_empty()));
    }

    #[test]
    fn a_run_without_branch_flow_takes_nothing() {
        let still = TeeFlow {
            branch_share: 0.0,
            ..TEE
        };
        assert!(converging_run_k(&still).unwrap().value.abs() < f64::MIN_POSITIVE);
        assert!(diverging_run_k(&still).unwrap().value.abs() < f64::MIN_POSITIVE);
    }

    /// Crane gives the splitting tee for β = 2/3 and β = 1 only.
    #[test]
    fn a_reduced_tee_goes_with_the_nearer_of_two_sizes() {
        let k = |ratio: f64| {
            let branch_bore_m = ratio * TEE.run_bore_m;
            let tee = TeeFlow {
                branch_bore_m,
                ..TEE
            };
            diverging_branch_k(&tee).unwrap().value
        };
        let (velocity, scale) = (|ratio: f64| 0.5 / (ratio * ratio), 1.0 + 0.3 * 0.25);
        for ratio in [0.5, 0.67, 0.78, 0.83] {
            let small = 1.0 + velocity(ratio) * velocity(ratio);
            assert!((k(ratio) / small - 1.0).abs() < 1e-14);
        }
        for ratio in [0.84, 0.9, 1.0] {
            let equal = scale * (1.0 + 0.3 * velocity(ratio) * velocity(ratio));
            assert!((k(ratio) / equal - 1.0).abs() < 1e-14);
        }
    }

    #[test]
    fn a_still_branch_behind_a_joining_tee_is_sucked_at() {
        let still = TeeFlow {
            branch_share: 0.0,
            ..TEE
        };
        assert!((converging_branch_k(&still).unwrap().value + 0.9).abs() < 1e-15);
    }

    proptest! {
        /// The branch of a wye bends the water less than that of a tee.
        #[test]
        fn a_smaller_angle_takes_less_when_the_flow_splits(share in 0.05_f64..1.0, angle in 30.0_f64..60.0) {
            let wye = TeeFlow { branch_share: share, angle_deg: angle, ..TEE };
            let wider = TeeFlow { angle_deg: angle + 5.0, ..wye };
            let tee = TeeFlow { angle_deg: 90.0, ..wye };
            let k = |tee: &TeeFlow| diverging_branch_k(tee).unwrap().value;
            prop_assert!(k(&wye) < k(&wider) && k(&wider) < k(&tee));
        }

        /// Only the ratio of the bores counts.
        #[test]
        fn a_tee_of_another_size_takes_as_many_velocity_heads(share in 0.0_f64..1.0, ratio in 0.3_f64..1.0, scale in 0.5_f64..4.0) {
            let tee = TeeFlow { branch_bore_m: ratio * TEE.run_bore_m, branch_share: share, ..TEE };
            let scaled = TeeFlow { run_bore_m: scale * tee.run_bore_m, branch_bore_m: scale * tee.branch_bore_m, ..tee };
            for k in EACH {
                let (small, large) = (k(&tee).unwrap().value, k(&scaled).unwrap().value);
                // The ratio of the bores is rounded twice, and stands in the fourth power of terms up to 124.
                prop_assert!((small - large).abs() < 1e-12);
            }
        }

        /// The streams that join or part lose energy together, whatever one gives to the other.
        #[test]
        fn the_whole_tee_makes_no_energy(share in 0.0_f64..1.0) {
            let tee = TeeFlow { branch_share: share, ..TEE };
            let power = |branch: f64, run: f64| share * branch + (1.0 - share) * run;
            let k = |k: Law| k(&tee).unwrap().value;
            prop_assert!(power(k(converging_branch_k), k(converging_run_k)) > -1e-12);
            prop_assert!(power(k(diverging_branch_k), k(diverging_run_k)) > -1e-12);
        }
    }
}
