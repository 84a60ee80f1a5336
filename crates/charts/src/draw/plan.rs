//! The plan of a figure: which numbers its axes span, and where on the page everything stands.

use crate::axis::{Along, Scale, Ticks};
use crate::figure::{At, Figure, Start};
use crate::rect::Rect;
use crate::size::{LINE, MARGIN, Size, TYPE};
use crate::text::{Face, balanced, broken, clean};

/// The plan.
#[derive(Clone, Debug)]
pub(crate) struct Plan {
    pub(crate) size: Size,
    /// The whole page.
    pub(crate) page: Rect,
    /// The room between the axes.
    pub(crate) plot: Rect,
    pub(crate) x: Scale,
    pub(crate) y: Scale,
    pub(crate) x_ticks: Ticks,
    pub(crate) y_ticks: Ticks,
    /// The lines of the title.
    pub(crate) title: Vec<String>,
    /// The lines that name the upward axis, above it.
    pub(crate) y_title: Vec<String>,
    /// The lines that name the axis to the right, below it.
    pub(crate) x_title: Vec<String>,
    /// The lines below the figure.
    pub(crate) note: Vec<String>,
}

/// Length of a tick.
pub(crate) const TICK: f64 = 5.0;
/// Room between a tick and its number, and between parts of the page.
pub(crate) const GAP: f64 = 6.0;

impl Plan {
    /// Plans a figure of drawable numbers; `None` where it has none.
    pub(crate) fn of(figure: &Figure, size: Size) -> Option<Self> {
        let room = size.width() - 2.0 * MARGIN;
        let lines = |text: &str| broken(&clean(text), Face::Regular, TYPE, room);
        let (title_size, title_line) = size.title();
        let title = balanced(&clean(&figure.title), Face::Bold, title_size, room);
        let [y_title, x_title, note] =
            [&figure.y.title, &figure.x.title, &figure.note].map(|text| lines(text));

        let (x_span, y_span) = (x_span(figure)?, y_span(figure)?);
        let y_ticks = Ticks::covering(&figure.y, y_span, Along::Height(size.plot_height()));
        let left = MARGIN + y_ticks.widest() + GAP + TICK;
        let across = |half: f64| (left.max(MARGIN + half), size.width() - MARGIN - half);
        // Half of a number stands beyond each end of the axis, and how wide it is depends on the room that is left.
        let rough = Ticks::covering(&figure.x, x_span, Along::Width(size.width() - 2.0 * left));
        let (left, right) = across(0.5 * rough.widest());
        let x_ticks = Ticks::covering(&figure.x, x_span, Along::Width(right - left));
        let (left, right) = across(0.5 * x_ticks.widest());

        let above = above(&y_title);
        let top = MARGIN + title_line * title.len() as f64 + GAP + above;
        let plot = Rect::at(left, top, (right - left, size.plot_height()));
        let below = TICK + GAP + LINE * (1.0 + x_title.len() as f64) + GAP;
        let note_height = LINE * note.len() as f64 + if note.is_empty() { 0.0 } else { GAP };
        let height = plot.bottom + below + note_height + MARGIN;
        let page = Rect::at(0.0, 0.0, (size.width(), height));
        Some(Self {
            size,
            page,
            plot,
            x: Scale {
                numbers: x_ticks.ends(),
                places: (plot.left, plot.right),
            },
            y: Scale {
                numbers: y_ticks.ends(),
                places: (plot.bottom, plot.top),
            },
            x_ticks,
            y_ticks,
            title,
            y_title,
            x_title,
            note,
        })
    }
}

impl Plan {
    /// Returns the height between the top of the upward axis' name and the plot.
    pub(crate) fn above_plot(&self) -> f64 {
        above(&self.y_title)
    }

    /// Finds the place of a point, and the way in which it lies beyond the frame: -1, 0 or 1 to the right and downwards.
    pub(crate) fn place(&self, x: f64, y: f64) -> ((f64, f64), (f64, f64)) {
        /// A point that lies beyond is drawn so far inside.
        const INSIDE: f64 = 11.0;
        let beyond = |scale: &Scale, number: f64, way: f64| match number {
            number if number < scale.numbers.0 => -way,
            number if number > scale.numbers.1 => way,
            _ => 0.0,
        };
        let way = (beyond(&self.x, x, 1.0), beyond(&self.y, y, -1.0));
        let place = (self.x.place(x), self.y.place(y));
        ((place.0 - INSIDE * way.0, place.1 - INSIDE * way.1), way)
    }
}

fn above(y_title: &[String]) -> f64 {
    LINE * y_title.len() as f64 + 2.0 * GAP
}

/// How far beyond the values bars and bands are followed, as a share of the values' own span: a law of two readings
/// would else press all readings to the floor.
const FOLLOWED: f64 = 0.25;
/// How far beyond the values the frame gives way to a rule, as a share of the values' own span.
const NEAR: f64 = 0.12;

/// Finds the numbers that the upward axis spans.
fn y_span(figure: &Figure) -> Option<(f64, f64)> {
    let of_curves = figure.curves.iter().flat_map(|curve| &curve.points);
    let spans: Vec<_> = of_curves
        .map(|point| point.y)
        .chain(figure.points.iter().map(|point| point.y))
        .collect();
    let values = spans.iter().map(|span| span.value);
    let ends = spans.iter().flat_map(|span| [span.low, span.high]);
    let rules = figure.rules.iter().filter_map(|rule| match rule.at {
        At::Y(at) => Some(at),
        At::X(_) => None,
    });
    let refuted = figure.left_out.iter().map(|point| point.y);
    reached(values, refuted, figure.y.start)
        .map(|span| followed(span, ends, FOLLOWED))
        .map(|span| with_near(span, rules))
}

/// Finds the numbers that the axis to the right spans.
fn x_span(figure: &Figure) -> Option<(f64, f64)> {
    let of_curves = figure.curves.iter().flat_map(|curve| &curve.points);
    let values = of_curves
        .map(|point| point.x)
        .chain(figure.points.iter().map(|point| point.x.value));
    let ends = figure
        .points
        .iter()
        .flat_map(|point| [point.x.low, point.x.high]);
    let rules = figure.rules.iter().filter_map(|rule| match rule.at {
        At::X(at) => Some(at),
        At::Y(_) => None,
    });
    let refuted = figure.left_out.iter().map(|point| point.x);
    reached(values, refuted, figure.x.start)
        .map(|span| followed(span, ends, FOLLOWED))
        .map(|span| with_near(span, rules))
}

/// Spans the values; where there are none, what is left out.
fn reached(
    values: impl Iterator<Item = f64>,
    left_out: impl Iterator<Item = f64>,
    start: Start,
) -> Option<(f64, f64)> {
    let spanned = |values: &mut dyn Iterator<Item = f64>| {
        values.fold(None, |span: Option<(f64, f64)>, value| {
            Some(span.map_or((value, value), |(low, high)| {
                (low.min(value), high.max(value))
            }))
        })
    };
    let mut values = values;
    let mut left_out = left_out;
    let (low, high) = spanned(&mut values).or_else(|| spanned(&mut left_out))?;
    Some(match start {
        Start::Zero => (low.min(0.0), high.max(0.0)),
        Start::Data | Start::Day => (low, high),
    })
}

/// Widens a span to the ends of intervals, up to a share of its own width.
fn followed((low, high): (f64, f64), ends: impl Iterator<Item = f64>, share: f64) -> (f64, f64) {
    let reach = share * (high - low);
    let held = (low - reach, high + reach);
    ends.fold((low, high), |(least, most), end| {
        // An axis that starts at zero is not pulled below it by an interval.
        let floor = if low == 0.0 { 0.0 } else { held.0 };
        (least.min(end.max(floor)), most.max(end.min(held.1)))
    })
}

/// Widens a span to the rules that stand near its ends.
fn with_near((low, high): (f64, f64), rules: impl Iterator<Item = f64>) -> (f64, f64) {
    let reach = NEAR * (high - low);
    let near = rules.filter(|at| low - reach <= *at && *at <= high + reach);
    near.fold((low, high), |(least, most), at| {
        (least.min(at), most.max(at))
    })
}
