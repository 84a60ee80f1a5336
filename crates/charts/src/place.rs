//! Finds a free place for every label: the first of its candidates that lies in the plot, meets no other label and
//! covers the least of what is drawn.

use crate::ink::Ink;
use crate::rect::Rect;
use crate::size::{LINE, TYPE};
use crate::svg::Anchor;
use crate::text::{Face, width};

/// Labels keep at least so far from one another.
const APART: f64 = 4.0;
/// They keep at least so far from the frame.
const FROM_FRAME: f64 = 2.0;
/// How much covered drawing one place down the list of candidates is worth, in units of area.
const PREFERENCE: f64 = 1.5;

/// A label that looks for its place.
#[derive(Clone, Debug)]
pub(crate) struct Label {
    /// Its lines, broken in one way or another.
    pub(crate) variants: Vec<Vec<String>>,
    /// How it is drawn.
    pub(crate) ink: Ink,
    /// How the line is drawn that belongs to it: a rule, or a pointer to what it names.
    pub(crate) line_ink: Ink,
    /// Where it may stand, the best first.
    pub(crate) candidates: Vec<Candidate>,
    /// How much it may cover at most, in units of area.
    pub(crate) may_cover: f64,
    /// How much it is missed where it finds no place.
    pub(crate) worth: f64,
}

/// A place that a label may take.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Candidate {
    /// Which variant of the label's lines stands there.
    pub(crate) variant: usize,
    pub(crate) rect: Rect,
    /// The side on which its lines begin alike.
    pub(crate) anchor: Anchor,
    /// The line that belongs to it.
    pub(crate) line: Option<Segment>,
    /// What of that line no other label may cover.
    pub(crate) claims: Vec<Rect>,
}

/// A straight line between two places.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Segment {
    pub(crate) from: (f64, f64),
    pub(crate) to: (f64, f64),
}

impl Segment {
    /// Strings the line as beads that leave no gap for a label.
    pub(crate) fn beads(self, half: f64) -> impl Iterator<Item = Rect> {
        /// The most beads of one line.
        const MOST: f64 = 400.0;
        let (right, down) = (self.to.0 - self.from.0, self.to.1 - self.from.1);
        let count = (right.abs().max(down.abs()) / (2.0 * half))
            .ceil()
            .clamp(1.0, MOST);
        let next = move |at: &f64| Some(at + 1.0).filter(|at| *at <= count);
        std::iter::successors(Some(0.0), next).map(move |at| {
            let share = at / count;
            Rect::around(
                self.from.0 + share * right,
                self.from.1 + share * down,
                half,
            )
        })
    }
}

/// Something drawn that a label should not cover.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Obstacle {
    pub(crate) rect: Rect,
    /// How bad it is to cover it.
    pub(crate) weight: f64,
}

/// Computes the size that lines of a label take.
pub(crate) fn extent(lines: &[String]) -> (f64, f64) {
    let widths = lines.iter().map(|line| width(line, Face::Regular, TYPE));
    (widths.fold(0.0, f64::max), LINE * lines.len() as f64)
}

/// Places labels in the turn of each of several orders, and returns the first of those that place the most.
pub(crate) fn best_placed<'a>(
    orders: &[Vec<&'a Label>],
    plot: &Rect,
    obstacles: &[Obstacle],
) -> Vec<(&'a Label, Candidate)> {
    let mut best: (f64, Vec<(&Label, Candidate)>) = (-1.0, Vec::new());
    for labels in orders {
        let places = placed(labels, plot, obstacles);
        let pairs = labels.iter().zip(places);
        let found: Vec<_> = pairs
            .filter_map(|(label, place)| Some((*label, place?)))
            .collect();
        let worth: f64 = found.iter().map(|(label, _)| label.worth).sum();
        let is_whole = found.len() == labels.len();
        if worth > best.0 {
            best = (worth, found);
        }
        // No order places more than all.
        if is_whole {
            break;
        }
    }
    best.1
}

/// Places labels in turn; `None` for one that finds no free place.
fn placed(labels: &[&Label], plot: &Rect, obstacles: &[Obstacle]) -> Vec<Option<Candidate>> {
    let room = plot.grown(-FROM_FRAME);
    let mut taken: Vec<Rect> = Vec::new();
    let mut place = |label: &&Label| {
        let is_free = |candidate: &Candidate| {
            let meets = |rect: &Rect| taken.iter().any(|other| other.meets(rect));
            room.holds(&candidate.rect)
                && !meets(&candidate.rect.grown(APART))
                && !candidate.claims.iter().any(meets)
        };
        let ranked = label.candidates.iter().enumerate();
        let (_, best) = ranked
            .filter(|(_, candidate)| is_free(candidate))
            .map(|(rank, candidate)| (rank, covered(&candidate.rect, obstacles), candidate))
            .filter(|(_, covered, _)| *covered <= label.may_cover)
            .map(|(rank, covered, candidate)| (PREFERENCE * rank as f64 + covered, candidate))
            .min_by(|a, b| a.0.total_cmp(&b.0))?;
        taken.push(best.rect);
        taken.extend_from_slice(&best.claims);
        Some(best.clone())
    };
    labels.iter().map(&mut place).collect()
}

fn covered(rect: &Rect, obstacles: &[Obstacle]) -> f64 {
    let shares = obstacles
        .iter()
        .map(|obstacle| obstacle.weight * rect.shared(&obstacle.rect));
    shares.sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn label(places: &[(f64, f64)]) -> Label {
        let lines = vec!["name".to_owned()];
        let size = extent(&lines);
        let at = |(left, top): &(f64, f64)| Candidate {
            variant: 0,
            rect: Rect::at(*left, *top, size),
            anchor: Anchor::Start,
            line: None,
            claims: Vec::new(),
        };
        Label {
            candidates: places.iter().map(at).collect(),
            variants: vec![lines],
            ink: Ink::Text,
            line_ink: Ink::Rule,
            may_cover: f64::INFINITY,
            worth: 1.0,
        }
    }

    #[test]
    fn a_label_gives_way_and_one_without_room_is_not_placed() {
        let plot = Rect::at(0.0, 0.0, (200.0, 100.0));
        let wanted = [(10.0, 10.0)];
        let labels = [
            label(&wanted),
            label(&[(10.0, 12.0), (10.0, 40.0)]),
            label(&[(12.0, 20.0), (190.0, 10.0)]),
        ];
        let found = placed(&labels.each_ref(), &plot, &[]);
        assert!((found[0].as_ref().unwrap().rect.top - 10.0).abs() < 1e-9);
        assert!((found[1].as_ref().unwrap().rect.top - 40.0).abs() < 1e-9);
        assert_eq!(found[2], None);
    }

    #[test]
    fn a_label_avoids_what_is_drawn() {
        let plot = Rect::at(0.0, 0.0, (200.0, 100.0));
        let obstacle = Obstacle {
            rect: Rect::around(20.0, 20.0, 8.0),
            weight: 1.0,
        };
        let label = label(&[(10.0, 10.0), (10.0, 60.0)]);
        let found = placed(&[&label], &plot, &[obstacle]);
        assert!((found[0].as_ref().unwrap().rect.top - 60.0).abs() < 1e-9);
    }
}
