//! Our side of `cargo xtask peers`: runs each work, writes its inputs and answers to a folder for the other side,
//! and prints one JSON object per line: work, path, nanoseconds.

#![expect(
    clippy::print_stdout,
    reason = "the times are read from standard output"
)]

mod circuit;
mod colebrook;
mod fit;
mod fittings;
mod monte_carlo;
mod posterior;
mod schedule;

use std::error::Error;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use serde_json::json;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args_os().nth(1).map(PathBuf::from);
    let folder = folder.ok_or("usage: ours FOLDER")?;
    colebrook::run(&folder)?;
    fittings::run(&folder)?;
    circuit::run(&folder)?;
    fit::run(&folder)?;
    monte_carlo::run(&folder)?;
    posterior::run(&folder)?;
    schedule::run(&folder)
}

/// Says how long one piece of a work took by one path.
fn report(work: &str, path: &str, seconds: f64) {
    let nanoseconds = 1e9 * seconds;
    println!(
        "{}",
        json!({ "work": work, "path": path, "nanoseconds": nanoseconds })
    );
}

/// Measures the least time of some work in seconds, over a second of runs and at least twenty.
fn best_seconds(mut work: impl FnMut()) -> f64 {
    let started = Instant::now();
    let mut best = f64::INFINITY;
    for run in 1.. {
        let before = Instant::now();
        work();
        best = best.min(before.elapsed().as_secs_f64());
        if run >= 20 && started.elapsed() > Duration::from_secs(1) {
            break;
        }
    }
    best
}

/// Writes numbers as they lie in memory on most machines.
fn write_numbers(path: &Path, numbers: &[f64]) -> std::io::Result<()> {
    let bytes: Vec<u8> = numbers.iter().flat_map(|x| x.to_le_bytes()).collect();
    std::fs::write(path, bytes)
}
