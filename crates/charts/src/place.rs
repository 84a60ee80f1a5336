//! Finds a free place for every label: the first of its candidates that lies in the plot, meets no other label and
//! covers the least of what is drawn.

use crate::ink::Ink;
use crate::rect::Rect;
use crate::size::{LINE, TYPE};
use crate::svg::Anchor;
use crate::text::{Face, width};

/// Labels keep at least so far from one another and from the frame.
const APART: f64 = 4.0;
/// How much covered drawing one place down the list of candidates is worth, in units of area.
const PREFERENCE: f64 = 3.0;

/// A label that looks for its place.
#[derive(Clone, Debug)]
pub(crate) struct Label {
    /// Its lines, already broken.
    pub(crate) lines: Vec<String>,
    /// How it is drawn.
    pub(crate) ink: Ink,
    /// Where it may stand, the best first.
    pub(crate) candidates: Vec<Candidate>,
}

/// A place that a label may take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Candidate {
    pub(crate) rect: Rect,
    /// The side on which its lines begin alike.
    pub(crate) anchor: Anchor,
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

/// Places labels in turn; `None` for one that finds no free place.
pub(crate) fn placed(
    labels: &[Label],
    plot: &Rect,
    obstacles: &[Obstacle],
) -> Vec<Option<Candidate>> {
    let room = plot.grown(-APART);
    let mut taken: Vec<Rect> = Vec::new();
    labels
        .iter()
        .map(|label| {
            let free = |rect: &Rect| {
                room.holds(rect) && !taken.iter().any(|other| other.meets(&rect.grown(APART)))
            };
            let costs = label.candidates.iter().enumerate();
            let best = costs
                .filter(|(_, candidate)| free(&candidate.rect))
                .map(|(rank, candidate)| {
                    let cost = PREFERENCE * rank as f64 + covered(&candidate.rect, obstacles);
                    (cost, *candidate)
                })
                .min_by(|a, b| a.0.total_cmp(&b.0))
                .map(|(_, candidate)| candidate);
            taken.extend(best.map(|candidate| candidate.rect));
            best
        })
        .collect()
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
            rect: Rect::at(*left, *top, size),
            anchor: Anchor::Start,
        };
        Label {
            candidates: places.iter().map(at).collect(),
            lines,
            ink: Ink::Text,
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
        let found = placed(&labels, &plot, &[]);
        assert!((found[0].unwrap().rect.top - 10.0).abs() < 1e-9);
        assert!((found[1].unwrap().rect.top - 40.0).abs() < 1e-9);
        assert_eq!(found[2], None);
    }

    #[test]
    fn a_label_avoids_what_is_drawn() {
        let plot = Rect::at(0.0, 0.0, (200.0, 100.0));
        let obstacle = Obstacle {
            rect: Rect::around(20.0, 20.0, 8.0),
            weight: 1.0,
        };
        let found = placed(&[label(&[(10.0, 10.0), (10.0, 60.0)])], &plot, &[obstacle]);
        assert!((found[0].unwrap().rect.top - 60.0).abs() < 1e-9);
    }
}
