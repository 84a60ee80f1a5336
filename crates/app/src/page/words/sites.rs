//! The list of sites.

use super::date;
use app::library::{Due, ImportError, Imported, Library, Renamed};

pub(in crate::page) const TITLE: &str = "Sites";
pub(in crate::page) const SEARCH: &str = "Search by site or date";
pub(in crate::page) const NEW: &str = "New site";
pub(in crate::page) const DEMO: &str = "Look at an invented pad";
pub(in crate::page) const DEMO_NAME: &str = "Larkspur Lane (invented)";
pub(in crate::page) const NOTHING_FOUND: &str = "No site with these words.";
pub(in crate::page) const EMPTY_MORE: &str = "Everything stays on this device and works with no signal. The invented pad is there to play with: two tests, the second \
     typed in a hurry. Nothing at it can go wrong.";
pub(in crate::page) const EXPORT: &str = "Export";
pub(in crate::page) const SHARE: &str = "Share";
pub(in crate::page) const EXPORT_ALL: &str = "Export all sites";
pub(in crate::page) const IMPORT: &str = "Bring in files";
pub(in crate::page) const IMPORT_HELP: &str = "An exported site (.zip), or a site file with its tests and readings (.toml, .csv), chosen together. Or drop them on this screen.";
pub(in crate::page) const IMPORT_FILES: &str = "Choose files";
pub(in crate::page) const IMPORT_PASTE: &str = "Paste a text instead";
pub(in crate::page) const IMPORT_TEXT: &str =
    "A site file, a test file, or readings from a spreadsheet";
pub(in crate::page) const IMPORT_TAKE: &str = "Take it in";
pub(in crate::page) const DELETED: &str = "Deleted";
pub(in crate::page) const BRING_BACK: &str = "Bring back";
pub(in crate::page) const NO_TEST: &str = "No test yet";
pub(in crate::page) const WHICH: &str = "Which sites";
pub(in crate::page) const ACTIVE: &str = "In use";
pub(in crate::page) const UNDER_WAY: &str = "Test under way";

/// Says when a site was tested last.
pub(in crate::page) fn last_test(name: &str, tests: usize) -> String {
    match tests {
        1 => format!("1 test: {name}"),
        tests => format!("{tests} tests, last {name}"),
    }
}

/// Counts the sites that were put away.
pub(in crate::page) fn archived(count: usize) -> String {
    format!("Put away ({count})")
}

/// Says how many sites are not shown yet.
pub(in crate::page) fn more(count: usize) -> String {
    format!("Show more ({count} left)")
}

/// Says when to come back.
pub(in crate::page) fn due(due: &Due) -> String {
    match due {
        Due::Set {
            day,
            has_come: false,
        } => format!("Return on {}", date(day)),
        Due::Set {
            day,
            has_come: true,
        } => format!("Due for return since {}", date(day)),
        Due::Filter {
            day,
            has_come: false,
        } => {
            format!("Filter likely due on {}", date(day))
        }
        Due::Filter {
            day,
            has_come: true,
        } => {
            format!("Filter likely due since {}", date(day))
        }
    }
}

/// How many sites are named in a sentence.
const NAMED: usize = 3;

/// Says that changes are nowhere but here.
pub(in crate::page) fn reminder(names: &[String]) -> String {
    let (named, rest) = names.split_at(names.len().min(NAMED));
    let named = named.join(", ");
    match rest.len() {
        0 => format!("Only on this device so far: {named}. Export keeps a copy elsewhere."),
        rest => format!(
            "Only on this device so far: {named} and {rest} more. Export keeps a copy elsewhere."
        ),
    }
}

/// Says that the clock stands before the last change.
pub(in crate::page) fn clock(today: &str, last: &str) -> String {
    format!(
        "This device's clock says {today}, but something here was changed on {last}. Set the clock: new tests are named by it. Nothing is lost."
    )
}

/// Says what a file became.
pub(in crate::page) fn taken(imported: &Imported, library: &Library) -> String {
    let site = imported
        .site
        .as_ref()
        .or_else(|| library.site(&imported.site_id));
    let name = site.map_or("", |site| site.name.as_str());
    let mut text = match (&imported.site, imported.tests.len()) {
        (Some(_), 0) => format!("Taken in: {name}."),
        (Some(_), tests) => format!("Taken in: {name}. Tests: {tests}."),
        (None, 0) if imported.changes.is_empty() => {
            format!("{name} was here already, and nothing in it is new.")
        }
        (None, 0) => format!("Added to {name}."),
        (None, tests) => format!("Added to {name}. Tests: {tests}."),
    };
    if !imported.changes.is_empty() {
        text = format!("{text} Changes: {}.", imported.changes.len());
    }
    for renamed in &imported.renamed {
        text.push(' ');
        text.push_str(&called_otherwise(renamed));
    }
    text
}

fn called_otherwise(renamed: &Renamed) -> String {
    let Renamed { from, to } = renamed;
    format!("{from} is called {to} here: the other name is taken.")
}

/// Says why a file was not taken in.
pub(in crate::page) fn refused(name: &str, error: &ImportError) -> String {
    format!("{name} was not taken in: {error}")
}
