//! Typing faults in an otherwise sound test: each is found at its row and column, and no other reading is blamed.

mod support;

use fieldtest::{Matter, Severity, Slip};
use support::{PAD, analysis, analysis_with, csv, doubts, only, smooth};

const FLOW: usize = 1;
const POWER: usize = 2;
const CURRENT: usize = 3;

/// The line of the file on which row `index` stands.
fn line(index: usize) -> usize {
    index + 2
}

#[test]
fn a_sound_test_raises_no_doubt() {
    let pad = analysis(PAD, &csv(&smooth()));
    assert_eq!(doubts(&pad), Vec::<&str>::new());
    assert!(pad.tests[0].readings.iter().all(|reading| reading.used));
}

#[test]
fn a_decimal_point_is_found_in_any_row_and_column() {
    for index in 0..11 {
        for (column, name) in [(FLOW, "flow"), (POWER, "power"), (CURRENT, "current")] {
            for factor in [10.0, 0.1] {
                let mut rows = smooth();
                let value: f64 = rows[index][column].parse().unwrap();
                rows[index][column] = format!("{:.3}", value * factor);
                let pad = analysis(PAD, &csv(&rows));
                assert_eq!(doubts(&pad), ["unit-slip"], "{name} {index} {factor}");
                let finding = only(&pad, "unit-slip");
                assert_eq!(finding.place.rows, [line(index)]);
                assert_eq!(finding.place.column.as_deref(), Some(name));
                let Matter::UnitSlip {
                    slip: Slip::DecimalPlaces(places),
                    ..
                } = finding.matter
                else {
                    panic!("{finding:?}");
                };
                assert_eq!(places, if factor > 1.0 { 1 } else { -1 });
            }
        }
    }
}

#[test]
fn kilowatts_and_litres_are_named_and_the_value_to_accept_is_given() {
    let mut rows = smooth();
    let watts: f64 = rows[4][POWER].parse().unwrap();
    rows[4][POWER] = format!("{:.3}", watts / 1000.0);
    let pad = analysis(PAD, &csv(&rows));
    let Matter::UnitSlip {
        slip: Slip::Unit(unit),
        accept_si,
        factor,
        ..
    } = &only(&pad, "unit-slip").matter
    else {
        panic!("{:?}", pad.findings);
    };
    assert_eq!(unit.name, "kW");
    assert!((accept_si - watts).abs() < 1e-9 && (factor - 1e-3).abs() < 1e-15);

    let mut rows = smooth();
    let gpm: f64 = rows[7][FLOW].parse().unwrap();
    rows[7][FLOW] = format!("{:.1}", gpm * 3.785_411_784);
    let pad = analysis(PAD, &csv(&rows));
    let Matter::UnitSlip {
        slip: Slip::Unit(unit),
        ..
    } = &only(&pad, "unit-slip").matter
    else {
        panic!("{:?}", pad.findings);
    };
    assert_eq!(unit.name, "L/min");
}

#[test]
fn an_entry_typed_twice_is_found() {
    for index in 1..11 {
        let mut rows = smooth();
        rows[index][POWER] = rows[index - 1][POWER].clone();
        let pad = analysis(PAD, &csv(&rows));
        // The lowest two steps differ by less than the law lets one see.
        if index >= 2 {
            let finding = only(&pad, "repeated-entry");
            assert_eq!(finding.place.rows, [line(index)], "{index}");
            assert_eq!(doubts(&pad).len(), 1);
        }
    }
}

#[test]
fn swapped_digits_are_found_and_swapped_back() {
    let mut rows = smooth();
    assert_eq!(rows[8][FLOW], "79.3");
    rows[8][FLOW] = "97.3".to_owned();
    let pad = analysis(PAD, &csv(&rows));
    let finding = only(&pad, "off-curve");
    assert_eq!(finding.place.rows, [line(8)]);
    let accept_gpm = finding.matter.accept_si().unwrap() / (3.785_411_784e-3 / 60.0);
    assert!((accept_gpm - 79.3).abs() < 1e-9);
}

#[test]
fn three_faults_are_found_and_nobody_else_is_blamed() {
    let mut rows = smooth();
    rows[3][FLOW] = "381".to_owned(); // 38.1 without its point
    rows[8][FLOW] = "7.93".to_owned();
    rows[6][FLOW] = rows[5][FLOW].clone();
    let pad = analysis(PAD, &csv(&rows));
    let mut found: Vec<usize> = pad
        .findings
        .iter()
        .filter(|f| f.matter.doubts_a_reading())
        .flat_map(|f| f.place.rows.clone())
        .collect();
    found.sort_unstable();
    assert_eq!(found, [line(3), line(6), line(8)]);
}

#[test]
fn a_wrong_speed_moves_its_row_and_is_named() {
    let mut rows = smooth();
    assert_eq!(rows[5][0], "2000");
    rows[5][0] = "2900".to_owned();
    rows.remove(8);
    let pad = analysis(PAD, &csv(&rows));
    let finding = only(&pad, "off-curve");
    assert_eq!(finding.place.column.as_deref(), Some("speed"));
    assert_eq!(finding.place.rows, [line(5)]);
    let Matter::WrongSpeed { expected_rpm, .. } = &finding.matter else {
        panic!("{finding:?}");
    };
    assert!(
        (expected_rpm.value / 2000.0 - 1.0).abs() < 0.02,
        "{expected_rpm:?}"
    );
}

#[test]
fn volt_amperes_typed_as_watts_are_found() {
    let mut rows = smooth();
    for row in &mut rows {
        let amperes: f64 = row[CURRENT].parse().unwrap();
        row[POWER] = format!("{:.0}", 230.0 * amperes);
    }
    let pad = analysis(PAD, &csv(&rows));
    let finding = only(&pad, "volt-amperes-as-watts");
    assert_eq!(finding.severity, Severity::Error);
    assert_eq!(doubts(&pad), ["volt-amperes-as-watts"]);
    assert!(pad.tests[0].laws.power.is_none());
}

#[test]
fn a_power_factor_above_one_is_found() {
    let mut rows = smooth();
    for row in &mut rows {
        let amperes: f64 = row[CURRENT].parse().unwrap();
        row[CURRENT] = format!("{:.2}", 0.7 * amperes);
    }
    let read = csv(&rows)
        .replace('\n', ",229\n")
        .replacen(",229", ",voltage [V]", 1);
    let pad = analysis(PAD, &read);
    assert!(!doubts(&pad).is_empty());
    let above = pad
        .findings
        .iter()
        .filter(|f| f.matter.code() == "power-factor-above-one");
    assert!(above.clone().count() >= 3);
    assert!(above.clone().all(|f| f.severity == Severity::Error));
    // A voltage that was not read is never by itself an error: 19 % above what 230 V carry is a warning.
    let mut rows = smooth();
    for row in &mut rows {
        let watts: f64 = row[POWER].parse().unwrap();
        let spread = 1.19 - 0.2 * (1.0 - watts / 2158.0);
        row[CURRENT] = format!("{:.2}", watts / (230.0 * spread));
    }
    let pad = analysis(PAD, &csv(&rows));
    let above = pad
        .findings
        .iter()
        .filter(|f| f.matter.code() == "power-factor-above-one");
    assert!(above.clone().count() > 0, "{:?}", pad.findings);
    assert!(above.clone().all(|f| f.severity == Severity::Warning));
}

#[test]
fn the_persons_word_stands() {
    let mut rows = smooth();
    rows[8][FLOW] = "97.3".to_owned();
    let confirm = "[[ruling]]\nrow = 10\ncolumn = \"flow\"\nsay = \"confirmed\"\n";
    let pad = analysis_with(PAD, confirm, &csv(&rows));
    assert!(
        pad.findings.iter().all(|f| f.place.rows != [10]),
        "{:?}",
        pad.findings
    );
    let drop = confirm.replace("confirmed", "drop");
    let pad = analysis_with(PAD, &drop, &csv(&rows));
    assert_eq!(doubts(&pad), Vec::<&str>::new());
    let reading = pad.tests[0]
        .readings
        .iter()
        .find(|r| r.row == 10 && r.column == "flow")
        .unwrap();
    assert!(!reading.used && reading.why == Some("ruled-out"));
}

#[test]
fn a_reading_outside_its_meter_is_kept_in_view_without_weight() {
    let site = format!(
        "{PAD}\n[[meter]]\nid = \"A\"\nmeasures = \"flow\"\nrange = [\"20 gpm\", \"130 gpm\"]\naccuracy = [\"2 %\"]\n"
    );
    let pad = analysis(&site, &csv(&smooth()));
    let finding = only(&pad, "outside-meter-range");
    assert_eq!(finding.place.rows, [2]);
    assert_eq!(pad.tests[0].steps[0].flow_m3s, None);
    assert!(pad.tests[0].steps[1].flow_m3s.is_some());
}

#[test]
fn a_speed_outside_the_pump_is_said() {
    let mut rows = smooth();
    rows[10][0] = "3500".to_owned();
    let pad = analysis(PAD, &csv(&rows));
    assert_eq!(only(&pad, "speed-outside-pump").place.rows, [12]);
}

#[test]
fn a_speed_ten_times_too_small_blames_no_reading() {
    for (index, typed) in [(6, "230"), (10, "345"), (0, "60"), (3, "14000")] {
        let mut rows = smooth();
        rows[index][0] = typed.to_owned();
        let pad = analysis(PAD, &csv(&rows));
        assert_eq!(doubts(&pad), ["off-curve"], "{typed}: {:?}", pad.findings);
        let finding = only(&pad, "off-curve");
        assert_eq!(finding.place.rows, [line(index)]);
        let expected: f64 = smooth()[index][0].parse().unwrap();
        let accept = finding.matter.accept_si().unwrap();
        assert!((accept - expected).abs() < 1e-9, "{accept}");
    }
}

#[test]
fn a_draw_at_rest_above_the_running_electronics_is_refused() {
    for standby in ["90", "150"] {
        let text = csv(&smooth()) + &["0,,", standby, ",\n"].concat();
        let pad = analysis(PAD, &text);
        assert_eq!(doubts(&pad), ["standby-too-high"]);
        assert_eq!(pad.tests[0].laws.standby_w, None);
        let energy = pad.tests[0]
            .least_energy
            .as_ref()
            .unwrap()
            .energy_wh_per_m3
            .unwrap();
        assert!(energy.value > 0.0 && energy.low > 0.0);
    }
}

#[test]
fn what_does_not_rise_with_speed_is_said() {
    let mut rows = smooth();
    for row in &mut rows {
        row[2] = "500".to_owned();
    }
    let pad = analysis(PAD, &csv(&rows));
    assert!(
        pad.findings
            .iter()
            .any(|f| matches!(f.matter, Matter::DoesNotRise { .. })),
        "{:?}",
        doubts(&pad)
    );
}

#[test]
fn a_reading_below_the_display_is_doubted_where_much_was_to_be_read() {
    let mut rows = smooth();
    rows[6][FLOW] = "<5".to_owned();
    let pad = analysis(PAD, &csv(&rows));
    let finding = only(&pad, "off-curve");
    assert_eq!(finding.place.rows, [line(6)]);
    // Where little flows, it is what the meter says.
    let mut rows = smooth();
    rows[0][FLOW] = "<16".to_owned();
    assert_eq!(doubts(&analysis(PAD, &csv(&rows))), Vec::<&str>::new());
}

#[test]
fn an_unusual_pump_keeps_its_columns() {
    // A booster of 10 gpm, a small pump of 23 gpm, a large one of 300 gpm at half the speed.
    for (share, top) in [(0.106, 3450.0), (0.24, 3450.0), (3.2, 1750.0)] {
        let mut rows = smooth();
        for row in &mut rows {
            row[0] = format!("{:.0}", row[0].parse::<f64>().unwrap() * top / 3450.0);
            row[1] = format!("{:.2}", row[1].parse::<f64>().unwrap() * share);
            row[2] = format!("{:.1}", row[2].parse::<f64>().unwrap() * share);
            row[3] = String::new();
        }
        let pad = analysis(
            &PAD.replace("3450 rpm", &format!("{top:.0} rpm"))
                .replace("450 rpm", "200 rpm"),
            &csv(&rows),
        );
        assert!(
            pad.findings
                .iter()
                .all(|finding| finding.severity < Severity::Error),
            "{share}"
        );
        assert!(pad.tests[0].laws.flow.is_some(), "{share}");
    }
    // A drive whose power factor is corrected to a constant.
    for power_factor in [0.93, 0.985] {
        let mut rows = smooth();
        for row in &mut rows {
            let watts: f64 = row[POWER].parse().unwrap();
            row[CURRENT] = format!("{:.2}", watts / (230.0 * power_factor));
        }
        assert_eq!(
            doubts(&analysis(PAD, &csv(&rows))),
            Vec::<&str>::new(),
            "{power_factor}"
        );
    }
}

#[test]
fn a_fault_among_repeats_is_found_in_its_row_and_not_in_their_mean() {
    for repeats in [4, 12] {
        let mut rows: Vec<[String; 4]> = smooth()
            .into_iter()
            .flat_map(|row| vec![row; repeats])
            .collect();
        let wrong = 5 * repeats + 1;
        let watts: f64 = rows[wrong][POWER].parse().unwrap();
        rows[wrong][POWER] = format!("{:.0}", 10.0 * watts);
        let pad = analysis(PAD, &csv(&rows));
        assert_eq!(doubts(&pad), ["unit-slip"], "{repeats}");
        assert_eq!(only(&pad, "unit-slip").place.rows, [line(wrong)]);
        let power = pad.tests[0].steps[5].power_w.unwrap();
        assert!((power.value / watts - 1.0).abs() < 1e-9, "{power:?}");
    }
}

#[test]
fn speeds_in_per_cent_are_told_at_once() {
    let mut rows = smooth();
    for row in &mut rows {
        row[0] = format!("{:.0}", row[0].parse::<f64>().unwrap() / 34.5);
    }
    let pad = analysis(PAD, &csv(&rows));
    let finding = only(&pad, "speed-outside-pump");
    assert_eq!(finding.place.rows.len(), 11);
    assert!(pad.tests[0].laws.flow.is_none());
}
