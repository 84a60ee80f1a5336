//! Whole networks against solutions of a general root finder, and a worked example.

use hydraulics::circuit::{
    Circuit, CircuitSolver, Line, Link, LinkKind, Node, Part, Passage, Pump, Solution, Start,
    solve_circuit,
};
use hydraulics::constants::STANDARD_GRAVITY_M_S2;
use hydraulics::element::Element;
use hydraulics::fittings::area_change::step_k;
use hydraulics::fittings::bend::crane_mitre_k;
use hydraulics::fittings::ends::End;
use hydraulics::fittings::valve::Valve;
use hydraulics::loss::PipeRun;
use hydraulics::pipe::PipeSpec;
use hydraulics::pump::{CurvePoint, PumpCurve};
use hydraulics::water::Water;
use serde_json::Value;

use crate::handbook_crane::{STEP, bore_m, water_60_f};
use crate::harness::{FOOT_M, GPM_M3S, INCH_M, Tally, Tolerance, cases, text};

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
                tees: vec![],
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

/// The reservoir, the two pipes and the open end of the example. The narrow pipe has the bore that stands to the wide
/// one as the sums of the example take it, with its own length and roughness in bores.
fn reservoir_and_two_pipes(narrow_to_wide: f64) -> Circuit {
    let [wide_m, true_m] = [3.0, 2.0].map(|nominal_in| bore_m(PipeSpec::PvcSchedule40, nominal_in));
    let narrow_m = narrow_to_wide * wide_m;
    let minor = |k, bore_m| Part::one(Element::MinorLoss { k, bore_m });
    let run = |bore_m, scale, feet| {
        Part::one(Element::Pipe(PipeRun {
            bore_m,
            roughness_m: 0.0018 * INCH_M * scale,
            length_m: feet * FOOT_M * scale,
            minor_loss_k: 0.0,
        }))
    };
    let wide = vec![
        minor(End::Entrance.k(), wide_m),
        minor(crane_mitre_k(wide_m, 90.0).unwrap().value, wide_m),
        minor(Valve::Gate.k(wide_m).unwrap().value, wide_m),
        run(wide_m, 1.0, 10.0),
    ];
    let narrow = vec![
        minor(step_k(wide_m, narrow_m).unwrap(), narrow_m),
        run(narrow_m, narrow_m / true_m, 20.0),
        minor(End::Exit.k(), narrow_m),
    ];
    let line = |from, to, parts| Link {
        from,
        to,
        kind: LinkKind::Line(Line { parts, lift_m: 0.0 }),
        passage: Passage::Open,
    };
    let reservoir = Node::Body {
        level_m: 11.5 * FOOT_M,
    };
    Circuit {
        nodes: vec![reservoir, Node::JUNCTION, Node::POOL],
        links: vec![line(0, 1, wide), line(1, 2, narrow)],
        tees: vec![],
    }
}

#[test]
fn a_reservoir_empties_as_in_the_worked_example() {
    let mut tally = Tally::new("networks/crane-tp410-7-19: flow, in steps", STEP);
    let circuit = reservoir_and_two_pipes(2.0 / 3.0);
    let solution = solve_circuit(&circuit, &water_60_f()).unwrap();
    for case in cases("networks/crane-tp410-7-19/case.csv") {
        let ours = solution.flows_m3s[0] / GPM_M3S;
        let theirs = case.number("flow_gpm");
        let step = case.number("relative") * theirs;
        tally.compare(case.text("by"), ours / step, theirs / step);
    }
    tally.finish();
    // Nothing pumps: all that the water loses in falling is lost in the parts.
    let shares: f64 = (0..2)
        .flat_map(|link| solution.parts(link))
        .filter_map(|part| part.share)
        .sum();
    assert!((shares - 1.0).abs() < 1e-12 && solution.lift_share == Some(0.0));
}

#[test]
fn a_curve_at_another_speed_follows_the_worked_example() {
    // Half a unit of the last printed digit.
    let mut tally = Tally::new(
        "pump/handbook: affinity of a curve, last printed digit",
        Tolerance::Absolute(0.51),
    );
    let rows = cases("pump/handbook/affinity.csv");
    let of = |quantity: &str, column: &str| {
        rows.iter()
            .find(|row| row.text("quantity") == quantity)
            .unwrap()
            .number(column)
    };
    let point = |share: f64, head_share: f64| CurvePoint {
        flow_m3s: share * of("flow", "from") * GPM_M3S,
        head_m: head_share * of("head", "from") * FOOT_M,
        shaft_power_w: Some(share * of("power", "from")),
        ..CurvePoint::default()
    };
    // The example has one point; the others only make a curve of it.
    let points = [point(0.5, 1.2), point(1.0, 1.0), point(1.5, 0.6)];
    let curve = PumpCurve::from_points(&points, of("head", "from_rpm")).unwrap();
    let (rpm, flow) = (of("head", "to_rpm"), of("flow", "to") * GPM_M3S);
    let head = curve.head_m(flow, rpm).unwrap().value / FOOT_M;
    let power = curve
        .shaft_power_w(flow, rpm, &water_60_f())
        .unwrap()
        .unwrap()
        .value;
    for (quantity, ours) in [("head", head), ("power", power)] {
        let digit = of(quantity, "last_digit");
        tally.compare(quantity, ours / digit, of(quantity, "to") / digit);
    }
    tally.finish();
}
