//! One part of a line as a law of head against flow, whatever it is: what the lines of a circuit are made of.
//!
//! Choosing an element for a part that a person named, and finding its coefficients, is no matter of this file.

mod law;

pub use law::{ElementLaw, HeadAndSlope, REST_FLOW_M3S};

use crate::equipment::{
    CheckValve, FilterLaw, RatedDrops, check_valve_pressure_pa, filter_pressure_pa,
    rated_pressure_pa,
};
use crate::error::HydraulicsError;
use crate::fittings::minor_loss_head_m;
use crate::head::{pressure_head_m, velocity_m_s};
use crate::loss::{PipeRun, pipe_loss};
use crate::quantity::Quantity;
use crate::warning::Answer;
use crate::water::Water;

/// A part of a line.
#[derive(Clone, Debug, PartialEq)]
pub enum Element {
    /// A run of pipe.
    Pipe(PipeRun),
    /// A loss in velocity heads of one bore. K may be negative: a jet can draw a branch along.
    MinorLoss {
        /// The coefficient K.
        k: f64,
        /// The bore whose velocity it is on, m.
        bore_m: f64,
    },
    /// A filter.
    Filter {
        /// The law when clean.
        law: FilterLaw,
        /// Drop in the media over that of the clean media.
        loading: f64,
    },
    /// An appliance with rated points.
    Rated(RatedDrops),
    /// A check valve with a spring.
    CheckValve(CheckValve),
}

/// Computes the head that a part takes.
///
/// # Equation
/// That of the part: [`pipe_loss`], [`minor_loss_head_m`], [`filter_pressure_pa`], [`rated_pressure_pa`],
/// [`check_valve_pressure_pa`]; a pressure is taken as a head of the flowing water.
///
/// # Inputs
/// `element`: as its own law asks. `flow_m3s`: 0 or more. `water`: density and viscosity.
///
/// # Returns
/// Head in m.
///
/// # Validity
/// As the law of the part; what it warns of is passed on.
///
/// # Accuracy
/// As the law of the part.
///
/// # Errors
/// Those of the law of the part.
///
/// # Source
/// As the law of the part.
///
/// # Checked against
/// Unit tests: the laws of the parts, which have their own evidence.
///
/// # Example
/// ```
/// use hydraulics::{element::{Element, element_head_m}, water::Water};
/// let elbow = Element::MinorLoss { k: 0.57, bore_m: 0.0525018 };
/// let head = element_head_m(&elbow, 3.785411784e-3, &Water::fresh(293.15).unwrap()).unwrap();
/// assert!((head.value / 0.3048 - 0.2915).abs() < 5e-4); // ft, a 2 in elbow at 60 gpm
/// ```
pub fn element_head_m(
    element: &Element,
    flow_m3s: f64,
    water: &Water,
) -> Result<Answer<f64>, HydraulicsError> {
    Quantity::Flow.zero_or_more(flow_m3s)?;
    let head_m = |pressure_pa: f64| pressure_head_m(pressure_pa, water.density_kg_m3);
    match element {
        Element::Pipe(run) => {
            let loss = pipe_loss(run, flow_m3s, water)?;
            Ok(Answer::new(loss.head_m, loss.warnings))
        }
        Element::MinorLoss { k, bore_m } => {
            let velocity_m_s = velocity_m_s(flow_m3s, *bore_m)?;
            Ok(Answer::new(minor_loss_head_m(*k, velocity_m_s)?, []))
        }
        Element::Filter { law, loading } => {
            let pressure_pa = filter_pressure_pa(law, *loading, flow_m3s, water)?;
            Ok(Answer::new(head_m(pressure_pa)?, []))
        }
        Element::Rated(drops) => {
            let pressure = rated_pressure_pa(drops, flow_m3s)?;
            Ok(Answer::new(head_m(pressure.value)?, pressure.warnings))
        }
        Element::CheckValve(valve) => {
            let pressure_pa = check_valve_pressure_pa(valve, flow_m3s, water)?;
            Ok(Answer::new(head_m(pressure_pa)?, []))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::constants::STANDARD_GRAVITY_M_S2;
    use crate::equipment::filter_law;
    use crate::warning::Warning;

    fn water() -> Water {
        Water::fresh(293.15).unwrap()
    }

    /// The head of a pressure in the same water.
    fn head_m(pressure_pa: f64) -> f64 {
        pressure_pa / (water().density_kg_m3 * STANDARD_GRAVITY_M_S2)
    }

    #[test]
    fn each_part_takes_what_its_law_says() {
        let run = PipeRun {
            bore_m: 0.05,
            roughness_m: 0.0,
            length_m: 10.0,
            minor_loss_k: 0.0,
        };
        let law = filter_law(4e-3, 20_000.0, 0.2, &water()).unwrap();
        let valve = CheckValve {
            cracking_pa: 3_000.0,
            kv_m3h: 21.6,
        };
        let by_law = pipe_loss(&run, 4e-3, &water()).unwrap().head_m;
        let drops = RatedDrops::new(&[(4e-3, 15_000.0)]).unwrap();
        let cases = [
            (Element::Pipe(run), by_law),
            (Element::Filter { law, loading: 1.0 }, head_m(20_000.0)),
            (Element::Rated(drops), head_m(15_000.0)),
            (
                Element::CheckValve(valve),
                head_m(check_valve_pressure_pa(&valve, 4e-3, &water()).unwrap()),
            ),
        ];
        for (element, expected) in cases {
            let found = element_head_m(&element, 4e-3, &water()).unwrap();
            // A few roundings.
            assert!((found.value / expected - 1.0).abs() < 1e-14, "{element:?}");
            assert!(found.warnings.is_empty());
            let at_rest = element_head_m(&element, 0.0, &water()).unwrap().value;
            assert!(at_rest.abs() < f64::MIN_POSITIVE, "{element:?}");
        }
    }

    #[test]
    fn a_branch_that_is_drawn_along_gains_head() {
        let tee = Element::MinorLoss {
            k: -0.042,
            bore_m: 0.1,
        };
        assert!(element_head_m(&tee, 0.02, &water()).unwrap().value < 0.0);
    }

    #[test]
    fn what_a_part_warns_of_is_passed_on() {
        let drops = RatedDrops::new(&[(2e-3, 4_000.0), (4e-3, 15_000.0)]).unwrap();
        let beyond = element_head_m(&Element::Rated(drops), 9e-3, &water()).unwrap();
        assert!(matches!(
            beyond.warnings[..],
            [Warning::OutsideRange { .. }]
        ));
    }
}
