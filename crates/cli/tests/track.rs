//! `track` as a person and as a program meet it.

mod support;

use serde_json::Value;
use support::{ends, examples};

const VISITS: [&str; 3] = ["2026-04-11.toml", "2026-05-09.toml", "2026-06-20.toml"];

fn tracked(more: &[&str]) -> String {
    let call = [&["track", "site.toml"], &VISITS[..], more].concat();
    ends(&examples().join("alder-close"), &call, 0).0
}

#[test]
fn the_example_of_a_filter_that_loads_reads_as_it_should() {
    let text = tracked(&[]);
    assert!(
        text.lines().all(|line| line.chars().count() <= 100),
        "{text}"
    );
    insta::assert_snapshot!("alder_close", text);
}

#[test]
fn the_json_names_the_filter() {
    let found: Value = serde_json::from_str(&tracked(&["--json"])).unwrap();
    assert_eq!(found["format"], 1);
    assert_eq!(found["baseline"], "2026-04-11");
    let last = &found["visits"][1];
    assert_eq!(last["verdict"], "changed");
    assert_eq!(last["changed"][0]["change"], "filter-loading");
    // The example was made up with media that take 2.5 times as much.
    let factor = &last["changed"][0]["factor"];
    let held = factor["low"].as_f64().unwrap()..=factor["high"].as_f64().unwrap();
    assert!(held.contains(&2.5), "{factor}");
    let hypotheses = last["hypotheses"].as_array().unwrap();
    let sum = |key: &str| -> f64 { hypotheses.iter().map(|it| it[key].as_f64().unwrap()).sum() };
    // Some ten roundings.
    assert!((sum("prior") - 1.0).abs() < 1e-12 && (sum("probability") - 1.0).abs() < 1e-12);
    assert!(found["pace"]["date"].is_string());
}

#[test]
fn another_baseline_can_be_named() {
    let found: Value =
        serde_json::from_str(&tracked(&["--json", "--baseline", "2026-05-09"])).unwrap();
    assert_eq!(found["baseline"], "2026-05-09");
    assert_eq!(found["visits"][0]["test"], "2026-04-11");
    assert!(found["visits"][0]["days_after"].as_f64().unwrap() < 0.0);
}

#[test]
fn a_pad_with_other_valves_open_is_not_accused() {
    let folder = examples().join("cedar-court");
    let call = [
        "track",
        "site.toml",
        "2026-04-22.toml",
        "2026-04-22-spa-shut.toml",
    ];
    let text = ends(&folder, &call, 0).0;
    assert!(
        text.contains("Nothing that these instruments could see"),
        "{text}"
    );
    assert!(text.contains("Would show"), "{text}");
}

#[test]
fn a_call_that_cannot_be_followed_is_refused() {
    let folder = examples().join("alder-close");
    let (_, err) = ends(&folder, &["track", "site.toml", VISITS[0]], 2);
    assert!(
        err.contains("one test alone") && err.contains("hint"),
        "{err}"
    );
    let call = [
        "track",
        "site.toml",
        VISITS[0],
        VISITS[1],
        "--baseline",
        "2025-01-01",
    ];
    let (_, err) = ends(&folder, &call, 2);
    assert!(
        err.contains("2025-01-01") && err.contains("2026-04-11"),
        "{err}"
    );
}

#[test]
fn the_figure_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().display().to_string();
    tracked(&["--figures", &place]);
    let svg = std::fs::read_to_string(folder.path().join("2026-06-20-track.svg")).unwrap();
    assert!(svg.starts_with("<svg") && svg.contains("baseline"));
}
