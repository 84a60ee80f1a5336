//! What is expected of each reading by the other rows: bands hold sound readings from the first row on, and show slips.

#![expect(clippy::unwrap_used, reason = "what tests share fails by panicking")]

mod support;

use fieldtest::simulation::{SimulatedTest, random_pad_test};
use fieldtest::{Expectation, ExpectedBy, Slip, expectations};
use records::{Source, TestFiles, read_pad};

/// Simulated pads of each test.
const PADS: u64 = 200;

/// The expectations of the first rows of a simulated test, typed from the top speed downwards; `change` may mistype.
fn of_first_rows(
    test: &SimulatedTest,
    count: usize,
    change: impl Fn(usize, usize, &str) -> String,
) -> Vec<Expectation> {
    let mut shown = test.clone();
    shown.rows.reverse();
    shown.rows.truncate(count);
    for (row, (_, cells)) in shown.rows.iter_mut().enumerate() {
        for (meter, cell) in cells.iter_mut().enumerate() {
            *cell = change(row, meter, cell);
        }
    }
    let files: TestFiles = shown.files();
    let (site, tests) = read_pad(&shown.site(), &[files]).unwrap();
    expectations(&site, &tests[0])
}

fn as_read(_: usize, _: usize, cell: &str) -> String {
    cell.to_owned()
}

#[test]
fn a_sound_test_raises_no_rough_doubt_at_any_length() {
    let mut judged = 0;
    for seed in 0..PADS {
        let test = random_pad_test(seed, 11).unwrap();
        for count in 1..=11 {
            for found in of_first_rows(&test, count, as_read) {
                assert_eq!(found.doubt, None, "pad {seed}, {count} rows: {found:?}");
                judged += 1;
            }
        }
    }
    assert!(judged > 10_000, "{judged}");
}

#[test]
fn kilowatts_under_watts_show_from_the_first_row_on() {
    const POWER: usize = 1;
    for count in 1..=3 {
        let mut caught = 0;
        for seed in 0..PADS {
            let test = random_pad_test(seed, 11).unwrap();
            let watts: f64 = test.rows[11 - count].1[POWER].parse().unwrap();
            let typed = |row: usize, meter: usize, cell: &str| {
                if (row + 1, meter) == (count, POWER) {
                    format!("{}", watts / 1000.0)
                } else {
                    cell.to_owned()
                }
            };
            let found = of_first_rows(&test, count, typed);
            let doubts: Vec<_> = found
                .iter()
                .filter_map(|found| found.doubt.as_ref())
                .collect();
            let is_kilowatts = |slip: &Option<(Slip, f64)>| {
                matches!(slip, Some((Slip::Unit(unit), si))
                    if unit.name == "kW" && (si / watts - 1.0).abs() < 1e-9)
            };
            caught += u64::from(doubts.len() == 1 && is_kilowatts(&doubts[0].slip));
        }
        assert_eq!(caught, PADS, "{count} rows");
    }
}

#[test]
fn a_law_holds_the_next_reading_in_a_band_that_is_worth_looking_at() {
    let (mut inside, mut all, mut narrow) = (0, 0, 0);
    for seed in 0..PADS {
        let test = random_pad_test(seed, 11).unwrap();
        for found in of_first_rows(&test, 11, as_read) {
            assert_eq!(found.by, ExpectedBy::Law);
            // Row 0 is standby; then steps stand from the top downwards.
            let truth = &test.truth[11 - found.row];
            let si = match found.column {
                1 => truth.flow_m3s,
                2 => truth.power_w,
                _ => truth.current_a,
            };
            all += 1;
            inside += usize::from((found.si.low..=found.si.high).contains(&si));
            narrow += usize::from(found.si.relative_u() < 0.10);
        }
    }
    // The intervals are of 95 %; the meters' shared errors, which the other rows cannot show, take some of it.
    assert!(inside * 100 >= all * 85, "{inside} of {all}");
    assert!(narrow * 100 >= all * 80, "{narrow} of {all}");
}

#[test]
fn a_faulty_reading_says_nothing_of_the_others() {
    let test = random_pad_test(7, 11).unwrap();
    let clean = of_first_rows(&test, 11, as_read);
    let faulty = of_first_rows(&test, 11, |row, meter, cell| {
        if (row, meter) == (4, 0) {
            let value: f64 = cell.parse().unwrap();
            format!("{:.2}", value / 10.0)
        } else {
            as_read(row, meter, cell)
        }
    });
    for (a, b) in clean.iter().zip(&faulty) {
        let moved = (a.si.value / b.si.value - 1.0).abs();
        // One reading more or less moves a law by less than its own band.
        assert!(moved < 0.1, "{a:?} {b:?}");
    }
}

#[test]
fn the_order_of_rows_does_not_reach_the_expectations() {
    let test = random_pad_test(3, 8).unwrap();
    let mut turned = test.clone();
    turned.rows.reverse();
    let of = |test: &SimulatedTest| {
        let site: Source = test.site();
        let (site, tests) = read_pad(&site, &[test.files()]).unwrap();
        let mut found: Vec<(u64, usize, u64)> = expectations(&site, &tests[0])
            .iter()
            .map(|found| {
                let speed = tests[0].readings.rows[found.row].speed_rpm;
                (speed.to_bits(), found.column, found.si.value.to_bits())
            })
            .collect();
        found.sort_unstable();
        found
    };
    assert_eq!(of(&test), of(&turned));
}
