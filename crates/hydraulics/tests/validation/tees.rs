//! Tees in a circuit against a general root finder on the laws of a library.

use hydraulics::circuit::{
    Circuit, Leg, Line, Link, LinkKind, Node, Part, Passage, Pump, Tee, solve_circuit,
};
use hydraulics::element::Element;
use hydraulics::pump::PumpCurve;
use hydraulics::water::Water;

use crate::harness::{Case, Tally, Tolerance, cases};

// The nodes: the pool, the suction tee, the pump's two ends, and the return tee.
const POOL: usize = 0;
const JOINING: usize = 1;
const INLET: usize = 2;
const OUTLET: usize = 3;
const SPLITTING: usize = 4;

fn circuit(case: &Case) -> Circuit {
    let run_bore_m = case.number("run_bore_m");
    let suction_bore_m = case.number("suction_branch_bore_m");
    let return_bore_m = case.number("return_branch_bore_m");
    let link = |from, to, kind| Link {
        from,
        to,
        kind,
        passage: Passage::Open,
    };
    let line = |(from, to), k: &str, bore_m| {
        let k = case.number(k);
        let parts = vec![Part::one(Element::MinorLoss { k, bore_m })];
        link(from, to, LinkKind::Line(Line { parts, lift_m: 0.0 }))
    };
    let law = [case.number("shutoff_m"), 0.0, case.number("fall_s2_m5")];
    let pump = Pump {
        curve: PumpCurve::quadratic(law, 3450.0).unwrap(),
        speed_rpm: 3450.0,
    };
    let tee = |node, [combined, run, branch]: [usize; 3], branch_bore_m| Tee {
        node,
        run: [Leg::Link(combined), Leg::Link(run)],
        branch: Leg::Link(branch),
        run_bore_m,
        branch_bore_m,
        angle_deg: 90.0,
        loss_factor: 1.0,
    };
    Circuit {
        nodes: vec![
            Node::POOL,
            Node::JUNCTION,
            Node::JUNCTION,
            Node::JUNCTION,
            Node::JUNCTION,
        ],
        links: vec![
            line((POOL, JOINING), "k_a", run_bore_m),
            line((POOL, JOINING), "k_b", suction_bore_m),
            line((JOINING, INLET), "k_c", run_bore_m),
            line((OUTLET, SPLITTING), "k_d", run_bore_m),
            line((SPLITTING, POOL), "k_e", run_bore_m),
            line((SPLITTING, POOL), "k_f", return_bore_m),
            link(INLET, OUTLET, LinkKind::Pump(pump)),
        ],
        tees: vec![
            tee(JOINING, [2, 0, 1], suction_bore_m),
            tee(SPLITTING, [3, 4, 5], return_bore_m),
        ],
    }
}

#[test]
fn flows_divide_as_the_library_has_it() {
    let mut flows = Tally::new("networks/fluids-tees: flow", Tolerance::Relative(1e-7));
    let mut heads = Tally::new(
        "networks/fluids-tees: head of a leg, m",
        Tolerance::Absolute(1e-6),
    );
    let water = Water::fresh(293.15).unwrap();
    let mut dragged = 0;
    for (row, case) in cases("networks/fluids-tees/cases.csv").iter().enumerate() {
        let solution = solve_circuit(&circuit(case), &water).unwrap();
        let of_lines = [
            (0, "flow_a_m3s"),
            (1, "flow_b_m3s"),
            (4, "flow_e_m3s"),
            (5, "flow_f_m3s"),
        ];
        for (link, column) in of_lines {
            flows.compare(
                format!("{row}, {column}"),
                solution.flows_m3s[link],
                case.number(column),
            );
        }
        let of_legs = [
            (0, "run_joining_m"),
            (1, "branch_joining_m"),
            (4, "run_splitting_m"),
            (5, "branch_splitting_m"),
        ];
        for (link, column) in of_legs {
            let leg = solution.tees.iter().find(|leg| leg.link == link).unwrap();
            heads.compare(format!("{row}, {column}"), leg.head_m, case.number(column));
            dragged += usize::from(leg.head_m < 0.0);
        }
    }
    flows.finish();
    heads.finish();
    assert!(
        dragged >= 30,
        "{dragged}: the cases hold legs that gain head"
    );
}
