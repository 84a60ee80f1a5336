//! How the plumbing that a site states divides the flow among lines beside one another.
//!
//! No curve of the pump is needed: whatever flow passes it is fed into the lines behind it and drawn from those before it.

use crate::circuit::{PUMP_INLET, PUMP_OUTLET};
use crate::network::{Driven, Network, NetworkProblem};
use hydraulics::circuit::{CircuitSolver, Start};
use hydraulics::water::Water;
use numerics::roots::bracketed;
use records::Site;
use std::cell::RefCell;

/// Flows are found to this closeness, m³/s: a hundredth of a gallon per minute.
const TOLERANCE_M3S: f64 = 6e-7;
/// A flow to make the network with, m³/s; the solver is given others later.
const ANY_FLOW_M3S: f64 = 1e-3;

/// The lines of a site, ready to divide any flow.
pub(crate) struct Division {
    solver: RefCell<CircuitSolver>,
    lines: Vec<String>,
    inlet: usize,
    outlet: usize,
}

impl Division {
    /// Takes the lines of a site with some of them shut.
    pub(crate) fn of(
        site: &Site,
        closed: &[String],
        water: &Water,
    ) -> Result<Self, NetworkProblem> {
        let network = Network::of(site, closed, Driven::ByFlow(ANY_FLOW_M3S))?;
        let ends = network.end(PUMP_INLET).zip(network.end(PUMP_OUTLET));
        let (inlet, outlet) = ends.ok_or(NetworkProblem::NoLines)?;
        let solver = CircuitSolver::new(network.circuit, water)
            .map_err(|error| NetworkProblem::unsolved(site, error))?;
        Ok(Self {
            solver: RefCell::new(solver),
            lines: site.lines.iter().map(|line| line.name.clone()).collect(),
            inlet,
            outlet,
        })
    }

    /// Finds the place of a line.
    pub(crate) fn line(&self, name: &str) -> Option<usize> {
        self.lines.iter().position(|line| line == name)
    }

    /// Finds the flow in a line, by its place in the site, where the pump moves `total_m3s`.
    pub(crate) fn of_line_m3s(&self, line: usize, total_m3s: f64) -> Option<f64> {
        let mut solver = self.solver.borrow_mut();
        solver.set_drawn_m3s(self.inlet, total_m3s).ok()?;
        solver.set_drawn_m3s(self.outlet, -total_m3s).ok()?;
        let solution = solver.solve(Start::Last).ok()?;
        solution.flows_m3s.get(line).map(|flow| flow.abs())
    }

    /// Finds the flow that the pump moves where a line passes `of_line_m3s`; `None` where that is more than `most_m3s`.
    pub(crate) fn total_m3s(&self, line: usize, of_line_m3s: f64, most_m3s: f64) -> Option<f64> {
        let beyond = |total_m3s: f64| {
            let flow = self.of_line_m3s(line, total_m3s);
            flow.map_or(f64::NAN, |flow| flow - of_line_m3s)
        };
        // Of all that passes the pump a line passes a part, so the pump moves no less.
        bracketed(beyond, of_line_m3s, most_m3s, TOLERANCE_M3S).ok()
    }
}
