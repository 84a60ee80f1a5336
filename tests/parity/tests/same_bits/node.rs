//! The engine as a WebAssembly module, built and run in Node.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

const TARGET: &str = "wasm32-unknown-unknown";
/// The profile of the workspace that is made for this: quick to build, and small.
const PROFILE: &str = "parity";

/// Gives the module's answer to each request. The name tells apart what tests ask at the same time.
pub(crate) fn answers(name: &str, requests: &[String]) -> Vec<String> {
    let list = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("parity-{name}.json"));
    fs::write(&list, serde_json::to_string(requests).unwrap()).unwrap();
    let output = Command::new("node")
        .arg(Path::new(env!("CARGO_MANIFEST_DIR")).join("run.mjs"))
        .arg(module())
        .arg(&list)
        .output()
        .expect("Node is needed; `cargo xtask test` says how it is installed");
    let complaint = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "Node failed: {complaint}");
    serde_json::from_slice(&output.stdout).unwrap()
}

/// Builds the module and says where it is.
fn module() -> PathBuf {
    let output = Command::new(env!("CARGO"))
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args(["build", "--package", "parity", "--lib"])
        .args(["--target", TARGET, "--profile", PROFILE])
        .arg("--target-dir")
        .arg(target_folder())
        .output()
        .unwrap();
    let complaint = String::from_utf8_lossy(&output.stderr);
    assert!(
        output.status.success(),
        "the module does not build: {complaint}"
    );
    target_folder()
        .join(TARGET)
        .join(PROFILE)
        .join("parity.wasm")
}

/// The folder that this test was built in.
fn target_folder() -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR"))
        .parent()
        .unwrap()
        .to_owned()
}
