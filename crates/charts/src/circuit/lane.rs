//! A lane: one line of the circuit with its name above it, its parts on it and their names below.

use super::span::{Span, Turn};
use super::words::{Word, cut, wide};
use super::{CircuitLine, CircuitPart, Shape, Standing};
use crate::ink::Ink;
use crate::size::{LINE, TYPE};
use crate::svg::Anchor;
use crate::text::{Face, broken, clean};

/// Half the size of a box; half that of a dot.
pub(super) const BOX: f64 = 9.0;
pub(super) const DOT: f64 = 5.0;
/// Room between the words above a line and the line.
const ABOVE: f64 = 15.0;
/// Room between a line and the words below it.
const BELOW: f64 = 12.0;
/// Room below a lane.
pub(super) const FOOT: f64 = 10.0;
/// Room between words beside one another.
pub(super) const APART: f64 = 14.0;
/// Room between a leader and its name.
const TICK: f64 = 7.0;
/// The length of a line that its arrow takes.
const ARROW: f64 = 22.0;

/// What stands in a lane: places from left to right on the page, heights from the top of the lane.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Lane {
    pub(super) span: Span,
    /// Height of the line where it begins.
    pub(super) rail: f64,
    /// Height of the line where it ends: another one where it comes back below itself.
    pub(super) back: f64,
    pub(super) height: f64,
    pub(super) symbols: Vec<(f64, Shape)>,
    /// The places from which a line leads down to a name, how far down and where to.
    pub(super) leaders: Vec<Leader>,
    pub(super) words: Vec<Word>,
    /// The middle of the arrow, or of the pump.
    pub(super) middle: (f64, f64),
}

/// A line from a symbol down to its name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Leader {
    pub(super) x: f64,
    pub(super) to_y: f64,
    pub(super) to_x: f64,
}

impl Lane {
    /// Lays out a line.
    pub(super) fn of_line(line: &CircuitLine, span: Span) -> Self {
        let mut words = header(line, &span);
        let rows = words.iter().map(|word| word.top + LINE).fold(0.0, f64::max);
        let rail = rows + ABOVE;
        let (room, arrow) = room(&span);
        let mut parts: Vec<&CircuitPart> = line.parts.iter().collect();
        if span.runs_left() {
            parts.reverse();
        }
        let named = Named::of(&parts, room, rail + BELOW);
        let foot = named.words.iter().map(|word| word.top + LINE);
        let foot = foot.fold(rail + BELOW, f64::max);
        words.extend(named.words);
        words.retain(|word| !word.text.is_empty());
        let back = if span.turn == Turn::Straight {
            rail
        } else {
            foot + BELOW
        };
        Self {
            height: foot.max(back) + FOOT,
            middle: (arrow, back),
            rail,
            back,
            span,
            symbols: named.symbols,
            leaders: named.leaders,
            words,
        }
    }

    /// Moves everything down.
    pub(super) fn lower(&mut self, by: f64) {
        self.rail += by;
        self.back += by;
        self.height += by;
        self.middle.1 += by;
        for leader in &mut self.leaders {
            leader.to_y += by;
        }
        for word in &mut self.words {
            word.top += by;
        }
    }
}

/// Finds the room of the parts on a line, and the middle of its arrow.
fn room(span: &Span) -> ((f64, f64), f64) {
    let (left, right) = (span.left, span.right);
    let half = 0.5 * ARROW;
    match (span.turn, span.runs_left()) {
        (Turn::Straight, false) => ((left, right - ARROW), right - half),
        (Turn::Straight, true) => ((left + ARROW, right), left + half),
        (Turn::OpenLeft, _) => ((left, right - half), left + half),
        (Turn::OpenRight, _) => ((left + half, right), right - half),
    }
}

/// Writes the name of a line, and behind it or below it what flows there.
fn header(line: &CircuitLine, span: &Span) -> Vec<Word> {
    let name = cut(&line.name, Face::Bold, span.width());
    let beside = span.left + wide(&name, Face::Bold) + APART;
    let values = clean(&line.values);
    let ink = match line.standing {
        Standing::Kept => Ink::LawText,
        Standing::Passed => Ink::ActText,
        Standing::Unjudged => Ink::Text,
        Standing::Shut | Standing::Unstated => Ink::Number,
    };
    let word = |text: String, ink: Ink, x: f64, top: f64| Word {
        text,
        ink,
        anchor: Anchor::Start,
        x,
        top,
    };
    let mut words = vec![word(name, Ink::Title, span.left, 0.0)];
    if beside + wide(&values, Face::Regular) <= span.right {
        words.push(word(values, ink, beside, 0.0));
    } else {
        let lines = broken(&values, Face::Regular, TYPE, span.width());
        let below = lines.into_iter().enumerate();
        words.extend(
            below.map(|(index, text)| word(text, ink, span.left, LINE * (index + 1) as f64)),
        );
    }
    words
}

/// The parts of a line with their names.
#[derive(Default)]
struct Named {
    symbols: Vec<(f64, Shape)>,
    leaders: Vec<Leader>,
    words: Vec<Word>,
}

impl Named {
    /// Names the parts beside one another where there is room, else as on steps of a stair.
    fn of(parts: &[&CircuitPart], (left, right): (f64, f64), top: f64) -> Self {
        let labels: Vec<String> = parts.iter().map(|part| clean(&part.label)).collect();
        let widths = labels.iter().map(|label| wide(label, Face::Regular));
        let widths: Vec<f64> = widths.collect();
        let gaps = APART * parts.len().saturating_sub(1) as f64;
        let free = right - left - gaps - widths.iter().sum::<f64>();
        if parts.is_empty() {
            Self::default()
        } else if free >= 0.0 {
            let between = APART + free / parts.len() as f64;
            Self::in_a_row(parts, labels.into_iter().zip(widths), (left, between), top)
        } else {
            Self::on_a_stair(parts, &labels, (left, right), top)
        }
    }

    fn in_a_row(
        parts: &[&CircuitPart],
        labels: impl Iterator<Item = (String, f64)>,
        (left, between): (f64, f64),
        top: f64,
    ) -> Self {
        let mut at = left + 0.5 * (between - APART);
        let mut named = Self::default();
        for (part, (label, width)) in parts.iter().zip(labels) {
            let middle = at + 0.5 * width;
            named.symbols.push((middle, part.shape));
            named.words.push(below(label, Anchor::Middle, middle, top));
            at += width + between;
        }
        named
    }

    /// Hangs each name a step lower than those to its right that it would meet.
    fn on_a_stair(
        parts: &[&CircuitPart],
        labels: &[String],
        (left, right): (f64, f64),
        top: f64,
    ) -> Self {
        let places = stair_places(parts, widest(labels), (left, right));
        let mut steps: Vec<(f64, usize)> = Vec::new();
        let mut named = Self::default();
        let mut hung: Vec<Word> = Vec::new();
        for ((part, label), x) in parts.iter().zip(labels).zip(places).rev() {
            let label = cut(label, Face::Regular, right - x - TICK);
            let end = x + TICK + wide(&label, Face::Regular) + TICK;
            let met = steps.iter().filter(|(other, _)| *other < end);
            let step = met.map(|(_, step)| step + 1).max().unwrap_or(0);
            steps.push((x, step));
            let word = below(label, Anchor::Start, x + TICK, top + LINE * step as f64);
            named.leaders.push(Leader {
                x,
                to_y: word.top + 0.5 * LINE,
                to_x: x + TICK - 2.0,
            });
            named.symbols.push((x, part.shape));
            hung.push(word);
        }
        // Read from the left, as the line is.
        named.words = hung.into_iter().rev().collect();
        named
    }
}

/// Spreads the parts over the line so far that the widest name has room at the right of the last.
fn stair_places(parts: &[&CircuitPart], widest: f64, (left, right): (f64, f64)) -> Vec<f64> {
    /// The least room of the last name.
    const NAME: f64 = 30.0;
    let steps = stair(parts);
    let closest = steps.iter().copied().fold(0.0, f64::max);
    // Parts that are too many for their room stand closer than they would.
    let squeezed = ((right - left - NAME) / closest).clamp(0.0, 1.0);
    let free = right - left - squeezed * closest;
    let spread = (free - widest).max(0.0);
    let pieces = parts.len().saturating_sub(1).max(1) as f64;
    let numbered = steps.iter().enumerate();
    numbered
        .map(|(index, step)| left + squeezed * step + spread * index as f64 / pieces)
        .collect()
}

/// Lists the places of parts that stand as close as they can, from the left end of their room.
fn stair(parts: &[&CircuitPart]) -> Vec<f64> {
    /// Room between two parts.
    const BETWEEN: f64 = 4.0;
    let mut at = 0.0;
    let place = |part: &&CircuitPart| {
        let half = half(part.shape);
        let place = at + half;
        at = place + half + BETWEEN;
        place
    };
    parts.iter().map(place).collect()
}

/// Returns half the width that a part takes on its line.
fn half(shape: Shape) -> f64 {
    match shape {
        Shape::Pipe => 4.0,
        Shape::Box => BOX,
        Shape::Dot => DOT,
    }
}

/// Computes the least width of a lane in which a line's parts can be named in full.
pub(super) fn least_width(line: &CircuitLine) -> f64 {
    let parts: Vec<&CircuitPart> = line.parts.iter().collect();
    let labels = line.parts.iter().map(|part| clean(&part.label));
    let labels: Vec<String> = labels.collect();
    let stair = stair(&parts).into_iter().fold(0.0, f64::max);
    ARROW + stair + widest(&labels)
}

/// Computes the room of the widest of some names on a stair.
fn widest(labels: &[String]) -> f64 {
    let widths = labels.iter().map(|label| wide(label, Face::Regular));
    2.0 * TICK + widths.fold(0.0, f64::max)
}

fn below(text: String, anchor: Anchor, x: f64, top: f64) -> Word {
    Word {
        text,
        ink: Ink::Number,
        anchor,
        x,
        top,
    }
}
