//! What must hold of any test, whatever its numbers.

mod support;

use fieldtest::{Analysis, Matter, Unknown};
use proptest::prelude::*;
use support::{PAD, analysis, csv, doubts, only, smooth};

/// The numbers of an analysis that the order of rows must not reach.
fn numbers(analysis: &Analysis) -> String {
    let test = &analysis.tests[0];
    let steps: Vec<_> = test
        .steps
        .iter()
        .map(|s| (s.speed_rpm, s.flow_m3s, s.power_w, s.power_factor))
        .collect();
    let flow = test
        .laws
        .flow
        .as_ref()
        .map(|law| (law.slope_m3s_per_rpm, law.intercept_speed_rpm));
    let power = test
        .laws
        .power
        .as_ref()
        .map(|law| (law.fixed_w, law.dynamic_w, law.exponent));
    format!(
        "{steps:?} {flow:?} {power:?} {:?} {:?}",
        test.least_energy, analysis.limits
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Bit for bit: the rows are sorted before anything is summed.
    #[test]
    fn the_order_of_the_rows_changes_nothing(order in Just((0..11).collect::<Vec<usize>>()).prop_shuffle()) {
        let rows = smooth();
        let shuffled: Vec<_> = order.iter().map(|index| rows[*index].clone()).collect();
        prop_assert_eq!(numbers(&analysis(PAD, &csv(&rows))), numbers(&analysis(PAD, &csv(&shuffled))));
    }

    #[test]
    fn scaling_power_and_its_absolute_accuracies_scales_both_draws(scale in 0.3_f64..8.0) {
        let power_law = |scale: f64| {
            let site = format!(
                "{PAD}\n[[meter]]\nid = \"P\"\nmeasures = \"power\"\nresolution = \"{} W\"\naccuracy = [\"1 % of reading + {} W\", \"{} W\"]\n",
                scale, 2.0 * scale, 0.5 * scale,
            );
            let mut rows = smooth();
            for row in &mut rows {
                row[2] = format!("{:.12}", scale * row[2].parse::<f64>().unwrap());
                row[3] = String::new();
            }
            let law = analysis(&site, &csv(&rows)).tests[0].laws.power.clone().unwrap();
            [law.fixed_w.value, law.dynamic_w.value, law.fixed_w.u, law.dynamic_w.u]
        };
        for (scaled, one) in power_law(scale).into_iter().zip(power_law(1.0)) {
            // The fit settles where the sum of squares is flat to 1e-12, so its parameters to about 1e-6.
            prop_assert!((scaled / (scale * one) - 1.0).abs() < 1e-6, "{} {}", scaled, one);
        }
    }

    /// No number whatever of the readings makes the analysis panic or lose its finiteness.
    #[test]
    fn any_numbers_are_survived(rows in prop::collection::vec((0.0_f64..5000.0, 0.0_f64..1e9, 0.0_f64..1e9, 0.0_f64..1e9), 0..14)) {
        let rows: Vec<[String; 4]> = rows
            .iter()
            .map(|(a, b, c, d)| [format!("{a:.0}"), format!("{b:e}"), format!("{c:.3}"), format!("{d}")])
            .collect();
        let pad = analysis(PAD, &csv(&rows));
        for step in &pad.tests[0].steps {
            for estimate in [step.flow_m3s, step.power_w, step.energy_wh_per_m3].into_iter().flatten() {
                prop_assert!(estimate.value.is_finite() && estimate.low <= estimate.high);
            }
        }
    }
}

#[test]
fn repeats_narrow_and_do_not_move_a_step() {
    let once = analysis(PAD, &csv(&smooth()));
    let rows: Vec<_> = smooth().into_iter().flat_map(|row| vec![row; 6]).collect();
    let often = analysis(PAD, &csv(&rows));
    assert_eq!(doubts(&often), Vec::<&str>::new());
    assert_eq!(often.tests[0].steps.len(), 11);
    for (one, many) in once.tests[0].steps.iter().zip(&often.tests[0].steps) {
        let (one, many) = (one.power_w.unwrap(), many.power_w.unwrap());
        assert!((one.value - many.value).abs() < 1e-9 && many.u <= one.u + 1e-12);
    }
}

#[test]
fn too_few_steps_are_said_and_give_no_law() {
    let none = analysis(PAD, "speed [rpm],flow [gpm],power [W],current [A]\n");
    assert!(none.tests[0].laws.flow.is_none() && none.tests[0].laws.power.is_none());
    let few: Vec<&str> = none.findings.iter().map(|f| f.matter.code()).collect();
    assert_eq!(
        few.iter().filter(|code| **code == "too-few-steps").count(),
        2
    );
    for count in 1..3 {
        let pad = analysis(PAD, &csv(&smooth()[..count]));
        assert!(pad.tests[0].laws.power.is_none());
        assert!(
            pad.findings
                .iter()
                .any(|f| matches!(f.matter, Matter::TooFewSteps { .. }))
        );
    }
    let equal = vec![smooth()[3].clone(); 5];
    let pad = analysis(PAD, &csv(&equal));
    assert_eq!(pad.tests[0].steps.len(), 1);
    assert!(pad.tests[0].laws.flow.is_none());
}

#[test]
fn standby_is_apart_from_fixed_draw() {
    let mut text = csv(&smooth());
    assert_eq!(
        only(&analysis(PAD, &text), "no-standby-reading")
            .place
            .test
            .as_deref(),
        Some("test")
    );
    text.push_str("0,,9,\n");
    let pad = analysis(PAD, &text);
    let laws = &pad.tests[0].laws;
    let standby = laws.standby_w.unwrap();
    assert!((standby.value - 9.0).abs() < 1e-12);
    // The row at rest enters no law: fixed draw is the running law at zero speed, made of 58 W.
    let fixed = laws.power.as_ref().unwrap().fixed_w;
    assert!((fixed.value - 58.0).abs() < 2.0, "{fixed:?}");
    assert_eq!(pad.tests[0].steps.len(), 11);
    assert!(
        pad.findings
            .iter()
            .all(|f| f.matter.code() != "no-standby-reading")
    );
}

#[test]
fn an_optimum_that_is_not_bracketed_is_not_invented() {
    let fast: Vec<_> = smooth().into_iter().skip(4).collect();
    let pad = analysis(PAD, &csv(&fast));
    let least = pad.tests[0].least_energy.as_ref().unwrap();
    assert_eq!(least.speed_rpm, None);
    assert!(least.at_edge.is_some());
    let unknown = pad.findings.iter().find_map(|f| match f.matter {
        Matter::NotIdentifiable(Unknown::LeastEnergyBelow {
            slowest_rpm,
            read_next_rpm,
        }) => Some((slowest_rpm, read_next_rpm)),
        _ => None,
    });
    let (slowest, next) = unknown.unwrap();
    assert!((slowest - 1700.0).abs() < 1e-9 && next < slowest);
}

#[test]
fn a_long_log_is_pooled() {
    let mut rows = Vec::new();
    for (index, row) in smooth().iter().enumerate() {
        for repeat in 0..900 {
            let mut row = row.clone();
            let watts: f64 = row[2].parse().unwrap();
            row[2] = format!(
                "{:.1}",
                watts
                    * (1.0
                        + 0.002 * f64::from((repeat * 7 + i32::try_from(index).unwrap()) % 11 - 5))
            );
            rows.push(row);
        }
    }
    let pad = analysis(PAD, &csv(&rows));
    assert_eq!(doubts(&pad), Vec::<&str>::new());
    assert_eq!(pad.tests[0].steps.len(), 11);
    assert_eq!(pad.tests[0].readings.len(), 3 * rows.len());
}

#[test]
fn the_parts_of_an_uncertainty_add_up_to_it() {
    let pad = analysis(PAD, &csv(&smooth()));
    let laws = &pad.tests[0].laws;
    let (flow, power) = (
        &laws.flow.as_ref().unwrap().law,
        &laws.power.as_ref().unwrap().law,
    );
    for speed in [450.0, 600.0, 1234.0, 3450.0] {
        for law in [flow, power] {
            let whole = law.predict_ln(speed).u_ln;
            let sum: f64 = law
                .parts_of_prediction(speed)
                .iter()
                .map(|part| part.variance)
                .sum();
            // Two ways through matrices of order 11 whose condition is below 1e6.
            assert!(
                (sum.sqrt() / whole - 1.0).abs() < 1e-8,
                "{speed}: {sum} {whole}"
            );
        }
    }
    let numbers = laws.power.as_ref().unwrap();
    for (index, estimate) in [(0, numbers.fixed_w), (2, numbers.exponent)] {
        let sum: f64 = power
            .parts_of_parameter(index)
            .iter()
            .map(|part| part.variance)
            .sum();
        assert!((sum.sqrt() / estimate.u - 1.0).abs() < 1e-8, "{index}");
    }
    let budget = fieldtest::why(&pad.tests[0], fieldtest::Question::Energy(900.0)).unwrap();
    assert!((budget.parts.iter().map(|part| part.share).sum::<f64>() - 1.0).abs() < 1e-12);
    assert!(
        budget
            .parts
            .windows(2)
            .all(|pair| pair[0].share >= pair[1].share)
    );
}
