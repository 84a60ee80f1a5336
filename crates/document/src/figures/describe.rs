//! The description of a figure, for a reader who does not see it: the finding, then the numbers.

use crate::language::say;
use crate::units::Printing;
/// How many points are told one by one.
const MOST_TOLD: usize = 24;

/// Joins sentences and named lists to one text; an empty list is left out.
pub(super) fn described(
    sentences: impl Iterator<Item = String>,
    lists: &[(&str, Vec<String>)],
    printing: Printing,
) -> String {
    let told = lists.iter().filter(|(_, parts)| !parts.is_empty());
    let told = told.map(|(word, parts)| format!("{word}: {}", listed(parts, printing)));
    let parts: Vec<String> = sentences.chain(told).collect();
    parts.join(". ") + "."
}

/// Lists parts; of many, the first and the last.
fn listed(parts: &[String], printing: Printing) -> String {
    match parts {
        [first, .., last] if parts.len() > MOST_TOLD => {
            say!(
                printing,
                "{count} from {first} to {last}",
                count = parts.len(),
                first,
                last
            )
        }
        parts => parts.join("; "),
    }
}
