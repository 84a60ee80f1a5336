//! Printed handbook figures: a state's friction table for plastic pipe, and a worked example of Crane.

use hydraulics::friction::hazen_williams_head_m;
use hydraulics::loss::{PipeRun, pipe_loss};
use hydraulics::pipe::PipeSpec;
use hydraulics::water::Water;

use crate::harness::{FOOT_M, GPM_M3S, INCH_M, Tally, Tolerance, ZERO_CELSIUS_K, cases};

#[test]
fn the_friction_table_of_a_state_code_is_reproduced() {
    // Heads are printed to 0.01 ft; the table's own form and bores are not stated, which leaves 1.5 %.
    let tolerance = Tolerance::Either {
        absolute: 0.015,
        relative: 0.015,
    };
    let mut tally = Tally::new(
        "handbook-friction/illinois-77-906: head, share of its tolerance",
        tolerance,
    );
    for case in cases("handbook-friction/illinois-77-906/loss.csv") {
        let (gpm, nominal_in) = (case.number("gpm"), case.number("nps_in"));
        let size = PipeSpec::PvcSchedule40.size(nominal_in * INCH_M).unwrap();
        let bore_m = size.bore_m;
        let head_m = hazen_williams_head_m(100.0 * FOOT_M, gpm * GPM_M3S, bore_m, 150.0).unwrap();
        let (ours, theirs) = (head_m / FOOT_M, case.number("head_ft_per_100ft"));
        let label = format!("{gpm} gpm in {nominal_in} in");
        if case.text("known").is_empty() {
            tally.compare(label, ours, theirs);
        } else {
            tally.expect_disagreement(label, ours, theirs);
        }
    }
    tally.finish();
}

#[test]
fn smooth_pipe_follows_the_worked_example() {
    // The example reads water and friction from charts: 1.5 %.
    let mut tally = Tally::new(
        "handbook-friction/crane-tp410-7-1: Reynolds number and friction factor",
        Tolerance::Relative(0.015),
    );
    for case in cases("handbook-friction/crane-tp410-7-1/case.csv") {
        let run = PipeRun {
            bore_m: case.number("bore_mm") / 1e3,
            roughness_m: 0.0,
            length_m: 1.0,
            minor_loss_k: 0.0,
        };
        let water = Water::fresh(case.number("temperature_c") + ZERO_CELSIUS_K).unwrap();
        let loss = pipe_loss(&run, case.number("flow_l_min") / 6e4, &water).unwrap();
        let by = case.text("by");
        tally.compare(
            format!("Re by {by}"),
            loss.reynolds,
            case.number("reynolds"),
        );
        let theirs = case.number("friction_factor");
        tally.compare(format!("f by {by}"), loss.friction_factor.unwrap(), theirs);
    }
    tally.finish();
}
