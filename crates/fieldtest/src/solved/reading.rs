//! A solution of the network read in the words of the site: its lines, its parts, the pump's inlet, the filter.

use super::{SolvedLine, SolvedPad, SolvedPart, SolvedTee, Solving};
use crate::bores::{Inside, pipes};
use crate::circuit::PUMP_INLET;
use crate::network::is_overflow;
use hydraulics::Warning;
use hydraulics::circuit::{LinkKind, Solution, TeeLoss};
use hydraulics::head::velocity_m_s;
use records::{Part, PartKind};

impl Solving<'_> {
    /// Reads a solution; the limits are not in it.
    pub(super) fn pad(&self, solution: &Solution, speed_rpm: f64) -> SolvedPad {
        let pump = self.network.pump();
        let lines = 0..self.site.lines.len();
        SolvedPad {
            speed_rpm,
            flow_m3s: solution.flows_m3s[pump],
            head_m: solution.pump_heads_m[pump],
            lines: lines.map(|index| self.line(solution, index)).collect(),
            lift_share: solution.lift_share,
            npsh_available_m: self.npsh_available_m(solution),
            npsh_required_m: self.npsh_required_m(solution, speed_rpm),
            filter_pressure_pa: self.filter_pressure_pa(solution),
            limits: Vec::new(),
            warnings: self.warnings(solution),
        }
    }

    fn line(&self, solution: &Solution, index: usize) -> SolvedLine {
        let line = &self.site.lines[index];
        let shut = self.closed.contains(&line.name);
        let flow_m3s = if is_overflow(self.site, line) && !shut {
            self.given_to_m3s(solution, &line.from)
        } else {
            solution.flows_m3s[index]
        };
        let losses = solution.parts(index);
        let part = |place: &Option<usize>| SolvedPart {
            head_m: place.map(|place| losses[place].head_m),
            share: place.and_then(|place| losses[place].share),
        };
        let tees = solution.tees.iter().filter(|tee| tee.link == index);
        let tees: Vec<SolvedTee> = tees.map(|tee| self.tee(tee)).collect();
        let bores = pipes(&line.parts).filter_map(|pipe| Inside::of(pipe).ok());
        let narrowest_m = bores.map(|inside| inside.bore_m).min_by(f64::total_cmp);
        SolvedLine {
            line: line.name.clone(),
            shut,
            flow_m3s,
            head_loss_m: losses.iter().map(|loss| loss.head_m).sum::<f64>()
                + tees.iter().map(|tee| tee.head_m).sum::<f64>(),
            velocity_m_s: narrowest_m.and_then(|bore| velocity_m_s(flow_m3s.abs(), bore).ok()),
            parts: self.network.parts[index].iter().map(part).collect(),
            tees,
        }
    }

    fn tee(&self, loss: &TeeLoss) -> SolvedTee {
        SolvedTee {
            at: self.site.tees[loss.tee].at.clone(),
            head_m: loss.head_m,
            share: loss.share,
        }
    }

    /// The flow that a body is given more than is drawn from it: what runs over its lip.
    fn given_to_m3s(&self, solution: &Solution, body: &str) -> f64 {
        let lines = self.site.lines.iter().zip(&solution.flows_m3s);
        let of_body = lines.map(|(line, flow)| match (line.to == body, line.from == body) {
            (true, false) => *flow,
            (false, true) => -flow,
            _ => 0.0,
        });
        of_body.sum::<f64>().max(0.0)
    }

    fn head_at_m(&self, solution: &Solution, end: &str) -> Option<f64> {
        solution.heads_m[self.network.end(end)?]
    }

    /// Finds NPSH from the head at the pump's inlet, which holds the velocity head already.
    pub(super) fn npsh_available_m(&self, solution: &Solution) -> Option<f64> {
        self.around.npsh_m(self.head_at_m(solution, PUMP_INLET)?)
    }

    pub(super) fn npsh_required_m(&self, solution: &Solution, speed_rpm: f64) -> Option<f64> {
        let pump = self.network.pump();
        let LinkKind::Pump(it) = &self.network.circuit.links[pump].kind else {
            return None;
        };
        let flow_m3s = solution.flows_m3s[pump];
        let required = it.curve.npsh_required_m(flow_m3s, speed_rpm).ok()?;
        required.map(|answer| answer.value)
    }

    /// Computes the vacuum at the pump's inlet as a gauge at the height of the pump shows it, velocity left out, Pa.
    pub(super) fn inlet_vacuum_pa(&self, solution: &Solution) -> Option<f64> {
        let head_m = self.head_at_m(solution, PUMP_INLET)?;
        Some(self.around.specific_weight() * (self.around.pump_m.unwrap_or(0.0) - head_m))
    }

    /// Computes the pressure before the filter: the head at the start of its line less what stands before it.
    pub(super) fn filter_pressure_pa(&self, solution: &Solution) -> Option<f64> {
        let is_filter = |part: &Part| matches!(part.kind, PartKind::Filter(_));
        let mut lines = self.site.lines.iter();
        let line = lines.position(|line| line.parts.iter().any(is_filter))?;
        let of_line = &self.site.lines[line];
        let filter = of_line.parts.iter().position(is_filter)?;
        let before = self.network.parts[line].iter().take(filter).flatten();
        let losses = solution.parts(line);
        let circuit = &self.network.circuit;
        let begins = |tee: &&TeeLoss| {
            tee.link == line && circuit.tees[tee.tee].node == circuit.links[line].from
        };
        let at_tees = solution.tees.iter().filter(begins).map(|tee| tee.head_m);
        let parts = before.map(|place| losses[*place].head_m);
        let taken_m: f64 = at_tees.chain(parts).sum();
        let head_m = self.head_at_m(solution, &of_line.from)? - taken_m;
        Some(self.around.specific_weight() * head_m)
    }

    fn warnings(&self, solution: &Solution) -> Vec<(String, Warning)> {
        let name = |link: usize| {
            let line = self.site.lines.get(link);
            line.map_or_else(|| "pump".to_owned(), |line| line.name.clone())
        };
        let found = solution.warnings.iter();
        found
            .map(|found| (name(found.link), found.warning))
            .collect()
    }
}
