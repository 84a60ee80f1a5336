//! Which kind of file a text is, told by its keys: who names the wrong file is told that, and not of every key in it.

use crate::problems::Problems;
use crate::told::later;
use crate::walker::Table;
use crate::{Problem, Source, Told, document, told};

/// A kind of file that is written in TOML.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// The site.
    Site,
    /// A test.
    Test,
    /// A change of the pad.
    Change,
}

/// The keys that a file of a change alone has.
const OF_CHANGES: [&str; 6] = [
    "part",
    "filter",
    "program",
    "capital",
    "life",
    "maintenance",
];

impl Kind {
    /// Tells the kind of a text from its keys; `None` where they are those of none.
    fn of(root: &Table<'_>) -> Option<Self> {
        let is_test = root.has("readings") || root.has("step");
        let has_own_key = OF_CHANGES.iter().any(|key| root.has(key));
        if root.has("name") && !is_test && (has_own_key || !root.has("pump")) {
            return Some(Self::Change);
        }
        match (root.has("pump"), is_test) {
            (true, false) => Some(Self::Site),
            (false, true) => Some(Self::Test),
            _ => None,
        }
    }

    /// Notes where a text is a file of the other kind; says whether it was.
    pub(crate) fn refuse_other(self, root: &Table<'_>) -> bool {
        let is_other = match Self::of(root) {
            Some(Self::Change) | None => false,
            Some(kind) => kind != self,
        };
        if is_other {
            let message = match self {
                Self::Site => told!("is a test file; expected the site file"),
                Self::Test | Self::Change => told!("is a site file; expected a test file"),
            };
            root.problems.add(None, message, Some(Told::plain(ORDER)));
        }
        is_other
    }

    /// Finds the problem of a text that is no TOML but a table of readings.
    pub(crate) fn readings_instead(self, source: &Source) -> Option<Problem> {
        let first = source.text.lines().find(|line| !line.trim().is_empty())?;
        let is_table = first.contains(['[']) && first.contains([',', ';']) && !first.contains('=');
        let expected = match self {
            Self::Site => told!("the site file"),
            Self::Test | Self::Change => told!("the test file that names it"),
        };
        is_table.then(|| Problem {
            file: source.name.clone(),
            line: 0,
            column: 0,
            message: told!("is a file of readings; expected {expected}", expected),
            hint: Some(Told::plain(ORDER)),
        })
    }
}

/// Whether a text is a test file, or one that cannot be read as TOML and so may be one: a file of another kind, such as a
/// profile, is neither.
pub fn is_test_file(source: &Source) -> bool {
    if source.too_large_for_toml().is_some() {
        return true;
    }
    let (tree, errors) = document::parse(&source.text);
    let problems = Problems::new(source);
    !errors.is_empty() || Kind::of(&Table::root(&problems, &tree)) == Some(Kind::Test)
}

/// Whether a text is the file of a change: it has a name as a site has, and describes no whole pump, or has keys that only a
/// change has.
pub fn is_change_file(source: &Source) -> bool {
    let (tree, errors) = document::parse(&source.text);
    let problems = Problems::new(source);
    errors.is_empty() && Kind::of(&Table::root(&problems, &tree)) == Some(Kind::Change)
}

/// The order in which files are named.
const ORDER: &str = later!(
    "name the site file first, then the test files; a test names its readings itself: readings = \"2026-05-16.csv\""
);
