//! What the figures of flow, power and energy have in common: a quantity against the speed of the pump.

use super::describe::described;
use super::readings::Refused;
use super::{Subject, axis, span};
use crate::language::say;
use crate::number;
use crate::units::{Printing, with_unit};
use charts::{Curve, CurveKind, CurvePoint, Figure, Highlight, Point, Rule, Span, Start};
use metrology::Estimate;
use records::unit::Dimension;

/// A quantity against speed, in the unit of print.
#[derive(Debug)]
pub(super) struct AgainstSpeed {
    /// The finding.
    pub(super) title: String,
    /// What else the description says, a sentence.
    pub(super) more: Option<String>,
    /// The quantity and its unit.
    pub(super) quantity: &'static str,
    pub(super) unit: String,
    /// What the dots are.
    pub(super) dots: &'static str,
    /// The steps by rising speed, rpm, with what was read.
    pub(super) read: Vec<(f64, Estimate)>,
    /// What was read and is left out.
    pub(super) refused: Vec<Refused>,
    /// The law, empty where there is none.
    pub(super) law: Vec<CurvePoint>,
    pub(super) rules: Vec<Rule>,
    pub(super) highlight: Option<Highlight>,
}

impl AgainstSpeed {
    /// Composes the figure; `None` where nothing was read.
    pub(super) fn figure(self, subject: &Subject<'_>) -> Option<Figure> {
        if self.read.is_empty() && self.refused.is_empty() {
            return None;
        }
        let point = |(speed, value): &(f64, Estimate)| Point {
            x: Span::exact(*speed),
            y: span(*value),
            told: self.told(*speed, *value, subject.printing),
        };
        let points: Vec<Point> = self.read.iter().map(point).collect();
        let curve = Curve {
            label: say!(subject.printing, "law, 95 % band").to_owned(),
            kind: CurveKind::Law,
            points: self.law.clone(),
        };
        let speed = subject.printing.name(Dimension::Speed);
        Some(Figure {
            description: self.description(subject.printing),
            note: subject.note(self.dots, self.refused.len()),
            x: axis(
                &say!(subject.printing, "Pump speed, {unit}", unit = speed),
                Start::Data,
                subject.printing,
            ),
            y: axis(
                &format!("{}, {}", self.quantity, self.unit),
                Start::Zero,
                subject.printing,
            ),
            highlight: self.highlight,
            curves: vec![curve],
            points,
            left_out: self
                .refused
                .into_iter()
                .map(|refused| refused.drawn)
                .collect(),
            rules: self.rules,
            title: self.title,
        })
    }

    /// Tells what was read at a speed.
    fn told(&self, speed_rpm: f64, value: Estimate, printing: Printing) -> String {
        let value = with_unit(&number::with_interval(printing, value), &self.unit);
        say!(
            printing,
            "{value} at {speed} rpm",
            value,
            speed = number::rpm(printing, speed_rpm)
        )
    }

    fn description(&self, printing: Printing) -> String {
        let point = |(speed, value): &(f64, Estimate)| self.told(*speed, *value, printing);
        let drawn = say!(
            printing,
            "{quantity} in {unit} against pump speed",
            quantity = self.quantity,
            unit = self.unit
        );
        let sentences = [Some(self.title.clone()), self.more.clone(), Some(drawn)];
        described(
            sentences.into_iter().flatten(),
            &[
                (
                    say!(printing, "Read" as "dots"),
                    self.read.iter().map(point).collect(),
                ),
                (
                    say!(printing, "Left out"),
                    self.refused
                        .iter()
                        .map(|refused| refused.words.clone())
                        .collect(),
                ),
                (
                    say!(printing, "Marked"),
                    self.rules.iter().map(|rule| rule.label.clone()).collect(),
                ),
            ],
            printing,
        )
    }
}
