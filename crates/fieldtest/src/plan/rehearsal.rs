//! The planned test as if it had been held and read what is foreseen: what it would tell, and what it would leave untold.

use super::design::{Chosen, ChosenLineUp};
use super::expected::{Foresight, planned_test};
use super::refusal::PlanNote;
use crate::calibration::{OpenCalibration, calibrate_openly};
use crate::expectation::ExpectedBy;
use crate::next_reading::{Answer, Learning, ReadingToCome, Weighing};
use crate::result::Analysis;
use metrology::Estimate;
use records::{Cell, Column, Measured, Row, Test};

/// An answer that the planned readings would tell, at what is foreseen.
#[derive(Clone, Debug, PartialEq)]
pub struct WouldTell {
    /// The answer.
    pub answer: Answer,
    /// What would be known: the value is what is foreseen, its uncertainty what the readings leave.
    pub estimate: Estimate,
}

/// A rehearsed test: all tests with it, and what they say.
pub(super) struct Rehearsal {
    tests: Vec<Test>,
    analysis: Analysis,
    open: Result<OpenCalibration, PlanNote>,
}

/// What a rehearsal says.
pub(super) struct Rehearsed {
    pub(super) would_tell: Vec<WouldTell>,
    pub(super) next: Option<Learning>,
    pub(super) note: Option<PlanNote>,
}

/// Rehearses the chosen steps.
pub(super) fn rehearsal(foresight: &Foresight<'_>, chosen: &Chosen) -> Rehearsal {
    let mut tests = foresight.tests.to_vec();
    // Last stands the test with the valves of the plan: its numbers are those that are told.
    tests.extend(
        chosen
            .line_ups
            .iter()
            .map(|line_up| of_line_up(foresight, chosen, line_up)),
    );
    let mut speeds: Vec<f64> = chosen.speeds.iter().map(|speed| speed.speed_rpm).collect();
    speeds.push(chosen.again_rpm);
    tests.push(rehearsed(foresight, chosen, foresight.closed(), &speeds));
    let analysis = crate::analyze(foresight.site, &tests);
    let top_rpm = speeds.iter().copied().fold(0.0, f64::max);
    let open = calibrate_openly(foresight.site, &tests, &analysis, top_rpm);
    Rehearsal {
        open: open.map_err(|problem| PlanNote::NotCalibrated(Box::new(problem))),
        tests,
        analysis,
    }
}

fn of_line_up(foresight: &Foresight<'_>, chosen: &Chosen, line_up: &ChosenLineUp) -> Test {
    rehearsed(foresight, chosen, &line_up.closed, &line_up.steps_rpm)
}

/// Fills in what is foreseen of each step.
fn rehearsed(
    foresight: &Foresight<'_>,
    chosen: &Chosen,
    closed: &[String],
    speeds: &[f64],
) -> Test {
    let columns: Vec<Column> = foresight
        .columns
        .iter()
        .map(|column| column.column.clone())
        .collect();
    let mut test = planned_test(closed, foresight.throttled(), columns);
    for (index, speed_rpm) in speeds.iter().enumerate() {
        let at = foresight.at(*speed_rpm, closed, index);
        let cell = |column: usize| {
            let expected = at.expected.iter().find(|it| it.column == column);
            let told =
                expected.filter(|it| matches!(it.by, ExpectedBy::Law | ExpectedBy::Plumbing));
            let otherwise = match foresight.columns[column].column.measured {
                Measured::Flow if foresight.meters[column].on.is_none() => {
                    Some(chosen.nominal.flow.value(*speed_rpm))
                }
                Measured::Power => Some(chosen.nominal.power.value(*speed_rpm)),
                _ => None,
            };
            let si = told.map(|it| it.si.value).or(otherwise);
            si.filter(|si| si.is_finite()).map_or(Cell::Empty, |si| {
                shown(&foresight.columns[column].column, si)
            })
        };
        test.readings.rows.push(Row {
            line: index + 2,
            speed_rpm: *speed_rpm,
            cells: (0..foresight.columns.len()).map(cell).collect(),
            note: String::new(),
        });
    }
    test
}

/// A reading as a display shows it: whole watts, hundredths of an ampere, tenths of all else.
fn shown(column: &Column, si: f64) -> Cell {
    let number = column.unit.map_or(si, |unit| unit.from_si(si));
    let decimals = match column.measured {
        Measured::Power | Measured::Voltage => 0,
        Measured::Current => 2,
        _ => 1,
    };
    Cell::Value {
        text: format!("{number:.decimals$}"),
        si,
    }
}

/// Lists the line-ups that would narrow the share of lines that is told least well, the best first.
pub(super) fn line_ups_that_tell(
    foresight: &Foresight<'_>,
    of: &Rehearsal,
) -> Vec<(String, Vec<f64>, (Answer, f64))> {
    let Some(learning) = learning(foresight, of) else {
        return Vec::new();
    };
    let line_up = |reading: crate::next_reading::NextReading| match reading.reading {
        ReadingToCome::LineUp { shut, steps_rpm } => {
            Some((shut, steps_rpm, (learning.answer.clone(), reading.left)))
        }
        _ => None,
    };
    learning.readings.into_iter().filter_map(line_up).collect()
}

fn learning(foresight: &Foresight<'_>, of: &Rehearsal) -> Option<Learning> {
    let weighing = Weighing {
        site: foresight.site,
        tests: &of.tests,
        analysis: &of.analysis,
    };
    let open = of.open.as_ref().ok()?;
    weighing
        .of_circuit(open, open.calibration.budget.speed_rpm, None)
        .ok()
}

/// Says what the chosen steps would tell.
pub(super) fn rehearse(foresight: &Foresight<'_>, chosen: &Chosen) -> Rehearsed {
    let rehearsal = rehearsal(foresight, chosen);
    let mut would_tell = Vec::new();
    if let Some(test) = rehearsal.analysis.tests.last() {
        let tell = |answer: Answer, estimate: Option<Estimate>| {
            estimate.map(|estimate| WouldTell { answer, estimate })
        };
        let power = test.laws.power.as_ref();
        would_tell.extend(tell(Answer::FixedDraw, power.map(|law| law.fixed_w)));
        let cheapest = test.least_energy.as_ref().and_then(|least| least.speed_rpm);
        would_tell.extend(tell(Answer::CheapestSpeed, cheapest));
    }
    // Where no flow is foreseen, neither is a head.
    let top_rpm = chosen
        .speeds
        .iter()
        .map(|it| it.speed_rpm)
        .fold(0.0, f64::max);
    let is_foreseen = foresight.at(top_rpm, foresight.closed(), 0).flow.is_some();
    if let Ok(open) = &rehearsal.open
        && is_foreseen
    {
        let main = [Answer::TotalHead, Answer::Suction, Answer::Returns];
        let of_circuit = open.narrowable.iter().filter(|it| main.contains(&it.of));
        would_tell.extend(of_circuit.map(|it| WouldTell {
            answer: it.of.clone(),
            estimate: it.estimate,
        }));
    }
    let mut next = learning(foresight, &rehearsal);
    if let Some(next) = &mut next {
        // Speeds and line-ups were weighed already against the time.
        next.readings
            .retain(|it| matches!(it.reading, ReadingToCome::Gauge(_)));
    }
    Rehearsed {
        would_tell,
        next: next.filter(|next| !next.readings.is_empty()),
        note: rehearsal.open.err(),
    }
}
