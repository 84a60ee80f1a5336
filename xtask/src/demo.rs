//! The demonstration: what the command makes of an invented pool, and the page that does the same with no signal.

use crate::app;
use crate::error::Error;
use crate::project::Project;
use crate::step;

/// The command without what makes PDFs: the demonstration shows none, and is there in a fraction of the time.
const COMMAND: &str = "--package headwright --no-default-features";

/// What follows the command's answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum After {
    /// Nothing: it is over in a minute, and ends by itself.
    Nothing,
    /// The page is built and served, until the person ends it.
    Page,
}

impl After {
    /// Gives what the person chose.
    pub(crate) fn chosen(serve: bool) -> Self {
        if serve { Self::Page } else { Self::Nothing }
    }
}

/// Builds the command and shows its demonstration.
///
/// The development profile is ready soonest on a fresh clone, and its physics is optimised all the same.
pub(crate) fn run(project: &Project, after: After) -> Result<(), Error> {
    step::cargo(project, &format!("build {COMMAND}"))?;
    step::cargo(project, &format!("run --quiet {COMMAND} -- demo"))?;
    match after {
        After::Nothing => {
            eprintln!("\nThe same in a page that works with no signal: cargo xtask demo --serve");
            Ok(())
        }
        After::Page => {
            app::build(project, app::Profile::Small)?;
            step::cargo(project, &format!("run --quiet {COMMAND} -- serve"))
        }
    }
}
