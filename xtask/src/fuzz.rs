//! Random bytes against the readers of files, for as long as one cares to wait.
//!
//! What the fuzzer learns stays in `fuzz/target`; the small corpus that is kept, in `fuzz/corpus`, is only read
//! from here. `xtask/tests/corpus.rs` replays it with every test run.

use std::process::Command;

use clap::{Args, ValueEnum};

use crate::error::Error;
use crate::project::Project;
use crate::step;
use crate::tools::{self, Tool};

/// What to fuzz, and for how long.
#[derive(Args)]
pub(crate) struct Options {
    /// Minutes for each target.
    #[arg(long, default_value_t = 10, value_parser = clap::value_parser!(u32).range(1..=10_000))]
    minutes: u32,
    /// One target; without it, each in turn.
    target: Option<Target>,
}

/// A reader to fuzz; each is a file in `fuzz/fuzz_targets`.
#[derive(Clone, Copy, ValueEnum)]
enum Target {
    /// The reader of site files.
    Site,
    /// The reader of tables of readings.
    Readings,
    /// The reader of test files.
    Test,
    /// The reader of bundles.
    Bundle,
}

impl Target {
    fn name(self) -> &'static str {
        match self {
            Self::Site => "site",
            Self::Readings => "readings",
            Self::Test => "test",
            Self::Bundle => "bundle",
        }
    }
}

const TOOLS: [Tool; 2] = [
    Tool {
        name: "a nightly toolchain",
        purpose: "the fuzzer's instrumentation is not in a stable one",
        install: "rustup toolchain install nightly --profile minimal",
        is_present: || {
            tools::first_line("rustup", &["run", "nightly", "rustc", "--version"]).is_some()
        },
    },
    Tool {
        name: "cargo-fuzz",
        purpose: "builds and runs the fuzz targets",
        install: "cargo install --locked cargo-fuzz@0.13.2",
        is_present: || tools::first_line("cargo", &["fuzz", "--version"]).is_some(),
    },
];

/// Fuzzes the target asked for, or each in turn.
pub(crate) fn run(project: &Project, options: &Options) -> Result<(), Error> {
    tools::require(&TOOLS)?;
    let targets = match &options.target {
        Some(target) => std::slice::from_ref(target),
        None => Target::value_variants(),
    };
    targets
        .iter()
        .try_for_each(|&target| fuzz(project, target, options.minutes))
}

fn fuzz(project: &Project, target: Target, minutes: u32) -> Result<(), Error> {
    let name = target.name();
    let folder = project.root().join("fuzz");
    let learned = folder.join("target/corpus").join(name);
    std::fs::create_dir_all(&learned).map_err(|source| Error::File {
        path: learned.clone(),
        source,
    })?;
    let mut command = Command::new("rustup");
    command
        .current_dir(&folder)
        .args(["run", "nightly", "cargo", "fuzz", "run", name])
        .arg(&learned)
        .arg(folder.join("corpus").join(name))
        .arg("--")
        .arg(format!("-max_total_time={}", minutes * 60));
    step::run(&format!("fuzz {name}, {minutes} min"), &mut command)
}
