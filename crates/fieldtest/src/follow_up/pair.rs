//! Two visits as one calibration: the baseline, and a later test in which something may have changed.

use super::change::{Change, PRIOR_OF_NOTHING};
use super::evidence::{Weighed, fitted_at};
use super::{Hindrance, NotCompared};
use crate::calibration::NotCalibrated;
use crate::calibration::data::Data;
use crate::calibration::knobs::{Knobs, ParameterOf};
use crate::calibration::line_up::LineUp;
use crate::calibration::problem::{Problem, PumpChange};
use crate::circuit::{PUMP_INLET, is_water};
use crate::meters::column_meters;
use crate::network::is_overflow;
use crate::pump_curve::pump_curve;
use crate::result::TestResult;
use records::{Line, Measured, PartKind, Site, Tap, Test};

/// How much less probable air is where a person looked and saw none, and how much more a change of the filter where it was cleaned
/// since. Common practice, no source.
const NO_AIR_SEEN: f64 = 0.1;
const FILTER_CLEANED: f64 = 3.0;

/// Two visits to one pad.
pub(super) struct Pair<'a> {
    pub(super) site: &'a Site,
    /// The baseline and the later one.
    pub(super) tests: [&'a Test; 2],
    pub(super) results: [&'a TestResult; 2],
}

#[derive(Clone, Copy, PartialEq)]
enum Side {
    Suction,
    Returns,
    Between,
}

impl Pair<'_> {
    fn side(&self, line: &Line) -> Side {
        if line.to == PUMP_INLET {
            Side::Suction
        } else if is_water(self.site, &line.to) {
            Side::Returns
        } else {
            Side::Between
        }
    }

    /// The lines of a side that are open at both visits.
    fn open(&self, side: Side) -> impl Iterator<Item = (usize, &Line)> {
        let lines = self.site.lines.iter().enumerate();
        lines.filter(move |(_, line)| {
            let shut = self
                .tests
                .iter()
                .any(|test| test.head.closed.contains(&line.name));
            self.side(line) == side && !shut && !is_overflow(self.site, line)
        })
    }

    fn is_throttled(&self, line: &Line) -> bool {
        self.tests
            .iter()
            .any(|test| test.head.throttled.contains(&line.name))
    }

    /// The lines of a side in which a change would show.
    fn telling(&self, side: Side) -> impl Iterator<Item = (usize, &Line)> {
        self.open(side).filter(|(_, line)| !self.is_throttled(line))
    }

    fn media_out(&self) -> [bool; 2] {
        self.tests.map(|test| {
            let found = test.head.condition.filter.as_deref().map(str::trim);
            found == Some("media out")
        })
    }

    /// Refuses what cannot be compared.
    pub(super) fn check(&self) -> Result<(), NotCompared> {
        let [before, after] = self.media_out();
        if before != after {
            return Err(NotCompared::MediaOut);
        }
        for side in [Side::Suction, Side::Returns] {
            if self.open(side).next().is_some() && self.telling(side).next().is_none() {
                return Err(NotCompared::AllThrottled);
            }
        }
        Ok(())
    }

    /// Lists what may have changed, as far as these tests could show it.
    pub(super) fn changes(&self, has_curve: bool) -> Vec<Change> {
        let mut changes = Vec::new();
        let is_filter = |line: &Line| {
            line.parts
                .iter()
                .any(|part| matches!(part.kind, PartKind::Filter(_)))
        };
        if self.site.lines.iter().any(is_filter) && !self.media_out()[0] {
            changes.push(Change::Media);
        }
        for (side, of_all) in [
            (Side::Suction, Change::Suction),
            (Side::Returns, Change::Returns),
        ] {
            let whole = self.open(side).count() == self.telling(side).count();
            if whole && self.open(side).next().is_some() {
                changes.push(of_all);
            }
        }
        for side in [Side::Suction, Side::Between, Side::Returns] {
            // One line alone is its side, but for the equipment, which no other hypothesis stands for.
            if side == Side::Between || self.open(side).count() > 1 {
                let lines = self.telling(side).map(|(_, line)| Change::Line {
                    line: line.name.clone(),
                });
                changes.extend(lines);
            }
        }
        if has_curve {
            changes.extend([Change::Pump, Change::Air]);
        }
        changes
    }

    /// How much a hypothesis weighs before a reading.
    pub(super) fn prior_weight(&self, change: Option<&Change>, all: &[Weighed]) -> f64 {
        let Some(change) = change else {
            return PRIOR_OF_NOTHING;
        };
        let is_line = |it: &&Weighed| matches!(it.change(), Some(Change::Line { .. }));
        let prior = change.prior(all.iter().filter(is_line).count());
        let condition = self.tests.map(|test| &test.head.condition);
        let is_clean =
            |visit: usize| condition[visit].filter.as_deref().map(str::trim) == Some("clean");
        match change {
            Change::Air if condition[1].air.as_deref().map(str::trim) == Some("none") => {
                prior * NO_AIR_SEEN
            }
            Change::Media if is_clean(1) && !is_clean(0) => prior * FILTER_CLEANED,
            _ => prior,
        }
    }

    /// The fit of the baseline alone.
    pub(super) fn baseline_alone(&self) -> Result<Weighed, NotCalibrated> {
        fitted_at(self.gather(1, &[])?)
    }

    /// Sets both visits up with these changes in the later one.
    pub(super) fn problem(&self, changes: &[Change]) -> Result<Problem, NotCalibrated> {
        self.gather(2, changes)
    }

    fn gather(&self, visits: usize, changes: &[Change]) -> Result<Problem, NotCalibrated> {
        let (mut knobs, mut data) = (Knobs::default(), Data::default());
        let mut line_ups = Vec::with_capacity(visits);
        for index in 0..visits {
            let test = self.tests[index];
            let (line_up, _) = LineUp::of(self.site, (test, self.tests[0]), &mut knobs)
                .map_err(NotCalibrated::Network)?;
            data.add(
                self.site,
                (index, test),
                self.results[index],
                &line_up,
                &mut knobs,
            );
            line_ups.push(line_up);
        }
        if data.steps.is_empty() || (visits > 1 && !data.steps.iter().any(|step| step.test == 1)) {
            return Err(NotCalibrated::NoFlow);
        }
        let mut of_pump = Vec::new();
        for change in changes {
            let of = ParameterOf::Change { of: change.clone() };
            let knob = knobs.add(of, 0.0, change.sd_ln());
            of_pump.extend(self.let_change(change, knob, line_ups.last_mut()));
        }
        let curve = pump_curve(self.site).and_then(Result::ok);
        let mut problem = Problem::new(line_ups, knobs, data, curve);
        problem.pump_changes = of_pump;
        Ok(problem)
    }

    /// Lets a change hang on a number in the later visit.
    fn let_change(
        &self,
        change: &Change,
        knob: usize,
        line_up: Option<&mut LineUp>,
    ) -> Option<PumpChange> {
        let of_pump = |growing_to_rpm| {
            Some(PumpChange {
                test: 1,
                knob,
                growing_to_rpm,
            })
        };
        let line_up = line_up?;
        let side = match change {
            Change::Pump => return of_pump(None),
            Change::Air => return of_pump(Some(self.site.pump.speed.max.si)),
            Change::Media => {
                line_up.change_media(knob);
                return None;
            }
            Change::Line { line } => {
                let mut lines = self.site.lines.iter();
                line_up.change_line(lines.position(|known| known.name == *line)?, knob);
                return None;
            }
            Change::Suction => Side::Suction,
            Change::Returns => Side::Returns,
        };
        for (line, _) in self.open(side) {
            line_up.change_line(line, knob);
        }
        None
    }

    /// Lists what narrows the comparison.
    pub(super) fn hindrances(&self, of: &Weighed) -> Vec<Hindrance> {
        let mut found = Vec::new();
        let columns = self.other_meters();
        if !columns.is_empty() {
            found.push(Hindrance::OtherMeters { columns });
        }
        let throttled = self
            .site
            .lines
            .iter()
            .filter(|line| self.is_throttled(line));
        let lines: Vec<String> = throttled.map(|line| line.name.clone()).collect();
        if !lines.is_empty() {
            found.push(Hindrance::Throttled { lines });
        }
        if !of.has_curve() {
            found.push(Hindrance::NoCurve);
        }
        let data = &of.problem.data;
        let before_pump = |test: usize| {
            data.gauges.iter().any(|gauge| {
                data.steps[gauge.step].test == test
                    && matches!(gauge.tap, Tap::PumpPot | Tap::SuctionPipe)
            })
        };
        if !(before_pump(0) && before_pump(1)) {
            found.push(Hindrance::NoInletGauge);
        }
        found
    }

    /// The headings of the later visit whose meters the baseline did not read.
    fn other_meters(&self) -> Vec<String> {
        let of_heads = |measured: Measured| {
            matches!(
                measured,
                Measured::Flow
                    | Measured::FilterPressure
                    | Measured::InletVacuum
                    | Measured::InletPressure
            )
        };
        let identities = |test: &Test| -> Vec<(String, String)> {
            let meters = column_meters(self.site, test);
            let columns = test.readings.columns.iter().zip(&meters);
            let heads = columns.filter(|(column, _)| of_heads(column.measured));
            heads
                .map(|(column, meter)| {
                    (
                        column.name(),
                        meter.id.clone().unwrap_or_else(|| column.name()),
                    )
                })
                .collect()
        };
        let before = identities(self.tests[0]);
        let today = identities(self.tests[1]).into_iter();
        let known = |id: &str| before.iter().any(|(_, known)| known == id);
        today
            .filter(|(_, id)| !known(id))
            .map(|(heading, _)| heading)
            .collect()
    }
}
