//! The analysis against what the trade knows of a common pad.
//!
//! Common practice, no source: a 1.5 hp variable-speed pump on a 2 in suction and one 1.5 in return reads as below.

mod support;

use fieldtest::{Analysis, Matter, Severity};
use support::{PAD, analysis, doubts, only, too_fast};

/// Common practice, no source.
const READINGS: &str = "\
speed [rpm],flow [gpm],power [W],current [A]
500,12.25,63,0.8
1000,24.5,132,
2000,50.5,498,2.36
2500,64,902,4.1
3450,89.2,2195,10
";

/// US gallons per minute, m³/s (NIST SP 811, appendix B.8).
const GPM_M3S: f64 = 3.785411784e-3 / 60.0;

/// The pad with its meters declared.
fn declared() -> String {
    format!(
        "{PAD}
[[meter]]
id = \"A\"
measures = \"flow\"
accuracy = [\"1 % of reading\"]
[[meter]]
id = \"P\"
measures = \"power\"
accuracy = [\"2 % of reading\"]
"
    )
}

/// The pad with undeclared meters, and with those of the trade: power ±2 %, flow ±1 %.
fn pads() -> [Analysis; 2] {
    [analysis(PAD, READINGS), analysis(&declared(), READINGS)]
}

#[test]
fn no_reading_is_doubted() {
    for pad in pads() {
        assert_eq!(doubts(&pad), Vec::<&str>::new());
        assert!(
            pad.findings
                .iter()
                .all(|finding| finding.severity < Severity::Error)
        );
    }
}

#[test]
fn flow_over_speed_is_nearly_constant() {
    for pad in pads() {
        let steps = pad.tests[0].steps.iter();
        let ratios: Vec<f64> = steps
            .map(|s| s.flow_m3s.unwrap().value / s.speed_rpm)
            .collect();
        let mean = ratios.iter().sum::<f64>() / ratios.len() as f64;
        assert!(ratios.iter().all(|ratio| (ratio / mean - 1.0).abs() < 0.05));
        // The law says the same: at half speed and above it lies within 5 % of the mean.
        let law = &pad.tests[0].laws.flow.as_ref().unwrap().law;
        for speed in [1725.0, 2500.0, 3450.0] {
            assert!((law.value(speed) / (mean * speed) - 1.0).abs() < 0.05);
        }
    }
}

#[test]
fn the_fixed_draw_is_found() {
    for pad in pads() {
        let fixed = pad.tests[0].laws.power.as_ref().unwrap().fixed_w;
        assert!((45.0..=75.0).contains(&fixed.value), "{fixed:?}");
        assert!(fixed.low > 0.0 && fixed.u < 15.0, "{fixed:?}");
    }
}

#[test]
fn water_is_cheapest_in_the_band_of_the_trade() {
    for pad in pads() {
        let least = pad.tests[0].least_energy.as_ref().unwrap();
        let (low, high) = least.within_3_percent_rpm.unwrap();
        assert!((575.0..=710.0).contains(&low), "{low}");
        assert!((850.0..=1010.0).contains(&high), "{high}");
        let best = least.speed_rpm.unwrap().value;
        assert!(low < best && best < high);
        assert_eq!(least.at_edge, None);
    }
}

#[test]
fn the_power_factor_rises_with_load() {
    for pad in pads() {
        let steps = pad.tests[0].steps.iter();
        let factors: Vec<f64> = steps.filter_map(|s| Some(s.power_factor?.value)).collect();
        assert!((factors[0] - 0.34).abs() < 0.005, "{factors:?}");
        assert!((factors[3] - 0.96).abs() < 0.01, "{factors:?}");
        assert!(factors.windows(2).all(|pair| pair[0] < pair[1] + 0.01));
    }
}

#[test]
fn the_return_runs_far_over_its_limit() {
    let pad = &pads()[0];
    let [(velocity, limit)] = too_fast(pad, "return")[..] else {
        panic!("{:?}", pad.findings);
    };
    assert!((velocity / 0.3048 - 14.1).abs() < 0.05, "{velocity}"); // 14.1 ft/s, printed to 0.1
    assert!((limit / 0.3048 - 8.0).abs() < 1e-12);
}

#[test]
fn thirty_feet_of_head_at_the_lowest_speed_are_refuted() {
    let claimed = "speed [rpm],flow [gpm],power [W],current [A],head [ft]\n\
        500,12.25,63,0.8,30\n1000,24.5,132,,\n2000,50.5,498,2.36,\n2500,64,902,4.1,\n3450,89.2,2195,10,\n";
    let site = declared();
    let pad = analysis(&site, claimed);
    let finding = only(&pad, "power-too-small-for-head");
    assert_eq!(finding.severity, Severity::Error);
    assert_eq!(finding.place.rows, [2]);
    let Matter::PowerTooSmallForHead {
        bound_m,
        water_power_w,
        ..
    } = &finding.matter
    else {
        panic!("{finding:?}");
    };
    // 12.25 gpm · 30 ft / 3956 = 0.0929 hp = 69.3 W (the pump formula; 0.3 % for the constant and the water).
    assert!(
        (water_power_w / 69.3 - 1.0).abs() < 0.003,
        "{water_power_w}"
    );
    // 63 W · 3956 / (745.7 W/hp · 12.25 gpm) = 27.3 ft.
    assert!(
        (bound_m.value / 0.3048 / 27.3 - 1.0).abs() < 0.003,
        "{bound_m:?}"
    );
    assert_eq!(pad.tests[0].steps[0].head_m, None);
    // A head that the power allows is taken.
    let allowed = claimed.replace(",0.8,30", ",0.8,5");
    let pad = analysis(&site, &allowed);
    assert_eq!(doubts(&pad), Vec::<&str>::new());
    let efficiency = pad.tests[0].steps[0].efficiency.unwrap().value;
    assert!((efficiency - 5.0 / 27.3).abs() < 0.001, "{efficiency}");
}

#[test]
fn limits_are_given_as_flow_and_speed() {
    let pad = &pads()[0];
    let [suction, discharge] = pad.limits.as_slice() else {
        panic!("{:?}", pad.limits);
    };
    // STANDARDS T6: minimum-wall bores at the limit, 2 in at 6 ft/s 62.75 gpm, 1-1/2 in at 8 ft/s 50.76 gpm.
    assert!((suction.flow_m3s.unwrap() / GPM_M3S - 62.75).abs() < 0.005);
    assert!((discharge.flow_m3s.unwrap() / GPM_M3S - 50.76).abs() < 0.005);
    // Common practice: the return's limit is met near 2000 rpm, where 50.5 gpm were read.
    let speed = discharge.speed_rpm.unwrap();
    assert!((speed / 2000.0 - 1.0).abs() < 0.03, "{speed}");
}
