//! How long an analysis takes in process: text to records, records to result, and a million draws of its errors.

use criterion::{Criterion, criterion_group, criterion_main};
use fieldtest::{Drawn, Refit, TestDraws};
use records::{Source, TestFiles, read_pad};
use std::hint::black_box;
use std::num::NonZeroUsize;

fn source(name: &str, text: &str) -> Source {
    Source {
        name: name.to_owned(),
        text: text.to_owned(),
    }
}

/// The site of the example, and its two tests of eleven steps: a sound one, and one with three faults.
const SITE: &str = include_str!("../../../examples/larkspur-lane/site.toml");

fn clean() -> TestFiles {
    TestFiles {
        test: source(
            "clean.toml",
            include_str!("../../../examples/larkspur-lane/2026-05-16.toml"),
        ),
        readings: Some(source(
            "clean.csv",
            include_str!("../../../examples/larkspur-lane/2026-05-16.csv"),
        )),
    }
}

fn faulty() -> TestFiles {
    TestFiles {
        test: source(
            "faulty.toml",
            include_str!("../../../examples/larkspur-lane/2026-06-02.toml"),
        ),
        readings: Some(source(
            "faulty.csv",
            include_str!("../../../examples/larkspur-lane/2026-06-02.csv"),
        )),
    }
}

fn analyze(criterion: &mut Criterion) {
    let site = source("site.toml", SITE);
    for (name, files) in [("clean", clean()), ("three_faults", faulty())] {
        let files = [files];
        criterion.bench_function(&format!("read_{name}"), |bencher| {
            bencher.iter(|| read_pad(black_box(&site), black_box(&files)));
        });
        let Ok((pad, tests)) = read_pad(&site, &files) else {
            continue;
        };
        criterion.bench_function(&format!("analyze_{name}"), |bencher| {
            bencher.iter(|| fieldtest::analyze(black_box(&pad), black_box(&tests)));
        });
    }
}

/// Draws of a Monte Carlo, as many as the libraries were timed with.
const DRAWS: usize = 1_000_000;

/// A test of twelve steps; invented.
const TWELVE: &str = "speed [rpm],flow [gpm],power [W]
600,14.3,70\n850,21.9,99\n1100,29.1,142\n1350,36.2,209\n1600,43.2,304\n1850,50.2,430\n2100,57.2,589
2350,64.1,786\n2600,71.0,1020\n2850,77.9,1300\n3150,86.2,1690\n3450,94.5,2160\n";

fn twelve_steps() -> Option<fieldtest::TestResult> {
    let site = source("site.toml", SITE);
    let files = TestFiles {
        test: source("twelve.toml", "format = 1\nreadings = \"twelve.csv\"\n"),
        readings: Some(source("twelve.csv", TWELVE)),
    };
    let (site, tests) = read_pad(&site, &[files]).ok()?;
    fieldtest::analyze(&site, &tests).tests.pop()
}

/// Draws every answer of a test on two threads, and finds their 95 % intervals.
fn drawn(draws: &TestDraws) -> Vec<[f64; 2]> {
    let mut columns = vec![vec![0.0; DRAWS]; draws.answers().len()];
    let two = NonZeroUsize::MIN.saturating_add(1);
    draws.fill_on(two, 0, columns.iter_mut().map(Vec::as_mut_slice).collect());
    let half = columns.len() / 2;
    let (one, other) = columns.split_at_mut(half);
    let intervals = |columns: &mut [Vec<f64>]| columns.iter_mut().map(|c| interval(c)).collect();
    std::thread::scope(|scope| {
        let theirs = scope.spawn(|| -> Vec<[f64; 2]> { intervals(one) });
        let mut found: Vec<[f64; 2]> = intervals(other);
        found.extend(theirs.join().unwrap_or_default());
        found
    })
}

fn interval(column: &mut [f64]) -> [f64; 2] {
    let end = DRAWS / 40;
    let (_, low, above) = column.select_nth_unstable_by(end, f64::total_cmp);
    let place = DRAWS - 2 * end - 2;
    let (_, high, _) = above.select_nth_unstable_by(place, f64::total_cmp);
    [*low, *high]
}

fn million_draws(criterion: &mut Criterion) {
    let Some(test) = twelve_steps() else { return };
    let mut group = criterion.benchmark_group("a million draws of twelve steps");
    group.sample_size(10);
    for (name, refit) in [("first order", Refit::FirstOrder), ("exact", Refit::Exact)] {
        let Some(draws) = TestDraws::new(&test, 1, refit) else {
            continue;
        };
        group.bench_function(name, |bencher| bencher.iter(|| drawn(black_box(&draws))));
        let power =
            draws.only(|of| matches!(of, Drawn::FixedDraw | Drawn::DynamicDraw | Drawn::Exponent));
        group.bench_function(format!("{name}, power law alone"), |bencher| {
            bencher.iter(|| drawn(black_box(&power)));
        });
    }
    group.finish();
}

/// Two tests of eleven steps on eight lines: two suctions, the equipment in two, four returns; invented.
fn calibration(criterion: &mut Criterion) {
    let more = [
        ("drain suction", "pool", "pump inlet"),
        ("bypass", "pump outlet", "pad outlet"),
        ("return 3", "pad outlet", "pool"),
        ("return 4", "pad outlet", "pool"),
    ];
    let lines = more.map(|(name, from, to)| {
        format!(
            "\n[[line]]\nname = \"{name}\"\nfrom = \"{from}\"\nto = \"{to}\"\nparts = [ {{ pipe = \"1.5 in\", length = \"40 ft\" }}, {{ fitting = \"90 elbow\", count = 6 }}, {{ valve = \"ball\" }} ]\n"
        )
    });
    let lines = lines.concat();
    let site = source(
        "site.toml",
        &SITE.replacen("[limits]", &[&lines, "\n[limits]"].concat(), 1),
    );
    let files = [clean(), faulty()];
    let Ok((site, tests)) = read_pad(&site, &files) else {
        return;
    };
    let analysis = fieldtest::analyze(&site, &tests);
    criterion.bench_function(
        "calibrate two tests of eleven steps on eight lines",
        |bencher| {
            bencher
                .iter(|| fieldtest::calibrate(black_box(&site), &tests, &analysis, 2600.0).is_ok());
        },
    );
}

/// The readings of one pad that are not in its test, and a whole plan; the pad has sixteen returns beside one another, invented, so
/// that thirty readings are weighed.
fn before_the_readings(criterion: &mut Criterion) {
    let returns = (3..=16)
        .map(|number| {
            format!(
                "\n[[line]]\nname = \"return {number}\"\nfrom = \"pad outlet\"\nto = \"pool\"\nparts = [ {{ pipe = \"1 in\", length = \"40 ft\" }}, {{ fitting = \"90 elbow\", count = 6 }} ]\n"
            )
        });
    let returns: String = returns.collect();
    let text = SITE.replacen("[limits]", &[&returns, "\n[limits]"].concat(), 1);
    let files = [clean()];
    let (Ok((site, tests)), Ok((plain, earlier))) = (
        read_pad(&source("site.toml", &text), &files),
        read_pad(&source("site.toml", SITE), &files),
    ) else {
        return;
    };
    let analysis = fieldtest::analyze(&site, &tests);
    let asked = (2600.0, &fieldtest::Answer::Returns);
    let Ok(learning) = fieldtest::next_readings(&site, &tests, &analysis, asked) else {
        return;
    };
    let name = format!("calibrate and weigh {} readings to come", learning.weighed);
    criterion.bench_function(&name, |bencher| {
        bencher
            .iter(|| fieldtest::next_readings(black_box(&site), &tests, &analysis, asked).is_ok());
    });
    criterion.bench_function("calibrate the same pad", |bencher| {
        bencher.iter(|| fieldtest::calibrate(black_box(&site), &tests, &analysis, 2600.0).is_ok());
    });
    let question = fieldtest::PlanQuestion {
        time_s: 7200.0,
        closed: &[],
        throttled: &[],
    };
    criterion.bench_function("plan from the site alone", |bencher| {
        bencher.iter(|| fieldtest::plan(black_box(&plain), &[], &question).is_ok());
    });
    criterion.bench_function("plan with an earlier test", |bencher| {
        bencher.iter(|| fieldtest::plan(black_box(&plain), &earlier, &question).is_ok());
    });
}

criterion_group!(
    benches,
    analyze,
    calibration,
    before_the_readings,
    million_draws
);
criterion_main!(benches);
