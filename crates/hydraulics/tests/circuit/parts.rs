//! Counts of elements in a part, and changes of a circuit between two solutions.

use hydraulics::circuit::{
    Circuit, CircuitError, CircuitSolver, LinkKind, Node, Part, Passage, Start, solve_circuit,
};
use hydraulics::element::Element;
use hydraulics::water::Water;

use crate::generated::{circuit, line, pipe, pump, water};

fn pad(last: Vec<Part>) -> Circuit {
    let mut end = line(2, 0, vec![]);
    if let LinkKind::Line(line) = &mut end.kind {
        line.parts = last;
    }
    let nodes = vec![Node::POOL, Node::JUNCTION, Node::JUNCTION];
    circuit(
        nodes,
        vec![
            line(0, 1, vec![pipe(0.06, 6.0, 1.0)]),
            pump(1, 2, 3000.0),
            end,
        ],
    )
}

fn part(element: Element, in_series: u32, side_by_side: u32) -> Part {
    Part {
        element,
        in_series,
        side_by_side,
    }
}

#[test]
fn rows_side_by_side_share_the_flow_and_elements_in_series_add_up() {
    let counted = solve_circuit(&pad(vec![part(pipe(0.04, 5.0, 2.0), 3, 2)]), &water()).unwrap();
    let three = vec![Part::one(pipe(0.04, 5.0, 2.0)); 3];
    let mut spelt = pad(three.clone());
    spelt.links.push(pad(three).links[2].clone());
    let spelt = solve_circuit(&spelt, &water()).unwrap();
    assert!((counted.flows_m3s[0] / spelt.flows_m3s[0] - 1.0).abs() < 1e-12);
    assert!((counted.flows_m3s[2] / (2.0 * spelt.flows_m3s[2]) - 1.0).abs() < 1e-12);
    let share = |link: usize| {
        spelt
            .parts(link)
            .iter()
            .filter_map(|part| part.share)
            .sum::<f64>()
    };
    assert!((counted.parts(2)[0].share.unwrap() - share(2) - share(3)).abs() < 1e-12);
    // Its head is that of all three.
    let heads: f64 = spelt.parts(2).iter().map(|part| part.head_m).sum();
    assert!((counted.parts(2)[0].head_m - heads).abs() < 2e-9);
}

#[test]
fn a_solver_that_was_changed_answers_as_a_new_one() {
    let mut solver =
        CircuitSolver::new(pad(vec![part(pipe(0.05, 20.0, 2.0), 1, 1)]), &water()).unwrap();
    solver.solve(Start::Afresh).unwrap();
    let cold = Water::fresh(280.0).unwrap();
    solver.set_water(&cold).unwrap();
    solver.set_element(2, 0, pipe(0.04, 30.0, 5.0)).unwrap();
    solver.set_speed_rpm(1, 1800.0).unwrap();
    let changed = solver.solve(Start::Afresh).unwrap().clone();
    let anew = solve_circuit(solver.circuit(), &cold).unwrap();
    assert_eq!(changed, anew);
}

#[test]
fn what_is_not_there_cannot_be_changed() {
    let mut solver =
        CircuitSolver::new(pad(vec![part(pipe(0.05, 20.0, 2.0), 1, 1)]), &water()).unwrap();
    assert!(matches!(
        solver.set_speed_rpm(0, 100.0),
        Err(CircuitError::NoSuch { link: 0, .. })
    ));
    assert!(matches!(
        solver.set_speed_rpm(1, -1.0),
        Err(CircuitError::Link { link: 1, .. })
    ));
    assert!(matches!(
        solver.set_passage(9, Passage::Shut),
        Err(CircuitError::NoSuch { link: 9, .. })
    ));
    assert!(matches!(
        solver.set_element(2, 1, pipe(0.05, 1.0, 0.0)),
        Err(CircuitError::NoSuch { .. })
    ));
    assert!(matches!(
        solver.set_element(2, 0, pipe(0.0, 1.0, 0.0)),
        Err(CircuitError::Part {
            link: 2,
            part: 0,
            ..
        })
    ));
    assert!(matches!(
        solver.solve(Start::Flows(&[1.0])),
        Err(CircuitError::WrongStart { given: 1, links: 3 })
    ));
    assert!(matches!(
        solver.solve(Start::Flows(&[1.0, f64::NAN, 1.0])),
        Err(CircuitError::WrongStart { given: 2, links: 3 })
    ));
    // All of that leaves it as it was.
    let before = solve_circuit(&pad(vec![part(pipe(0.05, 20.0, 2.0), 1, 1)]), &water()).unwrap();
    assert_eq!(solver.solve(Start::Afresh).unwrap(), &before);
}
