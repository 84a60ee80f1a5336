//! A circuit with the room to solve it again and again: at other speeds, in other water, with other lines open.
//!
//! What depends on the structure alone is worked out once; a sweep over speeds allocates nothing.

use super::error::CircuitError;
use super::laws::{Laws, usual_flow_m3s};
use super::network::{Circuit, LinkKind, Node, Passage};
use super::newton::{GaveUp, Newton};
use super::one_way::{self, OneWayLinks};
use super::reach::check_ways;
use super::solution::{Search, Solution};
use super::tees::{self, Tees};
use crate::element::{Element, HeadAndSlope};
use crate::quantity::Quantity;
use crate::water::Water;

/// Where a search begins. The answer is the same within its accuracy; its last bits are those of one way there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Start<'a> {
    /// At usual flows: equal circuits have equal bits, whatever was solved before.
    Afresh,
    /// At the last answer, which saves a step or two.
    Last,
    /// At these flows, m³/s, one for each link.
    Flows(&'a [f64]),
    /// At these flows, and with tees that take what they took at the last answer: of a circuit that is turned a little, what it
    /// answered before at the same draw.
    Beside(&'a [f64]),
}

/// A circuit and the room to solve it.
///
/// # Example
/// ```
/// use hydraulics::circuit::{Circuit, CircuitSolver, Line, Link, LinkKind, Node, Part, Passage, Pump, Start};
/// use hydraulics::{element::Element, pump::PumpCurve, water::Water};
/// let water = Water::fresh(293.15).unwrap();
/// let line = Line { parts: vec![Part::one(Element::MinorLoss { k: 24.0, bore_m: 0.05 })], lift_m: 0.0 };
/// let curve = PumpCurve::quadratic([20.0, 0.0, 2e5], 3450.0).unwrap();
/// let circuit = Circuit {
///     nodes: vec![Node::POOL, Node::JUNCTION],
///     links: vec![
///         Link { from: 0, to: 1, kind: LinkKind::Pump(Pump { curve, speed_rpm: 3450.0 }), passage: Passage::Open },
///         Link { from: 1, to: 0, kind: LinkKind::Line(line), passage: Passage::Open },
///     ],
///     tees: vec![],
/// };
/// let mut solver = CircuitSolver::new(circuit, &water).unwrap();
/// let full_m3s = solver.solve(Start::Afresh).unwrap().flows_m3s[0];
/// solver.set_speed_rpm(0, 1725.0).unwrap();
/// let half_m3s = solver.solve(Start::Last).unwrap().flows_m3s[0];
/// assert!((half_m3s / full_m3s - 0.5).abs() < 1e-9); // a square law against an affine curve
/// ```
#[derive(Clone, Debug)]
pub struct CircuitSolver {
    circuit: Circuit,
    water: Water,
    laws: Laws,
    newton: Newton,
    tees: Tees,
    /// Whether the tees hold what the last answer says that they take.
    tees_known: bool,
    one_way: Vec<usize>,
    ends: Vec<(usize, usize)>,
    may_open: Vec<bool>,
    open: Vec<bool>,
    ways_known: bool,
    solution: Solution,
}

impl CircuitSolver {
    /// Takes a circuit, and makes the laws of its parts in a water.
    ///
    /// # Errors
    /// [`CircuitError`] for what cannot be a circuit, by its place. Whether water has a way is asked with each solution.
    pub fn new(circuit: Circuit, water: &Water) -> Result<Self, CircuitError> {
        circuit.check()?;
        let laws = Laws::new(&circuit, water)?;
        let newton = Newton::new(&circuit).ok_or(CircuitError::NoBody)?;
        let links = circuit.links.len();
        let mut solver = Self {
            solution: Solution::new(&circuit, &laws),
            ends: circuit.links.iter().map(|it| (it.from, it.to)).collect(),
            may_open: vec![false; links],
            open: vec![false; links],
            one_way: Vec::with_capacity(links),
            ways_known: false,
            water: *water,
            tees: Tees::new(&circuit),
            tees_known: false,
            circuit,
            laws,
            newton,
        };
        solver.find_one_way();
        Ok(solver)
    }

    /// Returns the circuit as it stands.
    pub fn circuit(&self) -> &Circuit {
        &self.circuit
    }

    /// Lets a pump turn at another speed; 0 stops it.
    ///
    /// # Errors
    /// [`CircuitError::NoSuch`], or [`CircuitError::Link`] for a speed that is none.
    pub fn set_speed_rpm(&mut self, link: usize, rpm: f64) -> Result<(), CircuitError> {
        let missing = CircuitError::NoSuch { link, what: "pump" };
        let Some(LinkKind::Pump(pump)) = self.circuit.links.get_mut(link).map(|it| &mut it.kind)
        else {
            return Err(missing);
        };
        Quantity::Speed
            .zero_or_more(rpm)
            .map_err(|source| CircuitError::Link { link, source })?;
        // Whether it turns decides on the ways of the water; how fast does not.
        self.ways_known &= (pump.speed_rpm > 0.0) == (rpm > 0.0);
        pump.speed_rpm = rpm;
        self.laws.set_speed(link, rpm);
        Ok(())
    }

    /// Opens or shuts the valve of a link.
    ///
    /// # Errors
    /// [`CircuitError::NoSuch`].
    pub fn set_passage(&mut self, link: usize, passage: Passage) -> Result<(), CircuitError> {
        let it = self.circuit.links.get_mut(link);
        it.ok_or(CircuitError::NoSuch {
            link,
            what: "valve",
        })?
        .passage = passage;
        self.ways_known = false;
        self.tees_known = false;
        Ok(())
    }

    /// Lets a tee take so many times what its law says.
    ///
    /// # Errors
    /// [`CircuitError::NoSuchTee`], or [`CircuitError::TeeShape`] for a factor that is none.
    pub fn set_tee_factor(&mut self, tee: usize, factor: f64) -> Result<(), CircuitError> {
        let it = self.circuit.tees.get_mut(tee);
        let it = it.ok_or(CircuitError::NoSuchTee { tee })?;
        it.loss_factor = Quantity::LossFactor
            .above_zero(factor)
            .map_err(|source| CircuitError::TeeShape { tee, source })?;
        Ok(())
    }

    /// Draws another flow from a junction, m³/s; a negative one feeds it.
    ///
    /// # Errors
    /// [`CircuitError::NoSuchJunction`], or [`CircuitError::Node`] for a flow that is none.
    pub fn set_drawn_m3s(&mut self, node: usize, drawn_m3s: f64) -> Result<(), CircuitError> {
        let Some(Node::Junction { drawn_m3s: drawn }) = self.circuit.nodes.get_mut(node) else {
            return Err(CircuitError::NoSuchJunction { node });
        };
        Quantity::Flow
            .finite(drawn_m3s)
            .map_err(|source| CircuitError::Node { node, source })?;
        // Which way it goes decides on the ways of the water; how much does not.
        let way = |flow: f64| (flow > 0.0, flow < 0.0);
        self.ways_known &= way(*drawn) == way(drawn_m3s);
        *drawn = drawn_m3s;
        self.newton.set_drawn_m3s(node, drawn_m3s);
        Ok(())
    }

    /// Puts another element in the place of the one of a part; the counts stay.
    ///
    /// # Errors
    /// [`CircuitError::NoSuch`], or [`CircuitError::Part`] for an element that is impossible; then the old one stays.
    pub fn set_element(
        &mut self,
        link: usize,
        part: usize,
        element: Element,
    ) -> Result<(), CircuitError> {
        let missing = CircuitError::NoSuch {
            link,
            what: "such part",
        };
        let Some(LinkKind::Line(line)) = self.circuit.links.get_mut(link).map(|it| &mut it.kind)
        else {
            return Err(missing);
        };
        let place = line.parts.get_mut(part).ok_or(missing)?;
        self.laws.set_element((link, part), &element, &self.water)?;
        let closes = |element: &Element| matches!(element, Element::CheckValve(_));
        let same_way = closes(&place.element) == closes(&element);
        place.element = element;
        if !same_way {
            self.find_one_way();
            self.ways_known = false;
        }
        Ok(())
    }

    /// Fills the circuit with another water.
    ///
    /// # Errors
    /// [`CircuitError::Part`] where the water is none; the next solution then needs a water that is one.
    pub fn set_water(&mut self, water: &Water) -> Result<(), CircuitError> {
        self.laws.set_water(&self.circuit, water)?;
        self.water = *water;
        Ok(())
    }

    /// Solves the circuit as it stands, as [`solve_circuit`](super::solve_circuit) says. Nothing is allocated unless
    /// valves were turned, pumps started or stopped, or more is to be warned of than before.
    ///
    /// # Errors
    /// [`CircuitError`]: no way for the water, or no convergence.
    pub fn solve(&mut self, start: Start<'_>) -> Result<&Solution, CircuitError> {
        if !self.ways_known {
            check_ways(&self.circuit)?;
            for (may_open, link) in self.may_open.iter_mut().zip(&self.circuit.links) {
                *may_open = link.passes();
            }
            self.ways_known = true;
        }
        self.begin(start)?;
        self.newton.steps = 0;
        if self.tees_known && matches!(start, Start::Last | Start::Beside(_)) {
            self.tees.resume();
        } else {
            self.tees.begin(&mut self.laws);
        }
        self.tees_known = false;
        self.search().map_err(|_| CircuitError::DidNotConverge {
            residual_m: self.newton.left.residual_m.max(self.tees.left_m()),
            unbalanced_m3s: self.newton.left.unbalanced_m3s,
            iterations: self.newton.steps,
        })?;
        self.tees_known = true;
        let answer = Search {
            circuit: &self.circuit,
            laws: &self.laws,
            newton: &self.newton,
            tees: &self.tees,
            open: &self.open,
        };
        self.solution.fill(&answer);
        Ok(&self.solution)
    }

    /// Looks at the last answer.
    pub fn last(&self) -> &Solution {
        &self.solution
    }

    /// Says what a part of a line takes at a flow in that line in m³/s, as it stands now, all its elements together; `None`
    /// for one that is not there.
    pub fn part_at(&self, link: usize, part: usize, flow_m3s: f64) -> Option<HeadAndSlope> {
        self.circuit.links.get(link)?;
        let mut places = self.laws.parts_of(link);
        let place = places.nth(part)?;
        Some(self.laws.part_at(place, flow_m3s))
    }

    /// Says how what each leg of each tee takes moves, in m, in the order of [`Solution::tees`], where the flows of the links
    /// move by so little as this, in m³/s, about the last answer.
    ///
    /// Central differences over a millionth of the largest flow: good to some 1e-9 of what moves, but where a law of
    /// tees bends.
    pub fn tees_moved_m(&self, moved_m3s: &[f64]) -> Vec<f64> {
        let flows = &self.newton.flows;
        let largest = |flows: &[f64]| {
            flows
                .iter()
                .fold(0.0_f64, |most, flow| flow.abs().max(most))
        };
        let scale = 1e-6 * largest(flows) / largest(moved_m3s);
        let mut moved_m = vec![0.0; self.solution.tees.len()];
        if !scale.is_finite() {
            return moved_m;
        }
        for way in [scale, -scale] {
            let beside = flows.iter().zip(moved_m3s);
            let beside: Vec<f64> = beside.map(|(flow, moved)| flow + way * moved).collect();
            let taken = tees::taken_m(&self.circuit, &self.may_open, &beside);
            for (moved_m, head_m) in moved_m.iter_mut().zip(taken) {
                *moved_m += 0.5 * head_m / way;
            }
        }
        moved_m
    }

    /// Searches flows, heads and, where there are tees, what these take.
    fn search(&mut self) -> Result<(), GaveUp> {
        let Self {
            newton,
            laws,
            tees,
            open,
            ..
        } = self;
        let links = OneWayLinks {
            links: &self.one_way,
            may_open: &self.may_open,
            ends: &self.ends,
        };
        loop {
            open.copy_from_slice(&self.may_open);
            one_way::search(newton, laws, &links, open)?;
            if tees.agree(&self.circuit, &self.may_open, &newton.flows, laws)? {
                return Ok(());
            }
        }
    }

    /// Sets the flows and heads that the search begins with.
    fn begin(&mut self, start: Start<'_>) -> Result<(), CircuitError> {
        let flows = &mut self.newton.flows;
        match start {
            Start::Afresh => {
                for (flow, link) in flows.iter_mut().zip(&self.circuit.links) {
                    *flow = usual_flow_m3s(&link.kind);
                }
                self.newton.forget_heads();
            }
            Start::Last if flows.iter().all(|flow| flow.is_finite()) => {}
            Start::Last => return self.begin(Start::Afresh),
            Start::Flows(given) | Start::Beside(given) => {
                let finite = given.iter().filter(|flow| flow.is_finite()).count();
                if finite != flows.len() || given.len() != flows.len() {
                    let links = flows.len();
                    return Err(CircuitError::WrongStart {
                        given: finite,
                        links,
                    });
                }
                flows.copy_from_slice(given);
                self.newton.forget_heads();
            }
        }
        Ok(())
    }

    fn find_one_way(&mut self) {
        self.one_way.clear();
        let links = self.circuit.links.iter().enumerate();
        self.one_way.extend(
            links
                .filter(|(_, link)| link.is_one_way())
                .map(|(link, _)| link),
        );
    }
}
