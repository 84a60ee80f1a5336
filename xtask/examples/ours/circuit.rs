//! A pad of eight pipes and a pump, and a grid of 1013 pipes: with the room and the order of elimination at hand, as a
//! sweep over speeds has them, and from the plain lists.
//!
//! The library's network is built once too, and only its solution is timed. A grid of a hundred thousand pipes stands
//! beside nothing: the library was not made for it.

use std::error::Error;
use std::hint::black_box;
use std::path::Path;

use hydraulics::circuit::{
    Circuit, CircuitSolver, Line, Link, LinkKind, Node, Part, Passage, Pump, Start, solve_circuit,
};
use hydraulics::element::Element;
use hydraulics::loss::PipeRun;
use hydraulics::pipe::PVC_ROUGHNESS_M;
use hydraulics::pump::PumpCurve;
use hydraulics::water::Water;
use serde_json::{Value, json};

use crate::{best_seconds, report};

/// Bores of PVC Schedule 40 from 2 to 4 in, without the 3-1/2.
const BORES_M: [f64; 4] = [0.0525018, 0.0627126, 0.0779272, 0.1022604];

/// The bore of a return, 1-1/2 in.
const RETURN_M: f64 = 0.040894;

/// Shutoff head in m and its fall per flow and per square of flow.
const PUMP: [f64; 3] = [19.4, 122.6, 2.145e5];

/// The one speed of the comparison.
const SPEED_RPM: f64 = 3450.0;

/// Solutions per timing, so that the clock's own time does not count.
const EACH: u32 = 50;

pub(crate) fn run(folder: &Path) -> Result<(), Box<dyn Error>> {
    let water = Water::fresh(293.15)?;
    time(folder, "circuit of 8 pipes and a pump", &pad()?, &water)?;
    time(folder, "circuit of 1013 pipes", &grid(23), &water)?;
    time(folder, "circuit of 99905 pipes", &grid(224), &water)
}

fn time(folder: &Path, work: &str, circuit: &Circuit, water: &Water) -> Result<(), Box<dyn Error>> {
    let mut solver = CircuitSolver::new(circuit.clone(), water)?;
    let flows = solver.solve(Start::Afresh)?.flows_m3s.clone();
    let given = described(circuit, water, &flows).to_string();
    std::fs::write(folder.join(format!("{work}.json")), given)?;
    let each = if circuit.links.len() > 100 { 1 } else { EACH };
    let seconds = best_seconds(|| {
        for _ in 0..each {
            let _ = black_box(solver.solve(black_box(Start::Afresh)));
        }
    });
    report(work, "structure at hand", seconds / f64::from(each));
    let seconds = best_seconds(|| {
        for _ in 0..each {
            let _ = black_box(solve_circuit(black_box(circuit), water));
        }
    });
    report(work, "from plain lists", seconds / f64::from(each));
    Ok(())
}

/// Writes a circuit for the other side, which numbers pipes as they stand here.
fn described(circuit: &Circuit, water: &Water, flows: &[f64]) -> Value {
    let node = |node: &Node| match node {
        Node::Body { level_m } => json!([level_m, 0.0]),
        Node::Junction { drawn_m3s } => json!([null, drawn_m3s]),
    };
    let pipe = |link: &Link| match &link.kind {
        LinkKind::Line(line) => line.parts.iter().find_map(|part| match part.element {
            Element::Pipe(PipeRun {
                bore_m,
                roughness_m,
                length_m,
                minor_loss_k,
            }) => Some(json!([
                link.from,
                link.to,
                bore_m,
                length_m,
                roughness_m,
                minor_loss_k
            ])),
            _ => None,
        }),
        LinkKind::Pump(_) => None,
    };
    let links = circuit.links.iter();
    let of_pipes = links
        .clone()
        .zip(flows)
        .filter(|(link, _)| pipe(link).is_some());
    let [shutoff_m, linear, square] = PUMP;
    let pumps = links
        .clone()
        .filter(|link| matches!(link.kind, LinkKind::Pump(_)))
        .map(|link| json!([link.from, link.to, shutoff_m, linear, square]));
    json!({
        "density": water.density_kg_m3,
        "viscosity": water.dynamic_viscosity_pa_s,
        "nodes": circuit.nodes.iter().map(node).collect::<Vec<_>>(),
        "pipes": links.clone().filter_map(pipe).collect::<Vec<_>>(),
        "pumps": pumps.collect::<Vec<_>>(),
        "flows": of_pipes.map(|(_, flow)| flow).collect::<Vec<_>>(),
    })
}

fn link(from: usize, to: usize, kind: LinkKind) -> Link {
    Link {
        from,
        to,
        kind,
        passage: Passage::Open,
    }
}

fn pipe(from: usize, to: usize, [bore_m, length_m, minor_loss_k]: [f64; 3]) -> Link {
    let run = PipeRun {
        bore_m,
        roughness_m: PVC_ROUGHNESS_M,
        length_m,
        minor_loss_k,
    };
    let parts = vec![Part::one(Element::Pipe(run))];
    link(from, to, LinkKind::Line(Line { parts, lift_m: 0.0 }))
}

/// Two suction lines, a pump, a pipe as long as a filter is hard to pass, a heater's with its bypass, and three returns.
fn pad() -> Result<Circuit, Box<dyn Error>> {
    let pump = Pump {
        curve: PumpCurve::quadratic(PUMP, SPEED_RPM)?,
        speed_rpm: SPEED_RPM,
    };
    let [two_inch, ..] = BORES_M;
    let mut nodes = vec![Node::JUNCTION; 5];
    nodes[0] = Node::POOL;
    let links = vec![
        pipe(0, 1, [two_inch, 10.0, 3.0]),
        pipe(0, 1, [two_inch, 16.0, 2.2]),
        pipe(2, 3, [two_inch, 3.0, 28.0]),
        pipe(3, 4, [RETURN_M, 4.0, 9.0]),
        pipe(3, 4, [two_inch, 2.0, 24.0]),
        pipe(4, 0, [RETURN_M, 6.0, 6.5]),
        pipe(4, 0, [RETURN_M, 11.0, 6.5]),
        pipe(4, 0, [RETURN_M, 17.0, 6.5]),
        link(1, 2, LinkKind::Pump(pump)),
    ];
    Ok(Circuit {
        nodes,
        links,
        tees: vec![],
    })
}

/// A square grid of pipe, fed at a corner, with the same flow drawn from every node.
fn grid(side: usize) -> Circuit {
    let [.., four_inch] = BORES_M;
    let drawn_m3s = 0.02 / (side * side) as f64;
    let mut nodes = vec![Node::Body { level_m: 35.0 }];
    nodes.resize(side * side + 1, Node::Junction { drawn_m3s });
    let mut links = vec![pipe(0, 1, [four_inch, 20.0, 1.0])];
    // Every bore has its turn, in no order.
    let mut bores = (0..).map(|i: usize| BORES_M[(i * i + i / 3) % BORES_M.len()]);
    for node in 1..=side * side {
        let place = node - 1;
        let ways = [
            (node + 1, (place + 1) % side > 0),
            (node + side, place + side < side * side),
        ];
        for (other, _) in ways.into_iter().filter(|(_, is_there)| *is_there) {
            links.extend(
                bores
                    .next()
                    .map(|bore_m| pipe(node, other, [bore_m, 8.0, 0.5])),
            );
        }
    }
    Circuit {
        nodes,
        links,
        tees: vec![],
    }
}
