//! Which of the links that pass water one way only hold it back.
//!
//! A guess, a search, and what the answer says of the guess: water that would run backwards shuts a link, and a head
//! that would lift its valve opens it. For some rounds all that contradict are changed at once, which is quick and could
//! go round in circles; then the first alone, which ends for every network whose heads rise with flow (Murty 1974, whose
//! argument needs no straight law, only that each guess has one answer).
//!
//! # Source
//! K. G. Murty, "Note on a Bard-type scheme for solving the complementarity problem", Opsearch 11 (1974) 123-130.

use super::laws::Laws;
use super::newton::{GaveUp, Newton};

/// Water runs backwards from this share of the largest flow on.
const BACKWARDS_SHARE: f64 = 1e-11;

/// The same in m³/s, where nothing flows.
const BACKWARDS_M3S: f64 = 1e-13;

/// Head beyond what opens a valve, m, from which on it opens.
const OPENING_M: f64 = 1e-9;

/// Rounds in which everything that contradicts may be changed.
const FREE_ROUNDS: u32 = 8;

/// Rounds in all.
const MOST_ROUNDS: u32 = 200;

/// Searches flows and heads. `open` says which links pass water: on entry those that could, at the end those that do.
pub(super) fn search(
    newton: &mut Newton,
    laws: &Laws,
    links: &OneWayLinks<'_>,
    open: &mut [bool],
) -> Result<(), GaveUp> {
    for round in 0..MOST_ROUNDS {
        newton.search(laws, open)?;
        let mut contradicted = false;
        for &link in links.links.iter().filter(|&&link| links.may_open[link]) {
            if contradicts(newton, laws, links.ends[link], (link, open[link])) {
                open[link] = !open[link];
                contradicted = true;
                if round >= FREE_ROUNDS {
                    break;
                }
            }
        }
        if !contradicted {
            return Ok(());
        }
    }
    Err(GaveUp)
}

/// The links that pass water one way only.
pub(super) struct OneWayLinks<'a> {
    /// Which these are.
    pub(super) links: &'a [usize],
    /// Of all links, whether it is neither shut nor off.
    pub(super) may_open: &'a [bool],
    /// Nodes that each of all links joins.
    pub(super) ends: &'a [(usize, usize)],
}

/// Whether an answer speaks against what was assumed of a link.
fn contradicts(
    newton: &Newton,
    laws: &Laws,
    (from, to): (usize, usize),
    (link, open): (usize, bool),
) -> bool {
    if open {
        let largest = newton.left.largest_flow_m3s;
        newton.flows[link] < -BACKWARDS_M3S.max(BACKWARDS_SHARE * largest)
    } else {
        let across_m = newton.heads[from] - newton.heads[to];
        across_m > laws.head_and_slope(link, 0.0).head_m + OPENING_M
    }
}
