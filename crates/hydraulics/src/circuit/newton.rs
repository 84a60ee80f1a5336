//! Flows and heads of a network whose links pass water either way or not at all, by Newton's method.
//!
//! The unknown heads are found from a sparse matrix (Todini and Pilati 1988), the flows from them. Each step is written
//! for what is left over, not for the heads themselves: rounding then shrinks with it, and mass balances to the last bit
//! whatever the conductances. Once flows balance, the sum of ∫h dQ over all links falls along every step, and a step
//! that goes too far is cut short where that sum is nearly least; it is convex, so the search ends from any start.
//!
//! The matrix is factored by [`numerics::sparse`]: that keeps the bits of native and WebAssembly answers the same.

use numerics::sparse::SparseFactor;

use super::laws::Laws;
use super::network::{Circuit, Node};
use crate::element::HeadAndSlope;

/// Heads along a link may be apart by this, m.
const HEAD_TOLERANCE_M: f64 = 1e-9;

/// The same as a share of the largest head, for heads whose own rounding is more.
const HEAD_SHARE: f64 = 1e-14;

/// Flows at a node may be apart by this share of the largest.
const FLOW_SHARE: f64 = 1e-12;

/// A largest flow in m³/s below which nothing flows.
const LEAST_FLOW_M3S: f64 = 1e-9;

/// Above this share of the largest flow, flows do not balance well enough for the sum of ∫h dQ to mean something.
const BALANCED_SHARE: f64 = 1e-6;

/// Heads in m below which a step is taken as it is: rounding would judge it, and the next steps are as small.
const CLOSE_M: f64 = 1e-7;

/// The slope of that sum that may remain along a step, as a share of the one at its beginning.
const SLOPE_LEFT: f64 = 0.25;

/// Steps in one search; eight are usual, and flow that halves down to nothing takes some thirty.
const MOST_STEPS: u32 = 200;

/// Evaluations along one step.
const MOST_CUTS: u32 = 60;

/// What is left over, and how much there is.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Leftover {
    pub(super) residual_m: f64,
    pub(super) unbalanced_m3s: f64,
    largest_head_m: f64,
    pub(super) largest_flow_m3s: f64,
}

impl Leftover {
    fn is_little(&self) -> bool {
        self.residual_m <= HEAD_TOLERANCE_M.max(HEAD_SHARE * self.largest_head_m)
            && self.unbalanced_m3s <= FLOW_SHARE * self.largest_flow_m3s.max(LEAST_FLOW_M3S)
    }

    fn is_balanced(&self) -> bool {
        self.unbalanced_m3s <= BALANCED_SHARE * self.largest_flow_m3s
    }
}

/// The search was given up.
#[derive(Clone, Copy, Debug)]
pub(super) struct GaveUp;

/// The state of the search and the room that it needs.
#[derive(Clone, Debug)]
pub(super) struct Newton {
    pub(super) flows: Vec<f64>,
    /// Heads of all nodes; those of bodies stay.
    pub(super) heads: Vec<f64>,
    pub(super) steps: u32,
    pub(super) left: Leftover,
    ends: Vec<(usize, usize)>,
    drawn: Vec<f64>,
    is_body: Vec<bool>,
    /// Whether a head is given: that of a body, or of one node of a part that no body is joined to.
    given: Vec<bool>,
    /// Another node of the same part of the network, or the node itself.
    joined: Vec<usize>,
    conductance: Vec<f64>,
    /// Heads along the links that are left over.
    apart: Vec<f64>,
    moves: Vec<f64>,
    /// The laws at the flows that a step was last tried with.
    tried: Vec<HeadAndSlope>,
    /// Whether those are the flows at hand.
    tried_is_taken: bool,
    /// Flows at the nodes that are left over.
    unbalanced: Vec<f64>,
    diagonal: Vec<f64>,
    beside: Vec<f64>,
    shifts: Vec<f64>,
    factor: SparseFactor,
}

impl Newton {
    /// Makes room for a circuit whose links end at nodes that are there.
    pub(super) fn new(circuit: &Circuit) -> Option<Self> {
        let nodes = circuit.nodes.len();
        let links = circuit.links.len();
        let is_body = |node: &Node| matches!(node, Node::Body { .. });
        let ends: Vec<(usize, usize)> = circuit.links.iter().map(|it| (it.from, it.to)).collect();
        // A link to a body stands on the diagonal alone.
        let pairs: Vec<(usize, usize)> = ends
            .iter()
            .map(|&(from, to)| {
                let joins = !is_body(&circuit.nodes[from]) && !is_body(&circuit.nodes[to]);
                if joins { (from, to) } else { (from, from) }
            })
            .collect();
        Some(Self {
            flows: vec![0.0; links],
            heads: circuit.nodes.iter().map(level_m).collect(),
            steps: 0,
            left: Leftover::default(),
            ends,
            drawn: circuit.nodes.iter().map(drawn_m3s).collect(),
            is_body: circuit.nodes.iter().map(is_body).collect(),
            given: vec![false; nodes],
            joined: vec![0; nodes],
            conductance: vec![0.0; links],
            apart: vec![0.0; links],
            moves: vec![0.0; links],
            tried: vec![HeadAndSlope::default(); links],
            tried_is_taken: false,
            unbalanced: vec![0.0; nodes],
            diagonal: vec![0.0; nodes],
            beside: vec![0.0; links],
            shifts: vec![0.0; nodes],
            factor: SparseFactor::new(nodes, &pairs).ok()?,
        })
    }

    /// Searches flows and heads with these links open; no water passes the others.
    pub(super) fn search(&mut self, laws: &Laws, open: &[bool]) -> Result<(), GaveUp> {
        self.join(open);
        self.tried_is_taken = false;
        for (flow, open) in self.flows.iter_mut().zip(open) {
            *flow = if *open { *flow } else { 0.0 };
        }
        let mut little = 0;
        for _ in 0..MOST_STEPS {
            self.measure(laws, open);
            little = if self.left.is_little() { little + 1 } else { 0 };
            if self.left.residual_m.is_infinite() {
                return Err(GaveUp);
            }
            // Once more than asked: near the answer a step squares what is left over.
            if little == 2 {
                return Ok(());
            }
            self.steps += 1;
            self.find_shifts(open)?;
            self.step(laws, open);
        }
        Err(GaveUp)
    }

    /// Draws another flow from a junction.
    pub(super) fn set_drawn_m3s(&mut self, node: usize, drawn_m3s: f64) {
        self.drawn[node] = drawn_m3s;
    }

    /// Takes the heads of junctions back to the datum.
    pub(super) fn forget_heads(&mut self) {
        for (head, is_body) in self.heads.iter_mut().zip(&self.is_body) {
            *head = if *is_body { *head } else { 0.0 };
        }
    }

    /// Whether an open way joins a node to a body, as of the last search.
    pub(super) fn is_joined(&self, node: usize) -> bool {
        self.is_body[self.root(node)]
    }

    /// Finds the parts of the network that open links join, and gives one head in each that has no body.
    fn join(&mut self, open: &[bool]) {
        for (node, joined) in self.joined.iter_mut().enumerate() {
            *joined = node;
        }
        for link in (0..self.ends.len()).filter(|&link| open[link]) {
            let (from, to) = self.ends[link];
            let (from, to) = (self.shortened_root(from), self.shortened_root(to));
            // A body stays the root of what it is joined to.
            let (above, below) = if self.is_body[from] {
                (from, to)
            } else {
                (to, from)
            };
            self.joined[below] = above;
        }
        for node in 0..self.given.len() {
            self.given[node] = self.is_body[node] || self.joined[node] == node;
        }
    }

    fn root(&self, mut node: usize) -> usize {
        while self.joined[node] != node {
            node = self.joined[node];
        }
        node
    }

    fn shortened_root(&mut self, mut node: usize) -> usize {
        while self.joined[node] != node {
            self.joined[node] = self.joined[self.joined[node]];
            node = self.joined[node];
        }
        node
    }

    /// Finds conductances and what is left over at the flows and heads at hand.
    fn measure(&mut self, laws: &Laws, open: &[bool]) {
        let mut left = Leftover::default();
        for (own, drawn) in self.unbalanced.iter_mut().zip(&self.drawn) {
            *own = -drawn;
            left.largest_flow_m3s = left.largest_flow_m3s.max(drawn.abs());
        }
        for (link, &(from, to)) in self.ends.iter().enumerate() {
            if !open[link] {
                self.conductance[link] = 0.0;
                self.apart[link] = 0.0;
                continue;
            }
            let flow = self.flows[link];
            let law = if self.tried_is_taken {
                self.tried[link]
            } else {
                laws.head_and_slope(link, flow)
            };
            let apart = law.head_m - (self.heads[from] - self.heads[to]);
            self.conductance[link] = 1.0 / law.slope_s_m2;
            self.apart[link] = apart;
            self.unbalanced[from] -= flow;
            self.unbalanced[to] += flow;
            left.residual_m = left.residual_m.max(apart.abs());
            left.largest_flow_m3s = left.largest_flow_m3s.max(flow.abs());
        }
        let mut finite = true;
        for ((head, unbalanced), given) in self.heads.iter().zip(&self.unbalanced).zip(&self.given)
        {
            left.largest_head_m = left.largest_head_m.max(head.abs());
            finite &= head.is_finite() && unbalanced.is_finite();
            if !given {
                left.unbalanced_m3s = left.unbalanced_m3s.max(unbalanced.abs());
            }
        }
        // A largest of numbers passes over what is none.
        let law_is_finite = self.apart.iter().all(|apart| apart.is_finite());
        if !(finite && law_is_finite) {
            left.residual_m = f64::INFINITY;
        }
        self.left = left;
    }

    /// Solves for the shifts of the heads that would leave nothing over, were the laws straight.
    fn find_shifts(&mut self, open: &[bool]) -> Result<(), GaveUp> {
        let Self {
            diagonal, shifts, ..
        } = self;
        for (node, given) in self.given.iter().enumerate() {
            diagonal[node] = f64::from(u8::from(*given));
            shifts[node] = if *given { 0.0 } else { self.unbalanced[node] };
        }
        for (link, &(from, to)) in self.ends.iter().enumerate() {
            self.beside[link] = 0.0;
            if !open[link] {
                continue;
            }
            let conductance = self.conductance[link];
            let through = conductance * self.apart[link];
            if !self.given[from] {
                diagonal[from] += conductance;
                shifts[from] += through;
            }
            if !self.given[to] {
                diagonal[to] += conductance;
                shifts[to] -= through;
            }
            if !self.given[from] && !self.given[to] {
                self.beside[link] = -conductance;
            }
        }
        self.factor
            .refactor(diagonal, &self.beside)
            .map_err(|_| GaveUp)?;
        self.factor.solve(shifts);
        Ok(())
    }

    /// Shifts the heads and moves the flows as far as is good.
    fn step(&mut self, laws: &Laws, open: &[bool]) {
        for (link, &(from, to)) in self.ends.iter().enumerate() {
            let driven = self.shifts[from] - self.shifts[to] - self.apart[link];
            self.moves[link] = if open[link] {
                self.conductance[link] * driven
            } else {
                0.0
            };
        }
        for (head, shift) in self.heads.iter_mut().zip(&self.shifts) {
            *head += shift;
        }
        self.tried_is_taken = false;
        let whole = self.left.residual_m < CLOSE_M || !self.left.is_balanced();
        let share = if whole { 1.0 } else { self.share(laws, open) };
        for (flow, change) in self.flows.iter_mut().zip(&self.moves) {
            *flow += share * change;
        }
    }

    /// Finds how much of a step to take: all of it, or up to where the sum of ∫h dQ is nearly least.
    fn share(&mut self, laws: &Laws, open: &[bool]) -> f64 {
        let mut begin = 0.0;
        for (change, conductance) in self.moves.iter().zip(&self.conductance) {
            if *conductance > 0.0 {
                begin -= change * change / conductance;
            }
        }
        let enough = -SLOPE_LEFT * begin;
        let (mut low, mut high) = ((0.0, begin), (1.0, self.slope_along(1.0, laws, open)));
        if high.1 <= enough {
            self.tried_is_taken = true;
            return 1.0;
        }
        for _ in 0..MOST_CUTS {
            // Regula falsi, held off the ends so that either is left behind soon.
            const HELD_OFF: f64 = 0.1;
            let guess = low.1 / (low.1 - high.1);
            let share = low.0 + (high.0 - low.0) * guess.clamp(HELD_OFF, 1.0 - HELD_OFF);
            let slope = self.slope_along(share, laws, open);
            if slope.abs() <= enough {
                self.tried_is_taken = true;
                return share;
            }
            if slope < 0.0 {
                low = (share, slope);
            } else {
                high = (share, slope);
            }
        }
        low.0
    }

    /// The slope of the sum of ∫h dQ over all links, heads at the ends taken off, along the step.
    fn slope_along(&mut self, share: f64, laws: &Laws, open: &[bool]) -> f64 {
        let mut slope = 0.0;
        for (link, &(from, to)) in self.ends.iter().enumerate() {
            if open[link] {
                let change = self.moves[link];
                let law = laws.head_and_slope(link, self.flows[link] + share * change);
                self.tried[link] = law;
                slope += change * (law.head_m - (self.heads[from] - self.heads[to]));
            }
        }
        slope
    }
}

fn level_m(node: &Node) -> f64 {
    match node {
        Node::Body { level_m } => *level_m,
        Node::Junction { .. } => 0.0,
    }
}

fn drawn_m3s(node: &Node) -> f64 {
    match node {
        Node::Body { .. } => 0.0,
        Node::Junction { drawn_m3s } => *drawn_m3s,
    }
}
