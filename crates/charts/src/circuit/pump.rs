//! The lane of the pump: a circle on the pipe that leads through it, with its words below or beside.

use super::CircuitPump;
use super::lane::{APART, FOOT, Lane};
use super::span::{Span, Turn};
use super::words::{Word, cut};
use crate::ink::Ink;
use crate::size::LINE;
use crate::svg::Anchor;
use crate::text::Face;

/// Radius of the pump.
pub(super) const RADIUS: f64 = 17.0;
/// Room between the pump and the words below it.
const BELOW: f64 = 4.0;

/// Lays out the pump.
pub(super) fn lane(pump: &CircuitPump, span: Span) -> Lane {
    match span.turn {
        Turn::Straight => on_a_level_pipe(pump, span),
        Turn::OpenLeft | Turn::OpenRight => on_an_upright_pipe(pump, span),
    }
}

fn on_a_level_pipe(pump: &CircuitPump, span: Span) -> Lane {
    let rail = RADIUS + FOOT;
    let stack = Stack {
        // Nothing stands beside the pump at the height of its words.
        room: span.width() + APART,
        anchor: Anchor::Middle,
        x: 0.5 * (span.left + span.right),
        top: rail + RADIUS + BELOW,
    };
    Lane {
        rail,
        back: rail,
        height: stack.top + height(pump) + FOOT,
        middle: (stack.x, rail),
        words: stack.words(pump),
        symbols: Vec::new(),
        leaders: Vec::new(),
        span,
    }
}

fn on_an_upright_pipe(pump: &CircuitPump, span: Span) -> Lane {
    let high = height(pump).max(2.0 * (RADIUS + FOOT));
    let beside = 2.0 * RADIUS + APART;
    let (middle, x, anchor) = if span.turn == Turn::OpenLeft {
        (span.left + RADIUS, span.left + beside, Anchor::Start)
    } else {
        (span.right - RADIUS, span.right - beside, Anchor::End)
    };
    let stack = Stack {
        room: span.width() - beside,
        anchor,
        x,
        top: FOOT + 0.5 * (high - height(pump)),
    };
    Lane {
        rail: FOOT,
        back: FOOT + high,
        height: high + 2.0 * FOOT,
        middle: (middle, FOOT + 0.5 * high),
        words: stack.words(pump),
        symbols: Vec::new(),
        leaders: Vec::new(),
        span,
    }
}

fn height(pump: &CircuitPump) -> f64 {
    LINE * pump.words.len() as f64
}

/// Where the words stand above one another.
struct Stack {
    room: f64,
    anchor: Anchor,
    x: f64,
    top: f64,
}

impl Stack {
    fn words(&self, pump: &CircuitPump) -> Vec<Word> {
        let numbered = pump.words.iter().enumerate();
        let word = |(index, text): (usize, &String)| Word {
            text: cut(text, Face::Regular, self.room),
            ink: Ink::Text,
            anchor: self.anchor,
            x: self.x,
            top: self.top + LINE * index as f64,
        };
        let words = numbered.map(word);
        words.filter(|word| !word.text.is_empty()).collect()
    }
}
