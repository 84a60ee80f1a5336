//! One test, from readings to result: strike what cannot count, judge each column, fit the laws, draw the steps.

use crate::cells::{Cell, cells};
use crate::columns::Ledger;
use crate::electrical;
use crate::equipment::{min_flow, word};
use crate::explain::{Context, explain};
use crate::finding::{Finding, Law, Matter, Place, Severity, Unknown};
use crate::head::{Claim, settle};
use crate::laws::{FittedLaw, FlowLaw, PowerLaw, Shape};
use crate::least_energy::least_energy;
use crate::limits::{site_limits, velocity_findings};
use crate::meters::{ColumnMeter, column_meters};
use crate::result::{Laws, LeastEnergy, Step, TestResult};
use crate::speed::{Suspect, wrong_speed};
use crate::steps::{UsedColumn, repeated, steps};
use crate::trust::{Judgement, judge, speeds};
use hydraulics::water::Water;
use metrology::Estimate;
use records::{Measured, Site, Test};
use std::collections::BTreeMap;

/// The temperature of water that nobody measured, K: 20 °C, that of handbook tables.
const HANDBOOK_TEMPERATURE_K: f64 = 293.15;

/// The quantities that follow a law of speed, with the law's shape.
const LAWFUL: [(Measured, Shape); 3] = [
    (Measured::Flow, Shape::Flow),
    (Measured::Power, Shape::Power),
    (Measured::Current, Shape::Current),
];

/// Examines one test of a site.
pub(crate) fn examine(site: &Site, test: &Test) -> (TestResult, Vec<Finding>) {
    let meters = column_meters(site, &test.readings);
    let mut examination = Examination::open(site, test, &meters);
    examination.check_speeds();
    let outside = examination.ledger.strike_outside_range(&test.name);
    examination.findings.extend(outside);
    examination.check_volt_amperes();
    examination.judge_columns();
    let laws = examination.laws();
    let steps = examination.settled_steps();
    let least_energy = examination.least_energy(&laws, &steps);
    examination.say_what_is_missing();
    examination.close(laws, steps, least_energy)
}

/// The examination of one test.
struct Examination<'a> {
    site: &'a Site,
    test: &'a Test,
    ledger: Ledger<'a>,
    water: Option<Water>,
    findings: Vec<Finding>,
}

impl<'a> Examination<'a> {
    fn open(site: &'a Site, test: &'a Test, meters: &'a [ColumnMeter]) -> Self {
        let typed = test.head.water_temperature.as_ref();
        let temperature_k = typed
            .or(site.water.temperature.as_ref())
            .map_or(HANDBOOK_TEMPERATURE_K, |temperature| temperature.si);
        Self {
            site,
            test,
            ledger: Ledger::open(test, meters),
            water: Water::fresh(temperature_k).ok(),
            findings: Vec::new(),
        }
    }

    fn top_speed_rpm(&self) -> f64 {
        self.site.pump.speed.max.si
    }

    fn say(&mut self, severity: Severity, place: Place, matter: Matter) {
        self.findings.push(Finding {
            severity,
            place,
            matter,
        });
    }

    fn of_test(&self) -> Place {
        Place {
            test: Some(self.test.name.clone()),
            ..Place::default()
        }
    }

    /// Says which steps lie outside what the pump is said to run at.
    fn check_speeds(&mut self) {
        let max_rpm = self.top_speed_rpm();
        let min_rpm = self.site.pump.speed.min.as_ref().map(|speed| speed.si);
        let column = self.ledger.columns_of(Measured::Speed).first().copied();
        let rows = &self.test.readings.rows;
        let outside: Vec<usize> = (0..rows.len())
            .filter(|row| {
                let speed = rows[*row].speed_rpm;
                speed > max_rpm || (speed > 0.0 && min_rpm.is_some_and(|min| speed < min))
            })
            .collect();
        for row in outside {
            let place = self.ledger.place(&self.test.name, row, column.unwrap_or(0));
            let speed_rpm = rows[row].speed_rpm;
            self.say(
                Severity::Warning,
                place,
                Matter::SpeedOutsidePump {
                    speed_rpm,
                    min_rpm,
                    max_rpm,
                },
            );
        }
    }

    /// Draws the steps from the readings that count now.
    fn steps(&self) -> Vec<Step> {
        let Some(water) = &self.water else {
            return Vec::new();
        };
        let whole = |index: &usize| self.ledger.meters[*index].on.is_none();
        let columns: Vec<UsedColumn<'_>> = (0..self.ledger.meters.len())
            .filter(whole)
            .map(|index| UsedColumn {
                index,
                measured: self.test.readings.columns[index].measured,
                meter: &self.ledger.meters[index],
            })
            .collect();
        let in_use = |row: usize, column: usize| self.ledger.in_use(row, column);
        let supply_v = self.site.pump.supply.as_ref().map(|supply| supply.si);
        steps(&self.test.readings, &columns, &in_use, supply_v, water)
    }

    /// Strikes the column of power where it holds volt-amperes.
    fn check_volt_amperes(&mut self) {
        let Some(matter) = electrical::volt_amperes_as_watts(&self.steps()) else {
            return;
        };
        let columns = self.ledger.columns_of(Measured::Power);
        let mut place = self.of_test();
        place.column = columns
            .first()
            .map(|column| self.test.readings.columns[*column].name());
        self.say(Severity::Error, place, matter);
        for column in columns {
            self.ledger.strike_column(column, "volt-amperes-as-watts");
        }
    }

    /// Judges every column that follows a law, and strikes what does not belong.
    fn judge_columns(&mut self) {
        let meters = self.ledger.meters;
        let mut judged: Vec<(usize, Judgement<'_>)> = Vec::new();
        for (measured, shape) in LAWFUL {
            for column in self.ledger.columns_of(measured) {
                let found = cells(&self.test.readings, column, &meters[column], |row| {
                    self.ledger.in_use(row, column)
                });
                let may_doubt = |cell: &Cell<'_>| {
                    !cell
                        .rows
                        .iter()
                        .any(|row| self.ledger.is_confirmed(*row, column))
                };
                judged.push((
                    column,
                    judge(shape, self.top_speed_rpm(), &found, may_doubt),
                ));
            }
        }
        let moved_rows = self.wrong_speeds(&judged);
        for (column, judgement) in &judged {
            self.strike_refuted(*column, judgement, &moved_rows);
        }
    }

    /// Finds the rows that fit another speed, and strikes them whole.
    fn wrong_speeds(&mut self, judged: &[(usize, Judgement<'_>)]) -> Vec<usize> {
        let mut by_row: BTreeMap<usize, Vec<Suspect<'_>>> = BTreeMap::new();
        for (_, judgement) in judged {
            for refuted in &judgement.refuted {
                if let (Some(law), [row]) = (&judgement.law, refuted.cell.rows.as_slice()) {
                    by_row
                        .entry(*row)
                        .or_default()
                        .push(Suspect { refuted, law });
                }
            }
        }
        let (test, readings) = (&self.test.name, &self.test.readings);
        let mut moved = Vec::new();
        for (row, suspects) in by_row {
            if let Some(finding) = wrong_speed(test, readings, row, &suspects, self.top_speed_rpm())
            {
                self.findings.push(finding);
                moved.push(row);
                for column in 0..readings.columns.len() {
                    self.ledger.strike(row, column, "off-curve");
                }
            }
        }
        moved
    }

    fn strike_refuted(&mut self, column: usize, judgement: &Judgement<'_>, moved_rows: &[usize]) {
        let measured = self.test.readings.columns[column].measured;
        if let Some(largest) = judgement.scattered {
            let mut place = self.of_test();
            place.column = Some(self.test.readings.columns[column].name());
            self.say(
                Severity::Warning,
                place,
                Matter::Scattered { measured, largest },
            );
        }
        let Some(law) = &judgement.law else {
            return;
        };
        for refuted in &judgement.refuted {
            if refuted.cell.rows.iter().any(|row| moved_rows.contains(row)) {
                continue;
            }
            let context = Context {
                test: &self.test.name,
                readings: &self.test.readings,
                column,
                resolution_si: self.ledger.meters[column].instrument.resolution,
                law,
            };
            if let Some(finding) = explain(context, refuted) {
                for row in &refuted.cell.rows {
                    self.ledger.strike(*row, column, finding.matter.code());
                }
                self.findings.push(finding);
            }
        }
    }

    /// Fits the laws to all readings that count.
    fn laws(&mut self) -> Laws {
        let flow = self.law(Measured::Flow, Shape::Flow, Law::Flow);
        let power = self.law(Measured::Power, Shape::Power, Law::Power);
        Laws {
            flow: flow.and_then(FlowLaw::new),
            power: power.and_then(PowerLaw::new),
            standby_w: self.standby(),
        }
    }

    fn law(&mut self, measured: Measured, shape: Shape, law: Law) -> Option<FittedLaw> {
        let meters = self.ledger.meters;
        let mut all: Vec<Cell<'_>> = Vec::new();
        for column in self.ledger.columns_of(measured) {
            let in_use = |row| self.ledger.in_use(row, column);
            all.extend(cells(&self.test.readings, column, &meters[column], in_use));
        }
        all.sort_by(|a, b| {
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
        let fitted = FittedLaw::new(shape, shape.discrepancy(), self.top_speed_rpm(), &all);
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
        let column = *self.ledger.columns_of(Measured::Power).first()?;
        let rows = &self.test.readings.rows;
        let mut idle: Vec<f64> = (0..rows.len())
            .filter(|row| rows[*row].speed_rpm <= 0.0 && self.ledger.in_use(*row, column))
            .filter_map(|row| crate::cells::value(&self.test.readings, row, column))
            .collect();
        idle.sort_by(f64::total_cmp);
        if idle.is_empty() {
            return None;
        }
        repeated(&self.ledger.meters[column], idle.iter().copied()).map(|draw| draw.not_below(0.0))
    }

    /// Draws the steps, and holds power factor and stated head against them.
    fn settled_steps(&mut self) -> Vec<Step> {
        let mut steps = self.steps();
        let doubted = |row: usize, findings: &[Finding]| {
            findings
                .iter()
                .any(|f| f.matter.doubts_a_reading() && f.place.rows.contains(&row))
        };
        for finding in electrical::above_one(&self.test.name, &steps) {
            // One fault gives one finding: a row that is doubted already is not accused twice.
            if !finding
                .place
                .rows
                .iter()
                .any(|row| doubted(*row, &self.findings))
            {
                self.findings.push(finding);
            }
        }
        let Some(water) = self.water else {
            return steps;
        };
        for (row, claim) in self.claims() {
            let speed_rpm = self.test.readings.rows[row].speed_rpm;
            let step = steps
                .iter_mut()
                .find(|step| step.speed_rpm.to_bits() == speed_rpm.to_bits());
            if let Some(finding) =
                step.and_then(|step| settle(&self.test.name, step, &claim.1, &water))
            {
                self.ledger.strike(row, claim.0, finding.matter.code());
                self.findings.push(finding);
            }
        }
        steps
    }

    /// Lists the stated heads that count: row, column and claim.
    fn claims(&self) -> Vec<(usize, (usize, Claim))> {
        let readings = &self.test.readings;
        let mut claims = Vec::new();
        for column in self.ledger.columns_of(Measured::Head) {
            for (row, typed) in readings.rows.iter().enumerate() {
                if let Some(head_m) = crate::cells::value(readings, row, column)
                    && typed.speed_rpm > 0.0
                    && self.ledger.in_use(row, column)
                {
                    let claim = Claim {
                        head_m,
                        row: typed.line,
                        column: readings.columns[column].name(),
                    };
                    claims.push((row, (column, claim)));
                }
            }
        }
        claims
    }

    /// Finds the cheapest speed, and what it is too slow for.
    fn least_energy(&mut self, laws: &Laws, steps: &[Step]) -> Option<LeastEnergy> {
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
        use crate::result::Edge;
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
    fn say_what_is_missing(&mut self) {
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
        let place = self.of_test();
        self.say(
            Severity::Note,
            place,
            Matter::NotIdentifiable(Unknown::SystemLaw),
        );
        for (index, column) in readings.columns.iter().enumerate() {
            if let Some(of_reading) = self.ledger.meters[index].assumed_of_reading {
                let mut place = self.of_test();
                place.column = Some(column.name());
                let measured = column.measured;
                self.say(
                    Severity::Note,
                    place,
                    Matter::AccuracyAssumed {
                        measured,
                        of_reading,
                    },
                );
            }
        }
    }

    fn close(
        mut self,
        laws: Laws,
        steps: Vec<Step>,
        least_energy: Option<LeastEnergy>,
    ) -> (TestResult, Vec<Finding>) {
        let result = TestResult {
            name: self.test.name.clone(),
            closed: self.test.head.closed.clone(),
            steps,
            laws,
            least_energy,
            readings: self.ledger.uses(),
        };
        let found = site_limits(self.site, &result.closed, result.laws.flow.as_ref());
        self.findings
            .extend(velocity_findings(&result, &found.limits));
        (result, self.findings)
    }
}
