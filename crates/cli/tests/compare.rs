//! `compare` and `year`: what they say of the example, frozen; their numbers against one another; wrong input.

#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

mod support;

use serde_json::Value;
use std::fs;
use std::path::Path;
use support::{ends, examples};

const SITE: &str = "format = 1\nname = \"pad\"\nunits = \"si\"\n[water]\nvolume = \"48 m3\"\n[pump]\nspeed = { min = \"600 rpm\", max = \"2900 rpm\" }\n\
    [[line]]\nname = \"suction\"\nfrom = \"pool\"\nto = \"pump inlet\"\nparts = [ { pipe = \"2 in\", length = \"12 m\" } ]\n\
    [[line]]\nname = \"return\"\nfrom = \"pump outlet\"\nto = \"pool\"\nparts = [ { pipe = \"1.5 in\", length = \"18 m\" }, { k = 6.0 } ]\n\
    [operation]\nturnover = \"1 per day\"\ntariff = [ { price = \"0.25 EUR/kWh\" } ]\n";
const TEST: &str = "format = 1\ndate = 2026-05-16\nreadings = \"steps.csv\"\n";
const READINGS: &str = "speed [rpm],flow [m3/h],power [W]\n0,,6\n800,3.8,82\n1100,5.7,130\n1400,7.5,205\n1800,9.9,370\n2200,12.2,620\n2600,14.5,980\n";

fn pad(folder: &Path) {
    fs::write(folder.join("site.toml"), SITE).unwrap();
    fs::write(folder.join("test.toml"), TEST).unwrap();
    fs::write(folder.join("steps.csv"), READINGS).unwrap();
}

#[test]
fn the_example_reads_as_it_should() {
    let larkspur = [
        "compare",
        "site.toml",
        "2026-05-16.toml",
        "--change",
        "changes/larger-returns.toml",
        "changes/third-return.toml",
        "changes/larger-filter.toml",
        "changes/clean-filter.toml",
        "changes/pump-b.toml",
        "changes/fixed-speed.toml",
    ];
    let (out, err) = ends(&examples().join("larkspur-lane"), &larkspur, 0);
    assert_eq!(err, "");
    insta::assert_snapshot!("larkspur_lane_changes", out);
}

#[test]
fn savings_are_against_a_program_that_is_named() {
    let larkspur = [
        "compare",
        "site.toml",
        "2026-05-16.toml",
        "--change",
        "changes/larger-returns.toml",
        "changes/fixed-speed.toml",
        "--against",
        "Fixed speed",
        "--json",
    ];
    let (out, _) = ends(&examples().join("larkspur-lane"), &larkspur, 0);
    let json: Value = serde_json::from_str(&out).unwrap();
    assert_eq!(json["format"], 1);
    assert_eq!(json["baseline"]["name"], "Fixed speed");
    let value = |value: &Value| value["value"].as_f64().unwrap();
    let cost = |of: &Value| value(&of["sums"]["cost"]);
    let changed = &json["changes"][0];
    let apart = cost(&json["baseline"]) - cost(changed);
    assert!((value(&changed["saves_per_year"]) / apart - 1.0).abs() < 1e-9);
    let adds = cost(&json["today"]) - cost(changed);
    assert!((value(&changed["adds_per_year"]) / adds - 1.0).abs() < 1e-6);
}

#[test]
fn without_a_program_as_found_no_saving_is_told() {
    let folder = tempfile::tempdir().unwrap();
    pad(folder.path());
    let change = "format = 1\nname = \"wider\"\n[[part]]\nline = \"return\"\npart = 1\nis = { pipe = \"2 in\", length = \"18 m\" }\n";
    fs::write(folder.path().join("wider.toml"), change).unwrap();
    let call = [
        "compare",
        "site.toml",
        "test.toml",
        "--change",
        "wider.toml",
    ];
    let (out, _) = ends(folder.path(), &call, 0);
    assert!(
        out.contains("Savings against today are not stated"),
        "{out}"
    );
    assert!(out.contains("There is no maker's curve"), "{out}");
    let wrong = change.replace("return", "retrun");
    fs::write(folder.path().join("wider.toml"), wrong).unwrap();
    let (_, err) = ends(folder.path(), &call, 2);
    assert!(err.contains("wider.toml:4:8"), "{err}");
    let against = [&call[..], &["--against", "other"]].concat();
    fs::write(folder.path().join("wider.toml"), change).unwrap();
    ends(folder.path(), &against, 2);
}

#[test]
fn the_hours_of_a_year_add_up() {
    let folder = tempfile::tempdir().unwrap();
    pad(folder.path());
    let call = [
        "year",
        "site.toml",
        "test.toml",
        "--csv",
        "hours.csv",
        "--clock-forward",
        "2026-03-29 02:00",
        "--clock-back",
        "2026-10-25 03:00",
        "--json",
    ];
    let (out, _) = ends(folder.path(), &call, 0);
    let json: Value = serde_json::from_str(&out).unwrap();
    let hours = fs::read_to_string(folder.path().join("hours.csv")).unwrap();
    assert_eq!(hours.lines().count(), 1 + 8760);
    let of_day = |day: &str| hours.lines().filter(|line| line.starts_with(day)).count();
    assert_eq!((of_day("2026-03-29"), of_day("2026-10-25")), (23, 25));
    let sum = |column: usize| -> f64 {
        let cells = hours
            .lines()
            .skip(1)
            .map(|line| line.split(',').nth(column).unwrap());
        cells.map(|cell| cell.parse::<f64>().unwrap()).sum()
    };
    // Cells are rounded at their fifth and sixth decimals, 8760 of them.
    let energy = json["sums"]["energy_kwh"]["value"].as_f64().unwrap();
    assert!((sum(5) - energy).abs() < 0.05, "{} {energy}", sum(5));
    let cost = json["sums"]["cost"]["value"].as_f64().unwrap();
    assert!((sum(6) - cost).abs() < 0.005, "{} {cost}", sum(6));
    // The file stands now, and is not written over.
    ends(folder.path(), &call, 2);
    for wrong in [
        "2026-02-30 02:00",
        "2025-03-30 02:00",
        "02:00",
        "2026-03-29 24:00",
    ] {
        ends(
            folder.path(),
            &["year", "site.toml", "test.toml", "--clock-forward", wrong],
            2,
        );
    }
}
