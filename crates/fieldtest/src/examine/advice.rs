//! The stage of advice: the cheapest speed and what it is too slow for, and which readings are missing.

use super::Examination;
use crate::equipment::{min_flow, word};
use crate::finding::{Matter, Severity, Unknown};
use crate::least_energy::least_energy;
use crate::result::{Edge, Laws, LeastEnergy, Step};
use records::Measured;

impl Examination<'_> {
    /// Finds the cheapest speed, and what it is too slow for.
    pub(super) fn least_energy(&mut self, laws: &Laws, steps: &[Step]) -> Option<LeastEnergy> {
        let (flow, power) = (laws.flow.as_ref()?, laws.power.as_ref()?);
        let both = |step: &&Step| step.flow_m3s.is_some() && step.power_w.is_some();
        let slowest_rpm = steps.iter().find(both)?.speed_rpm;
        let fastest_rpm = steps.iter().rev().find(both)?.speed_rpm;
        let mut found = least_energy(flow, power, laws.standby_w, (slowest_rpm, fastest_rpm));
        self.say_edge(&found, slowest_rpm, fastest_rpm);
        found.below = self.below(&found);
        Some(found)
    }

    fn say_edge(&mut self, found: &LeastEnergy, slowest_rpm: f64, fastest_rpm: f64) {
        let unknown = match found.at_edge {
            None => return,
            Some(Edge::Low) => Unknown::LeastEnergyBelow {
                slowest_rpm,
                read_next_rpm: self.slower_step_rpm(slowest_rpm),
            },
            Some(Edge::High) => Unknown::LeastEnergyAbove { fastest_rpm },
        };
        let place = self.of_test();
        self.say(Severity::Note, place, Matter::NotIdentifiable(unknown));
    }

    /// Proposes the next slower step: a quarter less, in whole fifties, and not below what the pump can hold.
    fn slower_step_rpm(&self, slowest_rpm: f64) -> f64 {
        let wanted = (0.75 * slowest_rpm / 50.0).round() * 50.0;
        let least = self
            .site
            .pump
            .speed
            .min
            .as_ref()
            .map_or(0.0, |speed| speed.si);
        wanted.max(least)
    }

    /// Names what needs more flow than the cheapest speed gives.
    fn below(&self, found: &LeastEnergy) -> Vec<String> {
        let Some(flow) = found.flow_m3s else {
            return Vec::new();
        };
        let operation = &self.site.operation;
        let tasks = operation.tasks.iter();
        let mut below: Vec<String> = tasks
            .filter(|task| task.min_flow.si > flow.value)
            .map(|task| task.name.clone())
            .collect();
        for part in self.site.lines.iter().flat_map(|line| &line.parts) {
            if min_flow(&part.kind).is_some_and(|least| least.si > flow.value) {
                below.push(word(&part.kind).to_owned());
            }
        }
        let volume = self
            .site
            .water
            .volume
            .as_ref()
            .zip(operation.turnover.as_ref());
        let wanted_m3 = volume.map(|(volume, turnover)| volume.si * turnover.per_day);
        if wanted_m3
            .zip(found.volume_24h_m3)
            .is_some_and(|(wanted, moved)| moved < wanted)
        {
            below.push("turnover".to_owned());
        }
        below
    }

    /// Says which readings are missing, and which meters are taken on trust.
    pub(super) fn say_what_is_missing(&mut self) {
        let readings = &self.test.readings;
        if !readings.rows.iter().any(|row| row.speed_rpm <= 0.0) {
            let place = self.of_test();
            self.say(Severity::Note, place, Matter::NoStandbyReading);
        }
        let flow_columns = readings
            .columns
            .iter()
            .filter(|c| c.measured == Measured::Flow)
            .count();
        if flow_columns > 0 && self.ledger.columns_of(Measured::Flow).is_empty() {
            let place = self.of_test();
            self.say(
                Severity::Warning,
                place,
                Matter::NotIdentifiable(Unknown::WholeFlow),
            );
        }
        let columns = readings.columns.iter().zip(self.ledger.meters);
        let assumed: Vec<(String, f64)> = columns
            .filter_map(|(column, meter)| Some((column.name(), meter.assumed_of_reading?)))
            .collect();
        if !assumed.is_empty() {
            let place = self.of_test();
            self.say(
                Severity::Note,
                place,
                Matter::AccuracyAssumed { columns: assumed },
            );
        }
    }
}
