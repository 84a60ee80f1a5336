//! The rules of accessibility that a machine can check, by axe-core.

use crate::browser::Browser;
use crate::folders;
use serde_json::Value;

/// Where `cargo xtask test` puts it, below the folder that cargo builds into.
const SCRIPT: &str = "npm/node_modules/axe-core/axe.min.js";

/// A rule that the page breaks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Violation {
    /// The name of the rule.
    pub rule: String,
    /// What it says.
    pub help: String,
    /// The elements that break it.
    pub elements: Vec<String>,
}

/// Gives the rules that the page breaks as it stands.
pub(crate) fn violations(browser: &Browser) -> Vec<Violation> {
    let path = folders::target().join(SCRIPT);
    let axe = std::fs::read_to_string(&path).unwrap_or_else(|error| {
        panic!("{}: {error}; `cargo xtask test` fetches it", path.display())
    });
    browser.run(&axe);
    let found = browser.run_async(
        "const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22a', 'wcag22aa', 'best-practice'];\
         const found = await axe.run(document, { runOnly: tags, resultTypes: ['violations'] });\
         if (found.passes.length === 0) throw new Error('no rule was tried');\
         return found.violations;",
    );
    found
        .as_array()
        .into_iter()
        .flatten()
        .map(violation)
        .collect()
}

fn violation(found: &Value) -> Violation {
    let text = |key: &str| found[key].as_str().unwrap_or_default().to_owned();
    let nodes = found["nodes"].as_array().into_iter().flatten();
    Violation {
        rule: text("id"),
        help: text("help"),
        elements: nodes
            .map(|node| node["html"].as_str().unwrap_or_default().to_owned())
            .collect(),
    }
}
