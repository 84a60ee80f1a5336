//! The whole pad solved at a speed: what flows where, what each part takes, what is left at the pump's inlet, and which
//! limits are kept.

mod limits;
mod reading;

use crate::network::{Driven, Network, NetworkProblem};
use crate::result::Limit;
use crate::surroundings::Surroundings;
use hydraulics::Warning;
use hydraulics::circuit::{CircuitError, CircuitSolver, Solution, Start};
use records::Site;

/// What is asked of a pad.
#[derive(Clone, Copy, Debug)]
pub struct PadQuestion<'a> {
    /// The speed of the pump, rpm.
    pub speed_rpm: f64,
    /// The lines that are shut.
    pub closed: &'a [String],
    /// Temperature of the water, K; `None` takes the site's own.
    pub temperature_k: Option<f64>,
}

/// A pad at one speed.
#[derive(Clone, Debug, PartialEq)]
pub struct SolvedPad {
    /// The speed, rpm.
    pub speed_rpm: f64,
    /// Flow through the pump, m³/s.
    pub flow_m3s: f64,
    /// Total head of the pump, m.
    pub head_m: f64,
    /// The lines, in the order of the site.
    pub lines: Vec<SolvedLine>,
    /// Of the power that the pump gives, the part that lifts water.
    pub lift_share: Option<f64>,
    /// Net positive suction head at the pump's inlet, m, where the height of the pump is stated.
    pub npsh_available_m: Option<f64>,
    /// Net positive suction head that the maker's curve asks for, m.
    pub npsh_required_m: Option<f64>,
    /// Gauge pressure at the inlet of the filter, at the height of the water, Pa.
    pub filter_pressure_pa: Option<f64>,
    /// The limits, with the speed at which each is reached.
    pub limits: Vec<SolvedLimit>,
    /// What must be said beside the numbers, with the line.
    pub warnings: Vec<(String, Warning)>,
}

/// A line of a solved pad.
#[derive(Clone, Debug, PartialEq)]
pub struct SolvedLine {
    /// Its name.
    pub line: String,
    /// Whether it is shut.
    pub shut: bool,
    /// Flow, m³/s, positive as the site states its ends.
    pub flow_m3s: f64,
    /// Head that its parts, and the tees that it ends in, take, m.
    pub head_loss_m: f64,
    /// Velocity in its narrowest pipe, m/s.
    pub velocity_m_s: Option<f64>,
    /// Its parts, in their order.
    pub parts: Vec<SolvedPart>,
    /// The tees that it ends in.
    pub tees: Vec<SolvedTee>,
}

/// What a tee takes of a line that ends in it.
#[derive(Clone, Debug, PartialEq)]
pub struct SolvedTee {
    /// The end at which it stands.
    pub at: String,
    /// Head along the line, m; negative where the stream is dragged along by the other.
    pub head_m: f64,
    /// Its part of the power that the pump gives.
    pub share: Option<f64>,
}

/// A part of a solved line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SolvedPart {
    /// Head along it, m; `None` where what it takes is not stated.
    pub head_m: Option<f64>,
    /// Its part of the power that the pump gives.
    pub share: Option<f64>,
}

/// A limit of a solved pad.
#[derive(Clone, Debug, PartialEq)]
pub struct SolvedLimit {
    /// The limit; its speed is the one at which the stated plumbing and the maker's curve reach it.
    pub limit: Limit,
    /// Whether it is kept at the speed that was asked.
    pub kept: bool,
}

/// Solves a pad at a speed.
///
/// # Errors
/// Why the site is no network, or has no answer.
pub fn solve_pad(site: &Site, question: &PadQuestion<'_>) -> Result<SolvedPad, NetworkProblem> {
    let mut solving = Solving::of(site, question)?;
    let solution = solving
        .at(question.speed_rpm, Start::Afresh)
        .map_err(|error| NetworkProblem::unsolved(site, error))?
        .clone();
    let limits = solving.limits(&solution, question.speed_rpm);
    Ok(SolvedPad {
        limits,
        ..solving.pad(&solution, question.speed_rpm)
    })
}

/// A pad that can be solved at any speed.
struct Solving<'a> {
    site: &'a Site,
    closed: &'a [String],
    around: Surroundings,
    network: Network,
    solver: CircuitSolver,
}

impl<'a> Solving<'a> {
    fn of(site: &'a Site, question: &PadQuestion<'a>) -> Result<Self, NetworkProblem> {
        let around = Surroundings::of(site, question.temperature_k);
        let (around, _) = around.map_err(NetworkProblem::Water)?;
        let driven = Driven::BySpeed(question.speed_rpm);
        let network = Network::of(site, question.closed, driven)?;
        let solver = CircuitSolver::new(network.circuit.clone(), &around.water);
        Ok(Self {
            site,
            closed: question.closed,
            around,
            solver: solver.map_err(|error| NetworkProblem::unsolved(site, error))?,
            network,
        })
    }

    fn at(&mut self, speed_rpm: f64, start: Start<'_>) -> Result<&Solution, CircuitError> {
        self.solver.set_speed_rpm(self.network.pump(), speed_rpm)?;
        self.solver.solve(start)
    }
}
