//! Worked examples of pumps: affinity, cost of pumping, suction head, total head from gauges.

use hydraulics::affinity::{DutyPoint, SpeedChange, at_speed, npsh_required_m};
use hydraulics::atmosphere::standard_pressure_pa;
use hydraulics::suction::{
    InletVacuum, SuctionLevels, boiling_margin_m, highest_vacuum_pa, npsh_from_gauge_m,
    npsh_from_levels_m,
};
use hydraulics::total_head::{
    Stream, Tap, TotalHead, hydraulic_power_w, power_taken_w, total_head, wire_to_water,
};
use hydraulics::water::Water;

use crate::harness::{
    Case, FOOT_M, GPM_M3S, HORSEPOWER_W, INCH_M, INHG_PA, LB_FT3_KG_M3, PSI_PA, Tally, Tolerance,
    cases, fahrenheit_k,
};

/// One unit of the last printed digit: the water comes from another IAPWS equation, and the parts were rounded.
const PRINTED: Tolerance = Tolerance::Absolute(1.01);

fn compare_digits(tally: &mut Tally, case: &Case, (ours, column): (f64, &str), label: &str) {
    let unit = case.number("last_digit");
    tally.compare(label, ours / unit, case.number(column) / unit);
}

#[test]
fn a_pump_at_another_speed_follows_the_worked_example() {
    // Half a unit of the last printed digit.
    let mut tally = Tally::new(
        "pump/handbook: affinity, last printed digit",
        Tolerance::Absolute(0.51),
    );
    for case in cases("pump/handbook/affinity.csv") {
        let change = SpeedChange {
            from_rpm: case.number("from_rpm"),
            to_rpm: case.number("to_rpm"),
        };
        let from = case.number("from");
        let point = DutyPoint {
            flow_m3s: from,
            head_m: from,
            shaft_power_w: from,
        };
        // The laws are pure scaling, so that the unit of the example passes through.
        let moved = at_speed(&point, change).unwrap();
        let ours = match case.text("quantity") {
            "flow" => moved.flow_m3s,
            "head" => {
                let required = npsh_required_m(from, change).unwrap();
                compare_digits(
                    &mut tally,
                    &case,
                    (required, "to"),
                    "as required suction head",
                );
                moved.head_m
            }
            "power" => moved.shaft_power_w,
            other => panic!("quantity {other}"),
        };
        compare_digits(&mut tally, &case, (ours, "to"), case.text("quantity"));
    }
    tally.finish();
}

#[test]
fn a_year_of_pumping_costs_what_the_worked_example_says() {
    // The example rounds on the way: 0.08 % between its own inputs and its printed result.
    let mut printed = Tally::new("pump/handbook: cost as printed", Tolerance::Relative(1e-3));
    // Five printed digits.
    let mut computed = Tally::new("pump/handbook: cost as computed", Tolerance::Relative(5e-5));
    for case in cases("pump/handbook/cost.csv") {
        let stream = Stream {
            flow_m3s: case.number("flow_gpm") * GPM_M3S,
            density_kg_m3: case.number("density_lb_ft3") * LB_FT3_KG_M3,
        };
        let hydraulic_w = hydraulic_power_w(&stream, case.number("head_ft") * FOOT_M).unwrap();
        let [pump, motor, drive] =
            ["pump", "motor", "drive"].map(|of| case.number(&format!("{of}_efficiency")));
        let brake_w = power_taken_w(hydraulic_w, &[pump]).unwrap();
        let wire_w = power_taken_w(hydraulic_w, &[pump, motor, drive]).unwrap();
        let cost = wire_w / 1e3 * case.number("hours") * case.number("price_usd_per_kwh");
        printed.compare("cost", cost, case.number("printed_usd"));
        computed.compare("cost", cost, case.number("computed_usd"));
        computed.compare("brake", brake_w / HORSEPOWER_W, case.number("brake_hp"));
        computed.compare("wire", wire_w / 1e3, case.number("wire_kw"));
    }
    printed.finish();
    computed.finish();
}

/// The water of a case: as stated, or fresh at its temperature.
fn water_of(case: &Case) -> Water {
    let temperature_f = case.number_if_any("temperature_f").unwrap_or(60.0);
    let fresh = Water::fresh(fahrenheit_k(temperature_f)).unwrap();
    let density = case.number_if_any("density_lb_ft3");
    let vapour = case.number_if_any("vapour_psia");
    Water {
        density_kg_m3: density.map_or(fresh.density_kg_m3, |it| it * LB_FT3_KG_M3),
        vapour_pressure_pa: vapour.map_or(fresh.vapour_pressure_pa, |it| it * PSI_PA),
        ..fresh
    }
}

#[test]
fn levels_leave_the_suction_head_of_the_worked_examples() {
    let mut tally = Tally::new(
        "pump/handbook: NPSH from levels, last printed digit",
        PRINTED,
    );
    for case in cases("pump/handbook/npsh_levels.csv") {
        let surface_pressure_pa = case.number_if_any("surface_psia").map_or_else(
            || standard_pressure_pa(case.number("elevation_ft") * FOOT_M).unwrap(),
            |psia| psia * PSI_PA,
        );
        let levels = SuctionLevels {
            surface_pressure_pa,
            surface_above_pump_m: case.number("surface_above_pump_ft") * FOOT_M,
            loss_m: case.number("loss_ft") * FOOT_M,
        };
        let water = water_of(&case);
        let npsh_m = npsh_from_levels_m(&levels, &water).unwrap();
        compare_digits(
            &mut tally,
            &case,
            (npsh_m / FOOT_M, "npsh_ft"),
            case.text("case"),
        );
        let margin_m = boiling_margin_m(surface_pressure_pa, &water).unwrap();
        let by_parts_m = margin_m + levels.surface_above_pump_m - levels.loss_m;
        compare_digits(
            &mut tally,
            &case,
            (by_parts_m / FOOT_M, "npsh_ft"),
            "by its parts",
        );
    }
    tally.finish();
}

#[test]
fn a_vacuum_gauge_leads_to_the_suction_head() {
    let mut tally = Tally::new(
        "pump/handbook: NPSH from a gauge, last printed digit",
        PRINTED,
    );
    for case in cases("pump/handbook/npsh_gauge.csv") {
        let gauge = InletVacuum {
            atmospheric_pressure_pa: standard_pressure_pa(case.number("elevation_ft") * FOOT_M)
                .unwrap(),
            vacuum_pa: case.number("vacuum_inhg") * INHG_PA,
            gauge_above_pump_m: 0.0,
            flow_m3s: case.number("flow_gpm") * GPM_M3S,
            bore_m: case.number("bore_in") * INCH_M,
        };
        let water = Water::fresh(fahrenheit_k(case.number("temperature_f"))).unwrap();
        let npsh_m = npsh_from_gauge_m(&gauge, &water).unwrap();
        compare_digits(
            &mut tally,
            &case,
            (npsh_m / FOOT_M, "npsh_ft"),
            case.text("case"),
        );
    }
    tally.finish();
}

#[test]
fn no_gauge_shows_more_vacuum_than_the_atmosphere_has() {
    // 24.896 is printed 24.90: half a unit.
    let mut tally = Tally::new(
        "pump/handbook: limit of a vacuum gauge, last printed digit",
        Tolerance::Absolute(0.51),
    );
    for case in cases("pump/handbook/vacuum_limit.csv") {
        let atmosphere_pa = standard_pressure_pa(case.number("elevation_ft") * FOOT_M).unwrap();
        // Water that does not boil at all reaches the limit of the gauge.
        let water = Water {
            vapour_pressure_pa: 0.0,
            ..Water::fresh(300.0).unwrap()
        };
        let limit_inhg = highest_vacuum_pa(atmosphere_pa, &water).unwrap() / INHG_PA;
        compare_digits(
            &mut tally,
            &case,
            (limit_inhg, "vacuum_inhg"),
            case.text("elevation_ft"),
        );
    }
    tally.finish();
}

const SUCTION: Tap = Tap {
    gauge_pressure_pa: -6.0 * INHG_PA,
    height_m: 0.0,
    bore_m: Some(2.469 * INCH_M),
};

const DISCHARGE: Tap = Tap {
    gauge_pressure_pa: 20.0 * PSI_PA,
    height_m: FOOT_M,
    bore_m: Some(2.067 * INCH_M),
};

const STREAM: Stream = Stream {
    flow_m3s: 60.0 * GPM_M3S,
    density_kg_m3: 996.30,
};

/// The parts of the worked example, each in the unit of its file.
fn part(of: &str, head: &TotalHead) -> f64 {
    let hydraulic_w = hydraulic_power_w(&STREAM, head.total_m).unwrap();
    match of {
        "pressure" => head.pressure_m / FOOT_M,
        "height" => head.height_m / FOOT_M,
        "velocity" => head.velocity_m / FOOT_M,
        "total" => head.total_m / FOOT_M,
        "hydraulic power" => hydraulic_w,
        "wire to water percent" => 100.0 * wire_to_water(hydraulic_w, 1100.0).unwrap(),
        other => panic!("part {other}"),
    }
}

#[test]
fn two_gauges_give_the_total_head_by_its_parts() {
    let mut tally = Tally::new("pump/handbook: total head, last printed digit", PRINTED);
    let head = total_head(&SUCTION, &DISCHARGE, &STREAM).unwrap();
    for case in cases("pump/handbook/total_head.csv") {
        let of = case.text("part");
        compare_digits(&mut tally, &case, (part(of, &head), "value"), of);
    }
    tally.finish();
}
