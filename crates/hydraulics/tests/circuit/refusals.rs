//! What is no circuit, or has no way for the water, is refused by its place.

use hydraulics::circuit::{Circuit, CircuitError, LinkKind, Node, PumpEnd, solve_circuit};
use hydraulics::element::Element;

use crate::generated::{circuit, line, pipe, pump, shut, water, with_lift};

fn run() -> Vec<Element> {
    vec![pipe(0.05, 10.0, 1.0)]
}

fn refused(circuit: &Circuit) -> CircuitError {
    solve_circuit(circuit, &water()).unwrap_err()
}

#[test]
fn a_structure_that_is_none_is_refused() {
    let two = || vec![Node::POOL, Node::JUNCTION];
    assert_eq!(refused(&circuit(vec![], vec![])), CircuitError::NoBody);
    assert_eq!(
        refused(&circuit(vec![Node::JUNCTION; 2], vec![line(0, 1, run())])),
        CircuitError::NoBody
    );
    assert_eq!(
        refused(&circuit(two(), vec![line(0, 2, run())])),
        CircuitError::NoSuchNode { link: 0, node: 2 }
    );
    assert_eq!(
        refused(&circuit(two(), vec![line(0, 1, run()), line(1, 1, run())])),
        CircuitError::SameEnds { link: 1, node: 1 }
    );
    let three = vec![Node::POOL, Node::JUNCTION, Node::JUNCTION];
    assert_eq!(
        refused(&circuit(three, vec![line(0, 1, run())])),
        CircuitError::DanglingNode { node: 2 }
    );
}

#[test]
fn an_impossible_part_is_named() {
    let two = || vec![Node::POOL, Node::JUNCTION];
    let bad = vec![pipe(0.05, 1.0, 0.0), pipe(0.05, -1.0, 0.0)];
    let error = refused(&circuit(two(), vec![line(0, 1, run()), line(1, 0, bad)]));
    assert_eq!(
        error.to_string(),
        "link 1, part 1: the length is -1 m; expected a finite value of 0 or more"
    );
    let error = refused(&circuit(two(), vec![with_lift(line(0, 1, run()), -0.5)]));
    assert!(
        error.to_string().starts_with("link 0: the lift is -0.5 m"),
        "{error}"
    );
    let nodes = vec![Node::POOL, Node::Body { level_m: f64::NAN }];
    assert!(matches!(
        refused(&circuit(nodes, vec![line(0, 1, run())])),
        CircuitError::Node { node: 1, .. }
    ));
    let mut none = line(0, 1, run());
    if let LinkKind::Line(line) = &mut none.kind {
        line.parts[0].side_by_side = 0;
    }
    assert_eq!(
        refused(&circuit(two(), vec![none])),
        CircuitError::NoneOfPart { link: 0, part: 0 }
    );
}

#[test]
fn a_pump_without_a_way_is_refused_by_its_end() {
    let nodes = || vec![Node::POOL, Node::JUNCTION, Node::JUNCTION];
    let suction = || line(0, 1, run());
    let back = || line(2, 0, run());
    let no_way = |links| match refused(&circuit(nodes(), links)) {
        CircuitError::NoWay { link, end } => (link, end),
        other => panic!("{other}"),
    };
    assert_eq!(
        no_way(vec![suction(), pump(1, 2, 900.0), shut(back())]),
        (1, PumpEnd::Outlet)
    );
    assert_eq!(
        no_way(vec![shut(suction()), pump(1, 2, 900.0), back()]),
        (1, PumpEnd::Inlet)
    );
    // A line that passes water the other way only is no way.
    let against = with_lift(line(0, 2, run()), 0.1);
    assert_eq!(
        no_way(vec![suction(), pump(1, 2, 900.0), against]),
        (1, PumpEnd::Outlet)
    );
    // Two pumps that feed each other, cut off from the pool.
    let links = vec![
        pump(1, 2, 900.0),
        pump(2, 1, 900.0),
        shut(suction()),
        line(1, 2, run()),
    ];
    assert_eq!(no_way(links), (0, PumpEnd::Inlet));
}

#[test]
fn what_is_wholly_shut_and_what_is_drawn_from_nowhere_is_refused() {
    let nodes = |drawn_m3s| vec![Node::POOL, Node::Junction { drawn_m3s }];
    let links = vec![shut(line(0, 1, run())), pump(0, 1, 0.0)];
    assert_eq!(refused(&circuit(nodes(0.0), links)), CircuitError::AllShut);
    // Water cannot come against a one-way line.
    let links = vec![with_lift(line(1, 0, run()), 0.1)];
    assert_eq!(
        refused(&circuit(nodes(1e-3), links)),
        CircuitError::DrawnFromNowhere {
            node: 1,
            drawn_m3s: 1e-3
        }
    );
}

#[test]
fn numbers_that_no_pad_has_end_in_a_refusal_or_in_finite_numbers() {
    for (bore_m, level_m) in [
        (1e-60, 1.0),
        (1e60, 1.0),
        (0.05, 1e200),
        (0.05, 1e-200),
        (1e-3, 1e12),
    ] {
        let nodes = vec![Node::POOL, Node::JUNCTION, Node::Body { level_m }];
        let links = vec![line(0, 1, vec![pipe(bore_m, 10.0, 1.0)]), line(1, 2, run())];
        if let Ok(solution) = solve_circuit(&circuit(nodes, links), &water()) {
            let heads = solution.heads_m.iter().flatten();
            assert!(
                solution
                    .flows_m3s
                    .iter()
                    .chain(heads)
                    .all(|number| number.is_finite())
            );
        }
    }
}

#[test]
fn a_line_that_gains_head_the_more_it_passes_has_no_answer() {
    let nodes = vec![Node::POOL, Node::Body { level_m: 1.0 }];
    let gains = Element::MinorLoss {
        k: -5.0,
        bore_m: 0.05,
    };
    let error = refused(&circuit(nodes, vec![line(1, 0, vec![gains])]));
    assert!(
        matches!(error, CircuitError::DidNotConverge { .. }),
        "{error}"
    );
}
