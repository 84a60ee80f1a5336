//! What a circuit consists of, as plain data, and whether it can be one.

use super::error::CircuitError;
use super::tee::Tee;
use crate::element::Element;
use crate::error::HydraulicsError;
use crate::pump::PumpCurve;
use crate::quantity::Quantity;

/// A network of nodes and links, by their places in these lists.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Circuit {
    /// Bodies of water and junctions.
    pub nodes: Vec<Node>,
    /// Lines and pumps.
    pub links: Vec<Link>,
    /// Tees and wyes where three of them meet; what is joined at any other junction takes no head there.
    pub tees: Vec<Tee>,
}

/// A place where links meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Node {
    /// A body of water with a free surface, which keeps its head whatever flows.
    Body {
        /// Its level above that of the pool, m.
        level_m: f64,
    },
    /// A junction, whose head is sought.
    Junction {
        /// Flow that leaves the circuit here, m³/s; negative where it is fed.
        drawn_m3s: f64,
    },
}

impl Node {
    /// The surface of the pool.
    pub const POOL: Self = Self::Body { level_m: 0.0 };

    /// A junction that nothing is drawn from.
    pub const JUNCTION: Self = Self::Junction { drawn_m3s: 0.0 };
}

/// What joins two nodes. Flow from `from` to `to` is positive.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// The node at its beginning.
    pub from: usize,
    /// The node at its end.
    pub to: usize,
    /// What it is.
    pub kind: LinkKind,
    /// Whether a valve shuts it off.
    pub passage: Passage,
}

/// Whether water may pass a link.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Passage {
    /// It may.
    Open,
    /// A shut valve stands in it.
    Shut,
}

/// What a link is.
#[derive(Clone, Debug, PartialEq)]
pub enum LinkKind {
    /// Pipe and what stands in it.
    Line(Line),
    /// A pump, which draws at `from` and delivers at `to`.
    Pump(Pump),
}

/// Parts one after another.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Line {
    /// The parts, in any order.
    pub parts: Vec<Part>,
    /// Height that the water is raised to on its way and falls from without use, such as the lip of a spillover above
    /// the water that it falls into, m. Such a line passes water forwards only.
    pub lift_m: f64,
}

/// Like elements in a line.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// One of them.
    pub element: Element,
    /// How many follow one another.
    pub in_series: u32,
    /// How many such rows stand side by side and share the flow evenly.
    pub side_by_side: u32,
}

impl Part {
    /// One element alone.
    pub const fn one(element: Element) -> Self {
        Self {
            element,
            in_series: 1,
            side_by_side: 1,
        }
    }
}

/// A pump at a speed.
#[derive(Clone, Debug, PartialEq)]
pub struct Pump {
    /// Its curve.
    pub curve: PumpCurve,
    /// How fast it turns, rpm; at 0 nothing passes it.
    pub speed_rpm: f64,
}

impl Link {
    /// Whether water could pass it, its one-way parts apart.
    pub(super) fn passes(&self) -> bool {
        let turns = match &self.kind {
            LinkKind::Line(_) => true,
            LinkKind::Pump(pump) => pump.speed_rpm > 0.0,
        };
        self.passage == Passage::Open && turns
    }

    /// Whether water could pass it from `from` to `to` only.
    pub(super) fn is_one_way(&self) -> bool {
        match &self.kind {
            LinkKind::Line(line) => {
                let closes = |part: &Part| matches!(part.element, Element::CheckValve(_));
                line.lift_m > 0.0 || line.parts.iter().any(closes)
            }
            LinkKind::Pump(_) => true,
        }
    }

    fn check(&self) -> Result<(), HydraulicsError> {
        match &self.kind {
            LinkKind::Line(line) => Quantity::Lift.zero_or_more(line.lift_m),
            LinkKind::Pump(pump) => Quantity::Speed.zero_or_more(pump.speed_rpm),
        }
        .map(|_| ())
    }
}

impl Circuit {
    /// Checks nodes and links one by one; whether there is a way for the water is another question.
    pub(super) fn check(&self) -> Result<(), CircuitError> {
        for (node, kind) in self.nodes.iter().enumerate() {
            match kind {
                Node::Body { level_m } => Quantity::Height.finite(*level_m),
                Node::Junction { drawn_m3s } => Quantity::Flow.finite(*drawn_m3s),
            }
            .map_err(|source| CircuitError::Node { node, source })?;
        }
        if !self
            .nodes
            .iter()
            .any(|node| matches!(node, Node::Body { .. }))
        {
            return Err(CircuitError::NoBody);
        }
        let mut touched = vec![false; self.nodes.len()];
        for (link, it) in self.links.iter().enumerate() {
            for node in [it.from, it.to] {
                *touched
                    .get_mut(node)
                    .ok_or(CircuitError::NoSuchNode { link, node })? = true;
            }
            if it.from == it.to {
                return Err(CircuitError::SameEnds {
                    link,
                    node: it.from,
                });
            }
            it.check()
                .map_err(|source| CircuitError::Link { link, source })?;
            self.check_counts(link)?;
        }
        if let Some(node) = touched.iter().position(|touched| !touched) {
            return Err(CircuitError::DanglingNode { node });
        }
        let mut tees = self.tees.iter().enumerate();
        tees.try_for_each(|(place, tee)| tee.check(self, place))
    }

    fn check_counts(&self, link: usize) -> Result<(), CircuitError> {
        let LinkKind::Line(line) = &self.links[link].kind else {
            return Ok(());
        };
        let none = |part: &Part| part.in_series == 0 || part.side_by_side == 0;
        match line.parts.iter().position(none) {
            Some(part) => Err(CircuitError::NoneOfPart { link, part }),
            None => Ok(()),
        }
    }
}
