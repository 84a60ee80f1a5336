//! The floors of the house: a crate imports lower floors only, never a higher one nor its neighbour.

use cargo_metadata::{DependencyKind, Metadata};

/// Each crate and its floor.
const FLOORS: &[(&str, u8)] = &[
    ("numerics", 0),
    ("hydraulics", 1),
    ("metrology", 1),
    ("records", 2),
    ("fieldtest", 3),
    ("operation", 4),
    ("charts", 5),
    ("document", 6),
    ("pdf", 7),
    ("store", 7),
    ("app", 8),
    ("server", 8),
    ("headwright", 9),
];

/// The highest floor without files, clock, environment and network.
const HIGHEST_PURE: u8 = 6;

/// Crates that stand beside the house and may import any of it.
const BESIDE: &[&str] = &["browser", "page", "parity", "xtask"];

/// A crate of the workspace.
pub(super) struct Crate {
    name: String,
    /// What it is built from; crates used by its tests alone are left out.
    dependencies: Vec<String>,
}

/// Whether a crate stands on a floor that must be pure.
pub(crate) fn is_pure(name: &str) -> bool {
    floor(name).is_some_and(|floor| floor <= HIGHEST_PURE)
}

/// Gives the crates of the workspace.
pub(super) fn crates(metadata: &Metadata) -> Vec<Crate> {
    let packages = metadata.workspace_packages();
    packages
        .iter()
        .map(|package| Crate {
            name: package.name.to_string(),
            dependencies: package
                .dependencies
                .iter()
                .filter(|dependency| dependency.kind != DependencyKind::Development)
                .map(|dependency| dependency.name.clone())
                .collect(),
        })
        .collect()
}

/// Names the crates without a floor, and every import that does not lead down.
pub(super) fn offences(crates: &[Crate]) -> Vec<String> {
    crates
        .iter()
        .filter(|subject| !BESIDE.contains(&subject.name.as_str()))
        .flat_map(|subject| match floor(&subject.name) {
            Some(own) => imports_not_down(subject, own),
            None => vec![format!(
                "{}: a crate without a floor; give it one in {}",
                subject.name,
                file!()
            )],
        })
        .collect()
}

fn imports_not_down(subject: &Crate, own: u8) -> Vec<String> {
    subject
        .dependencies
        .iter()
        .filter_map(|dependency| {
            let other = match floor(dependency) {
                Some(other) if other >= own => format!("on floor {other}"),
                None if BESIDE.contains(&dependency.as_str()) => "beside the house".to_owned(),
                _ => return None,
            };
            Some(format!(
                "{}: on floor {own}, imports {dependency} {other}; only lower floors may be imported",
                subject.name
            ))
        })
        .collect()
}

fn floor(name: &str) -> Option<u8> {
    FLOORS
        .iter()
        .find(|(known, _)| *known == name)
        .map(|(_, floor)| *floor)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(name: &str, dependencies: &[&str]) -> Vec<String> {
        offences(&[Crate {
            name: name.to_owned(),
            dependencies: dependencies
                .iter()
                .map(|&dependency| dependency.to_owned())
                .collect(),
        }])
    }

    #[test]
    fn imports_of_lower_floors_and_of_the_registry_pass() {
        assert!(of("fieldtest", &["numerics", "hydraulics", "records", "serde"]).is_empty());
        assert!(of("parity", &["document", "headwright"]).is_empty());
    }

    #[test]
    fn an_import_of_a_higher_floor_is_named() {
        let found = of("records", &["numerics", "document"]);
        assert_eq!(found.len(), 1);
        assert!(found[0].starts_with("records: on floor 2, imports document on floor 6"));
    }

    #[test]
    fn an_import_of_a_neighbour_is_named() {
        assert_eq!(of("hydraulics", &["metrology"]).len(), 1);
        assert_eq!(of("server", &["app"]).len(), 1);
    }

    #[test]
    fn an_import_of_a_script_is_named() {
        assert_eq!(of("headwright", &["xtask"]).len(), 1);
    }

    #[test]
    fn a_new_crate_needs_a_floor() {
        assert_eq!(of("newcomer", &[]).len(), 1);
    }

    #[test]
    fn the_pure_floors_end_below_what_touches_the_world() {
        assert!(is_pure("numerics") && is_pure("document"));
        assert!(
            !is_pure("pdf") && !is_pure("headwright") && !is_pure("xtask") && !is_pure("serde")
        );
    }
}
