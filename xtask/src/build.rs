//! The command as a program to hand on.

use crate::error::Error;
use crate::project::Project;
use crate::step;

/// How the command is built.
#[derive(Clone, Copy)]
pub(crate) enum Profile {
    /// Quick to build.
    Development,
    /// Fully optimised.
    Release,
}

impl Profile {
    /// Gives the profile that the person chose.
    pub(crate) fn chosen(release: bool) -> Self {
        if release {
            Self::Release
        } else {
            Self::Development
        }
    }
}

/// Builds the command and says where it is.
pub(crate) fn run(project: &Project, profile: Profile) -> Result<(), Error> {
    let (arguments, folder) = match profile {
        Profile::Development => ("build --package headwright", "debug"),
        Profile::Release => ("build --package headwright --release", "release"),
    };
    step::cargo(project, arguments)?;
    let program = format!("headwright{}", std::env::consts::EXE_SUFFIX);
    let target = project.metadata()?.target_directory;
    let built = target.join(folder).join(program);
    println!("{}", built.strip_prefix(project.root()).unwrap_or(&built));
    Ok(())
}
