//! Prints how often a misreading is caught, by its size: `cargo run --release -p fieldtest --example detection`.

#![expect(clippy::print_stdout, reason = "an example prints its table")]

use fieldtest::analyze;
use fieldtest::simulation::{Fault, MeterModel, random_pad_test};
use numerics::random::Draws;
use records::read_pad;

/// Simulated tests per number of the table.
const TESTS: u64 = 1000;
/// Steps of each test.
const STEPS: usize = 11;

/// What happened to a misreading.
#[derive(Default)]
struct Count {
    caught: u32,
    right: u32,
    all: u32,
}

fn main() {
    println!("| misread by | lowest step | an interior step | highest step |");
    println!("| --- | --- | --- | --- |");
    for percent in [3.0, 5.0, 8.0, 10.0, 15.0, 20.0, 30.0] {
        let cells: Vec<String> = [0, 5, STEPS - 1]
            .iter()
            .map(|row| shares(&count(percent, *row)))
            .collect();
        println!("| {percent} % | {} |", cells.join(" | "));
    }
}

fn shares(count: &Count) -> String {
    let percent = |part: u32| 100.0 * f64::from(part) / f64::from(count.all.max(1));
    format!(
        "{:.0} % ({:.0} %)",
        percent(count.caught),
        percent(count.right)
    )
}

/// Counts over tests in which one reading of a row is misread by a share, up or down, on any of the three meters.
fn count(percent: f64, row: usize) -> Count {
    let mut count = Count::default();
    for seed in 0..TESTS {
        let mut draw = Draws::new(seed).at(1);
        let Ok(mut test) = random_pad_test(seed, STEPS) else {
            continue;
        };
        let meter = usize::from(draw.uniform() >= 0.5);
        let sign = if draw.uniform() < 0.5 { -1.0 } else { 1.0 };
        let mut next = || draw.uniform();
        let mut uniform = fieldtest::simulation::Uniform(&mut next);
        let fault = Fault::Factor(1.0 + sign * percent / 100.0);
        if fault
            .make(&mut test.rows, row, meter, &mut uniform)
            .is_none()
        {
            continue;
        }
        let Ok((site, tests)) = read_pad(&test.site(), &[test.files()]) else {
            continue;
        };
        let analysis = analyze(&site, &tests);
        let doubts: Vec<_> = analysis
            .findings
            .iter()
            .filter(|f| f.matter.doubts_a_reading())
            .collect();
        let word = MeterModel::USUAL[meter].measured.word();
        let here = |finding: &&&fieldtest::Finding| {
            finding.place.rows == [test.line_of(row)]
                && finding
                    .place
                    .column
                    .as_deref()
                    .is_some_and(|column| column.starts_with(word))
        };
        count.all += 1;
        count.caught += u32::from(!doubts.is_empty());
        count.right += u32::from(doubts.iter().any(|finding| here(&finding)));
    }
    count
}
