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

/// Prints the manual page of the whole, or of one command.
pub(crate) fn man(about: Option<&str>) -> Result<ExitCode, Failure> {
    let mut whole = Line::command();
    // Building gives each command its full name.
    whole.build();
    let page = match about {
        None => whole,
        Some(name) => {
            let names: Vec<&str> = whole
                .get_subcommands()
                .map(clap::Command::get_name)
                .collect();
            let hint = format!("name one of: {}", names.join(", "));
            let found = whole.find_subcommand(name).cloned();
            found.ok_or_else(|| Failure::call(format!("there is no command {name}"), hint))?
        }
    };
    let mut text = Vec::new();
    clap_mangen::Man::new(page)
        .render(&mut text)
        .map_err(|error| Failure::Output("the manual".to_owned(), error))?;
    output::print(&String::from_utf8_lossy(&text))
}
