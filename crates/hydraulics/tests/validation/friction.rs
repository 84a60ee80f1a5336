//! Friction factors against 60-digit roots, pipe loss and Hazen-Williams against tabulated pipe.

use hydraulics::friction::{
    PLASTIC_PIPE_C, both_friction_laws, darcy_colebrook, darcy_friction_factor, darcy_laminar,
    hazen_williams_head_m,
};
use hydraulics::loss::{PipeLoss, PipeRun, pipe_loss};
use hydraulics::pipe::PVC_ROUGHNESS_M;
use hydraulics::water::Water;

use crate::harness::{
    Case, FOOT_M, GPM_M3S, INCH_M, Tally, Tolerance, ZERO_CELSIUS_K, cases, fahrenheit_k,
};

const FRICTION: &str = "friction/colebrook-mpmath/friction.csv";
const HAZEN: &str = "hazen/fluids/hazen.csv";

fn pipe_of(case: &Case) -> String {
    let (reynolds, roughness) = (case.text("Re"), case.text("rel_rough"));
    format!("Re {reynolds}, e/D {roughness}")
}

#[test]
fn colebrook_is_solved_to_the_last_places() {
    // Double precision leaves about four units of 1.1e-16 in a logarithm, a quotient and a square.
    let mut tally = Tally::new(
        "friction/colebrook-mpmath: Colebrook",
        Tolerance::Relative(1e-15),
    );
    for case in cases(FRICTION) {
        let ours = darcy_colebrook(case.number("Re"), case.number("rel_rough"));
        tally.compare(pipe_of(&case), ours, case.number("f_colebrook_mpmath20"));
    }
    tally.finish();
}

#[test]
fn each_regime_follows_its_own_law() {
    // The laminar quotient is rounded once; the file prints it with all its digits.
    let mut laminar = Tally::new(
        "friction/colebrook-mpmath: laminar",
        Tolerance::Relative(2.3e-16),
    );
    let mut turbulent = Tally::new(
        "friction/colebrook-mpmath: turbulent",
        Tolerance::Relative(1e-15),
    );
    for case in cases(FRICTION) {
        let (reynolds, roughness) = (case.number("Re"), case.number("rel_rough"));
        let ours = darcy_friction_factor(reynolds, roughness);
        let low = case.number("f_laminar_64_over_Re");
        let high = case.number("f_colebrook_mpmath20");
        match case.text("regime") {
            "laminar" => laminar.compare(pipe_of(&case), ours, low),
            "turbulent" => turbulent.compare(pipe_of(&case), ours, high),
            _ => assert!(
                (darcy_laminar(reynolds)..high).contains(&ours),
                "{}",
                pipe_of(&case)
            ),
        }
    }
    laminar.finish();
    turbulent.finish();
}

/// A hundred feet of plastic pipe.
fn plastic_run(bore_m: f64) -> PipeRun {
    PipeRun {
        bore_m,
        roughness_m: PVC_ROUGHNESS_M,
        length_m: 100.0 * FOOT_M,
        minor_loss_k: 0.0,
    }
}

fn tabulated_water() -> Water {
    Water::fresh(20.0 + ZERO_CELSIUS_K).unwrap()
}

fn tabulated_loss(case: &Case) -> PipeLoss {
    let run = plastic_run(case.number("D_m"));
    pipe_loss(&run, case.number("Q_m3_s"), &tabulated_water()).unwrap()
}

fn row_of(case: &Case) -> String {
    let (schedule, size, gpm) = (case.text("schedule"), case.text("nps_in"), case.text("gpm"));
    format!("Sch {schedule}, {size} in, {gpm} gpm")
}

#[test]
fn head_in_tabulated_pipe_agrees() {
    // The table takes its water from IAPWS-95 and R12-08, this crate from SR6-08: the kinematic viscosity is
    // 2.8e-5 apart (the water topic holds both to 1e-4), and friction follows Re with a power of at most 0.3.
    let mut head = Tally::new(
        "hazen/fluids: Darcy-Weisbach head",
        Tolerance::Relative(1e-5),
    );
    let mut reynolds = Tally::new("hazen/fluids: Reynolds number", Tolerance::Relative(5e-5));
    let mut factor = Tally::new("hazen/fluids: friction factor", Tolerance::Relative(1e-5));
    // Areas in another order of operations.
    let mut velocity = Tally::new("hazen/fluids: velocity", Tolerance::Relative(1e-15));
    for case in cases(HAZEN) {
        let loss = tabulated_loss(&case);
        let theirs_m = FOOT_M * case.number("dw_ft_per_100ft");
        head.compare(row_of(&case), loss.head_m, theirs_m);
        reynolds.compare(row_of(&case), loss.reynolds, case.number("Re"));
        let darcy = loss.friction_factor.unwrap();
        factor.compare(row_of(&case), darcy, case.number("f_darcy"));
        let theirs_m_s = FOOT_M * case.number("V_ft_s");
        velocity.compare(row_of(&case), loss.velocity_m_s, theirs_m_s);
    }
    for tally in [head, reynolds, factor, velocity] {
        tally.finish();
    }
}

#[test]
fn hazen_williams_agrees_with_its_own_form() {
    // The same form in another order of operations: some ten roundings, doubled by the power 1/0.54.
    let mut tally = Tally::new(
        "hazen/fluids: Hazen-Williams head",
        Tolerance::Relative(1e-14),
    );
    for case in cases(HAZEN) {
        let (flow_m3s, bore_m) = (case.number("Q_m3_s"), case.number("D_m"));
        let ours_m = hazen_williams_head_m(100.0 * FOOT_M, flow_m3s, bore_m, 150.0).unwrap();
        let theirs_m = FOOT_M * case.number("hw_us_ft_per_100ft");
        tally.compare(row_of(&case), ours_m, theirs_m);
    }
    tally.finish();
}

#[test]
fn both_laws_stand_side_by_side_in_warm_water() {
    // Four digits, and water from another IAPWS equation: SOURCE.md.
    let mut head = Tally::new("hazen/warm-water: head", Tolerance::Relative(2e-4));
    // Four digits of 0.01782.
    let mut factor = Tally::new(
        "hazen/warm-water: friction factor",
        Tolerance::Relative(3e-4),
    );
    for case in cases("hazen/warm-water/case.csv") {
        let run = plastic_run(case.number("bore_in") * INCH_M);
        let water = Water::fresh(fahrenheit_k(case.number("temperature_f"))).unwrap();
        let flow_m3s = case.number("flow_gpm") * GPM_M3S;
        let both = both_friction_laws(&run, flow_m3s, &water, PLASTIC_PIPE_C).unwrap();
        let darcy = &both.value.darcy_weisbach;
        let hazen_m = both.value.hazen_williams_m;
        let theirs = ["darcy_ft", "hazen_williams_ft"].map(|column| case.number(column));
        head.compare("Darcy-Weisbach", darcy.head_m / FOOT_M, theirs[0]);
        head.compare("Hazen-Williams", hazen_m / FOOT_M, theirs[1]);
        head.compare("ratio", both.value.ratio.unwrap(), theirs[1] / theirs[0]);
        head.compare("Reynolds", darcy.reynolds, case.number("reynolds"));
        factor.compare(
            "f",
            darcy.friction_factor.unwrap(),
            case.number("friction_factor"),
        );
    }
    head.finish();
    factor.finish();
}

#[test]
fn the_ratio_of_both_laws_is_that_of_the_reference() {
    // Both heads of the same reference set; the water comes from another IAPWS equation.
    let mut tally = Tally::new(
        "hazen/fluids: ratio of both laws",
        Tolerance::Relative(1e-5),
    );
    for case in cases(HAZEN) {
        let (run, flow_m3s) = (plastic_run(case.number("D_m")), case.number("Q_m3_s"));
        let both = both_friction_laws(&run, flow_m3s, &tabulated_water(), PLASTIC_PIPE_C).unwrap();
        let theirs = case.number("hw_us_ft_per_100ft") / case.number("dw_ft_per_100ft");
        tally.compare(row_of(&case), both.value.ratio.unwrap(), theirs);
    }
    tally.finish();
}
