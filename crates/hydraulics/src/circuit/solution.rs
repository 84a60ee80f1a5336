//! What a solved circuit says: flows, heads, and what becomes of the power that the pumps give.

use super::laws::Laws;
use super::network::{Circuit, LinkKind, Node};
use super::newton::Newton;
use super::tees::Tees;
use crate::element::HeadAndSlope;
use crate::warning::Warning;

/// The flows and heads of a circuit. Links and nodes are in the order of the circuit.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Solution {
    /// Flow of each link in m³/s, positive from `from` to `to`.
    pub flows_m3s: Vec<f64>,
    /// Head of each node above the surface of the pool, m; `None` where no open way joins it to a body of water.
    pub heads_m: Vec<Option<f64>>,
    /// Head that each pump gives at its flow, m; 0 for a line and for a pump that is off.
    pub pump_heads_m: Vec<f64>,
    /// Power over ρ g that all pumps give to the water, m⁴/s: Σ Q H.
    pub given_m4_s: f64,
    /// The part of the power that goes into lift: over spillovers, and to bodies that lie higher or along with what is
    /// drawn off. With all shares of parts and tees it sums to 1. The whole is what the pumps give, and, where water falls from
    /// one body to another on balance, what that gives. `None` where nothing flows.
    pub lift_share: Option<f64>,
    /// What must be said beside the numbers, and where.
    pub warnings: Vec<LinkWarning>,
    /// Steps that were taken, over all guesses of what one-way links do.
    pub iterations: u32,
    /// The largest head that is left over along a link, m.
    pub residual_m: f64,
    /// The largest flow that is left over at a node, m³/s.
    pub unbalanced_m3s: f64,
    /// What tees take along their links, by tee.
    pub tees: Vec<TeeLoss>,
    parts: Vec<PartLoss>,
    first_part: Vec<usize>,
}

/// What a part of a line takes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PartLoss {
    /// Head along it, all its elements in series together, m; of the sign of the flow.
    pub head_m: f64,
    /// Its derivative over the flow of the line, s/m²; 0 where no water passes.
    pub slope_s_m2: f64,
    /// Its part of the power, as [`Solution::lift_share`] counts it; `None` where nothing flows.
    pub share: Option<f64>,
}

/// What a tee takes along one of the links that meet in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TeeLoss {
    /// Which tee.
    pub tee: usize,
    /// Along which link.
    pub link: usize,
    /// Head between the link and the combined flow, m, along the link; against its flow where the stream is dragged
    /// along by the other.
    pub head_m: f64,
    /// Its part of the power, as [`Solution::lift_share`] counts it; `None` where nothing flows.
    pub share: Option<f64>,
}

/// A warning and the link that it belongs to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LinkWarning {
    /// Which link.
    pub link: usize,
    /// Which of its parts; `None` for a pump, and for a tee at an end.
    pub part: Option<usize>,
    /// What to say.
    pub warning: Warning,
}

/// All that a search has found.
#[derive(Clone, Copy, Debug)]
pub(super) struct Search<'a> {
    pub(super) circuit: &'a Circuit,
    pub(super) laws: &'a Laws,
    pub(super) newton: &'a Newton,
    pub(super) tees: &'a Tees,
    /// Which links pass water.
    pub(super) open: &'a [bool],
}

impl Solution {
    /// Returns what each part of a link takes; nothing for a pump and for a link that is not there.
    pub fn parts(&self, link: usize) -> &[PartLoss] {
        let range = self.first_part.get(link).zip(self.first_part.get(link + 1));
        range.map_or(&[], |(first, end)| &self.parts[*first..*end])
    }

    /// Makes room for a circuit.
    pub(super) fn new(circuit: &Circuit, laws: &Laws) -> Self {
        let links = circuit.links.len();
        let mut first_part = Vec::with_capacity(links + 1);
        first_part.push(0);
        let mut end = 0;
        for link in 0..links {
            end += laws.parts_of(link).len();
            first_part.push(end);
        }
        Self {
            flows_m3s: vec![0.0; links],
            heads_m: vec![None; circuit.nodes.len()],
            pump_heads_m: vec![0.0; links],
            parts: vec![PartLoss::default(); laws.part_count()],
            first_part,
            ..Self::default()
        }
    }

    /// Takes the answer of a search.
    pub(super) fn fill(&mut self, answer: &Search<'_>) {
        let Search {
            circuit,
            laws,
            newton,
            tees,
            open,
        } = *answer;
        self.flows_m3s.copy_from_slice(&newton.flows);
        for (node, head) in self.heads_m.iter_mut().enumerate() {
            *head = newton.is_joined(node).then_some(newton.heads[node]);
        }
        self.iterations = newton.steps;
        self.residual_m = newton.left.residual_m.max(tees.left_m());
        self.unbalanced_m3s = newton.left.unbalanced_m3s;
        self.warnings.clear();
        for (link, open) in open.iter().enumerate() {
            self.fill_link(laws, link, *open, &circuit.links[link].kind);
        }
        self.warnings.extend(tees.warnings(circuit));
        self.tees.clear();
        self.tees.extend(tees.losses(circuit));
        self.share_out(circuit, laws, &newton.heads);
    }

    fn fill_link(&mut self, laws: &Laws, link: usize, open: bool, kind: &LinkKind) {
        let flow = self.flows_m3s[link];
        for place in laws.parts_of(link) {
            let own = if open {
                laws.part_at(place, flow)
            } else {
                HeadAndSlope::default()
            };
            self.parts[place].head_m = own.head_m;
            self.parts[place].slope_s_m2 = own.slope_s_m2;
        }
        self.pump_heads_m[link] = match kind {
            LinkKind::Pump(_) if open => -laws.own_head_m(link, flow),
            _ => 0.0,
        };
        if open {
            let warnings = &mut self.warnings;
            laws.warnings(link, flow, |part, warning| {
                warnings.push(LinkWarning {
                    link,
                    part,
                    warning,
                });
            });
        }
    }

    /// Finds what becomes of the power that is given.
    fn share_out(&mut self, circuit: &Circuit, laws: &Laws, heads: &[f64]) {
        let mut given = 0.0;
        let mut over_lips = 0.0;
        let mut to_levels = 0.0;
        for (link, it) in circuit.links.iter().enumerate() {
            let flow = self.flows_m3s[link];
            given += flow * self.pump_heads_m[link];
            over_lips += flow * laws.lift_m(link);
            for (node, inflow) in [(it.from, -flow), (it.to, flow)] {
                if let Node::Body { level_m } = circuit.nodes[node] {
                    to_levels += inflow * level_m;
                }
            }
        }
        for (node, kind) in circuit.nodes.iter().enumerate() {
            if let Node::Junction { drawn_m3s } = kind {
                to_levels += drawn_m3s * heads[node];
            }
        }
        self.given_m4_s = given;
        // A pump that water drives through takes something off the whole.
        let whole = given + (-to_levels).max(0.0);
        let lifted = over_lips + to_levels.max(0.0);
        let share = |power: f64| (whole > 0.0).then(|| power / whole);
        self.lift_share = share(lifted);
        for tee in &mut self.tees {
            tee.share = share(self.flows_m3s[tee.link] * tee.head_m);
        }
        for (link, flow) in self.flows_m3s.iter().enumerate() {
            for part in &mut self.parts[self.first_part[link]..self.first_part[link + 1]] {
                part.share = share(flow * part.head_m);
            }
        }
    }
}
