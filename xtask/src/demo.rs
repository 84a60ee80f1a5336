//! The demonstration: what the command makes of an invented pool.

use crate::error::Error;
use crate::project::Project;
use crate::step;

/// Builds the command and shows its demonstration.
///
/// The development profile is ready soonest on a fresh clone, and its physics is optimised all the same.
pub(crate) fn run(project: &Project) -> Result<(), Error> {
    step::cargo(project, "build --package headwright")?;
    step::cargo(project, "run --quiet --package headwright -- demo")
}
