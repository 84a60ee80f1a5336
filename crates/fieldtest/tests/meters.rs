//! Meters against meters, against themselves, and against the units of their columns.

#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

mod support;

use fieldtest::{Matter, Severity, Unrest};
use support::{PAD, analysis, csv, doubts, only, smooth};

/// Two flow meters, of which the second reads `ratio` times the first.
fn two_meters(ratio: f64) -> String {
    let mut text = String::from("speed [rpm],flow A [gpm],flow B [gpm],power [W]\n");
    for row in smooth() {
        let second = ratio * row[1].parse::<f64>().unwrap();
        text.push_str(
            &[
                &row[0],
                ",",
                &row[1],
                ",",
                &format!("{second:.1}"),
                ",",
                &row[2],
                "\n",
            ]
            .concat(),
        );
    }
    text
}

#[test]
fn meters_within_their_accuracies_agree() {
    for ratio in [0.97, 1.0, 1.03] {
        let pad = analysis(PAD, &two_meters(ratio));
        assert_eq!(doubts(&pad), Vec::<&str>::new(), "{ratio}");
    }
}

#[test]
fn meters_that_are_apart_are_found_and_widen_every_flow() {
    let agreeing = analysis(PAD, &two_meters(1.0));
    for ratio in [0.75, 1.25] {
        let pad = analysis(PAD, &two_meters(ratio));
        let finding = only(&pad, "meters-disagree");
        let Matter::MetersDisagree {
            ratio: found,
            e_n,
            columns,
            ..
        } = &finding.matter
        else {
            panic!("{finding:?}");
        };
        assert!(
            (found.value / ratio - 1.0).abs() < 0.01 && *e_n > 1.0,
            "{found:?} {e_n}"
        );
        assert_eq!(columns, &["flow A", "flow B"]);
        // No single reading of either is blamed, and the interval reaches both.
        assert_eq!(doubts(&pad), ["meters-disagree"]);
        let top = pad.tests[0].steps.last().unwrap().flow_m3s.unwrap();
        let sharp = agreeing.tests[0].steps.last().unwrap().flow_m3s.unwrap();
        assert!(top.u > 2.0 * sharp.u, "{top:?} {sharp:?}");
        let first = sharp.value;
        assert!(
            top.low < first.min(ratio * first) * 1.01 && first.max(ratio * first) < top.high * 1.01,
            "{top:?} {first}"
        );
    }
}

#[test]
fn a_trend_over_repeats_is_said() {
    let mut text = csv(&smooth());
    let step = smooth()[5].clone();
    for percent in [0.0, 2.5, 5.0, 7.5] {
        let watts = step[2].parse::<f64>().unwrap() * (1.0 + percent / 100.0);
        text.push_str(&[&step[0], ",", &step[1], ",", &format!("{watts:.0}"), ",\n"].concat());
    }
    let text = text.replace(&(smooth()[5].join(",") + "\n"), "");
    let pad = analysis(PAD, &text);
    let finding = only(&pad, "unsettled");
    assert!(matches!(
        finding.matter,
        Matter::Unsettled {
            unrest: Unrest::Trend,
            ..
        }
    ));
    assert_eq!(finding.severity, Severity::Warning);
    assert_eq!(finding.place.rows.len(), 4);
}

#[test]
fn a_drift_is_said_when_a_speed_is_met_again() {
    let step = smooth()[5].clone();
    let again = |share: f64| {
        let gpm = step[1].parse::<f64>().unwrap() * share;
        csv(&smooth()) + &[&step[0], ",", &format!("{gpm:.1}"), ",,\n"].concat()
    };
    assert!(
        analysis(PAD, &again(1.0))
            .findings
            .iter()
            .all(|f| f.matter.code() != "unsettled")
    );
    let pad = analysis(PAD, &again(0.90));
    let finding = only(&pad, "unsettled");
    assert!(matches!(
        finding.matter,
        Matter::Unsettled {
            unrest: Unrest::Drift,
            ..
        }
    ));
    assert_eq!(finding.place.rows, [7, 13]);
}

#[test]
fn a_gauge_that_does_not_come_to_rest_is_said() {
    let at_rest = |psi: &str| {
        format!("speed [rpm],filter pressure [psi]\n0,{psi}\n1000,3\n2000,8\n3000,17\n")
    };
    assert!(
        analysis(PAD, &at_rest("0.5"))
            .findings
            .iter()
            .all(|f| f.matter.code() != "gauge-zero")
    );
    let pad = analysis(PAD, &at_rest("6"));
    assert_eq!(only(&pad, "gauge-zero").place.rows, [2]);
}

#[test]
fn a_column_in_another_unit_is_found_as_a_whole() {
    // Every flow in litres per minute under a heading of gallons.
    let mut rows = smooth();
    for row in &mut rows {
        row[1] = format!("{:.1}", 3.785_411_784 * row[1].parse::<f64>().unwrap());
    }
    let pad = analysis(PAD, &csv(&rows));
    let finding = only(&pad, "unit-slip");
    assert!(
        matches!(&finding.matter, Matter::ColumnSlip { slip: fieldtest::Slip::Unit(unit), .. } if unit.name == "L/min"),
        "{finding:?}"
    );
    assert!(finding.place.rows.is_empty() && pad.tests[0].laws.flow.is_none());
    // Every power in kilowatts under a heading of watts.
    let mut rows = smooth();
    for row in &mut rows {
        row[2] = format!("{:.3}", row[2].parse::<f64>().unwrap() / 1000.0);
    }
    let pad = analysis(PAD, &csv(&rows));
    let finding = only(&pad, "unit-slip");
    assert!(
        matches!(&finding.matter, Matter::ColumnSlip { slip: fieldtest::Slip::Unit(unit), .. } if unit.name == "kW"),
        "{finding:?}"
    );
}
