//! Meters against meters, against themselves, and against the units of their columns.

#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

mod support;

use fieldtest::{Analysis, Matter, Severity, Unrest};
use support::{PAD, analysis, csv, doubts, only, smooth, too_fast};

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
    // An unusual flow is a doubt and no proof: the column is used as it stands.
    assert!(finding.severity == Severity::Warning && finding.place.rows.is_empty());
    assert!(pad.tests[0].laws.flow.is_some());
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

/// A pad with two returns, of which the flow meter B sits on one.
fn branched(closed: bool) -> Analysis {
    let site = format!(
        "{PAD}
[[line]]
name = \"return 2\"
from = \"pump outlet\"
to = \"pool\"
parts = [ {{ pipe = \"1.5 in\", spec = \"PVC Sch 40\", length = \"60 ft\" }} ]
[[meter]]
id = \"B\"
measures = \"flow\"
on = \"return 2\"
accuracy = [\"2 %\"]
[[meter]]
id = \"A\"
measures = \"flow\"
accuracy = [\"2 %\"]
",
    );
    let more = if closed {
        "closed = [\"return\"]\n"
    } else {
        ""
    };
    let columns = if closed { "flow B" } else { "flow A" };
    let mut text = format!(
        "speed [rpm],{columns} [gpm],power [W]{}\n",
        if closed { "" } else { ",flow B [gpm]" }
    );
    for row in smooth() {
        let half = 0.6 * row[1].parse::<f64>().unwrap();
        let branch = if closed {
            String::new()
        } else {
            format!(",{half:.1}")
        };
        text.push_str(&[&row[0], ",", &row[1], ",", &row[2], &branch, "\n"].concat());
    }
    support::analysis_with(&site, more, &text)
}

#[test]
fn a_meter_on_a_line_that_all_water_passes_reads_the_whole_flow() {
    let pad = branched(true);
    assert!(pad.tests[0].laws.flow.is_some());
    assert!(pad.tests[0].readings.iter().all(|reading| reading.used));
}

#[test]
fn a_meter_on_a_branch_judges_that_branch_and_nothing_else() {
    let pad = branched(false);
    assert_eq!(doubts(&pad), Vec::<&str>::new());
    let aside = pad.tests[0]
        .readings
        .iter()
        .filter(|reading| reading.why == Some("part-of-the-flow"));
    assert_eq!(aside.count(), 11);
    let fast = too_fast(&pad, "return 2");
    // 0.6 of 94.5 gpm in 1.610 in: 0.4085 · 56.7/1.610² = 8.94 ft/s (the trade's velocity formula).
    assert_eq!(fast.len(), 1);
    assert!((fast[0].0 / 0.3048 - 8.94).abs() < 0.02, "{fast:?}");
}

#[test]
fn the_order_of_three_meters_changes_no_verdict() {
    let columns = [("A", 1.0), ("B", 1.09), ("C", 1.16)];
    let in_order = |order: [usize; 3]| {
        let mut text = String::from("speed [rpm]");
        for index in order {
            text.push_str(&[",flow ", columns[index].0, " [gpm]"].concat());
        }
        text.push('\n');
        for row in smooth() {
            text.push_str(&row[0]);
            for index in order {
                let flow = columns[index].1 * row[1].parse::<f64>().unwrap();
                text.push_str(&[",".to_owned(), format!("{flow:.1}")].concat());
            }
            text.push('\n');
        }
        let pad = analysis(PAD, &text);
        let top = pad.tests[0].steps.last().unwrap().flow_m3s.unwrap();
        (doubts(&pad).len(), top)
    };
    let (count, flow) = in_order([0, 1, 2]);
    for order in [[0, 2, 1], [1, 0, 2], [2, 1, 0]] {
        let (other_count, other) = in_order(order);
        assert_eq!(count, other_count);
        // Sums in another order: rounding only.
        assert!(
            (other.value / flow.value - 1.0).abs() < 1e-12 && (other.u / flow.u - 1.0).abs() < 1e-9,
            "{flow:?} {other:?}"
        );
    }
}

#[test]
fn a_vacuum_deeper_than_the_atmosphere_is_refused() {
    let gauges = |vacuum: &str| {
        let text = format!(
            "speed [rpm],flow [gpm],power [W],filter pressure [psi],inlet vacuum [inHg]\n1000,24,130,3,2\n2000,50,500,8,{vacuum}\n3000,76,1400,17,8\n"
        );
        analysis(PAD, &text)
    };
    assert_eq!(doubts(&gauges("5")), Vec::<&str>::new());
    let pad = gauges("50");
    let finding = only(&pad, "outside-meter-range");
    // STANDARDS 5.8: 29.92 inHg is the physical limit of a vacuum reading at sea level.
    assert_eq!(
        (finding.severity, finding.place.rows.as_slice()),
        (Severity::Error, &[3][..])
    );
    assert_eq!(pad.tests[0].steps[1].head_m, None);
}
