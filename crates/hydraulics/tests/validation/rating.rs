//! Pump ratings, by hand from the formulas of the rule.

use hydraulics::rating::{
    Provenance, PumpClass, SystemCurve, WeightedPoint, energy_factor_gal_wh, hydraulic_horsepower,
    minimum_weighted_energy_factor, variable_speed_load_points, weighted_energy_factor_kgal_kwh,
};

use crate::harness::{Case, FOOT_M, GPM_M3S, Tally, Tolerance, cases};

/// Half a unit of the last digit; the hundredth above it is for the rounding of the quotient.
const HALF_A_DIGIT: Tolerance = Tolerance::Absolute(0.51);

fn compare_digits(tally: &mut Tally, case: &Case, label: String, (ours, column): (f64, &str)) {
    let unit = case.number("last_digit");
    tally.compare(label, ours / unit, case.number(column) / unit);
}

fn curve(name: &str) -> SystemCurve {
    let named = SystemCurve::ALL
        .into_iter()
        .find(|curve| format!("{curve:?}") == name);
    named.unwrap_or_else(|| panic!("curve {name}"))
}

#[test]
fn the_reference_systems_have_their_heads() {
    let mut tally = Tally::new("rating/cfr-431: system curves, last digit", HALF_A_DIGIT);
    for case in cases("rating/cfr-431/curves.csv") {
        let flow_m3s = case.number("flow_gpm") * GPM_M3S;
        let head_m = curve(case.text("curve")).head_m(flow_m3s).unwrap();
        let label = format!("{} at {} gpm", case.text("curve"), case.text("flow_gpm"));
        compare_digits(&mut tally, &case, label, (head_m / FOOT_M, "head_ft"));
    }
    tally.finish();
}

#[test]
fn the_class_edges_lie_at_their_flows() {
    let mut tally = Tally::new("rating/cfr-431: hydraulic power, last digit", HALF_A_DIGIT);
    for case in cases("rating/cfr-431/power.csv") {
        let flow_m3s = case.number("flow_gpm") * GPM_M3S;
        let head_m = SystemCurve::C.head_m(flow_m3s).unwrap();
        let power_hp = hydraulic_horsepower(flow_m3s, head_m).unwrap();
        let label = format!("{} gpm", case.text("flow_gpm"));
        compare_digits(&mut tally, &case, label, (power_hp, "power_hp"));
    }
    tally.finish();
}

#[test]
fn the_minimum_follows_the_lines_of_its_class() {
    // The formula itself has three digits: one unit.
    let mut tally = Tally::new(
        "rating/cfr-431: minimum, last digit",
        Tolerance::Absolute(1.01),
    );
    for case in cases("rating/cfr-431/minimum.csv") {
        let class = match case.text("class") {
            "self-priming" => PumpClass::SelfPriming,
            "non-self-priming" => PumpClass::NonSelfPriming,
            other => panic!("class {other}"),
        };
        let power_hp = case.number("power_hp");
        let minimum = minimum_weighted_energy_factor(class, power_hp).unwrap();
        let minimum = minimum.unwrap();
        let label = format!("{} {power_hp} hp", case.text("class"));
        compare_digits(&mut tally, &case, label, (minimum.kgal_kwh, "kgal_kwh"));
        let provenance = match case.text("provenance") {
            "printed" => Provenance::Printed,
            _ => Provenance::FromMemory,
        };
        assert_eq!(minimum.provenance, provenance);
    }
    tally.finish();
}

fn point(case: &Case, speed: &str, weight: f64) -> WeightedPoint {
    WeightedPoint {
        flow_m3s: case.number(&format!("{speed}_gpm")) * GPM_M3S,
        electrical_power_w: case.number(&format!("{speed}_w")),
        weight,
    }
}

#[test]
fn the_weighted_factor_is_volume_over_energy_and_no_mean_of_factors() {
    // Five digits printed.
    let mut tally = Tally::new(
        "rating/cfr-431: weighted energy factor",
        Tolerance::Relative(1e-5),
    );
    for case in cases("rating/cfr-431/weighted.csv") {
        let points = [point(&case, "low", 0.8), point(&case, "high", 0.2)];
        let weighted = weighted_energy_factor_kgal_kwh(&points).unwrap();
        tally.compare("two points", weighted, case.number("weighted_kgal_kwh"));
        tally.compare(
            "volume over energy",
            weighted,
            case.number("low_kgal") / case.number("energy_kwh"),
        );
        let wrong: f64 = points
            .iter()
            .map(|it| it.weight * energy_factor_gal_wh(it.flow_m3s, it.electrical_power_w).unwrap())
            .sum();
        // The trap is what the source says that it is, to its four digits, and we are not in it.
        let trap = case.number("mean_of_factors");
        assert!((wrong / trap - 1.0).abs() < 5e-4 && (weighted / trap - 1.0).abs() > 0.4);
    }
    tally.finish();
}

#[test]
fn a_pump_is_rated_from_its_highest_flow_to_the_verdict() {
    let mut tally = Tally::new("rating/cfr-431: whole chain, last digit", HALF_A_DIGIT);
    let highest_m3s = 100.0 * GPM_M3S;
    let highest_head_m = SystemCurve::C.head_m(highest_m3s).unwrap();
    let power_hp = hydraulic_horsepower(highest_m3s, highest_head_m).unwrap();
    let minimum = minimum_weighted_energy_factor(PumpClass::SelfPriming, power_hp).unwrap();
    let minimum = minimum.unwrap().kgal_kwh;
    let points = variable_speed_load_points(highest_m3s).unwrap();
    let measured =
        [(points.low, 150.0), (points.high, 1600.0)].map(|(point, power_w)| WeightedPoint {
            flow_m3s: point.least_flow_m3s,
            electrical_power_w: power_w,
            weight: point.weight,
        });
    let weighted = weighted_energy_factor_kgal_kwh(&measured).unwrap();
    for case in cases("rating/cfr-431/chain.csv") {
        let ours = match case.text("quantity") {
            "highest head" => highest_head_m / FOOT_M,
            "hydraulic power" => power_hp,
            "minimum" => minimum,
            "high flow" => points.high.least_flow_m3s / GPM_M3S,
            "high head" => points.high.head_m / FOOT_M,
            "low flow" => points.low.least_flow_m3s / GPM_M3S,
            "low head" => points.low.head_m / FOOT_M,
            "weighted energy factor" => weighted,
            other => panic!("quantity {other}"),
        };
        let label = case.text("quantity").to_owned();
        compare_digits(&mut tally, &case, label, (ours, "value"));
    }
    assert!(weighted > minimum);
    tally.finish();
}
