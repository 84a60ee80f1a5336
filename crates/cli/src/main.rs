//! `headwright`: a field-test bench for swimming-pool circulation.
//!
//! This crate sees files, clock, environment, network and terminal, and computes nothing: it reads texts, calls the
//! engine and prints what comes back. Data go to standard output, everything else to standard error.

mod arguments;
mod commands;
mod failure;
mod files;
mod output;

use arguments::{Command, Line};
use clap::Parser;
use failure::Failure;
use std::process::ExitCode;

fn main() -> ExitCode {
    let line = Line::parse();
    let language = line.command.language();
    match run(line.command) {
        Ok(code) => code,
        Err(failure) => {
            output::complain(&failure, language);
            failure.exit_code()
        }
    }
}

fn run(command: Command) -> Result<ExitCode, Failure> {
    match command {
        Command::New(arguments) => commands::new::run(&arguments),
        Command::Plan(arguments) => commands::plan::run(&arguments),
        Command::Check(arguments) => commands::check::run(&arguments),
        Command::Analyze(arguments) => commands::analyze::run(&arguments),
        Command::Schedule(arguments) => commands::schedule::run(&arguments),
        Command::Track(arguments) => commands::track::run(&arguments),
        Command::Year(arguments) => commands::year::run(&arguments),
        Command::Compare(arguments) => commands::compare::run(&arguments),
        Command::Report(arguments) => commands::report::run(&arguments),
        Command::Loss(arguments) => commands::loss::run(&arguments),
        Command::Solve(arguments) => commands::solve::run(&arguments),
        Command::Demo(arguments) => commands::demo::run(&arguments),
        Command::Export(arguments) => commands::export::run(&arguments),
        Command::Import(arguments) => commands::import::run(&arguments),
        Command::Serve(arguments) => commands::serve::run(&arguments),
        Command::Completions { shell } => commands::shell::completions(shell),
        Command::Man { about } => commands::shell::man(about.as_deref()),
    }
}
