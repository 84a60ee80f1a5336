//! The arithmetic of pool codes and of velocity limits, by hand.

use hydraulics::codes::{
    filter_flow_m3s, highest_filtration_flow_m3s, longest_turnover_s, turnover_flow_m3s,
};
use hydraulics::head::{flow_at_velocity_m3s, velocity_m_s};
use hydraulics::pipe::PipeSpec;

use crate::harness::{Case, FOOT_M, GPM_M3S, INCH_M, Tally, Tolerance, US_GALLON_M3, cases};

/// Half a unit of the last digit; the hundredth above it is for the rounding of the quotient.
const HALF_A_DIGIT: Tolerance = Tolerance::Absolute(0.51);

fn compare_digits(tally: &mut Tally, case: &Case, label: String, (ours, column): (f64, &str)) {
    let unit = case.number("last_digit");
    tally.compare(label, ours / unit, case.number(column) / unit);
}

#[test]
fn the_filtration_flow_of_a_house_has_its_ceiling() {
    let mut tally = Tally::new("codes/arithmetic: ceiling, last digit", HALF_A_DIGIT);
    for case in cases("codes/arithmetic/ceiling.csv") {
        let volume_m3 = case.number("volume_gal") * US_GALLON_M3;
        let ceiling_m3s = highest_filtration_flow_m3s(volume_m3).unwrap();
        let label = format!("{} gal", case.text("volume_gal"));
        compare_digits(
            &mut tally,
            &case,
            label,
            (ceiling_m3s / GPM_M3S, "flow_gpm"),
        );
        // No pool may be pushed above its own turnover by a slip of maximum for minimum.
        assert!(ceiling_m3s >= turnover_flow_m3s(volume_m3, 6.0 * 3600.0).unwrap());
    }
    tally.finish();
}

#[test]
fn depth_sets_the_turnover_of_a_public_pool() {
    let mut tally = Tally::new("codes/arithmetic: turnover, last digit", HALF_A_DIGIT);
    for case in cases("codes/arithmetic/turnover.csv") {
        let turnover_s = longest_turnover_s(case.number("depth_ft") * FOOT_M).unwrap();
        let label = format!("{} ft", case.text("depth_ft"));
        compare_digits(&mut tally, &case, label, (turnover_s / 3600.0, "hours"));
    }
    tally.finish();
}

#[test]
fn a_filter_takes_its_rate_times_its_area() {
    let mut tally = Tally::new("codes/arithmetic: filter, last digit", HALF_A_DIGIT);
    for case in cases("codes/arithmetic/filter.csv") {
        let rate_m_s = case.number("rate_gpm_ft2") * GPM_M3S / (FOOT_M * FOOT_M);
        let area_m2 = case.number("area_ft2") * FOOT_M * FOOT_M;
        let flow_m3s = filter_flow_m3s(rate_m_s, area_m2).unwrap();
        let label = format!(
            "{} ft2 at {}",
            case.text("area_ft2"),
            case.text("rate_gpm_ft2")
        );
        compare_digits(&mut tally, &case, label, (flow_m3s / GPM_M3S, "flow_gpm"));
    }
    tally.finish();
}

#[test]
fn a_limit_of_velocity_is_a_limit_of_flow() {
    // The factor of the source has six digits: SOURCE.md.
    let mut tally = Tally::new(
        "limits/velocity: flow, last digit",
        Tolerance::Absolute(1.01),
    );
    // The same way back: four digits printed.
    let mut back = Tally::new("limits/velocity: velocity", Tolerance::Relative(2e-4));
    for case in cases("limits/velocity/flow.csv") {
        let nominal_m = case.number("nominal_in") * INCH_M;
        let bore_m = PipeSpec::PvcSchedule40.size(nominal_m).unwrap().bore_m;
        // A micrometre: both are the exact inches of the standard.
        assert!((bore_m - case.number("bore_in") * INCH_M).abs() < 1e-6);
        let limit_m_s = case.number("velocity_ft_s") * FOOT_M;
        let flow_m3s = flow_at_velocity_m3s(limit_m_s, bore_m).unwrap();
        let label = format!(
            "{} in at {} ft/s",
            case.text("nominal_in"),
            case.text("velocity_ft_s")
        );
        compare_digits(
            &mut tally,
            &case,
            label.clone(),
            (flow_m3s / GPM_M3S, "flow_gpm"),
        );
        let printed_m3s = case.number("flow_gpm") * GPM_M3S;
        back.compare(label, velocity_m_s(printed_m3s, bore_m).unwrap(), limit_m_s);
    }
    tally.finish();
    back.finish();
}
