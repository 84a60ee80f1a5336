//! A pad solved at one flow, and how its heads and flows move with every sought number: what tees take moves with the flows that
//! it divides, so that both are found together.

use super::line_up::LineUp;
use super::taps::TapPlace;
use hydraulics::circuit::{Node, Passage, Solution};
use numerics::householder::{reduce, solve_upper};
use numerics::linear::{Matrix, PositiveFactor, dot};

/// The least slope that a line is given, s/m²: one without any loss would pass any flow.
const LEAST_SLOPE_S_M2: f64 = 1e-3;

/// What a part takes at the flow through it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Taken {
    pub(super) head_m: f64,
    pub(super) slope_s_m2: f64,
    /// Of the head, what a filter's media take.
    pub(super) media_m: f64,
}

/// One solution with its linearisation.
pub(crate) struct Operating<'a> {
    line_up: &'a LineUp,
    solution: &'a Solution,
    taken: Vec<Vec<Taken>>,
    /// What each line takes more where a number rises, the flows being kept, m: number after number.
    rises_m: Vec<f64>,
    /// How the pad moves where a line takes a metre more.
    by_line: Vec<Moved>,
    /// How it moves with the logarithm of the flow of the pump.
    by_pump: Moved,
}

/// How heads, flows and what the legs of tees take move with one number.
#[derive(Clone, Debug)]
pub(crate) struct Moved {
    heads: Vec<f64>,
    /// Of each line, m³/s.
    pub(crate) flows: Vec<f64>,
    /// Of each leg, in the order of the solution, m.
    at_tees: Vec<f64>,
    knob: Option<usize>,
}

impl Moved {
    /// How what a tee takes along one of its legs moves, m.
    pub(crate) fn at_leg_m(&self, leg: usize) -> f64 {
        self.at_tees[leg]
    }

    fn add(&mut self, times: f64, other: &Self) {
        let pairs = [
            (&mut self.heads, &other.heads),
            (&mut self.flows, &other.flows),
            (&mut self.at_tees, &other.at_tees),
        ];
        for (own, more) in pairs {
            for (own, more) in own.iter_mut().zip(more) {
                *own += times * more;
            }
        }
    }
}

impl<'a> Operating<'a> {
    /// Linearises a pad about the solution that it has at a flow.
    pub(super) fn of(line_up: &'a LineUp, flow_m3s: f64) -> Option<Self> {
        let solution = line_up.solution();
        let lines = 0..solution.flows_m3s.len();
        let taken: Vec<Vec<Taken>> = lines.map(|line| line_up.taken_along(line)).collect();
        let straight = Straight::of(line_up, solution, &taken)?;
        let lines = 0..taken.len();
        let mut operating = Self {
            by_line: lines.map(|line| straight.by_line(line)).collect(),
            by_pump: straight.by_pump(line_up.pump, flow_m3s),
            rises_m: line_up.rises_m(&taken, &solution.tees),
            line_up,
            solution,
            taken,
        };
        operating.let_tees_follow();
        Some(operating)
    }

    /// Lets what tees take follow the flows that move.
    ///
    /// # Equation
    /// τ = T q for the legs, where the flows q are those that move without tees and what τ then moves: (1 − T Y) τ = T q₀.
    fn let_tees_follow(&mut self) {
        let legs: Vec<usize> = self.solution.tees.iter().map(|leg| leg.link).collect();
        if legs.is_empty() {
            return;
        }
        let follow = |moved: &Moved| self.line_up.tees_moved_m(&moved.flows);
        let by_line: Vec<Vec<f64>> = self.by_line.iter().map(follow).collect();
        let by_pump = follow(&self.by_pump);
        let whole = Matrix::from_fn(legs.len(), legs.len(), |i, j| {
            f64::from(u8::from(i == j)) - by_line[legs[j]][i]
        });
        let straight = self.by_line.clone();
        let responses = self.by_line.iter_mut().chain([&mut self.by_pump]);
        for (response, mut at_tees) in responses.zip(by_line.into_iter().chain([by_pump])) {
            let mut triangle = whole.clone();
            reduce(&mut triangle, &mut at_tees);
            solve_upper(&triangle, &mut at_tees);
            for (line, taken_m) in legs.iter().zip(&at_tees) {
                response.add(*taken_m, &straight[*line]);
            }
            response.at_tees = at_tees;
        }
    }

    /// The pad that is solved.
    pub(crate) fn line_up(&self) -> &LineUp {
        self.line_up
    }

    /// The name of its test.
    pub(crate) fn test(&self) -> &str {
        &self.line_up.test
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

    /// Flows in all lines, m³/s.
    pub(crate) fn flows_m3s(&self) -> &Vec<f64> {
        &self.solution.flows_m3s
    }

    /// Flow in a line, m³/s.
    pub(crate) fn line_flow_m3s(&self, line: usize) -> f64 {
        self.solution.flows_m3s[line]
    }

    /// What a part of a line takes, m.
    pub(crate) fn part_head_m(&self, line: usize, part: usize) -> f64 {
        self.solution.parts(line)[part].head_m
    }

    /// The legs of tees that a line is, by their places among all legs, each with its tee.
    pub(crate) fn legs_of(&self, line: usize) -> impl Iterator<Item = (usize, usize)> + '_ {
        let legs = self.solution.tees.iter().enumerate();
        let of_line = legs.filter(move |(_, leg)| leg.link == line);
        of_line.map(|(place, leg)| (place, leg.tee))
    }

    /// The legs at the beginning of a line.
    fn legs_before(&self, line: usize) -> impl Iterator<Item = usize> + '_ {
        let circuit = &self.line_up.network.circuit;
        let begins = move |tee: usize| circuit.tees[tee].node == circuit.links[line].from;
        let legs = self.legs_of(line).filter(move |(_, tee)| begins(*tee));
        legs.map(|(leg, _)| leg)
    }

    /// What a tee takes along one of its legs, m; below zero where the other stream drags this one along.
    pub(crate) fn leg_head_m(&self, leg: usize) -> f64 {
        self.solution.tees[leg].head_m
    }

    /// What a gauge at a place shows as a head, at a flow through the pump, m.
    pub(crate) fn tap_head_m(&self, tap: &TapPlace, flow_m3s: f64) -> Option<f64> {
        let taken_m = tap.within.as_ref().map_or(0.0, |(line, parts)| {
            let at_tees = self.legs_before(*line).map(|leg| self.leg_head_m(leg));
            let parts = parts.iter().map(|part| self.part_head_m(*line, *part));
            at_tees.chain(parts).sum()
        });
        let velocity_m = tap.velocity_s2_m5 * flow_m3s * flow_m3s;
        Some(self.node_head_m(tap.node)? - taken_m - velocity_m)
    }

    /// How heads and flows move with a sought number, or, with `None`, with the logarithm of the flow of the pump.
    pub(crate) fn moved(&self, knob: Option<usize>) -> Moved {
        let Some(knob) = knob else {
            return self.by_pump.clone();
        };
        let mut moved = Moved {
            heads: vec![0.0; self.by_pump.heads.len()],
            flows: vec![0.0; self.by_pump.flows.len()],
            at_tees: vec![0.0; self.by_pump.at_tees.len()],
            knob: Some(knob),
        };
        let lines = self.by_line.len();
        let rises_m = self.rises_m.iter().skip(knob * lines);
        for (rise_m, response) in rises_m.zip(&self.by_line) {
            if rise_m.abs() > 0.0 {
                moved.add(*rise_m, response);
            }
        }
        for (moved_m, leg) in moved.at_tees.iter_mut().zip(&self.solution.tees) {
            *moved_m += self.line_up.rise_at_tee_m(leg, knob);
        }
        moved
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
            .map_or(0.0, |knob| self.line_up.rise_m((line, part), knob, taken));
        own + taken.slope_s_m2 * moved.flows[line]
    }

    /// How the head at a tap moves, m.
    pub(crate) fn tap_moved_m(&self, tap: &TapPlace, moved: &Moved, flow_m3s: f64) -> f64 {
        let of_flow = match moved.knob {
            None => 2.0 * tap.velocity_s2_m5 * flow_m3s * flow_m3s,
            Some(_) => 0.0,
        };
        self.tap_carried_m(tap, moved) - of_flow
    }

    /// The same without what velocity takes off.
    fn tap_carried_m(&self, tap: &TapPlace, moved: &Moved) -> f64 {
        let taken_m = tap.within.as_ref().map_or(0.0, |(line, parts)| {
            let at_tees = self.legs_before(*line).map(|leg| moved.at_tees[leg]);
            let parts = parts.iter();
            let parts = parts.map(|part| self.part_moved_m(*line, *part, moved));
            at_tees.chain(parts).sum()
        });
        moved.heads[tap.node] - taken_m
    }

    /// Writes the slopes of what is seen in all sought numbers that the circuit hangs on; line by line, so that no number is moved
    /// by itself.
    pub(crate) fn write_slopes(&self, seen: Seen<'_>, slopes: &mut [f64]) {
        let by_line = self.by_line.iter().map(|moved| match seen {
            Seen::Total => self.total_moved_m(moved),
            Seen::Flow(line) => moved.flows[line],
            Seen::Tap(tap) => self.tap_carried_m(tap, moved),
        });
        let by_line: Vec<f64> = by_line.collect();
        let rises_m = self.rises_m.chunks_exact(by_line.len().max(1));
        for (slope, rises_m) in slopes.iter_mut().zip(rises_m) {
            *slope = dot(rises_m, &by_line);
        }
        let Seen::Tap(TapPlace {
            within: Some((line, parts)),
            ..
        }) = seen
        else {
            return;
        };
        let own = parts.iter().flat_map(|part| {
            let taken = &self.taken[*line][*part];
            self.line_up.rises_of_m((*line, *part), taken)
        });
        let at_tees = self.legs_before(*line).map(|leg| {
            let leg = &self.solution.tees[leg];
            (self.line_up.knob_at_tee(leg), leg.head_m)
        });
        for (knob, rise_m) in own.chain(at_tees) {
            slopes[knob] -= rise_m;
        }
    }
}

/// What of a pad is seen.
#[derive(Clone, Copy)]
pub(crate) enum Seen<'a> {
    /// The head of the circuit.
    Total,
    /// The flow in a line.
    Flow(usize),
    /// The head at a tap.
    Tap(&'a TapPlace),
}

/// The pad made straight about a solution, what tees take being held.
struct Straight<'a> {
    ends: Vec<(usize, usize)>,
    solution: &'a Solution,
    /// Flow over head of each line, m²/s; 0 for one that passes nothing.
    conductance: Vec<f64>,
    /// The row of each node in the balance; `None` for a body of water.
    rows: Vec<Option<usize>>,
    /// The heads that a flow fed to each node makes, s/m²: the balance turned round.
    heads_per_flow: Matrix,
}

impl<'a> Straight<'a> {
    fn of(line_up: &LineUp, solution: &'a Solution, taken: &[Vec<Taken>]) -> Option<Self> {
        let circuit = &line_up.network.circuit;
        let conductance = circuit.links.iter().enumerate().map(|(link, it)| {
            // A check valve or a lip that holds back leaves exactly no flow.
            if it.passage == Passage::Shut || solution.flows_m3s[link].abs() <= 0.0 {
                return 0.0;
            }
            let slope: f64 = taken[link].iter().map(|part| part.slope_s_m2).sum();
            1.0 / slope.max(LEAST_SLOPE_S_M2)
        });
        let conductance: Vec<f64> = conductance.collect();
        let ends: Vec<_> = circuit.links.iter().map(|it| (it.from, it.to)).collect();
        let mut touched = vec![false; circuit.nodes.len()];
        for ((from, to), g) in ends.iter().zip(&conductance) {
            touched[*from] |= *g > 0.0;
            touched[*to] |= *g > 0.0;
        }
        let mut count = 0;
        let nodes = circuit.nodes.iter().zip(touched);
        let row = |(node, touched): (&Node, bool)| {
            let sought = touched && matches!(node, Node::Junction { .. });
            count += usize::from(sought);
            sought.then(|| count - 1)
        };
        let mut straight = Self {
            rows: nodes.map(row).collect(),
            ends,
            solution,
            conductance,
            heads_per_flow: Matrix::zeros(0, 0),
        };
        if count > 0 {
            let balance = PositiveFactor::new(straight.balanced(count)).ok()?;
            straight.heads_per_flow = balance.inverse();
        }
        Some(straight)
    }

    fn balanced(&self, count: usize) -> Matrix {
        let mut balance = Matrix::zeros(count, count);
        for ((from, to), g) in self.ends.iter().zip(&self.conductance) {
            for (here, there) in [(*from, *to), (*to, *from)] {
                let Some(row) = self.rows[here] else { continue };
                balance[(row, row)] += g;
                if let Some(column) = self.rows[there] {
                    balance[(row, column)] -= g;
                }
            }
        }
        balance
    }

    /// How the pad moves where a line takes a metre more.
    fn by_line(&self, line: usize) -> Moved {
        let (from, to) = self.ends[line];
        let g = self.conductance[line];
        let mut moved = self.moved([(from, g), (to, -g)]);
        moved.flows[line] -= g;
        moved
    }

    /// How it moves with the logarithm of the flow of the pump.
    fn by_pump(&self, [inlet, outlet]: [usize; 2], flow_m3s: f64) -> Moved {
        self.moved([(inlet, -flow_m3s), (outlet, flow_m3s)])
    }

    /// How heads and flows move with what two nodes are fed.
    fn moved(&self, fed: [(usize, f64); 2]) -> Moved {
        let fed = fed.map(|(node, amount)| self.rows[node].map(|row| (row, amount)));
        let head = |row: &Option<usize>| {
            row.map_or(0.0, |row| {
                let made = fed.iter().flatten();
                made.map(|(column, amount)| amount * self.heads_per_flow[(row, *column)])
                    .sum()
            })
        };
        let heads: Vec<f64> = self.rows.iter().map(head).collect();
        let lines = self.ends.iter().zip(&self.conductance);
        Moved {
            flows: lines
                .map(|((from, to), g)| g * (heads[*from] - heads[*to]))
                .collect(),
            heads,
            at_tees: vec![0.0; self.solution.tees.len()],
            knob: None,
        }
    }
}
