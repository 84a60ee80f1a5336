//! The pad with the valves of one test, driven by the flow of the pump: heads, and how each hangs on every sought number.

use super::knobs::{Hold, Knobs, Unstated, complete, holds};
use super::operating::{Operating, Taken};
use super::scaling::scaled;
use crate::circuit::{PUMP_INLET, PUMP_OUTLET};
use crate::network::{Driven, Network, NetworkProblem};
use crate::surroundings::Surroundings;
use hydraulics::circuit::{CircuitSolver, LinkKind, Part as NetworkPart, Solution, Start, TeeLoss};
use numerics::elementary::exp;
use records::{Site, Test};

/// A flow to make the network with; the solver is given others later.
const ANY_FLOW_M3S: f64 = 1e-3;

/// The pad with the valves of one test.
#[derive(Clone, Debug)]
pub(crate) struct LineUp {
    /// The name of the test.
    pub(crate) test: String,
    /// The network as the site states it.
    pub(crate) network: Network,
    /// What stands around it.
    pub(crate) around: Surroundings,
    /// The node at the pump's inlet and the one at its outlet.
    pub(crate) pump: [usize; 2],
    holds: Vec<Vec<Hold>>,
    /// The number that each tee hangs on.
    at_tees: Vec<usize>,
    stated: Vec<Vec<NetworkPart>>,
    solver: CircuitSolver,
}

impl LineUp {
    /// Makes the network of a test, and adds the numbers that it hangs on; the media of the filter are those of `media_of`.
    pub(crate) fn of(
        site: &Site,
        (test, media_of): (&Test, &Test),
        knobs: &mut Knobs,
    ) -> Result<(Self, Unstated), NetworkProblem> {
        let typed = test.head.water_temperature.as_ref().map(|typed| typed.si);
        let (around, _) = Surroundings::of(site, typed).map_err(NetworkProblem::Water)?;
        let mut network = Network::of(site, &test.head.closed, Driven::ByFlow(ANY_FLOW_M3S))?;
        let unstated = complete(site, &mut network);
        let holds = holds(site, (test, media_of), &unstated, &mut network, knobs);
        let at_tees = site.tees.iter().map(|tee| knobs.tee(&tee.at)).collect();
        let ends = network.end(PUMP_INLET).zip(network.end(PUMP_OUTLET));
        let (inlet, outlet) = ends.ok_or(NetworkProblem::NoLines)?;
        let unsolved = |error| NetworkProblem::unsolved(site, error);
        let solver =
            CircuitSolver::new(network.circuit.clone(), &around.water).map_err(unsolved)?;
        let stated: Vec<Vec<NetworkPart>> = network
            .circuit
            .links
            .iter()
            .map(|link| match &link.kind {
                LinkKind::Line(line) => line.parts.clone(),
                LinkKind::Pump(_) => Vec::new(),
            })
            .collect();
        let line_up = Self {
            test: test.name.clone(),
            pump: [inlet, outlet],
            network,
            around,
            holds,
            at_tees,
            stated,
            solver,
        };
        Ok((line_up, unstated))
    }

    /// Returns the density of the water, kg/m³.
    pub(crate) fn density_kg_m3(&self) -> f64 {
        self.around.water.density_kg_m3
    }

    /// Turns the sought numbers; `None` where they make no parts.
    pub(crate) fn turn(&mut self, parameters: &[f64]) -> Option<()> {
        let factor = |knob: Option<usize>| knob.map_or(1.0, |knob| exp(parameters[knob]));
        for (link, of_link) in self.holds.iter().enumerate() {
            for (part, hold) in of_link.iter().enumerate() {
                let element = &self.stated[link][part].element;
                let changed = factor(hold.changed);
                let loading = hold.media.map_or(0.0, |knob| exp(parameters[knob]));
                let loading = changed * factor(hold.loaded) * loading;
                let element = scaled(element, changed * factor(hold.factor), loading)?;
                self.solver.set_element(link, part, element).ok()?;
            }
        }
        for (tee, knob) in self.at_tees.iter().enumerate() {
            self.solver
                .set_tee_factor(tee, exp(parameters[*knob]))
                .ok()?;
        }
        Some(())
    }

    /// Solves the pad at a flow through the pump, m³/s, and linearises it there.
    pub(crate) fn at(&mut self, flow_m3s: f64) -> Option<Operating<'_>> {
        self.at_from(flow_m3s, Start::Last)
    }

    /// Does so from where the search is told to begin.
    pub(super) fn at_from(&mut self, flow_m3s: f64, start: Start<'_>) -> Option<Operating<'_>> {
        self.solve(flow_m3s, start)?;
        Operating::of(self, flow_m3s)
    }

    /// The head that the circuit takes at a flow, m.
    pub(crate) fn total_head_m(&mut self, flow_m3s: f64) -> Option<f64> {
        let [inlet, outlet] = self.pump;
        let solution = self.solve(flow_m3s, Start::Last)?;
        Some(solution.heads_m[outlet]? - solution.heads_m[inlet]?)
    }

    fn solve(&mut self, flow_m3s: f64, start: Start<'_>) -> Option<&Solution> {
        let [inlet, outlet] = self.pump;
        self.solver.set_drawn_m3s(inlet, flow_m3s).ok()?;
        self.solver.set_drawn_m3s(outlet, -flow_m3s).ok()?;
        self.solver.solve(start).ok()
    }

    /// The last solution.
    pub(super) fn solution(&self) -> &Solution {
        self.solver.last()
    }

    /// How what each leg of a tee takes moves with the flows about the last solution, m.
    pub(super) fn tees_moved_m(&self, moved_m3s: &[f64]) -> Vec<f64> {
        self.solver.tees_moved_m(moved_m3s)
    }

    /// What each part of a line takes at the last solution.
    pub(super) fn taken_along(&self, line: usize) -> Vec<Taken> {
        let solution = self.solution();
        let flow_m3s = solution.flows_m3s[line];
        let parts = solution.parts(line).iter().enumerate();
        parts
            .map(|(part, own)| Taken {
                head_m: own.head_m,
                slope_s_m2: own.slope_s_m2,
                media_m: self.media_of_m((line, part), flow_m3s, own.head_m),
            })
            .collect()
    }

    /// What a filter's media take of the head of a part at the flow of its line, m; nothing of another part.
    ///
    /// # Equation
    /// Of a Q + b Q², four times the head at Q less that at 2 Q is twice a Q.
    fn media_of_m(&self, (link, part): (usize, usize), flow_m3s: f64, head_m: f64) -> f64 {
        if self.holds[link][part].media.is_none() {
            return 0.0;
        }
        let twice = self.solver.part_at(link, part, 2.0 * flow_m3s);
        0.5 * (4.0 * head_m - twice.unwrap_or_default().head_m)
    }

    /// By how much a part takes more where a number rises, the flow being kept, m.
    pub(super) fn rise_m(&self, (link, part): (usize, usize), knob: usize, taken: &Taken) -> f64 {
        let rises = self.rises_of_m((link, part), taken);
        let of_knob = rises.filter(|(of, _)| *of == knob);
        of_knob.map(|(_, rise_m)| rise_m).sum()
    }

    /// By how much a part takes more where each number that it hangs on rises, the flow being kept, m.
    pub(super) fn rises_of_m(
        &self,
        (link, part): (usize, usize),
        taken: &Taken,
    ) -> impl Iterator<Item = (usize, f64)> + use<> {
        let rises = self.holds[link][part].rises_m(taken).into_iter();
        rises.filter_map(|(knob, rise_m)| Some((knob?, rise_m)))
    }

    /// The number that a leg of a tee hangs on.
    pub(super) fn knob_at_tee(&self, leg: &TeeLoss) -> usize {
        self.at_tees[leg.tee]
    }

    /// By how much a leg of a tee takes more where a number rises, the flows being kept, m.
    pub(super) fn rise_at_tee_m(&self, leg: &TeeLoss, knob: usize) -> f64 {
        if self.knob_at_tee(leg) == knob {
            leg.head_m
        } else {
            0.0
        }
    }

    /// By how much each line takes more where a number rises, the flows being kept, m: number after number.
    pub(super) fn rises_m(&self, taken: &[Vec<Taken>], legs: &[TeeLoss]) -> Vec<f64> {
        let lines = taken.len();
        let mut rises_m = vec![0.0; lines];
        let mut add = |knob: usize, line: usize, rise_m: f64| {
            let place = knob * lines + line;
            if rises_m.len() <= place {
                rises_m.resize((knob + 1) * lines, 0.0);
            }
            rises_m[place] += rise_m;
        };
        for (line, taken) in taken.iter().enumerate() {
            for (part, taken) in taken.iter().enumerate() {
                for (knob, rise_m) in self.rises_of_m((line, part), taken) {
                    add(knob, line, rise_m);
                }
            }
        }
        for leg in legs {
            add(self.knob_at_tee(leg), leg.link, leg.head_m);
        }
        rises_m
    }

    /// Lets all that a line takes hang on a number, over what it took before.
    pub(crate) fn change_line(&mut self, line: usize, knob: usize) {
        for hold in self.holds.get_mut(line).into_iter().flatten() {
            hold.changed = Some(knob);
        }
    }

    /// Lets what the media of filters take hang on a number, over what they took before; false where none are in.
    pub(crate) fn change_media(&mut self, knob: usize) -> bool {
        let holds = self.holds.iter_mut().flatten();
        let mut any = false;
        for hold in holds.filter(|hold| hold.media.is_some()) {
            hold.loaded = Some(knob);
            any = true;
        }
        any
    }

    /// The head that the media of filters take at the flow through each, as the last numbers turned them, m.
    pub(crate) fn media_m(&self, flows_m3s: &[f64]) -> f64 {
        let links = self.holds.iter().enumerate();
        let media = links.flat_map(|(link, holds)| {
            let held = holds.iter().enumerate();
            held.filter(|(_, hold)| hold.media.is_some())
                .map(move |(part, _)| {
                    let flow_m3s = flows_m3s[link];
                    let own = self.solver.part_at(link, part, flow_m3s);
                    self.media_of_m((link, part), flow_m3s, own.unwrap_or_default().head_m)
                })
        });
        media.sum()
    }
}

impl LineUp {
    /// Lists the parts of a line in the order of the site, by their place in the link and in the site; last, the part-open valve.
    pub(crate) fn parts_of(&self, line: usize) -> Vec<(usize, Option<usize>)> {
        let stated = self.network.parts[line].iter().enumerate();
        let mut parts: Vec<_> = stated
            .filter_map(|(part, place)| Some(((*place)?, Some(part))))
            .collect();
        let added = (0..self.stated[line].len())
            .filter(|place| !self.network.parts[line].contains(&Some(*place)));
        parts.extend(added.map(|place| (place, None)));
        parts
    }
}
