//! A site's lines as a network that the hydraulics can solve: which node, link and part is which line's.

use crate::circuit::{PUMP_INLET, PUMP_OUTLET, is_water};
use crate::joints::{self, Joined};
use crate::plumbing::{PartProblem, PlacedPart, place};
use crate::pump_curve::pump_curve;
use hydraulics::HydraulicsError;
use hydraulics::circuit::{
    Circuit, CircuitError, Leg, Line as NetworkLine, Link, LinkKind, Node, Part as NetworkPart,
    Passage, Pump,
};
use hydraulics::pump::CurveError;
use records::{Line, Part, PartKind, Site};

/// What moves the water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Driven {
    /// The pump by its maker's curve, at a speed in rpm.
    BySpeed(f64),
    /// Whatever makes this flow, m³/s: no curve is needed to divide it among lines.
    ByFlow(f64),
}

/// Why a site is no network.
#[derive(Clone, Debug, PartialEq)]
pub enum NetworkProblem {
    /// The site states no line that leads to the pump, or none that leads away from it.
    NoLines,
    /// The pump has no maker's curve.
    NoCurve,
    /// The points of the curve are none.
    Curve(CurveError),
    /// Nothing is known of what is in a line.
    UnknownLine(String),
    /// A part has no law.
    Part {
        /// The line.
        line: String,
        /// The part, counted from 0.
        index: usize,
        /// Why it has none.
        problem: PartProblem,
    },
    /// No pipe near a tee, by the end that it stands at, says of which bore it is.
    TeeBores(String),
    /// The branch of a tee, by the end that it stands at, is wider than its run.
    TeeBranchWider(String),
    /// The stated water is none of a pool's.
    Water(HydraulicsError),
    /// The network cannot be solved; links are the lines in their order, and then the pump.
    Unsolved {
        /// Why.
        error: CircuitError,
        /// The names of the lines.
        lines: Vec<String>,
    },
}

impl NetworkProblem {
    /// Names the lines of a site whose network cannot be solved.
    pub(crate) fn unsolved(site: &Site, error: CircuitError) -> Self {
        Self::Unsolved {
            error,
            lines: site.lines.iter().map(|line| line.name.clone()).collect(),
        }
    }
}

/// A site as a network.
#[derive(Clone, Debug)]
pub(crate) struct Network {
    /// The network: a link per line, in their order, and then the pump where it is driven by speed.
    pub circuit: Circuit,
    /// For each line and each of its parts, where the part stands among the link's; `None` where its loss is not stated.
    pub parts: Vec<Vec<Option<usize>>>,
    /// The names of the nodes.
    ends: Vec<String>,
}

impl Network {
    /// Makes the network of a site with some lines shut.
    pub(crate) fn of(
        site: &Site,
        closed: &[String],
        driven: Driven,
    ) -> Result<Self, NetworkProblem> {
        let mut network = Self {
            circuit: Circuit::default(),
            parts: Vec::with_capacity(site.lines.len()),
            ends: Vec::new(),
        };
        for line in &site.lines {
            let (from, to) = (network.node(site, &line.from), network.node(site, &line.to));
            let (kind, parts) = line_of(site, line)?;
            network.parts.push(parts);
            network.circuit.links.push(Link {
                from,
                to,
                kind: LinkKind::Line(kind),
                passage: if closed.contains(&line.name) || is_overflow(site, line) {
                    Passage::Shut
                } else {
                    Passage::Open
                },
            });
        }
        let pump = network.drive(site, driven)?;
        for stated in &site.tees {
            // A tee stands where lines end, so that the node is there.
            let node = network.node(site, &stated.at);
            let tee = joints::tee(site, stated, &Joined { node, pump })?;
            network.circuit.tees.push(tee);
        }
        Ok(network)
    }

    /// Finds the node of an end, or makes it.
    fn node(&mut self, site: &Site, end: &str) -> usize {
        self.end(end).unwrap_or_else(|| {
            let level = site.bodies.iter().find(|body| body.name == end);
            self.ends.push(end.to_owned());
            self.circuit.nodes.push(match (end, level) {
                ("pool", _) => Node::POOL,
                (_, Some(body)) => Node::Body {
                    level_m: body.level.si,
                },
                (_, None) => Node::JUNCTION,
            });
            self.ends.len() - 1
        })
    }

    /// Finds the node of an end that a line has.
    pub(crate) fn end(&self, end: &str) -> Option<usize> {
        self.ends.iter().position(|known| known == end)
    }

    /// Adds what moves the water, and says what leg of a tee that is.
    fn drive(&mut self, site: &Site, driven: Driven) -> Result<Leg, NetworkProblem> {
        let ends = self.end(PUMP_INLET).zip(self.end(PUMP_OUTLET));
        let (inlet, outlet) = ends.ok_or(NetworkProblem::NoLines)?;
        match driven {
            Driven::BySpeed(speed_rpm) => {
                let curve = pump_curve(site).ok_or(NetworkProblem::NoCurve)?;
                let curve = curve.map_err(NetworkProblem::Curve)?;
                self.circuit.links.push(Link {
                    from: inlet,
                    to: outlet,
                    kind: LinkKind::Pump(Pump { curve, speed_rpm }),
                    passage: Passage::Open,
                });
                Ok(Leg::Link(self.pump()))
            }
            Driven::ByFlow(flow_m3s) => {
                self.circuit.nodes[inlet] = Node::Junction {
                    drawn_m3s: flow_m3s,
                };
                self.circuit.nodes[outlet] = Node::Junction {
                    drawn_m3s: -flow_m3s,
                };
                Ok(Leg::Drawn)
            }
        }
    }

    /// The place of the pump among the links.
    pub(crate) fn pump(&self) -> usize {
        self.parts.len()
    }
}

/// Makes the link of a line, with where each part stands in it.
fn line_of(site: &Site, line: &Line) -> Result<(NetworkLine, Vec<Option<usize>>), NetworkProblem> {
    if line.unknown {
        return Err(NetworkProblem::UnknownLine(line.name.clone()));
    }
    let mut parts = Vec::new();
    let mut places = Vec::with_capacity(line.parts.len());
    for (index, placed) in place(&line.parts).into_iter().enumerate() {
        let placed = placed.map_err(|problem| NetworkProblem::Part {
            line: line.name.clone(),
            index,
            problem,
        })?;
        let known = network_part(placed);
        places.push(known.is_some().then_some(parts.len()));
        parts.extend(known);
    }
    let lift_m = lift_m(site, line);
    Ok((NetworkLine { parts, lift_m }, places))
}

fn network_part(placed: PlacedPart) -> Option<NetworkPart> {
    Some(NetworkPart {
        element: placed.element?,
        in_series: placed.in_series,
        side_by_side: placed.side_by_side,
    })
}

/// Says whether water runs over a lip from one body to another: nothing drives it but what the body is given, so that its
/// flow follows from the others and is none of the network's unknowns.
pub(crate) fn is_overflow(site: &Site, line: &Line) -> bool {
    let is_lip = |part: &Part| matches!(part.kind, PartKind::Spillover(_));
    is_water(site, &line.from) && is_water(site, &line.to) && line.parts.iter().any(is_lip)
}

/// The height that a spillover lifts the water to above what it falls into, m.
fn lift_m(site: &Site, line: &Line) -> f64 {
    let lower = site.bodies.iter().find(|body| body.name == line.to);
    let level_m = lower.map_or(0.0, |body| body.level.si);
    let edges = line.parts.iter().filter_map(|part| match &part.kind {
        PartKind::Spillover(spillover) => spillover.height.as_ref(),
        _ => None,
    });
    let highest = edges.map(|height| height.si).fold(level_m, f64::max);
    highest - level_m
}
