//! The figures of an analysis: their titles say the finding, their numbers are those of the tables.
//!
//! Each figure is neutral data for `charts`, with every word and number already in the language and the units of print.
//! Laws and steps are asked for their values; nothing is fitted or judged here.

mod against_speed;
mod describe;
mod energy;
mod flow;
pub(crate) mod glue;
mod head;
pub(crate) mod limits;
mod power;
mod readings;

use crate::content::capitalized;
use crate::language::say;
use crate::number;
use crate::units::Printing;
use charts::{Axis, CurvePoint, Figure, Span, Start};
use fieldtest::{Analysis, Limit, Step, TestResult};
use metrology::Estimate;
use records::Site;

/// A figure with the name that its file takes.
#[derive(Clone, Debug)]
pub struct NamedFigure {
    /// The test and the quantity, such as `2026-05-16-flow`.
    pub name: String,
    /// The figure.
    pub figure: Figure,
}

/// Holds numbers and their units together, as every figure does.
pub(crate) fn held(figure: Figure) -> Figure {
    glue::hold(figure)
}

/// What the figures of one test are made from.
#[derive(Clone, Copy, Debug)]
struct Subject<'a> {
    site: &'a Site,
    test: &'a TestResult,
    /// The site's limits, which are set against the laws of the last test alone.
    limits: &'a [Limit],
    printing: Printing,
}

/// Composes the figures of each test: flow, power, energy per volume, and head where it is known. A quantity without a
/// reading has no figure.
pub fn figures(site: &Site, analysis: &Analysis, printing: Printing) -> Vec<NamedFigure> {
    let all: Vec<&str> = QUANTITIES.iter().map(|(quantity, _)| *quantity).collect();
    figures_of(site, analysis, &all, printing)
}

type Compose = fn(&Subject<'_>) -> Option<Figure>;

/// The quantities that are drawn, with what composes each figure.
const QUANTITIES: [(&str, Compose); 4] = [
    ("flow", flow::figure),
    ("power", power::figure),
    ("energy", energy::figure),
    ("head", head::figure),
];

/// Composes the figures of each test as [`figures`] does, but only those of some quantities.
pub fn figures_of(
    site: &Site,
    analysis: &Analysis,
    quantities: &[&str],
    printing: Printing,
) -> Vec<NamedFigure> {
    let last = analysis.tests.len().saturating_sub(1);
    let tests = analysis.tests.iter().enumerate();
    tests
        .flat_map(|(index, test)| {
            let limits = if index == last {
                analysis.limits.as_slice()
            } else {
                &[]
            };
            let subject = Subject {
                site,
                test,
                limits,
                printing,
            };
            let wanted = QUANTITIES
                .iter()
                .filter(|(quantity, _)| quantities.contains(quantity));
            wanted.filter_map(move |(quantity, compose)| {
                let name = format!("{}-{quantity}", test.name);
                compose(&subject).map(|figure| NamedFigure {
                    name,
                    figure: glue::hold(figure),
                })
            })
        })
        .collect()
}

impl Subject<'_> {
    /// Lists the steps with a quantity.
    fn steps(&self, of: impl Fn(&Step) -> Option<Estimate>) -> Vec<(f64, Estimate)> {
        let steps = self.test.steps.iter();
        steps
            .filter_map(|step| Some((step.speed_rpm, of(step)?)))
            .collect()
    }

    /// Writes what a reader of the figure has to know: what is drawn, and of what test.
    fn note(&self, dots: &str, open: usize) -> String {
        let open = if open > 0 {
            say!(self.printing, " Open dots: left out.")
        } else {
            ""
        };
        say!(
            self.printing,
            "{dots}{open} Test {test}, {site}.",
            dots,
            open,
            test = self.test.name,
            site = self.site.name
        )
    }
}

/// Follows a law from the slowest of the steps that were read to the fastest.
fn law(read: &[(f64, Estimate)], at: impl Fn(f64) -> Option<Span>) -> Vec<CurvePoint> {
    match read {
        [(slowest, _), .., (fastest, _)] => followed(*slowest, *fastest, at),
        _ => Vec::new(),
    }
}

/// Pieces that a law is drawn in.
const PIECES: u32 = 60;

/// Follows a function between two ends, as far as it is known.
fn followed(low: f64, high: f64, at: impl Fn(f64) -> Option<Span>) -> Vec<CurvePoint> {
    if low >= high {
        return Vec::new();
    }
    let places = (0..=PIECES).map(|piece| {
        let share = f64::from(piece) / f64::from(PIECES);
        low + share * (high - low)
    });
    places
        .filter_map(|x| Some(CurvePoint { x, y: at(x)? }))
        .collect()
}

fn axis(title: &str, start: Start, printing: Printing) -> Axis {
    Axis {
        title: title.to_owned(),
        start,
        write: number::of_axis(printing),
    }
}

fn span(estimate: Estimate) -> Span {
    Span {
        low: estimate.low,
        value: estimate.value,
        high: estimate.high,
    }
}

/// Says at how many speeds a quantity was read, where there is no law of it.
fn without_law(word: &str, speeds: usize, printing: Printing) -> String {
    let named = capitalized(word);
    match speeds {
        0 => say!(printing, "No reading of {word} counts", word),
        1 => say!(printing, "{named} at one speed: a law needs more", named),
        2 => say!(printing, "{named} at two speeds: a law needs more", named),
        n => say!(
            printing,
            "{named} at {n} speeds: no law settles on them",
            named,
            n
        ),
    }
}

#[cfg(test)]
mod tests;
