//! What a figure shows, as neutral data: numbers in the caller's units and texts in the caller's words.

/// A figure: one quantity against another.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// The finding in words.
    pub title: String,
    /// The finding and its numbers, for a reader who does not see the figure.
    pub description: String,
    /// What stands below the figure; may be empty.
    pub note: String,
    /// The axis to the right.
    pub x: Axis,
    /// The axis upwards.
    pub y: Axis,
    /// The stretch of x to choose.
    pub highlight: Option<Highlight>,
    /// Lines.
    pub curves: Vec<Curve>,
    /// What was measured and counts.
    pub points: Vec<Point>,
    /// What was read and is left out: kept in view, at the frame where it lies beyond.
    pub left_out: Vec<LeftOut>,
    /// Limits and levels; one whose name finds no free place is not drawn.
    pub rules: Vec<Rule>,
}

/// An axis.
#[derive(Clone, Debug)]
pub struct Axis {
    /// The quantity with its unit.
    pub title: String,
    /// Where the axis starts.
    pub start: Start,
    /// Writes a number with a count of decimals.
    pub write: fn(f64, usize) -> String,
}

impl PartialEq for Axis {
    /// Whether both are titled and start alike; how numbers are written is told by no comparison.
    fn eq(&self, other: &Self) -> bool {
        (&self.title, self.start) == (&other.title, other.start)
    }
}

/// Where an axis starts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Start {
    /// At zero, unless a value lies below.
    Zero,
    /// A little below the lowest value.
    Data,
    /// At midnight: the hours of a day, to the next midnight.
    Day,
}

/// A value with the ends of its interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// The lower end.
    pub low: f64,
    /// The value.
    pub value: f64,
    /// The upper end.
    pub high: f64,
}

impl Span {
    /// A value without an interval.
    pub fn exact(value: f64) -> Self {
        Self {
            low: value,
            value,
            high: value,
        }
    }

    pub(crate) fn is_drawable(&self) -> bool {
        [self.low, self.value, self.high].into_iter().all(drawable)
    }
}

/// A line through points of rising x.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// Its name.
    pub label: String,
    /// How it is drawn.
    pub kind: CurveKind,
    /// Its points.
    pub points: Vec<CurvePoint>,
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CurveKind {
    /// What the readings say: a line with the band of its intervals.
    Law,
    /// What stands beside for comparison: a grey, broken line.
    Context,
}

/// A point of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurvePoint {
    /// Where.
    pub x: f64,
    /// The value, with the band.
    pub y: Span,
}

/// A measured point.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: Span,
    /// Upwards.
    pub y: Span,
    /// What it tells who points at it; may be empty.
    pub told: String,
}

/// A reading that is left out.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftOut {
    /// To the right.
    pub x: f64,
    /// Upwards.
    pub y: f64,
    /// Its name.
    pub label: String,
}

/// A limit or a level, across the whole figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Rule {
    /// Where it stands.
    pub at: At,
    /// Its name.
    pub label: String,
    /// How much it matters.
    pub weight: Weight,
}

/// Where a rule stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum At {
    /// At an x: an upright rule.
    X(f64),
    /// At a y: a level rule.
    Y(f64),
}

/// How much a rule matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// It says what to do.
    Act,
    /// It stands beside.
    Context,
}

/// A stretch of x to choose.
#[derive(Clone, Debug, PartialEq)]
pub struct Highlight {
    /// Its lower end.
    pub from: f64,
    /// Its upper end.
    pub to: f64,
    /// Its name.
    pub label: String,
}

/// Beyond this nothing is drawn: the numbers of the axes would take the room of the plot.
const LARGEST: f64 = 1e9;

/// Whether a number can be drawn.
pub(crate) fn drawable(value: f64) -> bool {
    value.abs() <= LARGEST
}

impl Figure {
    /// Copies the figure without what cannot be drawn: numbers that are not finite, or beyond all measure.
    pub(crate) fn drawable(&self) -> Self {
        let mut kept = self.clone();
        for curve in &mut kept.curves {
            curve
                .points
                .retain(|point| drawable(point.x) && point.y.is_drawable());
        }
        kept.curves.retain(|curve| curve.points.len() > 1);
        kept.points
            .retain(|point| point.x.is_drawable() && point.y.is_drawable());
        kept.left_out
            .retain(|point| drawable(point.x) && drawable(point.y));
        kept.rules.retain(|rule| match rule.at {
            At::X(at) | At::Y(at) => drawable(at),
        });
        kept.highlight = kept
            .highlight
            .filter(|stretch| drawable(stretch.from) && drawable(stretch.to));
        kept
    }
}
