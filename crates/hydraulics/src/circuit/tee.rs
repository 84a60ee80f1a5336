//! Tees and wyes in a circuit: what three legs that meet do to one another.
//!
//! The loss of a leg hangs on how the flow divides, and it may be negative: a fast stream drags a slow one along. It is
//! counted along the leg outwards, from the head of the combined flow.

use super::error::{CircuitError, TeeFault};
use super::network::{Circuit, Link, Node};
use crate::constants::STANDARD_GRAVITY_M_S2;
use crate::error::HydraulicsError;
use crate::fittings::crane::k_of_length_ratio;
use crate::fittings::tee::{
    TeeFlow, converging_branch_k, converging_run_k, diverging_branch_k, diverging_run_k,
};
use crate::quantity::Quantity;
use crate::warning::{Answer, Warning};

/// Crane's length ratios of a tee with all its flow one way.
const THROUGH_RUN: f64 = 20.0;
const THROUGH_BRANCH: f64 = 60.0;

/// Shares of the branch at which Crane's laws jump, or where the branch turns round. Within this much of them the
/// circuit goes along a straight line: a search finds no flow in a gap.
const GAPS: [f64; 5] = [-0.6, -0.4, 0.0, 0.4, 0.6];
const HALF_GAP: f64 = 0.02;

/// Crane's wyes and tees begin at this angle, in degrees.
const ANGLES_DEG: (f64, f64) = (30.0, 90.0);

/// Three links that meet in a tee or a wye.
///
/// # Validity
/// Where the combined flow is that of the branch, Crane has no law for the split; each leg then counts as flow through
/// the branch, 60 f_T on its own velocity. Where a leg is shut the other two are a plain fitting, 20 or 60 f_T, which counts
/// along the leg that is not the pump's, so that the junction's head is the pump's. Crane's laws jump by up to 7 %: within
/// 0.02 of those shares of the branch they are joined by a straight line.
///
/// # Source
/// [`fittings::tee`](crate::fittings::tee); plain flow after Crane Technical Paper 410, as the
/// [`catalogue`](crate::fittings::catalogue).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tee {
    /// The junction; nothing else meets there.
    pub node: usize,
    /// The legs in one straight line. The branch of a wye leans away from the first.
    pub run: [Leg; 2],
    /// The leg at the side.
    pub branch: Leg,
    /// Bore of the run, m.
    pub run_bore_m: f64,
    /// Bore of the branch, at most that of the run, m.
    pub branch_bore_m: f64,
    /// Angle between the branch and the second leg of the run: 90 for a tee.
    pub angle_deg: f64,
    /// What it takes over what the law says: 1 as printed.
    pub loss_factor: f64,
}

/// A leg of a tee.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Leg {
    /// A link.
    Link(usize),
    /// What is drawn from the junction.
    Drawn,
}

impl Leg {
    fn link(self) -> Option<usize> {
        match self {
            Self::Link(link) => Some(link),
            Self::Drawn => None,
        }
    }
}

/// How much water leaves a tee by each of its legs: the two of the run, and the branch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Outflows {
    /// m³/s; negative where it comes in.
    pub(super) m3s: [f64; 3],
    /// Whether a leg is shut off.
    pub(super) shut: [bool; 3],
    /// Whether a leg is the pump's: it has the head of the junction.
    pub(super) of_pump: [bool; 3],
}

impl Tee {
    pub(super) fn legs(&self) -> [Leg; 3] {
        [self.run[0], self.run[1], self.branch]
    }

    /// The links among the legs, with their places among the three.
    pub(super) fn links(&self) -> impl Iterator<Item = (usize, usize)> {
        let legs = self.legs().into_iter().enumerate();
        legs.filter_map(|(place, leg)| Some((place, leg.link()?)))
    }

    /// Says which way a link that is one of the legs counts: 1 where it begins at the tee.
    pub(super) fn outwards(&self, link: &Link) -> f64 {
        if link.from == self.node { 1.0 } else { -1.0 }
    }

    /// Checks that three different legs, and nothing else, meet at the junction, and that a tee can be of these bores.
    pub(super) fn check(&self, circuit: &Circuit, tee: usize) -> Result<(), CircuitError> {
        let fault = |fault| CircuitError::Tee { tee, fault };
        let Some(Node::Junction { .. }) = circuit.nodes.get(self.node) else {
            return Err(fault(TeeFault::NoJunction));
        };
        let meets = |it: &Link| it.from == self.node || it.to == self.node;
        let links: Vec<usize> = self.links().map(|(_, link)| link).collect();
        let are_legs = links
            .iter()
            .all(|link| circuit.links.get(*link).is_some_and(meets));
        let differ = links
            .iter()
            .enumerate()
            .all(|(place, link)| !links[..place].contains(link));
        let all = circuit.links.iter().filter(|it| meets(it)).count();
        if !are_legs || !differ || links.len() < 2 || all != links.len() {
            return Err(fault(TeeFault::OtherLegs));
        }
        self.checked_bores()
            .map_err(|source| CircuitError::TeeShape { tee, source })
    }

    fn checked_bores(&self) -> Result<(), HydraulicsError> {
        for share in [0.5, 1.0] {
            let flow = self.split(share);
            for law in [
                converging_branch_k,
                converging_run_k,
                diverging_branch_k,
                diverging_run_k,
            ] {
                law(&flow)?;
            }
        }
        Quantity::Angle.within(self.angle_deg, (0.0, 90.0))?;
        Quantity::LossFactor
            .above_zero(self.loss_factor)
            .map(|_| ())
    }

    fn split(&self, branch_share: f64) -> TeeFlow {
        TeeFlow {
            run_bore_m: self.run_bore_m,
            branch_bore_m: self.branch_bore_m,
            branch_share,
            angle_deg: self.angle_deg,
        }
    }

    /// Computes the head that each leg takes, outwards from the head of the combined flow, m.
    pub(super) fn heads_m(&self, outflows: &Outflows) -> [f64; 3] {
        self.heads_by_law_m(outflows)
            .map(|head_m| self.loss_factor * head_m)
    }

    fn heads_by_law_m(&self, outflows: &Outflows) -> [f64; 3] {
        let flows = &outflows.m3s;
        if let Some(shut) = outflows.shut.iter().position(|shut| *shut) {
            return self.plain_heads_m(outflows, shut);
        }
        let combined = largest(flows);
        if combined == BRANCH {
            let leg = |flow: f64| signed(THROUGH_BRANCH, self.run_bore_m, flow);
            return [leg(flows[0]), leg(flows[1]), 0.0];
        }
        let most_m3s = flows[combined].abs();
        if most_m3s <= f64::MIN_POSITIVE {
            return [0.0; 3];
        }
        let velocity_head_m = velocity_head_m(most_m3s, self.run_bore_m);
        // Where the combined flow comes in, it splits.
        let inwards = if flows[combined] < 0.0 { 1.0 } else { -1.0 };
        let share = (flows[BRANCH] / most_m3s).clamp(-1.0, 1.0);
        let mut heads_m = [0.0; 3];
        heads_m[1 - combined] = inwards * velocity_head_m * self.run_k(share * inwards, inwards);
        heads_m[BRANCH] = velocity_head_m * joined(share, |share| self.branch_k(share));
        heads_m
    }

    /// The loss of the run at a share of the branch, not negative.
    fn run_k(&self, share: f64, inwards: f64) -> f64 {
        let law = if inwards > 0.0 {
            diverging_run_k
        } else {
            converging_run_k
        };
        value(law(&self.split(share.max(0.0))))
    }

    /// The loss of the branch outwards, at a share that is negative where the branch comes in.
    fn branch_k(&self, share: f64) -> f64 {
        let flow = self.split(share.abs());
        if share < 0.0 {
            -value(converging_branch_k(&flow))
        } else {
            value(diverging_branch_k(&flow))
        }
    }

    /// Two legs, or none, with all the flow.
    fn plain_heads_m(&self, outflows: &Outflows, shut: usize) -> [f64; 3] {
        let mut heads_m = [0.0; 3];
        let flows = &outflows.m3s;
        let open = |leg: &usize| *leg != shut && !outflows.shut[*leg];
        let Some(out) = (0..3).filter(open).find(|leg| flows[*leg] > 0.0) else {
            return heads_m;
        };
        let other = (0..3).filter(open).find(|leg| *leg != out);
        let leg = other.filter(|_| outflows.of_pump[out]).unwrap_or(out);
        heads_m[leg] = if shut == BRANCH {
            signed(THROUGH_RUN, self.run_bore_m, flows[leg])
        } else {
            signed(THROUGH_BRANCH, self.branch_bore_m, flows[leg])
        };
        heads_m
    }

    /// Says what must be said beside the heads.
    pub(super) fn warning(&self, outflows: &Outflows) -> Option<Warning> {
        let is_split = !outflows.shut.contains(&true);
        let combined = largest(&outflows.m3s);
        let leans_away = combined == 1 && self.angle_deg < ANGLES_DEG.1;
        if is_split && (combined == BRANCH || leans_away) {
            return Some(Warning::NoSplitLaw);
        }
        Warning::outside("Crane's tees", Quantity::Angle, self.angle_deg, ANGLES_DEG)
    }
}

/// The place of the branch among the legs.
const BRANCH: usize = 2;

fn largest(flows: &[f64; 3]) -> usize {
    // Of equal ones the run: with one leg of it still, all of the flow passes the branch and the other leg.
    let mut largest = 0;
    for leg in 1..3 {
        if flows[leg].abs() > flows[largest].abs() {
            largest = leg;
        }
    }
    largest
}

/// A law along a straight line where it jumps.
fn joined(share: f64, law: impl Fn(f64) -> f64) -> f64 {
    let Some(gap) = GAPS.iter().find(|gap| (share - **gap).abs() < HALF_GAP) else {
        return law(share);
    };
    let (low, high) = (law(gap - HALF_GAP), law(gap + HALF_GAP));
    low + (high - low) * (share - gap + HALF_GAP) / (2.0 * HALF_GAP)
}

fn velocity_head_m(flow_m3s: f64, bore_m: f64) -> f64 {
    let velocity = flow_m3s / (0.25 * core::f64::consts::PI * bore_m * bore_m);
    velocity * velocity / (2.0 * STANDARD_GRAVITY_M_S2)
}

/// Head of a plain fitting, of the sign of the flow.
fn signed(length_ratio: f64, bore_m: f64, flow_m3s: f64) -> f64 {
    let k = value(k_of_length_ratio(length_ratio, bore_m));
    velocity_head_m(flow_m3s, bore_m).copysign(flow_m3s) * k
}

/// The value of a law whose inputs were checked when the circuit was taken.
fn value(answer: Result<Answer<f64>, HydraulicsError>) -> f64 {
    answer.map_or(0.0, |answer| answer.value)
}
