//! The engine gives the same bytes natively and as WebAssembly, for every example and 200 generated pads.
//!
//! A dependency that calls the platform's own `exp` or `pow` is seen by nothing else: this test is never thinned.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a test panics where its own machinery fails"
)]

mod compare;
mod files;
mod generated;
mod node;
mod stream;

use parity::Request;

/// How many pads are generated.
const GENERATED: u64 = 200;

/// A request and what it is called where it fails.
struct Case {
    name: String,
    request: Request,
}

#[test]
fn native_and_webassembly_answers_are_the_same_bytes() {
    let examples = files::cases("examples");
    assert!(!examples.is_empty(), "no example to compare");
    let wrong = files::cases("wrong");
    assert!(!wrong.is_empty(), "no wrong input to compare");
    let generated = (0..GENERATED).map(generated::case);
    let cases: Vec<Case> = examples.into_iter().chain(wrong).chain(generated).collect();

    let requests: Vec<String> = cases
        .iter()
        .map(|case| serde_json::to_string(&case.request).unwrap())
        .collect();
    let in_module = node::answers("pads", &requests);
    assert_eq!(in_module.len(), requests.len(), "answers are missing");
    let natively: Vec<String> = requests
        .iter()
        .map(|request| parity::answer(request))
        .collect();

    let differences: Vec<String> = cases
        .iter()
        .zip(natively.iter().zip(&in_module))
        .filter_map(|(case, (native, wasm))| compare::difference(&case.name, native, wasm))
        .collect();
    let (differing, all) = (differences.len(), cases.len());
    assert!(
        differences.is_empty(),
        "{differing} of {all} differ\n{}",
        differences.join("\n")
    );
    println!("{all} answers are the same bytes");
}

/// The circuit is solved by sparse factors whose kernels take on the widest instructions of a native machine.
#[test]
fn native_and_webassembly_circuits_have_the_same_bits() {
    let request = r#"{"circuits": 40}"#.to_owned();
    let natively = parity::answer(&request);
    let in_module = node::answers("circuits", &[request]);
    assert_eq!(natively.lines().count(), 40, "{natively}");
    assert!(!natively.contains("refused"), "{natively}");
    let difference = compare::difference("circuits", &natively, &in_module[0]);
    assert!(difference.is_none(), "{difference:?}");
}

/// Answers that only say what is wrong would compare no number.
#[test]
fn most_generated_pads_are_analysed_and_some_are_refused() {
    let answers: Vec<String> = (0..GENERATED)
        .map(|index| {
            parity::answer(&serde_json::to_string(&generated::case(index).request).unwrap())
        })
        .collect();
    let refused = answers
        .iter()
        .filter(|answer| answer.contains("\"problems\""))
        .count();
    let with_laws = answers
        .iter()
        .filter(|answer| answer.contains("\"slope_m3s_per_rpm\": {"))
        .count();
    let solved = answers
        .iter()
        .filter(|answer| answer.contains("\"lift_share\""))
        .count();
    println!("refused {refused}, with a flow law {with_laws}, solved {solved}, of {GENERATED}");
    // 200 pads have 320 tests, of which one in sixteen cannot be read: 20 with a standard deviation of 4.
    assert!((4..=36).contains(&refused), "{refused} refused");
    // Nine pads in ten have a flow column; some of the rest too few steps, or too few readings that are trusted.
    assert!(with_laws >= 120, "{with_laws} with a flow law");
    // Seven pads in ten state lines, and four in ten a curve: 56 of them, less those refused.
    assert!(solved >= 30, "{solved} solved");
}
