//! The list of sites.

use super::{Phrase, date, here, phrase};
use app::library::{Due, ImportError, Imported, Library, Renamed};
use document::problems;
use document::say;
use records::BundleError;

pub(in crate::page) const TITLE: Phrase = phrase!("Sites");
pub(in crate::page) const SEARCH: Phrase = phrase!("Search by site or date");
pub(in crate::page) const NEW: Phrase = phrase!("New site");
pub(in crate::page) const DEMO: Phrase = phrase!("Look at an invented pad");
pub(in crate::page) const DEMO_NAME: Phrase = phrase!("Larkspur Lane (invented)");
pub(in crate::page) const NOTHING_FOUND: Phrase = phrase!("No site with these words.");
pub(in crate::page) const EMPTY_MORE: Phrase = phrase!(
    "Everything stays on this device and works with no signal. The invented pad is there to play with: two tests, the second \
     typed in a hurry. Nothing at it can go wrong."
);
pub(in crate::page) const EXPORT: Phrase = phrase!("Export");
pub(in crate::page) const SHARE: Phrase = phrase!("Share");
pub(in crate::page) const EXPORT_ALL: Phrase = phrase!("Export all sites");
pub(in crate::page) const IMPORT: Phrase = phrase!("Bring in files");
pub(in crate::page) const IMPORT_HELP: Phrase = phrase!(
    "An exported site (.zip), or a site file with its tests and readings (.toml, .csv), chosen together. Or drop them on this screen."
);
pub(in crate::page) const IMPORT_FILES: Phrase = phrase!("Choose files");
pub(in crate::page) const IMPORT_PASTE: Phrase = phrase!("Paste a text instead");
pub(in crate::page) const IMPORT_TEXT: Phrase =
    phrase!("A site file, a test file, or readings from a spreadsheet");
pub(in crate::page) const IMPORT_TAKE: Phrase = phrase!("Take it in");
pub(in crate::page) const DELETED: Phrase = phrase!("Deleted");
pub(in crate::page) const BRING_BACK: Phrase = phrase!("Bring back");
pub(in crate::page) const NO_TEST: Phrase = phrase!("No test yet");
pub(in crate::page) const WHICH: Phrase = phrase!("Which sites");
pub(in crate::page) const ACTIVE: Phrase = phrase!("In use");
pub(in crate::page) const UNDER_WAY: Phrase = phrase!("Test under way");

/// Says when a site was tested last.
pub(in crate::page) fn last_test(name: &str, tests: usize) -> String {
    match tests {
        1 => say!(here(), "1 test: {name}", name),
        tests => say!(here(), "{tests} tests, last {name}", tests, name),
    }
}

/// Counts the sites that were put away.
pub(in crate::page) fn archived(count: usize) -> String {
    say!(here(), "Put away ({count})", count)
}

/// Says how many sites are not shown yet.
pub(in crate::page) fn more(count: usize) -> String {
    say!(here(), "Show more ({count} left)", count)
}

/// Says when to come back.
pub(in crate::page) fn due(due: &Due) -> String {
    match due {
        Due::Set {
            day,
            has_come: false,
        } => say!(here(), "Return on {day}", day = date(day)),
        Due::Set {
            day,
            has_come: true,
        } => say!(here(), "Due for return since {day}", day = date(day)),
        Due::Filter {
            day,
            has_come: false,
        } => {
            say!(here(), "Filter likely due on {day}", day = date(day))
        }
        Due::Filter {
            day,
            has_come: true,
        } => {
            say!(here(), "Filter likely due since {day}", day = date(day))
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
        0 => say!(
            here(),
            "Only on this device so far: {named}. Export keeps a copy elsewhere.",
            named
        ),
        rest => say!(
            here(),
            "Only on this device so far: {named} and {rest} more. Export keeps a copy elsewhere.",
            named,
            rest
        ),
    }
}

/// Says that the clock stands before the last change.
pub(in crate::page) fn clock(today: &str, last: &str) -> String {
    let (today, last) = (date(today), date(last));
    say!(
        here(),
        "This device's clock says {today}, but something here was changed on {last}. Set the clock: new tests are named by it. Nothing is lost.",
        today,
        last
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
        (Some(_), 0) => say!(here(), "Taken in: {name}.", name),
        (Some(_), tests) => say!(here(), "Taken in: {name}. Tests: {tests}.", name, tests),
        (None, 0) if imported.changes.is_empty() => say!(
            here(),
            "{name} was here already, and nothing in it is new.",
            name
        ),
        (None, 0) => say!(here(), "Added to {name}.", name),
        (None, tests) => say!(here(), "Added to {name}. Tests: {tests}.", name, tests),
    };
    if !imported.changes.is_empty() {
        text.push_str(&say!(
            here(),
            " Changes: {changes}.",
            changes = imported.changes.len()
        ));
    }
    for renamed in &imported.renamed {
        text.push(' ');
        text.push_str(&called_otherwise(renamed));
    }
    text
}

fn called_otherwise(renamed: &Renamed) -> String {
    let Renamed { from, to } = renamed;
    say!(
        here(),
        "{from} is called {to} here: the other name is taken.",
        from,
        to
    )
}

/// Says why a file was not taken in.
pub(in crate::page) fn refused(name: &str, error: &ImportError) -> String {
    let error = match error {
        ImportError::Bundle(BundleError::Texts(problems)) | ImportError::Texts(problems) => {
            problems::text(problems, here().language)
        }
        ImportError::Bundle(error) => problems::said(&error.told(), here()),
        ImportError::NoSite { name } => {
            say!(
                here(),
                "{name} belongs to a site; open the site first",
                name
            )
        }
        ImportError::NoReadings { name, readings } => say!(
            here(),
            "{name} names the readings {readings}; import both in one bundle, or the readings alone",
            name,
            readings
        ),
        ImportError::Ending { name } => say!(
            here(),
            "{name} is no file of the page; expected .zip, .toml or .csv",
            name
        ),
    };
    say!(here(), "{name} was not taken in: {error}", name, error)
}
