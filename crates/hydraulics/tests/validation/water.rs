//! Water against the full IAPWS formulation, and against the check values printed in the releases.

use hydraulics::water::Water;

use crate::harness::{Tally, Tolerance, ZERO_CELSIUS_K, cases};

#[test]
fn the_compact_equations_agree_with_the_full_formulation() {
    // A pool needs 0.01 %, 0.5 % and 0.5 %; the compact equations are held to what they reach, so that a slip in
    // one coefficient shows. Density: 1325 Pa of pressure between table and equation are 6.7e-7.
    let mut density = Tally::new("water/iapws: density", Tolerance::Relative(1e-6));
    let mut viscosity = Tally::new("water/iapws: dynamic viscosity", Tolerance::Relative(1e-4));
    let mut vapour = Tally::new("water/iapws: vapour pressure", Tolerance::Relative(1e-4));
    for case in cases("water/iapws/water.csv") {
        let water = Water::fresh(case.number("t_C") + ZERO_CELSIUS_K).unwrap();
        let label = format!("{} degC", case.text("t_C"));
        density.compare(&label, water.density_kg_m3, case.number("rho_iapws95"));
        let theirs = case.number("mu_iapws95");
        viscosity.compare(&label, water.dynamic_viscosity_pa_s, theirs);
        // IAPWS-95 has no vapour pressure below the triple point: the cell at 0 degC is empty.
        if let Some(theirs) = case.number_if_any("pv_iapws95") {
            vapour.compare(&label, water.vapour_pressure_pa, theirs);
        }
    }
    for tally in [density, viscosity, vapour] {
        tally.finish();
    }
}

#[test]
fn every_printed_digit_of_the_releases_is_reproduced() {
    // Half a unit of the last printed digit; the hundredth above it is for the rounding of the quotient.
    let mut tally = Tally::new(
        "water/iapws-releases: last printed digit",
        Tolerance::Absolute(0.51),
    );
    for case in cases("water/iapws-releases/check_values.csv") {
        let water = Water::fresh(case.number("temperature_k")).unwrap();
        let ours = match case.text("property") {
            "density" => water.density_kg_m3,
            "dynamic viscosity" => water.dynamic_viscosity_pa_s,
            "vapour pressure" => water.vapour_pressure_pa,
            other => panic!("property {other}"),
        };
        let unit = case.number("last_digit");
        tally.compare(
            case.text("property"),
            ours / unit,
            case.number("value") / unit,
        );
    }
    tally.finish();
}
