//! From the parts that a person named to heads, against hand-worked handbook figures.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use fieldtest::{PartProblem, place};
use hydraulics::water::Water;
use records::{Part, Source, read_part};

fn parts(texts: &[&str]) -> Vec<Part> {
    let part = |text: &&str| {
        read_part(&Source {
            name: "part".to_owned(),
            text: (*text).to_owned(),
        })
        .unwrap()
    };
    texts.iter().map(part).collect()
}

/// Heads at 60 gpm in water of 20 °C, ft.
fn heads(texts: &[&str]) -> Vec<Option<f64>> {
    let water = Water::fresh(293.15).unwrap();
    let flow_m3s = 60.0 * hydraulics::constants::US_GALLON_PER_MINUTE_M3S;
    place(&parts(texts))
        .into_iter()
        .map(|part| {
            let head = part.unwrap().head_m(flow_m3s, &water).unwrap();
            head.map(|head| head.value / 0.3048)
        })
        .collect()
}

fn close(found: Option<f64>, expected: f64, tolerance: f64) {
    let found = found.unwrap();
    assert!(
        (found / expected - 1.0).abs() < tolerance,
        "{found} against {expected}"
    );
}

#[test]
fn a_fitting_sits_on_the_pipe_before_it_and_the_first_on_the_pipe_after() {
    let found = heads(&[
        r#"fitting = "entrance""#,
        r#"pipe = "2 in", length = "10 ft""#,
        r#"fitting = "90 elbow", count = 2"#,
        r#"pipe = "1-1/2 in", length = "10 ft""#,
        r#"fitting = "90 elbow", count = 2"#,
    ]);
    // 60 gpm in 2.067 in: 5.737 ft/s (STANDARDS 5.2), velocity head 0.5114 ft; entrance K 0.5; f_T of 2 in 0.019 to two digits.
    close(found[0], 0.5 * 0.5114, 1e-3);
    close(found[2], 2.0 * 30.0 * 0.019 * 0.5114, 0.02);
    // The narrower pipe has (2.067/1.610)⁴ = 2.717 times the velocity head, and f_T 0.020.
    close(found[4], 2.0 * 30.0 * 0.020 * 0.5114 * 2.717, 0.02);
}

#[test]
fn a_reducer_sets_the_bore_of_what_follows() {
    let found = heads(&[
        r#"pipe = "2 in", length = "1 ft""#,
        r#"reducer = "1-1/2 in""#,
        "k = 1.0",
    ]);
    close(found[2], 0.5114 * 2.717, 2e-3);
    assert!(found[1].unwrap() > 0.0);
}

#[test]
fn outlets_and_covers_share_the_flow_and_others_take_it_one_after_another() {
    let pair = heads(&[
        r#"pipe = "1-1/2 in", length = "1 ft""#,
        r#"outlet = "eyeball", bore = "0.75 in""#,
        r#"outlet = "eyeball", bore = "0.75 in", count = 2"#,
        r#"heater = "gas", at = { flow = "60 gpm", drop = "3 psi" }"#,
        r#"cover = "floor", at = { flow = "60 gpm", drop = "1 psi" }, count = 2"#,
    ]);
    // A jet goes with the square of its flow: half of it takes a quarter.
    close(pair[2], pair[1].unwrap() / 4.0, 1e-12);
    // 2.3108 ft of water at 20 °C per psi (STANDARDS 5.7).
    close(pair[3], 3.0 * 2.3108, 1e-4);
    close(pair[4], 0.25 * 2.3108, 1e-4);
}

#[test]
fn what_is_not_stated_takes_nothing_and_says_so() {
    let found = heads(&[
        r#"pipe = "2 in""#,
        r#"skimmer = "basket""#,
        r#"filter = "cartridge""#,
        r#"outlet = "eyeball""#,
    ]);
    assert_eq!(found, [None; 4]);
}

#[test]
fn a_word_that_the_catalogue_does_not_hold_lists_what_it_holds() {
    let placed = place(&parts(&[
        r#"pipe = "2 in", length = "1 ft""#,
        r#"fitting = "elbow""#,
        r#"valve = "magic""#,
        r#"valve = "ball", size = "9 in""#,
        r#"valve = "globe", open = "40 %""#,
    ]));
    let problem = |index: usize| placed[index].clone().unwrap_err();
    assert!(
        matches!(problem(1), PartProblem::UnknownWord { known, .. } if known.contains(&"90 elbow"))
    );
    assert!(
        matches!(problem(2), PartProblem::UnknownWord { known, .. } if known.contains(&"ball"))
    );
    assert!(matches!(
        problem(3),
        PartProblem::UnknownSize { spec: Some(_), .. }
    ));
    assert!(matches!(problem(4), PartProblem::Physics(_)));
    let alone = place(&parts(&[r#"fitting = "90 elbow""#]));
    assert_eq!(alone[0], Err(PartProblem::NoPipe));
}

#[test]
fn a_check_valve_hangs_on_its_spring() {
    let found = heads(&[
        r#"pipe = "2 in", length = "1 ft""#,
        r#"check_valve = "spring", cracking = "0.5 psi", kv = "22 m3/h""#,
        r#"check_valve = "swing""#,
    ]);
    // 60 gpm = 13.627 m³/h: 1 bar · 0.998 (13.627/22)² = 38.3 kPa = 5.555 psi (IEC 60534 by hand).
    close(found[1], 5.555 * 2.3108, 2e-3);
    close(found[2], 100.0 * 0.019 * 0.5114, 0.02);
}
