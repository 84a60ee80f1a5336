//! Circuits to test with: by hand, and any that proptest makes up.

use hydraulics::circuit::{Circuit, Line, Link, LinkKind, Node, Part, Passage, Pump};
use hydraulics::element::Element;
use hydraulics::equipment::{CheckValve, RatedDrops, filter_law};
use hydraulics::loss::PipeRun;
use hydraulics::pump::PumpCurve;
use hydraulics::water::Water;
use proptest::prelude::*;

pub(crate) fn water() -> Water {
    Water::fresh(300.0).unwrap()
}

pub(crate) fn pipe(bore_m: f64, length_m: f64, minor_loss_k: f64) -> Element {
    Element::Pipe(PipeRun {
        bore_m,
        roughness_m: 1.5e-6,
        length_m,
        minor_loss_k,
    })
}

pub(crate) fn line(from: usize, to: usize, elements: Vec<Element>) -> Link {
    let parts = elements.into_iter().map(Part::one).collect();
    Link {
        from,
        to,
        kind: LinkKind::Line(Line { parts, lift_m: 0.0 }),
        passage: Passage::Open,
    }
}

pub(crate) fn with_lift(mut link: Link, height_m: f64) -> Link {
    if let LinkKind::Line(line) = &mut link.kind {
        line.lift_m = height_m;
    }
    link
}

pub(crate) fn shut(mut link: Link) -> Link {
    link.passage = Passage::Shut;
    link
}

/// A pump with a shutoff head of 20 m at 3450 rpm, which gives 10 m at 7 L/s.
pub(crate) fn pump(from: usize, to: usize, speed_rpm: f64) -> Link {
    let curve = PumpCurve::quadratic([20.0, 0.0, 2e5], 3450.0).unwrap();
    Link {
        from,
        to,
        kind: LinkKind::Pump(Pump { curve, speed_rpm }),
        passage: Passage::Open,
    }
}

pub(crate) fn circuit(nodes: Vec<Node>, links: Vec<Link>) -> Circuit {
    Circuit {
        nodes,
        links,
        tees: vec![],
    }
}

/// Any element but a check valve.
pub(crate) fn any_element() -> impl Strategy<Value = Element> {
    let run = (0.02_f64..0.1, 0.1_f64..40.0, 0.0_f64..20.0)
        .prop_map(|(bore, length, k)| pipe(bore, length, k));
    let fitting =
        (0.1_f64..30.0, 0.02_f64..0.1).prop_map(|(k, bore_m)| Element::MinorLoss { k, bore_m });
    let filter = (0.1_f64..0.9, 0.5_f64..5.0).prop_map(|(share, loading)| Element::Filter {
        law: filter_law(4e-3, 20_000.0, share, &water()).unwrap(),
        loading,
    });
    let rated = (2_000.0_f64..30_000.0, 1.5_f64..5.0).prop_map(|(drop, rise)| {
        Element::Rated(RatedDrops::new(&[(3e-3, drop), (5e-3, rise * drop)]).unwrap())
    });
    prop_oneof![4 => run, 2 => fitting, 1 => filter, 1 => rated]
}

pub(crate) fn any_check_valve() -> impl Strategy<Value = Element> {
    (0.0_f64..6_000.0, 8.0_f64..40.0).prop_map(|(cracking_pa, kv_m3h)| {
        Element::CheckValve(CheckValve {
            cracking_pa,
            kv_m3h,
        })
    })
}

/// A line of some elements, always with a pipe, so that no two lines are without a law of their own.
fn any_line() -> impl Strategy<Value = Vec<Element>> {
    let run = (0.03_f64..0.08, 1.0_f64..30.0).prop_map(|(bore, length)| pipe(bore, length, 0.5));
    (run, prop::collection::vec(any_element(), 0..3)).prop_map(|(run, mut elements)| {
        elements.push(run);
        elements
    })
}

/// Where something stands, to be taken as a place in a list whose length is not known yet.
fn place() -> impl Strategy<Value = prop::sample::Index> {
    any::<prop::sample::Index>()
}

/// What a circuit is made of.
#[derive(Clone, Debug)]
struct Ingredients {
    tree: Vec<(prop::sample::Index, Vec<Element>)>,
    more: Vec<(prop::sample::Index, prop::sample::Index, Vec<Element>)>,
    one_way: Vec<(prop::sample::Index, prop::sample::Index, Element, f64)>,
    pumps: Vec<(prop::sample::Index, prop::sample::Index, f64)>,
    level_m: f64,
    drawn_m3s: f64,
}

/// Nodes that only one-way lines lead to, beside a shut one.
const APART: usize = 2;

impl Ingredients {
    fn circuit(self) -> Circuit {
        let count = self.tree.len() + 1;
        let mut nodes = vec![Node::JUNCTION; count + APART];
        nodes[0] = Node::POOL;
        nodes[1] = Node::Body {
            level_m: self.level_m,
        };
        nodes[2] = Node::Junction {
            drawn_m3s: self.drawn_m3s,
        };
        let mut links = Vec::new();
        for (at, (other, elements)) in self.tree.into_iter().enumerate() {
            links.push(line(other.index(at + 1), at + 1, elements));
        }
        for (from, to, elements) in self.more {
            links.push(line(from.index(count), to.index(count), elements));
        }
        for (from, to, valve, lift_m) in self.one_way {
            let elements = vec![valve, pipe(0.05, 3.0, 1.0)];
            let (from, to) = (from.index(count + APART), to.index(count + APART));
            links.push(with_lift(line(from, to, elements), lift_m));
        }
        for (from, to, rpm) in self.pumps {
            links.push(pump(from.index(count), to.index(count), rpm));
        }
        for node in count..count + APART {
            links.push(shut(line(0, node, vec![pipe(0.05, 3.0, 1.0)])));
        }
        links.retain(|link| link.from != link.to);
        circuit(nodes, links)
    }
}

/// A circuit in which lines join all nodes but two to the pool, with more lines, pumps, a spa, check valves, lift, and
/// something drawn.
pub(crate) fn any_circuit() -> impl Strategy<Value = Circuit> {
    let lift = prop_oneof![Just(0.0), 0.0_f64..1.5];
    (
        prop::collection::vec((place(), any_line()), 2..9),
        prop::collection::vec((place(), place(), any_line()), 0..6),
        prop::collection::vec((place(), place(), any_check_valve(), lift), 0..7),
        prop::collection::vec((place(), place(), 0.0_f64..3450.0), 1..4),
        -0.5_f64..1.0,
        -1e-3_f64..1e-3,
    )
        .prop_map(|(tree, more, one_way, pumps, level_m, drawn_m3s)| {
            let ingredients = Ingredients {
                tree,
                more,
                one_way,
                pumps,
                level_m,
                drawn_m3s,
            };
            ingredients.circuit()
        })
}
