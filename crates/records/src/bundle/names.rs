//! The names that files of a bundle may have.
//!
//! Letters, digits, space, `-`, `_` and `.` only, and no folder at all: such a name means the same file on every
//! phone and computer, leads nowhere else, and comes out of every zip program as it went in. Letters beyond a to z are
//! left out for the last reason: older programs guess how they are written, and some systems write one in two ways.

use super::{BundleError, Entry, NameFault};
use std::collections::BTreeMap;

/// The most characters of a name.
const NAME_CHARACTERS: usize = 80;
/// Names that some systems keep for devices, whatever their ending.
const DEVICES: [&str; 4] = ["con", "prn", "aux", "nul"];
/// The first letters of such names that a digit follows.
const NUMBERED_DEVICES: [&str; 2] = ["com", "lpt"];

/// What a file is for, as its ending says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ending {
    /// A site, a test or a change.
    Toml,
    /// Readings.
    Csv,
}

/// The ending of a name, where it is one that files of a bundle have.
pub(super) fn ending(name: &str) -> Option<Ending> {
    let (_, ending) = name.rsplit_once('.')?;
    if ending.eq_ignore_ascii_case("toml") {
        Some(Ending::Toml)
    } else if ending.eq_ignore_ascii_case("csv") {
        Some(Ending::Csv)
    } else {
        None
    }
}

/// Refuses a name that no file of a bundle has.
pub(super) fn check(name: &str) -> Result<(), BundleError> {
    match fault(name) {
        None => Ok(()),
        Some(fault) => Err(BundleError::Name {
            entry: name.to_owned(),
            fault,
        }),
    }
}

fn fault(name: &str) -> Option<NameFault> {
    if name.contains(['/', '\\', ':']) || name == "." || name == ".." {
        return Some(NameFault::Folder);
    }
    let allowed = |c: char| c.is_ascii_alphanumeric() || matches!(c, ' ' | '-' | '_' | '.');
    if let Some(character) = name.chars().find(|character| !allowed(*character)) {
        return Some(NameFault::Character(character));
    }
    if name.is_empty() || name.len() > NAME_CHARACTERS {
        return Some(NameFault::Length);
    }
    if ending(name).is_none() {
        return Some(NameFault::Ending);
    }
    let stem = name.rsplit_once('.').map_or(name, |(stem, _)| stem);
    let is_plain = |end: Option<char>| end.is_some_and(|c| c.is_ascii_alphanumeric());
    if !is_plain(stem.chars().next()) || !is_plain(stem.chars().next_back()) {
        return Some(NameFault::Ends);
    }
    is_device(stem).then_some(NameFault::Device)
}

/// Whether a system may take the name for a device: what counts stands before the first point.
fn is_device(stem: &str) -> bool {
    let first = stem.split('.').next().unwrap_or(stem).trim_end();
    let lower = first.to_ascii_lowercase();
    let is_numbered = |device: &&str| {
        let rest = lower.strip_prefix(*device).unwrap_or_default();
        rest.len() == 1 && rest.bytes().all(|byte| byte.is_ascii_digit())
    };
    DEVICES.contains(&lower.as_str()) || NUMBERED_DEVICES.iter().any(is_numbered)
}

/// Refuses two files of the same name, also where only capitals tell them apart: on some systems one would
/// overwrite the other.
pub(super) fn check_distinct(entries: &[Entry]) -> Result<(), BundleError> {
    let mut seen: BTreeMap<String, &str> = BTreeMap::new();
    for entry in entries {
        if let Some(first) = seen.insert(entry.name.to_ascii_lowercase(), &entry.name) {
            return Err(BundleError::Namesakes {
                first: first.to_owned(),
                second: entry.name.clone(),
            });
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn usual_names_pass() {
        for name in [
            "site.toml",
            "2026-05-16.toml",
            "2026-05-16.csv",
            "before_cleaning 2.CSV",
            "a.b.toml",
            "console.toml",
            "com10.csv",
        ] {
            assert_eq!(check(name), Ok(()), "{name}");
        }
    }

    #[test]
    fn names_that_lead_astray_are_refused() {
        let long = format!("{}.csv", "a".repeat(NAME_CHARACTERS));
        for (name, expected) in [
            ("../x.toml", NameFault::Folder),
            ("C:\\x.toml", NameFault::Folder),
            ("c:x.toml", NameFault::Folder),
            ("/x.toml", NameFault::Folder),
            ("a/", NameFault::Folder),
            ("..", NameFault::Folder),
            ("", NameFault::Length),
            (&long, NameFault::Length),
            ("a\u{202e}b.toml", NameFault::Character('\u{202e}')),
            ("a\nb.toml", NameFault::Character('\n')),
            ("a\0.toml", NameFault::Character('\0')),
            ("mañana.toml", NameFault::Character('ñ')),
            ("\u{212a}.toml", NameFault::Character('\u{212a}')),
            (".toml", NameFault::Ends),
            ("-o.toml", NameFault::Ends),
            ("x .toml", NameFault::Ends),
            ("x..toml", NameFault::Ends),
            ("x.toml.", NameFault::Ending),
            ("x.exe", NameFault::Ending),
            ("toml", NameFault::Ending),
            ("NUL.toml", NameFault::Device),
            ("com1.old.csv", NameFault::Device),
            ("aux .x.csv", NameFault::Device),
        ] {
            assert_eq!(fault(name), Some(expected), "{name:?}");
        }
    }
}
