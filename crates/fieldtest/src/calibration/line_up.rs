//! The pad with the valves of one test, driven by the flow of the pump: heads, and how each hangs on every sought number.

use super::knobs::{Hold, Knobs, Unstated, complete, holds};
use super::scaling::scaled;
use super::taps::TapPlace;
use crate::circuit::{PUMP_INLET, PUMP_OUTLET};
use crate::network::{Driven, Network, NetworkProblem};
use crate::surroundings::Surroundings;
use hydraulics::circuit::{
    CircuitSolver, LinkKind, Node, Part as NetworkPart, Passage, Solution, Start,
};
use hydraulics::element::ElementLaw;
use numerics::elementary::exp;
use numerics::linear::{Matrix, PositiveFactor, Vector};
use records::{Site, Test};

/// A flow to make the network with; the solver is given others later.
const ANY_FLOW_M3S: f64 = 1e-3;
/// The least slope that a line is given, s/m²: one without any loss would pass any flow.
const LEAST_SLOPE_S_M2: f64 = 1e-3;

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
    stated: Vec<Vec<NetworkPart>>,
    laws: Vec<Vec<ElementLaw>>,
    solver: CircuitSolver,
}

/// One solution with its linearisation.
pub(crate) struct Operating<'a> {
    line_up: &'a LineUp,
    solution: Solution,
    taken: Vec<Vec<Taken>>,
    /// Flow over head of each line, m²/s; 0 for one that passes nothing.
    conductance: Vec<f64>,
    /// The row of each node in the linearised balance; `None` for a body of water.
    rows: Vec<Option<usize>>,
    balance: Option<PositiveFactor>,
}

/// How heads and flows move with one number.
pub(crate) struct Moved {
    heads: Vec<f64>,
    /// Of each line, m³/s.
    pub(crate) flows: Vec<f64>,
    knob: Option<usize>,
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
        // Resistances are moved line by line: what a tee takes of a line is sought with the line's own.
        network.circuit.tees.clear();
        let unstated = complete(site, &mut network);
        let holds = holds(site, (test, media_of), &unstated, &mut network, knobs);
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
        let law = |part: &NetworkPart| {
            ElementLaw::new(&part.element, &around.water).map_err(NetworkProblem::Water)
        };
        let laws = stated.iter().map(|parts| parts.iter().map(law).collect());
        let line_up = Self {
            test: test.name.clone(),
            laws: laws.collect::<Result<_, _>>()?,
            pump: [inlet, outlet],
            network,
            around,
            holds,
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
                self.laws[link][part] = ElementLaw::new(&element, &self.around.water).ok()?;
                self.solver.set_element(link, part, element).ok()?;
            }
        }
        Some(())
    }

    /// Solves the pad at a flow through the pump, m³/s.
    pub(crate) fn at(&mut self, flow_m3s: f64) -> Option<Operating<'_>> {
        let [inlet, outlet] = self.pump;
        self.solver.set_drawn_m3s(inlet, flow_m3s).ok()?;
        self.solver.set_drawn_m3s(outlet, -flow_m3s).ok()?;
        let solution = self.solver.solve(Start::Last).ok()?.clone();
        Operating::new(self, solution)
    }

    /// What one part of a line takes at the flow in that line, all its pieces together.
    fn taken(&self, link: usize, part: usize, flow_m3s: f64) -> Taken {
        let stated = &self.stated[link][part];
        let beside = f64::from(stated.side_by_side);
        let series = f64::from(stated.in_series);
        let law = &self.laws[link][part];
        let each = law.head_and_slope(flow_m3s / beside);
        let head_m = series * each.head_m;
        let media_m = if self.holds[link][part].media.is_some() {
            let twice = law.head_and_slope(2.0 * flow_m3s / beside).head_m;
            // Of a Q + b Q², four times the head at Q less that at 2 Q is twice a Q.
            0.5 * (4.0 * head_m - series * twice)
        } else {
            0.0
        };
        Taken {
            head_m,
            slope_s_m2: series * each.slope_s_m2 / beside,
            media_m,
        }
    }

    /// By how much a part takes more where a number rises, the flow being kept, m.
    fn rise_m(&self, link: usize, part: usize, knob: usize, taken: &Taken) -> f64 {
        let hold = self.holds[link][part];
        let mut rise_m = 0.0;
        if hold.media == Some(knob) {
            rise_m += taken.media_m;
        }
        if hold.factor == Some(knob) {
            rise_m += taken.head_m - taken.media_m;
        }
        if hold.changed == Some(knob) {
            rise_m += taken.head_m;
        }
        if hold.loaded == Some(knob) {
            rise_m += taken.media_m;
        }
        rise_m
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
                .map(move |(part, _)| self.taken(link, part, flows_m3s[link]).media_m)
        });
        media.sum()
    }
}

/// What a part takes at the flow through it.
#[derive(Clone, Copy, Debug)]
struct Taken {
    head_m: f64,
    slope_s_m2: f64,
    /// Of the head, what a filter's media take.
    media_m: f64,
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

impl<'a> Operating<'a> {
    /// The pad that is solved.
    pub(crate) fn line_up(&self) -> &LineUp {
        self.line_up
    }

    /// The name of its test.
    pub(crate) fn test(&self) -> &str {
        &self.line_up.test
    }

    fn new(line_up: &'a LineUp, solution: Solution) -> Option<Self> {
        let circuit = &line_up.network.circuit;
        let flows = solution.flows_m3s.iter().enumerate();
        let taken: Vec<Vec<Taken>> = flows
            .map(|(link, flow)| {
                let parts = 0..line_up.stated[link].len();
                parts.map(|part| line_up.taken(link, part, *flow)).collect()
            })
            .collect();
        let conductance = circuit.links.iter().enumerate().map(|(link, it)| {
            // A check valve or a lip that holds back leaves exactly no flow.
            if it.passage == Passage::Shut || solution.flows_m3s[link].abs() <= 0.0 {
                return 0.0;
            }
            let slope: f64 = taken[link].iter().map(|part| part.slope_s_m2).sum();
            1.0 / slope.max(LEAST_SLOPE_S_M2)
        });
        let conductance: Vec<f64> = conductance.collect();
        let mut rows = vec![None; circuit.nodes.len()];
        let mut count = 0;
        for (node, row) in rows.iter_mut().enumerate() {
            let touches = circuit.links.iter().zip(&conductance);
            let mut touches =
                touches.filter(|(it, g)| (it.from == node || it.to == node) && **g > 0.0);
            if matches!(circuit.nodes[node], Node::Junction { .. }) && touches.next().is_some() {
                *row = Some(count);
                count += 1;
            }
        }
        let mut balance = Matrix::zeros(count, count);
        for (it, g) in circuit.links.iter().zip(&conductance) {
            for (here, there) in [(it.from, it.to), (it.to, it.from)] {
                let Some(row) = rows[here] else { continue };
                balance[(row, row)] += g;
                if let Some(column) = rows[there] {
                    balance[(row, column)] -= g;
                }
            }
        }
        let balance = if count == 0 {
            None
        } else {
            Some(PositiveFactor::new(balance).ok()?)
        };
        Some(Self {
            line_up,
            solution,
            taken,
            conductance,
            rows,
            balance,
        })
    }

    /// Head at a node, m above the pool.
    fn node_head_m(&self, node: usize) -> Option<f64> {
        self.solution.heads_m[node]
    }

    /// Head that the circuit takes from pump outlet to pump inlet, m.
    pub(crate) fn total_head_m(&self) -> Option<f64> {
        let [inlet, outlet] = self.line_up.pump;
        Some(self.node_head_m(outlet)? - self.node_head_m(inlet)?)
    }

    /// Flow in a line, m³/s.
    pub(crate) fn line_flow_m3s(&self, line: usize) -> f64 {
        self.solution.flows_m3s[line]
    }

    /// What a part of a line takes, m.
    pub(crate) fn part_head_m(&self, line: usize, part: usize) -> f64 {
        self.solution.parts(line)[part].head_m
    }

    /// What a gauge at a place shows as a head, at a flow through the pump, m.
    pub(crate) fn tap_head_m(&self, tap: &TapPlace, flow_m3s: f64) -> Option<f64> {
        let taken = tap.within.iter().flat_map(|(line, parts)| {
            parts
                .iter()
                .map(move |part| self.solution.parts(*line)[*part].head_m)
        });
        let velocity_m = tap.velocity_s2_m5 * flow_m3s * flow_m3s;
        Some(self.node_head_m(tap.node)? - taken.sum::<f64>() - velocity_m)
    }

    /// How heads and flows move with a sought number, or, with `None`, with the logarithm of the flow of the pump.
    pub(crate) fn moved(&self, knob: Option<usize>, flow_m3s: f64) -> Moved {
        let circuit = &self.line_up.network.circuit;
        let mut right = Vector::zeros(self.balance.as_ref().map_or(0, PositiveFactor::order));
        let mut add = |node: usize, amount: f64| {
            if let Some(row) = self.rows[node] {
                right[row] += amount;
            }
        };
        let mut rises = vec![0.0; circuit.links.len()];
        match knob {
            None => {
                let [inlet, outlet] = self.line_up.pump;
                add(inlet, -flow_m3s);
                add(outlet, flow_m3s);
            }
            Some(knob) => {
                for (link, it) in circuit.links.iter().enumerate() {
                    let parts = self.taken[link].iter().enumerate();
                    let rise = parts
                        .map(|(part, taken)| self.line_up.rise_m(link, part, knob, taken))
                        .sum::<f64>();
                    rises[link] = rise;
                    add(it.from, self.conductance[link] * rise);
                    add(it.to, -self.conductance[link] * rise);
                }
            }
        }
        let solved = self
            .balance
            .as_ref()
            .map_or_else(|| right.clone(), |balance| balance.solve(&right));
        let heads: Vec<f64> = self
            .rows
            .iter()
            .map(|row| row.map_or(0.0, |row| solved[row]))
            .collect();
        let links = circuit.links.iter().enumerate();
        let flows = links
            .map(|(link, it)| {
                self.conductance[link] * (heads[it.from] - heads[it.to] - rises[link])
            })
            .collect();
        Moved { heads, flows, knob }
    }

    /// How the head of the circuit moves, m.
    pub(crate) fn total_moved_m(&self, moved: &Moved) -> f64 {
        let [inlet, outlet] = self.line_up.pump;
        moved.heads[outlet] - moved.heads[inlet]
    }

    /// How what a part takes moves, m.
    pub(crate) fn part_moved_m(&self, line: usize, part: usize, moved: &Moved) -> f64 {
        let taken = &self.taken[line][part];
        let own = moved
            .knob
            .map_or(0.0, |knob| self.line_up.rise_m(line, part, knob, taken));
        own + taken.slope_s_m2 * moved.flows[line]
    }

    /// How the head at a tap moves, m.
    pub(crate) fn tap_moved_m(&self, tap: &TapPlace, moved: &Moved, flow_m3s: f64) -> f64 {
        let taken = tap.within.iter().flat_map(|(line, parts)| {
            parts
                .iter()
                .map(move |part| self.part_moved_m(*line, *part, moved))
        });
        let of_flow = match moved.knob {
            None => 2.0 * tap.velocity_s2_m5 * flow_m3s * flow_m3s,
            Some(_) => 0.0,
        };
        moved.heads[tap.node] - taken.sum::<f64>() - of_flow
    }
}
