//! The whole pad solved at a speed: what flows where, what each part takes, and what is left at the pump's inlet.

use crate::bores::{Inside, pipes};
use crate::network::{Driven, Network, NetworkProblem};
use crate::surroundings::Surroundings;
use hydraulics::Warning;
use hydraulics::circuit::{CircuitSolver, LinkKind, Solution, Start};
use hydraulics::head::velocity_m_s;
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
    /// Head that its parts take, m.
    pub head_loss_m: f64,
    /// Velocity in its narrowest pipe, m/s.
    pub velocity_m_s: Option<f64>,
    /// Its parts, in their order.
    pub parts: Vec<SolvedPart>,
}

/// A part of a solved line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SolvedPart {
    /// Head along it, m; `None` where what it takes is not stated.
    pub head_m: Option<f64>,
    /// Its part of the power that the pump gives.
    pub share: Option<f64>,
}

/// Solves a pad at a speed.
pub fn solve_pad(site: &Site, question: &PadQuestion<'_>) -> Result<SolvedPad, NetworkProblem> {
    let around = Surroundings::of(site, question.temperature_k);
    let (surroundings, _) = around.map_err(NetworkProblem::Water)?;
    let network = Network::of(site, question.closed, Driven::BySpeed(question.speed_rpm))?;
    let unsolved = |error| NetworkProblem::unsolved(site, error);
    let mut solver =
        CircuitSolver::new(network.circuit.clone(), &surroundings.water).map_err(unsolved)?;
    let solution = solver.solve(Start::Afresh).map_err(unsolved)?;
    Ok(Reading {
        site,
        question,
        surroundings: &surroundings,
        network: &network,
        solution,
    }
    .pad())
}

/// A solution with what is needed to read it.
struct Reading<'a> {
    site: &'a Site,
    question: &'a PadQuestion<'a>,
    surroundings: &'a Surroundings,
    network: &'a Network,
    solution: &'a Solution,
}

impl Reading<'_> {
    fn pad(&self) -> SolvedPad {
        let pump = self.network.pump();
        let flow_m3s = self.solution.flows_m3s[pump];
        SolvedPad {
            speed_rpm: self.question.speed_rpm,
            flow_m3s,
            head_m: self.solution.pump_heads_m[pump],
            lines: (0..self.site.lines.len())
                .map(|index| self.line(index))
                .collect(),
            lift_share: self.solution.lift_share,
            npsh_available_m: self.npsh_available_m(),
            npsh_required_m: self.npsh_required_m(flow_m3s),
            filter_pressure_pa: self.filter_pressure_pa(),
            warnings: self.warnings(),
        }
    }

    fn line(&self, index: usize) -> SolvedLine {
        let line = &self.site.lines[index];
        let flow_m3s = self.solution.flows_m3s[index];
        let losses = self.solution.parts(index);
        let part = |place: &Option<usize>| SolvedPart {
            head_m: place.map(|place| losses[place].head_m),
            share: place.and_then(|place| losses[place].share),
        };
        let bores = pipes(&line.parts).filter_map(|pipe| Inside::of(pipe).ok());
        let narrowest_m = bores.map(|inside| inside.bore_m).min_by(f64::total_cmp);
        SolvedLine {
            line: line.name.clone(),
            shut: self.question.closed.contains(&line.name),
            flow_m3s,
            head_loss_m: losses.iter().map(|loss| loss.head_m).sum(),
            velocity_m_s: narrowest_m.and_then(|bore| velocity_m_s(flow_m3s.abs(), bore).ok()),
            parts: self.network.parts[index].iter().map(part).collect(),
        }
    }

    fn head_at_m(&self, end: &str) -> Option<f64> {
        self.solution.heads_m[self.network.end(end)?]
    }

    /// Finds NPSH from the head at the pump's inlet, which holds the velocity head already.
    fn npsh_available_m(&self) -> Option<f64> {
        let inlet_head_m = self.head_at_m(crate::circuit::PUMP_INLET)?;
        self.surroundings.npsh_m(inlet_head_m)
    }

    fn npsh_required_m(&self, flow_m3s: f64) -> Option<f64> {
        let LinkKind::Pump(pump) = &self.network.circuit.links[self.network.pump()].kind else {
            return None;
        };
        let required = pump
            .curve
            .npsh_required_m(flow_m3s, self.question.speed_rpm);
        required.ok()?.map(|answer| answer.value)
    }

    /// Computes the pressure before the filter: the head at the start of its line less what stands before it.
    fn filter_pressure_pa(&self) -> Option<f64> {
        let is_filter = |part: &records::Part| matches!(part.kind, records::PartKind::Filter(_));
        let line = self
            .site
            .lines
            .iter()
            .position(|line| line.parts.iter().any(is_filter))?;
        let of_line = &self.site.lines[line];
        let filter = of_line.parts.iter().position(is_filter)?;
        let before = self.network.parts[line].iter().take(filter).flatten();
        let taken_m: f64 = before
            .map(|place| self.solution.parts(line)[*place].head_m)
            .sum();
        let head_m = self.head_at_m(&of_line.from)? - taken_m;
        Some(self.surroundings.specific_weight() * head_m)
    }

    fn warnings(&self) -> Vec<(String, Warning)> {
        let name = |link: usize| {
            let line = self.site.lines.get(link);
            line.map_or_else(|| "pump".to_owned(), |line| line.name.clone())
        };
        let found = self.solution.warnings.iter();
        found
            .map(|found| (name(found.link), found.warning))
            .collect()
    }
}
