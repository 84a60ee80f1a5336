//! Printed figures on fittings: codes, textbooks, trade tables and rules of practice.

use hydraulics::constants::STANDARD_GRAVITY_M_S2;
use hydraulics::fittings::catalogue::Fitting;
use hydraulics::fittings::crane::{equivalent_length_m, turbulent_friction_factor};
use hydraulics::fittings::minor_loss_head_m;
use hydraulics::fittings::outlet::{Edge, outlet_flow_m3s};
use hydraulics::fittings::valve::Valve;
use hydraulics::fittings::valve::opening::partly_open_k;
use hydraulics::pipe::PipeSpec;

use crate::handbook_crane::{PSI_PA, STEP, bore_m, compare_in_steps, velocity_m_s};
use crate::harness::{FOOT_M, GPM_M3S, INCH_M, Tally, Tolerance, cases};

#[test]
fn an_elbow_takes_what_the_table_says() {
    // Half of the last digit of 0.019.
    let mut tally = Tally::new(
        "handbook-fittings/elbow-2in: K and head",
        Tolerance::Relative(0.0005 / 0.019),
    );
    for case in cases("handbook-fittings/elbow-2in/case.csv") {
        let bore_m = bore_m(PipeSpec::PvcSchedule40, case.number("nps_in"));
        let k = Fitting::Elbow90.k(bore_m).unwrap().value;
        tally.compare("K", k, case.number("k"));
        let velocity_m_s = velocity_m_s(case.number("gpm") * GPM_M3S, bore_m);
        let head_m = minor_loss_head_m(k, velocity_m_s).unwrap();
        tally.compare("head", head_m / FOOT_M, case.number("head_ft"));
    }
    tally.finish();
}

#[test]
fn what_was_recalled_is_held_as_recalled() {
    let mut tally = Tally::new(
        "handbook-fittings/recalled: L/D, K and C",
        Tolerance::Absolute(0.0),
    );
    let edge = |name: &str| match name {
        "sharp" => Edge::Sharp,
        "short tube" => Edge::ShortTube,
        "rounded" => Edge::Rounded,
        "projecting" => Edge::Projecting,
        other => panic!("edge {other}"),
    };
    for case in cases("handbook-fittings/recalled/values.csv") {
        let name = case.text("name");
        let fitting = || Fitting::parse(name).unwrap();
        let ours = match case.text("quantity") {
            "L/D" => fitting().length_ratio().unwrap(),
            "K" => fitting().k(0.05).unwrap().value,
            _ => edge(name).discharge_coefficient(),
        };
        tally.compare(name, ours, case.number("value"));
    }
    tally.finish();
}

#[test]
fn the_plumbing_code_is_held_exactly() {
    let mut ratios = Tally::new(
        "handbook-fittings/plumbing-code: L/D",
        Tolerance::Absolute(0.0),
    );
    let mut coefficients = Tally::new("handbook-fittings/plumbing-code: K, in steps", STEP);
    for case in cases("handbook-fittings/plumbing-code/fittings.csv") {
        let name = case.text("fitting");
        let fitting = Fitting::parse(name).unwrap();
        let ratio = fitting.plumbing_code_length_ratio().unwrap();
        ratios.compare(name, ratio, case.number("L_over_D"));
        compare_in_steps(
            &mut coefficients,
            name,
            0.03 * ratio,
            &case,
            ["K", "K_printed_to"],
        );
    }
    // Half of the last printed digit.
    let mut lengths = Tally::new(
        "handbook-fittings/plumbing-code: equivalent length, ft",
        Tolerance::Absolute(0.005),
    );
    for case in cases("handbook-fittings/plumbing-code/lengths.csv") {
        let fitting = Fitting::parse(case.text("fitting")).unwrap();
        let ratio = fitting.plumbing_code_length_ratio().unwrap();
        let bore_m = case.number("bore_in") * INCH_M;
        let factor = turbulent_friction_factor(bore_m).unwrap().value;
        let length_m = equivalent_length_m(ratio * factor, factor, bore_m).unwrap();
        lengths.compare(case.text("fitting"), length_m / FOOT_M, case.number("feet"));
    }
    for tally in [ratios, coefficients, lengths] {
        tally.finish();
    }
}

#[test]
fn trade_tables_of_equivalent_feet_lie_where_they_are_said_to() {
    // The spread that the Hydraulic Institute states for screwed elbows; see SOURCE.md.
    let mut tally = Tally::new(
        "handbook-fittings/pvc-equivalent-feet: equivalent length",
        Tolerance::Relative(0.20),
    );
    for case in cases("handbook-fittings/pvc-equivalent-feet/feet.csv") {
        let fitting = Fitting::parse(case.text("fitting")).unwrap();
        let bore_m = bore_m(PipeSpec::PvcSchedule40, case.number("nps_in"));
        let ours = fitting.length_ratio().unwrap() * bore_m / FOOT_M;
        let (table, size) = (case.text("table"), case.text("nps_in"));
        let name = format!("{fitting}, {size} in, table {table}");
        if case.text("known").is_empty() {
            tally.compare(name, ours, case.number("feet"));
        } else {
            tally.expect_disagreement(name, ours, case.number("feet"));
        }
    }
    tally.finish();
}

#[test]
fn partly_open_valves_follow_the_textbooks() {
    // The full-open loss that textbooks do not add is 0.16 at most here; else half of the last of two digits.
    let tolerance = Tolerance::Either {
        absolute: 0.16,
        relative: 0.025,
    };
    let mut tally = Tally::new(
        "handbook-fittings/textbook-openings: K, share of its tolerance",
        tolerance,
    );
    let bore_m = bore_m(PipeSpec::PvcSchedule40, 2.0);
    for case in cases("handbook-fittings/textbook-openings/openings.csv") {
        let valve = Valve::parse(case.text("valve")).unwrap();
        let closed = case.number("closed");
        let ours = partly_open_k(valve, bore_m, 1.0 - closed).unwrap().value;
        tally.compare(format!("{valve} {closed} closed"), ours, case.number("k"));
    }
    tally.finish();
}

#[test]
fn partly_open_valves_pass_through_their_points() {
    // 1/√(1 + K) loses three digits of K at 751, and the full-open loss is taken off again.
    let mut tally = Tally::new(
        "handbook-fittings/weisbach: K beside that of full open",
        Tolerance::Relative(1e-12),
    );
    for case in cases("handbook-fittings/weisbach/throttles.csv") {
        let valve = Valve::parse(case.text("valve")).unwrap();
        let opening = 1.0 - case.number("closed") / case.number("of");
        let bore_m = bore_m(PipeSpec::PvcSchedule40, 2.0);
        let full = valve.k(bore_m).unwrap().value;
        let ours = partly_open_k(valve, bore_m, opening).unwrap().value - full;
        tally.compare(
            format!("{valve} {}", case.text("closed")),
            ours,
            case.number("k"),
        );
    }
    tally.finish();
}

#[test]
fn a_nozzle_in_air_follows_fire_practice() {
    // The printed constants are 3e-4 apart and the water is not stated; see SOURCE.md.
    let mut tally = Tally::new(
        "handbook-fittings/fire-practice: flow of a nozzle",
        Tolerance::Relative(1e-3),
    );
    for case in cases("handbook-fittings/fire-practice/case.csv") {
        let head_m = case.number("psi") * PSI_PA / (999.0 * STANDARD_GRAVITY_M_S2);
        let flow_m3s = outlet_flow_m3s(case.number("d_in") * INCH_M, 1.0, head_m).unwrap();
        let name = format!("{} in at {} psi", case.text("d_in"), case.text("psi"));
        tally.compare(name, flow_m3s / GPM_M3S, case.number("gpm_at_c_1"));
    }
    tally.finish();
}
