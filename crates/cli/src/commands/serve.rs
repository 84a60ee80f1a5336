//! `serve`: the page for the browsers of this machine.

use crate::arguments::ServeArguments;
use crate::failure::Failure;
use crate::output;
use server::listen::{Door, ServeError};
use server::page::Page;
use std::path::Path;
use std::process::ExitCode;

/// Runs the command.
pub(crate) fn run(arguments: &ServeArguments) -> Result<ExitCode, Failure> {
    let page = page(arguments.page.as_deref())?;
    let door = Door::open(arguments.port).map_err(|error| failure(&error))?;
    let door = door.setting(super::report::setter());
    output::print(&format!(
        "Headwright: {}\n\
         It is for the browsers of this machine; Ctrl-C ends it.\n\
         A phone keeps a page only from an https address: put the files of target/app on any https host, and open\n\
         that on the phone once with a signal.\n",
        door.address()
    ))?;
    door.serve_until_interrupted(page)
        .map_err(|error| failure(&error))?;
    Ok(ExitCode::SUCCESS)
}

fn page(folder: Option<&Path>) -> Result<Page, Failure> {
    let Some(folder) = folder else {
        return Page::built_in().ok_or_else(|| {
            Failure::NoAnswer(
                "this program was built without the page\n  hint: run `cargo xtask app`, then build it again"
                    .to_owned(),
            )
        });
    };
    let shown = folder.display();
    let page = Page::of_folder(folder).map_err(|error| {
        Failure::call(
            format!("--page {shown}: {error}"),
            "name the folder that `cargo xtask app` writes",
        )
    })?;
    page.ok_or_else(|| {
        Failure::call(
            format!("--page {shown}: it has no {}", server::page::INDEX),
            "name the folder that `cargo xtask app` writes",
        )
    })
}

fn failure(error: &ServeError) -> Failure {
    match error {
        ServeError::Busy { port } => Failure::call(
            error.to_string(),
            format!(
                "perhaps the page is served already: open http://127.0.0.1:{port}/; else end that program, or \
                 choose another port with --port, where the browser will not see what it keeps for this one"
            ),
        ),
        ServeError::Failed { .. } => Failure::NoAnswer(error.to_string()),
    }
}
