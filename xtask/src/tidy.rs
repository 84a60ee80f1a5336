//! What no compiler sees: the rules of the house, each in a file of its own under `tidy/`.
//!
//! Every rule is a pure function from plain data to the list of what breaks it; only this file touches the tree.

pub(crate) mod floors;
mod length;
mod machine_paths;
mod physics_docs;
mod purity;
mod sources;

use std::path::Path;

use crate::error::Error;
use crate::project::Project;
use crate::step;

/// Checks the tree against all the rules and names every offender.
pub(crate) fn run(project: &Project) -> Result<(), Error> {
    step::timed("tidy", || {
        let offences = offences(project)?;
        for offence in &offences {
            eprintln!("{offence}");
        }
        if offences.is_empty() {
            return Ok(());
        }
        Err(Error::Untidy {
            count: offences.len(),
        })
    })
}

fn offences(project: &Project) -> Result<Vec<String>, Error> {
    let metadata = project.metadata()?;
    let mut offences = floors::offences(&floors::crates(&metadata));
    offences.extend(purity::offences(&purity::graph(&metadata)));

    let files = project.files()?;
    offences.extend(sources::offences(&files));
    let mut physics = 0;
    for file in &files {
        let Some(text) = project.text(file)? else {
            continue;
        };
        offences.extend(machine_paths::offences(file, &text));
        if is_rust(file) {
            offences.extend(length::offence(file, &text));
        }
        if physics_docs::concerns(file) {
            let functions = physics_docs::functions(&text);
            physics += functions.len();
            let exists = |path: &str| project.root().join(path).exists();
            offences.extend(physics_docs::offences(file, &functions, exists));
        }
    }
    if physics == 0 {
        offences.push(
            "tidy: no function of physics was found to check; has its folder moved?".to_owned(),
        );
    }
    Ok(offences)
}

fn is_rust(file: &str) -> bool {
    Path::new(file)
        .extension()
        .is_some_and(|extension| extension == "rs")
}
