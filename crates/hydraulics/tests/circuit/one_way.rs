//! Links that pass water one way only, shut lines, pumps at rest, and water that stands still.

use hydraulics::Warning;
use hydraulics::circuit::{CircuitSolver, Node, Passage, Start, solve_circuit};
use hydraulics::element::Element;
use hydraulics::equipment::CheckValve;
use proptest::prelude::*;

use crate::generated::{circuit, line, pipe, pump, shut, water, with_lift};

const VALVE: Element = Element::CheckValve(CheckValve {
    cracking_pa: 2_000.0,
    kv_m3h: 22.0,
});

/// The head that opens [`VALVE`].
fn cracking_m() -> f64 {
    2_000.0 / (water().density_kg_m3 * 9.80665)
}

/// Not a little, but nothing.
fn is_nothing(flow_m3s: f64) -> bool {
    flow_m3s.abs() < f64::MIN_POSITIVE
}

#[test]
fn a_check_valve_holds_back_what_would_run_backwards() {
    let bodies = |level_m| vec![Node::POOL, Node::Body { level_m }];
    let through = |level_m| {
        let link = line(1, 0, vec![VALVE, pipe(0.05, 5.0, 1.0)]);
        solve_circuit(&circuit(bodies(level_m), vec![link]), &water())
            .unwrap()
            .flows_m3s[0]
    };
    assert!(is_nothing(through(-1.0)));
    assert!(is_nothing(through(0.99 * cracking_m())));
    assert!(through(1.01 * cracking_m()) > 1e-5);
    assert!(through(3.0) > 1e-3);
}

#[test]
fn a_pump_that_cannot_reach_a_spillover_moves_nothing() {
    // 20 m at 3450 rpm: 0.5 m at 545 rpm.
    let mut solver = CircuitSolver::new(
        circuit(
            vec![Node::POOL, Node::JUNCTION],
            vec![
                pump(0, 1, 500.0),
                with_lift(line(1, 0, vec![pipe(0.05, 10.0, 3.0)]), 0.5),
            ],
        ),
        &water(),
    )
    .unwrap();
    let slow = solver.solve(Start::Afresh).unwrap();
    assert!(
        slow.flows_m3s.iter().all(|flow| flow.abs() < 1e-12),
        "{:?}",
        slow.flows_m3s
    );
    solver.set_speed_rpm(0, 600.0).unwrap();
    let fast = solver.solve(Start::Last).unwrap();
    assert!(fast.flows_m3s[0] > 1e-4);
    let lift = fast.lift_share.unwrap();
    assert!((lift - 0.5 / fast.pump_heads_m[0]).abs() < 1e-12 && lift < 1.0);
}

#[test]
fn water_does_not_run_back_through_a_pump_that_is_too_slow() {
    let solution = solve_circuit(
        &circuit(
            vec![Node::POOL, Node::JUNCTION, Node::Body { level_m: 2.0 }],
            vec![pump(0, 1, 500.0), line(1, 2, vec![pipe(0.05, 10.0, 3.0)])],
        ),
        &water(),
    )
    .unwrap();
    assert!(is_nothing(solution.flows_m3s[0]));
    assert!((solution.heads_m[1].unwrap() - 2.0).abs() < 1e-9);
    assert!(solution.pump_heads_m[0].abs() < f64::MIN_POSITIVE && solution.lift_share.is_none());
}

#[test]
fn a_pump_beside_a_stronger_one_is_held_shut() {
    let links = vec![
        pump(0, 1, 3450.0),
        pump(0, 1, 900.0),
        line(1, 0, vec![pipe(0.05, 20.0, 5.0)]),
    ];
    let both = solve_circuit(
        &circuit(vec![Node::POOL, Node::JUNCTION], links.clone()),
        &water(),
    )
    .unwrap();
    assert!(is_nothing(both.flows_m3s[1]));
    let alone = vec![links[0].clone(), links[2].clone()];
    let alone = solve_circuit(&circuit(vec![Node::POOL, Node::JUNCTION], alone), &water()).unwrap();
    assert!((both.flows_m3s[0] / alone.flows_m3s[0] - 1.0).abs() < 1e-12);
}

#[test]
fn a_shut_line_is_as_one_that_is_not_there() {
    let links = vec![
        line(0, 1, vec![pipe(0.06, 8.0, 2.0)]),
        pump(1, 2, 2400.0),
        line(2, 0, vec![pipe(0.05, 20.0, 5.0)]),
        line(2, 0, vec![pipe(0.04, 12.0, 3.0)]),
    ];
    let nodes = vec![Node::POOL, Node::JUNCTION, Node::JUNCTION];
    let three = solve_circuit(&circuit(nodes.clone(), links[..3].to_vec()), &water()).unwrap();
    let mut solver = CircuitSolver::new(circuit(nodes, links), &water()).unwrap();
    let open = solver.solve(Start::Afresh).unwrap().flows_m3s.clone();
    solver.set_passage(3, Passage::Shut).unwrap();
    let shut = solver.solve(Start::Last).unwrap();
    assert!(is_nothing(shut.flows_m3s[3]));
    assert!(shut.parts(3)[0].head_m.abs() < f64::MIN_POSITIVE);
    assert!((shut.flows_m3s[0] / three.flows_m3s[0] - 1.0).abs() < 1e-12);
    solver.set_passage(3, Passage::Open).unwrap();
    let again = solver.solve(Start::Last).unwrap();
    assert!((again.flows_m3s[0] / open[0] - 1.0).abs() < 1e-12);
}

#[test]
fn water_that_stands_still_has_the_head_of_where_it_is_joined_to() {
    let links = vec![
        line(0, 1, vec![pipe(0.05, 5.0, 1.0)]),
        line(1, 2, vec![pipe(0.05, 5.0, 1.0)]),
        shut(line(2, 3, vec![pipe(0.05, 5.0, 1.0)])),
        shut(line(3, 0, vec![pipe(0.05, 5.0, 1.0)])),
        line(1, 4, vec![pipe(0.05, 5.0, 1.0)]),
    ];
    let body = Node::Body { level_m: 1.0 };
    let nodes = vec![
        body,
        Node::JUNCTION,
        Node::JUNCTION,
        Node::JUNCTION,
        Node::POOL,
    ];
    let solution = solve_circuit(&circuit(nodes, links), &water()).unwrap();
    assert!(solution.flows_m3s[1].abs() < 1e-15 && solution.flows_m3s[4] > 1e-3);
    assert!((solution.heads_m[2].unwrap() - solution.heads_m[1].unwrap()).abs() < 1e-9);
    // Nothing determines the head between two shut valves.
    assert_eq!(solution.heads_m[3], None);
}

#[test]
fn where_nothing_drives_nothing_flows() {
    let links = vec![
        line(0, 1, vec![pipe(0.06, 8.0, 2.0)]),
        pump(1, 2, 0.0),
        line(
            2,
            0,
            vec![Element::MinorLoss {
                k: 5.0,
                bore_m: 0.05,
            }],
        ),
        line(2, 0, vec![pipe(0.04, 12.0, 3.0)]),
    ];
    let nodes = vec![Node::POOL, Node::JUNCTION, Node::JUNCTION];
    let solution = solve_circuit(&circuit(nodes, links), &water()).unwrap();
    // A head of 1e-9 m drives 3e-7 m³/s through K = 5, and 2e-10 m³/s through the pipe.
    assert!(
        solution.flows_m3s.iter().all(|flow| flow.abs() < 1e-6),
        "{:?}",
        solution.flows_m3s
    );
    assert!(is_nothing(solution.flows_m3s[1]));
}

#[test]
fn lines_without_any_loss_are_no_obstacle() {
    let links = vec![
        line(0, 1, vec![]),
        pump(1, 2, 3000.0),
        line(2, 3, vec![]),
        line(3, 0, vec![pipe(0.05, 20.0, 4.0)]),
    ];
    let nodes = vec![Node::POOL, Node::JUNCTION, Node::JUNCTION, Node::JUNCTION];
    let solution = solve_circuit(&circuit(nodes, links), &water()).unwrap();
    assert!(solution.heads_m[1].unwrap().abs() < 1e-9 && solution.flows_m3s[0] > 1e-3);
}

#[test]
fn what_is_out_of_range_is_said_with_its_place() {
    let links = vec![
        line(0, 1, vec![pipe(0.05, 2000.0, 0.0), pipe(0.005, 1.0, 0.0)]),
        pump(1, 0, 2000.0),
    ];
    let solution =
        solve_circuit(&circuit(vec![Node::POOL, Node::JUNCTION], links), &water()).unwrap();
    let Some(warning) = solution.warnings.first() else {
        panic!("no warning at {:?}", solution.flows_m3s);
    };
    assert_eq!((warning.link, warning.part), (0, Some(0)));
    assert!(matches!(warning.warning, Warning::TransitionRegime { .. }));
}

proptest! {
    #[test]
    fn a_valve_that_a_search_shuts_is_shut_from_any_start(level_m in -2.0_f64..4.0, start in -1.0_f64..1.0, rpm in 0.0_f64..3450.0) {
        // Two returns, one of them from a spa through a check valve.
        let links = vec![
            line(0, 1, vec![pipe(0.06, 8.0, 2.0)]),
            pump(1, 2, rpm),
            line(2, 0, vec![pipe(0.05, 20.0, 5.0)]),
            line(2, 3, vec![VALVE, pipe(0.05, 8.0, 2.0)]),
            line(3, 0, vec![pipe(0.03, 8.0, 2.0)]),
        ];
        let nodes = vec![Node::POOL, Node::JUNCTION, Node::JUNCTION, Node::Body { level_m }];
        let mut solver = CircuitSolver::new(circuit(nodes, links), &water()).unwrap();
        let afresh = solver.solve(Start::Afresh).unwrap().clone();
        let other = solver.solve(Start::Flows(&[start; 5])).unwrap();
        for (ours, theirs) in other.flows_m3s.iter().zip(&afresh.flows_m3s) {
            // Slopes are 10 s/m² and more where water moves, and 1e-9 m at most are left over.
            prop_assert!((ours - theirs).abs() < 1e-9);
        }
        let held = is_nothing(afresh.flows_m3s[3]);
        prop_assert_eq!(held, afresh.heads_m[2].unwrap() - level_m <= cracking_m() + 1e-9);
    }
}
