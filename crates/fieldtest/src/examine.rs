//! One test, from readings to result: strike what cannot count, judge each column, fit the laws, draw the steps.

mod advice;
mod fitting;
mod heads;
mod judging;
mod meters;
mod speeds;

use crate::cells::{UsedColumn, value};
use crate::columns::Ledger;
use crate::finding::{Finding, Matter, Place, Severity};
use crate::laws::Shape;
use crate::limits::{site_limits, velocity_findings};
use crate::meters::{ColumnMeter, column_meters};
use crate::result::{Laws, LeastEnergy, Step, TestResult};
use crate::steps::steps;
use hydraulics::water::Water;
use records::{Measured, Site, Test};

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
    let meters = column_meters(site, test);
    let mut examination = Examination::open(site, test, &meters);
    let strays = examination.strike_stray_speeds();
    let outside = examination.ledger.strike_outside_range(&test.name);
    examination.findings.extend(outside);
    let impossible = examination.ledger.strike_impossible_vacuum(&test.name);
    examination.findings.extend(impossible);
    examination.check_volt_amperes();
    examination.check_columns();
    examination.check_settling();
    examination.judge_columns(&strays);
    examination.compare_meters();
    examination.check_gauges_at_rest();
    let mut steps = examination.steps();
    let mut laws = examination.laws();
    examination.check_rise(&steps);
    examination.check_standby(&mut laws);
    examination.check_power_factors(&steps);
    laws.system = examination.settle_heads(&mut steps);
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

    /// Draws the steps from the readings that count now.
    fn steps(&self) -> Vec<Step> {
        let Some(water) = &self.water else {
            return Vec::new();
        };
        let whole = |index: &usize| self.ledger.meters[*index].excluded.is_none();
        let columns: Vec<UsedColumn<'_>> = (0..self.ledger.meters.len())
            .filter(whole)
            .map(|index| self.ledger.used(index))
            .collect();
        let in_use = |row: usize, column: usize| self.ledger.in_use(row, column);
        let supply_v = self.site.pump.supply.as_ref().map(|supply| supply.si);
        steps(&self.test.readings, &columns, &in_use, supply_v, water)
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
            columns: self
                .test
                .readings
                .columns
                .iter()
                .map(records::Column::name)
                .collect(),
            steps,
            laws,
            least_energy,
            readings: self.ledger.uses(),
        };
        let found = site_limits(self.site, &result.closed, result.laws.flow.as_ref());
        let branch_flows = |line: &str| self.branch_flows(line);
        let fast = velocity_findings(&result, &found.limits, &branch_flows);
        self.findings.extend(fast);
        (result, self.findings)
    }

    /// Lists the flows that meters on a line read, with their speeds.
    fn branch_flows(&self, line: &str) -> Vec<(f64, f64)> {
        let readings = &self.test.readings;
        let mut flows = Vec::new();
        for (column, meter) in self.ledger.meters.iter().enumerate() {
            if meter.on.as_deref() != Some(line)
                || readings.columns[column].measured != Measured::Flow
            {
                continue;
            }
            for (row, typed) in readings.rows.iter().enumerate() {
                let flow = value(readings, row, column).filter(|_| typed.speed_rpm > 0.0);
                flows.extend(flow.map(|flow| (typed.speed_rpm, flow)));
            }
        }
        flows
    }
}
