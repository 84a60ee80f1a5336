//! A whole pad as one network: bodies of water, junctions, lines and pumps, solved for every flow and head at once.
//!
//! The surface of the pool is the datum, 0 m. The equations are those of conservation: what flows into a junction flows
//! out of it, and around every loop the heads sum to nothing. Reading a site and naming its lines is no matter of this
//! module, and neither is what a limit says of a flow.

mod error;
mod laws;
mod network;
mod newton;
mod one_way;
mod reach;
mod solution;
mod solver;
mod tee;
mod tees;

pub use error::{CircuitError, PumpEnd, TeeFault};
pub use network::{Circuit, Line, Link, LinkKind, Node, Part, Passage, Pump};
pub use solution::{LinkWarning, PartLoss, Solution, TeeLoss};
pub use solver::{CircuitSolver, Start};
pub use tee::{Leg, Tee};

use crate::water::Water;

/// Solves a circuit for all its flows and heads.
///
/// # Equation
/// At every junction Σ Q = 0, what is drawn off included. Along every line H_from − H_to = Σ h(Q) + lift; along every
/// running pump H_to − H_from = H(Q, n). At a tee each leg takes a head that hangs on how the flow divides, and that may
/// be negative; it is sought from solution to solution until it reproduces itself.
///
/// # Inputs
/// `circuit`: its structure and what it consists of. `water`: density and viscosity, the same everywhere.
///
/// # Returns
/// Flow of each link, head of each node, loss and share of each part, and what to warn of.
///
/// # Validity
/// Steady flow; tees as [`Tee`] says. A line with lift, a line with a check valve, and a pump pass water from `from` to `to` only; a pump at
/// 0 rpm and a shut line pass none. Where such a link holds back, its flow is 0. A node that no open way joins to a body
/// of water has no head, because nothing determines it.
///
/// # Accuracy
/// Heads to 1e-9 m (to 1e-14 of the largest head beyond 1e5 m), balance at each junction to 1e-12 of the largest flow. Flow
/// through a line of nothing but losses with the square of flow is uncertain by the root of 1e-9 m over its coefficient
/// where hardly any head drives it. Two lines without any loss between the same nodes share their flow in no way that
/// physics knows. A tee that drags one stream by another may leave more than one answer; the one nearest to tees without
/// loss is given.
///
/// # Errors
/// [`CircuitError`]: what is wrong in the structure or in a part, by its place; or
/// [`CircuitError::DidNotConverge`], rather than a number that is none.
///
/// # Source
/// E. Todini, S. Pilati, "A gradient algorithm for the analysis of pipe networks", in Computer Applications in Water
/// Supply, vol. 1 (1988) 1-20 (from memory). That an answer exists and is the only one follows from head that rises with
/// flow in every line: M. Collins et al., "Solving the pipe network analysis problem using optimization techniques",
/// Management Science 24 (1978) 747-760 (from memory).
///
/// # Checked against
/// `validation/networks/scipy`, `validation/networks/crane-tp410-7-19`
///
/// # Example
/// ```
/// use hydraulics::circuit::{Circuit, Line, Link, LinkKind, Node, Part, Passage, Pump, solve_circuit};
/// use hydraulics::{element::Element, pump::PumpCurve, water::Water};
/// let line = |k| LinkKind::Line(Line {
///     parts: vec![Part::one(Element::MinorLoss { k, bore_m: 0.05 })],
///     lift_m: 0.0,
/// });
/// let curve = PumpCurve::quadratic([20.0, 0.0, 2e5], 3450.0).unwrap();
/// let link = |from, to, kind| Link { from, to, kind, passage: Passage::Open };
/// let circuit = Circuit {
///     nodes: vec![Node::Body { level_m: 0.0 }, Node::JUNCTION, Node::JUNCTION],
///     links: vec![
///         link(0, 1, line(4.0)),
///         link(1, 2, LinkKind::Pump(Pump { curve, speed_rpm: 1725.0 })),
///         link(2, 0, line(20.0)),
///     ],
///     tees: vec![],
/// };
/// let solution = solve_circuit(&circuit, &Water::fresh(293.15).unwrap()).unwrap();
/// // 24 velocity heads of a 50 mm bore are 317 400 Q² m, and the pump gives 5 - 200 000 Q² m at half its speed.
/// let expected_m3s = (5.0_f64 / (200_000.0 + 317_400.0)).sqrt();
/// assert!((solution.flows_m3s[0] / expected_m3s - 1.0).abs() < 1e-4);
/// ```
pub fn solve_circuit(circuit: &Circuit, water: &Water) -> Result<Solution, CircuitError> {
    let mut solver = CircuitSolver::new(circuit.clone(), water)?;
    solver.solve(Start::Afresh).cloned()
}
