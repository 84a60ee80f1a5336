//! What is true of every circuit: nothing is lost, and the answer is that of the circuit, not of the way to it.

use hydraulics::circuit::{
    Circuit, CircuitSolver, LinkKind, Node, Passage, Solution, Start, solve_circuit,
};
use hydraulics::element::{Element, element_head_m};
use proptest::prelude::*;

use crate::generated::{any_circuit, any_element, circuit, line, pipe, pump, water};

fn largest_flow(solution: &Solution) -> f64 {
    solution
        .flows_m3s
        .iter()
        .fold(0.0, |most, flow| most.max(flow.abs()))
}

/// Flow that is left over at each node that is no body.
fn unbalanced(circuit: &Circuit, solution: &Solution) -> Vec<f64> {
    let mut left: Vec<f64> = circuit
        .nodes
        .iter()
        .map(|node| match node {
            Node::Body { .. } => 0.0,
            Node::Junction { drawn_m3s } => -drawn_m3s,
        })
        .collect();
    for (link, flow) in circuit.links.iter().zip(&solution.flows_m3s) {
        left[link.from] -= flow;
        left[link.to] += flow;
    }
    for (left, node) in left.iter_mut().zip(&circuit.nodes) {
        if matches!(node, Node::Body { .. }) {
            *left = 0.0;
        }
    }
    left
}

/// Head that a link takes at a flow, by the checked functions; the least where a valve holds back at no flow.
fn head_taken(link: &LinkKind, flow: f64) -> f64 {
    match link {
        LinkKind::Line(line) => {
            let of = |element: &Element| match element {
                Element::CheckValve(valve) if flow.abs() < 1e-12 => {
                    valve.cracking_pa / (water().density_kg_m3 * 9.80665)
                }
                _ => flow.signum() * element_head_m(element, flow.abs(), &water()).unwrap().value,
            };
            line.lift_m + line.parts.iter().map(|part| of(&part.element)).sum::<f64>()
        }
        LinkKind::Pump(pump) => -pump.curve.head_m(flow.abs(), pump.speed_rpm).unwrap().value,
    }
}

fn is_one_way(link: &LinkKind) -> bool {
    match link {
        LinkKind::Line(line) => {
            line.lift_m > 0.0
                || line
                    .parts
                    .iter()
                    .any(|part| matches!(part.element, Element::CheckValve(_)))
        }
        LinkKind::Pump(_) => true,
    }
}

/// Checks balance and heads of an answer.
fn conserved(circuit: &Circuit, solution: &Solution) -> Result<(), TestCaseError> {
    let largest = largest_flow(solution).max(1e-9);
    for left in unbalanced(circuit, solution) {
        prop_assert!(left.abs() <= 1e-12 * largest, "{left} of {largest}");
    }
    for (link, flow) in circuit.links.iter().zip(&solution.flows_m3s) {
        let runs = match &link.kind {
            LinkKind::Pump(pump) => pump.speed_rpm > 0.0,
            LinkKind::Line(_) => true,
        };
        if link.passage == Passage::Shut || !runs {
            prop_assert!(*flow == 0.0);
            continue;
        }
        let (Some(from), Some(to)) = (solution.heads_m[link.from], solution.heads_m[link.to])
        else {
            // What is left of a search, where nothing flows.
            prop_assert!(flow.abs() <= 1e-12 * largest);
            continue;
        };
        let apart = head_taken(&link.kind, *flow) - (from - to);
        if is_one_way(&link.kind) {
            prop_assert!(*flow > -1e-10 * largest);
            // It holds back, or it passes water at its head.
            prop_assert!(apart > -2e-9, "{apart} with {flow}");
            prop_assert!(
                *flow <= 1e-10 * largest || apart < 2e-9,
                "{apart} with {flow}"
            );
        } else {
            // 1e-9 m, and the rounding of two ways to compute a head.
            prop_assert!(apart.abs() < 1.1e-9, "{apart} with {flow}");
        }
    }
    Ok(())
}

/// How far two lists of flows are apart, as a share of the largest flow.
fn apart(ours: &[f64], theirs: &[f64]) -> f64 {
    let largest = theirs
        .iter()
        .fold(1e-9_f64, |most, flow| most.max(flow.abs()));
    let most = ours
        .iter()
        .zip(theirs)
        .map(|(a, b)| (a - b).abs())
        .fold(0.0, f64::max);
    most / largest
}

/// A slope of a line with a pipe is 0.1 s/m² and more, so 1e-9 m move 1e-8 m³/s at most; of flows of 1e-3 and more.
/// Where hardly anything flows, it may be all of it.
fn same_flows(ours: &[f64], theirs: &[f64]) -> bool {
    let most = ours
        .iter()
        .zip(theirs)
        .map(|(a, b)| (a - b).abs())
        .fold(0.0, f64::max);
    apart(ours, theirs) < 1e-6 || most < 2e-8
}

proptest! {
    #[test]
    fn water_and_energy_are_conserved(circuit in any_circuit()) {
        let solution = solve_circuit(&circuit, &water()).unwrap();
        conserved(&circuit, &solution)?;
    }

    #[test]
    fn shares_and_lift_make_a_whole(circuit in any_circuit()) {
        let solution = solve_circuit(&circuit, &water()).unwrap();
        let parts = (0..circuit.links.len()).flat_map(|link| solution.parts(link));
        let shares: Vec<f64> = parts.filter_map(|part| part.share).collect();
        // Where less than 1 L/min flows, a head that is 1e-9 m off may be a billionth of all.
        if let Some(lift) = solution.lift_share.filter(|_| largest_flow(&solution) > 2e-5) {
            // Heads to 1e-9 m of some metres.
            prop_assert!((shares.iter().sum::<f64>() + lift - 1.0).abs() < 1e-9, "{shares:?} and {lift}");
            prop_assert!(shares.iter().all(|share| *share > -1e-12));
        }
    }

    #[test]
    fn any_start_leads_to_the_same_answer(
        circuit in any_circuit(), starts in prop::collection::vec(-1.0_f64..1.0, 30), scale in -8.0_f64..2.0,
    ) {
        let mut solver = CircuitSolver::new(circuit.clone(), &water()).unwrap();
        let afresh = solver.solve(Start::Afresh).unwrap().flows_m3s.clone();
        let scale = numerics::elementary::pow(10.0, scale);
        let start: Vec<f64> = starts.iter().take(circuit.links.len()).map(|share| scale * share).collect();
        let solution = solver.solve(Start::Flows(&start)).unwrap().clone();
        conserved(&circuit, &solution)?;
        prop_assert!(same_flows(&solution.flows_m3s, &afresh));
        prop_assert!(same_flows(&solver.solve(Start::Last).unwrap().flows_m3s, &afresh));
        // Nothing of what was solved before stays.
        prop_assert_eq!(&solver.solve(Start::Afresh).unwrap().flows_m3s, &afresh);
    }

    #[test]
    fn neither_the_order_of_lines_nor_the_names_of_nodes_matter(circuit in any_circuit(), by in 1_usize..7) {
        let plain = solve_circuit(&circuit, &water()).unwrap();
        let (nodes, links) = (circuit.nodes.len(), circuit.links.len());
        let mut other = circuit.clone();
        other.nodes.rotate_left(by % nodes);
        other.links.rotate_left(by % links);
        other.links.reverse();
        for link in &mut other.links {
            link.from = (link.from + nodes - by % nodes) % nodes;
            link.to = (link.to + nodes - by % nodes) % nodes;
        }
        let mut flows = solve_circuit(&other, &water()).unwrap().flows_m3s;
        flows.reverse();
        flows.rotate_right(by % links);
        prop_assert!(same_flows(&flows, &plain.flows_m3s));
    }

    #[test]
    fn a_line_more_beside_another_never_lowers_the_whole_flow(
        groups in prop::collection::vec(prop::collection::vec(any_element(), 1..4), 1..5),
        more in any_element(), which in any::<prop::sample::Index>(), rpm in 500.0_f64..3450.0,
    ) {
        // A pump and groups of lines side by side, one group behind another.
        let count = groups.len();
        let mut nodes = vec![Node::JUNCTION; count + 1];
        nodes[0] = Node::POOL;
        let mut links = vec![pump(0, 1, rpm)];
        for (at, group) in groups.into_iter().enumerate() {
            let end = (at + 2) % (count + 1);
            links.extend(group.into_iter().map(|element| line(at + 1, end, vec![element])));
        }
        let before = solve_circuit(&circuit(nodes.clone(), links.clone()), &water()).unwrap();
        let at = which.index(count);
        links.push(line(at + 1, (at + 2) % (count + 1), vec![more]));
        let after = solve_circuit(&circuit(nodes, links), &water()).unwrap();
        // A rounding.
        prop_assert!(after.flows_m3s[0] >= before.flows_m3s[0] * (1.0 - 1e-9));
    }

    #[test]
    fn where_every_loss_is_a_square_flow_follows_speed(
        losses in prop::collection::vec((1.0_f64..40.0, 0.03_f64..0.08), 4), rpm in 300.0_f64..3000.0,
    ) {
        let minor = |at: usize| vec![Element::MinorLoss { k: losses[at].0, bore_m: losses[at].1 }];
        let links = vec![
            line(0, 1, minor(0)), pump(1, 2, rpm), line(2, 3, minor(1)), line(2, 3, minor(2)), line(3, 0, minor(3)),
        ];
        let nodes = vec![Node::POOL, Node::JUNCTION, Node::JUNCTION, Node::JUNCTION];
        let mut solver = CircuitSolver::new(circuit(nodes, links), &water()).unwrap();
        let slow = solver.solve(Start::Afresh).unwrap().clone();
        solver.set_speed_rpm(1, 1.15 * rpm).unwrap();
        let fast = solver.solve(Start::Last).unwrap();
        let scaled: Vec<f64> = slow.flows_m3s.iter().map(|flow| 1.15 * flow).collect();
        // Heads of 0.1 m and more to 1e-9 m.
        prop_assert!(apart(&fast.flows_m3s, &scaled) < 1e-8);
        let heads = fast.heads_m.iter().zip(&slow.heads_m);
        for (fast, slow) in heads {
            prop_assert!((fast.unwrap() - 1.15 * 1.15 * slow.unwrap()).abs() < 4e-9);
        }
        // Shares do not change with speed.
        for link in 0..5 {
            for (fast, slow) in fast.parts(link).iter().zip(slow.parts(link)) {
                prop_assert!((fast.share.unwrap() - slow.share.unwrap()).abs() < 1e-8);
            }
        }
    }

    #[test]
    fn a_model_of_another_size_has_the_same_heads(scale in 0.3_f64..3.0, rpm in 1500.0_f64..3450.0) {
        // Bores and lengths as the scale at one velocity and one Reynolds number: viscosity as the scale too.
        let build = |scale: f64| {
            let curve = hydraulics::pump::PumpCurve::quadratic([20.0, 0.0, 2e5 / (scale * scale * scale * scale)], 3450.0);
            let mut pump = pump(1, 2, rpm);
            pump.kind = LinkKind::Pump(hydraulics::circuit::Pump { curve: curve.unwrap(), speed_rpm: rpm });
            let run = |bore_m: f64, length_m: f64| {
                let Element::Pipe(mut run) = pipe(scale * bore_m, scale * length_m, 2.0) else {
                    panic!("a pipe is a pipe");
                };
                run.roughness_m *= scale;
                vec![Element::Pipe(run)]
            };
            let links = vec![line(0, 1, run(0.06, 8.0)), pump, line(2, 0, run(0.05, 20.0)), line(2, 0, run(0.04, 15.0))];
            circuit(vec![Node::POOL, Node::JUNCTION, Node::JUNCTION], links)
        };
        let mut thicker = water();
        thicker.dynamic_viscosity_pa_s *= scale;
        let plain = solve_circuit(&build(1.0), &water()).unwrap();
        let scaled = solve_circuit(&build(scale), &thicker).unwrap();
        for (ours, theirs) in scaled.flows_m3s.iter().zip(&plain.flows_m3s) {
            // Heads to 1e-9 m of metres.
            prop_assert!((ours / (scale * scale * theirs) - 1.0).abs() < 1e-8);
        }
        for (ours, theirs) in scaled.heads_m.iter().zip(&plain.heads_m) {
            prop_assert!((ours.unwrap() - theirs.unwrap()).abs() < 4e-9);
        }
    }
}
