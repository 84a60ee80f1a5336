//! Whole networks against solutions of a general root finder, and a worked example.

use hydraulics::circuit::{
    Circuit, CircuitSolver, Line, Link, LinkKind, Node, Part, Passage, Pump, Solution, Start,
    solve_circuit,
};
use hydraulics::constants::STANDARD_GRAVITY_M_S2;
use hydraulics::element::Element;
use hydraulics::loss::PipeRun;
use hydraulics::pump::PumpCurve;
use hydraulics::water::Water;
use serde_json::Value;

use crate::harness::{Tally, Tolerance, text};

const FILES: [&str; 5] = [
    "n1_single",
    "n3_parallel2",
    "n4_pump_loop",
    "n6_near_zero",
    "n7_manifold",
];

/// A network of the files, with the names of its nodes and links.
struct Network {
    circuit: Circuit,
    water: Water,
    node_names: Vec<String>,
    link_names: Vec<String>,
    elevations_m: Vec<f64>,
    reference: Value,
}

fn number(of: &Value, key: &str) -> f64 {
    of[key].as_f64().unwrap_or_else(|| panic!("{key} of {of}"))
}

fn name(of: &Value, key: &str) -> String {
    of[key].as_str().unwrap().to_owned()
}

fn list<'a>(of: &'a Value, key: &str) -> &'a [Value] {
    of[key].as_array().unwrap()
}

impl Network {
    fn read(file: &str) -> Self {
        let given: Value =
            serde_json::from_str(&text(&format!("networks/scipy/{file}.json"))).unwrap();
        let density_kg_m3 = number(&given["fluid"], "density_kg_m3");
        let water = Water {
            density_kg_m3,
            dynamic_viscosity_pa_s: number(&given["fluid"], "dynamic_viscosity_Pa_s"),
            ..Water::fresh(293.15).unwrap()
        };
        let weight = density_kg_m3 * STANDARD_GRAVITY_M_S2;
        let node_names: Vec<String> = list(&given, "nodes")
            .iter()
            .map(|node| name(node, "id"))
            .collect();
        let place = |of: &Value, key: &str| {
            let wanted = name(of, key);
            node_names.iter().position(|id| *id == wanted).unwrap()
        };
        let node = |node: &Value| match node["fixed_gauge_pressure_Pa"].as_f64() {
            Some(pressure_pa) => Node::Body {
                level_m: pressure_pa / weight + number(node, "elevation_m"),
            },
            None => Node::Junction {
                drawn_m3s: number(node, "demand_m3_s"),
            },
        };
        let pipes = list(&given, "pipes").iter().map(|of| (of, pipe(of)));
        let pumps = list(&given, "pumps")
            .iter()
            .map(|of| (of, pump(of, weight)));
        let (link_names, links) = pipes
            .chain(pumps)
            .map(|(of, kind)| {
                let link = Link {
                    from: place(of, "from"),
                    to: place(of, "to"),
                    kind,
                    passage: Passage::Open,
                };
                (name(of, "id"), link)
            })
            .unzip();
        Self {
            circuit: Circuit {
                nodes: list(&given, "nodes").iter().map(node).collect(),
                links,
            },
            elevations_m: list(&given, "nodes")
                .iter()
                .map(|node| number(node, "elevation_m"))
                .collect(),
            reference: given["solutions"]["reference"].clone(),
            water,
            node_names,
            link_names,
        }
    }

    fn compare(&self, file: &str, solution: &Solution, flows: &mut Tally, pressures: &mut Tally) {
        let largest = solution
            .flows_m3s
            .iter()
            .fold(0.0_f64, |most, flow| most.max(flow.abs()));
        for (id, flow) in self.link_names.iter().zip(&solution.flows_m3s) {
            let of_pipe = &self.reference["pipe_flow_m3_s"][id];
            let theirs = of_pipe
                .as_f64()
                .or(self.reference["pump_flow_m3_s"][id].as_f64())
                .unwrap();
            if theirs == 0.0 {
                assert!(flow.abs() < 1e-12 * largest, "{file}, {id}: {flow}");
            } else {
                flows.compare(format!("{file}, {id}"), *flow, theirs);
            }
        }
        let weight = self.water.density_kg_m3 * STANDARD_GRAVITY_M_S2;
        for ((id, head), elevation_m) in self
            .node_names
            .iter()
            .zip(&solution.heads_m)
            .zip(&self.elevations_m)
        {
            let theirs = number(&self.reference["node_gauge_pressure_Pa"], id);
            pressures.compare(
                format!("{file}, {id}"),
                weight * (head.unwrap() - elevation_m),
                theirs,
            );
        }
    }
}

fn pipe(of: &Value) -> LinkKind {
    let run = PipeRun {
        bore_m: number(of, "D_m"),
        roughness_m: number(of, "roughness_m"),
        length_m: number(of, "L_m"),
        minor_loss_k: number(of, "K"),
    };
    LinkKind::Line(Line {
        parts: vec![Part::one(Element::Pipe(run))],
        lift_m: 0.0,
    })
}

fn pump(of: &Value, weight: f64) -> LinkKind {
    const SOME_RPM: f64 = 3000.0;
    let given = list(of, "dp_Pa_coeffs")
        .iter()
        .map(|c| c.as_f64().unwrap() / weight);
    let coefficients: Vec<f64> = given.collect();
    let curve = PumpCurve::quadratic(
        [coefficients[0], -coefficients[1], -coefficients[2]],
        SOME_RPM,
    );
    LinkKind::Pump(Pump {
        curve: curve.unwrap(),
        speed_rpm: SOME_RPM,
    })
}

#[test]
fn networks_have_the_flows_and_pressures_of_a_general_root_finder() {
    let mut flows = Tally::new("networks/scipy: flow", Tolerance::Relative(1e-6));
    let mut pressures = Tally::new("networks/scipy: pressure in Pa", Tolerance::Absolute(1e-3));
    for file in FILES {
        let network = Network::read(file);
        let solution = solve_circuit(&network.circuit, &network.water).unwrap();
        network.compare(file, &solution, &mut flows, &mut pressures);
    }
    flows.finish();
    pressures.finish();
}

#[test]
fn the_way_to_an_answer_does_not_matter() {
    let mut flows = Tally::new(
        "networks/scipy: flow from other starts",
        Tolerance::Relative(1e-6),
    );
    let mut pressures = Tally::new(
        "networks/scipy: pressure in Pa from other starts",
        Tolerance::Absolute(1e-3),
    );
    for file in FILES {
        let network = Network::read(file);
        let links = network.circuit.links.len();
        let mut solver = CircuitSolver::new(network.circuit.clone(), &network.water).unwrap();
        for start in [0.0, 1e-12, -1e-4, 1.0, -1e3] {
            let solution = solver.solve(Start::Flows(&vec![start; links])).unwrap();
            network.compare(file, solution, &mut flows, &mut pressures);
        }
    }
    flows.finish();
    pressures.finish();
}
