//! Everything that must hold before a change is handed on, the quick and the strict first.

use std::process::Command;
use std::time::Instant;

use crate::error::Error;
use crate::project::Project;
use crate::tidy::floors;
use crate::tools::{self, Tool, WASM};
use crate::{app, step, tidy, validate};

/// The rules of accessibility that a machine can check; under the MPL-2.0, and part of no program of ours.
const AXE: &str = "axe-core@4.14.1";

const TOOLS: [Tool; 8] = [
    Tool {
        name: "Node",
        purpose: "runs the WebAssembly module of the parity test",
        install: "apt-get update && apt-get install -y nodejs",
        is_present: || tools::first_line("node", &["--version"]).is_some(),
    },
    Tool {
        name: "Chromium",
        purpose: "opens the page in the tests of it",
        install: "apt-get update && apt-get install -y chromium",
        is_present: || tools::first_line("chromium", &["--version"]).is_some(),
    },
    Tool {
        name: "ChromeDriver",
        purpose: "drives Chromium",
        install: "apt-get update && apt-get install -y chromium-driver",
        is_present: || tools::first_line("chromedriver", &["--version"]).is_some(),
    },
    Tool {
        name: "npm",
        purpose: "fetches the rules of accessibility",
        install: "apt-get update && apt-get install -y npm",
        is_present: || tools::first_line("npm", &["--version"]).is_some(),
    },
    Tool {
        name: "poppler",
        purpose: "reads what a PDF says",
        install: "apt-get update && apt-get install -y poppler-utils",
        is_present: || tools::runs("pdftotext", &["-v"]),
    },
    Tool {
        name: "qpdf",
        purpose: "checks how a PDF is made",
        install: "apt-get update && apt-get install -y qpdf",
        is_present: || tools::first_line("qpdf", &["--version"]).is_some(),
    },
    tools::WASM_TARGET,
    Tool {
        name: "cargo-deny",
        purpose: "licences and origins of dependencies",
        // Unoptimised: it is built in a quarter of the time, and runs for half a second.
        install: "cargo install --locked --debug cargo-deny@0.20.2",
        // Older ones do not understand what this cargo says of its packages.
        is_present: || {
            tools::first_line("cargo", &["deny", "--version"])
                .is_some_and(|line| tools::is_at_least(&line, (0, 18)))
        },
    },
];

/// Runs every check in turn and stops at the first that fails.
pub(crate) fn run(project: &Project) -> Result<(), Error> {
    tools::require(&TOOLS)?;
    let started = Instant::now();
    step::cargo(project, "fmt --all --check")?;
    step::cargo(
        project,
        "clippy --workspace --all-targets --features browser/chromium -- -D warnings",
    )?;
    step::cargo(
        project,
        &format!("clippy --package app --no-deps --target {WASM} -- -D warnings"),
    )?;
    // Not `advisories`: their database is not on a package registry and cannot be fetched where this runs.
    step::cargo(project, "deny check licenses bans sources")?;
    tidy::run(project)?;
    wasm(project)?;
    // With the doctests, the parity of native and WebAssembly answers, and the replay of the fuzz corpus.
    step::cargo(project, "test --workspace --no-fail-fast")?;
    page(project)?;
    step::timed("the tables of validation", || {
        validate::run(project, validate::Mode::Check)
    })?;
    documentation(project)?;
    println!(
        "\nall checks passed in {:.0} s",
        started.elapsed().as_secs_f64()
    );
    Ok(())
}

/// Builds the pure crates for WebAssembly, in the profile of the parity test, which then finds them built.
fn wasm(project: &Project) -> Result<(), Error> {
    let metadata = project.metadata()?;
    let packages = metadata.workspace_packages();
    let names = packages.iter().map(|package| package.name.as_str());
    let pure: Vec<&str> = names.filter(|name| floors::is_pure(name)).collect();
    let packages = pure.join(" --package ");
    step::cargo(
        project,
        &format!("build --profile parity --target {WASM} --package {packages}"),
    )
}

/// Builds the page as it is handed on, and opens it in a browser.
fn page(project: &Project) -> Result<(), Error> {
    app::build(project, app::Profile::Small)?;
    let folder = project.metadata()?.target_directory.join("npm");
    if !folder.join("node_modules/axe-core/axe.min.js").is_file() {
        let mut npm = Command::new("npm");
        npm.args(["install", "--silent", "--no-audit", "--no-fund", "--prefix"])
            .arg(&folder)
            .arg(AXE);
        step::run(&format!("npm install {AXE}"), &mut npm)?;
    }
    step::cargo(
        project,
        "test --package browser --features chromium --no-fail-fast",
    )
}

/// Builds the documentation; a broken link or example is an error.
fn documentation(project: &Project) -> Result<(), Error> {
    let mut command = Command::new("cargo");
    command
        .current_dir(project.root())
        .args(["doc", "--workspace", "--no-deps"])
        .env("RUSTDOCFLAGS", "-D warnings");
    step::run(
        "cargo doc --workspace --no-deps, warnings denied",
        &mut command,
    )
}
