//! The shape of `analyze --json`: every key of the contract, SI, estimates whole or null.

#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

mod support;

use serde_json::Value;
use support::{ends, examples};

fn analysis(tests: &[&str]) -> Value {
    let mut arguments = vec!["analyze", "site.toml"];
    arguments.extend(tests);
    arguments.push("--json");
    let (out, err) = ends(&examples().join("larkspur-lane"), &arguments, 0);
    assert_eq!(err, "");
    serde_json::from_str(&out).unwrap()
}

fn keys(value: &Value) -> Vec<&str> {
    value
        .as_object()
        .unwrap()
        .keys()
        .map(String::as_str)
        .collect()
}

#[track_caller]
fn has(value: &Value, wanted: &[&str]) {
    let found = keys(value);
    for key in wanted {
        assert!(found.contains(key), "{key} is missing among {found:?}");
    }
}

/// Four finite numbers in order, or null.
#[track_caller]
fn estimate(value: &Value) {
    if value.is_null() {
        return;
    }
    let number = |key: &str| value[key].as_f64().unwrap();
    assert_eq!(keys(value).len(), 4);
    assert!(
        number("u") >= 0.0 && number("low") <= number("value") && number("value") <= number("high"),
        "{value}"
    );
}

#[test]
fn every_key_is_there() {
    let json = analysis(&["2026-05-16.toml", "2026-06-02.toml"]);
    assert_eq!(json["format"], 1);
    has(
        &json,
        &[
            "steps",
            "laws",
            "least_energy",
            "tests",
            "budget",
            "readings",
            "findings",
            "limits",
        ],
    );
    let steps = json["steps"].as_array().unwrap();
    assert_eq!(steps.len(), 22);
    for step in steps {
        has(step, &["test", "speed_rpm", "head_from"]);
        for key in [
            "flow_m3s",
            "power_w",
            "current_a",
            "power_factor",
            "head_m",
            "head_bound_m",
            "efficiency",
            "energy_wh_per_m3",
        ] {
            has(step, &[key]);
            estimate(&step[key]);
        }
    }
    for laws in [
        &json["laws"],
        &json["tests"][0]["laws"],
        &json["tests"][1]["laws"],
    ] {
        for (law, numbers) in [
            ("flow", &["slope_m3s_per_rpm", "intercept_speed_rpm"][..]),
            ("power", &["fixed_w", "dynamic_w", "exponent", "standby_w"]),
            (
                "system",
                &["static_m", "coefficient_m_per_m3s_n", "exponent"],
            ),
        ] {
            has(&laws[law], numbers);
            for number in numbers {
                estimate(&laws[law][number]);
            }
        }
        assert!(laws["power"]["at_speed_rpm"].as_f64().unwrap() > 0.0);
    }
    let least = &json["least_energy"];
    has(
        least,
        &[
            "speed_rpm",
            "flow_m3s",
            "energy_wh_per_m3",
            "at_edge",
            "volume_24h_m3",
            "below",
        ],
    );
    has(&least["within_3_percent"], &["low_rpm", "high_rpm"]);
    assert_eq!(json["tests"][1]["test"], "2026-06-02");
    for reading in json["readings"].as_array().unwrap() {
        has(reading, &["test", "row", "column", "value", "used", "why"]);
        assert_eq!(reading["used"].as_bool().unwrap(), reading["why"].is_null());
    }
    for finding in json["findings"].as_array().unwrap() {
        has(
            finding,
            &[
                "code", "severity", "steps", "rows", "column", "says", "do", "source",
            ],
        );
        assert!(
            !finding["says"].as_str().unwrap().is_empty()
                && !finding["do"].as_str().unwrap().is_empty()
        );
    }
    for limit in json["limits"].as_array().unwrap() {
        has(
            limit,
            &[
                "code",
                "applies_to",
                "flow_m3s",
                "speed_rpm",
                "source",
                "bound",
                "basis",
            ],
        );
    }
}

#[test]
fn one_fault_gives_one_finding_at_its_row_and_column() {
    let json = analysis(&["2026-06-02.toml"]);
    let errors: Vec<(&str, u64, &str)> = json["findings"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|f| f["severity"] == "error")
        .map(|f| {
            (
                f["code"].as_str().unwrap(),
                f["rows"][0].as_u64().unwrap(),
                f["column"].as_str().unwrap(),
            )
        })
        .collect();
    // As the comment of the test file says, three typing faults; the rows are lines of the CSV.
    assert_eq!(
        errors,
        [
            ("unit-slip", 9, "flow A"),
            ("unit-slip", 6, "power"),
            ("repeated-entry", 11, "current")
        ]
    );
    let unused: Vec<u64> = json["readings"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|r| r["used"] == false)
        .map(|r| r["row"].as_u64().unwrap())
        .collect();
    assert_eq!(unused, [6, 9, 11]);
}

#[test]
fn numbers_are_si_whatever_the_units_of_print() {
    let folder = examples().join("larkspur-lane");
    let of = |units: &str| -> Value {
        let arguments = [
            "analyze",
            "site.toml",
            "2026-05-16.toml",
            "--json",
            "--units",
            units,
        ];
        serde_json::from_str(&ends(&folder, &arguments, 0).0).unwrap()
    };
    let (us, si) = (of("us"), of("si"));
    assert_eq!(us["steps"], si["steps"]);
    assert_eq!(us["laws"], si["laws"]);
    // 96.1 gpm at the top, typed in the file.
    let top = us["steps"].as_array().unwrap().last().unwrap();
    let flow = top["flow_m3s"]["value"].as_f64().unwrap();
    assert!((flow - 96.1 * 3.785_411_784e-3 / 60.0).abs() < 1e-12);
}
