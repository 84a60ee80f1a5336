//! A pure crate reaches no library of clocks, chance or network, by whatever road.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use cargo_metadata::{DependencyKind, Metadata};

use super::floors;

/// Libraries that no pure crate may be built from.
const IMPURE: &[&str] = &[
    "chrono",
    "getrandom",
    "mio",
    "rand",
    "time",
    "tokio",
    "ureq",
];

/// What each crate is built from, by name.
pub(super) type Graph = BTreeMap<String, BTreeSet<String>>;

/// Gives the whole graph of what is built from what, without what tests alone need.
pub(super) fn graph(metadata: &Metadata) -> Graph {
    let names: BTreeMap<_, _> = metadata
        .packages
        .iter()
        .map(|package| (&package.id, package.name.to_string()))
        .collect();
    let mut graph = Graph::new();
    for node in metadata.resolve.iter().flat_map(|resolve| &resolve.nodes) {
        let Some(name) = names.get(&node.id) else {
            continue;
        };
        let needed = node.deps.iter().filter(|dependency| {
            let kinds = &dependency.dep_kinds;
            kinds
                .iter()
                .any(|kind| kind.kind != DependencyKind::Development)
        });
        // Two versions of a crate are one here: either may bring the other's sins.
        graph
            .entry(name.clone())
            .or_default()
            .extend(needed.filter_map(|dependency| names.get(&dependency.pkg).cloned()));
    }
    graph
}

/// Names every pure crate that reaches an impure library, with the road that leads there.
pub(super) fn offences(graph: &Graph) -> Vec<String> {
    let pure = graph.keys().filter(|name| floors::is_pure(name));
    pure.flat_map(|name| {
        let roads = roads(graph, name);
        IMPURE.iter().filter_map(move |impure| {
            let road = roads.get(*impure)?;
            Some(format!(
                "{name}: a pure crate is built from {impure}, by {}",
                road.join(" > ")
            ))
        })
    })
    .collect()
}

/// Gives everything that can be reached from a crate, with the shortest road to it.
fn roads<'a>(graph: &'a Graph, from: &'a str) -> BTreeMap<&'a str, Vec<&'a str>> {
    let mut roads = BTreeMap::from([(from, vec![from])]);
    let mut next = VecDeque::from([from]);
    while let Some(here) = next.pop_front() {
        let road = roads.get(here).cloned().unwrap_or_default();
        for there in graph.get(here).into_iter().flatten() {
            if !roads.contains_key(there.as_str()) {
                roads.insert(
                    there,
                    road.iter().copied().chain([there.as_str()]).collect(),
                );
                next.push_back(there);
            }
        }
    }
    roads
}

#[cfg(test)]
mod tests {
    use super::*;

    fn graph(edges: &[(&str, &[&str])]) -> Graph {
        let owned = |names: &[&str]| names.iter().map(|&name| name.to_owned()).collect();
        edges
            .iter()
            .map(|(name, others)| ((*name).to_owned(), owned(others)))
            .collect()
    }

    #[test]
    fn an_impure_library_is_found_at_the_end_of_a_road() {
        let graph = graph(&[
            ("records", &["parser"]),
            ("parser", &["rand"]),
            ("rand", &["getrandom"]),
        ]);
        let found = offences(&graph);
        assert_eq!(found.len(), 2);
        assert!(
            found[1].ends_with("built from rand, by records > parser > rand"),
            "{found:?}"
        );
    }

    #[test]
    fn the_upper_floors_may_touch_the_world() {
        assert!(offences(&graph(&[("server", &["tokio"]), ("records", &["serde"])])).is_empty());
    }

    #[test]
    fn a_circle_ends() {
        assert!(offences(&graph(&[("records", &["a"]), ("a", &["b"]), ("b", &["a"])])).is_empty());
    }
}
