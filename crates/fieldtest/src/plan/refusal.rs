//! What stands in the way of a plan, and what a plan says beside its steps.

use super::PlanQuestion;
use crate::calibration::NotCalibrated;
use crate::circuit::{PUMP_INLET, PUMP_OUTLET, leads_to_water};
use crate::network::NetworkProblem;
use crate::result::Limit;
use metrology::Estimate;
use records::Site;

/// Why there is no test to plan.
#[derive(Clone, Debug, PartialEq)]
pub enum NoPlan {
    /// Not even the least test fits into the time.
    TooLittleTime {
        /// The time there is, s.
        have_s: f64,
        /// The time of the least test, s.
        needed_s: f64,
        /// Its speeds.
        speeds: usize,
    },
    /// No open way joins an end of the pump to the water.
    NoOpenWay {
        /// The end of the pump.
        end: &'static str,
    },
    /// Every way passes a line that is part-open: what the pump works against is not known.
    AllThrottled {
        /// The end of the pump.
        end: &'static str,
    },
    /// Between the lowest speed and the highest that is allowed there is no room for three steps.
    NoRoom {
        /// The lowest speed, rpm.
        low_rpm: f64,
        /// The highest that is allowed, rpm.
        high_rpm: f64,
        /// The limit that sets it, where it is not the pump's own.
        limit: Option<Box<Limit>>,
    },
}

/// What a plan says beside its steps.
#[derive(Clone, Debug, PartialEq)]
pub enum PlanNote {
    /// The site states no lowest speed.
    NoLowestSpeed {
        /// The one that was taken, rpm.
        taken_rpm: f64,
    },
    /// The site states no rating of the filter vessel.
    NoRating,
    /// No gauge reads the filter vessel.
    NoVesselGauge,
    /// Neither flow nor pressure can be foreseen: why the site is no network.
    NotForeseen(Box<NetworkProblem>),
    /// The site states no maker's curve, and there is no earlier test: no flow follows from a speed.
    NoCurve,
    /// An earlier test and the stated plumbing foresee flows that cannot both be.
    Contradiction {
        /// The speed, rpm.
        speed_rpm: f64,
        /// By the earlier test, m³/s.
        by_test: Estimate,
        /// By plumbing and curve, m³/s.
        by_plumbing: Estimate,
    },
    /// The speed at which the drive primes is above the highest that is allowed.
    PrimesTooFast {
        /// The speed of priming, rpm.
        prime_rpm: f64,
        /// The highest that is allowed, rpm.
        high_rpm: f64,
    },
    /// From a speed on, a flow may pass what is printed on a piece of equipment.
    BeyondPrinted {
        /// What is printed.
        limit: Box<Limit>,
        /// The first of the planned speeds, rpm.
        from_rpm: f64,
    },
    /// A flow meter shows nothing at the slow steps.
    BelowMeter {
        /// The heading of its column, without unit.
        column: String,
        /// The speeds, rpm.
        speeds_rpm: Vec<f64>,
    },
    /// No column reads the flow, or none the power: what that leaves untold.
    NothingReads {
        /// Whether it is the flow; else it is the power.
        flow: bool,
    },
    /// The circuit cannot be calibrated by these readings.
    NotCalibrated(Box<NotCalibrated>),
}

/// Refuses what leaves no open way, or none that is fully open.
pub(super) fn refuse_shut(site: &Site, question: &PlanQuestion<'_>) -> Result<(), NoPlan> {
    if site.lines.is_empty() {
        return Ok(());
    }
    for end in [PUMP_INLET, PUMP_OUTLET] {
        let leads = |shut: &[String]| leads_to_water(site, end, shut);
        // A site that states no line there says nothing of it.
        if !leads(&[]) {
            continue;
        }
        if !leads(question.closed) {
            return Err(NoPlan::NoOpenWay { end });
        }
        let either = [question.closed, question.throttled].concat();
        if !leads(&either) {
            return Err(NoPlan::AllThrottled { end });
        }
    }
    Ok(())
}
