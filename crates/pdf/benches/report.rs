//! How long a report takes as a page and as sheets: the first of a process apart from those after it, and the memory it holds.
//!
//! Time is that of the processor, not of the clock, so that a machine that does other things too says the same. It is read
//! where Linux tells it, in steps of a hundredth of a second; so each kind of report is made several times.

#![expect(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a benchmark fails by panicking, and prints what it finds"
)]

#[path = "../tests/composed/mod.rs"]
mod composed;

use composed::{VISIT, composed, unheaded};
use document::html;
use document::report::Paper;
use std::fs;

/// How often each kind is made after the first.
const TIMES: u32 = 20;

fn main() {
    let report = composed(VISIT, str::to_owned, unheaded());
    let page = html::page(&report, Paper::Letter);
    let of_page = each(|| drop(html::page(&report, Paper::Letter)));
    println!("page: {of_page:.1} ms, {} kB", page.len() / 1000);
    let before = processor_ms();
    let sheets = pdf::pdf(&report, Paper::Letter).unwrap();
    let first = processor_ms() - before;
    println!(
        "sheets, the first: {first:.0} ms, {} kB",
        sheets.len() / 1000
    );
    let later = each(|| drop(pdf::pdf(&report, Paper::Letter).unwrap()));
    println!("sheets, each after it: {later:.1} ms");
    println!("most memory: {} MB", memory_kb() / 1000);
}

/// The milliseconds that each of many takes.
fn each(work: impl Fn()) -> f64 {
    let before = processor_ms();
    (0..TIMES).for_each(|_| work());
    (processor_ms() - before) / f64::from(TIMES)
}

/// The time that the process has had of all processors, ms.
fn processor_ms() -> f64 {
    /// Linux counts in hundredths of a second: proc(5), `utime` and `stime`, on every machine that is met today.
    const TICK_MS: f64 = 10.0;
    let told = fs::read_to_string("/proc/self/stat").unwrap();
    // The name of the program, in brackets, may hold spaces.
    let (_, told) = told.rsplit_once(')').unwrap();
    let fields: Vec<&str> = told.split_whitespace().collect();
    let ticks: u32 = [11, 12]
        .map(|field: usize| fields[field].parse::<u32>().unwrap())
        .iter()
        .sum();
    TICK_MS * f64::from(ticks)
}

/// The most memory that the process has held, kB.
fn memory_kb() -> u64 {
    let told = fs::read_to_string("/proc/self/status").unwrap();
    let line = told.lines().find(|line| line.starts_with("VmHWM")).unwrap();
    line.split_whitespace().nth(1).unwrap().parse().unwrap()
}
