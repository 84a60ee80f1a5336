//! Water against the full IAPWS formulation, and against the check values printed in the releases.

use hydraulics::water::{Water, mass_fraction_of_salt};

use crate::harness::{Case, Tally, Tolerance, ZERO_CELSIUS_K, cases};

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

const SALINE: &str = "water/saline/saline.csv";

fn salt_water(case: &Case) -> Water {
    let temperature_k = case.number("t_C") + ZERO_CELSIUS_K;
    Water::saline(temperature_k, case.number("SA_g_kg") / 1e3)
        .unwrap()
        .value
}

fn salt_label(case: &Case) -> String {
    format!("{} g/kg at {} degC", case.text("SA_g_kg"), case.text("t_C"))
}

#[test]
fn salt_adds_the_density_that_the_oceanographers_state() {
    // The published accuracy of the correlation, and what it means for the part that salt adds: SOURCE.md.
    let mut density = Tally::new("water/saline: density", Tolerance::Relative(1e-3));
    let mut added = Tally::new(
        "water/saline: density added by salt",
        Tolerance::Relative(0.036),
    );
    for case in cases(SALINE) {
        let (water, theirs) = (salt_water(&case), case.number("rho_gsw"));
        density.compare(salt_label(&case), water.density_kg_m3, theirs);
        // Beyond 40 degC the reference is outside its own range.
        if case.text("note").is_empty() {
            let fresh = Water::fresh(water.temperature_k).unwrap().density_kg_m3;
            added.compare(
                salt_label(&case),
                water.density_kg_m3 - fresh,
                case.number("rho_gsw_minus_fresh"),
            );
        }
    }
    density.finish();
    added.finish();
}

#[test]
fn salt_thickens_water_as_the_same_correlation_does_elsewhere() {
    // Published accuracy; the other program's fit wanders about the correlation by 0.9 %.
    let mut viscosity = Tally::new("water/saline: viscosity", Tolerance::Relative(0.015));
    // Its wander is alike at either salinity.
    let mut ratio = Tally::new(
        "water/saline: viscosity at 35 over 3 g/kg",
        Tolerance::Relative(5e-4),
    );
    let table = cases(SALINE);
    let (pool, sea) = table.split_at(table.len() / 2);
    for (pool, sea) in pool.iter().zip(sea) {
        assert_eq!(pool.text("t_C"), sea.text("t_C"));
        let ours = [pool, sea].map(|case| salt_water(case).dynamic_viscosity_pa_s);
        let theirs = [pool, sea].map(|case| case.number("mu_coolprop_mitsw"));
        for (case, (ours, theirs)) in [pool, sea].into_iter().zip(ours.into_iter().zip(theirs)) {
            viscosity.compare(salt_label(case), ours, theirs);
        }
        ratio.compare(salt_label(sea), ours[1] / ours[0], theirs[1] / theirs[0]);
    }
    viscosity.finish();
    ratio.finish();
}

#[test]
fn pool_salt_is_nearly_sea_salt() {
    // Both salts differ by 0.15 % at 35 g/kg and by 0.02 % at 3 g/kg, as the docs of `Water::saline` say; 0.06 % and
    // 0.004 % are the correlation's own.
    let mut sea = Tally::new(
        "water/saline: density at 35 g/kg, of sodium chloride",
        Tolerance::Relative(2.1e-3),
    );
    let mut pool = Tally::new(
        "water/saline: density at 3 g/kg, of sodium chloride",
        Tolerance::Relative(2.4e-4),
    );
    for case in cases(SALINE) {
        if let Some(theirs) = case.number_if_any("rho_coolprop_nacl") {
            let tally = if case.text("SA_g_kg") == "3" {
                &mut pool
            } else {
                &mut sea
            };
            tally.compare(salt_label(&case), salt_water(&case).density_kg_m3, theirs);
        }
    }
    sea.finish();
    pool.finish();
}

#[test]
fn a_concentration_is_the_fraction_times_the_density() {
    // Through the density of the reference: its fraction returns within the accuracy of the density.
    let mut tally = Tally::new("water/saline: fraction of salt", Tolerance::Relative(1e-3));
    for case in cases(SALINE) {
        let theirs = case.number("SA_g_kg") / 1e3;
        let salinity_kg_m3 = theirs * case.number("rho_gsw");
        let temperature_k = case.number("t_C") + ZERO_CELSIUS_K;
        let ours = mass_fraction_of_salt(temperature_k, salinity_kg_m3).unwrap();
        tally.compare(salt_label(&case), ours, theirs);
    }
    tally.finish();
}
