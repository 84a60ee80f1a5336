//! Meters and readings at the edge of sense: every number that comes out is finite, and what is amiss is said.

mod support;

use fieldtest::Analysis;
use support::{PAD, analysis, csv, doubts, smooth};

/// Looks through every estimate of an analysis.
#[track_caller]
fn all_finite(pad: &Analysis) {
    for test in &pad.tests {
        let steps = test.steps.iter().flat_map(|s| {
            [
                s.flow_m3s,
                s.power_w,
                s.current_a,
                s.power_factor,
                s.head_m,
                s.head_bound_m,
                s.efficiency,
                s.energy_wh_per_m3,
            ]
        });
        let flow = test
            .laws
            .flow
            .iter()
            .flat_map(|law| [law.slope_m3s_per_rpm, law.intercept_speed_rpm]);
        let power = test
            .laws
            .power
            .iter()
            .flat_map(|law| [law.fixed_w, law.dynamic_w, law.exponent]);
        let least = test.least_energy.iter().flat_map(|least| {
            [least.speed_rpm, least.flow_m3s, least.energy_wh_per_m3]
                .into_iter()
                .flatten()
        });
        for estimate in steps
            .flatten()
            .chain(flow)
            .chain(power)
            .chain(least)
            .chain(test.laws.standby_w)
        {
            let numbers = [estimate.value, estimate.u, estimate.low, estimate.high];
            assert!(numbers.iter().all(|x| x.is_finite()), "{estimate:?}");
            assert!(
                estimate.u >= 0.0
                    && estimate.low <= estimate.value
                    && estimate.value <= estimate.high,
                "{estimate:?}"
            );
        }
    }
}

fn with_meter(lines: &str) -> String {
    format!("{PAD}\n[[meter]]\nid = \"A\"\nmeasures = \"flow\"\n{lines}\n")
}

#[test]
fn meters_without_error_and_with_much_are_survived() {
    for lines in [
        "accuracy = [\"0.0001 % of reading\"]\nresolution = \"0.1 gpm\"",
        "accuracy = [\"0.000001 gpm\"]\nshare_common = 1.0",
        "accuracy = [\"100 % of reading\"]",
        "accuracy = [\"500 gpm\"]",
        "accuracy = [\"2 % of reading + 300 gpm\", \"5 % of full scale\"]\nrange = [\"1 gpm\", \"200 gpm\"]",
        "accuracy = [\"2 %\"]\nshare_common = 0.0",
        "accuracy = [\"2 %\"]\nshare_common = 1.0\ncoverage = 3.0",
        "kind = \"float\"",
    ] {
        let pad = analysis(&with_meter(lines), &csv(&smooth()));
        all_finite(&pad);
        assert_eq!(doubts(&pad), Vec::<&str>::new(), "{lines}");
        assert!(pad.tests[0].laws.flow.is_some(), "{lines}");
    }
}

#[test]
fn a_meter_good_for_none_of_its_readings_leaves_none() {
    let pad = analysis(
        &with_meter("accuracy = [\"2 %\"]\nrange = [\"300 gpm\", \"400 gpm\"]"),
        &csv(&smooth()),
    );
    all_finite(&pad);
    assert_eq!(doubts(&pad).len(), 11);
    assert!(pad.tests[0].laws.flow.is_none() && pad.tests[0].laws.power.is_some());
    assert!(
        pad.findings
            .iter()
            .any(|f| f.matter.code() == "too-few-steps")
    );
}

#[test]
fn readings_that_were_all_below_the_meter_give_no_law() {
    let mut rows = smooth();
    for row in &mut rows {
        row[1] = "<8".to_owned();
    }
    let pad = analysis(PAD, &csv(&rows));
    all_finite(&pad);
    assert!(pad.tests[0].laws.flow.is_none());
    let below = pad.tests[0]
        .readings
        .iter()
        .filter(|reading| reading.why == Some("below-meter-range"));
    assert_eq!(below.count(), 11);
}

#[test]
fn one_reading_per_column_is_survived() {
    for column in 1..4 {
        let mut row = smooth()[4].clone();
        for other in (1..4).filter(|other| *other != column) {
            row[other] = String::new();
        }
        let pad = analysis(PAD, &csv(&[row]));
        all_finite(&pad);
        assert_eq!(pad.tests[0].steps.len(), 1);
    }
}

#[test]
fn ten_thousand_repeats_narrow_the_scatter_and_not_the_calibration() {
    let row = smooth()[6].clone();
    let watts: f64 = row[2].parse().unwrap_or(0.0);
    let mut rows = smooth();
    for repeat in 0..10_000_u32 {
        let mut again = row.clone();
        again[2] = format!("{:.1}", watts + f64::from(repeat % 21) - 10.0);
        rows.push(again);
    }
    let pad = analysis(PAD, &csv(&rows));
    all_finite(&pad);
    let power = pad.tests[0].steps[6].power_w;
    // ± 5 % of the reading is taken for a meter that is not described: 2.9 % as a standard uncertainty.
    assert!(
        power.is_some_and(|power| (power.u / watts - 0.05 / 3.0_f64.sqrt()).abs() < 1e-3),
        "{power:?}"
    );
}

#[test]
fn flows_and_powers_of_nothing_are_survived() {
    for column in 1..4 {
        let mut rows = smooth();
        for row in &mut rows {
            row[column] = "0".to_owned();
        }
        all_finite(&analysis(PAD, &csv(&rows)));
        let mut rows = smooth();
        rows[3][column] = "0".to_owned();
        let pad = analysis(PAD, &csv(&rows));
        all_finite(&pad);
        assert_eq!(doubts(&pad), ["off-curve"]);
        assert_eq!(support::only(&pad, "off-curve").place.rows, [5]);
    }
}
