//! The page: the program compiled to WebAssembly, and the folder around it.

use std::path::{Path, PathBuf};
use std::process::Command;

use crate::error::Error;
use crate::project::Project;
use crate::step;
use crate::tools::{self, WASM};

/// How the page is built.
#[derive(Clone, Copy)]
pub(crate) enum Profile {
    /// Quick to build again while it is worked on; too large to be handed on.
    Development,
    /// Small, as it is handed on.
    Small,
}

impl Profile {
    /// Gives the profile that the person chose.
    pub(crate) fn chosen(development: bool) -> Self {
        if development {
            Self::Development
        } else {
            Self::Small
        }
    }

    fn name(self) -> &'static str {
        match self {
            Self::Development => "page-dev",
            Self::Small => "page",
        }
    }

    /// The most that a first visit may fetch, in bytes as sent. A megabyte is what is wanted, for a weak signal carries that in half
    /// a minute; with two languages, the views of the result, the report and the worker the page is above it, and this keeps it from
    /// growing on.
    fn most_sent_bytes(self) -> &'static str {
        match self {
            Self::Development => "100000000",
            Self::Small => "1200000",
        }
    }
}

/// Builds the page and says where it is.
pub(crate) fn run(project: &Project, profile: Profile) -> Result<(), Error> {
    let folder = build(project, profile)?;
    let shown = folder.strip_prefix(project.root()).unwrap_or(&folder);
    println!("{}", shown.display());
    Ok(())
}

/// Builds the page and gives its folder, from which the next build of the command takes it in.
pub(crate) fn build(project: &Project, profile: Profile) -> Result<PathBuf, Error> {
    tools::require(&[tools::WASM_TARGET])?;
    let name = profile.name();
    let mut module = Command::new("cargo");
    module
        .current_dir(project.root())
        .args(["build", "--package", "app", "--bin", "app"])
        .args(["--target", WASM, "--profile", name])
        .args(["--config", &without_machine(project)]);
    step::run(&format!("the page's program, profile {name}"), &mut module)?;

    let target = project.metadata()?.target_directory.into_std_path_buf();
    let folder = target.join("app");
    let mut page = Command::new("cargo");
    page.current_dir(project.root())
        .args(["run", "--quiet", "--package", "page", "--"])
        .arg(target.join(WASM).join(name).join("app.wasm"))
        .arg("crates/app/static")
        .arg(&folder)
        .arg(profile.most_sent_bytes());
    step::run("the page's folder", &mut page)?;
    Ok(folder)
}

/// Keeps the folders of this machine out of the module: they tell of it, and would give each machine another page.
fn without_machine(project: &Project) -> String {
    let home = std::env::var_os("CARGO_HOME")
        .map(PathBuf::from)
        .or_else(|| std::env::home_dir().map(|home| home.join(".cargo")))
        .unwrap_or_default();
    let written = |folder: &Path, name| format!("--remap-path-prefix={}={name}", folder.display());
    let flags = [
        written(&home, "cargo"),
        written(project.root(), "headwright"),
    ];
    // It adds to the flags of `.cargo/config.toml`, where a variable of the environment would replace them.
    format!("target.{WASM}.rustflags={flags:?}")
}
