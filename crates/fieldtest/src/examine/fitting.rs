//! The stage of laws: flow and power against speed, and the draw at rest.

use super::Examination;
use crate::cells::{Cell, value};
use crate::finding::{Law, Matter, Severity, Unknown};
use crate::laws::{FittedLaw, FlowLaw, LEAST_SPEEDS_TO_LEARN, PowerLaw, Shape};
use crate::result::{Laws, Step};
use crate::steps::repeated;
use crate::trust::speeds;
use metrology::Estimate;
use records::Measured;

/// Picks a quantity of a step.
type StepQuantity = fn(&Step) -> Option<Estimate>;

impl Examination<'_> {
    /// Fits the laws to all readings that count.
    pub(super) fn laws(&mut self) -> Laws {
        let flow = self.law(Measured::Flow, Shape::Flow, Law::Flow);
        let power = self.law(Measured::Power, Shape::Power, Law::Power);
        Laws {
            flow: flow.and_then(FlowLaw::new),
            power: power.and_then(PowerLaw::new),
            system: None,
            standby_w: self.standby(),
        }
    }

    fn law(&mut self, measured: Measured, shape: Shape, law: Law) -> Option<FittedLaw> {
        let mut all: Vec<Cell<'_>> = Vec::new();
        for column in self.ledger.columns_of(measured) {
            all.extend(self.ledger.cells(column));
        }
        numerics::order::sort_by(&mut all, |a, b| {
            a.speed_rpm
                .total_cmp(&b.speed_rpm)
                .then(a.column.cmp(&b.column))
        });
        let (have, need) = (speeds(&all), shape.least_speeds());
        if have <= need {
            let place = self.of_test();
            self.say(
                Severity::Warning,
                place,
                Matter::TooFewSteps {
                    law,
                    have,
                    need: need + 1,
                },
            );
        }
        if have < need {
            return None;
        }
        let top = self.top_speed_rpm();
        let fitted = if have >= LEAST_SPEEDS_TO_LEARN {
            FittedLaw::learning(shape, top, &all)
        } else {
            FittedLaw::new(shape, shape.discrepancy(), top, &all)
        };
        if fitted.is_err() {
            let place = self.of_test();
            self.say(
                Severity::Warning,
                place,
                Matter::NotIdentifiable(Unknown::LawDidNotSettle(law)),
            );
        }
        fitted.ok()
    }

    /// Estimates the draw at rest from the rows of speed zero.
    fn standby(&self) -> Option<Estimate> {
        let rows = &self.test.readings.rows;
        let at_rest = |column: usize| {
            let idle = (0..rows.len())
                .filter(|row| rows[*row].speed_rpm <= 0.0 && self.ledger.in_use(*row, column))
                .filter_map(|row| value(&self.test.readings, row, column));
            let mut idle: Vec<f64> = idle.collect();
            numerics::order::sort_values(&mut idle);
            let read = (!idle.is_empty())
                .then(|| repeated(self.ledger.used(column), idle.iter().copied()));
            read.flatten().map(|draw| draw.not_below(0.0))
        };
        self.ledger
            .columns_of(Measured::Power)
            .into_iter()
            .find_map(at_rest)
    }

    /// Says which of flow and power does not rise with speed.
    pub(super) fn check_rise(&mut self, steps: &[Step]) {
        /// Over a smaller ratio of speeds a rise may hide in the meters.
        const LEAST_RATIO: f64 = 1.5;
        /// Over that ratio flow rises by as much and power by more; less than this is no rise.
        const LEAST_RISE: f64 = 1.1;
        let quantities: [(Measured, StepQuantity); 2] = [
            (Measured::Flow, |step| step.flow_m3s),
            (Measured::Power, |step| step.power_w),
        ];
        for (measured, of) in quantities {
            let read: Vec<(f64, Estimate)> = steps
                .iter()
                .filter_map(|step| Some((step.speed_rpm, of(step)?)))
                .collect();
            let (Some((slow, low)), Some((fast, high))) = (read.first(), read.last()) else {
                continue;
            };
            if fast / slow >= LEAST_RATIO && high.value <= LEAST_RISE * low.value {
                let mut place = self.of_test();
                let column = self.ledger.columns_of(measured).first().copied();
                place.column = column.map(|column| self.test.readings.columns[column].name());
                self.say(Severity::Warning, place, Matter::DoesNotRise { measured });
            }
        }
    }

    /// Strikes a draw at rest that is more than the electronics of the running pump draw.
    pub(super) fn check_standby(&mut self, laws: &mut Laws) {
        let (Some(standby_w), Some(power)) = (laws.standby_w, &laws.power) else {
            return;
        };
        let fixed_w = power.fixed_w;
        if standby_w.low <= fixed_w.high {
            return;
        }
        laws.standby_w = None;
        let columns = self.ledger.columns_of(Measured::Power);
        let mut place = self.of_test();
        place.steps_rpm = vec![0.0];
        for (row, typed) in self.test.readings.rows.iter().enumerate() {
            if typed.speed_rpm <= 0.0 {
                place.rows.push(typed.line);
                for column in &columns {
                    self.ledger.strike(row, *column, "standby-too-high");
                }
            }
        }
        place.column = columns
            .first()
            .map(|column| self.test.readings.columns[*column].name());
        self.say(
            Severity::Error,
            place,
            Matter::StandbyTooHigh { standby_w, fixed_w },
        );
    }
}
