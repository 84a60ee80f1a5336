//! What a shell and a manual reader ask for.

use crate::arguments::Line;
use crate::failure::Failure;
use crate::output;
use clap::CommandFactory;
use std::process::ExitCode;

/// Prints completions.
pub(crate) fn completions(shell: clap_complete::Shell) -> Result<ExitCode, Failure> {
    let mut text = Vec::new();
    clap_complete::generate(shell, &mut Line::command(), "headwright", &mut text);
    output::print(&String::from_utf8_lossy(&text))
}

/// Prints the manual page.
pub(crate) fn man() -> Result<ExitCode, Failure> {
    let mut text = Vec::new();
    clap_mangen::Man::new(Line::command()).render(&mut text)?;
    output::print(&String::from_utf8_lossy(&text))
}
