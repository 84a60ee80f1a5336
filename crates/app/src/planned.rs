//! The plan of a test as a list to be ticked: what is made ready, how the pump is taken up, the steps in their order with
//! what each meter should read, and the repeat that shows whether the pad drifted.

use crate::draft::TestDraft;
use document::number;
use document::plan::refusal;
use document::units::Printing;
use document::words::expected;
use fieldtest::{Plan, PlanQuestion, PlannedStep, Why, plan};
use records::unit::Dimension;
use records::{Site, Test};
use serde::{Deserialize, Serialize};

/// What is asked of a plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Asked {
    /// The time at the pad, minutes.
    pub minutes: u32,
    /// Lines that are shut.
    pub closed: Vec<String>,
    /// Lines that are part-open.
    pub throttled: Vec<String>,
}

/// A plan as it is ticked off.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Checklist {
    /// How long it takes, minutes.
    pub minutes: u32,
    /// The pump is taken up by these.
    pub climb: Vec<Climb>,
    /// The steps in their order.
    pub steps: Vec<Step>,
}

/// A speed of the climb.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Climb {
    /// The speed as it is typed, rpm.
    pub speed: String,
    /// The gauge reading above which the pump is stopped, with its unit.
    pub stop_above: Option<String>,
}

/// A step.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Step {
    /// The speed as it is typed, rpm; 0 for the pump at rest.
    pub speed: String,
    /// Lines that are shut beside those of the whole test.
    pub shut: Vec<String>,
    /// What it is for.
    pub purpose: Purpose,
    /// How long the pad settles before it is read, s.
    pub settle_s: u32,
    /// What each meter should read: the column by its name, and the band with its unit.
    pub bands: Vec<(String, String)>,
    /// The gauge reading above which the pump is stopped, with its unit.
    pub stop_above: Option<String>,
}

/// What a step is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Purpose {
    /// The draw at rest, and the zero of the gauges.
    AtRest,
    /// It tells the laws.
    Laws,
    /// It was read before: a pad that drifted reads otherwise now.
    Drift,
    /// Another line-up.
    LineUp,
}

/// Why there is no plan, in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct NoChecklist {
    /// Why.
    pub says: String,
    /// What to do.
    pub action: String,
}

/// Plans a test. This asks the engine, and takes it a while.
///
/// # Inputs
/// The earlier tests in the order of time, and the units of print.
///
/// # Errors
/// Why there is no plan.
pub fn checklist(
    site: &Site,
    earlier: &[Test],
    asked: &Asked,
    printing: Printing,
) -> Result<Checklist, NoChecklist> {
    let question = PlanQuestion {
        time_s: 60.0 * f64::from(asked.minutes),
        closed: &asked.closed,
        throttled: &asked.throttled,
    };
    let plan = plan(site, earlier, &question).map_err(|problem| {
        let words = refusal(&problem, printing);
        NoChecklist {
            says: words.says,
            action: words.action,
        }
    })?;
    let at_rest = Step {
        speed: "0".to_owned(),
        shut: Vec::new(),
        purpose: Purpose::AtRest,
        settle_s: 0,
        bands: Vec::new(),
        stop_above: None,
    };
    let steps = plan
        .steps
        .iter()
        .map(|step| listed(&plan, step, asked, printing));
    let climb = plan.climb.iter().map(|step| Climb {
        speed: number::rpm(printing, step.speed_rpm),
        stop_above: step.stop_above_pa.map(|pa| pressure(pa, printing)),
    });
    Ok(Checklist {
        minutes: whole(plan.time_s() / 60.0),
        climb: climb.collect(),
        steps: std::iter::once(at_rest).chain(steps).collect(),
    })
}

fn listed(plan: &Plan, step: &PlannedStep, asked: &Asked, printing: Printing) -> Step {
    let band = |expectation: &fieldtest::Expectation| {
        let column = &plan.columns.get(expectation.column)?.column;
        let words = expected(expectation, column.unit?, printing);
        Some((column.name(), words.text))
    };
    let shut = step
        .closed
        .iter()
        .filter(|line| !asked.closed.contains(line));
    Step {
        speed: number::rpm(printing, step.speed_rpm),
        shut: shut.cloned().collect(),
        purpose: match step.why {
            Why::Narrows { .. } => Purpose::Laws,
            Why::DriftCheck => Purpose::Drift,
            Why::LineUp { .. } => Purpose::LineUp,
        },
        settle_s: whole(step.settle_s),
        bands: step.expected.iter().filter_map(band).collect(),
        stop_above: step.stop_above_pa.map(|pa| pressure(pa, printing)),
    }
}

/// A gauge reading with its unit.
fn pressure(pa: f64, printing: Printing) -> String {
    printing.plain(pa, Dimension::Pressure)
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the cast saturates, and no time is negative"
)]
fn whole(number: f64) -> u32 {
    number.round() as u32
}

impl Checklist {
    /// Says of each step whether the readings of a test hold it: a speed with a reading, and for the repeat that speed once
    /// more, with another between.
    pub fn read(&self, draft: &TestDraft) -> Vec<bool> {
        let mut runs: Vec<f64> = Vec::new();
        for row in &draft.rows {
            let is_read = row.cells.iter().any(|cell| !cell.trim().is_empty());
            let speed = row.speed.trim().parse::<f64>();
            if let (true, Ok(speed)) = (is_read, speed)
                && runs.last().is_none_or(|last| (last - speed).abs() >= 0.5)
            {
                runs.push(speed);
            }
        }
        let times = |speed: &str| {
            let wanted = speed.parse::<f64>().unwrap_or(f64::NAN);
            runs.iter()
                .filter(|run| (*run - wanted).abs() < 0.5)
                .count()
        };
        let is_read = |step: &Step| match step.purpose {
            Purpose::AtRest | Purpose::Laws => times(&step.speed) > 0,
            Purpose::Drift => times(&step.speed) > 1,
            // Valves leave no trace in the readings: the person ticks.
            Purpose::LineUp => false,
        };
        self.steps.iter().map(is_read).collect()
    }

    /// The running speeds in their order, as the next row is proposed by them, rpm.
    pub fn speeds_rpm(&self) -> Vec<f64> {
        let laws = self.steps.iter();
        let laws = laws.filter(|step| step.purpose == Purpose::Laws);
        laws.filter_map(|step| step.speed.parse().ok()).collect()
    }
}
