//! How long a report takes as a page and as sheets: the first of a process apart from those after it, and the memory it holds.
//!
//! Time is that of the processor, not of the clock, so that a machine that does other things too says the same. It is read
//! where Linux tells it, in steps of a hundredth of a second; so each kind of report is made several times.

#![expect(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a benchmark fails by panicking, and prints what it finds"
)]

use document::html;
use document::report::{Letterhead, More, Paper, Report, Subject, report};
use document::units::Printing;
use operation::Asked;
use records::{CalendarDay, Profile, Source, TestFiles, read_pad};
use std::fs;
use std::path::Path;

/// How often each kind is made after the first.
const TIMES: u32 = 20;

fn main() {
    let report = composed();
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

/// The report of a visit of an example.
fn composed() -> Report {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/larkspur-lane");
    let source = |name: &str| Source {
        name: name.to_owned(),
        text: fs::read_to_string(folder.join(name)).unwrap(),
    };
    let files = [TestFiles {
        test: source("2026-06-02.toml"),
        readings: Some(source("2026-06-02.csv")),
    }];
    let (site, tests) = read_pad(&source("site.toml"), &files).unwrap();
    let analysis = fieldtest::analyze(&site, &tests);
    let top = analysis.tests[0].steps.last().unwrap().speed_rpm;
    let calibration = fieldtest::calibrate(&site, &tests, &analysis, top).ok();
    let plan = operation::plan(&site, &analysis, &Asked::default());
    let subject = Subject {
        site: &site,
        tests: &tests,
        analysis: &analysis,
        plan: plan.as_ref(),
        calibration: calibration.as_ref(),
        more: &More::default(),
        printing: Printing::english(site.units.unwrap_or_default()),
    };
    let date = CalendarDay {
        year: Some(2026),
        month: 11,
        day: 28,
    };
    report(
        &subject,
        Letterhead {
            profile: Profile::default(),
            logo: None,
            date,
        },
    )
}
