//! What the page shows of a pad: the words, the figures and the numbers of the engine, and where a number comes from.

use crate::engine::Pad;
use crate::origin::{Origin, measured};
use charts::{Size, Theme};
use document::content::{self, Block};
use document::figures::{NamedFigure, figures_of};
use document::method::{Computed, Method, method};
use document::names;
use document::units::Printing;
use fieldtest::{Analysis, Question, ReadingUse};
use records::{Language, Measured, Problem, Site, Test, UnitSystem, read_pad};

/// What the engine makes of a pad.
#[derive(Clone, Debug)]
pub struct Answered {
    site: Site,
    tests: Vec<Test>,
    analysis: Analysis,
    printing: Printing,
}

/// Reads the texts and analyses the tests.
///
/// # Inputs
/// The texts of a pad, and the units to print in where not the site's own.
///
/// # Errors
/// Everything that is wrong in the texts, each with its place and the mend.
pub fn answer(
    pad: &Pad,
    units: Option<UnitSystem>,
    language: Language,
) -> Result<Answered, Vec<Problem>> {
    let (site, tests) = read_pad(&pad.site, &pad.tests)?;
    let system = units.or(site.units).unwrap_or_default();
    let printing = Printing { system, language };
    let analysis = fieldtest::analyze(&site, &tests);
    Ok(Answered::of(site, tests, analysis, printing))
}

/// A figure for the page.
#[derive(Clone, Debug, PartialEq)]
pub struct PageFigure {
    /// The test and the quantity: `2026-05-16-flow`.
    pub name: String,
    /// The finding and its numbers, for a reader who does not see the figure.
    pub description: String,
    figure: charts::Figure,
}

impl Answered {
    /// Puts an analysis together with what it is of.
    pub(crate) fn of(site: Site, tests: Vec<Test>, analysis: Analysis, printing: Printing) -> Self {
        Self {
            site,
            tests,
            analysis,
            printing,
        }
    }

    /// The name of the site.
    pub fn site(&self) -> &str {
        &self.site.name
    }

    /// The tests that it is of.
    pub fn tests(&self) -> &[Test] {
        &self.tests
    }

    /// The whole answer in words.
    pub fn blocks(&self) -> Vec<Block> {
        content::analysis(&self.site, &self.tests, &self.analysis, self.printing)
    }

    /// The answer in numbers: what the command prints for the same texts with `analyze --json`.
    pub fn json(&self) -> String {
        let mut analysis = self.analysis.clone();
        let (site, tests) = (&self.site, &self.tests);
        let found = fieldtest::speed_to_calibrate(site, tests, &analysis)
            .and_then(|top| fieldtest::calibrate_into(&mut analysis, site, tests, (top, None)));
        match found {
            Some((calibration, learning)) => {
                let found = (&calibration, learning.as_ref().ok());
                document::json::analysis_with_budget(&analysis, site, found, self.printing)
            }
            None => document::json::analysis(&analysis, site, None, self.printing),
        }
    }

    /// The figures of every test that show one of some quantities, such as `flow`; those of the last test first.
    pub fn figures(&self, quantities: &[&str]) -> Vec<PageFigure> {
        let mut drawn = figures_of(&self.site, &self.analysis, quantities, self.printing);
        let last = self.analysis.tests.last().map(|test| test.name.as_str());
        let is_of_last = |figure: &NamedFigure| {
            let test = figure.name.rsplit_once('-').map(|(test, _)| test);
            test == last
        };
        numerics::order::sort_by_key(&mut drawn, |figure| !is_of_last(figure));
        drawn
            .into_iter()
            .map(|NamedFigure { name, figure }| PageFigure {
                name,
                description: figure.description.clone(),
                figure,
            })
            .collect()
    }

    /// Says where a number comes from: how it is computed, what its uncertainty is made of where that is taken apart, and the
    /// readings behind it. `None` where nothing can be told.
    pub fn where_from(&self, origin: &Origin) -> Option<WhereFrom> {
        let last = self.analysis.tests.len().checked_sub(1)?;
        let limit = match origin {
            Origin::Limit(index) => Some(self.analysis.limits.get(*index)?),
            _ => None,
        };
        let (test, question) = match origin {
            Origin::Law { test, question } => (*test, Some(*question)),
            Origin::Limit(_) => (last, limit?.speed_rpm.map(Question::Flow)),
            Origin::Other { .. } => (last, None),
        };
        let test = self.analysis.tests.get(test)?;
        let budget = question.and_then(|question| fieldtest::why(test, question));
        if budget.is_none() && matches!(origin, Origin::Law { .. }) {
            return None;
        }
        let is_behind = |read: &&ReadingUse| match (origin, &budget) {
            (Origin::Other { kind, .. }, _) => measured(*kind).contains(&read.measured),
            (_, Some(budget)) => {
                let mut columns = budget.parts.iter().map(|part| part.column.as_deref());
                columns.any(|column| column == Some(&read.column))
            }
            (_, None) => read.measured == Measured::Flow,
        };
        let readings = test.readings.iter().filter(is_behind);
        Some(WhereFrom {
            title: match origin {
                Origin::Law { .. } => None,
                Origin::Limit(_) => limit.map(|limit| names::applied_to(limit, self.printing)),
                Origin::Other { name, .. } => Some(name.clone()),
            },
            blocks: budget
                .as_ref()
                .map_or_else(Vec::new, |budget| content::why(budget, self.printing)),
            method: method(
                match origin {
                    Origin::Law { question, .. } => Computed::Law(*question),
                    Origin::Limit(_) => Computed::Limit(limit),
                    Origin::Other { kind, .. } => Computed::Other(*kind),
                },
                self.printing,
            ),
            readings: readings
                .map(|read| ReadingBehind {
                    row: read.row,
                    column: read.column.clone(),
                    used: read.used,
                })
                .collect(),
            test: test.name.clone(),
        })
    }

    /// The analysis itself, for what a screen asks of it beyond words.
    pub fn analysis(&self) -> &Analysis {
        &self.analysis
    }
}

impl PageFigure {
    /// Draws the figure as SVG text: nothing is styled in it but by attributes and classes, so that the style sheet of
    /// [`charts::stylesheet`] colours it for any theme. `None` where there is nothing to draw.
    pub fn svg(&self, size: Size) -> Option<String> {
        self.figure.svg(Theme::Light, size)
    }
}

/// Where a number comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct WhereFrom {
    /// The name of the test.
    pub test: String,
    /// What the number is called, where the blocks do not say it.
    pub title: Option<String>,
    /// The answer, and what its uncertainty is made of; empty where it is not taken apart.
    pub blocks: Vec<Block>,
    /// How it is computed.
    pub method: Method,
    /// The readings behind it.
    pub readings: Vec<ReadingBehind>,
}

/// A reading behind a number.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadingBehind {
    /// The line of the file of readings.
    pub row: usize,
    /// The heading of the column, without its unit.
    pub column: String,
    /// Whether it counts.
    pub used: bool,
}
