//! What the command answers on the examples, frozen, and the exit codes of the contract.

mod support;

use std::fs;
use support::{ends, examples, headwright};

#[test]
fn the_demo_reads_as_it_should() {
    let (out, err) = ends(&examples(), &["demo"], 0);
    assert_eq!(err, "");
    insta::assert_snapshot!("demo", out);
}

#[test]
fn the_readme_shows_what_the_demo_says() {
    let (out, _) = ends(&examples(), &["demo"], 0);
    let readme = fs::read_to_string(examples().join("../README.md")).unwrap();
    let shown = readme
        .split("```")
        .find(|block| block.contains("Larkspur Lane: test"));
    let shown = shown.unwrap().trim();
    assert!(out.contains(shown), "the README shows:\n{shown}");
}

#[test]
fn the_metric_example_reads_as_it_should() {
    let files = ["analyze", "site.toml", "2026-07-08.toml"];
    let (out, _) = ends(&examples().join("haus-birkenweg"), &files, 0);
    insta::assert_snapshot!("haus_birkenweg", out);
}

#[test]
fn units_can_be_asked_for() {
    let folder = examples().join("larkspur-lane");
    let us = ends(&folder, &["analyze", "site.toml", "2026-05-16.toml"], 0).0;
    let si = ends(
        &folder,
        &["analyze", "site.toml", "2026-05-16.toml", "--units", "si"],
        0,
    )
    .0;
    assert!(us.contains(" gpm") && !us.contains("m³/h"));
    assert!(si.contains(" m³/h") && !si.contains(" gpm"));
}

#[test]
fn where_the_head_is_lost_is_said_at_a_speed() {
    let folder = examples().join("larkspur-lane");
    let asked = [
        "analyze",
        "site.toml",
        "2026-05-16.toml",
        "--at",
        "2900 rpm",
    ];
    let (text, _) = ends(&folder, &asked, 0);
    let (_, below) = text.split_once("Where the head is lost").unwrap();
    let (budget, _) = below.split_once("Cautions").unwrap();
    insta::assert_snapshot!("where_the_head_is_lost", budget);
    let with_json: Vec<&str> = asked.into_iter().chain(["--json"]).collect();
    let json: serde_json::Value = serde_json::from_str(&ends(&folder, &with_json, 0).0).unwrap();
    let rows = json["budget"].as_array().unwrap();
    let shares = rows
        .iter()
        .map(|row| row["share"]["value"].as_f64().unwrap());
    // A few dozen roundings, and the closeness of the solver.
    assert!((shares.sum::<f64>() - 1.0).abs() < 1e-9, "{rows:?}");
    assert!(rows.iter().any(|row| row["part"] == "gas heater"));
}

#[test]
fn what_is_missing_for_a_budget_is_said() {
    let folder = examples().join("haus-birkenweg");
    let asked = |speed| {
        let arguments = ["analyze", "site.toml", "2026-07-08.toml", "--at", speed];
        let (text, _) = ends(&folder, &arguments, 0);
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    assert!(asked("2000 rpm").contains("The drop of these is not stated, and a usual one"));
    assert!(asked("90 rpm").contains("says nothing of the flow at 90 rpm"));
    let zero = ["analyze", "site.toml", "2026-07-08.toml", "--at", "0 rpm"];
    assert!(ends(&folder, &zero, 2).1.contains("--at"));
}

#[test]
fn loss_reads_as_it_should() {
    let arguments = [
        "loss",
        "--pipe",
        "2 in",
        "--spec",
        "PVC Sch 40",
        "--length",
        "100 ft",
        "--flow",
        "60 gpm",
    ];
    insta::assert_snapshot!("loss", ends(&examples(), &arguments, 0).0);
    let mut with_json = arguments.to_vec();
    with_json.extend(["--temperature", "82 degF", "--json"]);
    let json: serde_json::Value =
        serde_json::from_str(&ends(&examples(), &with_json, 0).0).unwrap();
    // STANDARDS T26: 2 in, 60 gpm, 82 F, Re 109 346, f 0.01782, 5.291 ft per 100 ft, as printed.
    let number = |key: &str| json[key].as_f64().unwrap();
    assert!(
        (number("reynolds") / 109_346.0 - 1.0).abs() < 1e-4,
        "{json}"
    );
    assert!((number("friction_factor") - 0.01782).abs() < 5e-6, "{json}");
    assert!((number("head_m") / 0.3048 - 5.291).abs() < 5e-4, "{json}");
}

#[test]
fn loss_with_parts_reads_as_it_should() {
    let arguments = [
        "loss",
        "--pipe",
        "1-1/2 in",
        "--length",
        "52 ft",
        "--flow",
        "60 gpm",
        "--temperature",
        "84 degF",
        "--part",
        "6 x 90 elbow",
        "--part",
        "ball valve",
        "--part",
        "outlet = \"eyeball\", bore = \"0.75 in\", count = 2",
        "--part",
        "heater = \"gas\"",
        "--k",
        "1.5",
    ];
    insta::assert_snapshot!("loss_with_parts", ends(&examples(), &arguments, 0).0);
    for (part, said) in [
        ("elbow", "--part: \"elbow\" is not in the catalogue"),
        (
            "0 x 90 elbow",
            "--part: \"0 x 90 elbow\" is not in the catalogue",
        ),
        (
            "valve = \"ball\", opn = \"x\"",
            "--part:1:17: the part has no key opn",
        ),
        (
            "filter = \"sponge\", clean = { flow = \"9 gpm\", drop = \"1 psi\" }",
            "\"sponge\"",
        ),
        ("reducer = \"9 in\"", "PVC Sch 40 has no size 9 in"),
    ] {
        let call = [&arguments[..7], &["--part", part]].concat();
        let (_, err) = ends(&examples(), &call, 2);
        assert!(err.contains(said), "{part}: {err}");
    }
}

#[test]
fn loss_of_an_elbow_is_the_handbooks() {
    // STANDARDS T31: a 2 in elbow at 60 gpm, K = 30 × 0.019 = 0.57: 0.2915 ft, the friction factor printed to two digits.
    let call = [
        "loss", "--pipe", "2 in", "--length", "0 ft", "--flow", "60 gpm", "--part", "90 elbow",
        "--json",
    ];
    let json: serde_json::Value = serde_json::from_str(&ends(&examples(), &call, 0).0).unwrap();
    let feet = json["head_m"].as_f64().unwrap() / 0.3048;
    assert!((feet / 0.2915 - 1.0).abs() < 0.02, "{feet}");
}

#[test]
fn a_solved_pad_reads_as_it_should() {
    let folder = examples().join("larkspur-lane");
    let call = ["solve", "site.toml", "--speed", "2400 rpm"];
    insta::assert_snapshot!("solve", ends(&folder, &call, 0).0);
    for (more, said) in [
        (
            &["--closed", "return 9"][..],
            "--closed: the site has no line \"return 9\"",
        ),
        (
            &["--closed", "return 1", "--closed", "return 2"],
            "no open way joins its outlet",
        ),
        (&["--temperature", "5 psi"], "--temperature: "),
    ] {
        let (_, err) = ends(&folder, &[&call[..], more].concat(), 2);
        assert!(
            err.contains(said) && err.contains("hint") || more[0] == "--temperature",
            "{err}"
        );
    }
    for speed in ["9000 rpm", "0 rpm", "-1 rpm", "fast"] {
        ends(&folder, &["solve", "site.toml", "--speed", speed], 2);
    }
    // A site without a curve says what is missing and what to do.
    let other = examples().join("haus-birkenweg");
    let (_, err) = ends(&other, &["solve", "site.toml", "--speed", "2000 rpm"], 2);
    assert!(
        err.contains("no maker's curve") && err.contains("curve_speed"),
        "{err}"
    );
}

#[test]
fn a_raised_spa_gives_back_over_its_lip_what_it_is_fed() {
    let folder = examples().join("cedar-court");
    let call = ["solve", "site.toml", "--speed", "2400 rpm", "--json"];
    let pad: serde_json::Value = serde_json::from_str(&ends(&folder, &call, 0).0).unwrap();
    let flow = |name: &str| {
        let lines = pad["lines"].as_array().unwrap();
        let line = lines.iter().find(|line| line["line"] == name).unwrap();
        line["flow_m3s"].as_f64().unwrap()
    };
    assert!(flow("spa feed") > 1e-4);
    assert!((flow("spa spillway") / flow("spa feed") - 1.0).abs() < 1e-12);
    // The share that lifts: what goes to the spa, raised by 18 in, over what the pump gives.
    let lifted = flow("spa feed") * 18.0 * 0.0254;
    let given = pad["flow_m3s"].as_f64().unwrap() * pad["head_m"].as_f64().unwrap();
    assert!((pad["lift_share"].as_f64().unwrap() / (lifted / given) - 1.0).abs() < 1e-9);
}

#[test]
fn the_example_with_a_spa_reads_as_it_should() {
    let folder = examples().join("cedar-court");
    let call = [
        "analyze",
        "site.toml",
        "2026-04-22.toml",
        "2026-04-22-spa-shut.toml",
    ];
    insta::assert_snapshot!("cedar_court", ends(&folder, &call, 0).0);
}

#[test]
fn a_solved_pad_keeps_water_and_power() {
    let folder = examples().join("larkspur-lane");
    let solved = |more: &[&str]| -> serde_json::Value {
        let call = [
            &["solve", "site.toml", "--speed", "3450 rpm", "--json"],
            more,
        ]
        .concat();
        serde_json::from_str(&ends(&folder, &call, 0).0).unwrap()
    };
    for more in [&[][..], &["--closed", "return 2"]] {
        let pad = solved(more);
        let lines = pad["lines"].as_array().unwrap();
        let flow = |name: &str| {
            let line = lines.iter().find(|line| line["line"] == name).unwrap();
            line["flow_m3s"].as_f64().unwrap()
        };
        let total = pad["flow_m3s"].as_f64().unwrap();
        // Conservation: a few roundings of flows that the solver balances to 1e-12 of the largest.
        assert!((flow("skimmer suction") / total - 1.0).abs() < 1e-11);
        assert!(((flow("return 1") + flow("return 2")) / total - 1.0).abs() < 1e-11);
        let parts = lines
            .iter()
            .flat_map(|line| line["parts"].as_array().unwrap());
        let shares: f64 = parts.filter_map(|part| part["share"].as_f64()).sum();
        let lift = pad["lift_share"].as_f64().unwrap();
        assert!((shares + lift - 1.0).abs() < 1e-9, "{shares} {lift}");
    }
}

#[test]
fn check_ends_with_one_when_an_error_stands() {
    let folder = examples().join("larkspur-lane");
    ends(&folder, &["check", "site.toml"], 0);
    ends(&folder, &["check", "site.toml", "2026-05-16.toml"], 0);
    let (out, _) = ends(
        &folder,
        &["check", "site.toml", "2026-06-02.toml", "--json"],
        1,
    );
    let json: serde_json::Value = serde_json::from_str(&out).unwrap();
    assert_eq!(json["format"], 1);
    let errors = json["findings"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|f| f["severity"] == "error");
    assert_eq!(errors.count(), 3);
    // The analysis of the same test is done, whatever its findings.
    ends(&folder, &["analyze", "site.toml", "2026-06-02.toml"], 0);
}

#[test]
fn a_new_site_can_be_filled_at_once_and_is_never_overwritten() {
    let folder = tempfile::tempdir().unwrap();
    for units in ["us", "si"] {
        let name = format!("Old Mill \"{units}\"");
        ends(folder.path(), &["new", &name, "--units", units], 0);
        let made = folder.path().join(format!("old-mill-{units}"));
        let mut files: Vec<String> = fs::read_dir(&made)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        files.sort();
        let [readings, test, site] = files.as_slice() else {
            panic!("{files:?}");
        };
        assert_eq!(site, "site.toml");
        let (out, _) = ends(&made, &["analyze", site, test], 0);
        assert!(out.contains("no steps"), "{out}");
        let headings = fs::read_to_string(made.join(readings)).unwrap();
        let rows = "0,,6,,,,\n900,20,110,1,2,3,\n1800,41,420,2.4,5,5,\n2400,55,880,4.4,9,7,\n2900,66,1480,6.9,13,9,\n";
        fs::write(made.join(readings), headings + rows).unwrap();
        let (out, _) = ends(&made, &["analyze", site, test], 0);
        assert!(out.contains("Fixed draw"), "{out}");
        let (_, err) = ends(folder.path(), &["new", &name, "--units", units], 2);
        assert!(
            err.contains("stands already") && err.contains("hint:"),
            "{err}"
        );
        assert!(
            fs::read_to_string(made.join(readings))
                .unwrap()
                .ends_with("9,\n")
        );
    }
    ends(folder.path(), &["new", "bell\u{7}"], 2);
    assert!(!folder.path().join("bell").exists());
}

#[test]
fn the_demo_can_be_taken_home() {
    let folder = tempfile::tempdir().unwrap();
    ends(folder.path(), &["demo", "--write", "mine"], 0);
    ends(
        &folder.path().join("mine"),
        &["analyze", "site.toml", "2026-05-16.toml"],
        0,
    );
    ends(folder.path(), &["demo", "--write", "mine"], 2);
}

#[test]
fn another_pad_is_made_up_from_a_number() {
    let of = |seed: &str| ends(&examples(), &["demo", "--random", seed], 0).0;
    assert_eq!(of("7"), of("7"));
    assert_ne!(of("7"), of("8"));
    let folder = tempfile::tempdir().unwrap();
    ends(
        folder.path(),
        &["demo", "--random", "7", "--write", "made-up"],
        0,
    );
    let (out, _) = ends(
        &folder.path().join("made-up"),
        &["analyze", "site.toml", "first.toml"],
        0,
    );
    assert_eq!(out, of("7"));
    ends(&examples(), &["demo", "--random", "-1"], 2);
}

#[test]
fn manual_and_completions_are_printed() {
    let (out, _) = ends(&examples(), &["man"], 0);
    assert!(out.contains("headwright"));
    let (out, _) = ends(&examples(), &["man", "analyze"], 0);
    assert!(out.contains("analyze"));
    ends(&examples(), &["man", "nothing"], 2);
    for shell in ["bash", "zsh", "fish"] {
        assert!(ends(&examples(), &["completions", shell], 0).0.len() > 100);
    }
}

#[test]
fn colour_is_for_terminals_only() {
    let plain = ends(&examples(), &["demo"], 0).0;
    assert!(!plain.contains('\u{1b}'));
    let forced = headwright(&examples())
        .arg("demo")
        .env("CLICOLOR_FORCE", "1")
        .output()
        .unwrap();
    assert!(String::from_utf8(forced.stdout).unwrap().contains('\u{1b}'));
    let refused = headwright(&examples())
        .arg("demo")
        .env("NO_COLOR", "1")
        .output()
        .unwrap();
    assert!(
        !String::from_utf8(refused.stdout)
            .unwrap()
            .contains('\u{1b}')
    );
}

#[test]
fn a_closed_pipe_ends_quietly_and_a_full_disk_is_said() {
    use std::process::Stdio;
    let mut child = headwright(&examples())
        .arg("demo")
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    assert!(output.stderr.is_empty());
    if let Ok(full) = fs::OpenOptions::new().write(true).open("/dev/full") {
        let output = headwright(&examples())
            .arg("demo")
            .stdout(full)
            .output()
            .unwrap();
        assert_eq!(output.status.code(), Some(3));
        assert!(
            String::from_utf8(output.stderr)
                .unwrap()
                .contains("cannot be written")
        );
    }
}

#[test]
fn an_uncertainty_is_taken_apart_on_request() {
    let folder = examples().join("larkspur-lane");
    let why = |question: &str, code: i32| {
        ends(
            &folder,
            &["analyze", "site.toml", "2026-05-16.toml", "--why", question],
            code,
        )
    };
    insta::assert_snapshot!("why", why("energy@900rpm", 0).0);
    for question in ["flow@1000rpm", "power@1000 rpm", "fixed-draw", "exponent"] {
        assert!(why(question, 0).0.contains("share of the variance"));
    }
    for question in ["flow", "flow@", "flow@fast", "flow@0 rpm", "head@1000rpm"] {
        assert!(why(question, 2).1.contains("hint:"), "{question}");
    }
    let json = ends(
        &folder,
        &[
            "analyze",
            "site.toml",
            "2026-05-16.toml",
            "--json",
            "--why",
            "fixed-draw",
        ],
        0,
    )
    .0;
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let shares = json["why"]["parts"]
        .as_array()
        .unwrap()
        .iter()
        .map(|part| part["share"].as_f64().unwrap());
    assert!((shares.sum::<f64>() - 1.0).abs() < 1e-9);
}

#[test]
fn monte_carlo_stands_beside_first_order() {
    let folder = examples().join("larkspur-lane");
    let call = ["analyze", "site.toml", "2026-05-16.toml", "--monte-carlo"];
    let (out, _) = ends(&folder, &call, 0);
    assert!(out.starts_with("Monte Carlo, test 2026-05-16"), "{out}");
    for word in ["first order", "cheapest speed", "Wh per 1000 gal", "draws)"] {
        assert!(out.contains(word), "{word} is missing:\n{out}");
    }
    assert_eq!(out, ends(&folder, &call, 0).0);
    let json = ends(&folder, &[&call[..], &["--json"]].concat(), 0).0;
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let answers = json["monte_carlo"]["answers"].as_array().unwrap();
    assert_eq!(answers.len(), 9);
    for answer in answers {
        let number = |of: &str, key: &str| answer[of][key].as_f64().unwrap();
        // Every answer of this clean test is nearly linear: both uncertainties are within a tenth.
        let ratio = number("monte_carlo", "u") / number("first_order", "u");
        assert!((ratio - 1.0).abs() < 0.1, "{answer}");
    }
    assert_eq!(json["laws"]["power"]["fixed_w"], answers[2]["first_order"]);
    let both = [&call[..], &["--why", "exponent"]].concat();
    ends(&folder, &both, 2);
}
