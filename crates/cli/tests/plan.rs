//! `plan` and `analyze --to-learn`: what is printed, what is written, what is refused, and the keys of the contract.

#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

mod support;

use serde_json::Value;
use std::fs;
use support::{ends, examples, names};

fn larkspur(more: &[&str]) -> String {
    let mut call = vec!["plan", "site.toml"];
    call.extend(more);
    ends(&examples().join("larkspur-lane"), &call, 0).0
}

fn json(more: &[&str]) -> Value {
    let mut more = more.to_vec();
    more.push("--json");
    serde_json::from_str(&larkspur(&more)).unwrap()
}

#[test]
fn a_plan_from_the_site_alone_reads_as_it_should() {
    insta::assert_snapshot!("plan", larkspur(&[]));
}

#[test]
fn a_plan_with_an_earlier_test_reads_as_it_should() {
    insta::assert_snapshot!(
        "plan_with_a_test",
        larkspur(&["2026-05-16.toml", "--time", "90 min"])
    );
}

#[test]
fn a_plan_with_little_known_reads_as_it_should() {
    let folder = examples().join("haus-birkenweg");
    let call = ["plan", "site.toml", "--time", "45 min"];
    insta::assert_snapshot!("plan_with_little_known", ends(&folder, &call, 0).0);
}

#[test]
fn every_key_is_there() {
    let json = json(&["2026-05-16.toml", "--time", "120 min"]);
    assert_eq!(json["format"], 1);
    for key in [
        "site",
        "time_s",
        "needed_s",
        "closed",
        "throttled",
        "columns",
        "highest",
        "order",
        "climb",
        "steps",
        "would_tell",
        "to_learn",
        "notes",
        "meters",
        "cautions",
    ] {
        assert!(!json[key].is_null() || key == "to_learn", "{key}");
    }
    assert!(json["needed_s"].as_f64() <= json["time_s"].as_f64());
    let steps = json["steps"].as_array().unwrap();
    for step in steps {
        for key in ["speed_rpm", "for", "says", "settle_s", "expected", "closed"] {
            assert!(!step[key].is_null(), "{key} of {step}");
        }
        for expected in step["expected"].as_array().unwrap() {
            assert!(
                expected["low"].as_f64() <= expected["high"].as_f64(),
                "{expected}"
            );
        }
    }
    let kinds: Vec<&str> = steps
        .iter()
        .map(|step| step["for"].as_str().unwrap())
        .collect();
    assert!(
        kinds.contains(&"law") && kinds.contains(&"drift check") && kinds.contains(&"line-up"),
        "{kinds:?}"
    );
    for told in json["would_tell"].as_array().unwrap() {
        assert!(told["estimate"]["u"].as_f64() > Some(0.0), "{told}");
    }
}

#[test]
fn the_empty_readings_can_be_analysed_as_they_stand_and_are_never_overwritten() {
    let folder = tempfile::tempdir().unwrap();
    fs::copy(
        examples().join("larkspur-lane/site.toml"),
        folder.path().join("site.toml"),
    )
    .unwrap();
    let call = [
        "plan",
        "site.toml",
        "--readings",
        "next.csv",
        "--sheet",
        "next.html",
    ];
    let (_, err) = ends(folder.path(), &call, 0);
    assert_eq!(err, "Wrote next.csv.\nWrote next.html.\n");
    let readings = fs::read_to_string(folder.path().join("next.csv")).unwrap();
    assert!(
        readings.starts_with("speed [rpm],flow [gpm],power [W],"),
        "{readings}"
    );
    assert!(readings.contains("\n0,,,,,,pump off\n3450,"), "{readings}");
    fs::write(
        folder.path().join("next.toml"),
        "format = 1\nreadings = \"next.csv\"\n",
    )
    .unwrap();
    ends(folder.path(), &["check", "site.toml", "next.toml"], 0);
    let (_, err) = ends(folder.path(), &call, 2);
    assert!(
        err.contains("next.csv stands already; nothing was written"),
        "{err}"
    );
    assert_eq!(
        names(folder.path()),
        ["next.csv", "next.html", "next.toml", "site.toml"]
    );
}

#[test]
fn the_sheet_is_one_file_that_needs_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let site = examples().join("larkspur-lane/site.toml");
    let named = fs::read_to_string(site)
        .unwrap()
        .replace("Larkspur Lane", "<script>A & B");
    fs::write(folder.path().join("site.toml"), named).unwrap();
    ends(
        folder.path(),
        &[
            "plan",
            "site.toml",
            "--time",
            "120 min",
            "--sheet",
            "sheet.html",
        ],
        0,
    );
    let sheet = fs::read_to_string(folder.path().join("sheet.html")).unwrap();
    for foreign in [
        "<script", "http:", "https:", "src=", "href=", "url(", "style=",
    ] {
        assert!(!sheet.contains(foreign), "{foreign}");
    }
    assert!(
        sheet.contains("&lt;script&gt;A &amp; B")
            && sheet.contains("Stop the pump if the filter gauge reads above")
    );
    for caution in [
        "Nobody in the water",
        "never throttle the suction",
        "Local codes and licensed practice decide",
    ] {
        assert!(sheet.contains(caution), "{caution}");
    }
}

#[test]
fn what_prevents_a_plan_is_said() {
    let folder = examples().join("larkspur-lane");
    for (more, said) in [
        (&["--time", "15 min"][..], "too short for a test"),
        (&["--time", "0 min"], "is no time at a pad"),
        (&["--time", "5 psi"], "--time: "),
        (
            &["--closed", "return 9"],
            "--closed: the site has no line \"return 9\"",
        ),
        (
            &["--closed", "return 1", "--closed", "return 2"],
            "no open way joins the pump outlet to the water",
        ),
        (
            &["--throttled", "return 1", "--closed", "return 1"],
            "\"return 1\" is named shut and part-open",
        ),
        (
            &["--throttled", "skimmer suction"],
            "every way between the pump inlet and the water passes a part-open valve",
        ),
    ] {
        let call = [&["plan", "site.toml"], more].concat();
        let (out, err) = ends(&folder, &call, 2);
        assert!(err.contains(said) && out.is_empty(), "{err}");
    }
}

#[test]
fn what_would_tell_an_answer_is_said() {
    let folder = examples().join("larkspur-lane");
    let ask = |answer: &str| {
        let call = [
            "analyze",
            "site.toml",
            "2026-05-16.toml",
            "--to-learn",
            answer,
        ];
        ends(&folder, &call, 0)
            .0
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
    };
    assert!(ask("return 1").contains("Read next Return 1 shut, and the meters read at"));
    assert!(ask("total head").contains("of the uncertainty of the total head; it is"));
    assert!(ask("fixed draw").contains("A step at 450 rpm would leave"));
    assert!(ask("equipment pad, part 4").contains("the share of the gas heater in equipment pad"));
    let call = [
        "analyze",
        "site.toml",
        "2026-05-16.toml",
        "--to-learn",
        "the truth",
    ];
    let (_, err) = ends(&folder, &call, 2);
    assert!(
        err.contains("\"the truth\" is no answer of an analysis") && err.contains("return share"),
        "{err}"
    );
    let call = [
        "analyze",
        "site.toml",
        "2026-05-16.toml",
        "--to-learn",
        "suction share",
        "--json",
    ];
    let json: Value = serde_json::from_str(&ends(&folder, &call, 0).0).unwrap();
    assert_eq!(json["to_learn"]["answer"], "the suction share");
    assert!(json["to_learn"]["weighed"].as_u64() > Some(5));
    for reading in json["to_learn"]["readings"].as_array().unwrap() {
        assert!(
            reading["left"].as_f64() < Some(0.95) && !reading["says"].as_str().unwrap().is_empty()
        );
    }
}

#[test]
fn a_vacuum_gauge_that_was_not_read_is_asked_for() {
    let folder = tempfile::tempdir().unwrap();
    let from = examples().join("larkspur-lane");
    fs::copy(from.join("site.toml"), folder.path().join("site.toml")).unwrap();
    fs::copy(
        from.join("2026-05-16.toml"),
        folder.path().join("2026-05-16.toml"),
    )
    .unwrap();
    let text = fs::read_to_string(from.join("2026-05-16.csv")).unwrap();
    let without: String = text
        .lines()
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            [&cells[..5], &cells[6..]].concat().join(",") + "\n"
        })
        .collect();
    fs::write(folder.path().join("2026-05-16.csv"), without).unwrap();
    let call = [
        "analyze",
        "site.toml",
        "2026-05-16.toml",
        "--to-learn",
        "suction share",
    ];
    let text = ends(folder.path(), &call, 0).0;
    assert!(
        text.contains("Read next   A vacuum gauge at the pump inlet read at each step would"),
        "{text}"
    );
}
