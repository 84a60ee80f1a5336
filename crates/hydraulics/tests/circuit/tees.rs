//! Tees in a circuit: the flow divides, one stream drags another along, and nothing is lost on the way.

use hydraulics::Warning;
use hydraulics::circuit::{
    Circuit, CircuitError, CircuitSolver, Leg, Node, Passage, Solution, Start, Tee, TeeFault,
    solve_circuit,
};
use proptest::prelude::*;

use crate::generated::{circuit, line, pipe, pump, shut, water};

const BORE_M: f64 = 0.05;

fn tee(node: usize, [combined, run, branch]: [usize; 3]) -> Tee {
    Tee {
        node,
        run: [Leg::Link(combined), Leg::Link(run)],
        branch: Leg::Link(branch),
        run_bore_m: BORE_M,
        branch_bore_m: BORE_M,
        angle_deg: 90.0,
        loss_factor: 1.0,
    }
}

/// Two suction lines that join, a pump, and two returns that part, of these lengths in m; the second return ends in a
/// body at this level.
fn pad(lengths_m: [f64; 4], level_m: f64) -> Circuit {
    let of = |length_m| vec![pipe(BORE_M, length_m, 1.0)];
    let [skimmer, drain, near, far] = lengths_m.map(of);
    let mut nodes = vec![Node::JUNCTION; 6];
    nodes[0] = Node::POOL;
    nodes[5] = Node::Body { level_m };
    let links = vec![
        line(0, 1, skimmer),
        line(0, 1, drain),
        line(1, 2, of(2.0)),
        pump(2, 3, 3000.0),
        line(3, 4, of(5.0)),
        line(4, 0, near),
        line(4, 5, far),
    ];
    Circuit {
        tees: vec![tee(1, [2, 0, 1]), tee(4, [4, 5, 6])],
        ..circuit(nodes, links)
    }
}

fn leg(solution: &Solution, link: usize) -> f64 {
    let mut legs = solution.tees.iter().filter(|leg| leg.link == link);
    legs.next().unwrap().head_m
}

#[test]
fn equal_returns_of_a_tee_are_not_equal() {
    let solution = solve_circuit(&pad([8.0, 8.0, 10.0, 10.0], 0.0), &water()).unwrap();
    let flows = &solution.flows_m3s;
    // The run is the easier way, and in a joining tee the harder one.
    assert!(flows[5] > 1.05 * flows[6], "{flows:?}");
    assert!(leg(&solution, 6) > leg(&solution, 5));
    assert!(solution.warnings.is_empty());
}

#[test]
fn a_shut_leg_leaves_a_plain_fitting() {
    let mut solver = CircuitSolver::new(pad([8.0, 8.0, 10.0, 10.0], 0.0), &water()).unwrap();
    let velocity_head_m = |flow: f64| {
        let velocity = flow / (0.25 * core::f64::consts::PI * BORE_M * BORE_M);
        velocity * velocity / (2.0 * 9.80665)
    };
    // Crane TP-410: 20 f_T through the run, 60 f_T through the branch; f_T of a 50 mm bore is about 0.019.
    for (closed, open, length_ratio) in [(6, 5, 20.0), (5, 6, 60.0)] {
        solver.set_passage(closed, Passage::Shut).unwrap();
        let solution = solver.solve(Start::Afresh).unwrap();
        let k = leg(solution, open) / velocity_head_m(solution.flows_m3s[open]);
        assert!((k / (length_ratio * 0.019) - 1.0).abs() < 0.03, "{k}");
        assert!(leg(solution, closed).abs() < f64::MIN_POSITIVE);
        solver.set_passage(closed, Passage::Open).unwrap();
    }
}

#[test]
fn the_pump_may_be_a_leg() {
    let of = |length_m| vec![pipe(BORE_M, length_m, 1.0)];
    let nodes = vec![Node::POOL, Node::JUNCTION, Node::JUNCTION];
    let links = vec![
        line(0, 1, of(8.0)),
        line(0, 1, of(8.0)),
        pump(1, 2, 3000.0),
        line(2, 0, of(9.0)),
    ];
    let by_pump = Circuit {
        tees: vec![tee(1, [2, 0, 1])],
        ..circuit(nodes, links)
    };
    let solution = solve_circuit(&by_pump, &water()).unwrap();
    let drawn_m3s = solution.flows_m3s[2];
    let by_flow = Circuit {
        tees: vec![Tee {
            run: [Leg::Drawn, Leg::Link(0)],
            ..tee(1, [0, 0, 1])
        }],
        ..circuit(
            vec![Node::POOL, Node::Junction { drawn_m3s }],
            vec![line(0, 1, of(8.0)), line(0, 1, of(8.0))],
        )
    };
    let drawn = solve_circuit(&by_flow, &water()).unwrap();
    for link in 0..2 {
        assert!((drawn.flows_m3s[link] / solution.flows_m3s[link] - 1.0).abs() < 1e-9);
    }
}

#[test]
fn a_way_that_has_no_law_is_told() {
    // The combined flow comes by the branch.
    let of = |length_m| vec![pipe(BORE_M, length_m, 1.0)];
    let nodes = vec![Node::POOL, Node::JUNCTION, Node::JUNCTION, Node::JUNCTION];
    let links = vec![
        line(0, 1, of(3.0)),
        pump(1, 2, 3000.0),
        line(2, 3, of(3.0)),
        line(3, 0, of(8.0)),
        line(3, 0, of(9.0)),
    ];
    let bullhead = Circuit {
        tees: vec![tee(3, [3, 4, 2])],
        ..circuit(nodes, links)
    };
    let solution = solve_circuit(&bullhead, &water()).unwrap();
    assert_eq!(solution.warnings[0].warning, Warning::NoSplitLaw);
    assert!(leg(&solution, 3) > 0.0 && leg(&solution, 4) > 0.0);
}

#[test]
fn a_tee_where_none_can_be_is_refused() {
    let refused = |change: fn(&mut Circuit)| {
        let mut circuit = pad([8.0, 8.0, 10.0, 10.0], 0.0);
        change(&mut circuit);
        solve_circuit(&circuit, &water()).unwrap_err()
    };
    let fault = |fault| CircuitError::Tee { tee: 1, fault };
    let other = fault(TeeFault::OtherLegs);
    assert_eq!(
        refused(|it| it.tees[1].node = 0),
        fault(TeeFault::NoJunction)
    );
    assert_eq!(
        refused(|it| it.tees[1].node = 9),
        fault(TeeFault::NoJunction)
    );
    assert_eq!(refused(|it| it.tees[1].branch = Leg::Link(5)), other);
    assert_eq!(refused(|it| it.tees[1].branch = Leg::Link(0)), other);
    assert_eq!(refused(|it| it.tees[1].branch = Leg::Drawn), other);
    assert_eq!(
        refused(|it| it.links.push(line(4, 0, vec![pipe(BORE_M, 3.0, 1.0)]))),
        other
    );
    for change in [
        (|it| it.tees[1].branch_bore_m = 2.0 * BORE_M) as fn(&mut Circuit),
        |it| it.tees[1].angle_deg = 120.0,
        |it| it.tees[1].run_bore_m = 0.0,
    ] {
        assert!(matches!(
            refused(change),
            CircuitError::TeeShape { tee: 1, .. }
        ));
    }
    let still = |mut it: Circuit| {
        it.links[6] = shut(it.links[6].clone());
        solve_circuit(&it, &water()).is_ok()
    };
    assert!(still(pad([8.0, 8.0, 10.0, 10.0], 0.0)));
}

proptest! {
    /// What tees take moves as a second solution, with a little more lost in one line, says.
    #[test]
    fn what_tees_take_moves_with_the_flows(
        lengths in prop::array::uniform4(2.0_f64..40.0),
        changed in 0_usize..4,
    ) {
        let at = |factor: f64| {
            let mut lengths = lengths;
            lengths[changed] *= factor;
            let mut solver = CircuitSolver::new(pad(lengths, 0.0), &water()).unwrap();
            let solution = solver.solve(Start::Afresh).unwrap().clone();
            (solver, solution)
        };
        let (solver, before) = at(1.0);
        let (_, after) = at(1.0001);
        let flows = after.flows_m3s.iter().zip(&before.flows_m3s);
        let moved: Vec<f64> = flows.map(|(after, before)| after - before).collect();
        let told = solver.tees_moved_m(&moved);
        for ((after, before), told_m) in after.tees.iter().zip(&before.tees).zip(told) {
            // First order in a change of 1e-4, about twice that of its square; heads are found to 1e-9 m.
            let true_m = after.head_m - before.head_m;
            prop_assert!((told_m - true_m).abs() < 1e-3 * true_m.abs() + 1e-8);
        }
    }

    /// Whatever the lengths and levels, also where a return turns round: heads add up along every way, and the power
    /// that the pump gives is found again in the parts, the tees and the lift.
    #[test]
    fn nothing_is_lost_at_a_tee(
        lengths in prop::array::uniform4(0.5_f64..60.0),
        level in -1.0_f64..2.5,
    ) {
        let circuit = pad(lengths, level);
        let solution = solve_circuit(&circuit, &water()).unwrap();
        let head = |node: usize| solution.heads_m[node].unwrap();
        for (link, it) in circuit.links.iter().enumerate() {
            let parts: f64 = solution.parts(link).iter().map(|part| part.head_m).sum();
            let tees: f64 = solution.tees.iter().filter(|leg| leg.link == link).map(|leg| leg.head_m).sum();
            let taken = parts + tees - solution.pump_heads_m[link];
            prop_assert!((head(it.from) - head(it.to) - taken).abs() < 3e-9);
        }
        let parts: f64 = (0..circuit.links.len()).flat_map(|link| solution.parts(link)).filter_map(|it| it.share).sum();
        let tees: f64 = solution.tees.iter().filter_map(|leg| leg.share).sum();
        prop_assert!((parts + tees + solution.lift_share.unwrap() - 1.0).abs() < 1e-9);
        prop_assert!(tees > -1e-12, "tees make no energy: {tees}");
    }

    /// Where the search begins makes no difference, as long as no stream is at the turn.
    #[test]
    fn any_start_ends_at_the_same_flows(
        lengths in prop::array::uniform4(2.0_f64..40.0),
        start in -0.01_f64..0.01,
    ) {
        let circuit = pad(lengths, 0.0);
        let links = circuit.links.len();
        let mut solver = CircuitSolver::new(circuit, &water()).unwrap();
        let afresh = solver.solve(Start::Afresh).unwrap().flows_m3s.clone();
        let again = solver.solve(Start::Flows(&vec![start; links])).unwrap();
        for (one, other) in afresh.iter().zip(&again.flows_m3s) {
            prop_assert!((one - other).abs() < 1e-9, "{one} {other}");
        }
    }
}
