//! Time to solve a pad, and grids of pipe from a thousand to a hundred thousand: how it grows with their size.

use core::hint::black_box;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use hydraulics::circuit::{
    Circuit, CircuitSolver, Line, Link, LinkKind, Node, Part, Passage, Pump, Start, solve_circuit,
};
use hydraulics::element::Element;
use hydraulics::loss::PipeRun;
use hydraulics::pipe::PVC_ROUGHNESS_M;
use hydraulics::pump::PumpCurve;
use hydraulics::water::Water;

/// Bores of PVC Schedule 40 from 1-1/2 to 4 in, without the 3-1/2.
const BORES_M: [f64; 5] = [0.040894, 0.0525018, 0.0627126, 0.0779272, 0.1022604];

fn pipe(from: usize, to: usize, [bore_m, length_m, minor_loss_k]: [f64; 3]) -> Link {
    let run = PipeRun {
        bore_m,
        roughness_m: PVC_ROUGHNESS_M,
        length_m,
        minor_loss_k,
    };
    let line = Line {
        parts: vec![Part::one(Element::Pipe(run))],
        lift_m: 0.0,
    };
    Link {
        from,
        to,
        kind: LinkKind::Line(line),
        passage: Passage::Open,
    }
}

/// Two suction lines, a pump, a filter's pipe, a heater's with its bypass, and three returns.
fn pad() -> Circuit {
    let curve = PumpCurve::quadratic([20.0, 100.0, 2e5], 3450.0);
    let Ok(curve) = curve else {
        return Circuit::default();
    };
    let pump = LinkKind::Pump(Pump {
        curve,
        speed_rpm: 3450.0,
    });
    let [narrow, usual, ..] = BORES_M;
    Circuit {
        tees: vec![],
        nodes: vec![
            Node::POOL,
            Node::JUNCTION,
            Node::JUNCTION,
            Node::JUNCTION,
            Node::JUNCTION,
        ],
        links: vec![
            pipe(0, 1, [usual, 10.0, 3.0]),
            pipe(0, 1, [usual, 16.0, 2.2]),
            Link {
                from: 1,
                to: 2,
                kind: pump,
                passage: Passage::Open,
            },
            pipe(2, 3, [usual, 3.0, 28.0]),
            pipe(3, 4, [narrow, 4.0, 9.0]),
            pipe(3, 4, [usual, 2.0, 24.0]),
            pipe(4, 0, [narrow, 6.0, 6.5]),
            pipe(4, 0, [narrow, 11.0, 6.5]),
            pipe(4, 0, [narrow, 17.0, 6.5]),
        ],
    }
}

/// A square grid of pipe of all bores but the least, fed at a corner, with the same flow drawn from every node.
fn grid(side: usize) -> Circuit {
    let feed = Node::Body { level_m: 35.0 };
    let drawn_m3s = 0.02 / (side * side) as f64;
    let mut nodes = vec![feed];
    nodes.resize(side * side + 1, Node::Junction { drawn_m3s });
    let mut links = vec![pipe(0, 1, [BORES_M[4], 20.0, 1.0])];
    // A lattice of irrational step gives every bore its turn, in no order.
    let mut turn = 0.0_f64;
    let mut any = || {
        turn = (turn + 0.618_033_988_749_894_9).fract();
        let [_, two, two_and_a_half, three, four] = BORES_M;
        match turn {
            turn if turn < 0.25 => two,
            turn if turn < 0.5 => two_and_a_half,
            turn if turn < 0.75 => three,
            _ => four,
        }
    };
    for row in 0..side {
        for column in 0..side {
            let node = 1 + row * side + column;
            if column > 0 {
                links.push(pipe(node - 1, node, [any(), 8.0, 0.5]));
            }
            if row > 0 {
                links.push(pipe(node - side, node, [any(), 8.0, 0.5]));
            }
        }
    }
    Circuit {
        nodes,
        links,
        tees: vec![],
    }
}

fn circuits(criterion: &mut Criterion) {
    let Ok(water) = Water::fresh(300.0) else {
        return;
    };
    let mut group = criterion.benchmark_group("circuit");
    let sides = [23, 71, 224].map(|side| ("grid", grid(side)));
    for (name, circuit) in [("pad", pad())].into_iter().chain(sides) {
        let pipes = circuit.links.len();
        let Ok(mut solver) = CircuitSolver::new(circuit.clone(), &water) else {
            continue;
        };
        group.throughput(Throughput::Elements(pipes as u64));
        if pipes > 50_000 {
            group.sample_size(10);
        }
        group.bench_function(format!("{name} of {pipes} links, again"), |bencher| {
            bencher.iter(|| {
                solver
                    .solve(black_box(Start::Afresh))
                    .map(|it| it.iterations)
            });
        });
        group.bench_function(format!("{name} of {pipes} links, at once"), |bencher| {
            bencher.iter(|| solve_circuit(black_box(&circuit), &water).map(|it| it.iterations));
        });
    }
    group.finish();
}

criterion_group!(benches, circuits);
criterion_main!(benches);
