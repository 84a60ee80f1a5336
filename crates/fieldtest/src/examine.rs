//! One test, from readings to result: strike what cannot count, judge each column, fit the laws, draw the steps.

mod advice;
mod expecting;
mod fitting;
mod heads;
mod judging;
mod meters;
mod speeds;

use crate::cells::{UsedColumn, value};
use crate::columns::Ledger;
use crate::conditions::Conditions;
use crate::expectation::Expectation;
use crate::finding::{Finding, Matter, Place, Severity};
use crate::laws::Shape;
use crate::limits::{self, SiteLimits};
use crate::meters::{ColumnMeter, column_meters};
use crate::result::{Laws, LeastEnergy, Step, TestResult};
use crate::steps::steps;
use records::{Measured, Site, Test};

/// The quantities that follow a law of speed, with the law's shape.
const LAWFUL: [(Measured, Shape); 3] = [
    (Measured::Flow, Shape::Flow),
    (Measured::Power, Shape::Power),
    (Measured::Current, Shape::Current),
];

/// A test that was examined: its result, what there is to say of it, and the site's limits as this test puts them.
pub(crate) type Examined = (TestResult, Vec<Finding>, SiteLimits);

/// Examines one test of a site.
pub(crate) fn examine(site: &Site, test: &Test) -> Examined {
    let meters = column_meters(site, test);
    let mut examination = Examination::open(site, test, &meters);
    examination.strike_what_cannot_count();
    examination.conclude()
}

/// Examines one test of a site, and says what is expected of each of its cells.
pub(crate) fn examine_with_expectations(site: &Site, test: &Test) -> (Examined, Vec<Expectation>) {
    let meters = column_meters(site, test);
    let mut examination = Examination::open(site, test, &meters);
    examination.strike_what_cannot_count();
    let expectations = examination.expectations();
    (examination.conclude(), expectations)
}

/// Says what is expected of each cell of a test, once what cannot count is struck.
pub(crate) fn expectations(site: &Site, test: &Test) -> Vec<Expectation> {
    let meters = column_meters(site, test);
    let mut examination = Examination::open(site, test, &meters);
    examination.strike_what_cannot_count();
    examination.expectations()
}

/// The examination of one test.
struct Examination<'a> {
    site: &'a Site,
    test: &'a Test,
    ledger: Ledger<'a>,
    /// `None` in no case that is known: the values of a handbook stand in for what cannot be.
    conditions: Option<Conditions>,
    findings: Vec<Finding>,
}

impl<'a> Examination<'a> {
    fn open(site: &'a Site, test: &'a Test, meters: &'a [ColumnMeter]) -> Self {
        let (conditions, matters) = Conditions::of(site, test, meters).ok().unzip();
        let mut examination = Self {
            site,
            test,
            ledger: Ledger::open(test, meters),
            conditions,
            findings: Vec::new(),
        };
        for matter in matters.into_iter().flatten() {
            let severity = match matter {
                Matter::Refused(_) => Severity::Error,
                _ => Severity::Note,
            };
            let place = examination.of_test();
            examination.say(severity, place, matter);
        }
        examination
    }

    /// Strikes what cannot count, each column judged by itself, and says why.
    fn strike_what_cannot_count(&mut self) {
        let strays = self.strike_stray_speeds();
        let outside = self.ledger.strike_outside_range(&self.test.name);
        self.findings.extend(outside);
        self.strike_impossible_vacuum();
        self.check_volt_amperes();
        self.check_columns();
        self.check_settling();
        self.judge_columns(&strays);
    }

    /// Draws the conclusions from what counts.
    fn conclude(mut self) -> Examined {
        self.compare_meters();
        self.check_gauges_at_rest();
        let mut steps = self.steps();
        let mut laws = self.laws();
        self.check_rise(&steps);
        self.check_standby(&mut laws);
        self.check_power_factors(&steps);
        laws.system = self.settle_heads(&mut steps);
        self.settle_suction(&mut steps);
        self.check_efficiencies(&steps);
        let least_energy = self.least_energy(&laws, &steps);
        self.say_what_is_missing();
        self.close(laws, steps, least_energy)
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
        let Some(conditions) = &self.conditions else {
            return Vec::new();
        };
        let whole = |index: &usize| self.ledger.meters[*index].excluded.is_none();
        let columns: Vec<UsedColumn<'_>> = (0..self.ledger.meters.len())
            .filter(whole)
            .map(|index| self.ledger.used(index))
            .collect();
        let in_use = |row: usize, column: usize| self.ledger.in_use(row, column);
        let supply_v = self.site.pump.supply.as_ref().map(|supply| supply.si);
        steps(
            &self.test.readings,
            &columns,
            &in_use,
            supply_v,
            &conditions.around.water,
        )
    }

    fn close(
        mut self,
        laws: Laws,
        steps: Vec<Step>,
        least_energy: Option<LeastEnergy>,
    ) -> Examined {
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
        let found = limits::of_test(self.site, &result, self.conditions.as_ref());
        let branch_flows = |line: &str| self.branch_flows(line);
        let ran = limits::beyond(
            self.site,
            &result,
            &found,
            self.conditions.as_ref(),
            &branch_flows,
        );
        self.findings.extend(ran);
        (result, self.findings, found)
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
