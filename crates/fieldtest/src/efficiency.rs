//! Whether the efficiency of a step, wire to water, can be that of a pump.

use crate::finding::{Finding, Matter, Place, Severity};
use crate::result::Step;

/// More than this of the electrical power no pool pump puts into the water. Common practice, no source.
const HIGHEST: f64 = 0.75;
/// More than this no pump of any kind does.
const IMPOSSIBLE: f64 = 0.90;
/// Less than this, near its top speed, leaves most of the head or of the power unexplained. Common practice, no source.
const LOWEST: f64 = 0.10;
/// From this share of the top speed on a low efficiency is judged: below it fixed draw takes most of the power.
const NEAR_TOP: f64 = 0.9;
/// An efficiency is implausible when it lies outside by so many standard uncertainties.
const BEYOND_Z: f64 = 2.0;

/// Finds the steps whose efficiency is none of a pump's.
pub(crate) fn implausible(test: &str, steps: &[Step], top_speed_rpm: f64) -> Vec<Finding> {
    let judged = steps.iter().filter_map(|step| {
        let efficiency = step.efficiency?;
        let (surely_above, surely_below) = (
            efficiency.value - BEYOND_Z * efficiency.u,
            efficiency.value + BEYOND_Z * efficiency.u,
        );
        let near_top = step.speed_rpm >= NEAR_TOP * top_speed_rpm;
        let severity = if surely_above > IMPOSSIBLE {
            Severity::Error
        } else if surely_above > HIGHEST || (near_top && surely_below < LOWEST) {
            Severity::Warning
        } else {
            return None;
        };
        Some(Finding {
            severity,
            place: Place {
                test: Some(test.to_owned()),
                steps_rpm: vec![step.speed_rpm],
                rows: step.rows.clone(),
                column: None,
            },
            matter: Matter::EfficiencyImplausible {
                efficiency,
                from: step.head_from?,
                plausible: (LOWEST, HIGHEST),
            },
        })
    });
    judged.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::result::HeadFrom;
    use metrology::Estimate;

    fn severity(efficiency: f64, u: f64, speed_rpm: f64) -> Option<Severity> {
        let step = Step {
            speed_rpm,
            efficiency: Estimate::normal(efficiency, u),
            head_from: Some(HeadFrom::Gauges),
            ..Step::default()
        };
        implausible("t", &[step], 3450.0)
            .first()
            .map(|finding| finding.severity)
    }

    #[test]
    fn only_what_is_surely_no_pump_is_said() {
        assert_eq!(severity(0.45, 0.02, 3450.0), None);
        assert_eq!(severity(0.78, 0.02, 3450.0), None); // may be 0.74
        assert_eq!(severity(0.80, 0.02, 3450.0), Some(Severity::Warning));
        assert_eq!(severity(0.95, 0.02, 1000.0), Some(Severity::Error));
        assert_eq!(severity(0.04, 0.01, 3450.0), Some(Severity::Warning));
        assert_eq!(severity(0.04, 0.01, 800.0), None); // fixed draw
    }
}
