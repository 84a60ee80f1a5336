//! One site: its tests, its last answer, and its file.

use super::{date, rpm};
use app::library::{Found, Visit};

pub(in crate::page) const EDIT: &str = "Edit the site";
pub(in crate::page) const NEW_TEST: &str = "New test";
pub(in crate::page) const TESTS: &str = "Tests";
pub(in crate::page) const NO_TESTS: &str =
    "No test yet. A new test asks for the line-up first and then steps through the speeds.";
pub(in crate::page) const LAST: &str = "What the last test said";
pub(in crate::page) const OPEN: &str = "Under way: go on";
pub(in crate::page) const INLINE: &str = "Readings stand in the test file";
pub(in crate::page) const BASELINE: &str = "Baseline";
pub(in crate::page) const BASELINE_CHOICE: &str = "Other visits are held against";
pub(in crate::page) const DELETED_TESTS: &str = "Deleted tests";
pub(in crate::page) const RETURN_ON: &str = "Return on";
pub(in crate::page) const RETURN_MORE: &str =
    "Leave empty to go by the filter, where two visits or more say how fast it loads.";
pub(in crate::page) const DUPLICATE: &str = "Duplicate without its tests";
pub(in crate::page) const PUT_AWAY: &str = "Put away";
pub(in crate::page) const TAKE_OUT: &str = "Take out again";
pub(in crate::page) const DELETE: &str = "Delete the site";
pub(in crate::page) const DELETE_ASK: &str =
    "Delete this site and its tests here? They can be brought back from the list of sites.";
pub(in crate::page) const DELETE_SURE: &str = "Delete";
pub(in crate::page) const DELETE_TEST: &str = "Delete the test";
pub(in crate::page) const DELETE_TEST_ASK: &str = "Delete this test here?";
pub(in crate::page) const MORE: &str = "Bring in tests, duplicate, put away, delete";
pub(in crate::page) const NOT_IN_ORDER: &str = "The site file is not in order";
pub(in crate::page) const MEND: &str = "Mend it";
pub(in crate::page) const EDIT_TITLE: &str = "Edit the site";
pub(in crate::page) const FORM: &str = "The questions";
pub(in crate::page) const FORM_GONE: &str =
    "The text is not in order, so the questions are closed. Mend the text first.";
pub(in crate::page) const TEXT: &str = "The whole site file";
pub(in crate::page) const TEXT_HELP: &str = "Everything that a site file can say: lines and their parts, the maker's curve, limits, tariff, tasks. Kept as you type; comments stay.";
pub(in crate::page) const IN_ORDER: &str = "The file is in order.";
pub(in crate::page) const DONE: &str = "Done";
pub(in crate::page) const CHANGES: &str = "Kept changes";
pub(in crate::page) const CHANGES_MORE: &str = "Kept from “What if” or brought in. They go with the exported site, and a report weighs those that you choose.";

/// Names the button that deletes something.
pub(in crate::page) fn delete_named(name: &str) -> String {
    format!("{DELETE_SURE}: {name}")
}

/// Names the button that puts something with the downloads.
pub(in crate::page) fn export_named(name: &str) -> String {
    format!("{}: {name}", super::sites::EXPORT)
}

/// Says when a visit was, how much was read and between which speeds.
pub(in crate::page) fn visit(visit: &Visit) -> String {
    if !visit.is_table {
        return INLINE.to_owned();
    }
    let when = visit.when.as_ref().map(|when| match &when.time {
        // A test is mostly named after its day.
        Some(time) if visit.name == when.day => time.clone(),
        Some(time) => format!("{}, {time}", date(&when.day)),
        None if visit.name == when.day => String::new(),
        None => date(&when.day),
    });
    let speeds = visit.speeds_rpm.map(|(low, high)| {
        if low < high {
            format!("{}–{} rpm", rpm(low), rpm(high))
        } else {
            format!("{} rpm", rpm(high))
        }
    });
    let pieces = [when, Some(rows(visit.rows)), speeds].into_iter().flatten();
    let pieces: Vec<String> = pieces.filter(|piece| !piece.is_empty()).collect();
    pieces.join(" · ")
}

fn rows(rows: usize) -> String {
    match rows {
        0 => "nothing read yet".to_owned(),
        1 => "1 row".to_owned(),
        rows => format!("{rows} rows"),
    }
}

/// What was found at a visit: a word for the style sheet, a sign and a word for the person.
pub(in crate::page) fn found(found: Found) -> Option<(&'static str, &'static str, String)> {
    match found {
        Found::Nothing => None,
        Found::Fits => Some(("fits", "✓", "Every reading fits".to_owned())),
        Found::Doubts { readings: 1 } => Some(("doubts", "?", "1 reading in doubt".to_owned())),
        Found::Doubts { readings } => {
            Some(("doubts", "?", format!("{readings} readings in doubt")))
        }
    }
}

/// Says how many problems there are.
pub(in crate::page) fn problems(count: usize) -> String {
    match count {
        1 => "1 thing to mend:".to_owned(),
        count => format!("{count} things to mend:"),
    }
}

/// Says where a problem stands.
pub(in crate::page) fn place(line: usize, column: usize) -> String {
    match (line, column) {
        (0, _) => "Whole file".to_owned(),
        (line, 0) => format!("Line {line}"),
        (line, column) => format!("Line {line}, column {column}"),
    }
}
