//! The one script entry of the project: `cargo xtask` shows the demonstration, tests, builds, tidies and fuzzes.
//!
//! It starts other programs and reads the source tree; it knows nothing of pools. Headings and complaints go to
//! standard error, so that what a started program writes to standard output passes through unmixed.

#![expect(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a script entry talks to the person who started it"
)]

mod app;
mod build;
mod demo;
mod error;
mod fuzz;
mod peers;
mod project;
mod step;
mod test;
mod tidy;
mod tools;
mod validate;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

use crate::error::Error;
use crate::project::Project;

/// The project's own commands.
#[derive(Parser)]
#[command(name = "cargo xtask", bin_name = "cargo xtask")]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Build the command and show what it makes of an invented pool.
    Demo {
        /// Then build the page too, and serve it until Ctrl-C.
        #[arg(long)]
        serve: bool,
    },
    /// Check everything: format, lints, licences, tidiness, WebAssembly, tests, documentation.
    Test,
    /// Build the command and say where it is.
    Build {
        /// With full optimisation, as it is handed on.
        #[arg(long)]
        release: bool,
    },
    /// Build the page and say where it is; the command takes it in when it is built next.
    App {
        /// Quick to build again, and large.
        #[arg(long)]
        dev: bool,
    },
    /// Check what no compiler sees: floors, purity, file lengths, sources, docs of physics, machine paths.
    Tidy,
    /// Write the tables of validation, in README.md and VALIDATION.md, from what the tests print.
    Validate,
    /// Measure our speed beside that of general-purpose libraries, on the same inputs in one run.
    Peers(peers::Options),
    /// Throw random bytes at the readers of files.
    Fuzz(fuzz::Options),
}

fn main() -> ExitCode {
    match run(&Arguments::parse().command) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("\nxtask: {error}");
            ExitCode::FAILURE
        }
    }
}

fn run(command: &Command) -> Result<(), Error> {
    let project = Project::find()?;
    match command {
        Command::Demo { serve } => demo::run(&project, demo::After::chosen(*serve)),
        Command::Test => test::run(&project),
        Command::Build { release } => build::run(&project, build::Profile::chosen(*release)),
        Command::App { dev } => app::run(&project, app::Profile::chosen(*dev)),
        Command::Tidy => tidy::run(&project),
        Command::Validate => validate::run(&project, validate::Mode::Write),
        Command::Peers(options) => peers::run(&project, options),
        Command::Fuzz(options) => fuzz::run(&project, options),
    }
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    #[test]
    fn the_arguments_are_well_formed() {
        super::Arguments::command().debug_assert();
    }
}
