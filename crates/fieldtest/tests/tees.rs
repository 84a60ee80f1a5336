//! Pads that state where their lines meet in a tee.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use fieldtest::{NetworkProblem, PadQuestion, SolvedPad, solve_pad};
use records::{Site, Source, read_site};

const PAD: &str = r#"
format = 1
name = "Two returns"

[pump]
speed = { max = "3450 rpm" }
curve_speed = "3450 rpm"
curve = [ { flow = "0 gpm", head = "92 ft" }, { flow = "60 gpm", head = "78 ft" }, { flow = "120 gpm", head = "36 ft" } ]

[[line]]
name = "suction"
from = "pool"
to = "pump inlet"
parts = [ { pipe = "2 in", length = "40 ft" } ]

[[line]]
name = "equipment pad"
from = "pump outlet"
to = "pad outlet"
parts = [ { pipe = "2 in", length = "12 ft" } ]

[[line]]
name = "return 1"
from = "pad outlet"
to = "pool"
parts = [ { pipe = "1-1/2 in", length = "50 ft" } ]

[[line]]
name = "return 2"
from = "pad outlet"
to = "pool"
parts = [ { pipe = "1-1/2 in", length = "50 ft" } ]
"#;

const TEE: &str = r#"
[[tee]]
at = "pad outlet"
run = ["equipment pad", "return 1"]
branch = "return 2"
"#;

fn site(text: &str) -> Site {
    let source = Source {
        name: "site.toml".to_owned(),
        text: text.to_owned(),
    };
    read_site(&source).unwrap()
}

fn solved(text: &str, closed: &[&str]) -> Result<SolvedPad, NetworkProblem> {
    let closed: Vec<String> = closed.iter().map(|line| (*line).to_owned()).collect();
    let question = PadQuestion {
        speed_rpm: 2400.0,
        closed: &closed,
        temperature_k: None,
    };
    solve_pad(&site(text), &question)
}

#[test]
fn a_tee_makes_equal_returns_unequal_and_takes_its_share() {
    let plain = solved(PAD, &[]).unwrap();
    let with = solved(&format!("{PAD}{TEE}"), &[]).unwrap();
    let flow = |pad: &SolvedPad, line: usize| pad.lines[line].flow_m3s;
    assert!((flow(&plain, 2) - flow(&plain, 3)).abs() < 1e-12);
    assert!(flow(&with, 2) > 1.02 * flow(&with, 3));
    assert!(with.flow_m3s < plain.flow_m3s);
    let [run, branch] = [2, 3].map(|line| &with.lines[line]);
    assert!((run.head_loss_m - branch.head_loss_m).abs() < 1e-8);
    let parts = with.lines.iter().flat_map(|line| &line.parts);
    let tees = with.lines.iter().flat_map(|line| &line.tees);
    let shares = parts
        .filter_map(|part| part.share)
        .chain(tees.filter_map(|tee| tee.share));
    let whole = shares.sum::<f64>() + with.lift_share.unwrap();
    assert!((whole - 1.0).abs() < 1e-9, "{whole}");
}

/// Crane TP-410: all of the flow round the corner, 60 f_T; f_T of 2 in is 0.019 to two digits, 60 gpm in 2.067 in have a
/// velocity head of 0.5114 ft.
#[test]
fn with_the_run_shut_it_is_a_plain_fitting_of_the_stated_bore() {
    let text = format!("{PAD}{TEE}branch_bore = \"2.067 in\"\n");
    let pad = solved(&text, &["return 1"]).unwrap();
    let tee = &pad.lines[3].tees[0];
    let gpm = pad.flow_m3s / hydraulics::constants::US_GALLON_PER_MINUTE_M3S;
    let expected_ft = 60.0 * 0.019 * 0.5114 * (gpm / 60.0) * (gpm / 60.0);
    assert!((tee.head_m / 0.3048 / expected_ft - 1.0).abs() < 0.03);
}

#[test]
fn a_bore_that_nothing_says_is_asked_for() {
    let pipe = "{ pipe = \"1-1/2 in\", length = \"50 ft\" }";
    let heater = "{ heater = \"gas\", at = { flow = \"60 gpm\", drop = \"3 psi\" } }";
    let bare = PAD.replace(pipe, heater);
    let at = "pad outlet".to_owned();
    assert_eq!(
        solved(&format!("{bare}{TEE}"), &[]),
        Err(NetworkProblem::TeeBores(at.clone()))
    );
    let text = format!("{PAD}{TEE}branch_bore = \"3 in\"\n");
    assert_eq!(solved(&text, &[]), Err(NetworkProblem::TeeBranchWider(at)));
}
