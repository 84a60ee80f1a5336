//! How long an analysis takes in process: text to records, and records to result.

use criterion::{Criterion, criterion_group, criterion_main};
use records::{Source, TestFiles, read_pad};
use std::hint::black_box;

fn source(name: &str, text: &str) -> Source {
    Source {
        name: name.to_owned(),
        text: text.to_owned(),
    }
}

fn analyze(criterion: &mut Criterion) {
    let site = source(
        "site.toml",
        include_str!("../../../examples/larkspur-lane/site.toml"),
    );
    let clean = TestFiles {
        test: source(
            "clean.toml",
            include_str!("../../../examples/larkspur-lane/2026-05-16.toml"),
        ),
        readings: Some(source(
            "clean.csv",
            include_str!("../../../examples/larkspur-lane/2026-05-16.csv"),
        )),
    };
    let faulty = TestFiles {
        test: source(
            "faulty.toml",
            include_str!("../../../examples/larkspur-lane/2026-06-02.toml"),
        ),
        readings: Some(source(
            "faulty.csv",
            include_str!("../../../examples/larkspur-lane/2026-06-02.csv"),
        )),
    };
    for (name, files) in [("clean", clean), ("three_faults", faulty)] {
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

criterion_group!(benches, analyze);
criterion_main!(benches);
