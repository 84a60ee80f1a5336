//! `schedule`: what it says of the examples, frozen; its JSON against the rules by a replay of its own; wrong input.

#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

mod support;

use serde_json::Value;
use std::fs;
use std::path::Path;
use support::{ends, examples, names};

const SITE: &str = "format = 1\nname = \"pad\"\nunits = \"si\"\n[water]\nvolume = \"48 m3\"\n[pump]\nspeed = { min = \"600 rpm\", max = \"2900 rpm\" }\n";
const TEST: &str = "format = 1\nreadings = \"steps.csv\"\n";
const READINGS: &str = "speed [rpm],flow [m3/h],power [W]\n0,,6\n800,3.8,82\n1100,5.7,130\n1400,7.5,205\n1800,9.9,370\n2200,12.2,620\n2600,14.5,980\n";

/// Schedules a pad with this text below `[operation]`.
fn scheduled(operation: &str, more: &[&str], code: i32) -> (String, String) {
    let folder = tempfile::tempdir().unwrap();
    pad(
        folder.path(),
        &format!("{SITE}[operation]\n{operation}"),
        READINGS,
    );
    ends(
        folder.path(),
        &[&["schedule", "site.toml", "test.toml"], more].concat(),
        code,
    )
}

fn pad(folder: &Path, site: &str, readings: &str) {
    fs::write(folder.join("site.toml"), site).unwrap();
    fs::write(folder.join("test.toml"), TEST).unwrap();
    fs::write(folder.join("steps.csv"), readings).unwrap();
}

fn json(operation: &str) -> Value {
    serde_json::from_str(&scheduled(operation, &["--json"], 0).0).unwrap()
}

#[test]
fn the_examples_read_as_they_should() {
    let larkspur = ["schedule", "site.toml", "2026-05-16.toml"];
    let birkenweg = ["schedule", "site.toml", "2026-07-08.toml"];
    let (out, err) = ends(&examples().join("larkspur-lane"), &larkspur, 0);
    assert_eq!(err, "");
    insta::assert_snapshot!("larkspur_lane", out);
    insta::assert_snapshot!(
        "haus_birkenweg",
        ends(&examples().join("haus-birkenweg"), &birkenweg, 0).0
    );
}

/// Energy, cost and volume of the day, from the JSON alone.
fn replayed(json: &Value) -> [f64; 3] {
    let problem = &json["problem"];
    let number = |value: &Value| value.as_f64().unwrap();
    let speed_of = |slot: &Value| {
        let speeds = problem["speeds"].as_array().unwrap();
        let rpm = number(&slot["speed_rpm"]);
        speeds
            .iter()
            .find(|speed| (number(&speed["speed_rpm"]) - rpm).abs() < 1e-9)
    };
    let (slots, day) = (
        problem["slots"].as_array().unwrap(),
        json["slots"].as_array().unwrap(),
    );
    assert_eq!(slots.len(), day.len());
    let (mut energy, mut cost, mut volume) = (0.0, 0.0, 0.0);
    for (index, (slot, does)) in slots.iter().zip(day).enumerate() {
        assert_eq!(slot["start"], does["start"]);
        let (hours, speed) = (number(&slot["hours"]), speed_of(does));
        let before = speed_of(&day[(index + day.len() - 1) % day.len()]);
        let mut wh = hours
            * speed.map_or(number(&problem["off_power_w"]), |speed| {
                number(&speed["power_w"])
            });
        volume += 3600.0 * hours * speed.map_or(0.0, |speed| number(&speed["flow_m3s"]));
        if speed.is_some() && before.is_none() {
            wh += number(&problem["start_energy_wh"]);
            volume += number(&problem["start_volume_m3"]);
        }
        energy += wh / 1000.0;
        cost += slot["price_per_kwh"].as_f64().unwrap_or(0.0) * wh / 1000.0;
    }
    [energy, cost, volume]
}

#[test]
fn the_json_is_complete_and_adds_up() {
    let arguments = ["schedule", "site.toml", "2026-05-16.toml", "--json"];
    let out = ends(&examples().join("larkspur-lane"), &arguments, 0).0;
    let json: Value = serde_json::from_str(&out).unwrap();
    let [energy, cost, volume] = replayed(&json);
    for (own, key) in [
        (energy, "energy_kwh_per_day"),
        (cost, "cost_per_day"),
        (volume, "volume_m3_per_day"),
    ] {
        let told = json[key].as_f64().unwrap();
        // Sums of fifty numbers in two orders.
        assert!((own - told).abs() <= 1e-9 * told, "{key}: {own} for {told}");
    }
    let rules = json["problem"]["rules"].as_array().unwrap();
    let named: Vec<&str> = rules
        .iter()
        .map(|rule| rule["rule"].as_str().unwrap())
        .collect();
    assert_eq!(named, ["volume", "task", "no_start", "max_speed", "starts"]);
    assert!(volume >= rules[0]["min_m3"].as_f64().unwrap() * (1.0 - 1e-9));
    assert_eq!(json["problem"]["before_first"], "cyclic");
    assert_eq!(json["gap"].as_f64(), Some(0.0));
    assert_eq!(json["format"], 1);
    assert!(!json["binding"].as_array().unwrap().is_empty());
}

#[test]
fn an_impossible_demand_is_no_crash() {
    let asks = "turnover = \"9 per day\"\ntasks = [ { name = \"skimming\", min_flow = \"7 m3/h\", hours = 3 } ]\n";
    let turnover = json(asks);
    assert!(turnover["slots"].is_null() && turnover["cost_per_day"].is_null());
    let binding = turnover["binding"].as_array().unwrap();
    assert_eq!(
        (binding.len(), &binding[0]["rule"]),
        (1, &Value::from("volume"))
    );
    let (out, _) = scheduled(asks, &[], 0);
    assert!(
        out.contains("No day can keep this rule:") && out.contains("turnover: 432 m³ a day"),
        "{out}"
    );
    let flow = json("tasks = [ { name = \"spa\", min_flow = \"40 m3/h\", hours = 1 } ]\n");
    assert_eq!(flow["binding"][0]["name"], "spa");
    let quiet = json(
        "tasks = [ { name = \"spa\", min_flow = \"9 m3/h\", hours = 2, between = [\"21:00\", \"23:00\"] } ]\n\
         quiet = [ { from = \"22:00\", to = \"07:00\", max_speed = \"1000 rpm\" } ]\nmax_starts = 3\n",
    );
    let named: Vec<&str> = quiet["binding"]
        .as_array()
        .unwrap()
        .iter()
        .map(|rule| rule["rule"].as_str().unwrap())
        .collect();
    assert_eq!(named, ["task", "max_speed"]);
}

#[test]
fn rules_of_a_controller_are_kept() {
    let json = json(
        "turnover = \"2 per day\"\nmax_speeds = 1\nmax_changes = 4\nmin_run = \"3 h\"\nmax_pause = \"8 h\"\nspeed_step = \"100 rpm\"\n\
         tariff = [ { from = \"07:00\", to = \"22:00\", price = \"0.31 EUR/kWh\" }, { from = \"22:00\", to = \"07:00\", price = \"0.22 EUR/kWh\" } ]\n\
         tasks = [ { name = \"cleaner\", min_flow = \"6 m3/h\", hours = 2.5, between = [\"09:00\", \"18:00\"], in_one_go = true } ]\n",
    );
    assert_eq!(json["currency"], "EUR");
    let speeds: std::collections::BTreeSet<String> = json["slots"]
        .as_array()
        .unwrap()
        .iter()
        .map(|slot| slot["speed_rpm"].to_string())
        .filter(|speed| speed != "0.0")
        .collect();
    assert_eq!(speeds.len(), 1, "{speeds:?}");
    assert!(
        json["problem"]["rules"].as_array().unwrap().len() == 6,
        "{json}"
    );
}

#[test]
fn what_is_missing_is_said_with_the_mend() {
    for (operation, says, code) in [
        ("max_starts = 2\n", "asks for nothing", 2),
        (
            "tariff = [ { from = \"08:00\", to = \"20:00\", price = \"0.3 EUR/kWh\" } ]\n",
            "site.toml:",
            2,
        ),
    ] {
        let (_, err) = scheduled(operation, &[], code);
        assert!(err.contains(says) && err.contains("hint:"), "{err}");
    }
    let asks = "turnover = \"1 per day\"\n";
    let (_, err) = scheduled(asks, &["--least", "cost"], 2);
    assert!(err.contains("has no tariff"), "{err}");
    let (_, err) = scheduled(asks, &["--date", "4 Jul"], 2);
    assert!(err.contains("--date"), "{err}");
    let folder = tempfile::tempdir().unwrap();
    pad(
        folder.path(),
        &format!("{SITE}[operation]\n{asks}"),
        "speed [rpm],flow [m3/h],power [W]\n800,3.8,82\n",
    );
    let (_, err) = ends(folder.path(), &["schedule", "site.toml", "test.toml"], 3);
    assert!(
        err.contains("gives no law of flow") && err.contains("hint:"),
        "{err}"
    );
    let without = SITE.replace("[water]\nvolume = \"48 m3\"\n", "");
    pad(
        folder.path(),
        &format!("{without}[operation]\n{asks}"),
        READINGS,
    );
    let (_, err) = ends(folder.path(), &["schedule", "site.toml", "test.toml"], 2);
    assert!(err.contains("no volume"), "{err}");
}

#[test]
fn seasons_decide_by_the_date() {
    let tariff = "turnover = \"1 per day\"\n\
        tariff = [ { price = \"0.40 EUR/kWh\", season = \"summer\" }, { price = \"0.20 EUR/kWh\", season = \"winter\" } ]\n\
        seasons = [ { name = \"summer\", first_day = \"1 Apr\", last_day = \"30 Sep\" }, { name = \"winter\", first_day = \"1 Oct\", last_day = \"31 Mar\" } ]\n";
    let cost = |date| {
        let out = scheduled(tariff, &["--json", "--date", date], 0).0;
        serde_json::from_str::<Value>(&out).unwrap()["cost_per_day"]
            .as_f64()
            .unwrap()
    };
    let (summer, winter) = (cost("2026-09-30"), cost("2026-10-01"));
    // The same day at half the price; sums of fifty numbers.
    assert!(
        (summer - 2.0 * winter).abs() <= 1e-9 * summer,
        "{summer} {winter}"
    );
}

#[test]
fn the_figures_are_written_beside_the_same_answer() {
    let folder = tempfile::tempdir().unwrap();
    let figures = folder.path().join("figures");
    let arguments = ["schedule", "site.toml", "2026-05-16.toml"];
    let with = [&arguments[..], &["--figures", figures.to_str().unwrap()]].concat();
    let (out, err) = ends(&examples().join("larkspur-lane"), &with, 0);
    assert_eq!(
        out,
        ends(&examples().join("larkspur-lane"), &arguments, 0).0
    );
    assert!(err.starts_with("Wrote 2 figures to "), "{err}");
    assert_eq!(names(&figures), ["day.svg", "turnover.svg"]);
}
