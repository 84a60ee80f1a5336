//! The drawing of a circuit: bodies of water, a pump and the lines between them, each in a lane of its own.
//!
//! Like a figure it is neutral data in the caller's words; the layout is found here from which line joins which. Nothing
//! here knows what flows or what a limit is.

mod draw;
mod lane;
mod order;
mod plan;
mod pump;
mod sides;
mod span;
mod words;

use crate::size::Size;
use crate::theme::Theme;

/// A circuit to be drawn. Lines that name a place that there is not are left out.
#[derive(Clone, Debug)]
pub struct Circuit {
    /// The finding in words.
    pub title: String,
    /// The finding and every line, for a reader who does not see the drawing.
    pub description: String,
    /// What stands below the drawing; may be empty.
    pub note: String,
    /// Where lines meet; of the bodies of water the outermost first.
    pub places: Vec<Place>,
    /// The pump, where lines lead to it.
    pub pump: Option<CircuitPump>,
    /// The lines.
    pub lines: Vec<CircuitLine>,
}

/// Where lines meet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: PlaceKind,
}

/// What a place is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PlaceKind {
    /// A body of water.
    Water,
    /// A joint of pipes.
    Joint,
}

/// The pump.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CircuitPump {
    /// The place of its inlet.
    pub inlet: usize,
    /// The place of its outlet.
    pub outlet: usize,
    /// The lines of words at it.
    pub words: Vec<String>,
    /// What it does, for a reader who does not see the drawing.
    pub told: String,
}

/// A line of the circuit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CircuitLine {
    /// Its name.
    pub name: String,
    /// The place that it is said to come from.
    pub from: usize,
    /// The place that it is said to go to.
    pub to: usize,
    /// What flows in it, in few words; may be empty.
    pub values: String,
    /// The whole of it, for a reader who does not see the drawing.
    pub told: String,
    /// How it is drawn.
    pub standing: Standing,
    /// Which way the water goes.
    pub way: Way,
    /// What is in it, in the order from `from` to `to`.
    pub parts: Vec<CircuitPart>,
}

/// How a line stands to its limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// It has no limit, or what flows is not known.
    Unjudged,
    /// Its limits are kept.
    Kept,
    /// A limit is passed.
    Passed,
    /// It is shut.
    Shut,
    /// Nothing is known of it.
    Unstated,
}

/// Which way the water goes in a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// As the line says.
    Forwards,
    /// Against what the line says.
    Backwards,
    /// It stands, or nobody knows.
    Still,
}

/// What is in a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CircuitPart {
    /// What it is, in few words.
    pub label: String,
    /// Its symbol.
    pub shape: Shape,
}

/// The symbol of a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// None: the line itself.
    Pipe,
    /// A box, for a vessel.
    Box,
    /// A dot, for what is small.
    Dot,
}

impl Circuit {
    /// Draws the circuit as a whole SVG file, which may also stand in a page as it is; `None` where there is no line.
    ///
    /// Each line is a group of the class `circuit-line` whose `data-line` is its place in the list, with what it tells as
    /// its title; a still rectangle over its lane takes the finger.
    pub fn svg(&self, theme: Theme, size: Size) -> Option<String> {
        self.drawn(draw::Lines::ToSee, theme, size)
    }

    /// Draws the circuit as [`Circuit::svg`] does, with each line a button that is pressed where the line is shut: what
    /// a page makes of a press is the page's.
    pub fn svg_to_press(&self, theme: Theme, size: Size) -> Option<String> {
        self.drawn(draw::Lines::ToPress, theme, size)
    }

    fn drawn(&self, lines: draw::Lines, theme: Theme, size: Size) -> Option<String> {
        let (circuit, numbers) = self.drawable()?;
        let numbered = draw::Numbered {
            lines,
            numbers: &numbers,
        };
        Some(draw::drawn(&circuit, numbered, theme, size))
    }

    /// Copies the circuit with the lines and the pump that have ends; `None` where that leaves no line. Which line of the
    /// caller each is, stands beside it.
    fn drawable(&self) -> Option<(Self, Vec<usize>)> {
        let count = self.places.len();
        let ends = |line: &CircuitLine| line.from < count && line.to < count;
        let mut kept = self.clone();
        kept.lines.retain(ends);
        let joint = |place: usize| place < count && !self.is_water(place);
        kept.pump = kept
            .pump
            .filter(|pump| joint(pump.inlet) && joint(pump.outlet) && pump.inlet != pump.outlet);
        let numbered = self.lines.iter().enumerate();
        let numbers: Vec<usize> = numbered
            .filter(|(_, line)| ends(line))
            .map(|(number, _)| number)
            .collect();
        (!numbers.is_empty()).then_some((kept, numbers))
    }

    fn is_water(&self, place: usize) -> bool {
        self.places[place].kind == PlaceKind::Water
    }
}
