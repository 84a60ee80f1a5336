//! Which reading that was not taken would tell most of an answer: by how much it would narrow it, whatever it will show.
//!
//! Heads and shares narrow by way of the calibrated circuit, the fixed draw and the cheapest speed by way of the laws. What
//! would be unsafe to read is not proposed.

mod candidates;
pub(crate) mod gain;

use crate::calibration::{
    Asking, Calibration, Narrowable, NotCalibrated, OpenCalibration, calibrate_openly,
    not_calibrated,
};
use crate::laws::{FlowLaw, LawToCome, PowerLaw, Uncertain};
use crate::least_energy::{Cost, CostUncertainty, UNREAD_STANDBY_W};
use crate::result::{Analysis, TestResult};
use candidates::{candidates, of_laws};
use metrology::Estimate;
use numerics::linear::quadratic_form;
use records::{Site, Tap, Test};

/// What leaves more than this of the width is not worth the way.
const WORTH_IT: f64 = 0.95;

/// Half-width of a gauge as one would borrow it, Pa: ±1 psi, at a height that is measured. Common practice, no source.
pub(crate) const BORROWED_PA: f64 = 6894.757293168361;

/// The places where a gauge may be tapped, along the flow.
pub(crate) const TAPS: [Tap; 6] = [
    Tap::PumpPot,
    Tap::SuctionPipe,
    Tap::PumpOutlet,
    Tap::FilterInlet,
    Tap::FilterOutlet,
    Tap::PadOutlet,
];

pub(crate) fn lies_before_pump(tap: Tap) -> bool {
    matches!(tap, Tap::PumpPot | Tap::SuctionPipe)
}

/// An answer that a reading may narrow.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answer {
    /// Head of the pump.
    TotalHead,
    /// What all suctions together take of the power that the pump gives.
    Suction,
    /// What all returns together take.
    Returns,
    /// What these lines together take.
    Lines(Vec<String>),
    /// What one part takes.
    Part {
        /// The line.
        line: String,
        /// The part, counted from 0; `None` for the part-open valve of a throttled line.
        part: Option<usize>,
    },
    /// The draw that does not depend on speed.
    FixedDraw,
    /// The speed of least energy per volume.
    CheapestSpeed,
}

impl Answer {
    /// Whether the circuit has to be calibrated for it.
    pub fn is_of_circuit(&self) -> bool {
        !matches!(self, Self::FixedDraw | Self::CheapestSpeed)
    }

    fn is_share_of_lines(&self) -> bool {
        matches!(self, Self::Suction | Self::Returns | Self::Lines(_))
    }
}

/// A reading that was not taken.
#[derive(Clone, Debug, PartialEq)]
pub enum ReadingToCome {
    /// A gauge at a tap, at each step of the last test.
    Gauge(Tap),
    /// One more line shut, and the meters of the last test read at these speeds.
    LineUp {
        /// The line.
        shut: String,
        /// The speeds, rpm.
        steps_rpm: Vec<f64>,
    },
    /// A step at another speed, rpm.
    Speed(f64),
    /// A step of the last test again, rpm.
    Again(f64),
    /// The pump at rest.
    Standby,
}

/// A reading with what it would leave.
#[derive(Clone, Debug, PartialEq)]
pub struct NextReading {
    /// The reading.
    pub reading: ReadingToCome,
    /// What would be left of the standard uncertainty of the answer, of 1.
    pub left: f64,
}

/// What readings to come would tell of an answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Learning {
    /// The answer.
    pub answer: Answer,
    /// What is known of it now; m, a share, W or rpm.
    pub now: Estimate,
    /// The readings that would narrow it, the best first.
    pub readings: Vec<NextReading>,
    /// Those that would narrow it by less than a twentieth, the best first.
    pub hardly: Vec<NextReading>,
    /// How many readings were weighed.
    pub weighed: usize,
}

/// Why nothing can be said of what would tell an answer.
#[derive(Clone, Debug, PartialEq)]
pub enum NotLearnt {
    /// The circuit is not calibrated.
    NotCalibrated(NotCalibrated),
    /// The readings give no law to answer from.
    NoLaw,
    /// The tested speeds do not bracket the cheapest one.
    NotBracketed,
    /// The site has no such line or part.
    NoSuchLine,
}

/// Calibrates as [`crate::calibrate`] does, and says which reading to come would narrow an answer; of none named, the share of
/// lines that is told least well.
///
/// # Errors
/// What is missing for a calibration.
pub fn calibrate_to_learn(
    site: &Site,
    tests: &[Test],
    analysis: &Analysis,
    (speed_rpm, wanted): (f64, Option<&Answer>),
) -> Result<(Calibration, Result<Learning, NotLearnt>), NotCalibrated> {
    let open = calibrate_openly(site, tests, analysis, speed_rpm)?;
    let weighing = Weighing {
        site,
        tests,
        analysis,
    };
    let learning = match wanted {
        Some(wanted) if !wanted.is_of_circuit() => weighing.of_laws(wanted),
        _ => weighing.of_circuit(&open, speed_rpm, wanted),
    };
    Ok((open.calibration, learning))
}

/// Calibrates as [`calibrate_to_learn`] does, and puts what there is to say of that, or why it cannot be, with the other findings.
pub fn calibrate_into(
    analysis: &mut Analysis,
    site: &Site,
    tests: &[Test],
    asked: (f64, Option<&Answer>),
) -> Option<(Calibration, Result<Learning, NotLearnt>)> {
    match calibrate_to_learn(site, tests, analysis, asked) {
        Ok((calibration, learning)) => {
            analysis.add_findings(calibration.findings.clone());
            Some((calibration, learning))
        }
        Err(problem) => {
            analysis.add_findings(vec![not_calibrated(problem)]);
            None
        }
    }
}

/// Says which reading to come would narrow an answer.
///
/// # Inputs
/// `analysis`: that of the same site and tests; `speed_rpm`: at which heads and shares are asked for.
///
/// # Errors
/// Why nothing can be said.
///
/// # Source
/// Variance before the readings are taken: D. Lindley, "On a measure of the information provided by an experiment", Ann. Math.
/// Statist. 27 (1956) 986-1005 (from memory); the arithmetic is in `next_reading::gain`.
pub fn next_readings(
    site: &Site,
    tests: &[Test],
    analysis: &Analysis,
    (speed_rpm, wanted): (f64, &Answer),
) -> Result<Learning, NotLearnt> {
    let weighing = Weighing {
        site,
        tests,
        analysis,
    };
    if !wanted.is_of_circuit() {
        return weighing.of_laws(wanted);
    }
    let open = calibrate_openly(site, tests, analysis, speed_rpm);
    let open = open.map_err(NotLearnt::NotCalibrated)?;
    weighing.of_circuit(&open, speed_rpm, Some(wanted))
}

/// A site with what was read there.
#[derive(Clone, Copy)]
pub(crate) struct Weighing<'a> {
    pub(crate) site: &'a Site,
    pub(crate) tests: &'a [Test],
    pub(crate) analysis: &'a Analysis,
}

impl<'a> Weighing<'a> {
    fn last(&self) -> Result<&'a TestResult, NotLearnt> {
        self.analysis.tests.last().ok_or(NotLearnt::NoLaw)
    }

    /// Weighs readings for a number of the calibrated budget.
    pub(crate) fn of_circuit(
        &self,
        open: &OpenCalibration,
        speed_rpm: f64,
        wanted: Option<&Answer>,
    ) -> Result<Learning, NotLearnt> {
        let asked = asked(&open.narrowable, wanted).ok_or(NotLearnt::NoSuchLine)?;
        let flow = self.last()?.laws.flow.as_ref();
        let asking = Asking {
            site: self.site,
            tests: self.tests,
            open,
            flow,
        };
        let to_come = candidates(self, &asking);
        let taken_off = asking.taken_off(&to_come);
        let answer = &open.narrowable[asked];
        let before =
            quadratic_form(&answer.slopes, open.covariance()) + answer.own_u * answer.own_u;
        let weighed = to_come.len();
        let left = |(reading, taken): (ReadingToCome, Option<Vec<f64>>)| {
            let own = flow.map_or(0.0, |law| own_taken_off(law, &reading, speed_rpm, answer));
            let after = before - taken?[asked] - own;
            Some(NextReading {
                left: (after.max(0.0) / before).sqrt(),
                reading,
            })
        };
        let (readings, hardly) = ranked(to_come.into_iter().zip(taken_off).filter_map(left));
        Ok(Learning {
            answer: answer.of.clone(),
            now: answer.estimate,
            readings,
            hardly,
            weighed,
        })
    }

    /// Weighs readings for a number of the laws.
    fn of_laws(&self, wanted: &Answer) -> Result<Learning, NotLearnt> {
        let last = self.last()?;
        let power = last.laws.power.as_ref().ok_or(NotLearnt::NoLaw)?;
        let to_come = of_laws(self);
        let weighed = to_come.len();
        let cheapest = || {
            let least = last.least_energy.as_ref().ok_or(NotLearnt::NoLaw)?;
            least.speed_rpm.ok_or(NotLearnt::NotBracketed)
        };
        let now = match wanted {
            Answer::FixedDraw => power.fixed_w,
            _ => cheapest()?,
        };
        let before = uncertainty(last, None).ok_or(NotLearnt::NoLaw)?;
        let pick = |u: [f64; 2]| match wanted {
            Answer::FixedDraw => u[0],
            _ => u[1],
        };
        let left = |reading: ReadingToCome| {
            let after = uncertainty(last, Some(&reading))?;
            Some(NextReading {
                left: pick(after) / pick(before),
                reading,
            })
        };
        let (readings, hardly) = ranked(to_come.into_iter().filter_map(left));
        Ok(Learning {
            answer: wanted.clone(),
            now,
            readings,
            hardly,
            weighed,
        })
    }
}

/// Finds the number that is asked for; of none, the share of lines that is uncertain most.
fn asked(numbers: &[Narrowable], wanted: Option<&Answer>) -> Option<usize> {
    if let Some(wanted) = wanted {
        return numbers.iter().position(|number| number.of == *wanted);
    }
    let shares = numbers.iter().enumerate();
    let shares = shares.filter(|(_, number)| number.of.is_share_of_lines());
    let widest = shares.max_by(|(_, a), (_, b)| a.estimate.u.total_cmp(&b.estimate.u));
    widest.map(|(index, _)| index)
}

/// Orders readings by what they leave: those that are worth the way, and the others.
fn ranked(readings: impl Iterator<Item = NextReading>) -> (Vec<NextReading>, Vec<NextReading>) {
    let mut readings: Vec<NextReading> = readings.collect();
    numerics::order::sort_by(&mut readings, |a, b| a.left.total_cmp(&b.left));
    readings.into_iter().partition(|it| it.left < WORTH_IT)
}

/// The variance that a step takes off by way of the law of flow.
fn own_taken_off(law: &FlowLaw, reading: &ReadingToCome, at_rpm: f64, answer: &Narrowable) -> f64 {
    let (ReadingToCome::Speed(speed) | ReadingToCome::Again(speed)) = reading else {
        return 0.0;
    };
    let now = LawToCome::of(&law.law);
    let mut then = now.clone();
    then.read_as_nearest(*speed);
    let u = |law: LawToCome| law.uncertain().map(|it| it.u_ln_at(at_rpm));
    let Some((before, after)) = u(now).zip(u(then)) else {
        return 0.0;
    };
    let taken = answer.by_flow * answer.by_flow * (before * before - after * after);
    taken.clamp(0.0, answer.own_u * answer.own_u)
}

/// Standard uncertainties of the fixed draw, W, and of the cheapest speed, rpm, with another reading.
fn uncertainty(test: &TestResult, reading: Option<&ReadingToCome>) -> Option<[f64; 2]> {
    let laws = &test.laws;
    let power = laws.power.as_ref()?;
    let with = |law: &crate::laws::FittedLaw| {
        let mut law = LawToCome::of(law);
        if let Some(ReadingToCome::Speed(speed) | ReadingToCome::Again(speed)) = reading {
            law.read_as_nearest(*speed);
        }
        law.uncertain()
    };
    let with_power = with(&power.law)?;
    let fixed_u = with_power.covariance[(0, 0)].sqrt();
    let standby_u_w = match (laws.standby_w, reading) {
        (Some(standby), _) => standby.u,
        // A meter shows a few watts to a watt.
        (None, Some(ReadingToCome::Standby)) => 1.0,
        (None, _) => UNREAD_STANDBY_W,
    };
    let cheapest = laws.flow.as_ref().and_then(|flow| {
        let with_flow = with(&flow.law)?;
        cheapest_u_rpm((flow, power), test, (&with_flow, &with_power, standby_u_w))
    });
    Some([fixed_u, cheapest.unwrap_or(f64::NAN)])
}

fn cheapest_u_rpm(
    (flow, power): (&FlowLaw, &PowerLaw),
    test: &TestResult,
    (with_flow, with_power, standby_u_w): (&Uncertain, &Uncertain, f64),
) -> Option<f64> {
    let best_rpm = test.least_energy.as_ref()?.speed_rpm?.value;
    let standby_w = test.laws.standby_w.map_or(0.0, |standby| standby.value);
    let of = CostUncertainty {
        power: &with_power.covariance,
        intercept_variance: with_flow.covariance[(1, 1)],
        standby_variance_w2: standby_u_w * standby_u_w,
    };
    Some(Cost::of(flow, power, standby_w).speed_u_rpm(best_rpm, &of))
}
