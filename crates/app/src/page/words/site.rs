//! One site: its tests, its last answer, and its file.

use super::{Phrase, date, here, phrase, rpm};
use app::library::{Found, Visit};
use document::say;

pub(in crate::page) const EDIT: Phrase = phrase!("Edit the site");
pub(in crate::page) const NEW_TEST: Phrase = phrase!("New test");
pub(in crate::page) const TESTS: Phrase = phrase!("Tests");
pub(in crate::page) const NO_TESTS: Phrase = phrase!(
    "No test yet. A new test asks for the line-up first and then steps through the speeds."
);
pub(in crate::page) const LAST: Phrase = phrase!("What the last test said");
pub(in crate::page) const OPEN: Phrase = phrase!("Under way: go on");
pub(in crate::page) const INLINE: Phrase = phrase!("Readings stand in the test file");
pub(in crate::page) const BASELINE: Phrase = phrase!("Baseline");
pub(in crate::page) const BASELINE_CHOICE: Phrase = phrase!("Other visits are held against");
pub(in crate::page) const DELETED_TESTS: Phrase = phrase!("Deleted tests");
pub(in crate::page) const RETURN_ON: Phrase = phrase!("Return on");
pub(in crate::page) const RETURN_MORE: Phrase =
    phrase!("Leave empty to go by the filter, where two visits or more say how fast it loads.");
pub(in crate::page) const DUPLICATE: Phrase = phrase!("Duplicate without its tests");
pub(in crate::page) const PUT_AWAY: Phrase = phrase!("Put away");
pub(in crate::page) const TAKE_OUT: Phrase = phrase!("Take out again");
pub(in crate::page) const DELETE: Phrase = phrase!("Delete the site");
pub(in crate::page) const DELETE_ASK: Phrase = phrase!(
    "Delete this site and its tests here? They can be brought back from the list of sites."
);
pub(in crate::page) const DELETE_SURE: Phrase = phrase!("Delete");
pub(in crate::page) const DELETE_TEST: Phrase = phrase!("Delete the test");
pub(in crate::page) const DELETE_TEST_ASK: Phrase = phrase!("Delete this test here?");
pub(in crate::page) const MORE: Phrase = phrase!("Bring in tests, duplicate, put away, delete");
pub(in crate::page) const NOT_IN_ORDER: Phrase = phrase!("The site file is not in order");
pub(in crate::page) const MEND: Phrase = phrase!("Mend it");
pub(in crate::page) const EDIT_TITLE: Phrase = phrase!("Edit the site");
pub(in crate::page) const FORM: Phrase = phrase!("The questions");
pub(in crate::page) const FORM_GONE: Phrase =
    phrase!("The text is not in order, so the questions are closed. Mend the text first.");
pub(in crate::page) const TEXT: Phrase = phrase!("The whole site file");
pub(in crate::page) const TEXT_HELP: Phrase = phrase!(
    "Everything that a site file can say: lines and their parts, the maker's curve, limits, tariff, tasks. Kept as you type; comments stay."
);
pub(in crate::page) const IN_ORDER: Phrase = phrase!("The file is in order.");
pub(in crate::page) const DONE: Phrase = phrase!("Done");
pub(in crate::page) const CHANGES: Phrase = phrase!("Kept changes");
pub(in crate::page) const CHANGES_MORE: Phrase = phrase!(
    "Kept from “What if” or brought in. They go with the exported site, and a report weighs those that you choose."
);

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
        return INLINE.to_string();
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
            say!(here(), "{low}–{high} rpm", low = rpm(low), high = rpm(high))
        } else {
            say!(here(), "{speed} rpm", speed = rpm(high))
        }
    });
    let pieces = [when, Some(rows(visit.rows)), speeds].into_iter().flatten();
    let pieces: Vec<String> = pieces.filter(|piece| !piece.is_empty()).collect();
    pieces.join(" · ")
}

fn rows(rows: usize) -> String {
    match rows {
        0 => say!(here(), "nothing read yet").to_owned(),
        1 => say!(here(), "1 row").to_owned(),
        rows => say!(here(), "{rows} rows", rows),
    }
}

/// What was found at a visit: a word for the style sheet, a sign and a word for the person.
pub(in crate::page) fn found(found: Found) -> Option<(&'static str, &'static str, String)> {
    match found {
        Found::Nothing => None,
        Found::Fits => Some(("fits", "✓", say!(here(), "Every reading fits").to_owned())),
        Found::Doubts { readings: 1 } => {
            Some(("doubts", "?", say!(here(), "1 reading in doubt").to_owned()))
        }
        Found::Doubts { readings } => Some((
            "doubts",
            "?",
            say!(here(), "{readings} readings in doubt", readings),
        )),
    }
}

/// Says how many problems there are.
pub(in crate::page) fn problems(count: usize) -> String {
    match count {
        1 => say!(here(), "1 thing to mend:").to_owned(),
        count => say!(here(), "{count} things to mend:", count),
    }
}

/// Says where a problem stands.
pub(in crate::page) fn place(line: usize, column: usize) -> String {
    match (line, column) {
        (0, _) => say!(here(), "Whole file").to_owned(),
        (line, 0) => say!(here(), "Line {line}", line),
        (line, column) => say!(here(), "Line {line}, column {column}", line, column),
    }
}
