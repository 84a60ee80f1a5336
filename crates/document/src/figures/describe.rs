//! The description of a figure, for a reader who does not see it: the finding, then the numbers.

use super::readings::Refused;

/// How many points are told one by one.
const MOST_TOLD: usize = 24;

/// What a figure says in numbers.
#[derive(Clone, Debug, Default)]
pub(super) struct Told {
    /// The finding.
    pub(super) title: String,
    /// Which quantity is drawn against which.
    pub(super) axes: String,
    /// Each point.
    pub(super) points: Vec<String>,
    /// Each reading that is left out.
    pub(super) left_out: Vec<String>,
    /// Each limit.
    pub(super) limits: Vec<String>,
}

impl Told {
    /// Joins it all to one text.
    pub(super) fn text(&self) -> String {
        let mut text = format!("{}. {}.", self.title, self.axes);
        for (word, parts) in [
            ("Read", &self.points),
            ("Left out", &self.left_out),
            ("Limits", &self.limits),
        ] {
            if !parts.is_empty() {
                text.push_str(&format!(" {word}: {}.", listed(parts)));
            }
        }
        text
    }
}

/// Lists parts; of many, the first and the last.
fn listed(parts: &[String]) -> String {
    match parts {
        [first, .., last] if parts.len() > MOST_TOLD => {
            format!("{} from {first} to {last}", parts.len())
        }
        parts => parts.join("; "),
    }
}

/// Puts the readings that are left out into words.
pub(super) fn left_out(refused: &[Refused]) -> Vec<String> {
    refused
        .iter()
        .map(|refused| refused.words.clone())
        .collect()
}
