//! The stage of heads: power factor, total head of each step, and the law of the circuit.

use super::Examination;
use crate::cells::value;
use crate::efficiency::implausible;
use crate::electrical;
use crate::finding::{Finding, Matter, Severity, Unknown};
use crate::gauges::{GaugeHead, Gauges};
use crate::head::{Offer, settle};
use crate::pump_curve::pump_curve;
use crate::result::{HeadFrom, Step};
use crate::suction::{npsh_available_m, npsh_required_of_step_m};
use crate::system::{LEAST_POINTS, Point, SystemLaw, system_law};
use hydraulics::water::Water;
use metrology::Estimate;
use records::Measured;

impl Examination<'_> {
    /// Says which steps have a power factor above one; a row that is doubted already is not accused twice, since one
    /// fault gives one finding.
    pub(super) fn check_power_factors(&mut self, steps: &[Step]) {
        self.say_unless_doubted(electrical::above_one(&self.test.name, steps));
    }

    /// Says which steps have an efficiency that is none of a pump's.
    pub(super) fn check_efficiencies(&mut self, steps: &[Step]) {
        let found = implausible(&self.test.name, steps, self.top_speed_rpm());
        self.say_unless_doubted(found);
    }

    fn say_unless_doubted(&mut self, found: Vec<Finding>) {
        for finding in found {
            let doubted = |row: &usize| {
                let mut doubts = self.findings.iter().filter(|f| f.matter.doubts_a_reading());
                doubts.any(|doubt| doubt.place.rows.contains(row))
            };
            if !finding.place.rows.iter().any(doubted) {
                self.findings.push(finding);
            }
        }
    }

    /// Gives each step what is left above boiling at the pump's inlet, and what the pump asks for.
    pub(super) fn settle_suction(&self, steps: &mut [Step]) {
        let Some(conditions) = &self.conditions else {
            return;
        };
        let curve = pump_curve(self.site).and_then(Result::ok);
        for step in steps {
            step.npsh_available_m = npsh_available_m(self.site, step, conditions);
            step.npsh_required_m = curve
                .as_ref()
                .and_then(|curve| npsh_required_of_step_m(curve, step));
        }
    }

    /// Gives each step its total head, best source first, and fits the law of the circuit to those that gauges give.
    pub(super) fn settle_heads(&mut self, steps: &mut [Step]) -> Option<SystemLaw> {
        let conditions = self.conditions?;
        let water = conditions.around.water;
        let gauges = Gauges::of(
            self.site,
            &conditions,
            &self.test.readings,
            self.ledger.meters,
        );
        let mut points = Vec::new();
        for step in steps.iter_mut() {
            if let Some(read) = gauges.and_then(|gauges| gauges.head(step))
                && self.offer_gauges(step, read, &water)
            {
                points.extend(self.point(step, read));
            }
            self.offer_claims(step, &water);
        }
        let law = system_law(self.site, &points);
        self.say_what_the_law_leaves_open(points.len(), law.as_ref());
        law
    }

    /// Offers a step the head that its gauges read; says whether it was taken.
    fn offer_gauges(&mut self, step: &mut Step, read: GaugeHead, water: &Water) -> bool {
        let offer = Offer {
            head_m: read.head_m,
            from: HeadFrom::Gauges,
            rows: step.rows.clone(),
            column: Measured::FilterPressure.word().to_owned(),
        };
        let refuted = settle(&self.test.name, step, &offer, water);
        let taken = refuted.is_none();
        self.findings.extend(refuted);
        taken
    }

    /// Offers a step the heads that somebody states of it, and strikes those that cannot be true.
    fn offer_claims(&mut self, step: &mut Step, water: &Water) {
        let readings = &self.test.readings;
        for column in self.ledger.columns_of(Measured::Head) {
            for (row, typed) in readings.rows.iter().enumerate() {
                let of_step = typed.speed_rpm.to_bits() == step.speed_rpm.to_bits();
                let stated = value(readings, row, column);
                let stated = stated.filter(|_| of_step && self.ledger.in_use(row, column));
                let Some(head_m) = stated.and_then(|head_m| Estimate::normal(head_m, 0.0)) else {
                    continue;
                };
                let offer = Offer {
                    head_m,
                    from: HeadFrom::Stated,
                    rows: vec![typed.line],
                    column: readings.columns[column].name(),
                };
                if let Some(finding) = settle(&self.test.name, step, &offer, water) {
                    self.ledger.strike(row, column, finding.matter.code());
                    self.findings.push(finding);
                }
            }
        }
    }

    /// Makes a point of the law of the circuit from a step.
    fn point(&self, step: &Step, read: GaugeHead) -> Option<Point> {
        let flow = step.flow_m3s.filter(|flow| flow.value > 0.0)?;
        let column = *self.ledger.columns_of(Measured::Flow).first()?;
        let meter = &self.ledger.meters[column].instrument;
        Some(Point {
            flow,
            flow_common_u_ln: meter.common_u(flow.value) / flow.value,
            head: read.head_m,
            head_common_u_m: read.common_u_m,
        })
    }

    fn say_what_the_law_leaves_open(&mut self, points: usize, law: Option<&SystemLaw>) {
        let unknown = match law {
            None if points < LEAST_POINTS => Unknown::SystemLaw,
            Some(law) if law.static_m.is_some() && law.exponent.is_some() => return,
            None | Some(_) => Unknown::SystemNumbers,
        };
        let finding = Finding {
            severity: Severity::Note,
            place: self.of_test(),
            matter: Matter::NotIdentifiable(unknown),
        };
        self.findings.push(finding);
    }
}
